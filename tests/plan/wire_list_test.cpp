#include "plan/wire_list.hpp"

#include <catch2/catch.hpp>

#include "shapes.hpp"

using namespace culmwright;

namespace {

/// A straight tube of radius 15 with a bore of radius 12, nodes at 100, 200 and 300; the mouth is end A.
struct Piece {
  explicit Piece(const std::vector<std::optional<double>>& pierced) {
    TubeShape shape = test::round_tube(15, 15, 400, 3);
    for (std::size_t i = 0; i < pierced.size(); ++i) {
      Node node;
      node.at_line = node.at_far = 100.0 * (static_cast<double>(i) + 1.0);
      node.pierced_diameter = pierced[i];
      shape.nodes.push_back(node);
    }
    tube = std::make_optional<Tube>(shape);
    instrument.foot_cut_at = 400.0;
  }

  void key(const std::string& id, double at, CupKind cup = CupKind::switch_seat) {
    PlacedKey key;
    key.key.id = id;
    key.key.cup = cup;
    key.place = {at, 0.0};
    key.wall = 3.0;
    instrument.keys.push_back(key);
  }
  /// On the side that lies so far around.
  void opening(const std::string& id, double at, double length, double width, double degrees = 0.0) {
    PlacedPart part;
    part.part.id = id;
    part.part.kind = PartKind::opening;
    part.part.length = length;
    part.part.width = width;
    part.theta = Angle::from_degrees(degrees);
    part.place = {at, part.theta.radians() * 15.0};
    instrument.parts.push_back(part);
  }
  WireList plan() const { return plan_wires(*tube, instrument, shop); }

  std::optional<Tube> tube;
  Instrument instrument;
  Shop shop;
};

}  // namespace

TEST_CASE("a wire is as long as its way by hand, with slack and spare, to the whole centimetre") {
  Piece piece({});
  piece.key("L1", 50);
  piece.opening("cable", 330, 40, 12, 90);  // from 310 to 350, a quarter turn around
  const WireList list = piece.plan();
  REQUIRE(list.refused.empty());
  REQUIRE(list.runs.size() == 1);
  const WireRun& run = list.runs[0];
  CHECK(run.wires == 2);
  CHECK(run.exit == "cable");
  CHECK(run.along == Approx(260.0));
  // Down the wall, along the bore unrolled (260 along, a quarter of 24 π around), out through the wall.
  const double way = 3.0 + std::hypot(260.0, 12.0 * pi / 2.0) + 3.0;
  CHECK(run.way == Approx(way).epsilon(1e-6));
  // 1.05 · 266.68 + 40 + 120 = 440.02: 450, never less than wanted.
  CHECK(run.cut_to == Approx(450.0));
  CHECK(list.total == Approx(900.0));
}

TEST_CASE("nodes on the way are named with the width that all wires through them need, and from which end") {
  Piece piece({std::nullopt, 6.0, {}});
  for (const double at : {40.0, 60.0, 150.0}) piece.key("L" + std::to_string(static_cast<int>(at)), at);
  piece.opening("cable", 250, 30, 14);
  const WireList list = piece.plan();
  REQUIRE(list.refused.empty());
  REQUIRE(list.nodes.size() == 2);
  // Node 1: four wires of 1.1, 2.414 · 1.1 = 2.66 in a bundle, 1.3 times that is 3.45: 3.5.
  CHECK(list.nodes[0].number == 1);
  CHECK(list.nodes[0].wires == 4);
  CHECK(list.nodes[0].bundle == Approx((1.0 + std::sqrt(2.0)) * 1.1).epsilon(1e-3));
  CHECK(list.nodes[0].wide == Approx(3.5));
  CHECK(list.nodes[0].work);
  CHECK(list.nodes[0].from == End::a);
  CHECK(list.nodes[0].reach == Approx(100.0));
  // Node 2 is pierced 6 wide and takes six wires of 3.3 · 1.3 = 4.29 as it is.
  CHECK(list.nodes[1].wires == 6);
  CHECK(list.nodes[1].wide == Approx(4.5));
  CHECK_FALSE(list.nodes[1].work);
  // Pulled the farthest first.
  REQUIRE(list.runs.size() == 3);
  CHECK(list.runs[0].id == "L40");
  CHECK(list.runs[2].id == "L150");
  CHECK(list.runs[0].nodes == std::vector<int>{1, 2});
}

TEST_CASE("a node that is pierced too narrow is to be widened") {
  Piece piece({3.0});
  piece.key("L1", 40);
  piece.key("L2", 60);
  piece.opening("cable", 150, 30, 14);
  const WireList list = piece.plan();
  REQUIRE(list.nodes.size() == 1);
  CHECK(list.nodes[0].work);
  CHECK(list.nodes[0].wide == Approx(3.5));
  CHECK(*list.nodes[0].pierced == Approx(3.0));
}

