#pragma once
/// The tube: skin, bore, nodes and mass as the program believes them, from the survey (tube/survey_fit.hpp)
/// or given outright (trade sizes, tests). An immutable value; cheap to copy.
///
/// The skin is described section by section by its support function h(θ, at): the distance from the z axis to
/// the tangent line whose outward normal points at θ. In the section
///
///     point p(θ) = h n + h′ t,   normal n exactly,   radius of curvature h + h″ > 0 (convex),
///     girth = ∫ h dθ (Cauchy),   arc = ∫ (h + h″) dθ,   area = ½ ∫ (h² − h′²) dθ,   offset by c: h + c.
///
/// h = (Fourier series; order 1 is the bow) + ridges. The bore is g(θ, at) = series of the skin without
/// ridges minus the series of the wall, a support function as well.
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.hpp"
#include "tube/directions.hpp"
#include "tube/fourier.hpp"
#include "tube/survey.hpp"

namespace culmwright {

/// What a tube is made from.
struct TubeShape {
  std::string id;
  FourierAlong skin;  ///< h without ridges
  FourierAlong wall;  ///< h − g without ridges
  double end_a_at = 0.0;
  double end_b_at = 0.0;
  std::vector<Node> nodes;  ///< in order of `at`
  std::vector<Groove> grooves;
  std::vector<Blemish> blemishes;
  std::optional<EndTilt> tilt_a;
  std::optional<EndTilt> tilt_b;
  double density = 0.0;        ///< g/mm³ at the middle; 0 when unknown
  double density_slope = 0.0;  ///< g/mm³ per mm toward B
  /// How far beyond the ends of the tube the shape may still be asked for (guides stand over the end).
  double beyond = 30.0;
};

/// The tube cut at one `at`. Angles here are directions of the outward normal.
class Section {
 public:
  double at() const { return at_; }
  /// The support function of the full skin, ridges included.
  SurfaceJet support(Angle theta) const;
  /// Terms of order ≤ 2 and no ridges: what holes are aimed by.
  SurfaceJet smooth_support(Angle theta) const;
  /// The skin without ridges.
  SurfaceJet base_support(Angle theta) const;
  /// The support function of the bore.
  SurfaceJet bore_support(Angle theta) const;

  Vec2 point(Angle theta) const;
  Vec2 bore_point(Angle theta) const;
  double width(Angle theta) const;
  double girth() const;
  double area() const;  ///< enclosed by the skin, without ridges
  double bore_area() const;
  /// Least h + h″ around the section, and where (dense search, 0.5° steps).
  double least_curvature_radius(Angle* where = nullptr) const;

  /// The direction of the normal where the reference line crosses this section; accuracy 1e-12 rad.
  Angle line() const { return theta_on_half_plane(Angle()); }
  /// Arc length on the skin from θ = from to θ = to; signed, not reduced.
  double arc(Angle from, Angle to) const;
  /// Arc length from the reference line, in (−girth/2, girth/2].
  double around(Angle theta) const;
  /// The direction at that arc length from the line, |around| ≤ girth; accuracy 1e-11 mm of arc.
  Angle theta_at(double around) const;
  /// The direction θ whose skin point lies on the half plane through the z axis at `facing` (the line's own
  /// construction at another angle).
  Angle theta_on_half_plane(Angle facing) const;

  /// Thickness of the wall along the inward normal at θ, from the skin to the bore; accuracy 1e-9 mm.
  double wall(Angle theta) const;
  /// Signed distance in the section from the skin (outside positive), and the direction of the nearest point.
  /// Exact for points outside or nearer to the skin than the least radius of curvature.
  double outside(Vec2 q, Angle* theta = nullptr) const;
  /// The same from the bore's surface (outside the bore positive).
  double outside_bore(Vec2 q, Angle* theta = nullptr) const;

 private:
  friend class Tube;
  struct Ridge {
    double at_middle, half_slant, half_band, height;
  };
  SurfaceJet ridges(Angle theta) const;
  double at_ = 0.0;
  FourierSection skin_;
  FourierSection wall_;
  std::vector<Ridge> ridges_;
};

/// A point of the skin with everything about it.
struct SkinPoint {
  SkinPlace place;
  Angle theta;  ///< direction of the section normal
  Vec3 point;
  Vec3 normal;  ///< true outward unit normal of the skin in space
  Vec3 along;   ///< unit tangent toward B (increasing at, θ constant)
  Vec3 around;  ///< unit tangent of the section toward increasing around
};

class Tube {
 public:
  /// Precondition: end_b_at > end_a_at, nodes in order. Throws nothing; see check_shape for what may be
  /// wrong.
  explicit Tube(TubeShape shape);

  const std::string& id() const;
  double end_a_at() const;
  double end_b_at() const;
  double length() const { return end_b_at() - end_a_at(); }
  const std::vector<Node>& nodes() const;
  const std::vector<Groove>& grooves() const;
  const std::vector<Blemish>& blemishes() const;
  const TubeShape& shape() const;

  /// Precondition: within the ends or at most shape().beyond past them; otherwise the program stops.
  Section section(double at) const;

  SkinPoint skin_point(SkinPlace place) const;
  SkinPoint skin_point(double at, Angle theta) const;
  double girth(double at) const { return section(at).girth(); }
  double wall(SkinPlace place) const;

  /// Signed distance from the skin (outside positive), to first order in the slope of the skin along the
  /// tube: exact on the skin, on cylinders and cones. Precondition as for section().
  double outside(Vec3 p) const;
  /// Inside the wall: inside the skin, outside the bore, between the ends (holes and diaphragms not
  /// considered).
  bool in_wall(Vec3 p) const;

 private:
  std::shared_ptr<const TubeShape> shape_;
};

/// The tube without wall problems, curvature problems …: convex along its whole length, wall less than the
/// radius, nodes within the ends. Problems carry no pointer but name the place along the tube.
Problems check_shape(const Tube& tube);

}  // namespace culmwright
