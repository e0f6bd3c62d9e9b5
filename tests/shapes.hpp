#pragma once
/// Tubes of known shape for the tests.
#include "tube/tube.hpp"

namespace culmwright::test {

inline PiecewiseCubic constant(double value) {
  return PiecewiseCubic::monotone({0.0}, {value}, Beyond::held);
}

inline PiecewiseCubic straight(double from_at, double from, double to_at, double to) {
  return PiecewiseCubic::monotone({from_at, to_at}, {from, to}, Beyond::linear);
}

/// A straight round tube: radii at end A (at = 0) and end B, wall thickness as difference of radii.
inline TubeShape round_tube(double radius_a, double radius_b, double length, double wall) {
  TubeShape shape;
  shape.id = "round";
  shape.end_b_at = length;
  shape.skin = FourierAlong({{0, straight(0, radius_a, length, radius_b), {}}});
  shape.wall = FourierAlong({{0, constant(wall), {}}});
  return shape;
}

/// A tapered oval tube with a sideways bow, three lobes and one slanted ridge: everything a culm has.
inline TubeShape culm(double length = 420.0) {
  TubeShape shape;
  shape.id = "culm";
  shape.end_b_at = length;
  std::vector<FourierAlong::Term> terms;
  terms.push_back({0, straight(0, 15.5, length, 18.0), {}});
  const std::vector<double> at{0.0, 0.3 * length, 0.7 * length, length};
  terms.push_back({1, PiecewiseCubic::spline(at, {0.0, 1.2, 1.6, 0.0}, {false, false, false, false}),
                   PiecewiseCubic::spline(at, {0.0, 1.5, 1.1, 0.0}, {false, false, false, false})});
  terms.push_back({2, straight(0, 0.35, length, 0.25), straight(0, 0.1, length, -0.1)});
  terms.push_back({3, constant(0.06), constant(-0.04)});
  shape.skin = FourierAlong(terms);
  shape.wall = FourierAlong({{0, straight(0, 3.4, length, 4.6), {}}, {1, constant(0.3), constant(-0.2)}});
  for (double middle : {0.22 * length, 0.56 * length, 0.88 * length}) {
    Node node;
    node.at_line = middle - 0.8;
    node.at_far = middle + 0.8;
    node.band = 9.0;
    node.ridge_height = 0.8;
    shape.nodes.push_back(node);
  }
  return shape;
}

}  // namespace culmwright::test
