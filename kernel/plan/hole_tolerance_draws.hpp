#pragma once
/// Steps of the tolerance of holes: a guide as it is made and set, a hole as it is drilled. For the tolerance
/// and its tests.
#include <map>
#include <optional>

#include "base/draws.hpp"
#include "plan/hole_tolerance.hpp"

namespace culmwright {

/// Where one hole comes out on one tube, and how far out of square.
struct HoleMiss {
  double along = 0.0;   ///< from the wanted place, toward end B
  double around = 0.0;  ///< from the wanted place, toward growing `around`
  Angle tilt;
  Vec3 point;  ///< where the axis pierces the skin, in the tube's frame
};

/// An axis in the plan's frame, as it really runs.
struct DrilledAxis {
  Vec3 point;
  Vec3 direction;  ///< unit, outward
};

/// A hole of a plan, to be measured on tubes other than the planned one.
class HoleProbe {
 public:
  HoleProbe(const Tube& planned, const GuideHole& hole);
  /// `seat`: from the plan's frame to the frame of `true_tube`.
  HoleMiss miss(const Tube& true_tube, const RigidMotion& seat, const DrilledAxis& axis) const;
  SkinPlace wanted() const { return wanted_; }

 private:
  Drilling drilling_;
  Angle theta_;  ///< of the planned axis
  SkinPlace wanted_;
  double lean_ = 0.0;  ///< planned angle from the smooth normal, in the section
};

/// A guide as printed and set once.
struct GuideMade {
  GuideSetting setting;  ///< without the holes of its pegs
  double scale = 0.0;    ///< its length came out longer by this share
};
GuideMade made(const GuidePlan& plan, const ToleranceOptions& options, Draws& draws);

/// The axis as bush and bit stand: each anywhere in its play at the skin and at the top of the boss.
DrilledAxis drilled_axis(const GuidePlan& plan, const GuideHole& hole, double scale,
                         const ToleranceOptions& options, Draws& draws);
DrilledAxis planned_axis(const GuideHole& hole);

/// All guides of a set, to be set on one tube after the other.
class GuideSet {
 public:
  /// `plans` must outlive it.
  GuideSet(const Tube& planned, const std::vector<GuidePlan>& plans);

  /// Every hole in order, guide by guide; a peg stands in the hole that an earlier guide has drilled here, a
  /// tongue in the notch of the guide that stands here.
  /// Without `options` all is printed and set as planned. Nothing for the holes of a guide that does not go
  /// onto the tube, or whose peg's hole is missing.
  std::vector<std::optional<HoleMiss>> drill(const Tube& true_tube, const ToleranceOptions* options,
                                             unsigned seed) const;

 private:
  struct Guide {
    const GuidePlan* plan;
    GuideSeat seat;
    std::vector<HoleProbe> probes;
  };
  /// A guide as it stands on a tube, for another to lock to.
  struct OnTube {
    const GuidePlan* plan = nullptr;
    RigidMotion seat;
    double scale = 0.0;
  };
  std::optional<SeatedGuide> set(const Guide& guide, const Tube& true_tube, GuideSetting setting,
                                 const std::map<std::string, Vec3>& drilled,
                                 const std::map<std::string, OnTube>& on_tube) const;
  std::map<std::string, Vec3> holes_there(const Tube& true_tube, const ToleranceOptions* options,
                                          Draws& draws) const;
  std::vector<Guide> guides_;
  std::map<std::string, SkinPlace> there_;  ///< holes with pegs that were drilled before these guides
};

}  // namespace culmwright
