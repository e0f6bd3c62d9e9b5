/// What the gate holds a guide against. Areas and volume by quadrature over the plan:
///   section: ½∮ p × dp between the inner and the outer face and the two feet; ∫ along the tube;
///   bosses, bores, post: heights of the faces over discs about their axes;
///   windows and strokes: (h + h″ + c) dc dθ dat over their outlines.
#include <algorithm>
#include <cmath>

#include "base/numeric.hpp"
#include "plan/guide_plan.hpp"

namespace culmwright {

namespace {

/// Sections vary within a few millimetres (pads, reliefs): five-point pieces of this length along, and of
/// this angle around.
constexpr double piece_along = 1.5;
constexpr int pieces_around = 40;
constexpr int turns = 48;
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

double outline_area(const std::vector<Vec2>& corners) {
  double sum = 0.0;
  for (std::size_t i = 0; i < corners.size(); ++i)
    sum += cross(corners[i], corners[(i + 1) % corners.size()]);
  return 0.5 * sum;
}

Vec2 outline_middle(const std::vector<Vec2>& corners) {
  Vec2 sum;
  double area = 0.0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Vec2 a = corners[i] - corners[0];
    const Vec2 b = corners[(i + 1) % corners.size()] - corners[0];
    sum = sum + (a + b) * (cross(a, b) / 3.0);
    area += cross(a, b);
  }
  return corners[0] + sum * (1.0 / area);
}

/// A point that runs once around an outline, and the height of material that stands there before it is cut.
struct CutWall {
  std::vector<Vec2> corners;
  double depth_below_outer = 0.0;  ///< 0: through the saddle
};

class GuideQuadrature {
 public:
  explicit GuideQuadrature(const GuidePlan& plan) : plan_(plan) {}

  double saddle_volume() const {
    return integrate([&](double at) { return section_area(at); }, plan_.at.from, plan_.at.to,
                     pieces_of(plan_.at));
  }

  double section_area(double at) const {
    const Section section = plan_.inner.base().section(at);
    const auto sweep = [&](const GuideFace& face, double from, double to) {
      return 0.5 * integrate(
                       [&](double theta) {
                         const GuideFace::Jet jet = face.jet(section, theta);
                         return jet.point.x * jet.by_theta.y - jet.point.y * jet.by_theta.x;
                       },
                       from, to, pieces_around);
    };
    const double in_low = plan_.foot_theta(plan_.inner, -1, at);
    const double in_high = plan_.foot_theta(plan_.inner, 1, at);
    const double out_low = plan_.foot_theta(plan_.outer, -1, at);
    const double out_high = plan_.foot_theta(plan_.outer, 1, at);
    const auto straight = [&](Vec3 a, Vec3 b) { return 0.5 * (a.x * b.y - a.y * b.x); };
    return sweep(plan_.outer, out_low, out_high) - sweep(plan_.inner, in_low, in_high) +
           straight(plan_.outer.point(out_high, at), plan_.inner.point(in_high, at)) +
           straight(plan_.inner.point(in_low, at), plan_.outer.point(out_low, at));
  }

  double face_area(const GuideFace& face) const {
    return integrate(
        [&](double at) {
          const Section section = face.base().section(at);
          return integrate([&](double theta) { return length(face.jet(section, theta).outward()); },
                           plan_.foot_theta(face, -1, at), plan_.foot_theta(face, 1, at), pieces_around);
        },
        plan_.at.from, plan_.at.to, pieces_of(plan_.at));
  }

