/// Where a hole may not be: at nodes, ends, blemishes and grooves, or with too many others on one fibre line.
#include <algorithm>
#include <cmath>

#include "fit/rule_checks.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

std::string hole_of(const std::string& id) {
  return "The edge of hole " + id;
}

std::string node_name(const LaidOut& laid, int index) {
  return "node " + std::to_string(index + 1) + " (at " + millimetres(laid.tube.nodes()[index].at()) + ")";
}

/// One end of the instrument: its cut, or the piece's own end where that is sawn out of square and comes
/// first.
struct PlayedEnd {
  const char* name;
  double cut_at;
  double inward;  ///< +1 where `at` grows into the tube
  std::optional<EndTilt> tilt;
  double end_at;
  double radius;

  double edge(Angle theta) const {
    if (!tilt) return cut_at;
    const double lean = radius * std::tan(tilt->tilt.radians()) * (theta - tilt->toward).cos();
    const double own = end_at - inward * lean;
    return inward > 0.0 ? std::max(cut_at, own) : std::min(cut_at, own);
  }
};

PlayedEnd played_end(const LaidOut& laid, const char* name, double cut_at, End end) {
  const bool is_a = end == End::a;
  const double end_at = is_a ? laid.tube.end_a_at() : laid.tube.end_b_at();
  const TubeShape& shape = laid.tube.shape();
  return {name,
          cut_at,
          is_a ? 1.0 : -1.0,
          is_a ? shape.tilt_a : shape.tilt_b,
          end_at,
          laid.tube.girth(end_at) / (2.0 * pi)};
}

void end_findings(const LaidOut& laid, const PlayedEnd& end, const Outline& outline, const std::string& id,
                  const std::string& words, double limit, Tally& tally) {
  const auto distance = [&](Vec2 p) { return end.inward * (p.x - end.edge(Angle::from_radians(p.y))); };
  const Vec2 nearest = outline.curve()(outline.curve().where_least(distance));
  Finding finding = tally.at_least(distance(nearest), limit);
  finding.ids = {id};
  finding.place = laid.tube.skin_point(outline.middle_at(), outline.theta()).place;
  finding.sentence = words + " is " + millimetres(finding.value) + " from the " + end.name + "; it needs " +
                     millimetres(limit) + ".";
  tally.add(std::move(finding));
}

/// Distance of every hole and of what must not lie there from patches of the skin.
void gap_finding(const LaidOut& laid, const Outline& outline, const Outline& patch, const std::string& id,
                 const std::string& words, const std::string& patch_words, Tally& tally) {
  if (least_possible_gap(outline, patch) > tally.margin_that_matters()) return;
  const Gap gap = gap_between(laid.tube, outline, patch);
  Finding finding = tally.at_least(gap.distance, 0.0);
  finding.ids = {id};
  finding.place = gap.middle;
  finding.sentence = gap.distance < 0.0
                         ? words + " reaches " + millimetres(-gap.distance) + " into " + patch_words + "."
                         : words + " is " + millimetres(gap.distance) + " from " + patch_words + ".";
  tally.add(std::move(finding));
}

/// Which of the directions, sorted, lie within `window` of the one at `first`, going round.
std::vector<std::size_t> within(const std::vector<double>& turns, std::size_t first, double window) {
  std::vector<std::size_t> members;
  for (std::size_t k = 0; k < turns.size(); ++k) {
    const std::size_t i = (first + k) % turns.size();
    double ahead = turns[i] - turns[first];
    if (ahead < 0.0) ahead += 2.0 * pi;
    if (k > 0 && ahead >= window) break;
    members.push_back(i);
  }
  return members;
}

}  // namespace

std::vector<Finding> node_distance(const LaidOut& laid) {
  Tally tally("node-distance");
  const RuleLimits& limits = laid.layout.limits;
  for (std::size_t i = 0; i < laid.holes.size(); ++i) {
    const double diameter = laid.instrument.keys[i].key.hole_diameter;
    const double limit = std::max(limits.node_clearance, limits.node_clearance_per_diameter * diameter);
    for (std::size_t n = 0; n < laid.tube.nodes().size(); ++n) {
      const int node = static_cast<int>(n);
      Finding finding = tally.at_least(beyond_ridge(laid.tube.nodes()[n], laid.holes[i]), limit);
      finding.ids = {laid.key_id(i)};
      finding.nodes = {node};
      finding.place = laid.instrument.keys[i].place;
      finding.sentence = finding.value < 0.0
                             ? "Hole " + laid.key_id(i) + " cuts into the ridge of " + node_name(laid, node) +
                                   " by " + millimetres(-finding.value) + "."
                             : hole_of(laid.key_id(i)) + " is " + millimetres(finding.value) +
                                   " from the ridge of " + node_name(laid, node) + "; it needs " +
                                   millimetres(limit) + ".";
      tally.add(std::move(finding));
    }
  }
  return std::move(tally).take();
}

