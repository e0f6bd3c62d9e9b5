#pragma once
/// SHA-256 of FIPS 180-4 (Secure Hash Standard), section 6.2.
#include <string>
#include <string_view>

namespace culmwright {

/// The digest as 64 lower-case hexadecimal digits.
std::string sha256(std::string_view bytes);

}  // namespace culmwright
