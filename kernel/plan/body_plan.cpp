#include "plan/body_plan.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "plan/skin_ray.hpp"

namespace culmwright {

namespace {

constexpr double clear_of_bore = 0.5;  ///< a cut ends so far inside the bore
constexpr double least_cavity = 0.5;   ///< shorter stretches of bore are taken for wood
constexpr double above_skin = 2.0;
constexpr double least_facing = 0.15;  ///< a wall met more aslant than this is no clean cut

std::string mm(double value) {
  return fixed_text(value, 1) + " mm";
}

Vec2 bore_middle(const Section& section) {
  // The order-1 term of the support is the section's middle.
  Vec2 middle;
  constexpr int steps = 64;
  for (int i = 0; i < steps; ++i) {
    const Angle t = Angle::from_degrees(360.0 * i / steps);
    middle = middle + direction(t) * (section.bore_support(t).f * 2.0 / steps);
  }
  return middle;
}

/// The widest circle about the middle that stays in the bore.
double clear_radius(const Section& section, Vec2 middle) {
  double least = 1e300;
  for (int i = 0; i < 90; ++i) {
    const Angle t = Angle::from_degrees(4.0 * i);
    least = std::min(least, section.bore_support(t).f - dot(middle, direction(t)));
  }
  return least;
}

void divide_by_nodes(BodyPlan& plan, const Tube& tube) {
  double open_from = plan.from_at;
  bool at_end = true;
  const auto close_cavity = [&](double to, bool end) {
    if (to - open_from >= least_cavity) plan.cavities.push_back({open_from, to, at_end, end});
  };
  for (const Node& node : tube.nodes()) {
    double from = node.at() - 0.5 * node.diaphragm;
    double to = node.at() + 0.5 * node.diaphragm;
    if (node.diaphragm <= 0.0 || to <= plan.from_at || from >= plan.to_at) continue;
    from = from - plan.from_at < least_cavity ? plan.from_at : from;
    to = plan.to_at - to < least_cavity ? plan.to_at : to;
    const Section section = tube.section(std::clamp(node.at(), plan.from_at, plan.to_at));
    Diaphragm diaphragm{from, to, bore_middle(section), std::nullopt};
    if (node.pierced_diameter) {
      diaphragm.pierced_radius = 0.5 * *node.pierced_diameter;
      if (*diaphragm.pierced_radius > clear_radius(section, diaphragm.middle) - 0.2) {
        plan.notes.push_back("the node at " + mm(node.at()) +
                             " is pierced as wide as the bore: no plate drawn");
        continue;
      }
    }
    close_cavity(from, false);
    plan.diaphragms.push_back(diaphragm);
    open_from = to;
    at_end = false;
  }
  if (plan.to_at > open_from) close_cavity(plan.to_at, true);
}

[[noreturn]] void refuse(const BodyPlan& plan, const BodyCut& cut, const std::string& why) {
  throw GeometryError(plan.part(), "plan", cut.name + " " + why);
}

/// How deep the cut must go to leave the bore all around its outline, and how high the skin stands.
void reach_bore(const BodyPlan& plan, const Tube& tube, BodyCut& cut) {
  constexpr int spokes = 48;
  const double at = -cut.frame.origin.z;
  for (int i = 0; i < spokes; ++i) {
    const Angle phi = Angle::from_degrees(360.0 * i / spokes);
    const Vec2 xy = Vec2{phi.cos(), phi.sin()} * cut.outline.reach(phi);
    const SkinHit skin = skin_hit(tube, cut.frame, xy, 0.0);
    const SkinHit bore = bore_hit(tube, cut.frame, xy);
    if (skin.facing < least_facing || bore.facing < least_facing) {
      refuse(plan, cut, "is too wide for the bore at " + mm(at) + ": its wall would be cut alongside");
    }
    cut.depth = std::max(cut.depth, clear_of_bore - bore.height);
    cut.high = std::max(cut.high, skin.height + above_skin);
  }
}

void check_place(const BodyPlan& plan, const BodyCut& cut) {
  const double at = -cut.frame.origin.z;
  const double half = 0.5 * cut.outline.length;
  if (at - half < plan.from_at || at + half > plan.to_at) {
    refuse(plan, cut, "at " + mm(at) + " runs over an end of the tube");
  }
  for (const Diaphragm& diaphragm : plan.diaphragms) {
    if (at + half < diaphragm.from_at || at - half > diaphragm.to_at) continue;
    refuse(plan, cut,
           "at " + mm(at) + " runs into the diaphragm at " + mm(0.5 * (diaphragm.from_at + diaphragm.to_at)));
  }
}

void add_cut(BodyPlan& plan, const Tube& tube, BodyCut cut) {
  check_place(plan, cut);
  reach_bore(plan, tube, cut);
  plan.cuts.push_back(std::move(cut));
}

BodyCut opening_cut(const Tube& tube, const PlacedPart& part) {
  BodyCut cut;
  cut.name = "opening " + part.part.id;
  cut.frame = rim_frame({part.point, unit(Vec3{part.normal.x, part.normal.y, 0.0}), 1.0});
  const Section section = tube.section(part.place.at);
  const auto side = [&](double around) {
    const Vec2 p = section.point(section.theta_at(around));
    return cut.frame.inverse().apply({p.x, p.y, -part.place.at}).y;
  };
  const double half = 0.5 * part.part.width;
  const double chord = std::abs(side(part.place.around + half) - side(part.place.around - half));
  const double corner = std::min({part.part.corner_radius, 0.5 * part.part.length, 0.5 * chord});
  cut.outline = {part.part.length, chord, corner};
  return cut;
}

/// The middle of the widest stretch of directions without a cut.
Angle free_side(const BodyPlan& plan, const Tube& tube) {
  std::vector<double> taken;
  for (const BodyCut& cut : plan.cuts) {
    taken.push_back(skin_hit(tube, cut.frame, {}, 0.0).theta.normalized().radians());
  }
  if (taken.empty()) return Angle::from_degrees(180.0);
  std::sort(taken.begin(), taken.end());
  double widest = -1.0;
  double middle = 0.0;
  for (std::size_t i = 0; i < taken.size(); ++i) {
    const double next = i + 1 < taken.size() ? taken[i + 1] : taken[0] + 2.0 * pi;
    if (next - taken[i] <= widest) continue;
    widest = next - taken[i];
    middle = 0.5 * (next + taken[i]);
  }
  return Angle::from_radians(middle).normalized();
}

}  // namespace

BodyPlan plan_body(const Tube& tube) {
  BodyPlan plan;
  plan.tube_id = tube.id();
  plan.from_at = tube.end_a_at();
  plan.to_at = tube.end_b_at();
  plan.seam = Angle::from_degrees(180.0);
  if (tube.shape().tilt_a || tube.shape().tilt_b) {
    plan.notes.push_back("ends sawn out of square are drawn square");
  }
  divide_by_nodes(plan, tube);
  return plan;
}

BodyPlan plan_body(const Tube& tube, const Instrument& instrument) {
  BodyPlan plan;
  plan.tube_id = tube.id();
  plan.from_at = std::min(instrument.mouth_cut_at, instrument.foot_cut_at);
  plan.to_at = std::max(instrument.mouth_cut_at, instrument.foot_cut_at);
  divide_by_nodes(plan, tube);
  for (const PlacedKey& key : instrument.keys) {
    const double r = key.drilling.radius;
    add_cut(plan, tube, {"hole " + key.key.id, rim_frame(key.drilling), {2 * r, 2 * r, r}});
  }
  for (const PlacedPart& part : instrument.parts) {
    if (part.part.kind == PartKind::opening) add_cut(plan, tube, opening_cut(tube, part));
  }
  plan.seam = free_side(plan, tube);
  return plan;
}

}  // namespace culmwright