TEST_CASE("what pierces a node goes in from the end with the least to pierce besides") {
  // Only node 2 is on the way; node 1 before it is pierced, node 3 is whole: from A, though B is as near.
  Piece piece({8.0, {}, {}});
  piece.key("L1", 180);
  piece.opening("cable", 240, 30, 14);
  const WireList list = piece.plan();
  REQUIRE(list.nodes.size() == 1);
  CHECK(list.nodes[0].number == 2);
  CHECK(list.nodes[0].from == End::a);
  // With both whole it cannot but pierce one of them as well, as wide as what goes through.
  Piece whole({std::nullopt, {}, {}});
  whole.key("L1", 180);
  whole.opening("cable", 240, 30, 14);
  const WireList more = whole.plan();
  REQUIRE(more.nodes.size() == 2);
  CHECK(more.nodes[0].number == 1);
  CHECK(more.nodes[0].wires == 0);
  CHECK(more.nodes[0].wide == more.nodes[1].wide);
}

TEST_CASE("of several openings the one with the least to pierce is taken, unless the key names another") {
  Piece piece({std::nullopt, {}, {}});
  piece.key("L1", 140);
  piece.opening("near", 90, 16, 10);  // 98 to 82: nearer, but behind node 1
  piece.opening("far", 188, 16, 10);
  CHECK(piece.plan().runs.at(0).exit == "far");
  piece.instrument.keys[0].key.wires_to = "near";
  CHECK(piece.plan().runs.at(0).exit == "near");
  piece.instrument.keys[0].key.wires_to = "foot_end";
  const WireList out = piece.plan();
  CHECK(out.runs.at(0).exit == "foot_end");
  CHECK(out.runs.at(0).along == Approx(260.0));
  CHECK(out.runs.at(0).nodes == std::vector<int>{2, 3});
}

TEST_CASE("a key without a way is refused by name, with the reason and what can be done") {
  Piece piece({std::nullopt, {}, {}});
  piece.key("L1", 40);
  WireList list = piece.plan();
  REQUIRE(list.refused.size() == 1);
  CHECK(list.runs.empty());
  CHECK(list.refused[0].sentence.find("no way for the wires of L1: the key layout has no opening") == 0);
  piece.opening("cable", 250, 30, 14);
  piece.shop.wires.piercing_reach = 150.0;
  list = piece.plan();
  REQUIRE(list.refused.size() == 1);
  CHECK(list.refused[0].sentence.find("node 2 is whole and lies 200 from the nearer end") !=
        std::string::npos);
  piece.instrument.keys[0].key.wires_to = "lid";
  list = piece.plan();
  CHECK(list.refused[0].sentence.find("there is no opening lid; there is cable") != std::string::npos);
}

TEST_CASE(
    "bundles that node, bore or opening cannot take are refused, and so is a way too narrow in the cup") {
  Piece piece({std::nullopt});
  piece.key("L1", 40);
  piece.opening("cable", 150, 30, 14);
  piece.instrument.keys[0].key.wires = 40;
  piece.shop.cups.wire_way = 20.0;
  piece.shop.wires.diameter = 2.5;  // 40 of them: 18.9 together, 24.6 to pierce, in a bore of 24
  WireList list = piece.plan();
  REQUIRE(list.refused.size() == 1);
  CHECK(list.refused[0].sentence.find("opening cable is 14 mm wide") != std::string::npos);
  piece.instrument.parts[0].part.width = 22.0;
  list = piece.plan();
  REQUIRE(list.refused.size() == 1);
  CHECK(list.refused[0].sentence.find("node 1 would have to be pierced to") != std::string::npos);
  CHECK(list.nodes.empty());
  piece.shop.cups.wire_way = 1.5;
  list = piece.plan();
  CHECK(list.refused[0].sentence.find("its wire way is 1.5 mm wide") != std::string::npos);
}

TEST_CASE("touch caps have wires only where they have a way for them, plugs none") {
  Key key;
  key.cup = CupKind::touch_cap;
  CHECK(wires_of(key) == 0);
  key.cup_shape = CupShape{};
  key.cup_shape->wire_way = 2.0;
  CHECK(wires_of(key) == 1);
  key.cup = CupKind::plug;
  CHECK(wires_of(key) == 0);
  key.wires = 3;
  CHECK(wires_of(key) == 3);
}

TEST_CASE("a bundle holds its wires: circles laid by hand fit the ratio, and fewer never need more") {
  // Three about their middle, four in a square, seven as six around one.
  CHECK(bundle_ratio(3) == Approx(1.0 + 2.0 / std::sqrt(3.0)).epsilon(1e-4));
  CHECK(bundle_ratio(4) == Approx(1.0 + std::sqrt(2.0)).epsilon(1e-4));
  CHECK(bundle_ratio(7) == Approx(3.0));
  CHECK(bundle_ratio(13) == Approx(2.0 + std::sqrt(5.0)).epsilon(1e-4));
  for (int n = 1; n < 60; ++n) {
    CHECK(bundle_ratio(n) <= bundle_ratio(n + 1));
    CHECK(bundle_ratio(n) * bundle_ratio(n) >= n);  // their areas fit
  }
}
