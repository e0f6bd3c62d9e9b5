#include "solid/sheet.hpp"

#include <cmath>
#include <optional>

#include "solid/curves.hpp"
#include "solid/patch.hpp"

namespace culmwright {

namespace {

constexpr double degree = pi / 180.0;
/// The patch reaches beyond the feet by so much that every foot's curve lies inside it.
constexpr double half_deg = 94.0;
constexpr double step_around_deg = 4.0;
constexpr double fine_around_deg = 1.6;
constexpr double step_along = 4.0;
constexpr double fine_along = 0.33;
constexpr double degrees_per_nudge = 60.0;
constexpr double step_per_nudge = 10.0;

/// Where the field rises or falls along, and around.
struct Rises {
  std::vector<FineRange> along;
  std::vector<FineRange> around;
};

Rises rises_of(const OffsetField& field) {
  Rises rises;
  for (const OffsetPatch& patch : field.patches) {
    rises.along.push_back({patch.at.from - patch.at_step, patch.at.from});
    rises.along.push_back({patch.at.to, patch.at.to + patch.at_step});
    if (!patch.theta) continue;
    rises.around.push_back({patch.theta->from - patch.theta_step, patch.theta->from});
    rises.around.push_back({patch.theta->to, patch.theta->to + patch.theta_step});
  }
  return rises;
}

}  // namespace

Sheet make_sheet(const GuideFace& face, const Span& at, double nudge) {
  const Rises rises = rises_of(face.field());
  const double half = (half_deg + degrees_per_nudge * nudge) * degree;
  const std::vector<double> theta =
      graded_values(face.middle() - half, face.middle() + half, step_around_deg * degree,
                    fine_around_deg * degree, rises.around);
  const std::vector<double> along =
      graded_values(at.from, at.to, step_along + step_per_nudge * nudge, fine_along, rises.along);
  std::optional<Section> section;
  const auto point = [&](double t, double place) {
    if (!section || section->at() != place) section = face.base().section(place);
    return face.jet(*section, t).point;
  };
  return {face, along, windowed_patch(point, theta, along), {}};
}

Vec2 meet_patch(const Handle(Geom_BSplineSurface) & patch, const RigidMotion& frame, Vec2 xy, Vec2 guess) {
  Vec2 uv = guess;
  for (int i = 0; i < 30; ++i) {
    gp_Pnt p;
    gp_Vec by_u;
    gp_Vec by_v;
    patch->D1(uv.x, uv.y, p, by_u, by_v);
    const Vec3 from_origin = vec_of(p) - frame.origin;
    const Vec2 off{dot(from_origin, frame.x) - xy.x, dot(from_origin, frame.y) - xy.y};
    const Vec2 a{dot(vec_of(by_u), frame.x), dot(vec_of(by_u), frame.y)};
    const Vec2 b{dot(vec_of(by_v), frame.x), dot(vec_of(by_v), frame.y)};
    const double det = cross(a, b);
    const Vec2 step{cross(off, b) / det, cross(a, off) / det};
    uv = uv - step;
    if (std::abs(step.x) < 1e-13 && std::abs(step.y) < 1e-12) break;
  }
  return uv;
}

double meet_plane(const Handle(Geom_BSplineSurface) & patch, Vec3 point, Vec3 normal, double guess,
                  double at) {
  double theta = guess;
  for (int i = 0; i < 30; ++i) {
    gp_Pnt p;
    gp_Vec by_u;
    gp_Vec by_v;
    patch->D1(theta, at, p, by_u, by_v);
    const double step = dot(vec_of(p) - point, normal) / dot(vec_of(by_u), normal);
    theta -= step;
    if (std::abs(step) < 1e-14) break;
  }
  return theta;
}

}  // namespace culmwright
