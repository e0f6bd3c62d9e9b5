#include "plan/seating.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/numeric.hpp"
#include "base/problem.hpp"
#include "plan/seating_contact.hpp"
#include "plan/seating_programme.hpp"

namespace culmwright {

using namespace guide_sizes;
using Row = Eigen::Matrix<double, 1, 6>;
using Vector6 = Eigen::Matrix<double, 6, 1>;

namespace {

constexpr double lever = 20.0;  ///< turns are counted as the way at this radius, millimetres
constexpr double reach = 3.0;
constexpr double first_box = 2.0;
constexpr int greatest_rounds = 40;
constexpr int patient_rounds = 10;  ///< after these the box shrinks, so that it ends on curved contact
/// What is left after a step of this is its square over the radius.
constexpr double at_rest = 1e-6;
constexpr double section_kept = 0.02;  ///< along; the gaps are right to the third order of it
constexpr double allowed_inside = 1e-6;
constexpr double near_contact = 0.3;  ///< points farther off are left out of the programme

Vec2 flat(Vec3 p) {
  return {p.x, p.y};
}

/// The row of a plane condition N · (u + ω × x) in the unknowns (u, lever · ω).
Row row_of(Vec3 normal, Vec3 x) {
  const Vec3 turning = cross(x, normal) * (1.0 / lever);
  Row row;
  row << normal.x, normal.y, normal.z, turning.x, turning.y, turning.z;
  return row;
}

/// Rotation by the vector ω about `about`, then the shift u.
RigidMotion motion_of(Vec3 u, Vec3 omega, Vec3 about) {
  const double angle = length(omega);
  RigidMotion turn;
  if (angle > 0.0) {
    const Vec3 axis = omega * (1.0 / angle);
    const auto rotated = [&](Vec3 v) {
      return v * std::cos(angle) + cross(axis, v) * std::sin(angle) +
             axis * (dot(axis, v) * (1.0 - std::cos(angle)));
    };
    turn = {rotated({1, 0, 0}), rotated({0, 1, 0}), rotated({0, 0, 1}), {}};
  }
  turn.origin = about - turn.turn(about) + u;
  return turn;
}

/// One side of a strap: where it leaves the guide, and which way it pulls.
struct StrapPull {
  Vec3 point;
  Vec3 toward;  ///< unit
};

StrapPull strap_pull(const GuidePlan& plan, double at, int side) {
  const Vec3 corner = plan.outer.point(plan.foot_theta(plan.outer, side, at), at);
  const Section section = plan.outer.base().section(at);
  // Where the tangent from the corner touches the back: q · n − h falls through zero.
  const auto beyond = [&](double t) {
    const Angle theta = Angle::from_radians(t);
    return dot(flat(corner), direction(theta)) - section.base_support(theta).f;
  };
  const double from = plan.middle() + side * 0.5 * pi;
  const double touch = find_root(beyond, from, from + side * 0.5 * pi, 1e-9);
  const Vec2 back = section.point(Angle::from_radians(touch)) - flat(corner);
  const Vec2 toward = unit(back);
  return {corner, {toward.x, toward.y, 0.0}};
}

}  // namespace

struct GuideSeat::Parts {
  std::string name;
  ContactPoints contacts;
  std::vector<StrapPull> straps;
  std::vector<Vec3> corners;  ///< what is set sideways: on pegs, on the drawn line, or on marks
  /// Planned places of pegs' holes, or of the notch: one for each corner; empty where line or marks set it.
  std::vector<SkinPlace> peg_holes;
  std::optional<Angle> line;  ///< the drawn line; without it and without pegs: marks
  std::vector<double> marks;
  Vec3 stop;  ///< the point that is held along the tube
  Vec3 centre;
};

namespace {

/// The search for the rest on one tube. Each round measures gaps and normals where the guide is and solves
/// the linear programme of the small motion from there.
class Settling {
 public:
  Settling(const GuideSeat::Parts& parts, const Tube& tube, const GuideSetting& setting)
      : parts_(parts),
        tube_(tube),
        setting_(setting),
        peg_holes_(setting.peg_holes),
        sections_(parts.contacts.stations.size()),
        gaps_(parts.contacts.points.size()) {
    if (peg_holes_.empty()) {
      for (const SkinPlace& place : parts.peg_holes) peg_holes_.push_back(tube.skin_point(place).point);
    }
    require(peg_holes_.size() == parts.peg_holes.size(), "a guide's pegs and their holes differ in number");
    for (std::size_t i = 0; i < gaps_.size(); ++i) gaps_[i].theta = parts.contacts.points[i].theta;
  }

