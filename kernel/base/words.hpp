#pragma once
/// Small tools for messages to the maker.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace culmwright {

/// A number as a message prints it: at most `digits` significant digits, no trailing zeros, always a point.
std::string number_text(double value, int digits = 6);

/// With that many decimals, as std::printf's "%.*f" rounds; no locale, never "-0".
std::string fixed_text(double value, int decimals);

/// The word of `known` that `word` was most likely meant to be: fewest edits (insert, delete, replace, swap
/// of neighbours: optimal string alignment distance), at most a third of its length and at least one;
/// capitals are not counted as edits. None when nothing is that near.
std::optional<std::string> nearest_word(std::string_view word, const std::vector<std::string>& known);

/// "a, b or c".
std::string listed(const std::vector<std::string>& words, const char* last_joint = " or ");

}  // namespace culmwright
