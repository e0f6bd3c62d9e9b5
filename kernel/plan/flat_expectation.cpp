#include "plan/flat_expectation.hpp"

#include <algorithm>
#include <cmath>

#include "base/numeric.hpp"

namespace culmwright {

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

namespace {

/// Of all strokes of a text.
struct Engraved {
  double floor = 0.0;
  double walls = 0.0;
};
Engraved engraved(const PlaneText& text, double depth) {
  Engraved sum;
  for (const StrokeOutline& stroke : text.strokes) {
    sum.floor += area_of(stroke);
    sum.walls += depth * perimeter_of(stroke);
  }
  return sum;
}

}  // namespace

FaceExpectation plane_face(std::string name, Vec3 point, Vec3 normal, double area) {
  return {std::move(name), [point, normal](Vec3 p) { return std::abs(dot(p - point, normal)); }, area};
}

/// Takes a text out of the face it stands in and adds its own faces and volume.
void expect_text(Expectation& expected, const PlaneText& text, double depth, FaceExpectation& face) {
  const Engraved sum = engraved(text, depth);
  *face.area -= sum.floor;
  expected.volume -= depth * sum.floor;
  expected.faces.push_back(plane_face("floor of " + text.text + " in " + face.name,
                                      text.frame.apply({0, 0, -depth}), text.frame.z, sum.floor));
  const RigidMotion to_text = text.frame.inverse();
  const std::vector<StrokeOutline> strokes = text.strokes;
  expected.faces.push_back({"walls of " + text.text + " in " + face.name,
                            [to_text, strokes, depth](Vec3 p) {
                              const Vec3 q = to_text.apply(p);
                              // Walls end at the face and at their floor: what lies on the part's far side
                              // behind them is none of theirs.
                              const double beyond = std::max({0.0, q.z, -depth - q.z});
                              double least = 1e300;
                              for (const StrokeOutline& stroke : strokes) {
                                for (std::size_t i = 0; i < stroke.size(); ++i) {
                                  const Vec2 side = stroke[(i + 1) % stroke.size()] - stroke[i];
                                  const Vec2 off = Vec2{q.x, q.y} - stroke[i];
                                  const double t = std::clamp(dot(off, side) / dot(side, side), 0.0, 1.0);
                                  least = std::min(least, length(off - side * t));
                                }
                              }
                              return std::hypot(least, beyond);
                            },
                            sum.walls});
}

double BandMeasure::theta(const Section& section, int side) const {
  double theta = face_.middle() + side * half_;
  for (int i = 0; i < 40; ++i) {
    const GuideFace::Jet jet = face_.jet(section, theta);
    const double step = std::clamp(dot(jet.point - point_, normal_) / dot(jet.by_theta, normal_), -0.1, 0.1);
    theta -= step;
    if (std::abs(step) < 1e-13) break;
  }
  return theta;
}

double BandMeasure::section_area(double at) const {
  const Section section = face_.base().section(at);
  const double low = theta(section, -1);
  const double high = theta(section, 1);
  const double swept = 0.5 * integrate(
                                 [&](double t) {
                                   const GuideFace::Jet jet = face_.jet(section, t);
                                   return jet.point.x * jet.by_theta.y - jet.point.y * jet.by_theta.x;
                                 },
                                 low, high, pieces_);
  const Vec3 a = face_.jet(section, high).point;
  const Vec3 b = face_.jet(section, low).point;
  return swept + 0.5 * (a.x * b.y - a.y * b.x);
}

double BandMeasure::arc_area(double at) const {
  const Section section = face_.base().section(at);
  return integrate([&](double t) { return length(face_.jet(section, t).outward()); }, theta(section, -1),
                   theta(section, 1), pieces_);
}

double BandMeasure::chord(double at) const {
  const Section section = face_.base().section(at);
  return length(face_.jet(section, theta(section, 1)).point - face_.jet(section, theta(section, -1)).point);
}

}  // namespace culmwright