  std::optional<SeatedGuide> run() {
    double box = first_box;
    take_pads();
    for (int round = 1; round <= greatest_rounds; ++round) {
      measure();
      const std::optional<double> step_made = step(box);
      if (!step_made || length(motion_.apply(parts_.centre) - parts_.centre) > reach) break;
      const double moved = *step_made;
      if (round >= patient_rounds) box *= 0.6;
      if (moved > at_rest) {
        if (measured_.size() > gaps_.size() / 4) keep_near(moved);
        continue;
      }
      // At rest on what was looked at: look at the whole face once more.
      take_all();
      measure();
      if (least_gap() >= -allowed_inside) return SeatedGuide{motion_, least_gap(), bearing_, round};
    }
    return {};
  }

 private:
  void take_pads() {
    measured_.resize(parts_.contacts.on_pads);
    std::iota(measured_.begin(), measured_.end(), 0);
  }
  void take_all() {
    measured_.resize(gaps_.size());
    std::iota(measured_.begin(), measured_.end(), 0);
  }
  /// Of the points measured those that the next small motions may bring to bear.
  void keep_near(double moved) {
    const double near = near_contact + 2.0 * moved;
    measured_.erase(
        std::remove_if(measured_.begin(), measured_.end(), [&](int i) { return gaps_[i].value > near; }),
        measured_.end());
  }

  /// The tube's section for a station of contacts, made anew when the guide has moved along.
  const Section& section_of(int station) {
    const double at = -motion_.apply(parts_.contacts.stations[station]).z;
    std::optional<Section>& section = sections_[station];
    if (!section || std::abs(section->at() - at) > section_kept) section = tube_.section(at);
    return *section;
  }

  void measure() {
    int station = -1;
    const Section* section = nullptr;
    for (const int i : measured_) {
      const ContactPoint& contact = parts_.contacts.points[i];
      if (contact.station != station) section = &section_of(station = contact.station);
      gaps_[i] = gap_at(*section, motion_.apply(contact.point), gaps_[i].theta);
      if (contact.pad >= 0) gaps_[i].value -= setting_.pads[contact.pad];
    }
  }

  double least_gap() const {
    double least = 1e300;
    for (const SkinGap& gap : gaps_) least = std::min(least, gap.value);
    return least;
  }

  /// How far a corner stands beside what it is set on, and the direction in which that counts.
  double beside(std::size_t corner, Vec3 q, Vec2& sideways) const {
    const Section section = tube_.section(-q.z);
    Angle theta;
    double off = 0.0;
    if (!peg_holes_.empty()) {
      section.outside(flat(peg_holes_[corner]), &theta);
      off = dot(flat(q - peg_holes_[corner]), tangent(theta));
    } else if (parts_.line) {
      theta = section.theta_on_half_plane(*parts_.line);
      off = dot(flat(q) - section.point(theta), tangent(theta));
    } else {
      section.outside(flat(q), &theta);
      off = std::remainder(section.around(theta) - parts_.marks[corner], section.girth());
    }
    sideways = tangent(theta);
    return off;
  }

