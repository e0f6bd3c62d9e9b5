/// What a planned patch must weigh in volume and area: the gate's measure for the solid built from it.
/// In the chart a patch of skin dx dy is (1 + c/ρ) √(1 + h_s²) dx dy at the distance c, and a column over it
/// has the volume ∫ (1 + c/ρ) dc.
#include <algorithm>
#include <cmath>

#include "base/numeric.hpp"
#include "plan/mock_up_patch_plan.hpp"
#include "plan/outline.hpp"

namespace culmwright {

namespace {

using namespace patch_sizes;

constexpr int notch_steps = 16;

Vec2 middle_of(const StrokeOutline& corners) {
  Vec2 sum;
  for (const Vec2& p : corners) sum = sum + p * (1.0 / static_cast<double>(corners.size()));
  return sum;
}

class PatchMeasure {
 public:
  explicit PatchMeasure(const MockUpPatchPlan& plan) : plan_(plan) {}

  double volume() const {
    const double shoulder = plan_.high - plan_.edge;
    const auto slice = [&](double c) { return level_volume(c, inset_at(c)); };
    return integrate(slice, plan_.low, shoulder, 1) + integrate(slice, shoulder, plan_.high, 4) -
           engraved_volume();
  }
  double underside_area() const { return level_area(plan_.low, 0.0); }
  double top_area() const {
    double strokes = 0.0;
    for (const StrokeOutline& stroke : plan_.strokes) strokes += stroke_area(stroke, plan_.high);
    return level_area(plan_.high, plan_.edge) - strokes;
  }
  double wall_area() const {
    return swept([&](const PatchPiece& piece, double t, double v) {
      return on_skin(piece.at(t, 0.0), plan_.low + (plan_.high - plan_.edge - plan_.low) * v);
    });
  }
  double edge_area() const {
    return swept([&](const PatchPiece& piece, double t, double v) {
      const double psi = 0.5 * pi * v;
      return on_skin(piece.at(t, plan_.edge * (1.0 - std::cos(psi))),
                     plan_.high - plan_.edge * (1.0 - std::sin(psi)));
    });
  }
  /// Both sides of the notch.
  double notch_sides_area() const {
    double sum = 0.0;
    for (const double side : {-1.0, 1.0}) {
      const double Y = side * plan_.notch_half;
      sum += grid_area(notch_steps, notch_steps, [&](double t, double v) {
        // Even steps of the rounded edge's angle above the shoulder, where the side's outline is round.
        const double shoulder = 0.5;
        const double psi = v < shoulder ? 0.0 : 0.5 * pi * (v - shoulder) / (1.0 - shoulder);
        const double straight = (plan_.high - plan_.edge - plan_.low) * std::min(v / shoulder, 1.0);
        const double c = plan_.low + straight + plan_.edge * std::sin(psi);
        const double outer = plan_.edge_at_notch(plan_.edge * (1.0 - std::cos(psi)));
        return on_skin({plan_.notch_floor + (outer - plan_.notch_floor) * t, Y}, c);
      });
    }
    return sum;
  }
  double notch_floor_area() const {
    const auto place = plan_.chart.place(plan_.on_chart({plan_.notch_floor, 0.0}), 0.0);
    const double t = plan_.high - plan_.low;
    return 2.0 * plan_.notch_half * t * (1.0 + 0.5 * (plan_.high + plan_.low) / place.radius);
  }
  double stroke_floor_area() const {
    double sum = 0.0;
    for (const StrokeOutline& stroke : plan_.strokes) sum += stroke_area(stroke, plan_.high - engraving);
    return sum;
  }
  double stroke_wall_area() const {
    double sum = 0.0;
    for (const StrokeOutline& stroke : plan_.strokes) {
      const auto place = plan_.chart.place(plan_.on_chart(middle_of(stroke)), 0.0);
      const double stretch = 1.0 + (plan_.high - 0.5 * engraving) / place.radius;
      for (std::size_t i = 0; i < stroke.size(); ++i) {
        const Vec2 side = stroke[(i + 1) % stroke.size()] - stroke[i];
        sum += engraving * std::hypot(side.x, side.y * stretch);
      }
    }
    return sum;
  }

