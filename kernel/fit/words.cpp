#include "fit/words.hpp"

#include "base/words.hpp"

namespace culmwright {

std::string millimetres(double value, bool fine) {
  return fixed_text(value, fine ? 2 : 1) + " mm";
}

std::string degrees_of(double value) {
  return fixed_text(value, 1) + "°";
}

std::string percent(double share) {
  return fixed_text(100.0 * share, 1) + " %";
}

std::string quoted(const std::string& id) {
  return "“" + id + "”";
}

std::string listing(const std::vector<std::string>& ids) {
  return listed(ids, " and ");
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
