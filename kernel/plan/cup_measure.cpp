/// What a planned cup must weigh in volume, area and holes: the gate's measure for the solid built from it.
#include <algorithm>
#include <cmath>

#include "plan/cup_plan.hpp"
#include "plan/skin_ray.hpp"

namespace culmwright {

namespace {

class CupMeasure {
 public:
  CupMeasure(const CupPlan& plan, const Tube& tube) : plan_(plan), tube_(tube) {}

  double volume() const {
    const double body = plan_.flange.area() * plan_.top - chamfer_loss() -
                        over_area(plan_.flange, [&](Vec2 p) { return seat(p).height; });
    const double spigot =
        over_disc(plan_.spigot_radius, [&](Vec2 p) { return seat(p).height - end(p).height; });
    return body + spigot - hollow_volume() - way_volume() - notch_volume();
  }

  double seat_area() const {
    const auto stretch = [&](Vec2 p) { return 1.0 / seat(p).facing; };
    return over_area(plan_.flange, stretch) - over_disc(plan_.spigot_radius, stretch) -
           over_notch([](Vec2) { return true; }, stretch);
  }
  double wall_area() const {
    const double lower_rim = plan_.top - plan_.chamfer;
    const double height_at_notch = lower_rim - seat(plan_.notch).height;
    return along_edge(plan_.flange, [&](Vec2 p) { return lower_rim - seat(p).height; }) -
           notch_span() * height_at_notch;
  }
  double chamfer_area() const {
    const double around = 0.5 * (plan_.flange.perimeter() + plan_.flange.inset(plan_.chamfer).perimeter());
    const double notch = over_notch([&](Vec2 p) { return plan_.flange.distance(p) > -plan_.chamfer; },
                                    [](Vec2) { return 1.0; });
    return (around * plan_.chamfer - notch) * std::sqrt(2.0);
  }
  double top_area() const {
    const RoundedRectangle flat = plan_.flange.inset(plan_.chamfer);
    const double notch = over_notch([&](Vec2 p) { return flat.distance(p) < 0.0; }, [](Vec2) { return 1.0; });
    const double open = opening();
    return flat.area() - pi * open * open - notch;
  }
  double dish_area() const {
    const double inner = std::max(plan_.pocket ? plan_.pocket->radius : 0.0, way());
    return 2.0 * pi * plan_.dish->sphere() * plan_.dish->depth_at(inner);
  }
  double pocket_wall_area() const {
    const double r = plan_.pocket->radius;
    const double from = plan_.dish ? plan_.top - plan_.dish->depth_at(r) : plan_.top;
    return 2.0 * pi * r * (from - plan_.pocket->floor);
  }
  double way_area() const {
    return along_edge(disc(way()), [&](Vec2 p) { return floor_over_way() - end(p).height; });
  }
  double spigot_wall_area() const {
    return along_edge(disc(plan_.spigot_radius), [&](Vec2 p) { return seat(p).height - end(p).height; });
  }
  double end_area() const {
    const auto stretch = [&](Vec2 p) { return 1.0 / end(p).facing; };
    return over_disc(plan_.spigot_radius, stretch) - (way() > 0.0 ? over_disc(way(), stretch) : 0.0);
  }

  double way() const { return plan_.way_radius.value_or(0.0); }
  /// z at which the way starts.
  double floor_over_way() const { return plan_.upper(way()); }
  SkinHit seat(Vec2 p) const { return skin_hit(tube_, plan_.to_tube, p, plan_.seat_offset); }
  SkinHit end(Vec2 p) const { return skin_hit(tube_, plan_.to_tube, p, -plan_.spigot_length); }

 private:
  static RoundedRectangle disc(double radius) { return {2 * radius, 2 * radius, radius}; }

  /// Radius of what is open in the top plane.
  double opening() const {
    if (plan_.dish) return plan_.dish->rim;
    return plan_.pocket ? plan_.pocket->radius : way();
  }
  /// ∫₀ᶜ (A(0) − A(s)) ds for the flange's inset areas A(s).
  double chamfer_loss() const {
    const double c = plan_.chamfer;
    const double r = plan_.flange.corner;
    return c * c * (plan_.flange.length + plan_.flange.width) - 4.0 / 3.0 * c * c * c -
           (4.0 - pi) * (r * c * c - c * c * c / 3.0);
  }
  /// Below the top plane: dish and pocket.
  double hollow_volume() const {
    const double pocket = plan_.pocket ? plan_.pocket->radius : 0.0;
    double sum = plan_.pocket ? pi * pocket * pocket * (plan_.top - plan_.pocket->floor) : 0.0;
    if (plan_.dish) {
      sum += 2.0 * pi *
             integrate([&](double r) { return r * plan_.dish->depth_at(r); }, pocket, plan_.dish->rim, 4);
    }
    return sum;
  }
  double way_volume() const {
    if (!plan_.way_radius) return 0.0;
    return over_disc(way(), [&](Vec2 p) { return plan_.upper(length(p)) - end(p).height; });
  }
  double notch_volume() const {
    return over_notch([](Vec2) { return true; },
                      [&](Vec2 p) {
                        const double inward = -plan_.flange.distance(p);
                        return plan_.top - std::max(0.0, plan_.chamfer - inward) - seat(p).height;
                      });
  }
  /// ∫ f over the part of the notch's circle inside the flange and where `within`; by midpoints, to 1 %.
  template <class W, class F>
  double over_notch(const W& within, const F& f) const {
    constexpr int steps = 24;
    const double r = cup_sizes::notch_radius;
    const double cell = 2.0 * r / steps;
    double sum = 0.0;
    for (int i = 0; i < steps; ++i) {
      for (int k = 0; k < steps; ++k) {
        const Vec2 from_middle{-r + (i + 0.5) * cell, -r + (k + 0.5) * cell};
        const Vec2 p = plan_.notch + from_middle;
        if (length(from_middle) < r && plan_.flange.distance(p) < 0.0 && within(p)) sum += cell * cell * f(p);
      }
    }
    return sum;
  }
  /// Length of the flange's edge that the notch takes.
  static double notch_span() { return 2.0 * cup_sizes::notch_radius; }