  /// The condition that stop or pegs make along the tube, and that line, marks or pegs make around it.
  void hold(Eigen::Matrix<double, 2, 6>& held, Eigen::Vector2d& wanted) const {
    held.setZero();
    wanted = {-setting_.along, setting_.sight};
    const double share = 1.0 / static_cast<double>(parts_.corners.size());
    for (std::size_t i = 0; i < parts_.corners.size(); ++i) {
      const Vec3 q = motion_.apply(parts_.corners[i]);
      Vec2 sideways;
      wanted[1] -= share * beside(i, q, sideways);
      held.row(1) += share * row_of({sideways.x, sideways.y, 0.0}, q - centre());
      if (peg_holes_.empty()) continue;
      wanted[0] -= share * (q.z - peg_holes_[i].z);
      held.row(0) += share * row_of({0.0, 0.0, 1.0}, q - centre());
    }
    if (!peg_holes_.empty()) return;
    const Vec3 stop = motion_.apply(parts_.stop);
    wanted[0] -= stop.z - parts_.stop.z;
    held.row(0) = row_of({0.0, 0.0, 1.0}, stop - centre());
  }

  Vec3 centre() const { return motion_.apply(parts_.centre); }

  /// One linear programme; returns how far it moved the guide, nothing where no place clears the skin.
  std::optional<double> step(double box) {
    Eigen::Matrix<double, 2, 6> held;
    Eigen::Vector2d wanted;
    hold(held, wanted);
    // x = start + free · y, with held · x = wanted.
    const Eigen::Matrix<double, 6, 2> across = held.transpose();
    const Eigen::HouseholderQR<Eigen::Matrix<double, 6, 2>> qr(across);
    const Eigen::Matrix<double, 6, 6> q = qr.householderQ();
    const Vector6 start = across * (held * across).inverse() * wanted;
    const Eigen::Matrix<double, 6, seat_freedoms> free = q.rightCols<seat_freedoms>();
    const std::optional<Eigen::Vector4d> y = slide(start, free, box);
    if (!y) return {};
    const Vector6 x = start + free * *y;
    const Vec3 u{x[0], x[1], x[2]};
    const Vec3 omega = Vec3{x[3], x[4], x[5]} * (1.0 / lever);
    motion_ = motion_of(u, omega, centre()).after(motion_);
    return x.norm();
  }

  /// Two pegs: half of what they stand beside their holes differently stays within the play, either way.
  void add_yaw(const Vector6& start, const Eigen::Matrix<double, 6, seat_freedoms>& free, int at,
               SeatingProgramme& programme) const {
    double off = 0.0;
    Row row = Row::Zero();
    for (const int i : {0, 1}) {
      const double half = i == 0 ? 0.5 : -0.5;
      const Vec3 q = motion_.apply(parts_.corners[i]);
      Vec2 sideways;
      off += half * beside(i, q, sideways);
      row += half * row_of({sideways.x, sideways.y, 0.0}, q - centre());
    }
    for (const int side : {0, 1}) {
      const double sign = side == 0 ? 1.0 : -1.0;
      programme.rows.row(at + side) = sign * row * free;
      programme.least[at + side] = -setting_.peg_play - sign * (off + row.dot(start));
    }
  }

