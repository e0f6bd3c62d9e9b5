/// How guides are printed.
#include <algorithm>
#include <cmath>

#include "plan/guide_plan.hpp"

namespace culmwright {

using namespace guide_sizes;

namespace {

constexpr double wall_step = 1.0;  ///< along and around

}  // namespace

RigidMotion printing_position(const GuidePlan& plan, const Printer& printer) {
  const Vec3 up = plan.foot.up;
  const Vec3 toward_b{0.0, 0.0, -1.0};
  const Vec3 along = unit(toward_b - up * dot(toward_b, up));
  const Vec3 aside = cross(up, along);
  const double longer = std::max(printer.bed_x, printer.bed_y) - 2.0 * bed_margin;
  double turn = printer.bed_x >= printer.bed_y ? 0.0 : 0.5 * pi;
  if (plan.at.length() > longer) turn = 0.25 * pi;
  // The bed's x and y, so that the guide's length lies `turn` from x.
  const Vec3 x = along * std::cos(turn) - aside * std::sin(turn);
  const Vec3 y = along * std::sin(turn) + aside * std::cos(turn);
  return RigidMotion{x, y, up, plan.foot.point}.inverse();
}

std::vector<PrintingChoice> printing_choices(const GuidePlan& plan, const Mesh& mesh,
                                             const Printer& printer) {
  const auto on_end = [&](double toward) {
    // The end stands on the bed; the crown looks toward the bed's x.
    const Vec3 z{0.0, 0.0, toward};
    const Vec3 crown{std::cos(plan.middle()), std::sin(plan.middle()), 0.0};
    return RigidMotion{crown, cross(z, crown), z, {}}.inverse();
  };
  return judged_positions(mesh, bore_axes(plan),
                          {{"on its feet", printing_position(plan, printer)},
                           {"on the end toward B", on_end(1.0)},
                           {"on the end toward A", on_end(-1.0)}},
                          printer);
}

std::vector<Vec3> bore_axes(const GuidePlan& plan) {
  std::vector<Vec3> axes;
  for (const GuideBoss* boss : plan.bosses()) axes.push_back(boss->drilling.axis);
  return axes;
}

double thinnest_wall(const GuidePlan& plan) {
  double least = 1e300;
  for (double at = plan.at.from; at <= plan.at.to; at += wall_step) {
    const double low = plan.foot_theta(plan.inner, -1, at);
    const double high = plan.foot_theta(plan.inner, 1, at);
    const double step = wall_step / plan.outer.radius(plan.middle(), at);
    for (double theta = low; theta <= high; theta += step) {
      least = std::min(least, plan.outer.field()(theta, at).value - plan.inner.field()(theta, at).value);
    }
  }
  for (const EngravedText& text : plan.texts) {
    for (const EngravedStroke& stroke : text.strokes) {
      for (const Vec2& c : stroke.corners) {
        const double wall = plan.outer.field()(c.x, c.y).value - plan.inner.field()(c.x, c.y).value;
        least = std::min(least, wall - engraving);
      }
    }
  }
  for (const GuideBoss* boss : plan.bosses()) {
    least = std::min(least, boss->boss_radius - boss->bore_radius);
    if (boss->side) least = std::min(least, boss->top - boss->side->height - boss->side->radius);
  }
  return least;
}

}  // namespace culmwright