  const CupPlan& plan_;
  const Tube& tube_;
};

FaceExpectation level(std::string name, double z, double area) {
  return {std::move(name), [z](Vec3 p) { return std::abs(p.z - z); }, area};
}

FaceExpectation upright(std::string name, Vec2 middle, double radius, std::optional<double> area) {
  return {std::move(name),
          [middle, radius](Vec3 p) { return std::abs(std::hypot(p.x - middle.x, p.y - middle.y) - radius); },
          area};
}

FaceExpectation on_skin(std::string name, const CupPlan& plan, const Tube& tube, double offset, double area) {
  return {std::move(name),
          [tube, frame = plan.to_tube, offset](Vec3 p) { return skin_distance(tube, frame, p, offset); },
          area};
}

void expect_outside(Expectation& expected, const CupPlan& plan, const Tube& tube, const CupMeasure& measure) {
  const RoundedRectangle flange = plan.flange;
  const double corner = plan.top - plan.chamfer;
  expected.faces.push_back(on_skin("seat", plan, tube, plan.seat_offset, measure.seat_area()));
  expected.faces.push_back({"flange wall",
                            [flange](Vec3 p) {
                              return std::abs(flange.distance({p.x, p.y}));
                            },
                            measure.wall_area()});
  expected.faces.push_back({"chamfer",
                            [flange, corner](Vec3 p) {
                              return std::abs(flange.distance({p.x, p.y}) + p.z - corner) / std::sqrt(2.0);
                            },
                            measure.chamfer_area()});
  expected.faces.push_back(level("touch", plan.top, measure.top_area()));
  expected.faces.push_back(upright("spigot", {}, plan.spigot_radius, measure.spigot_wall_area()));
  expected.faces.push_back(on_skin("spigot end", plan, tube, -plan.spigot_length, measure.end_area()));
  expected.faces.push_back(upright("notch", plan.notch, cup_sizes::notch_radius, std::nullopt));
}

void expect_hollows(Expectation& expected, const CupPlan& plan, const CupMeasure& measure) {
  if (plan.dish) {
    const double radius = plan.dish->sphere();
    const Vec3 middle{0, 0, plan.top - plan.dish->depth + radius};
    expected.faces.push_back(
        {"dish", [=](Vec3 p) { return std::abs(length(p - middle) - radius); }, measure.dish_area()});
  }
  if (plan.pocket) {
    const double r = plan.pocket->radius;
    expected.faces.push_back(upright("pocket wall", {}, r, measure.pocket_wall_area()));
    expected.faces.push_back(
        level("pocket floor", plan.pocket->floor, pi * (r * r - measure.way() * measure.way())));
    expected.bores.push_back({"the pocket",
                              {0, 0, plan.top + 1.0},
                              {0, 0, plan.pocket->floor + 0.1},
                              r + 0.5 * cup_sizes::least_wall,
                              {1.0 + 0.75 * (plan.top - plan.pocket->floor)}});
  }
}

void expect_way(Expectation& expected, const CupPlan& plan, const CupMeasure& measure) {
  if (!plan.way_radius) return;
  expected.faces.push_back(upright("way", {}, measure.way(), measure.way_area()));
  const double end = measure.end({}).height;
  const double floor = measure.floor_over_way();
  // The ring goes where the spigot's wall is closed all around: between the seat and the lowest end.
  expected.bores.push_back({"the way",
                            {0, 0, floor + 1.0},
                            {0, 0, end - 1.0},
                            measure.way() + 0.5 * cup_sizes::least_wall,
                            {1.0 + 0.3 * (floor - end), 1.0 + 0.7 * (floor - end)}});
}

}  // namespace

Expectation expectation_of(const CupPlan& plan, const Tube& tube) {
  const CupMeasure measure(plan, tube);
  Expectation expected;
  expected.part = plan.part();
  expected.genus = plan.way_radius ? 1 : 0;
  expected.volume = measure.volume();
  expect_outside(expected, plan, tube, measure);
  expect_hollows(expected, plan, measure);
  expect_way(expected, plan, measure);
  return expected;
}

}  // namespace culmwright
