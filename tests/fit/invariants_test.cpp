/// What must not change when the same piece is described in another way.
#include <catch2/catch.hpp>

#include <random>

#include "fit/frame.hpp"
#include "fit/outline.hpp"
#include "instruments.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

/// A culm's values by place, so that the same piece can be written down turned or from its other end.
struct Piece {
  double length = 420.0;
  std::vector<double> bow_at{0.0, 126.0, 294.0, 420.0};
  std::vector<double> bow_x{0.0, 1.2, 1.6, 0.0};
  std::vector<double> bow_y{0.0, 1.5, 1.1, 0.0};
  // Order, cosine at A, sine at A, cosine at B, sine at B.
  struct Lobe {
    int order;
    double cos_a, sin_a, cos_b, sin_b;
  };
  std::vector<Lobe> lobes{{2, 0.35, 0.1, 0.25, -0.1}, {3, 0.06, -0.04, 0.06, -0.04}};
  double radius_a = 15.5, radius_b = 18.0;
  double wall_a = 3.4, wall_b = 4.6;
  double wall_x = 0.3, wall_y = -0.2;
  double node_slant = 0.0;  ///< turning a slanted node about the axis is no node of the same kind
};

Node node_at(double line, double far) {
  Node node;
  node.at_line = line;
  node.at_far = far;
  node.band = 9.0;
  node.ridge_height = 0.8;
  return node;
}

TubeShape shape_of(const Piece& piece) {
  const double l = piece.length;
  TubeShape shape;
  shape.id = "piece";
  shape.end_b_at = l;
  std::vector<FourierAlong::Term> terms;
  terms.push_back({0, straight(0, piece.radius_a, l, piece.radius_b), {}});
  const std::vector<bool> no_kink(piece.bow_at.size(), false);
  terms.push_back({1, PiecewiseCubic::spline(piece.bow_at, piece.bow_x, no_kink),
                   PiecewiseCubic::spline(piece.bow_at, piece.bow_y, no_kink)});
  for (const Piece::Lobe& lobe : piece.lobes) {
    terms.push_back(
        {lobe.order, straight(0, lobe.cos_a, l, lobe.cos_b), straight(0, lobe.sin_a, l, lobe.sin_b)});
  }
  shape.skin = FourierAlong(terms);
  shape.wall = FourierAlong({{0, straight(0, piece.wall_a, l, piece.wall_b), {}},
                             {1, constant(piece.wall_x), constant(piece.wall_y)}});
  for (double share : {0.22, 0.56, 0.88}) {
    shape.nodes.push_back(node_at(share * l - 0.5 * piece.node_slant, share * l + 0.5 * piece.node_slant));
  }
  return shape;
}

/// The same piece with its reference line `turn` farther back: everything on it lies `turn` farther round.
Piece turned(Piece piece, Angle turn) {
  const auto rotate = [&](double& c, double& s, int order) {
    const double a = order * turn.radians();
    const double c_new = c * std::cos(a) - s * std::sin(a);
    s = c * std::sin(a) + s * std::cos(a);
    c = c_new;
  };
  for (std::size_t i = 0; i < piece.bow_at.size(); ++i) rotate(piece.bow_x[i], piece.bow_y[i], 1);
  for (Piece::Lobe& lobe : piece.lobes) {
    rotate(lobe.cos_a, lobe.sin_a, lobe.order);
    rotate(lobe.cos_b, lobe.sin_b, lobe.order);
  }
  rotate(piece.wall_x, piece.wall_y, 1);
  return piece;
}

/// The same piece with its ends named the other way round: turned upside down about the reference line's
/// side, so that θ becomes −θ and at becomes length − at.
Piece from_other_end(Piece piece) {
  std::swap(piece.radius_a, piece.radius_b);
  std::swap(piece.wall_a, piece.wall_b);
  piece.wall_y = -piece.wall_y;
  for (Piece::Lobe& lobe : piece.lobes) {
    std::swap(lobe.cos_a, lobe.cos_b);
    std::swap(lobe.sin_a, lobe.sin_b);
    lobe.sin_a = -lobe.sin_a;
    lobe.sin_b = -lobe.sin_b;
  }
  std::reverse(piece.bow_x.begin(), piece.bow_x.end());
  std::reverse(piece.bow_y.begin(), piece.bow_y.end());
  for (double& y : piece.bow_y) y = -y;
  for (double& at : piece.bow_at) at = piece.length - at;
  std::reverse(piece.bow_at.begin(), piece.bow_at.end());
  return piece;
}

