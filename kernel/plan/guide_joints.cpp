/// Where two guides can be joined end to end.
#include <algorithm>
#include <cmath>

#include "plan/guide_parts.hpp"

namespace culmwright::guide_parts {

using namespace guide_sizes;

namespace {

constexpr double greatest_turn_deg = 36.0;  ///< between the middles of two guides
/// Of the tongue's middle from either guide's: with half its width it stays clear of the pads' flanks.
constexpr double greatest_aside_deg = pad_middle_deg - pad_half_deg - pad_step_deg - tongue_half_deg - 1.0;
constexpr double drawn_out_most = 14.0;  ///< of the guide that has the notch
constexpr double drawn_out_step = 1.0;
constexpr double aside_step_deg = 2.0;
constexpr double notch_margin = 1.5;  ///< from a boss, and from the even part of the faces

double radians(double degrees) {
  return degrees * pi / 180.0;
}

/// Looks for the joint between a guide to come and one that is planned.
class JointFinder {
 public:
  JointFinder(const Job& job, const Span& alone, const GuidePlan& host)
      : job_(job), alone_(alone), host_(host), map_(host), toward_b_(alone.middle() > host.at.middle()) {}

  std::optional<JointPlace> find() const {
    const double turn = std::remainder(job_.middle - host_.middle(), 2.0 * pi);
    if (!may_join(turn, alone_, host_.at)) return {};
    if (has_joint(host_, toward_b_ ? End::b : End::a)) return {};
    const double half = half_width();
    // Between the two middles first, then to either side.
    const Span middles{host_.middle() + std::max(0.0, turn) - radians(greatest_aside_deg),
                       host_.middle() + std::min(0.0, turn) + radians(greatest_aside_deg)};
    for (double out = 0.0; out <= drawn_out_most; out += drawn_out_step) {
      const double at = toward_b_ ? host_.at.to + out : host_.at.from - out;
      if (!within_reach(at)) return {};
      for (double aside = 0.0; aside <= 0.5 * middles.length(); aside += radians(aside_step_deg)) {
        for (const double side : {1.0, -1.0}) {
          const JointPlace place = joint(at, middles.middle() + side * aside, half);
          if (clear(place.notch)) return place;
        }
      }
    }
    return {};
  }

 private:
  static bool has_joint(const GuidePlan& plan, End end) {
    return std::any_of(plan.joints.begin(), plan.joints.end(),
                       [&](const GuideJoint& joint) { return joint.toward == end; });
  }

  double half_width() const {
    const double at = toward_b_ ? host_.at.to : host_.at.from;
    return std::min(0.5 * tongue_width / host_.outer.radius(host_.middle(), at), radians(tongue_half_deg));
  }

  /// Whether the guide to come reaches that plane on this bed, and the other one may be drawn out to it.
  bool within_reach(double at) const {
    const double gap = toward_b_ ? alone_.from - at : at - alone_.to;
    const double drawn_out = toward_b_ ? at - host_.reach().from : host_.reach().to - at;
    return gap >= 0.0 && alone_.length() + gap + tongue_length <= job_.longest() &&
           drawn_out <= job_.longest() && job_.ends().contains(at);
  }

  JointPlace joint(double at, double theta, double half) const {
    JointPlace place;
    place.notch = {toward_b_ ? End::b : End::a,    false, job_.name(), at, {theta - half, theta + half},
                   tongue_length + tongue_tip_room};
    // The fit is met at the inner face, where the walls are nearest to each other.
    const double fit = job_.shop.guides.joint_fit / host_.inner.radius(theta, at);
    const double own = job_.middle + std::remainder(theta - job_.middle, 2.0 * pi);
    place.tongue = {toward_b_ ? End::a : End::b,          true,         host_.name, at,
                    {own - half + fit, own + half - fit}, tongue_length};
    return place;
  }

  bool clear(const GuideJoint& notch) const {
    const Span along = notch.along();
    // The tongue's root is as long again: the faces of both guides are even there.
    const Span even{toward_b_ ? along.from : along.from - notch_margin,
                    toward_b_ ? along.to + notch_margin : along.to};
    const FlatMap::Box box{map_.flat(notch.theta.from, even.from), map_.flat(notch.theta.to, even.to)};
    if (!map_.even(box, notch_margin)) return false;
    return std::none_of(job_.holes.begin(), job_.holes.end(), [&](const GuideHole& hole) {
      const double apart = std::abs(-hole.drilling.point.z - notch.at);
      return apart < hole.boss_radius + notch_margin;
    });
  }

  const Job& job_;
  const Span& alone_;
  const GuidePlan& host_;
  FlatMap map_;
  bool toward_b_;  ///< the guide to come lies toward end B
};

}  // namespace

bool may_join(double turn, const Span& one, const Span& other) {
  const bool apart = one.to <= other.from || other.to <= one.from;
  return apart && std::abs(turn) <= radians(greatest_turn_deg);
}

std::optional<JointPlace> joint_place(const Job& job, const Span& alone, const GuidePlan& host) {
  return JointFinder(job, alone, host).find();
}

}  // namespace culmwright::guide_parts
