#include "fit/compare.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <random>

#include "fit/shift.hpp"
#include "fit/sign.hpp"
#include "instruments.hpp"
#include "propose_cases.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

Placement bare(const Tube& tube, const KeyLayout& layout, End mouth) {
  Placement placement;
  placement.id = "bare";
  placement.tube_id = tube.id();
  placement.layout_id = layout.id;
  placement.mouth_end = mouth;
  placement.mouth_cut_at.value = mouth == End::a ? 0.0 : 500.0;
  placement.foot_cut_at.value = mouth == End::a ? 500.0 : 0.0;
  placement.facing.value = Angle::from_degrees(40.0);
  return placement;
}

template <class T>
bool same(const Tracked<T>& a, const Tracked<T>& b) {
  return a.value == b.value && a.origin == b.origin && a.revision == b.revision && a.locked == b.locked &&
         a.error == b.error;
}

bool same_lists(std::vector<PlacedId> a, std::vector<PlacedId> b) {
  const auto by_id = [](const PlacedId& x, const PlacedId& y) { return x.id < y.id; };
  std::sort(a.begin(), a.end(), by_id);
  std::sort(b.begin(), b.end(), by_id);
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const PlacedId& x, const PlacedId& y) {
    return x.id == y.id && same(x.at, y.at) && same(x.around, y.around);
  });
}

bool same_mark(const std::optional<HandMark>& a, const std::optional<HandMark>& b) {
  if (!a || !b) return !a && !b;
  return a->along == b->along && a->around == b->around;
}

bool same_numbers(const Placement& a, const Placement& b) {
  return a.mouth_end == b.mouth_end && same(a.mouth_cut_at, b.mouth_cut_at) &&
         same(a.foot_cut_at, b.foot_cut_at) && same(a.facing, b.facing) &&
         same_mark(a.left_mark, b.left_mark) && same_mark(a.right_mark, b.right_mark) &&
         same_lists(a.keys, b.keys) && same_lists(a.parts, b.parts);
}

struct Standing {
  Instrument instrument;
  std::vector<Finding> findings;
};

Standing standing(const Tube& tube, const KeyLayout& layout, const Placement& placement) {
  const Instrument instrument = assemble(tube, layout, placement);
  return {instrument, culmwright::check(tube, layout, instrument)};
}

Compared compared(const Tube& tube, const Standing& was, const Standing& now) {
  return compare(tube, was.instrument, was.findings, now.instrument, now.findings);
}

Placement moved(const Tube& tube, const KeyLayout& layout, const Placement& placement, const char* words) {
  return shift(tube, layout, placement, parse_shift(words, layout), "2026-03-01").placement;
}

}  // namespace

TEST_CASE("every revision is rebuilt exactly after shifts, undoing, locking between and signing") {
  const Tube tube = long_culm(560.0, 3);
  const KeyLayout layout = tenor_of_17();
  const unsigned seed = 11;
  INFO("seed " << seed);
  std::mt19937 random(seed);
  Placement placement = bare(tube, layout, End::b);
  placement.revisions = {{1, "2026-02-01", "First placement"}};
  std::vector<Placement> stood = {placement};
  const auto pick = [&](std::size_t count) { return static_cast<std::size_t>(random()) % count; };
  for (int i = 0; i < 60; ++i) {
    const Key& key = layout.keys[pick(layout.keys.size())];
    const char* hand = pick(2) == 0 ? "left hand" : "right hand";
    const std::string subject = pick(4) == 0 ? hand : key.id;
    const std::string way = pick(2) == 0 ? " 0.3 toward foot" : " 0.3 toward mouth, 0.2 to player's left";
    try {
      if (pick(4) == 0) {
        placement = undone(placement, "2026-03-02");
      } else {
        placement = moved(tube, layout, placement, (subject + way).c_str());
      }
    } catch (const InputError&) {
      continue;  // nothing to undo yet
    }
    if (pick(6) == 0) {
      SignMark changed;
      changed.state = SignState::no_longer_signed;
      changed.changed = {"tube"};
      Signature signature;
      signature.by = "A. Maker";
      const SignMark now = placement.signature() == nullptr ? SignMark{} : changed;
      placement = signed_off(placement, signature, now);
    }
    while (stood.size() < placement.revisions.size()) stood.push_back(placement);
  }
  REQUIRE(stood.size() > 30);
  for (std::size_t i = 0; i < stood.size(); ++i) {
    const Placement rebuilt = as_of(placement, static_cast<int>(i) + 1);
    INFO("revision " << i + 1);
    CHECK(rebuilt.revision() == static_cast<int>(i) + 1);
    CHECK(same_numbers(rebuilt, stood[i]));
  }
  CHECK_THROWS_AS(as_of(placement, 0), InputError);
  CHECK_THROWS_AS(as_of(placement, placement.revision() + 1), InputError);
}

TEST_CASE("a revision that does not say what stood before cannot be gone behind") {
  const Tube tube = long_culm(560.0, 3);
  const KeyLayout layout = tenor_of_17();
  Placement placement = bare(tube, layout, End::a);
  placement.revisions = {{1, "", "First"}, {2, "", "Moved by hand"}};
  CHECK(as_of(placement, 2).revision() == 2);
  CHECK_THROWS_AS(as_of(placement, 1), InputError);
}

