/// What the gate holds a backing shoe against: sections by ½∮ p × dp over the face and straight back along
/// the flat, ∫ along the tube.
#include <algorithm>
#include <cmath>

#include "base/numeric.hpp"
#include "plan/backing_plan.hpp"
#include "plan/flat_expectation.hpp"

namespace culmwright {

namespace {

using namespace backing_sizes;

constexpr int pieces_around = 20;

}  // namespace

Expectation expectation_of(const BackingShoe& shoe) {
  const RigidMotion frame = shoe.frame();
  const Vec3 on_flat = frame.apply({0, shoe.flat, 0});
  const int pieces = std::max(4, static_cast<int>(shoe.at.length() / 4.0));
  const BandMeasure band(shoe.face, on_flat, frame.y, shoe.half, pieces_around);
  const auto along = [&](const auto& f) { return integrate(f, shoe.at.from, shoe.at.to, pieces); };
  Expectation expected;
  expected.part = shoe.name;
  expected.volume = along([&](double at) { return std::abs(band.section_area(at)); });
  expected.faces.push_back({"face along the bore", [face = shoe.face](Vec3 p) { return face.distance(p); },
                            along([&](double at) { return band.arc_area(at); })});
  std::vector<FaceExpectation> flat;
  flat.push_back(plane_face("flat", on_flat, frame.y, along([&](double at) { return band.chord(at); })));
  flat.push_back(plane_face("end toward A", {0, 0, -shoe.at.from}, {0, 0, 1},
                            std::abs(band.section_area(shoe.at.from))));
  flat.push_back(
      plane_face("end toward B", {0, 0, -shoe.at.to}, {0, 0, 1}, std::abs(band.section_area(shoe.at.to))));
  for (const PlaneText& text : shoe.texts) expect_text(expected, text, engraving, flat.front());
  expected.faces.insert(expected.faces.end(), flat.begin(), flat.end());
  return expected;
}

}  // namespace culmwright
