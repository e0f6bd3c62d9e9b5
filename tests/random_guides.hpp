#pragma once
/// Random tubes and instruments for the tests of guides, the same with every library.
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <random>
#include <string>

#include "guide_samples.hpp"

namespace culmwright::test {

class Draw {
 public:
  explicit Draw(unsigned seed) : random_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * (static_cast<double>(random_()) / 4294967296.0);
  }
  int below(int count) { return static_cast<int>(between(0.0, count)); }

 private:
  std::mt19937 random_;
};

/// 12 to 120 across, taper to 1 : 15, ovality to 0.15, bow to L/40 and sideways to half the radius, ridges
/// anywhere, also at the ends of guides.
inline Tube random_tube(Draw& draw) {
  const double radius = draw.between(6.0, 60.0);
  const double length = draw.between(150.0, 600.0);
  // The taper is of the diameter; the thin end keeps two thirds.
  const double loss = std::min(0.5 * length * draw.between(0.0, 1.0 / 15.0), radius / 3.0);
  TubeShape shape;
  shape.id = "T" + std::to_string(static_cast<int>(2.0 * radius));
  shape.end_b_at = length;
  const double bow = draw.between(0.0, length / 40.0);
  const double toward = draw.between(-pi, pi);
  // What a survey may show at most, sideways, is half the radius where the bow is deepest.
  const double most_sideways = 0.499 * (radius - 0.5 * loss);
  const double sideways = std::clamp(bow * std::sin(toward), -most_sideways, most_sideways);
  const std::vector<double> at{0.0, 0.5 * length, length};
  const std::vector<bool> smooth{false, false, false};
  const double oval = draw.between(0.0, 0.15) * radius / 2.0;
  const double oval_toward = draw.between(-pi, pi);
  shape.skin =
      FourierAlong({{0, straight(0, radius - loss, length, radius), {}},
                    {1, PiecewiseCubic::spline(at, {0.0, bow * std::cos(toward), 0.0}, smooth),
                     PiecewiseCubic::spline(at, {0.0, sideways, 0.0}, smooth)},
                    {2, constant(oval * std::cos(oval_toward)), constant(oval * std::sin(oval_toward))}});
  shape.wall = FourierAlong({{0, constant(draw.between(0.12, 0.3) * radius), {}}});
  for (double node_at = draw.between(30.0, 200.0); node_at < length - 30.0;
       node_at += draw.between(60.0, 250.0)) {
    Node node;
    node.at_line = node_at;
    node.at_far = node_at + draw.between(-2.0, 2.0);
    node.band = draw.between(6.0, 11.0);
    node.ridge_height = draw.below(4) == 0 ? 0.0 : draw.between(0.3, 1.0);
    shape.nodes.push_back(node);
  }
  return Tube{shape};
}

inline Instrument random_instrument(Draw& draw, const Tube& tube) {
  Instrument instrument = instrument_on(tube);
  const int count = 1 + draw.below(12);
  double at = draw.between(25.0, 70.0);
  for (int i = 0; i < count && at < tube.end_b_at() - 25.0; ++i) {
    const double radius = 0.5 * tube.section(at).width(Angle());
    const double around =
        draw.below(5) == 0 ? draw.between(-pi, pi) * radius : draw.between(-0.6, 0.6) * radius;
    const double diameter = draw.between(0.2, 0.6) * radius;
    const HoleSquare square = draw.below(3) == 0 ? HoleSquare::to_axis : HoleSquare::to_skin;
    instrument.keys.push_back(placed(tube, "K" + std::to_string(i), {at, around}, diameter, square));
    // Webs from next to nothing, the least itself often: bosses then overlap and go into different guides.
    at += diameter + (draw.below(4) == 0 ? 0.4 : draw.between(0.4, 25.0));
  }
  return instrument;
}

/// How many random jobs a test takes on: `few`, or with CULMWRIGHT_LONG_TESTS set the number that it says, or
/// `many` where it says anything else.
inline int long_jobs(int few, int many) {
  const char* wanted = std::getenv("CULMWRIGHT_LONG_TESTS");
  if (wanted == nullptr) return few;
  const int count = std::atoi(wanted);
  return count > 1 ? count : many;
}

}  // namespace culmwright::test
