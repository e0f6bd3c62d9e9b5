#include "solid/skin_block.hpp"

#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <algorithm>
#include <cmath>

#include "plan/skin_ray.hpp"
#include "solid/patch.hpp"
#include "solid/ridges.hpp"

namespace culmwright {

namespace {

constexpr double margin = 1.0;  ///< mm around the window
const double theta_step = 3.0 * pi / 180.0;
constexpr double at_step = 3.0;
constexpr double ridge_step = 0.6;

struct Extent {
  double low = 1e300;
  double high = -1e300;
  void add(double value) {
    low = std::min(low, value);
    high = std::max(high, value);
  }
};

std::vector<double> even(double from, double to, double step) {
  const int pieces = std::max(6, static_cast<int>(std::ceil((to - from) / step)));
  std::vector<double> values;
  for (int i = 0; i <= pieces; ++i) values.push_back(from + (to - from) * i / pieces);
  return values;
}

}  // namespace

TopoDS_Shape skin_block(const Tube& tube, const RigidMotion& frame, const SkinWindow& window, double deep) {
  const Angle middle = skin_hit(tube, frame, {}, window.offset).theta;
  Extent theta;
  Extent at;
  for (const double x : {-0.5, 0.0, 0.5}) {
    for (const double y : {-0.5, 0.5}) {
      const Vec2 xy{x * (window.length + 2 * margin), y * (window.width + 2 * margin)};
      const SkinHit hit = skin_hit(tube, frame, xy, window.offset);
      theta.add((hit.theta - middle).normalized().radians());
      at.add(-frame.apply({xy.x, xy.y, hit.height}).z);
    }
  }
  const RigidMotion to_part = frame.inverse();
  const SurfaceFunction surface = [&](double t, double place) {
    const Angle angle = middle + Angle::from_radians(t);
    const SurfaceJet h = tube.section(place).support(angle);
    const Vec2 p = direction(angle) * (h.f + window.offset) + tangent(angle) * h.f_t;
    return to_part.apply({p.x, p.y, -place});
  };
  const double turn = window.nudge / std::max(1.0, length(Vec2{frame.origin.x, frame.origin.y}));
  const auto patch = windowed_patch(
      surface, even(theta.low + turn, theta.high + turn, theta_step),
      graded_values(at.low + window.nudge, at.high + window.nudge, at_step, ridge_step, ridge_ranges(tube)));
  const TopoDS_Face face = BRepBuilderAPI_MakeFace(patch, 1e-7);
  return BRepPrimAPI_MakePrism(face, gp_Vec(0, 0, -deep)).Shape();
}

}  // namespace culmwright
