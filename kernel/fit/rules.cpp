#include "fit/rules.hpp"

#include <algorithm>
#include <iterator>

#include "fit/drilled_facts.hpp"
#include "fit/rule_checks.hpp"

namespace culmwright {

namespace {

struct Entry {
  Rule rule;
  std::vector<Finding> (*findings)(const LaidOut&);
};

const std::vector<Entry>& entries() {
  constexpr auto mm = Unit::millimetre;
  constexpr auto hard = Severity::hard;
  constexpr auto warning = Severity::warning;
  static const std::vector<Entry> all = {
      {{"node-distance", "hole from a node's ridge", mm, hard}, node_distance},
      {{"web-along", "web along the grain", mm, hard}, webs_along},
      {{"web-around", "web around the tube", mm, hard}, webs_around},
      {{"opening-web", "web between an opening and what else is cut", mm, hard}, opening_webs},
      {{"girth-lost", "girth lost at one section", Unit::share, hard}, girth_lost},
      {{"section", "bending stiffness left at the weakest section", Unit::share, hard}, weakest_section},
      {{"end-distance", "hole from an end", mm, hard}, end_distance},
      {{"hole-to-width", "hole against the tube's width", Unit::share, hard}, hole_to_width},
      {{"hole-tilt", "hole against square to the skin", Unit::degree, hard}, hole_tilt},
      {{"break-through", "room behind the drill point", mm, hard}, break_through},
      {{"fibre-line", "holes on one fibre line", Unit::count, warning}, fibre_line},
      {{"blemish", "distance from a blemish to avoid", mm, hard}, blemishes_avoided},
      {{"groove", "hole from a branch groove", mm, warning}, groove_under_hole},
      {{"touches-apart", "touches and parts clear of each other", mm, hard}, touches_apart},
      {{"rest-on-sound-wall", "thumb rest and strap ring on sound wall", mm, hard}, rest_on_sound_wall},
      {{"hands-order", "order of the hands", mm, hard}, hands_order},
      {{"hands-apart", "distance between the hands", mm, hard}, hands_apart},
      {{"reach", "reach of the fingers", mm, hard}, fingers_reach},
      {{"thumb-reach", "reach of the thumbs", mm, warning}, thumbs_reach},
      {{"least-length", "shortest length", mm, hard}, least_length},
      {{"greatest-length", "greatest length", mm, hard}, greatest_length},
      {{"drilled-flange", "flange beyond the hole as drilled", mm, warning}, drilled_flange},
      {{"drilled-size", "hole as drilled against the one wanted", mm, warning}, drilled_size},
      {{"drilled-wall", "wall as measured, for the spigot", mm, warning}, drilled_wall},
      {{"tube-moved", "girth against the survey's", Unit::share, hard}, tube_moved},
  };
  return all;
}

/// A touch as the finger sees it; a key without one is felt by its hole.
Outline touch_of(const Tube& tube, const PlacedKey& placed) {
  const Touch& touch = placed.key.touch;
  const double hole = placed.key.hole_diameter;
  if (touch.length <= 0.0 || touch.width <= 0.0) {
    return Outline::of_patch(tube, placed.place, hole, hole, 0.5 * hole);
  }
  return Outline::of_patch(tube, placed.place, touch.length, touch.width, touch.corner_radius);
}

/// A part without a size still has a place: a millimetre is the least that is looked at.
Outline footprint_of(const Tube& tube, const PlacedPart& placed) {
  constexpr double least = 1.0;
  const Part& part = placed.part;
  // A mouthpiece may stand before the end; there is no skin there to lay it on.
  const SkinPlace middle{std::clamp(placed.place.at, tube.end_a_at(), tube.end_b_at()), placed.place.around};
  const double length = std::max(part.length + part.travel, least);
  const double width = std::clamp(part.width, least, tube.girth(middle.at));
  return Outline::of_patch(tube, middle, length, width, part.corner_radius);
}

}  // namespace

const std::vector<Rule>& rules() {
  static const std::vector<Rule> list = [] {
    std::vector<Rule> rules;
    for (const Entry& entry : entries()) rules.push_back(entry.rule);
    return rules;
  }();
  return list;
}

LaidOut::LaidOut(const Tube& tube_in, const KeyLayout& layout_in, const Instrument& instrument_in,
                 const TubeFit* fit_in)
    : tube(tube_in),
      layout(layout_in),
      instrument(instrument_in),
      fit(fit_in),
      frame(tube_in, instrument_in.mouth_end, instrument_in.mouth_cut_at, instrument_in.foot_cut_at,
            instrument_in.facing) {
  for (const PlacedKey& key : instrument.keys) {
    const bool measured = key.drilled && key.drilled->state != DrilledState::pilot;
    holes.push_back(
        measured ? Outline::of_hole(tube, key.drilling, key.drilled->across_along, key.drilled->across_around)
                 : Outline::of_hole(tube, key.drilling));
    touches.push_back(touch_of(tube, key));
  }
  for (const PlacedPart& part : instrument.parts) parts.push_back(footprint_of(tube, part));
  for (PlayedHand& played : played_hands(tube, layout, instrument)) {
    HandOnTube on_tube = lay_hand(played.model, played.task);
    hands.push_back({std::move(played), std::move(on_tube)});
  }
}

Tally::Tally(const char* rule_id)
    : rule_(*std::find_if(rules().begin(), rules().end(),
                          [&](const Rule& rule) { return rule.id == rule_id; })) {}

Finding Tally::started(double value, double limit, double margin) const {
  Finding finding;
  finding.rule = rule_.id;
  finding.severity = rule_.severity;
  finding.value = value;
  finding.limit = limit;
  finding.margin = margin;
  finding.passes = margin >= -limit_grain;
  return finding;
}

Finding Tally::at_least(double value, double limit) const {
  return started(value, limit, value - limit);
}

Finding Tally::at_most(double value, double limit) const {
  return started(value, limit, limit - value);
}

void Tally::add(Finding finding) {
  if (!finding.passes) {
    failing_.push_back(std::move(finding));
  } else if (!closest_ || finding.margin < closest_->margin) {
    closest_ = std::move(finding);
  }
}

double Tally::margin_that_matters() const {
  if (!failing_.empty()) return 0.0;
  return closest_ ? std::max(closest_->margin, 0.0) : 1e300;
}

std::vector<Finding> Tally::take() && {
  if (!failing_.empty()) return std::move(failing_);
  if (closest_) return {*closest_};
  return {};
}

namespace {

std::vector<Finding> all_findings(const Tube& tube, const KeyLayout& layout, const Instrument& instrument,
                                  const TubeFit* fit) {
  const Instrument seen = as_rules_see(instrument);
  const LaidOut laid(tube, layout, seen, fit);
  std::vector<Finding> all;
  for (const Entry& entry : entries()) {
    std::vector<Finding> found = entry.findings(laid);
    std::move(found.begin(), found.end(), std::back_inserter(all));
  }
  for (Finding& finding : all) finding.sentence += drilled_remedy(finding, instrument);
  return all;
}

}  // namespace

std::vector<Finding> check(const Tube& tube, const KeyLayout& layout, const Instrument& instrument) {
  return all_findings(tube, layout, instrument, nullptr);
}

std::vector<Finding> check(const TubeFit& fit, const KeyLayout& layout, const Instrument& instrument) {
  return all_findings(fit.tube(), layout, instrument, &fit);
}

std::optional<Finding> tightest(const std::vector<Finding>& findings, const std::string& rule) {
  std::optional<Finding> least;
  for (const Finding& finding : findings) {
    if (finding.rule == rule && (!least || finding.margin < least->margin)) least = finding;
  }
  return least;
}

bool acceptable(const std::vector<Finding>& findings) {
  return std::all_of(findings.begin(), findings.end(), [](const Finding& finding) {
    return finding.passes || finding.severity == Severity::warning;
  });
}

}  // namespace culmwright
