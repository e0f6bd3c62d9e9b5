#pragma once
/// Numbers as makers type them and as digital calipers send them: "12.34", "12,34 mm", "+ 12.34", "0.4915
/// in", "1 3/16\"", with spaces and control characters around them.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace culmwright {

enum class LengthUnit { mm, inch };

/// The numbers of a line, lengths in millimetres: one without a unit of its own is in `unit`. Both a point
/// and a comma are decimal; a number with both, or anything else beside numbers and units, gives none.
/// Numbers are told apart by spaces, semicolons or bars, never by a comma. A fraction ("3/16") belongs to the
/// whole number before it.
std::optional<std::vector<double>> typed_lengths(std::string_view line, LengthUnit unit);

/// The same for what is no length: no unit is known, "%", "g" and "°" may stand behind a number.
std::optional<std::vector<double>> typed_numbers(std::string_view line);

/// Without control characters and without spaces at either end.
std::string typed_text(std::string_view line);

}  // namespace culmwright
