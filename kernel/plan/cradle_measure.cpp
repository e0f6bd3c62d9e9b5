/// What the gate holds cradles and wedges against. A cradle's volume: the profile less the channel, ∫ along
/// the tube; the channel's section by ½∮ p × dp along the inner face and straight back over the lands.
#include <algorithm>
#include <cmath>

#include "base/numeric.hpp"
#include "plan/cradle_plan.hpp"
#include "plan/flat_expectation.hpp"

namespace culmwright {

namespace {

using namespace cradle_sizes;

constexpr int pieces_around = 24;
constexpr double piece_along = 1.5;

class CradleMeasure {
 public:
  CradleMeasure(const CradleSet& set, const CradleBody& body)
      : set_(set),
        body_(body),
        band_(body.inner, set.frame(0.0).apply({0, body.land, 0}), set.frame(0.0).y, hug_deg * pi / 180.0,
              pieces_around) {}

  double section_area(double at) const {
    return area_of(set_.profile(body_)) - std::abs(band_.section_area(at));
  }
  double volume() const {
    return integrate([&](double at) { return section_area(at); }, body_.at.from, body_.at.to, pieces());
  }
  double inner_area() const {
    return integrate([&](double at) { return band_.arc_area(at); }, body_.at.from, body_.at.to, pieces());
  }
  double lands_area() const {
    return integrate([&](double at) { return 2.0 * set_.half_width - band_.chord(at); }, body_.at.from,
                     body_.at.to, pieces());
  }

 private:
  int pieces() const { return std::max(4, static_cast<int>(std::ceil(body_.at.length() / piece_along))); }
  const CradleSet& set_;
  const CradleBody& body_;
  BandMeasure band_;
};

/// The face in whose plane a text stands.
FaceExpectation& face_of(std::vector<FaceExpectation>& faces, const PlaneText& text) {
  return *std::min_element(faces.begin(), faces.end(), [&](const auto& a, const auto& b) {
    return a.distance(text.frame.origin) < b.distance(text.frame.origin);
  });
}

void expect_tunnel(Expectation& expected, const CradleSet& set, const RigidMotion& frame) {
  const double deep = 2.0 * set.half_width;
  const double wide = 2.0 * set.tunnel_half;
  const double high = set.tunnel.length();
  const auto add = [&](const char* name, Vec3 point, Vec3 normal, double area) {
    expected.faces.push_back(plane_face(name, frame.apply(point), frame.turn(normal), area));
  };
  add("tunnel's floor", {0, set.tunnel.from, 0}, {0, 1, 0}, deep * wide);
  add("tunnel's roof", {0, set.tunnel.to, 0}, {0, 1, 0}, deep * wide);
  add("tunnel's side toward A", {0, 0, -set.tunnel_half}, {0, 0, 1}, deep * high);
  add("tunnel's side toward B", {0, 0, set.tunnel_half}, {0, 0, 1}, deep * high);
  expected.volume -= deep * wide * high;
}

}  // namespace

Expectation expectation_of(const CradleSet& set, const CradleBody& body) {
  const CradleMeasure measure(set, body);
  const RigidMotion frame = set.frame(body.at.middle());
  const double long_ = body.at.length();
  Expectation expected;
  expected.part = body.name;
  expected.genus = 1;
  expected.volume = measure.volume();
  expected.faces.push_back(
      {"inner face", [inner = body.inner](Vec3 p) { return inner.distance(p); }, measure.inner_area()});
  const double mouth = 2.0 * set.tunnel_half * set.tunnel.length();
  std::vector<FaceExpectation> flat;
  for (const CradleFacet& facet : set.facets) {
    const Vec2 along = unit(facet.to - facet.from);
    flat.push_back(plane_face("facet of " + facet.bores.ids.front(),
                              frame.apply({facet.from.x, facet.from.y, 0}),
                              frame.turn({along.y, -along.x, 0}), length(facet.to - facet.from) * long_));
  }
  for (const double side : {-1.0, 1.0}) {
    const Vec2 low = side < 0.0 ? set.facets.front().from : set.facets.back().to;
    flat.push_back(plane_face(side < 0.0 ? "side toward lesser angles" : "side toward greater angles",
                              frame.apply({side * set.half_width, 0, 0}), frame.x,
                              (body.land - low.y) * long_ - mouth));
  }
  flat.push_back(
      plane_face("end toward A", {0, 0, -body.at.from}, {0, 0, 1}, measure.section_area(body.at.from)));
  flat.push_back(
      plane_face("end toward B", {0, 0, -body.at.to}, {0, 0, 1}, measure.section_area(body.at.to)));
  flat.push_back(plane_face("lands", frame.apply({0, body.land, 0}), frame.y, measure.lands_area()));
  for (const PlaneText& text : body.texts) expect_text(expected, text, engraving, face_of(flat, text));
  expected.faces.insert(expected.faces.end(), flat.begin(), flat.end());
  expect_tunnel(expected, set, frame);
  return expected;
}

Expectation expectation_of(const CradleWedge& wedge) {
  const std::vector<Vec2> corners = profile(wedge);
  Expectation expected;
  expected.part = wedge.part();
  expected.volume = area_of(corners) * wedge_length;
  std::vector<FaceExpectation> flat;
  const char* names[4] = {"face under the facet", "left edge", "face on the table", "right edge"};
  for (int i = 0; i < 4; ++i) {
    const Vec2 side = corners[(i + 1) % 4] - corners[i];
    const Vec2 along = unit(side);
    flat.push_back(plane_face(names[i], {corners[i].x, corners[i].y, 0}, {along.y, -along.x, 0},
                              length(side) * wedge_length));
  }
  for (const double side : {-0.5, 0.5}) {
    flat.push_back(plane_face(side < 0.0 ? "end toward A" : "end toward B", {0, 0, side * wedge_length},
                              {0, 0, 1}, area_of(corners)));
  }
  for (const PlaneText& text : wedge.texts) expect_text(expected, text, engraving, flat.front());
  expected.faces.insert(expected.faces.end(), flat.begin(), flat.end());
  return expected;
}

}  // namespace culmwright