TEST_CASE("a comparison says the moves as they were ordered, and the other way round the opposite") {
  const Tube tube = long_culm(560.0, 3);
  const KeyLayout layout = tenor_of_17();
  for (const End mouth : {End::a, End::b}) {
    const Placement placement = bare(tube, layout, mouth);
    const Standing was = standing(tube, layout, placement);
    const Standing now =
        standing(tube, layout,
                 moved(tube, layout, placement, "R2 2 toward foot, 1 to player's left; L1 1.5 toward mouth"));
    const Compared there = compared(tube, was, now);
    const Compared back = compared(tube, now, was);
    REQUIRE(there.moved.size() == 2);
    REQUIRE(back.moved.size() == 2);
    for (std::size_t i = 0; i < 2; ++i) {
      const bool r2 = there.moved[i].id == "R2";
      // Places are kept to thousandths (fit/shift.cpp).
      CHECK(there.moved[i].along == Approx(r2 ? 2.0 : -1.5).margin(1.1e-3));
      CHECK(there.moved[i].around == Approx(r2 ? 1.0 : 0.0).margin(1.1e-3));
      CHECK(back.moved[i].id == there.moved[i].id);
      CHECK(back.moved[i].along == Approx(-there.moved[i].along).margin(1e-9));
      CHECK(back.moved[i].around == Approx(-there.moved[i].around).margin(1e-9));
    }
    CHECK(there.rules.size() == back.rules.size());
    for (std::size_t i = 0; i < there.rules.size(); ++i) {
      CHECK(there.rules[i].was->margin == back.rules[i].now->margin);
      CHECK(there.rules[i].now->margin == back.rules[i].was->margin);
    }
    CHECK(there.mouth_cut == 0.0);
    CHECK(there.facing.radians() == 0.0);
    CHECK(compared(tube, now, now).nothing());
    CHECK(compared(tube, now, now).rules.empty());
  }
}

TEST_CASE("a web that shrank is told with what it was and is") {
  const Tube tube{round_tube(15.0, 15.0, 300.0, 4.0)};
  Drilled drilled(tube);
  drilled.hole(8.0, 100.0, 0.0).hole(8.0, 120.0, 0.0);
  const Standing was = standing(tube, drilled.layout, drilled.placement);
  drilled.placement.keys[1].at.value = 118.0;
  const Standing now = standing(tube, drilled.layout, drilled.placement);
  const Compared result = compared(tube, was, now);
  const auto web = std::find_if(result.rules.begin(), result.rules.end(),
                                [](const RuleChange& change) { return change.rule == "web-along"; });
  REQUIRE(web != result.rules.end());
  // Between edges 20 − 8, then 18 − 8.
  CHECK(web->was->value == Approx(12.0).margin(1e-6));
  CHECK(web->now->value == Approx(10.0).margin(1e-6));
}

TEST_CASE("cuts, facing and a tube turned end for end are told in the later frame") {
  const Tube tube{round_tube(15.0, 15.0, 300.0, 4.0)};
  Drilled drilled(tube);
  drilled.hole(8.0, 100.0, 0.0);
  drilled.placement.mouth_cut_at.value = 10.0;
  drilled.placement.foot_cut_at.value = 290.0;
  const Standing was = standing(tube, drilled.layout, drilled.placement);
  Placement other = drilled.placement;
  other.mouth_cut_at.value = 13.0;
  other.foot_cut_at.value = 285.0;
  other.facing.value = Angle::from_degrees(5.0);
  const Compared cut = compared(tube, was, standing(tube, drilled.layout, other));
  CHECK(cut.mouth_cut == Approx(3.0));
  CHECK(cut.foot_cut == Approx(-5.0));
  CHECK(cut.facing.degrees() == Approx(5.0));  // A up: to the right of the onlooker, the player's left
  CHECK(cut.moved.empty());                    // the hole is where it was on the tube
  CHECK_FALSE(cut.nothing());
  other = drilled.placement;
  other.mouth_end = End::b;
  std::swap(other.mouth_cut_at, other.foot_cut_at);
  other.keys[0].at.value = 98.0;
  const Compared turned = compared(tube, was, standing(tube, drilled.layout, other));
  CHECK(turned.turned_end_for_end);
  CHECK(turned.mouth_cut == 0.0);
  CHECK(turned.foot_cut == 0.0);
  REQUIRE(turned.moved.size() == 1);
  CHECK(turned.moved[0].along == Approx(2.0));  // toward A, which is the foot now
}

TEST_CASE("keys that only one of the two has are named") {
  const Tube tube{round_tube(15.0, 15.0, 300.0, 4.0)};
  Drilled one(tube);
  one.hole(8.0, 100.0, 0.0).hole(8.0, 130.0, 0.0);
  Drilled other(tube);
  other.hole(8.0, 100.0, 0.0).part("rest", PartKind::thumb_rest, 30.0, 10.0, 200.0, 45.0);
  const Compared result = compared(tube, standing(tube, one.layout, one.placement),
                                   standing(tube, other.layout, other.placement));
  CHECK(result.gone == std::vector<std::string>{"H2"});
  CHECK(result.added == std::vector<std::string>{"rest"});
  CHECK(result.moved.empty());
}

TEST_CASE("moves are said without signs") {
  CHECK(move_words(2.0, 1.0) == "2.0 toward foot, 1.0 to player's left");
  CHECK(move_words(-2.0, 0.0) == "2.0 toward mouth");
  CHECK(move_words(0.0, -0.5) == "0.5 to player's right");
  CHECK(move_words(0.0, 0.004) == "stays");
}
