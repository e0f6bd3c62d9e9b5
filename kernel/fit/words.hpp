#pragma once
/// Numbers and names as they stand in sentences for the maker.
#include <string>
#include <vector>

#include "layout/key_layout.hpp"

namespace culmwright {

/// "12.3 mm": tenths, the finest a maker marks out; hundredths where `fine`.
std::string millimetres(double value, bool fine = false);
/// "4.2°"
std::string degrees_of(double value);
/// "27 %", of a share between 0 and 1.
std::string percent(double share);
/// The id in quotation marks.
std::string quoted(const std::string& id);
/// "L1", "L1 and L2", "L1, L2 and L3".
std::string listing(const std::vector<std::string>& ids);

/// "the thumb rest", as in a sentence before its id.
const char* words_of(PartKind kind);

}  // namespace culmwright
