#pragma once
/// How a guide sits on a tube that is not quite the one it was made from.
///
/// The guide is a rigid body with six freedoms. Along the tube its stop holds it; the turn is set by the eye,
/// the sharp corners of its sighting windows over the line drawn on the tube (their mean sideways miss is
/// zero, or what is said). Pegs in holes drilled before set both, in the mean over the pegs; two pegs hold
/// the yaw within their play. A tongue sets both in the same way, in the notch of the guide that it locks to,
/// wherever that one stands. In the four that are left it follows its straps: it comes to rest where they
/// can shorten no more, with no point of its inner face inside the skin,
///
///     minimise the straps' length over (u, ω)   subject to   gapᵢ + Nᵢ · (u + ω × xᵢ) ≥ 0,
///
/// a linear programme, solved again at each new position until it no longer moves. A strap runs from the
/// guide's two lower edges straight to where it touches the tube's back; both sides pull alike. Contact
/// slides without friction: a guide that sticks before it is home stays out of this reckoning, so work the
/// straps home in turns. Neither guide nor tube gives way.
///
/// A tube thicker than planned lifts the guide onto the outer edges of its pads, a thinner one lets it sink
/// onto their inner edges: the same error of a girth moves it farther one way than the other.
#include <array>
#include <memory>
#include <optional>
#include <vector>

#include "plan/guide_plan.hpp"

namespace culmwright {

/// How the guide was made and set, as departures from the plan.
struct GuideSetting {
  double along = 0.0;  ///< stop or pegs let it stand so much farther toward end B
  double sight = 0.0;  ///< corners or pegs stand so much beside line or hole, toward growing `around`
  std::array<double, 4> pads{};  ///< printed so much too thick: low end −θ, +θ, high end −θ, +θ
  double peg_play = 0.1;         ///< of a peg in its bore, per side: two pegs let the guide yaw so far
  /// Where the holes for the plan's pegs came out, on this tube's skin, or the notch for its tongue, as
  /// GuidePlan::tongue_point; empty: where they were planned.
  std::vector<Vec3> peg_holes{};
};

struct SeatedGuide {
  RigidMotion to_tube;        ///< from the plan's frame to the frame of the tube it sits on
  double least_gap = 0.0;     ///< over the whole inner face; at rest not under −1e-6
  std::vector<Vec3> bearing;  ///< points of the plan that bear on the skin, two to four
  int rounds = 0;
};

/// A plan's points of contact, straps and sights, made once; then seats it on any tube.
class GuideSeat {
 public:
  explicit GuideSeat(const GuidePlan& plan);

  /// `true_tube` in its own frame (tube/directions.hpp), which has the line that was drawn on it. Nothing
  /// where the guide finds no rest within 15 mm of its place: it does not go onto that tube, or its straps do
  /// not hold it on its pads.
  std::optional<SeatedGuide> on(const Tube& true_tube, const GuideSetting& setting = {}) const;

  struct Parts;

 private:
  std::shared_ptr<const Parts> parts_;
};

/// Throws GeometryError naming the guide where it finds no rest.
SeatedGuide seat(const GuidePlan& plan, const Tube& true_tube, const GuideSetting& setting = {});

}  // namespace culmwright
