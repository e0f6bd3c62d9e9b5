#pragma once
/// A guide set on a tube by other means than the kernel's: contact points of its own, distances from
/// differences of Tube::outside, straps as the hull around guide and tube, the GNU Linear Programming Kit,
/// and holes measured on polygons.
#include <glpk.h>

#include <algorithm>
#include <functional>

#include "plan/hole_tolerance_draws.hpp"

namespace culmwright::test {

/// Lower bounds at rows of six coefficients, `equal` of them (the first) as equations; |x| ≤ box.
struct Rows6 {
  std::vector<std::array<double, 6>> rows;
  std::vector<double> least;
  int equal = 0;
};

/// The minimum of cost · x by GLPK's simplex method; nothing where no x satisfies the rows.
inline std::optional<std::array<double, 6>> minimum_by_glpk(const std::array<double, 6>& cost,
                                                            const Rows6& rows, double box) {
  glp_term_out(GLP_OFF);
  glp_prob* problem = glp_create_prob();
  glp_set_obj_dir(problem, GLP_MIN);
  glp_add_cols(problem, 6);
  for (int j = 0; j < 6; ++j) {
    glp_set_col_bnds(problem, j + 1, GLP_DB, -box, box);
    glp_set_obj_coef(problem, j + 1, cost[j]);
  }
  glp_add_rows(problem, static_cast<int>(rows.rows.size()));
  const int columns[7] = {0, 1, 2, 3, 4, 5, 6};
  for (std::size_t i = 0; i < rows.rows.size(); ++i) {
    const int r = static_cast<int>(i) + 1;
    const bool fixed = static_cast<int>(i) < rows.equal;
    double values[7] = {0.0};
    std::copy(rows.rows[i].begin(), rows.rows[i].end(), values + 1);
    glp_set_row_bnds(problem, r, fixed ? GLP_FX : GLP_LO, rows.least[i], rows.least[i]);
    glp_set_mat_row(problem, r, 6, columns, values);
  }
  glp_smcp how;
  glp_init_smcp(&how);
  how.msg_lev = GLP_MSG_OFF;
  how.tol_bnd = how.tol_dj = 1e-9;
  const bool solved = glp_simplex(problem, &how) == 0 && glp_get_status(problem) == GLP_OPT;
  std::array<double, 6> x{};
  for (int j = 0; j < 6; ++j) x[j] = glp_get_col_prim(problem, j + 1);
  glp_delete_prob(problem);
  if (!solved) return {};
  return x;
}

/// Length of the closed convex curve around points of the plane (Andrew's monotone chain).
inline double hull_length(std::vector<Vec2> points) {
  std::sort(points.begin(), points.end(),
            [](Vec2 a, Vec2 b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
  std::vector<Vec2> hull;
  for (int pass = 0; pass < 2; ++pass) {
    const std::size_t start = hull.size();
    for (const Vec2& p : points) {
      while (hull.size() >= start + 2 && cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0.0) {
        hull.pop_back();
      }
      hull.push_back(p);
    }
    hull.pop_back();
    std::reverse(points.begin(), points.end());
  }
  double sum = 0.0;
  for (std::size_t i = 0; i < hull.size(); ++i) sum += length(hull[(i + 1) % hull.size()] - hull[i]);
  return sum;
}

class Bench {
 public:
  Bench(const GuidePlan& plan, const Tube& truth, const GuideSetting& setting)
      : plan_(plan), truth_(truth), setting_(setting) {
    centre_ = plan.inner.point(plan.middle(), plan.at.middle());
    collect();
  }

  /// Sets the guide: moved by small turns and shifts until GLPK finds nothing better. Nothing where it does
  /// not go onto the tube.
  std::optional<RigidMotion> settle() {
    for (int round = 0; round < 25; ++round) {
      const Rows6 rows = conditions();
      std::optional<std::array<double, 6>> found;
      for (double box = round < 8 ? 1.0 : 0.1; !found && box < 15.0; box *= 2.0) {
        found = minimum_by_glpk(pull(), rows, box);
      }
      if (!found) return {};
      motion_ = small(*found).after(motion_);
      double moved = 0.0;
      for (double v : *found) moved = std::max(moved, std::abs(v));
      if (moved < 1e-6) break;
    }
    return motion_;
  }

  /// Of the straps over their back, without what lies on the guide.
  double strap_length(const RigidMotion& motion) const {
    double sum = 0.0;
    for (const Span& strap : plan_.straps.size() >= 2 ? plan_.straps : plan_.pads) {
      const double at = strap.middle();
      std::vector<Vec2> points;
      const Section section = truth_.section(at);
      for (int i = 0; i < 720; ++i) {
        const Angle theta = Angle::from_degrees(0.5 * i);
        // The guide bridges the front: there the strap lies on it and keeps its length.
        if (dot(direction(theta), direction(Angle::from_radians(plan_.middle()))) > 0.0) continue;
        points.push_back(section.point(theta));
      }
      for (int side : {-1, 1}) {
        const Vec3 p = motion.apply(plan_.outer.point(plan_.foot_theta(plan_.outer, side, at), at));
        points.push_back({p.x, p.y});
      }
      const std::size_t n = points.size();
      sum += hull_length(points) - length(points[n - 1] - points[n - 2]);
    }
    return sum;
  }

  double deepest() const {
    double least = 1e300;
    for (const Contact& contact : contacts_) least = std::min(least, gap(contact, motion_));
    return least;
  }

 private:
  struct Contact {
    Vec3 point;
    int pad;
  };

  void collect() {
    const double low = plan_.post && plan_.post->end == End::a ? -plan_.post->touches.z : plan_.at.from;
    const double high = plan_.post && plan_.post->end == End::b ? -plan_.post->touches.z : plan_.at.to;
    for (int end = 0; end < 2; ++end) {
      for (int side = 0; side < 2; ++side) {
        for (double off = -13.0; off <= 13.0; off += 2.0) {
          for (double along = -5.6; along <= 5.7; along += 2.8) {
            const double at = plan_.pads[end].middle() + along;
            if (at < low || at > high) continue;
            const double theta = plan_.middle() + ((side == 0 ? -55.0 : 55.0) + off) * pi / 180.0;
            contacts_.push_back({plan_.inner.point(theta, at), 2 * end + side});
          }
        }
      }
    }
    for (double at = low; at <= high; at += 10.0) {
      for (double deg = -75.0; deg <= 75.0; deg += 7.5) {
        contacts_.push_back({plan_.inner.point(plan_.middle() + deg * pi / 180.0, at), -1});
      }
    }
  }

  double gap(const Contact& contact, const RigidMotion& motion) const {
    return truth_.outside(motion.apply(contact.point)) -
           (contact.pad >= 0 ? setting_.pads[contact.pad] : 0.0);
  }

  /// A shift by x₀ … x₂ and turns that move a point 20 mm away by x₃ … x₅.
  RigidMotion small(const std::array<double, 6>& x) const {
    const auto turn = [](int axis, double angle) {
      const double c = std::cos(angle), s = std::sin(angle);
      if (axis == 0) return RigidMotion{{1, 0, 0}, {0, c, s}, {0, -s, c}, {}};
      if (axis == 1) return RigidMotion{{c, 0, -s}, {0, 1, 0}, {s, 0, c}, {}};
      return RigidMotion{{c, s, 0}, {-s, c, 0}, {0, 0, 1}, {}};
    };
    RigidMotion all = turn(0, x[3] / 20.0).after(turn(1, x[4] / 20.0)).after(turn(2, x[5] / 20.0));
    const Vec3 centre = motion_.apply(centre_);
    all.origin = centre - all.turn(centre) + Vec3{x[0], x[1], x[2]};
    return all;
  }

  /// Differences of a function of the motion by each unknown.
  std::array<double, 6> differences(const std::function<double(const RigidMotion&)>& f, double step) const {
    std::array<double, 6> row{};
    for (int j = 0; j < 6; ++j) {
      std::array<double, 6> x{};
      x[j] = step;
      const double up = f(small(x).after(motion_));
      x[j] = -step;
      row[j] = (up - f(small(x).after(motion_))) / (2.0 * step);
    }
    return row;
  }

  double along(const RigidMotion& motion) const {
    if (plan_.pegs.empty()) {
      const Vec3 held = plan_.post ? plan_.post->touches : corners().front();
      return held.z - motion.apply(held).z - setting_.along;
    }
    double sum = 0.0;
    for (std::size_t i = 0; i < plan_.pegs.size(); ++i) {
      sum += setting_.peg_holes[i].z - motion.apply(plan_.pegs[i].drilling.point).z;
    }
    return sum / static_cast<double>(plan_.pegs.size()) - setting_.along;
  }

  std::vector<Vec3> corners() const {
    std::vector<Vec3> points;
    for (const SightingWindow& window : plan_.sights) {
      for (int corner : {0, 2}) {
        points.push_back(plan_.inner.point(window.corners[corner].x, window.corners[corner].y));
      }
    }
    return points;
  }

  double peg_beside(std::size_t i, const RigidMotion& motion) const {
    const Vec3 hole = setting_.peg_holes[i];
    const Vec3 off = motion.apply(plan_.pegs[i].drilling.point) - hole;
    const Section section = truth_.section(-hole.z);
    Angle theta;
    section.outside({hole.x, hole.y}, &theta);
    return dot(Vec2{off.x, off.y}, tangent(theta));
  }

  double sight(const RigidMotion& motion) const {
    double sum = 0.0;
    if (!plan_.pegs.empty()) {
      for (std::size_t i = 0; i < plan_.pegs.size(); ++i) sum += peg_beside(i, motion);
      return sum / static_cast<double>(plan_.pegs.size()) - setting_.sight;
    }
    const std::vector<Vec3> points = corners();
    for (const Vec3& corner : points) {
      const Vec3 q = motion.apply(corner);
      const Section section = truth_.section(-q.z);
      const Angle theta = section.theta_on_half_plane(plan_.sighting_line->facing);
      sum += dot(Vec2{q.x, q.y} - section.point(theta), tangent(theta));
    }
    return sum / static_cast<double>(points.size()) - setting_.sight;
  }

  Rows6 conditions() const {
    Rows6 rows;
    rows.equal = 2;
    const auto add = [&](const std::function<double(const RigidMotion&)>& f) {
      rows.rows.push_back(differences(f, 1e-4));
      rows.least.push_back(-f(motion_));
    };
    add([&](const RigidMotion& m) { return along(m); });
    add([&](const RigidMotion& m) { return sight(m); });
    for (double sign : {1.0, -1.0}) {
      if (plan_.pegs.size() < 2) break;
      add([&](const RigidMotion& m) {
        return setting_.peg_play + sign * 0.5 * (peg_beside(0, m) - peg_beside(1, m));
      });
    }
    for (const Contact& contact : contacts_) {
      if (gap(contact, motion_) > 1.5) continue;
      add([&](const RigidMotion& m) { return gap(contact, m); });
    }
    return rows;
  }

  /// How the straps grow longer.
  std::array<double, 6> pull() const {
    return differences([&](const RigidMotion& m) { return strap_length(m); }, 1e-3);
  }

  const GuidePlan& plan_;
  const Tube& truth_;
  GuideSetting setting_;
  Vec3 centre_;
  std::vector<Contact> contacts_;
  RigidMotion motion_;
};

/// Where an axis meets the skin, by halving; along and around by measuring a polygon from the line.
struct MeasuredHole {
  double at = 0.0;
  double around = 0.0;
  Vec3 point;
};

inline MeasuredHole measure_hole(const Tube& truth, Vec3 point, Vec3 axis) {
  double low = -5.0, high = 5.0;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (truth.outside(point + axis * middle) < 0.0 ? low : high) = middle;
  }
  const Vec3 p = point + axis * low;
  const Section section = truth.section(-p.z);
  // The polygon's corners, from the line's corner on; the hole is on the edge nearest to it.
  constexpr int corners = 7200;
  std::vector<Vec2> polygon;
  for (int i = 0; i < corners; ++i) polygon.push_back(section.point(Angle::from_degrees(0.05 * i)));
  const auto place = [&](const std::function<double(Vec2)>& off) {
    int best = 0;
    for (int i = 1; i < corners; ++i) {
      if (off(polygon[i]) < off(polygon[best])) best = i;
    }
    return best;
  };
  const int line = place([](Vec2 q) { return q.x > 0.0 ? std::abs(q.y) : 1e9; });
  const int hole = place([&](Vec2 q) { return length(q - Vec2{p.x, p.y}); });
  double way = 0.0;
  for (int i = line; i != hole; i = (i + 1) % corners) way += length(polygon[(i + 1) % corners] - polygon[i]);
  // From corner to the very point, at both ends.
  const Vec2 t_line = unit(polygon[(line + 1) % corners] - polygon[(line + corners - 1) % corners]);
  const Vec2 t_hole = unit(polygon[(hole + 1) % corners] - polygon[(hole + corners - 1) % corners]);
  way += polygon[line].y / t_line.y + dot(Vec2{p.x, p.y} - polygon[hole], t_hole);
  return {-p.z, way, p};
}

}  // namespace culmwright::test
