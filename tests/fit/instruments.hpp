#pragma once
/// Small instruments on known tubes, for the tests of frames, placements and rules.
#include "fit/assemble.hpp"
#include "fit/rules.hpp"
#include "shapes.hpp"

namespace culmwright::test {

inline Key key(const std::string& id, Hand hand, Finger finger, double diameter) {
  Key made;
  made.id = id;
  made.hand = hand;
  made.finger = finger;
  made.hole_diameter = diameter;
  made.touch = {10.0, 10.0, 5.0};
  return made;
}

inline PlacedId at_place(const std::string& id, double at, double around) {
  PlacedId placed;
  placed.id = id;
  placed.at.value = at;
  placed.around.value = around;
  return placed;
}

/// Key layout and placement of holes of given diameters at given places; ids H1, H2 …, all of the left hand.
struct Drilled {
  KeyLayout layout;
  Placement placement;

  explicit Drilled(const Tube& tube) {
    layout.id = "test layout";
    placement.id = "test";
    placement.tube_id = tube.id();
    placement.layout_id = layout.id;
    placement.mouth_cut_at.value = tube.end_a_at();
    placement.foot_cut_at.value = tube.end_b_at();
  }
  Drilled& hole(double diameter, double at, double around, Hand hand = Hand::left,
                Finger finger = Finger::index) {
    const std::string id = "H" + std::to_string(layout.keys.size() + 1);
    layout.keys.push_back(key(id, hand, finger, diameter));
    placement.keys.push_back(at_place(id, at, around));
    return *this;
  }
  Drilled& part(const std::string& id, PartKind kind, double length, double width, double at, double around) {
    Part made;
    made.id = id;
    made.kind = kind;
    made.length = length;
    made.width = width;
    layout.parts.push_back(made);
    placement.parts.push_back(at_place(id, at, around));
    return *this;
  }
};

inline std::vector<Finding> check(const Tube& tube, const Drilled& drilled) {
  return culmwright::check(tube, drilled.layout, assemble(tube, drilled.layout, drilled.placement));
}

/// The tightest finding of a rule, which must have said something.
inline Finding finding(const Tube& tube, const Drilled& drilled, const std::string& rule) {
  const std::optional<Finding> found = tightest(check(tube, drilled), rule);
  if (!found) throw std::logic_error("no finding of rule " + rule);
  return *found;
}

}  // namespace culmwright::test
