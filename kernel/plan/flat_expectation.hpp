#pragma once
/// Parts of expectations that several plans share: planes, engraving in planes, and the band of a face that
/// lies on one side of a plane along the tube. For kernel/plan.
#include <string>

#include "plan/cradle_plan.hpp"

namespace culmwright {

/// Signed area of a polygon and the length of its edge.
double area_of(const std::vector<Vec2>& corners);
double perimeter_of(const std::vector<Vec2>& corners);

FaceExpectation plane_face(std::string name, Vec3 point, Vec3 normal, double area);

/// Takes a text `depth` deep out of the face that it stands in, and out of the volume, and adds its own
/// faces.
void expect_text(Expectation& expected, const PlaneText& text, double depth, FaceExpectation& face);

/// A face between the two places, one to each side of its middle, where it meets a plane.
class BandMeasure {
 public:
  /// `half`: where they are looked for, radians from the middle. `pieces`: of five-point quadrature around.
  BandMeasure(const GuideFace& face, Vec3 point, Vec3 normal, double half, int pieces)
      : face_(face), point_(point), normal_(normal), half_(half), pieces_(pieces) {}

  double theta(const Section& section, int side) const;
  /// Between the face and the plane in the section, signed by the direction of growing θ.
  double section_area(double at) const;
  /// Of the face, per length along the tube.
  double arc_area(double at) const;
  /// Across the plane, from one place to the other.
  double chord(double at) const;

 private:
  const GuideFace& face_;
  Vec3 point_;
  Vec3 normal_;
  double half_;
  int pieces_;
};

}  // namespace culmwright