TubeShape flipped_shape(const Piece& piece) {
  TubeShape shape = shape_of(from_other_end(piece));
  // shape_of places nodes by share of the length; the flipped piece has them at the mirrored places.
  shape.nodes.clear();
  for (const Node& node : shape_of(piece).nodes) {
    shape.nodes.push_back(node_at(piece.length - node.at_line, piece.length - node.at_far));
  }
  return shape;
}

KeyLayout two_hands() {
  KeyLayout layout;
  layout.id = "two hands";
  layout.left = {118.0, 2.0};
  layout.right = {262.0, -2.0};
  const Finger fingers[] = {Finger::index, Finger::middle, Finger::ring};
  for (int hand = 0; hand < 2; ++hand) {
    for (int i = 0; i < 3; ++i) {
      Key made = key((hand == 0 ? "L" : "R") + std::to_string(i + 1), hand == 0 ? Hand::left : Hand::right,
                     fingers[i], 7.0 + i);
      made.along = 22.0 * i;
      made.around = 3.0 * i - 2.0;
      layout.keys.push_back(made);
    }
  }
  Key thumb = key("LT", Hand::left, Finger::thumb, 8.0);
  thumb.along = 4.0;
  thumb.around = 47.0;
  layout.keys.push_back(thumb);
  Part rest;
  rest.id = "rest";
  rest.kind = PartKind::thumb_rest;
  rest.from = From::right_hand;
  rest.around = 48.0;
  rest.along = 15.0;
  rest.length = 20.0;
  rest.width = 12.0;
  layout.parts = {rest};
  Part opening = rest;
  opening.id = "access";
  opening.kind = PartKind::opening;
  opening.from = From::foot_end;
  opening.along = 70.0;
  opening.length = 30.0;
  opening.width = 14.0;
  opening.corner_radius = 4.0;
  layout.parts.push_back(opening);
  return layout;
}

Placement placed(End mouth, double mouth_cut, double foot_cut, double facing_degrees) {
  Placement placement;
  placement.id = "p";
  placement.tube_id = "piece";
  placement.layout_id = "two hands";
  placement.mouth_end = mouth;
  placement.mouth_cut_at.value = mouth_cut;
  placement.foot_cut_at.value = foot_cut;
  placement.facing.value = Angle::from_degrees(facing_degrees);
  return placement;
}

void same_findings(const std::vector<Finding>& one, const std::vector<Finding>& other) {
  REQUIRE(one.size() == other.size());
  REQUIRE(one.size() >= 10);
  for (std::size_t i = 0; i < one.size(); ++i) {
    INFO(one[i].sentence << " / " << other[i].sentence);
    CHECK(one[i].rule == other[i].rule);
    CHECK(one[i].ids == other[i].ids);
    CHECK(one[i].value == Approx(other[i].value).margin(1e-4));
    CHECK(one[i].limit == Approx(other[i].limit).margin(1e-9));
    CHECK(one[i].passes == other[i].passes);
  }
}

}  // namespace

TEST_CASE("turning the tube turns everything: same played places, same findings, holes turned in space") {
  const Piece piece;
  const KeyLayout layout = two_hands();
  for (double degrees : {30.0, 117.0, 200.0, -75.0}) {
    const Angle turn = Angle::from_degrees(degrees);
    const Tube tube{shape_of(piece)};
    const Tube other{shape_of(turned(piece, turn))};
    for (const End mouth : {End::a, End::b}) {
      const double cuts[2] = {mouth == End::a ? 8.0 : 412.0, mouth == End::a ? 412.0 : 8.0};
      const Instrument one = assemble(tube, layout, placed(mouth, cuts[0], cuts[1], 20.0));
      const Instrument two = assemble(other, layout, placed(mouth, cuts[0], cuts[1], 20.0 + degrees));
      for (std::size_t i = 0; i < one.keys.size(); ++i) {
        const Vec3 p = one.keys[i].drilling.point;
        const Vec3 expected{p.x * turn.cos() - p.y * turn.sin(), p.x * turn.sin() + p.y * turn.cos(), p.z};
        CHECK(length(two.keys[i].drilling.point - expected) < 1e-9);
        CHECK(two.keys[i].along == Approx(one.keys[i].along).margin(1e-9));
        CHECK(two.keys[i].around == Approx(one.keys[i].around).margin(1e-9));
        CHECK(two.keys[i].wall == Approx(one.keys[i].wall).margin(1e-8));
      }
      same_findings(culmwright::check(tube, layout, one), culmwright::check(other, layout, two));
    }
  }
}

