/// What the gate holds cradles and wedges against. A cradle's volume: the profile less the channel, ∫ along
/// the tube; the channel's section by ½∮ p × dp along the inner face and straight back over the lands.
#include <algorithm>
#include <cmath>

#include "base/numeric.hpp"
#include "plan/cradle_plan.hpp"

namespace culmwright {

namespace {

using namespace cradle_sizes;

constexpr int pieces_around = 24;
constexpr double piece_along = 1.5;

double area_of(const std::vector<Vec2>& corners) {
  double sum = 0.0;
  for (std::size_t i = 0; i < corners.size(); ++i)
    sum += 0.5 * cross(corners[i], corners[(i + 1) % corners.size()]);
  return sum;
}

double perimeter_of(const std::vector<Vec2>& corners) {
  double sum = 0.0;
  for (std::size_t i = 0; i < corners.size(); ++i)
    sum += length(corners[(i + 1) % corners.size()] - corners[i]);
  return sum;
}

/// Of all strokes of a text.
struct Engraved {
  double floor = 0.0;
  double walls = 0.0;
};
Engraved engraved(const PlaneText& text) {
  Engraved sum;
  for (const StrokeOutline& stroke : text.strokes) {
    sum.floor += area_of(stroke);
    sum.walls += engraving * perimeter_of(stroke);
  }
  return sum;
}

FaceExpectation plane(std::string name, Vec3 point, Vec3 normal, double area) {
  return {std::move(name), [point, normal](Vec3 p) { return std::abs(dot(p - point, normal)); }, area};
}

/// Takes a text out of the face it stands in and adds its own faces and volume.
void expect_text(Expectation& expected, const PlaneText& text, FaceExpectation& face) {
  const Engraved sum = engraved(text);
  *face.area -= sum.floor;
  expected.volume -= engraving * sum.floor;
  expected.faces.push_back(plane("floor of " + text.text + " in " + face.name,
                                 text.frame.apply({0, 0, -engraving}), text.frame.z, sum.floor));
  const RigidMotion to_text = text.frame.inverse();
  const std::vector<StrokeOutline> strokes = text.strokes;
  expected.faces.push_back({"walls of " + text.text + " in " + face.name,
                            [to_text, strokes](Vec3 p) {
                              const Vec3 q = to_text.apply(p);
                              double least = 1e300;
                              for (const StrokeOutline& stroke : strokes) {
                                for (std::size_t i = 0; i < stroke.size(); ++i) {
                                  const Vec2 side = stroke[(i + 1) % stroke.size()] - stroke[i];
                                  const Vec2 off = Vec2{q.x, q.y} - stroke[i];
                                  const double t = std::clamp(dot(off, side) / dot(side, side), 0.0, 1.0);
                                  least = std::min(least, length(off - side * t));
                                }
                              }
                              return least;
                            },
                            sum.walls});
}

class CradleMeasure {
 public:
  CradleMeasure(const CradleSet& set, const CradleBody& body) : set_(set), body_(body) {}

  /// θ of the inner face at the land, on the side of growing θ (+1) or the other (−1).
  double land_theta(const Section& section, int side) const {
    const Vec2 v = direction(set_.middle);
    double theta = body_.inner.middle() + side * hug_deg * pi / 180.0;
    for (int i = 0; i < 40; ++i) {
      const GuideFace::Jet jet = body_.inner.jet(section, theta);
      const double off = jet.point.x * v.x + jet.point.y * v.y - body_.land;
      const double step = std::clamp(off / (jet.by_theta.x * v.x + jet.by_theta.y * v.y), -0.1, 0.1);
      theta -= step;
      if (std::abs(step) < 1e-13) break;
    }
    return theta;
  }

  double channel_area(double at) const {
    const Section section = body_.inner.base().section(at);
    const double low = land_theta(section, -1);
    const double high = land_theta(section, 1);
    const double swept = 0.5 * integrate(
                                   [&](double theta) {
                                     const GuideFace::Jet jet = body_.inner.jet(section, theta);
                                     return jet.point.x * jet.by_theta.y - jet.point.y * jet.by_theta.x;
                                   },
                                   low, high, pieces_around);
    const Vec3 a = body_.inner.jet(section, high).point;
    const Vec3 b = body_.inner.jet(section, low).point;
    return swept + 0.5 * (a.x * b.y - a.y * b.x);
  }
  double section_area(double at) const { return area_of(set_.profile(body_)) - channel_area(at); }
  double volume() const {
    return integrate([&](double at) { return section_area(at); }, body_.at.from, body_.at.to, pieces());
  }
  double inner_area() const {
    return integrate(
        [&](double at) {
          const Section section = body_.inner.base().section(at);
          return integrate([&](double t) { return length(body_.inner.jet(section, t).outward()); },
                           land_theta(section, -1), land_theta(section, 1), pieces_around);
        },
        body_.at.from, body_.at.to, pieces());
  }
  double lands_area() const {
    const Vec2 u = tangent(set_.middle);
    return integrate(
        [&](double at) {
          const Section section = body_.inner.base().section(at);
          double sum = 2.0 * set_.half_width;
          for (const int side : {-1, 1}) {
            const Vec3 p = body_.inner.jet(section, land_theta(section, side)).point;
            sum -= std::abs(p.x * u.x + p.y * u.y);
          }
          return sum;
        },
        body_.at.from, body_.at.to, pieces());
  }

 private:
  int pieces() const { return std::max(4, static_cast<int>(std::ceil(body_.at.length() / piece_along))); }
  const CradleSet& set_;
  const CradleBody& body_;
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
    expected.faces.push_back(plane(name, frame.apply(point), frame.turn(normal), area));
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
    flat.push_back(plane("facet of " + facet.bores.ids.front(), frame.apply({facet.from.x, facet.from.y, 0}),
                         frame.turn({along.y, -along.x, 0}), length(facet.to - facet.from) * long_));
  }
  for (const double side : {-1.0, 1.0}) {
    const Vec2 low = side < 0.0 ? set.facets.front().from : set.facets.back().to;
    flat.push_back(plane(side < 0.0 ? "side toward lesser angles" : "side toward greater angles",
                         frame.apply({side * set.half_width, 0, 0}), frame.x,
                         (body.land - low.y) * long_ - mouth));
  }
  flat.push_back(plane("end toward A", {0, 0, -body.at.from}, {0, 0, 1}, measure.section_area(body.at.from)));
  flat.push_back(plane("end toward B", {0, 0, -body.at.to}, {0, 0, 1}, measure.section_area(body.at.to)));
  flat.push_back(plane("lands", frame.apply({0, body.land, 0}), frame.y, measure.lands_area()));
  for (const PlaneText& text : body.texts) expect_text(expected, text, face_of(flat, text));
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
    flat.push_back(plane(names[i], {corners[i].x, corners[i].y, 0}, {along.y, -along.x, 0},
                         length(side) * wedge_length));
  }
  for (const double side : {-0.5, 0.5}) {
    flat.push_back(plane(side < 0.0 ? "end toward A" : "end toward B", {0, 0, side * wedge_length}, {0, 0, 1},
                         area_of(corners)));
  }
  for (const PlaneText& text : wedge.texts) expect_text(expected, text, flat.front());
  expected.faces.insert(expected.faces.end(), flat.begin(), flat.end());
  return expected;
}

}  // namespace culmwright
