/// Touches and parts: clear of each other, the bearing ones on sound wall; and the instrument's length.
#include <algorithm>
#include <cmath>

#include "fit/rule_checks.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

/// Something that lies on the skin and must not lie on another.
struct Thing {
  const Outline* outline;
  std::string id;  ///< empty for what is no key or part
  std::string words;
};

std::string part_words(const LaidOut& laid, std::size_t i) {
  return words_of(laid.instrument.parts[i].part.kind) + std::string(" ") + quoted(laid.part_id(i));
}

std::vector<Thing> things_on(const LaidOut& laid) {
  std::vector<Thing> things;
  for (std::size_t i = 0; i < laid.touches.size(); ++i) {
    things.push_back({&laid.touches[i], laid.key_id(i), "the touch of " + laid.key_id(i)});
  }
  for (std::size_t i = 0; i < laid.parts.size(); ++i) {
    if (laid.is(i, PartKind::mouthpiece)) continue;
    things.push_back({&laid.parts[i], laid.part_id(i), part_words(laid, i)});
  }
  return things;
}

std::string sentence_of(std::string words, double gap) {
  words.front() = 'T';
  return gap < 0.0 ? words + " by " + millimetres(-gap) + "."
                   : words + ": " + millimetres(gap) + " between them.";
}

void pair_finding(const LaidOut& laid, const Thing& a, const Thing& b, Tally& tally) {
  if (least_possible_gap(*a.outline, *b.outline) > tally.margin_that_matters()) return;
  const Gap gap = gap_between(laid.tube, *a.outline, *b.outline);
  Finding finding = tally.at_least(gap.distance, 0.0);
  finding.ids = {a.id};
  if (!b.id.empty()) finding.ids.push_back(b.id);
  finding.place = gap.middle;
  finding.sentence =
      sentence_of(a.words + (gap.distance < 0.0 ? " lies over " : " is clear of ") + b.words, gap.distance);
  tally.add(std::move(finding));
}

/// A mouthpiece goes all round the end: what is `along` less than its end lies under it.
void mouthpiece_finding(const LaidOut& laid, std::size_t part, const Thing& thing, Tally& tally) {
  const PlacedPart& mouthpiece = laid.instrument.parts[part];
  const double end = mouthpiece.along + 0.5 * mouthpiece.part.length;
  const double along =
      std::min(laid.frame.along(thing.outline->least_at()), laid.frame.along(thing.outline->greatest_at()));
  Finding finding = tally.at_least(along - end, 0.0);
  finding.ids = {thing.id, mouthpiece.part.id};
  finding.place = laid.tube.skin_point(thing.outline->middle_at(), thing.outline->theta()).place;
  finding.sentence = sentence_of(
      thing.words + (finding.value < 0.0 ? " lies under " : " is clear of ") + part_words(laid, part),
      finding.value);
  tally.add(std::move(finding));
}

/// What a bearing part must not stand on, nodes apart.
std::vector<Thing> unsound(const LaidOut& laid, const std::vector<Outline>& patches) {
  std::vector<Thing> things;
  for (std::size_t i = 0; i < laid.holes.size(); ++i) {
    things.push_back({&laid.holes[i], laid.key_id(i), "hole " + laid.key_id(i)});
  }
  for (std::size_t i = 0; i < laid.parts.size(); ++i) {
    if (laid.is(i, PartKind::opening)) {
      things.push_back({&laid.parts[i], laid.part_id(i), part_words(laid, i)});
    }
  }
  std::size_t next = 0;
  for (const Groove& groove : laid.tube.grooves()) {
    things.push_back({&patches[next++], "", "the branch groove at " + millimetres(groove.place.at)});
  }
  for (const Blemish& blemish : laid.tube.blemishes()) {
    if (blemish.use != BlemishUse::avoid) continue;
    things.push_back({&patches[next++], "", "the blemish at " + millimetres(blemish.place.at)});
  }
  return things;
}

/// Outlines of grooves, then of blemishes to avoid, as `unsound` takes them.
std::vector<Outline> unsound_patches(const Tube& tube) {
  std::vector<Outline> patches;
  for (const Groove& groove : tube.grooves()) {
    patches.push_back(Outline::of_patch(tube, groove.place, groove.length, groove.width, 0.0));
  }
  for (const Blemish& blemish : tube.blemishes()) {
    if (blemish.use != BlemishUse::avoid) continue;
    patches.push_back(Outline::of_patch(tube, blemish.place, blemish.length, blemish.width, 0.0));
  }
  return patches;
}

std::vector<Finding> length_finding(const LaidOut& laid, Finding finding, const char* words) {
  finding.place = {laid.instrument.foot_cut_at, 0.0};
  finding.sentence = "Between its cuts the tube is " + millimetres(finding.value) + " long; " + words + " " +
                     millimetres(finding.limit) + ".";
  return {finding};
}

}  // namespace

std::vector<Finding> touches_apart(const LaidOut& laid) {
  Tally tally("touches-apart");
  const std::vector<Thing> things = things_on(laid);
  for (std::size_t i = 0; i < things.size(); ++i) {
    for (std::size_t j = i + 1; j < things.size(); ++j) pair_finding(laid, things[i], things[j], tally);
  }
  for (std::size_t i = 0; i < laid.parts.size(); ++i) {
    if (!laid.is(i, PartKind::mouthpiece)) continue;
    for (const Thing& thing : things) mouthpiece_finding(laid, i, thing, tally);
  }
  return std::move(tally).take();
}

std::vector<Finding> rest_on_sound_wall(const LaidOut& laid) {
  Tally tally("rest-on-sound-wall");
  const std::vector<Outline> patches = unsound_patches(laid.tube);
  const std::vector<Thing> things = unsound(laid, patches);
  for (std::size_t i = 0; i < laid.parts.size(); ++i) {
    if (!laid.is(i, PartKind::thumb_rest) && !laid.is(i, PartKind::strap_ring)) continue;
    const std::string words = part_words(laid, i);
    const Thing rest{&laid.parts[i], laid.part_id(i), words};
    for (const Thing& thing : things) pair_finding(laid, rest, thing, tally);
    for (std::size_t n = 0; n < laid.tube.nodes().size(); ++n) {
      Finding finding = tally.at_least(beyond_ridge(laid.tube.nodes()[n], laid.parts[i]), 0.0);
      finding.ids = {laid.part_id(i)};
      finding.nodes = {static_cast<int>(n)};
      finding.place = laid.instrument.parts[i].place;
      finding.sentence = sentence_of(words + (finding.value < 0.0 ? " lies over " : " is clear of ") +
                                         "the ridge of node " + std::to_string(n + 1),
                                     finding.value);
      tally.add(std::move(finding));
    }
  }
  return std::move(tally).take();
}

std::vector<Finding> least_length(const LaidOut& laid) {
  if (laid.layout.least_length <= 0.0) return {};
  return length_finding(laid,
                        Tally("least-length").at_least(laid.instrument.length(), laid.layout.least_length),
                        "the key layout needs at least");
}

std::vector<Finding> greatest_length(const LaidOut& laid) {
  if (laid.layout.greatest_length <= 0.0) return {};
  return length_finding(
      laid, Tally("greatest-length").at_most(laid.instrument.length(), laid.layout.greatest_length),
      "the key layout allows at most");
}

}  // namespace culmwright
