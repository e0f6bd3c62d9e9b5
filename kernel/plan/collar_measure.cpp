/// What the gate holds a saw collar against. Areas and volume by quadrature over the plan:
///   section: ½∮ p × dp around outer face, split, inner face, split; ∫ along the tube;
///   window and strokes: (h + h″ + c) dc dθ dat over their outlines, taken at their middles.
#include <algorithm>
#include <cmath>

#include "base/numeric.hpp"
#include "plan/collar_plan.hpp"
#include "plan/outline.hpp"

namespace culmwright {

namespace {

constexpr double piece_along = 1.0;
constexpr int pieces_around = 60;

class CollarMeasure {
 public:
  explicit CollarMeasure(const CollarPlan& plan) : plan_(plan), breaks_{plan.at.from, plan.at.to} {
    for (const GuideFace* face : {&plan.inner, &plan.outer}) {
      for (const OffsetPatch& patch : face->field().patches) {
        for (const double at :
             {patch.at.from - patch.at_step, patch.at.from, patch.at.to, patch.at.to + patch.at_step}) {
          if (at > plan.at.from && at < plan.at.to) breaks_.push_back(at);
        }
      }
    }
    std::sort(breaks_.begin(), breaks_.end());
  }

  double section_area(double at) const {
    const Section section = plan_.inner.base().section(at);
    const auto sweep = [&](const GuideFace& face) {
      return 0.5 * integrate(
                       [&](double theta) {
                         const GuideFace::Jet jet = face.jet(section, theta);
                         return jet.point.x * jet.by_theta.y - jet.point.y * jet.by_theta.x;
                       },
                       plan_.theta.from, plan_.theta.to, pieces_around);
    };
    const auto straight = [&](double theta) {
      const Vec3 a = plan_.inner.point(theta, at);
      const Vec3 b = plan_.outer.point(theta, at);
      return 0.5 * (a.x * b.y - a.y * b.x);
    };
    return sweep(plan_.outer) - sweep(plan_.inner) + straight(plan_.theta.from) - straight(plan_.theta.to);
  }

  double volume() const {
    return along([&](double at) { return section_area(at); });
  }

  double face_area(const GuideFace& face) const {
    return along([&](double at) {
      const Section section = face.base().section(at);
      return integrate([&](double theta) { return length(face.jet(section, theta).outward()); },
                       plan_.theta.from, plan_.theta.to, pieces_around);
    });
  }

  double split_area(double theta) const {
    return along([&](double at) {
      const GuideFace::Jet in = plan_.inner.jet(theta, at);
      const GuideFace::Jet out = plan_.outer.jet(theta, at);
      const Vec3 across = out.point - in.point;
      return integrate([&](double v) { return length(cross(in.by_at * (1.0 - v) + out.by_at * v, across)); },
                       0.0, 1.0, 1);
    });
  }

  /// ∫ f(θ, at) dθ dat over the window, a diamond: corners toward A, toward greater θ, toward B, lesser θ.
  template <class F>
  double over_window(const F& f) const {
    const std::vector<Vec2>& c = plan_.window;
    const auto edge = [&](Vec2 a, Vec2 b, double at) { return a.x + (b.x - a.x) * (at - a.y) / (b.y - a.y); };
    const auto half = [&](Vec2 tip, double from, double to) {
      return integrate(
          [&](double at) {
            return integrate([&](double theta) { return f(theta, at); }, edge(tip, c[3], at),
                             edge(tip, c[1], at), 1);
          },
          from, to, 8);
    };
    return half(c[0], c[0].y, c[1].y) + half(c[2], c[1].y, c[2].y);
  }
  double window_area(const GuideFace& face) const {
    return over_window([&](double theta, double at) { return length(face.jet(theta, at).outward()); });
  }
  double window_volume() const {
    return over_window([&](double theta, double at) {
      const double high = plan_.outer.field()(theta, at).value;
      const double low = plan_.inner.field()(theta, at).value;
      return (high - low) * (plan_.outer.radius(theta, at) - 0.5 * (high - low));
    });
  }
  double window_walls() const {
    double sum = 0.0;
    for (std::size_t i = 0; i < plan_.window.size(); ++i) {
      const Vec2 a = plan_.window[i];
      const Vec2 step = plan_.window[(i + 1) % plan_.window.size()] - a;
      sum += integrate(
          [&](double t) {
            const Vec2 p = a + step * t;
            const double thick = plan_.outer.field()(p.x, p.y).value - plan_.inner.field()(p.x, p.y).value;
            const double radius = plan_.outer.radius(p.x, p.y) - 0.5 * thick;
            return thick * length(Vec2{radius * step.x, step.y});
          },
          0.0, 1.0, 8);
    }
    return sum;
  }

