/// What the gate holds a guide against. Areas and volume by quadrature over the plan:
///   section: ½∮ p × dp between the inner and the outer face and the two feet; ∫ along the tube;
///   bosses, bores, post: heights of the faces over discs about their axes;
///   windows and strokes: (h + h″ + c) dc dθ dat over their outlines.
#include <algorithm>
#include <cmath>

#include "base/numeric.hpp"
#include "plan/cut_walls.hpp"
#include "plan/guide_plan.hpp"
#include "plan/outline.hpp"

namespace culmwright {

namespace {

/// Sections vary within a few millimetres (pads, reliefs): five-point pieces of this length along, and of
/// this angle around.
constexpr double piece_along = 2.0;
constexpr int pieces_around = 20;
constexpr int turns = 32;
constexpr double ring_beyond = 1.0;
constexpr double probe_beyond = 0.5;

int pieces_of(const Span& at) {
  return std::max(4, static_cast<int>(std::ceil(at.length() / piece_along)));
}

/// ∫ f(xy) over the ring between two radii: equal steps around, five-point Gauss from within.
template <class F>
double over_ring(double inside, double outside, const F& f) {
  return integrate(
      [&](double rho) {
        double sum = 0.0;
        for (int i = 0; i < turns; ++i) {
          sum += f(direction(Angle::from_radians(2.0 * pi * i / turns)) * rho);
        }
        return sum * rho * 2.0 * pi / turns;
      },
      inside, outside, 1);
}

/// Mean of f over equal steps around a circle.
template <class F>
double around_mean(double radius, const F& f) {
  double sum = 0.0;
  for (int i = 0; i < turns; ++i) sum += f(direction(Angle::from_radians(2.0 * pi * i / turns)) * radius);
  return sum / turns;
}

/// A section of the saddle, per millimetre of tube.
struct Slice {
  double area = 0.0;
  double inner = 0.0;  ///< of the inner face
  double outer = 0.0;
  double feet = 0.0;

  void add(const Slice& other, double weight) {
    area += other.area * weight;
    inner += other.inner * weight;
    outer += other.outer * weight;
    feet += other.feet * weight;
  }
};

class GuideQuadrature {
 public:
  explicit GuideQuadrature(const GuidePlan& plan) : plan_(plan) {}

  /// The saddle without anything on it or cut into it.
  Slice saddle() const {
    Slice sum;
    over_gauss_points(plan_.at.from, plan_.at.to, pieces_of(plan_.at),
                      [&](double at, double weight) { sum.add(slice(at), weight); });
    sum.feet /= std::sqrt(1.0 - plan_.foot.up.z * plan_.foot.up.z);
    return sum;
  }

  Slice slice(double at) const {
    const Section section = plan_.inner.base().section(at);
    const Sweep in = sweep(plan_.inner, section);
    const Sweep out = sweep(plan_.outer, section);
    const auto straight = [](Vec3 a, Vec3 b) { return 0.5 * (a.x * b.y - a.y * b.x); };
    Slice result;
    result.area = out.area - in.area + straight(out.high, in.high) + straight(in.low, out.low);
    result.inner = in.face;
    result.outer = out.face;
    result.feet = length(out.low - in.low) + length(out.high - in.high);
    return result;
  }

  /// What stands on a box in (θ, at): volume, areas of the faces, and of the walls at its two sides and its
  /// tip.
  struct Box {
    double volume = 0.0;
    double inner = 0.0;
    double outer = 0.0;
    double sides = 0.0;
    double tip = 0.0;
    double root = 0.0;
  };
  Box box(const GuideJoint& joint) const {
    Box sum;
    over_gauss_points(joint.along().from, joint.along().to, pieces_of(joint.along()),
                      [&](double at, double weight) {
                        const Slice one = slice_over(joint.theta, at);
                        sum.volume += weight * one.area;
                        sum.inner += weight * one.inner;
                        sum.outer += weight * one.outer;
                        sum.sides += weight * (wall_at(joint.theta.from, at) + wall_at(joint.theta.to, at));
                      });
    sum.tip = slice_over(joint.theta, joint.tip_at()).area;
    sum.root = slice_over(joint.theta, joint.at).area;
    return sum;
  }

  /// Of the face inside a cylinder.
  double rim_area(const GuideFace& face, const RigidMotion& frame, double radius) const {
    return over_ring(0.0, radius, [&](Vec2 xy) { return 1.0 / std::abs(face.meet(frame, xy).facing); });
  }
  double heights(const GuideFace& face, const RigidMotion& frame, double inside, double outside) const {
    return over_ring(inside, outside, [&](Vec2 xy) { return face.meet(frame, xy).height; });
  }
  double rim_height(const GuideFace& face, const RigidMotion& frame, double radius) const {
    return around_mean(radius, [&](Vec2 xy) { return face.meet(frame, xy).height; });
  }