 private:
  Vec3 on_skin(Vec2 XY, double c) const { return plan_.chart.point(plan_.on_chart(XY), c); }
  double inset_at(double c) const {
    const double up = c - (plan_.high - plan_.edge);
    return up <= 0.0 ? 0.0 : plan_.edge - std::sqrt(std::max(0.0, plan_.edge * plan_.edge - up * up));
  }
  /// ∫ f over the outline moved inward, less the notch.
  template <class F>
  double over_level(double inset, const F& f) const {
    const double notch = integrate(
        [&](double Y) {
          const double to = edge_x(Y, inset);
          return integrate([&](double X) { return f(plan_.on_chart({X, Y})); }, plan_.notch_floor, to, 1);
        },
        -plan_.notch_half, plan_.notch_half, 2);
    return over_area(plan_.outline.inset(inset), f) - notch;
  }
  double edge_x(double Y, double inset) const {
    const double straight = 0.5 * plan_.outline.width - plan_.outline.corner;
    const double rise = std::max(0.0, std::abs(Y) - straight);
    const double r = plan_.outline.corner - inset;
    return 0.5 * plan_.outline.length - plan_.outline.corner + std::sqrt(r * r - rise * rise);
  }
  double level_volume(double c, double inset) const {
    return over_level(inset, [&](Vec2 xy) { return 1.0 + c / plan_.chart.place(xy, c).radius; });
  }
  double level_area(double c, double inset) const {
    return over_level(inset, [&](Vec2 xy) {
      const SkinChart::Place place = plan_.chart.place(xy, c);
      return (1.0 + c / place.radius) * std::sqrt(1.0 + place.slope * place.slope);
    });
  }
  double stroke_area(const StrokeOutline& stroke, double c) const {
    const auto place = plan_.chart.place(plan_.on_chart(middle_of(stroke)), c);
    return polygon_area(stroke) * (1.0 + c / place.radius);
  }
  double engraved_volume() const {
    double sum = 0.0;
    for (const StrokeOutline& stroke : plan_.strokes)
      sum += engraving * stroke_area(stroke, plan_.high - 0.5 * engraving);
    return sum;
  }
  /// Area of the surface P(t, v) over the unit square, by small plane quadrilaterals.
  template <class P>
  static double grid_area(int steps_t, int steps_v, const P& point) {
    double sum = 0.0;
    std::vector<Vec3> last;
    for (int i = 0; i <= steps_t; ++i) {
      std::vector<Vec3> row;
      for (int k = 0; k <= steps_v; ++k)
        row.push_back(point(static_cast<double>(i) / steps_t, static_cast<double>(k) / steps_v));
      for (int k = 0; i > 0 && k < steps_v; ++k)
        sum += 0.5 * length(cross(row[k + 1] - last[k], row[k] - last[k + 1]));
      last = std::move(row);
    }
    return sum;
  }
  /// Of the surface that S(piece, t, v) sweeps over all pieces.
  template <class S>
  double swept(const S& S_of) const {
    constexpr int steps_v = 6;
    double sum = 0.0;
    for (const PatchPiece& piece : patch_pieces(plan_)) {
      const int steps = std::max(8, static_cast<int>(piece.length() / 0.25));
      sum += grid_area(steps, steps_v, [&](double t, double v) { return S_of(piece, t, v); });
    }
    return sum;
  }