  double foot_area(int side) const {
    return integrate(
               [&](double at) {
                 const Vec3 in = plan_.inner.point(plan_.foot_theta(plan_.inner, side, at), at);
                 const Vec3 out = plan_.outer.point(plan_.foot_theta(plan_.outer, side, at), at);
                 return length(out - in);
               },
               plan_.at.from, plan_.at.to, pieces_of(plan_.at)) /
           std::sqrt(1.0 - plan_.foot.up.z * plan_.foot.up.z);
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
    const Vec2 middle = outline_middle(corners);
    const GuideFace::Jet jet = face.jet(middle.x, middle.y);
    const double radius = face.radius(middle.x, middle.y);
    return outline_area(corners) * length(jet.outward()) * (radius - below) / radius;
  }
  /// Volume under an outline between two offsets from the skin, taken at its middle.
  double outline_volume(const std::vector<Vec2>& corners, double low, double high) const {
    const Vec2 middle = outline_middle(corners);
    const SurfaceJet h = plan_.inner.base().section(middle.y).base_support(Angle::from_radians(middle.x));
    return outline_area(corners) * (high - low) * (h.f + h.f_tt + 0.5 * (low + high));
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
  const GuidePlan& plan_;
};

double plane_distance(Vec3 p, Vec3 point, Vec3 normal) {
  return std::abs(dot(p - point, normal));
}

double cylinder_distance(Vec3 p, const RigidMotion& frame, double radius) {
  const Vec3 q = frame.inverse().apply(p);
  return std::abs(std::hypot(q.x, q.y) - radius);
}

RigidMotion post_frame(const StopPost& post) {
  return rim_frame({post.axis_point, post.up, post.radius});
}

/// Distance from the nearest wall of a set of outlines, in the outer face's own millimetres.
double outline_distance(const GuideFace& face, const std::vector<CutWall>& walls, Vec3 p) {
  const GuideFace::Where where = face.where(p);
  const SurfaceJet h = face.base().section(where.at).base_support(Angle::from_radians(where.theta));
  const double radius = h.f + h.f_tt + where.offset;
  double least = 1e300;
  for (const CutWall& wall : walls) {
    for (std::size_t i = 0; i < wall.corners.size(); ++i) {
      const Vec2 off = wall.corners[i] - Vec2{where.theta, where.at};
      const Vec2 side = wall.corners[(i + 1) % wall.corners.size()] - wall.corners[i];
      const Vec2 a{off.x * radius, off.y};
      const Vec2 s{side.x * radius, side.y};
      const double t = std::clamp(-dot(a, s) / dot(s, s), 0.0, 1.0);
      least = std::min(least, length(a + s * t));
    }
  }
  return least;
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
    expected_.volume = measure_.saddle_volume();
    inner_area_ = measure_.face_area(plan_.inner);
    outer_area_ = measure_.face_area(plan_.outer);
    add_flat_sides();
    for (const GuideBoss* boss : plan_.bosses()) add_boss(*boss);
    if (plan_.post) add_post(*plan_.post);
    add_sights();
    add_engraving();
    add_face("inner face", plan_.inner, inner_area_);
    add_face("outer face", plan_.outer, outer_area_);
    expected_.genus = static_cast<int>(plan_.bosses().size() + plan_.sights.size());
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

  void add_flat_sides() {
    add_plane("end toward A", {0, 0, -plan_.at.from}, {0, 0, 1}, measure_.section_area(plan_.at.from));
    add_plane("end toward B", {0, 0, -plan_.at.to}, {0, 0, 1}, measure_.section_area(plan_.at.to));
    add_plane("feet", plan_.foot.point, plan_.foot.up, measure_.foot_area(1) + measure_.foot_area(-1));
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
    const double boss = pi * R * R * hole.top - measure_.heights(plan_.outer, frame, 0.0, R);
    const double bore = pi * r * r * hole.top - measure_.heights(plan_.inner, frame, 0.0, r);
    expected_.volume += boss - bore;
    add_bore(hole, frame, rim, foot);
  }

  void add_bore(const GuideBoss& hole, const RigidMotion& frame, double rim, double foot) {
    const double start = rim - hole.bore_radius;
    BoreExpectation bore;
    bore.name = "bore of " + hole.id;
    bore.from = frame.apply({0, 0, start});
    bore.to = frame.apply({0, 0, hole.top + probe_beyond});
    bore.ring_radius = hole.bore_radius + ring_beyond;
    bore.ring_at = {0.5 * (rim + foot) - start, 0.5 * (foot + hole.top) - start};
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
      const GuideFace outer = plan_.outer;
      add(
          "sighting window " + std::to_string(i + 1),
          [outer, walls](Vec3 p) { return outline_distance(outer, walls, p); }, measure_.wall_area(walls[0]));
      const Vec2 middle = outline_middle(corners);
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
      const Vec2 middle = outline_middle(wall.corners);
      const double high = plan_.outer.field()(middle.x, middle.y).value;
      wall_area += measure_.wall_area(wall);
      floor_area += measure_.outline_area_on(plan_.outer, wall.corners, guide_sizes::engraving);
      outer_area_ -= measure_.outline_area_on(plan_.outer, wall.corners, 0.0);
      expected_.volume -= measure_.outline_volume(wall.corners, high - guide_sizes::engraving, high);
    }
    const GuideFace outer = plan_.outer;
    add(
        "walls of the engraving", [outer, walls](Vec3 p) { return outline_distance(outer, walls, p); },
        wall_area);
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