  /// Under a stroke: the outer face is even there, and strokes are small.
  double floor_area(const std::vector<Vec2>& corners, double below) const {
    const Vec2 middle = polygon_middle(corners);
    const double radius = plan_.outer.radius(middle.x, middle.y);
    return polygon_area(corners) * length(plan_.outer.jet(middle.x, middle.y).outward()) * (radius - below) /
           radius;
  }
  double stroke_volume(const std::vector<Vec2>& corners) const {
    const Vec2 middle = polygon_middle(corners);
    const double deep = collar_sizes::engraving;
    return polygon_area(corners) * deep * (plan_.outer.radius(middle.x, middle.y) - 0.5 * deep);
  }
  double stroke_walls(const std::vector<Vec2>& corners) const {
    const double deep = collar_sizes::engraving;
    double sum = 0.0;
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const Vec2 a = corners[i];
      const Vec2 b = corners[(i + 1) % corners.size()];
      const Vec2 middle = (a + b) * 0.5;
      const double radius = plan_.outer.radius(middle.x, middle.y) - 0.5 * deep;
      sum += deep * length(Vec2{radius * (b.x - a.x), b.y - a.y});
    }
    return sum;
  }

 private:
  /// From break to break of the fields, which are smooth between.
  template <class F>
  double along(const F& f) const {
    double sum = 0.0;
    for (std::size_t i = 1; i < breaks_.size(); ++i) {
      const int pieces =
          std::max(1, static_cast<int>(std::ceil((breaks_[i] - breaks_[i - 1]) / piece_along)));
      sum += integrate(f, breaks_[i - 1], breaks_[i], pieces);
    }
    return sum;
  }

  const CollarPlan& plan_;
  std::vector<double> breaks_;
};

void add_face(Expectation& expected, std::string name, const GuideFace& face, double area) {
  expected.faces.push_back({std::move(name), [face](Vec3 p) { return face.distance(p); }, area});
}

void add_level(Expectation& expected, std::string name, double at, double area) {
  expected.faces.push_back({std::move(name), [at](Vec3 p) { return std::abs(p.z + at); }, area});
}

void add_split(Expectation& expected, const CollarPlan& plan, const CollarMeasure& measure) {
  const GuideFace inner = plan.inner;
  const Span theta = plan.theta;
  expected.faces.push_back(
      {"split",
       [inner, theta](Vec3 p) {
         const GuideFace::Where where = inner.where(p);
         const SurfaceJet h = inner.base().section(where.at).base_support(Angle::from_radians(where.theta));
         const double radius = h.f + h.f_tt + where.offset;
         return radius * std::min(std::abs(where.theta - theta.from), std::abs(where.theta - theta.to));
       },
       measure.split_area(theta.from) + measure.split_area(theta.to)});
}

void add_engraving(Expectation& expected, const CollarPlan& plan, const CollarMeasure& measure,
                   double& outer) {
  if (plan.strokes.empty()) return;
  std::vector<CutWall> strokes;
  double walls = 0.0;
  double floor = 0.0;
  for (const std::vector<Vec2>& corners : plan.strokes) {
    strokes.push_back({corners, collar_sizes::engraving});
    walls += measure.stroke_walls(corners);
    floor += measure.floor_area(corners, collar_sizes::engraving);
    outer -= measure.floor_area(corners, 0.0);
    expected.volume -= measure.stroke_volume(corners);
  }
  const CutWalls engraved(plan.outer, strokes);
  expected.faces.push_back(
      {"walls of the engraving", [engraved](Vec3 p) { return engraved.distance(p); }, walls});
  OffsetField lowered = plan.outer.field();
  lowered.level -= collar_sizes::engraving;
  add_face(expected, "floor of the engraving", GuideFace(plan.outer.base(), plan.outer.middle(), lowered),
           floor);
}

void add_bores(Expectation& expected, const CollarPlan& plan) {
  // The tube's own room must be empty; the ring around it is no circle, so the probe runs through the middle
  // and the bore itself is held as a face.
  const Section section = plan.inner.base().section(plan.at.middle());
  const Vec2 middle = (section.point(Angle()) + section.point(Angle::from_degrees(180.0))) * 0.5;
  const auto on_axis = [&](double at) { return Vec3{middle.x, middle.y, -at}; };
  expected.bores.push_back(
      {"the tube's room", on_axis(plan.at.from - 1.0), on_axis(plan.at.to + 1.0), 0.0, {}});
}

}  // namespace

Expectation expectation_of(const CollarPlan& plan) {
  const CollarMeasure measure(plan);
  Expectation expected;
  expected.part = plan.part();
  expected.volume = measure.volume();
  expected.genus = 1;  // the window
  double inner = measure.face_area(plan.inner);
  double outer = measure.face_area(plan.outer);
  add_level(expected, "end toward A", plan.at.from, measure.section_area(plan.at.from));
  add_level(expected, "end toward B", plan.at.to, measure.section_area(plan.at.to));
  add_split(expected, plan, measure);
  expected.volume -= measure.window_volume();
  inner -= measure.window_area(plan.inner);
  outer -= measure.window_area(plan.outer);
  const CutWalls window(plan.outer, {CutWall{plan.window, 0.0}});
  expected.faces.push_back(
      {"window", [window](Vec3 p) { return window.distance(p); }, measure.window_walls()});
  add_engraving(expected, plan, measure, outer);
  add_face(expected, "bore", plan.inner, inner);
  add_face(expected, "outside", plan.outer, outer);
  add_bores(expected, plan);
  return expected;
}

}  // namespace culmwright
