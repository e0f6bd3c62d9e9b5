#include "fit/words.hpp"

#include <cstdio>

namespace culmwright {

namespace {

std::string printed(const char* format, double value) {
  char text[48];
  std::snprintf(text, sizeof text, format, value);
  // Minus zero says nothing to a maker.
  const bool minus_zero = text[0] == '-' && std::string(text).find_first_of("123456789") == std::string::npos;
  return minus_zero ? text + 1 : text;
}

}  // namespace

std::string millimetres(double value, bool fine) {
  return printed(fine ? "%.2f mm" : "%.1f mm", value);
}

std::string degrees_of(double value) {
  return printed("%.1f°", value);
}

std::string percent(double share) {
  return printed("%.1f %%", 100.0 * share);
}

std::string quoted(const std::string& id) {
  return "“" + id + "”";
}

std::string listing(const std::vector<std::string>& ids) {
  std::string text;
  for (std::size_t i = 0; i < ids.size(); ++i) {
    if (i > 0) text += i + 1 == ids.size() ? " and " : ", ";
    text += ids[i];
  }
  return text;
}

const char* words_of(PartKind kind) {
  switch (kind) {
    case PartKind::thumb_rest:
      return "the thumb rest";
    case PartKind::slider:
      return "the sliding control";
    case PartKind::opening:
      return "the opening";
    case PartKind::mouthpiece:
      return "the mouthpiece";
    case PartKind::strap_ring:
      return "the strap ring";
    case PartKind::other:
      break;
  }
  return "the part";
}

}  // namespace culmwright
