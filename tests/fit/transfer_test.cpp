#include "fit/transfer.hpp"

#include <catch2/catch.hpp>

#include "fit/assemble.hpp"
#include "propose_cases.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

Placement first_placement(const Tube& tube, const KeyLayout& layout) {
  ProposeOptions options;
  options.count = 1;
  auto result = propose(tube, facts_of_culm(), layout, options);
  return std::get<std::vector<Proposal>>(result).front().placement;
}

Transferred transferred(const Tube& from, const KeyLayout& layout, const Placement& placement,
                        const Tube& to) {
  auto result = transfer(from, layout, placement, to, facts_of_culm());
  if (const Refusal* refusal = std::get_if<Refusal>(&result)) FAIL(refusal->sentence);
  return std::get<Transferred>(result);
}

double from_mark(const Instrument& instrument, const Placement& placement, std::size_t key, bool along) {
  const PlacedKey& placed = instrument.keys[key];
  const HandMark mark = placed.key.hand == Hand::left ? *placement.left_mark : *placement.right_mark;
  return along ? placed.along - mark.along : placed.around - mark.around;
}

}  // namespace

TEST_CASE("transferred to the same piece nothing in the hands moves") {
  const Tube tube = long_culm(600.0, 2);
  const KeyLayout layout = tenor_of_17();
  Placement placement = first_placement(tube, layout);
  placement.keys[3].at.value += 1.5;  // as the maker shifted it on the mock-up
  const Transferred result = transferred(tube, layout, placement, tube);
  const Instrument before = assemble(tube, layout, placement);
  const Instrument after = assemble(tube, layout, result.proposal.placement);
  for (std::size_t i = 0; i < layout.keys.size(); ++i) {
    CAPTURE(layout.keys[i].id);
    for (const bool along : {true, false}) {
      CHECK(from_mark(after, result.proposal.placement, i, along) ==
            Approx(from_mark(before, placement, i, along)).margin(0.02));
    }
  }
  CHECK(result.moved.empty());
}

TEST_CASE(
    "skin distances within each hand are kept on a thicker piece, and the numbers say where they come from") {
  const Tube from = long_culm(600.0, 2);
  TubeShape shape = long_culm(580.0, 1, 20.0).shape();
  shape.id = "other";
  const Tube to(shape);
  const KeyLayout layout = tenor_of_17();
  const Placement placement = first_placement(from, layout);
  const Transferred result = transferred(from, layout, placement, to);
  const Placement& placed = result.proposal.placement;
  CHECK(placed.tube_id == "other");
  CHECK(acceptable(check(to, layout, assemble(to, layout, placed))));
  for (const PlacedId& key : placed.keys) CHECK(key.at.origin == Origin::transferred);
  CHECK(placed.revisions.back().what.find("Transferred from long") == 0);
  const Instrument before = assemble(from, layout, placement);
  const Instrument after = assemble(to, layout, placed);
  for (std::size_t i = 0; i < layout.keys.size(); ++i) {
    const auto moved = std::find_if(result.moved.begin(), result.moved.end(),
                                    [&](const Displacement& d) { return d.id == layout.keys[i].id; });
    const double along = moved == result.moved.end() ? 0.0 : moved->along;
    CHECK(from_mark(after, placed, i, true) ==
          Approx(from_mark(before, placement, i, true) + along).margin(0.06));
  }
}

TEST_CASE("what a node forces is said for the key it moves") {
  // Marks and cuts as they are: the node of the other piece lies at R3 exactly.
  KeyLayout layout = tenor_of_17();
  layout.mark_leeway = 0.0;
  for (Key& key : layout.keys) key.leeway.along = 20.0;
  for (Part& part : layout.parts) part.leeway.along = 20.0;
  const Tube from = long_culm(600.0, 0);
  ProposeOptions options;
  options.mouth_end = End::a;
  options.mouth_cut_at = 0.0;
  options.foot_cut_at = 500.0;
  options.facing = Angle::from_degrees(20.0);
  options.count = 1;
  auto result = propose(from, facts_of_culm(), layout, options);
  const Placement placement = std::get<std::vector<Proposal>>(result).front().placement;
  TubeShape shape = from.shape();
  shape.id = "with node";
  Node node;
  node.at_line = node.at_far = layout.right.along + 44.0 + 8.0;
  node.band = 8.0;
  shape.nodes.push_back(node);
  auto moved = transfer(from, layout, placement, Tube(shape), facts_of_culm(), options);
  REQUIRE(std::holds_alternative<Transferred>(moved));
  const Transferred& found = std::get<Transferred>(moved);
  const auto r3 = std::find_if(found.moved.begin(), found.moved.end(),
                               [](const Displacement& d) { return d.id == "R3"; });
  REQUIRE(r3 != found.moved.end());
  // Node edge at 48 from the mark, clearance 5, rim 4.5: R3 ends at 38.5, 5.5 nearer to the mouth.
  CHECK(r3->along == Approx(-5.5).margin(0.3));
  CHECK(r3->forced_by.find("node 1") != std::string::npos);
}

TEST_CASE("a mirrored key layout exchanges the hands, and mirrored twice it is as before") {
  const KeyLayout layout = tenor_of_17();
  const KeyLayout other = mirrored(layout);
  REQUIRE(other.keys.size() == layout.keys.size());
  for (std::size_t i = 0; i < layout.keys.size(); ++i) {
    CHECK(other.keys[i].hand != layout.keys[i].hand);
    CHECK(other.keys[i].along == layout.keys[i].along);
    CHECK(other.keys[i].around == -layout.keys[i].around);
    CHECK(other.keys[i].id.substr(1) == layout.keys[i].id.substr(1));
    CHECK(other.keys[i].id.front() == (layout.keys[i].id.front() == 'L' ? 'R' : 'L'));
  }
  CHECK(other.right.along == layout.left.along);
  const KeyLayout again = mirrored(other);
  for (std::size_t i = 0; i < layout.keys.size(); ++i) {
    CHECK(again.keys[i].id == layout.keys[i].id);
    CHECK(again.keys[i].hand == layout.keys[i].hand);
    CHECK(again.keys[i].around == layout.keys[i].around);
  }
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    CHECK(again.parts[i].from == layout.parts[i].from);
    CHECK(again.parts[i].around == layout.parts[i].around);
  }
}

TEST_CASE("a mirrored instrument keeps the rules on a piece that is the same on both sides") {
  const Tube tube(round_tube(18.0, 19.0, 560.0, 4.5));
  const KeyLayout layout = tenor_of_17();
  ProposeOptions options;
  options.count = 1;
  options.facing = Angle();
  options.mouth_end = End::a;
  const auto one = propose(tube, PieceFacts{}, layout, options);
  const auto other = propose(tube, PieceFacts{}, mirrored(layout), options);
  const Proposal& a = std::get<std::vector<Proposal>>(one).front();
  const Proposal& b = std::get<std::vector<Proposal>>(other).front();
  CHECK(a.score == Approx(b.score).margin(0.02));
  for (std::size_t i = 0; i < layout.keys.size(); ++i) {
    CHECK(a.instrument.keys[i].along == Approx(b.instrument.keys[i].along).margin(0.1));
    CHECK(a.instrument.keys[i].around == Approx(-b.instrument.keys[i].around).margin(0.1));
  }
}