  std::optional<Eigen::Vector4d> slide(const Vector6& start,
                                       const Eigen::Matrix<double, 6, seat_freedoms>& free, double box) {
    Row pull = Row::Zero();
    for (const StrapPull& strap : parts_.straps) {
      pull -= row_of(motion_.turn(strap.toward), motion_.apply(strap.point) - centre());
    }
    SeatingProgramme programme;
    programme.cost = (pull * free).transpose();
    std::vector<int> near;
    for (const int i : measured_) {
      if (gaps_[i].value < near_contact + box) near.push_back(i);
    }
    const int count = static_cast<int>(near.size());
    const int between_pegs = peg_holes_.size() == 2 ? 2 : 0;
    programme.rows.resize(count + between_pegs, seat_freedoms);
    programme.least.resize(count + between_pegs);
    for (int k = 0; k < count; ++k) {
      const SkinGap& gap = gaps_[near[k]];
      const Vec3 p = motion_.apply(parts_.contacts.points[near[k]].point);
      const Row row = row_of(gap.normal, p - centre());
      programme.rows.row(k) = row * free;
      programme.least[k] = -gap.value - row.dot(start);
    }
    if (between_pegs > 0) add_yaw(start, free, count, programme);
    std::optional<SeatingSolution> solution;
    for (programme.box = box; !solution && programme.box < reach; programme.box *= 2.0) {
      solution = solve(programme);
    }
    if (!solution) return {};
    bearing_.clear();
    for (int j = 0; j < seat_freedoms; ++j) {
      if (solution->bearing[j] >= count || solution->force[j] <= 1e-9) continue;
      bearing_.push_back(parts_.contacts.points[near[solution->bearing[j]]].point);
    }
    return solution->y;
  }

  const GuideSeat::Parts& parts_;
  const Tube& tube_;
  const GuideSetting& setting_;
  std::vector<Vec3> peg_holes_;
  RigidMotion motion_;
  std::vector<std::optional<Section>> sections_;
  std::vector<SkinGap> gaps_;
  std::vector<int> measured_;  ///< contacts looked at in this round
  std::vector<Vec3> bearing_;
};

void set_sideways(const GuidePlan& plan, GuideSeat::Parts& parts) {
  const Tube& tube = plan.inner.base();
  for (const GuidePeg& peg : plan.pegs) {
    parts.corners.push_back(peg.drilling.point);
    const Drilling axis{peg.drilling.point, peg.drilling.axis, 0.0};
    parts.peg_holes.push_back(rim_point(tube, axis, {}).place);
  }
  if (const GuideJoint* tongue = plan.tongue()) {
    parts.corners.push_back(plan.tongue_point());
    const Angle theta = Angle::from_radians(tongue->theta.middle());
    parts.peg_holes.push_back({tongue->at, tube.section(tongue->at).around(theta)});
  }
  if (!parts.corners.empty()) return;
  for (const SightingWindow& window : plan.sights) {
    for (const int corner : {0, 2}) {
      parts.corners.push_back(plan.inner.point(window.corners[corner].x, window.corners[corner].y));
    }
    parts.line = plan.sighting_line->facing;
  }
  if (!parts.corners.empty()) return;
  for (const Span& pad : plan.pads) {
    parts.corners.push_back(plan.inner.point(plan.middle(), pad.middle()));
    parts.marks.push_back(tube.section(pad.middle()).around(Angle::from_radians(plan.middle())));
  }
}

}  // namespace

GuideSeat::GuideSeat(const GuidePlan& plan) {
  auto parts = std::make_shared<Parts>();
  parts->name = plan.name;
  parts->contacts = contact_points(plan);
  for (const Span& strap : plan.straps.size() >= 2 ? plan.straps : plan.pads) {
    for (const int side : {-1, 1}) parts->straps.push_back(strap_pull(plan, strap.middle(), side));
  }
  set_sideways(plan, *parts);
  parts->stop = plan.post ? plan.post->touches : parts->corners.front();
  parts->centre = plan.inner.point(plan.middle(), plan.at.middle());
  parts_ = std::move(parts);
}

std::optional<SeatedGuide> GuideSeat::on(const Tube& true_tube, const GuideSetting& setting) const {
  return Settling(*parts_, true_tube, setting).run();
}

SeatedGuide seat(const GuidePlan& plan, const Tube& true_tube, const GuideSetting& setting) {
  const std::optional<SeatedGuide> seated = GuideSeat(plan).on(true_tube, setting);
  if (!seated) throw GeometryError(plan.name, "seating", "it comes to no rest on its pads near its place");
  return *seated;
}

}  // namespace culmwright
