#include "plan/opening_cut.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"
#include "base/words.hpp"

namespace culmwright {

double corner_radius_of(const Part& opening, const Shop& shop) {
  return std::max(opening.corner_radius, 0.5 * shop.pilot_diameter);
}

OpeningCut opening_cut(const Part& opening, const Shop& shop) {
  OpeningCut cut;
  cut.id = opening.id;
  cut.corner_drill = 2.0 * corner_radius_of(opening, shop);
  cut.length = opening.length;
  cut.width = opening.width;
  cut.kerf = shop.saw_kerf;
  cut.lid_length = std::max(0.0, opening.length - 2.0 * shop.saw_kerf);
  cut.lid_width = std::max(0.0, opening.width - 2.0 * shop.saw_kerf);
  cut.lid_sinks = shop.saw_kerf / Angle::from_degrees(lid_lean_deg).sin();
  return cut;
}

std::string cut_words(const OpeningCut& cut) {
  const bool knife = cut.kerf <= 0.0;
  std::string words =
      "when all corner holes of " + cut.id + " are drilled, open them to " + number_text(cut.corner_drill) +
      " and " + (knife ? "score with a knife, deeper each time," : "saw") +
      " along the template's lines from hole to hole, inside them; the piece can be kept as a "
      "lid of " +
      number_text(cut.lid_length) + " × " + number_text(cut.lid_width) +
      ", its corners hollowed by the holes";
  if (knife) return words;
  return words + ": lean the saw outward by " + number_text(lid_lean_deg) +
         "° all round and it cannot fall through, but lies " + number_text(cut.lid_sinks) +
         " deep, and the opening is narrower inside";
}

}  // namespace culmwright