  /// Area of the face inside an outline, taken at its middle: outlines are small.
  double outline_area_on(const GuideFace& face, const std::vector<Vec2>& corners, double below) const {
    const Vec2 middle = polygon_middle(corners);
    const GuideFace::Jet jet = face.jet(middle.x, middle.y);
    const double radius = face.radius(middle.x, middle.y);
    return polygon_area(corners) * length(jet.outward()) * (radius - below) / radius;
  }
  /// Volume under an outline between two offsets from the skin, taken at its middle.
  double outline_volume(const std::vector<Vec2>& corners, double low, double high) const {
    const Vec2 middle = polygon_middle(corners);
    const SurfaceJet h = plan_.inner.base().section(middle.y).base_support(Angle::from_radians(middle.x));
    return polygon_area(corners) * (high - low) * (h.f + h.f_tt + 0.5 * (low + high));
  }
  double wall_area(const CutWall& wall) const {
    double sum = 0.0;
    for (std::size_t i = 0; i < wall.corners.size(); ++i) {
      const Vec2 a = wall.corners[i];
      const Vec2 b = wall.corners[(i + 1) % wall.corners.size()];
      const Vec2 middle = (a + b) * 0.5;
      const double high = plan_.outer.field()(middle.x, middle.y).value;
      const double low = wall.depth_below_outer > 0.0 ? high - wall.depth_below_outer
                                                      : plan_.inner.field()(middle.x, middle.y).value;
      const double radius = plan_.outer.radius(middle.x, middle.y) - 0.5 * (high - low);
      sum += (high - low) * length(Vec2{radius * (b.x - a.x), b.y - a.y});
    }
    return sum;
  }

 private:
  /// The saddle's section between two directions of the skin's normal.
  Slice slice_over(const Span& theta, double at) const {
    const Section section = plan_.inner.base().section(at);
    Slice sum;
    over_gauss_points(theta.from, theta.to, pieces_around, [&](double t, double weight) {
      const double low = plan_.inner.field()(t, at).value;
      const double high = plan_.outer.field()(t, at).value;
      const SurfaceJet h = section.base_support(Angle::from_radians(t));
      sum.area += weight * (high - low) * (h.f + h.f_tt + 0.5 * (low + high));
      sum.inner += weight * length(plan_.inner.jet(section, t).outward());
      sum.outer += weight * length(plan_.outer.jet(section, t).outward());
    });
    return sum;
  }
  /// Of a wall along the skin's normal, per millimetre of tube: it leans with the skin, sideways.
  double wall_at(double theta, double at) const {
    const double aside = plan_.inner.base().section(at).base_support(Angle::from_radians(theta)).f_ts;
    return (plan_.outer.field()(theta, at).value - plan_.inner.field()(theta, at).value) *
           std::sqrt(1.0 + aside * aside);
  }

  /// One face in one section, from foot to foot.
  struct Sweep {
    double area = 0.0;  ///< swept by the line from the axis
    double face = 0.0;
    Vec3 low;
    Vec3 high;
  };

  Sweep sweep(const GuideFace& face, const Section& section) const {
    const double low = plan_.foot_theta(face, -1, section.at());
    const double high = plan_.foot_theta(face, 1, section.at());
    Sweep result{0.0, 0.0, face.jet(section, low).point, face.jet(section, high).point};
    over_gauss_points(low, high, pieces_around, [&](double theta, double weight) {
      const GuideFace::Jet jet = face.jet(section, theta);
      result.area += 0.5 * weight * (jet.point.x * jet.by_theta.y - jet.point.y * jet.by_theta.x);
      result.face += weight * length(jet.outward());
    });
    return result;
  }

  const GuidePlan& plan_;
};

double plane_distance(Vec3 p, Vec3 point, Vec3 normal) {
  return std::abs(dot(p - point, normal));
}

double cylinder_distance(Vec3 p, const RigidMotion& frame, double radius) {
  const Vec3 q = frame.inverse().apply(p);
  return std::abs(std::hypot(q.x, q.y) - radius);
}

/// A cylinder of radius s that crosses one of radius R square to its axis and through it, on one side: area
/// of R that it cuts out, its own area and volume from R's axis to R.
struct Crossing {
  double area = 0.0;
  double wall = 0.0;
  double volume = 0.0;
};

Crossing crossing(double s, double R) {
  Crossing result;
  // y = s sin ψ across both axes.
  const auto over = [&](const auto& f) { return integrate(f, -0.5 * pi, 0.5 * pi, 12); };
  result.area = over([&](double psi) {
    const double c = s * std::cos(psi);
    const double y = s * std::sin(psi);
    return 2.0 * c * c * R / std::sqrt(R * R - y * y);
  });
  result.volume = over([&](double psi) {
    const double c = s * std::cos(psi);
    const double y = s * std::sin(psi);
    return 2.0 * c * c * std::sqrt(R * R - y * y);
  });
  result.wall = 2.0 * s * over([&](double psi) {
                  const double y = s * std::sin(psi);
                  return std::sqrt(R * R - y * y);
                });
  return result;
}

RigidMotion post_frame(const StopPost& post) {
  return rim_frame({post.axis_point, post.up, post.radius});
}

std::vector<CutWall> engraved_walls(const GuidePlan& plan) {
  std::vector<CutWall> walls;
  for (const EngravedText& text : plan.texts) {
    for (const EngravedStroke& stroke : text.strokes)
      walls.push_back({stroke.corners, guide_sizes::engraving});
  }
  return walls;
}

class ExpectationMaker {
 public:
  explicit ExpectationMaker(const GuidePlan& plan) : plan_(plan), measure_(plan) {}

