#include "plan/plate_plan.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"

namespace culmwright {

namespace {

using namespace plate_sizes;

/// Middles of a flat's notches along it.
std::vector<double> notch_places(const FlatMark& mark) {
  std::vector<double> places;
  for (int i = 0; i < mark.notches; ++i) {
    places.push_back(notch_pitch * (i - 0.5 * (mark.notches - 1)));
  }
  return places;
}

std::vector<FlatMark> marks_for(int flats) {
  if (flats % 4 != 0) return {{0, 1}, {1, 2}};
  return {{0, 1}, {flats / 4, 2}, {flats / 2, 3}, {3 * flats / 4, 4}};
}

const FlatMark* mark_of(const PlatePlan& plan, int flat) {
  for (const FlatMark& mark : plan.marks) {
    if (mark.flat == flat) return &mark;
  }
  return nullptr;
}

int notch_count(const PlatePlan& plan) {
  int count = 0;
  for (const FlatMark& mark : plan.marks) count += mark.notches;
  return count;
}

/// Unsigned distance from the walls of the notches, for a point seen along the axis.
double notch_distance(const PlatePlan& plan, Vec2 p) {
  double least = 1e300;
  for (const FlatMark& mark : plan.marks) {
    const Angle facing = plan.facing(mark.flat);
    const double out = dot(p, direction(facing)) - 0.5 * plan.across_flats;
    const double along = dot(p, tangent(facing));
    for (const double middle : notch_places(mark)) {
      const double aside = std::abs(along - middle) - 0.5 * notch_width;
      const double below = std::max({-notch_depth - out, out, 0.0});
      least = std::min(least, std::hypot(aside, below));                             // the sides
      least = std::min(least, std::hypot(out + notch_depth, std::max(aside, 0.0)));  // the floor
    }
  }
  return least;
}

FaceExpectation level(std::string name, double z, double area) {
  return {std::move(name), [z](Vec3 p) { return std::abs(p.z - z); }, area};
}

FaceExpectation upright(std::string name, double radius, double height) {
  return {std::move(name), [radius](Vec3 p) { return std::abs(std::hypot(p.x, p.y) - radius); },
          2.0 * pi * radius * height};
}

FaceExpectation flats_of(const PlatePlan& plan) {
  const double area = thickness * (plan.flats * plan.flat_length() - notch_count(plan) * notch_width);
  return {"flats",
          [plan](Vec3 p) {
            double farthest = -1e300;
            for (int i = 0; i < plan.flats; ++i) {
              farthest = std::max(farthest, dot(Vec2{p.x, p.y}, direction(plan.facing(i))));
            }
            return std::abs(farthest - 0.5 * plan.across_flats);
          },
          area};
}

}  // namespace

double PlatePlan::flat_length() const {
  return across_flats * std::tan(pi / flats);
}

Angle PlatePlan::facing(int flat) const {
  const double turn = 360.0 * flat / flats;
  return Angle::from_degrees(end == End::a ? -turn : turn);
}

RigidMotion PlatePlan::to_tube(double end_at) const {
  // The recess floor, at z = thickness − recess depth, touches the end; at A the plate's z points down the
  // tube.
  const double floor = thickness - recess_depth;
  if (end == End::b) return {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {0, 0, -end_at - floor}};
  return {{1, 0, 0}, {0, -1, 0}, {0, 0, -1}, {0, 0, -end_at + floor}};
}

std::vector<Vec2> outline(const PlatePlan& plan) {
  std::vector<Vec2> points;
  const double half = 0.5 * plan.across_flats;
  for (int i = 0; i < plan.flats; ++i) {
    // Counter-clockwise whichever way the flats are numbered.
    const int flat = plan.end == End::a ? (plan.flats - i) % plan.flats : i;
    const Vec2 n = direction(plan.facing(flat));
    const Vec2 t = tangent(plan.facing(flat));
    const auto add = [&](double along, double in) { points.push_back(n * (half - in) + t * along); };
    add(-0.5 * plan.flat_length(), 0.0);
    const FlatMark* mark = mark_of(plan, flat);
    if (mark == nullptr) continue;
    for (const double middle : notch_places(*mark)) {
      add(middle - 0.5 * notch_width, 0.0);
      add(middle - 0.5 * notch_width, notch_depth);
      add(middle + 0.5 * notch_width, notch_depth);
      add(middle + 0.5 * notch_width, 0.0);
    }
  }
  return points;
}

std::vector<PlatePlan> plan_plates(double widest_end, double widest_overall, int flats) {
  PlatePlan plan;
  plan.flats = flats;
  plan.recess_radius = 0.5 * widest_end + room;
  const double wanted = std::max({least_across, widest_overall + 2.0 * clear_board,
                                  2.0 * (plan.collar_radius() + notch_depth + collar_wall)});
  plan.across_flats = std::ceil(wanted);
  plan.marks = marks_for(flats);
  if (flats < 8) throw GeometryError("survey plates", "plan", "at least eight flats are needed");
  for (const FlatMark& mark : plan.marks) {
    const double needed = (mark.notches - 1) * notch_pitch + 3.0 * notch_width;
    if (plan.flat_length() >= needed) continue;
    throw GeometryError("survey plates", "plan",
                        std::to_string(flats) + " flats of " + std::to_string(plan.flat_length()) +
                            " mm are too short for their marks; at least " + std::to_string(needed));
  }
  PlatePlan other = plan;
  other.end = End::b;
  return {plan, other};
}

std::vector<PlatePlan> plan_plates(const Tube& tube, int flats) {
  double widest_end = 0.0;
  double overall = 0.0;
  const int steps = std::max(20, static_cast<int>(tube.length() / 5.0));
  for (int i = 0; i <= steps; ++i) {
    const Section section = tube.section(tube.end_a_at() + tube.length() * i / steps);
    for (int k = 0; k < 72; ++k) {
      const double reach = section.support(Angle::from_degrees(5.0 * k)).f;
      overall = std::max(overall, 2.0 * reach);
      if (i == 0 || i == steps) widest_end = std::max(widest_end, 2.0 * reach);
    }
  }
  return plan_plates(widest_end, overall, flats);
}

Expectation expectation_of(const PlatePlan& plan) {
  const double half = 0.5 * plan.across_flats;
  const double notch = notch_width * notch_depth;
  const double face = plan.flats * half * half * std::tan(pi / plan.flats) - notch_count(plan) * notch;
  const auto disc = [](double r) { return pi * r * r; };
  const double collar = disc(plan.collar_radius());
  const double recess = disc(plan.recess_radius);
  const double hole = disc(hole_radius);
  const double floor = thickness - recess_depth;
  Expectation expected;
  expected.part = plan.part();
  expected.genus = 1;
  expected.volume =
      face * thickness + collar * collar_height - recess * (recess_depth + collar_height) - hole * floor;
  expected.faces = {level("outer face", 0.0, face - hole),
                    level("inner face", thickness, face - collar),
                    level("collar's rim", thickness + collar_height, collar - recess),
                    level("recess floor", floor, recess - hole),
                    upright("collar", plan.collar_radius(), collar_height),
                    upright("recess", plan.recess_radius, recess_depth + collar_height),
                    upright("middle hole", hole_radius, floor),
                    flats_of(plan),
                    {"notches",
                     [plan](Vec3 p) {
                       return notch_distance(plan, {p.x, p.y});
                     },
                     notch_count(plan) * (notch_width + 2.0 * notch_depth) * thickness}};
  expected.bores = {{"the middle hole",
                     {0, 0, -1},
                     {0, 0, thickness + collar_height + 1},
                     hole_radius + 0.5,
                     {1.0 + 0.5 * floor}},
                    {"the recess",
                     {0, 0, thickness + collar_height + 1},
                     {0, 0, floor + 0.1},
                     plan.recess_radius + 0.5 * collar_wall,
                     {2.0, 0.8 * collar_height}}};
  return expected;
}

}  // namespace culmwright
