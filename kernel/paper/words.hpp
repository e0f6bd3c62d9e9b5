#pragma once
/// Numbers as drawings print them.
#include <string>

namespace culmwright {

/// With that many decimals (0 to 6), rounded half away from zero; no locale, never "-0".
std::string decimals(double value, int count);

/// A millimetre figure that bounds an error: rounded up to hundredths, "less than 0.01 mm" when smaller.
std::string error_words(double value);

}  // namespace culmwright
