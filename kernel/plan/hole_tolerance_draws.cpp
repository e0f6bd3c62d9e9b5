#include "plan/hole_tolerance_draws.hpp"

#include <cmath>

#include "plan/seating_contact.hpp"

namespace culmwright {

namespace {

/// Where an axis meets the skin, everything on one section near it.
struct Pierced {
  SkinPlace place;
  Vec3 point;
  double lean = 0.0;  ///< of the axis from the smooth normal: in the section, toward growing θ
  double girth = 0.0;
};

/// `theta`: about that of the normal. Accuracy 1e-9 mm for an axis that leans less than ten degrees along.
Pierced pierced(const Tube& tube, Vec3 point, Vec3 axis, Angle theta) {
  double t = 0.0;
  double direction_of_normal = theta.radians();
  for (int i = 0; i < 20; ++i) {
    const Vec3 p = point + axis * t;
    const SkinGap gap = gap_at(tube.section(-p.z), p, direction_of_normal);
    direction_of_normal = gap.theta;
    const double step = gap.value / dot(gap.normal, axis);
    t -= step;
    if (std::abs(step) < 1e-7) break;
  }
  const Vec3 p = point + axis * t;
  const Section section = tube.section(-p.z);
  const Angle normal = Angle::from_radians(gap_at(section, p, direction_of_normal).theta);
  const Vec2 smooth = direction(smooth_normal(section, {p.x, p.y}, normal));
  const Vec2 across{axis.x, axis.y};
  return {{-p.z, section.around(normal)},
          p,
          std::atan2(cross(smooth, across), dot(smooth, across)),
          section.girth()};
}

double stop_sigma(const GuidePlan& plan, const ToleranceOptions& options) {
  switch (plan.stop) {
    case StopKind::end_on_line:
      return options.stop;
    case StopKind::end_on_middle:
      return std::hypot(options.stop, options.stop_aside);
    case StopKind::joint:
      return options.print;
    case StopKind::pegs:
      return 0.0;
    case StopKind::sighting_only:
      break;
  }
  return options.by_hand;
}

double sight_sigma(const GuidePlan& plan, const ToleranceOptions& options) {
  if (plan.stop == StopKind::pegs) return options.print;
  if (plan.stop == StopKind::joint) return std::sqrt(2.0) * options.print;  // tongue and notch
  if (plan.sights.empty()) return options.mark;
  const double share = 1.0 / std::sqrt(static_cast<double>(plan.sights.size()));
  const bool reference = std::abs(plan.sighting_line->facing.normalized().radians()) < 1e-9;
  return std::hypot(options.sighting * share, options.print * share, reference ? 0.0 : options.other_line);
}

/// How far print_scale moves what stands at that height of the plan's frame, from where the guide is held.
double grown_by(const GuidePlan& plan, double scale, double z) {
  double held_at = plan.post ? plan.post->touches.z : -plan.at.middle();
  if (const GuideJoint* tongue = plan.tongue()) held_at = -tongue->at;
  return scale * (z - held_at);
}

}  // namespace

HoleProbe::HoleProbe(const Tube& planned, const GuideHole& hole) : drilling_(hole.drilling) {
  theta_ = Angle::from_radians(std::atan2(drilling_.axis.y, drilling_.axis.x));
  const Pierced hit = pierced(planned, drilling_.point, drilling_.axis, theta_);
  wanted_ = hit.place;
  lean_ = hit.lean;
}

HoleMiss HoleProbe::miss(const Tube& true_tube, const RigidMotion& seat, const DrilledAxis& axis) const {
  const Vec3 direction = seat.turn(axis.direction);
  const Pierced hit = pierced(true_tube, seat.apply(axis.point), direction, theta_);
  const double lengthways = std::asin(direction.z) - std::asin(drilling_.axis.z);
  return {hit.place.at - wanted_.at, std::remainder(hit.place.around - wanted_.around, hit.girth),
          Angle::from_radians(std::hypot(hit.lean - lean_, lengthways)), hit.point};
}

GuideMade made(const GuidePlan& plan, const ToleranceOptions& options, Draws& draws) {
  GuideMade made;
  made.setting.along = std::hypot(stop_sigma(plan, options), options.print) * draws.normal();
  made.setting.sight = sight_sigma(plan, options) * draws.normal();
  made.setting.peg_play = options.peg_play;
  for (std::size_t i = 0; i < plan.pegs.size(); ++i) {
    const Vec2 play = draws.in_circle(options.peg_play) * (1.0 / static_cast<double>(plan.pegs.size()));
    made.setting.along += play.x;
    made.setting.sight += play.y;
  }
  if (plan.stop == StopKind::joint) made.setting.sight += options.joint_play * (2.0 * draws.uniform() - 1.0);
  for (double& pad : made.setting.pads) pad = options.print * draws.normal();
  made.scale = options.print_scale * draws.normal();
  return made;
}

DrilledAxis drilled_axis(const GuidePlan& plan, const GuideHole& hole, double scale,
                         const ToleranceOptions& options, Draws& draws) {
  const RigidMotion frame = rim_frame(hole.drilling);
  const double x = options.print * draws.normal();
  const Vec2 bore{x, options.print * draws.normal()};
  const auto stands = [&](double height) {
    const Vec2 bush = draws.in_circle(options.bush_play);
    const Vec2 aside = bore + bush + draws.in_circle(options.bit_play);
    return frame.apply({aside.x, aside.y, height});
  };
  Vec3 low = stands(0.0);
  Vec3 high = stands(hole.top);
  const double grown = grown_by(plan, scale, hole.drilling.point.z);
  low.z += grown;
  high.z += grown;
  return {low, unit(high - low)};
}

DrilledAxis planned_axis(const GuideHole& hole) {
  return {hole.drilling.point, hole.drilling.axis};
}

GuideSet::GuideSet(const Tube& planned, const std::vector<GuidePlan>& plans) {
  for (const GuidePlan& plan : plans) {
    Guide guide{&plan, GuideSeat(plan), {}};
    for (const GuideHole& hole : plan.holes) guide.probes.emplace_back(planned, hole);
    for (const GuidePeg& peg : plan.pegs) {
      if (!peg.drilled_by.empty()) continue;
      const Section section = planned.section(-peg.drilling.point.z);
      Angle theta;
      section.outside({peg.drilling.point.x, peg.drilling.point.y}, &theta);
      there_[peg.id] = {section.at(), section.around(theta)};
    }
    guides_.push_back(std::move(guide));
  }
}

/// Known to where they were measured, on a tube that is not quite the surveyed one.
std::map<std::string, Vec3> GuideSet::holes_there(const Tube& true_tube, const ToleranceOptions* options,
                                                  Draws& draws) const {
  std::map<std::string, Vec3> holes;
  for (const auto& [id, place] : there_) {
    SkinPlace is = place;
    if (options != nullptr) {
      is.at += options->drilled_place * draws.normal();
      is.around += options->drilled_place * draws.normal();
    }
    const Section section = true_tube.section(is.at);
    const Vec2 point = section.point(section.theta_at(is.around));
    holes[id] = {point.x, point.y, -is.at};
  }
  return holes;
}

std::optional<SeatedGuide> GuideSet::set(const Guide& guide, const Tube& true_tube, GuideSetting setting,
                                         const std::map<std::string, Vec3>& drilled,
                                         const std::map<std::string, OnTube>& on_tube) const {
  if (guide.plan->stop == StopKind::joint) {
    const auto other = on_tube.find(guide.plan->tongue()->with);
    if (other == on_tube.end()) return {};
    Vec3 notch = guide.plan->tongue_point();
    notch.z += grown_by(*other->second.plan, other->second.scale, notch.z);
    setting.peg_holes = {other->second.seat.apply(notch)};
  }
  for (const GuidePeg& peg : guide.plan->pegs) {
    const auto hole = drilled.find(peg.id);
    if (hole == drilled.end()) return {};
    setting.peg_holes.push_back(hole->second);
  }
  return guide.seat.on(true_tube, setting);
}

std::vector<std::optional<HoleMiss>> GuideSet::drill(const Tube& true_tube, const ToleranceOptions* options,
                                                     unsigned seed) const {
  Draws draws(seed);
  std::vector<std::optional<HoleMiss>> misses;
  std::map<std::string, Vec3> drilled = holes_there(true_tube, options, draws);
  std::map<std::string, OnTube> on_tube;
  for (const Guide& guide : guides_) {
    const GuidePlan& plan = *guide.plan;
    const GuideMade made = options ? culmwright::made(plan, *options, draws) : GuideMade{};
    const std::optional<SeatedGuide> seated = set(guide, true_tube, made.setting, drilled, on_tube);
    if (seated) on_tube[plan.name] = {&plan, seated->to_tube, made.scale};
    for (std::size_t i = 0; i < plan.holes.size(); ++i) {
      const GuideHole& hole = plan.holes[i];
      const DrilledAxis axis =
          options ? drilled_axis(plan, hole, made.scale, *options, draws) : planned_axis(hole);
      misses.emplace_back();
      if (!seated) continue;
      misses.back() = guide.probes[i].miss(true_tube, seated->to_tube, axis);
      drilled[hole.id] = misses.back()->point;
    }
  }
  return misses;
}

}  // namespace culmwright