  Expectation make() {
    expected_.part = plan_.name;
    const Slice saddle = measure_.saddle();
    expected_.volume = saddle.area;
    inner_area_ = saddle.inner;
    outer_area_ = saddle.outer;
    add_flat_sides(saddle.feet);
    for (const GuideJoint& joint : plan_.joints) add_joint(joint);
    for (const GuideBoss* boss : plan_.bosses()) add_boss(*boss);
    if (plan_.post) add_post(*plan_.post);
    add_sights();
    add_engraving();
    add_face("inner face", plan_.inner, inner_area_);
    add_face("outer face", plan_.outer, outer_area_);
    expected_.genus += static_cast<int>(plan_.bosses().size() + plan_.sights.size());
    return std::move(expected_);
  }

 private:
  void add(std::string name, std::function<double(Vec3)> distance, double area) {
    expected_.faces.push_back({std::move(name), std::move(distance), area});
  }
  void add_face(const char* name, const GuideFace& face, double area) {
    add(
        name, [face](Vec3 p) { return face.distance(p); }, area);
  }
  void add_plane(const std::string& name, Vec3 point, Vec3 normal, double area) {
    add(
        name, [point, normal](Vec3 p) { return plane_distance(p, point, normal); }, area);
  }
  void add_cylinder(const std::string& name, const RigidMotion& frame, double radius, double area) {
    add(
        name, [frame, radius](Vec3 p) { return cylinder_distance(p, frame, radius); }, area);
  }

  void add_flat_sides(double feet) {
    add_plane("end toward A", {0, 0, -plan_.at.from}, {0, 0, 1}, measure_.slice(plan_.at.from).area);
    add_plane("end toward B", {0, 0, -plan_.at.to}, {0, 0, 1}, measure_.slice(plan_.at.to).area);
    add_plane("feet", plan_.foot.point, plan_.foot.up, feet);
  }

  void add_joint(const GuideJoint& joint) {
    const GuideQuadrature::Box box = measure_.box(joint);
    const std::string end = joint.toward == End::a ? "toward A" : "toward B";
    const double sign = joint.tongue ? 1.0 : -1.0;
    expected_.volume += sign * box.volume;
    inner_area_ += sign * box.inner;
    outer_area_ += sign * box.outer;
    subtract("end " + end, box.root);
    add_plane((joint.tongue ? "tip of the tongue " : "bottom of the notch ") + end, {0, 0, -joint.tip_at()},
              {0, 0, 1}, box.tip);
    const GuideFace face = plan_.outer;
    const Span theta = joint.theta;
    add((joint.tongue ? "sides of the tongue " : "sides of the notch ") + end,
        [face, theta](Vec3 p) {
          const GuideFace::Where where = face.where(p);
          const SurfaceJet h = face.base().section(where.at).base_support(Angle::from_radians(where.theta));
          const double turn = std::min(std::abs(where.theta - theta.from), std::abs(where.theta - theta.to));
          return turn * (h.f + h.f_tt + where.offset) / std::sqrt(1.0 + h.f_ts * h.f_ts);
        },
        box.sides);
  }

  void add_boss(const GuideBoss& hole) {
    const RigidMotion frame = rim_frame(hole.drilling);
    const double r = hole.bore_radius;
    const double R = hole.boss_radius;
    const double foot = measure_.rim_height(plan_.outer, frame, R);
    const double rim = measure_.rim_height(plan_.inner, frame, r);
    add_cylinder("boss of " + hole.id, frame, R, 2.0 * pi * R * (hole.top - foot));
    add_cylinder("bore of " + hole.id, frame, r, 2.0 * pi * r * (hole.top - rim));
    add_plane("top of " + hole.id, frame.apply({0, 0, hole.top}), frame.z, pi * (R * R - r * r));
    outer_area_ -= measure_.rim_area(plan_.outer, frame, R);
    inner_area_ -= measure_.rim_area(plan_.inner, frame, r);
    if (hole.side) add_side(hole, frame);
    const double boss = pi * R * R * hole.top - measure_.heights(plan_.outer, frame, 0.0, R);
    const double bore = pi * r * r * hole.top - measure_.heights(plan_.inner, frame, 0.0, r);
    expected_.volume += boss - bore;
    add_bore(hole, frame, rim, foot);
  }

