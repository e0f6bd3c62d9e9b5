#pragma once
/// Tubes and key layouts to propose placements for, all made up.
#include <cmath>
#include <string>

#include "fit/propose.hpp"
#include "shapes.hpp"

namespace culmwright::test {

/// A straight, slightly oval and tapered culm with evenly spaced slanted nodes.
inline Tube long_culm(double length, int nodes, double radius = 18.0) {
  TubeShape shape = round_tube(radius, radius + 1.5, length, 4.5);
  shape.id = "long";
  std::vector<FourierAlong::Term> terms = shape.skin.terms();
  terms.push_back(
      {1, PiecewiseCubic::spline({0.0, 0.5 * length, length}, {0.0, 1.0, 0.0}, {false, false, false}),
       PiecewiseCubic::spline({0.0, 0.5 * length, length}, {0.0, -0.8, 0.0}, {false, false, false})});
  terms.push_back({2, constant(0.3), constant(0.1)});
  shape.skin = FourierAlong(terms);
  for (int i = 0; i < nodes; ++i) {
    const double middle = length * (i + 0.6) / nodes;
    Node node;
    node.at_line = middle - 1.5;
    node.at_far = middle + 1.5;
    node.band = 9.0;
    node.ridge_height = 0.8;
    shape.nodes.push_back(node);
  }
  shape.density = 0.72e-3;
  return Tube(shape);
}

inline PieceFacts facts_of_culm() {
  PieceFacts facts;
  facts.butt = End::b;
  facts.handsome = Angle::from_degrees(35.0);
  facts.mass_sigma_g = 0.5;
  facts.centre_sigma = 1.0;
  return facts;
}

inline Key placed_key(const std::string& id, Hand hand, Finger finger, double along, double around,
                      double diameter, Leeway leeway) {
  Key key;
  key.id = id;
  key.hand = hand;
  key.finger = finger;
  key.along = along;
  key.around = around;
  key.hole_diameter = diameter;
  key.touch = {14.0, 14.0, 7.0};
  key.leeway = leeway;
  key.mass_g = 2.2;
  return key;
}

inline Part placed_part(const std::string& id, PartKind kind, From from, double along, double around,
                        double length, double width, Leeway leeway, double mass_g) {
  Part part;
  part.id = id;
  part.kind = kind;
  part.from = from;
  part.along = along;
  part.around = around;
  part.length = length;
  part.width = width;
  part.corner_radius = 2.0;
  part.leeway = leeway;
  part.mass_g = mass_g;
  return part;
}

/// Two hands of eight and nine keys, side keys and octave key among them, five parts.
inline KeyLayout tenor_of_17() {
  KeyLayout layout;
  layout.id = "seventeen";
  layout.left = {105.0, 0.0};
  layout.right = {235.0, 0.0};
  const Leeway leeway{5.0, 3.0};
  const auto hand = [&](Hand h, const std::string& letter, double side) {
    layout.keys.push_back(placed_key(letter + "1", h, Finger::index, 0.0, 2.0 * side, 9.0, leeway));
    layout.keys.push_back(placed_key(letter + "2", h, Finger::middle, 22.0, -2.0 * side, 9.0, leeway));
    layout.keys.push_back(placed_key(letter + "3", h, Finger::ring, 44.0, 0.0, 9.0, leeway));
    layout.keys.push_back(placed_key(letter + "4", h, Finger::little, 66.0, 8.0 * side, 8.0, leeway));
    layout.keys.push_back(placed_key(letter + "5", h, Finger::little, 78.0, 20.0 * side, 8.0, leeway));
    layout.keys.push_back(placed_key(letter + "A", h, Finger::side, 2.0, 26.0 * side, 8.0, leeway));
    layout.keys.push_back(placed_key(letter + "B", h, Finger::side, 23.0, 26.0 * side, 8.0, leeway));
  };
  hand(Hand::left, "L", 1.0);
  hand(Hand::right, "R", -1.0);
  layout.keys.push_back(placed_key("LT", Hand::left, Finger::thumb, 8.0, 48.0, 10.0, {4.0, 4.0}));
  layout.keys.push_back(placed_key("LO", Hand::left, Finger::thumb, -15.0, 48.0, 9.0, {4.0, 4.0}));
  layout.keys.push_back(placed_key("R6", Hand::right, Finger::little, 84.0, -4.0, 8.0, {4.0, 3.0}));
  layout.parts.push_back(placed_part("reed", PartKind::mouthpiece, From::mouth_end, 0, 0, 70, 34, {}, 24));
  layout.parts.push_back(
      placed_part("rest", PartKind::thumb_rest, From::right_hand, 30, -48, 28, 14, {8.0, 4.0}, 7));
  layout.parts.push_back(
      placed_part("ring", PartKind::strap_ring, From::right_hand, -14, 52, 12, 10, {10.0, 6.0}, 5));
  layout.parts.push_back(
      placed_part("access", PartKind::opening, From::foot_end, 60, 54, 44, 18, {10, 8}, 0));
  layout.least_length = 440.0;
  layout.greatest_length = 560.0;
  return layout;
}

}  // namespace culmwright::test