TEST_CASE("naming the ends the other way round mirrors nothing") {
  // The piece turned upside down about the reference line's side: x stays, y and z change sign; a rotation.
  Piece piece;
  piece.node_slant = 2.4;
  const KeyLayout layout = two_hands();
  const Tube tube{shape_of(piece)};
  const Tube other{flipped_shape(piece)};
  const Instrument one = assemble(tube, layout, placed(End::a, 8.0, 412.0, 20.0));
  const Instrument two = assemble(other, layout, placed(End::b, 412.0, 8.0, -20.0));
  for (std::size_t i = 0; i < one.keys.size(); ++i) {
    const Vec3 p = one.keys[i].drilling.point;
    CHECK(length(two.keys[i].drilling.point - Vec3{p.x, -p.y, -(p.z + piece.length)}) < 1e-9);
    CHECK(two.keys[i].along == Approx(one.keys[i].along).margin(1e-9));
    CHECK(two.keys[i].around == Approx(one.keys[i].around).margin(1e-9));
  }
  const std::vector<Finding> findings = culmwright::check(tube, layout, one);
  const std::vector<Finding> others = culmwright::check(other, layout, two);
  same_findings(findings, others);
  for (std::size_t i = 0; i < findings.size(); ++i) {
    for (std::size_t n = 0; n < findings[i].nodes.size(); ++n) {
      CHECK(others[i].nodes[n] == 2 - findings[i].nodes[n]);
    }
  }
}

TEST_CASE("the same words are said twice about the same instrument") {
  const Tube tube{shape_of(Piece{})};
  const KeyLayout layout = two_hands();
  const Instrument instrument = assemble(tube, layout, placed(End::a, 8.0, 412.0, 20.0));
  const std::vector<Finding> one = culmwright::check(tube, layout, instrument);
  const std::vector<Finding> two = culmwright::check(tube, layout, instrument);
  REQUIRE(one.size() == two.size());
  for (std::size_t i = 0; i < one.size(); ++i) {
    CHECK(one[i].sentence == two[i].sentence);
    CHECK(one[i].value == two[i].value);
  }
}

TEST_CASE("the web reported is the least of all pairs, whatever was passed over on the way") {
  const Tube tube{shape_of(Piece{})};
  std::mt19937 random(20260117);
  INFO("seed 20260117");
  std::uniform_real_distribution<double> at(110.0, 220.0);
  std::uniform_real_distribution<double> around(-48.0, 48.0);
  for (int round = 0; round < 6; ++round) {
    Drilled drilled(tube);
    for (int i = 0; i < 5; ++i) drilled.hole(6.0 + i, at(random), around(random));
    const Instrument instrument = assemble(tube, drilled.layout, drilled.placement);
    double least[2] = {1e300, 1e300};
    for (std::size_t i = 0; i < 5; ++i) {
      for (std::size_t j = i + 1; j < 5; ++j) {
        const PlacedKey& a = instrument.keys[i];
        const PlacedKey& b = instrument.keys[j];
        const Gap gap =
            gap_between(tube, Outline::of_hole(tube, a.drilling), Outline::of_hole(tube, b.drilling));
        const double widest = std::max(a.key.hole_diameter, b.key.hole_diameter);
        const double limit = gap.along_the_grain() ? std::max(5.0, widest / 3) : 6.0;
        least[gap.along_the_grain() ? 0 : 1] =
            std::min(least[gap.along_the_grain() ? 0 : 1], gap.distance - limit);
      }
    }
    const std::vector<Finding> findings = culmwright::check(tube, drilled.layout, instrument);
    for (int direction = 0; direction < 2; ++direction) {
      const auto found = tightest(findings, direction == 0 ? "web-along" : "web-around");
      CHECK(found.has_value() == (least[direction] < 1e299));
      if (found) CHECK(found->margin == Approx(least[direction]).margin(1e-6));
    }
  }
}

TEST_CASE("widening a hole never widens a margin that is measured from its edge") {
  const Tube tube{shape_of(Piece{})};
  double last[4] = {1e300, 1e300, 1e300, 1e300};
  const char* const watched[4] = {"node-distance", "girth-lost", "end-distance", "break-through"};
  for (double diameter = 4.0; diameter <= 12.0; diameter += 1.0) {
    const std::vector<Finding> findings = check(tube, Drilled(tube).hole(diameter, 130.0, 12.0));
    for (int i = 0; i < 4; ++i) {
      const double margin = tightest(findings, watched[i])->margin;
      CHECK(margin < last[i]);
      last[i] = margin;
    }
  }
}