  const MockUpPatchPlan& plan_;
};

/// Gradient of a signed distance in the plane.
template <class D>
Vec2 gradient(const D& distance, Vec2 p) {
  constexpr double h = 1e-5;
  return {(distance({p.x + h, p.y}) - distance({p.x - h, p.y})) / (2 * h),
          (distance({p.x, p.y + h}) - distance({p.x, p.y - h})) / (2 * h)};
}

/// Millimetres of space for one of the chart around the tube.
double stretch_of(const SkinChart::Place& place) {
  return std::max(0.05, 1.0 + place.c / std::max(place.radius, 1e-3));
}

double wall_distance(const MockUpPatchPlan& plan, Vec3 p) {
  const SkinChart::Place place = plan.chart.place(p);
  const auto distance = [&](Vec2 q) { return plan.outline.distance(q); };
  const Vec2 g = gradient(distance, place.xy);
  return std::abs(distance(place.xy)) / std::max(1e-3, std::hypot(g.x, g.y / stretch_of(place)));
}

double edge_distance(const MockUpPatchPlan& plan, Vec3 p) {
  const SkinChart::Place place = plan.chart.place(p);
  const auto beyond = [&](Vec2 q) { return plan.outline.distance(q) + plan.edge; };
  const double u = std::max(0.0, beyond(place.xy));
  const double v = place.c - (plan.high - plan.edge);
  const double r = std::hypot(u, v);
  if (r < 1e-6) return plan.edge;
  const Vec2 g = gradient(beyond, place.xy);
  const double across = u / r * std::hypot(g.x, g.y / stretch_of(place));
  return std::abs(r - plan.edge) / std::max(1e-3, std::hypot(across, v / r));
}

double strokes_distance(const MockUpPatchPlan& plan, Vec3 p) {
  const SkinChart::Place place = plan.chart.place(p);
  const Vec2 q = plan.on_chart(place.xy);
  const double stretch = stretch_of(place);
  double least = 1e300;
  for (const StrokeOutline& stroke : plan.strokes) {
    for (std::size_t i = 0; i < stroke.size(); ++i) {
      const Vec2 side = stroke[(i + 1) % stroke.size()] - stroke[i];
      const Vec2 a{q.x - stroke[i].x, (q.y - stroke[i].y) * stretch};
      const Vec2 s{side.x, side.y * stretch};
      const double t = std::clamp(dot(a, s) / dot(s, s), 0.0, 1.0);
      least = std::min(least, length(a - s * t));
    }
  }
  return least;
}

FaceExpectation level(std::string name, const MockUpPatchPlan& plan, double c, double area) {
  return {std::move(name),
          [plan, c](Vec3 p) {
            const SkinChart::Place place = plan.chart.place(p);
            return std::abs(place.c - c) / std::sqrt(1.0 + place.slope * place.slope);
          },
          area};
}

}  // namespace

Expectation expectation_of(const MockUpPatchPlan& plan) {
  const PatchMeasure measure(plan);
  Expectation expected;
  expected.part = plan.part();
  expected.volume = measure.volume();
  expected.faces.push_back(level("underside", plan, plan.low, measure.underside_area()));
  expected.faces.push_back(level("top", plan, plan.high, measure.top_area()));
  expected.faces.push_back(
      {"side walls", [plan](Vec3 p) { return wall_distance(plan, p); }, measure.wall_area()});
  expected.faces.push_back(
      {"round edge", [plan](Vec3 p) { return edge_distance(plan, p); }, measure.edge_area()});
  expected.faces.push_back({"sides of the notch",
                            [plan](Vec3 p) {
                              const SkinChart::Place place = plan.chart.place(p);
                              return std::abs(std::abs(place.xy.y) - plan.notch_half) * stretch_of(place);
                            },
                            measure.notch_sides_area()});
  const double floor_z = -(plan.chart.at() + plan.on_chart({plan.notch_floor, 0.0}).x);
  expected.faces.push_back({"floor of the notch", [floor_z](Vec3 p) { return std::abs(p.z - floor_z); },
                            measure.notch_floor_area()});
  if (plan.strokes.empty()) return expected;
  expected.faces.push_back({"walls of the engraving", [plan](Vec3 p) { return strokes_distance(plan, p); },
                            measure.stroke_wall_area()});
  expected.faces.push_back(
      level("floor of the engraving", plan, plan.high - patch_sizes::engraving, measure.stroke_floor_area()));
  return expected;
}

}  // namespace culmwright
