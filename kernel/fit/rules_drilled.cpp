/// What came out of the drill: whether its cup still covers it and still holds, and what can be done.
#include <algorithm>

#include "fit/drilled_facts.hpp"
#include "fit/rule_checks.hpp"
#include "fit/words.hpp"
#include "plan/cup_plan.hpp"

namespace culmwright {

namespace {

/// Finished holes of keys; extra holes are plugged, pilots still grow.
std::vector<const PlacedKey*> finished(const LaidOut& laid) {
  std::vector<const PlacedKey*> keys;
  for (const PlacedKey& placed : laid.instrument.keys) {
    if (placed.drilled && placed.drilled->state == DrilledState::finished) keys.push_back(&placed);
  }
  return keys;
}

/// What was wanted: the key layout's, for the rules see the real size in its place.
double wanted_diameter(const LaidOut& laid, const PlacedKey& placed) {
  for (const Key& key : laid.layout.keys) {
    if (key.id == placed.key.id) return key.hole_diameter;
  }
  return placed.key.hole_diameter;
}

Finding about(Finding finding, const PlacedKey& placed) {
  finding.ids = {placed.key.id};
  finding.place = placed.place;
  return finding;
}

struct Sides {
  std::vector<std::string> facts;
  std::vector<std::string> to_come;
  std::vector<std::string> extras;
};

Sides sides_of(const Finding& finding, const Instrument& instrument) {
  Sides sides;
  for (const std::string& id : finding.ids) {
    const bool extra = std::any_of(instrument.extras.begin(), instrument.extras.end(),
                                   [&](const PlacedExtra& one) { return one.drilled.id == id; });
    if (extra) sides.extras.push_back(id);
    (is_drilled(instrument, id) ? sides.facts : sides.to_come).push_back(id);
  }
  return sides;
}

std::string plug_words(const Sides& sides) {
  if (!sides.extras.empty()) return "fill " + listing(sides.extras) + " with a glued plug";
  return sides.facts.size() > 1 ? "fill one of them with a glued plug and drill it elsewhere"
                                : "fill it with a glued plug and drill it elsewhere";
}

/// What drilled holes break among themselves.
std::string remedy_of_facts(const std::string& rule, const Sides& sides) {
  if (rule == "web-along" || rule == "web-around" || rule == "opening-web") {
    return " Drilled already: bind the tube there with thread and glue, or " + plug_words(sides) + ".";
  }
  if (rule == "girth-lost" || rule == "section" || rule == "fibre-line") {
    return " Drilled already: bind the tube on both sides of it, and " + plug_words(sides) +
           ", which gives a part of the stiffness back.";
  }
  if (rule == "node-distance") {
    return " Drilled already: look for a crack at the node, bind beside it, and let the ridge into the cup's "
           "seat; or " +
           plug_words(sides) + ".";
  }
  if (rule == "end-distance") return " Drilled already: bind the end, or " + plug_words(sides) + ".";
  if (rule == "hole-to-width") return " Drilled already: a sleeve makes it narrower, no cup does.";
  return "";
}

}  // namespace

std::vector<Finding> drilled_flange(const LaidOut& laid) {
  Tally tally("drilled-flange");
  for (const PlacedKey* placed : finished(laid)) {
    if (placed->key.touch.length <= 0.0 || placed->key.touch.width <= 0.0) continue;
    const DrilledHole& hole = *placed->drilled;
    const double half_flange = 0.5 * std::min(placed->key.touch.length, placed->key.touch.width);
    const double open = 0.5 * hole.greatest_across() + hole.chip_out;
    Finding finding = about(tally.at_least(half_flange - open, cup_sizes::lip), *placed);
    finding.sentence = "The flange over " + placed->key.id + " reaches " +
                       millimetres(std::max(0.0, finding.value)) + " beyond the hole" +
                       (hole.chip_out > 0.0 ? " and what chipped out" : "") + "; it needs " +
                       millimetres(cup_sizes::lip) + ".";
    if (!finding.passes) {
      finding.sentence += " A flange of " + millimetres(2.0 * (open + cup_sizes::lip)) +
                          " covers it; or glue in a sleeve with a collar as wide, or fill the chip.";
    }
    tally.add(std::move(finding));
  }
  return std::move(tally).take();
}

std::vector<Finding> drilled_size(const LaidOut& laid) {
  Tally tally("drilled-size");
  for (const PlacedKey* placed : finished(laid)) {
    const double wanted = wanted_diameter(laid, *placed);
    const double across = placed->drilled->greatest_across();
    Finding finding = about(tally.at_most(across - wanted, 2.0 * cup_sizes::loose_play), *placed);
    finding.sentence = "Hole " + placed->key.id + " came out " + millimetres(across) + " wide, " +
                       millimetres(wanted) + " was wanted.";
    if (!finding.passes) {
      finding.sentence += " Glue in a sleeve of " + millimetres(across) + " outside and " +
                          millimetres(wanted) + " inside, or make its cup for the wider hole.";
    }
    tally.add(std::move(finding));
  }
  return std::move(tally).take();
}

std::vector<Finding> drilled_wall(const LaidOut& laid) {
  Tally tally("drilled-wall");
  constexpr double limit = cup_sizes::short_of_bore + cup_sizes::least_grip;
  for (const PlacedKey& placed : laid.instrument.keys) {
    if (!placed.drilled || !placed.drilled->wall || placed.key.cup == CupKind::padded_cup) continue;
    Finding finding = about(tally.at_least(*placed.drilled->wall, limit), placed);
    finding.sentence = "The wall at " + placed.key.id + " is " + millimetres(finding.value) +
                       " by the hook gauge; a spigot needs " + millimetres(limit) + ".";
    if (!finding.passes) {
      finding.sentence +=
          " Glue a ring of wood into the bore there, or have a padded cup, which needs no spigot.";
    }
    tally.add(std::move(finding));
  }
  return std::move(tally).take();
}

std::string drilled_remedy(const Finding& finding, const Instrument& instrument) {
  if (finding.passes || finding.rule.compare(0, 8, "drilled-") == 0) return "";
  const Sides sides = sides_of(finding, instrument);
  if (sides.facts.empty()) return "";
  if (sides.to_come.empty()) return remedy_of_facts(finding.rule, sides);
  const bool one = sides.facts.size() == 1;
  return " " + listing(sides.facts) + (one ? " is drilled and stays" : " are drilled and stay") + ": move " +
         listing(sides.to_come) + " (propose places the rest anew around what is drilled).";
}

}  // namespace culmwright