  void add_side(const GuideBoss& boss, const RigidMotion& frame) {
    const SideBore& side = *boss.side;
    const RigidMotion across = side_frame(frame, side);
    const double s = side.radius;
    const auto out = [&](double radius) { return crossing(s, radius); };
    const Crossing at_boss = out(boss.boss_radius);
    const Crossing at_bore = out(boss.bore_radius);
    add_cylinder("side bore of " + boss.id, across, s, at_boss.wall - at_bore.wall);
    subtract("boss of " + boss.id, at_boss.area);
    subtract("bore of " + boss.id, at_bore.area);
    expected_.volume -= at_boss.volume - at_bore.volume;
    ++expected_.genus;
  }
  void subtract(const std::string& face, double area) {
    for (FaceExpectation& expected : expected_.faces) {
      if (expected.name == face) *expected.area -= area;
    }
  }

  void add_bore(const GuideBoss& hole, const RigidMotion& frame, double rim, double foot) {
    const double start = rim - hole.bore_radius;
    BoreExpectation bore;
    bore.name = "bore of " + hole.id;
    bore.from = frame.apply({0, 0, start});
    bore.to = frame.apply({0, 0, hole.top + probe_beyond});
    bore.ring_radius = hole.bore_radius + ring_beyond;
    // A side bore stands between foot and top: the ring is then halfway from it to the top.
    const double ring = hole.side ? hole.side->height + hole.side->radius : foot;
    bore.ring_at = {0.5 * (rim + foot) - start, 0.5 * (ring + hole.top) - start};
    expected_.bores.push_back(bore);
  }

  void add_post(const StopPost& post) {
    const RigidMotion frame = post_frame(post);
    const double r = post.radius;
    const double root = measure_.rim_height(plan_.inner, frame, r);
    add_cylinder("stop", frame, r, 2.0 * pi * r * (root - post.foot));
    add_plane("foot of the stop", frame.apply({0, 0, post.foot}), frame.z, pi * r * r);
    inner_area_ -= measure_.rim_area(plan_.inner, frame, r);
    expected_.volume += measure_.heights(plan_.inner, frame, 0.0, r) - pi * r * r * post.foot;
  }

  void add_sights() {
    for (std::size_t i = 0; i < plan_.sights.size(); ++i) {
      const std::vector<Vec2>& corners = plan_.sights[i].corners;
      const std::vector<CutWall> walls{{corners, 0.0}};
      const CutWalls cuts(plan_.outer, walls);
      add(
          "sighting window " + std::to_string(i + 1), [cuts](Vec3 p) { return cuts.distance(p); },
          measure_.wall_area(walls[0]));
      const Vec2 middle = polygon_middle(corners);
      const double low = plan_.inner.field()(middle.x, middle.y).value;
      const double high = plan_.outer.field()(middle.x, middle.y).value;
      expected_.volume -= measure_.outline_volume(corners, low, high);
      inner_area_ -= measure_.outline_area_on(plan_.inner, corners, 0.0);
      outer_area_ -= measure_.outline_area_on(plan_.outer, corners, 0.0);
    }
  }

  void add_engraving() {
    const std::vector<CutWall> walls = engraved_walls(plan_);
    if (walls.empty()) return;
    double wall_area = 0.0;
    double floor_area = 0.0;
    for (const CutWall& wall : walls) {
      const Vec2 middle = polygon_middle(wall.corners);
      const double high = plan_.outer.field()(middle.x, middle.y).value;
      wall_area += measure_.wall_area(wall);
      floor_area += measure_.outline_area_on(plan_.outer, wall.corners, guide_sizes::engraving);
      outer_area_ -= measure_.outline_area_on(plan_.outer, wall.corners, 0.0);
      expected_.volume -= measure_.outline_volume(wall.corners, high - guide_sizes::engraving, high);
    }
    const CutWalls cuts(plan_.outer, walls);
    add(
        "walls of the engraving", [cuts](Vec3 p) { return cuts.distance(p); }, wall_area);
    OffsetField floor = plan_.outer.field();
    floor.level -= guide_sizes::engraving;
    add_face("floor of the engraving", GuideFace(plan_.outer.base(), plan_.middle(), floor), floor_area);
  }

  const GuidePlan& plan_;
  GuideQuadrature measure_;
  Expectation expected_;
  double inner_area_ = 0.0;
  double outer_area_ = 0.0;
};

}  // namespace

Expectation expectation_of(const GuidePlan& plan) {
  return ExpectationMaker(plan).make();
}

}  // namespace culmwright