std::vector<Finding> end_distance(const LaidOut& laid) {
  Tally tally("end-distance");
  const RuleLimits& limits = laid.layout.limits;
  const Instrument& instrument = laid.instrument;
  const End foot_end = instrument.mouth_end == End::a ? End::b : End::a;
  const PlayedEnd ends[2] = {played_end(laid, "mouth end", instrument.mouth_cut_at, instrument.mouth_end),
                             played_end(laid, "foot end", instrument.foot_cut_at, foot_end)};
  for (const PlayedEnd& end : ends) {
    for (std::size_t i = 0; i < laid.holes.size(); ++i) {
      const double diameter = instrument.keys[i].key.hole_diameter;
      const double limit = std::max(limits.end_clearance, limits.end_clearance_per_diameter * diameter);
      end_findings(laid, end, laid.holes[i], laid.key_id(i), hole_of(laid.key_id(i)), limit, tally);
    }
    for (std::size_t i = 0; i < laid.parts.size(); ++i) {
      if (!laid.is(i, PartKind::opening)) continue;
      end_findings(laid, end, laid.parts[i], laid.part_id(i), "The opening " + quoted(laid.part_id(i)),
                   limits.end_clearance, tally);
    }
  }
  return std::move(tally).take();
}

std::vector<Finding> blemishes_avoided(const LaidOut& laid) {
  Tally tally("blemish");
  for (const Blemish& blemish : laid.tube.blemishes()) {
    if (blemish.use != BlemishUse::avoid) continue;
    const Outline patch = Outline::of_patch(laid.tube, blemish.place, blemish.length, blemish.width, 0.0);
    const std::string words = "the blemish at " + millimetres(blemish.place.at) +
                              (blemish.note.empty() ? "" : " (" + blemish.note + ")");
    for (std::size_t i = 0; i < laid.holes.size(); ++i) {
      gap_finding(laid, laid.holes[i], patch, laid.key_id(i), hole_of(laid.key_id(i)), words, tally);
    }
    for (std::size_t i = 0; i < laid.parts.size(); ++i) {
      if (laid.is(i, PartKind::opening)) continue;  // an opening may cut a blemish away
      gap_finding(laid, laid.parts[i], patch, laid.part_id(i), "The part " + quoted(laid.part_id(i)), words,
                  tally);
    }
  }
  return std::move(tally).take();
}

std::vector<Finding> groove_under_hole(const LaidOut& laid) {
  Tally tally("groove");
  for (const Groove& groove : laid.tube.grooves()) {
    const Outline patch = Outline::of_patch(laid.tube, groove.place, groove.length, groove.width, 0.0);
    const std::string words = "the branch groove at " + millimetres(groove.place.at);
    for (std::size_t i = 0; i < laid.holes.size(); ++i) {
      gap_finding(laid, laid.holes[i], patch, laid.key_id(i), hole_of(laid.key_id(i)), words, tally);
    }
  }
  return std::move(tally).take();
}

std::vector<Finding> fibre_line(const LaidOut& laid) {
  // Fibres follow the piece, bent as it is: what keeps its direction keeps its fibre.
  Tally tally("fibre-line");
  const std::vector<PlacedKey>& keys = laid.instrument.keys;
  if (keys.empty()) return {};
  std::vector<std::size_t> order(keys.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  const auto turn = [&](std::size_t i) { return keys[i].theta.normalized().radians(); };
  std::sort(order.begin(), order.end(),
            [&](std::size_t a, std::size_t b) { return turn(a) != turn(b) ? turn(a) < turn(b) : a < b; });
  std::vector<double> turns;
  for (const std::size_t i : order) turns.push_back(turn(i));
  const RuleLimits& limits = laid.layout.limits;
  // Of equal groups the one whose keys come first, so that the direction of counting does not choose.
  std::vector<std::size_t> most;
  for (std::size_t first = 0; first < turns.size(); ++first) {
    std::vector<std::size_t> members = within(turns, first, limits.fibre_line.radians());
    for (std::size_t& member : members) member = order[member];
    std::sort(members.begin(), members.end());
    if (members.size() > most.size() || (members.size() == most.size() && members < most)) most = members;
  }
  Finding finding = tally.at_most(static_cast<double>(most.size()), limits.holes_on_fibre_line);
  for (const std::size_t i : most) finding.ids.push_back(keys[i].key.id);
  const PlacedKey& first = keys[most.front()];
  finding.place = first.place;
  const double stagger = limits.fibre_line.radians() * laid.tube.girth(first.place.at) / (2.0 * pi);
  finding.sentence = listing(finding.ids) + (most.size() == 1 ? " stands" : " stand") +
                     " on one fibre line; at most " + std::to_string(limits.holes_on_fibre_line) + " should.";
  if (!finding.passes) {
    finding.sentence += " A split runs along it: stagger them by " + millimetres(stagger) + " around.";
  }
  tally.add(std::move(finding));
  return std::move(tally).take();
}

}  // namespace culmwright
