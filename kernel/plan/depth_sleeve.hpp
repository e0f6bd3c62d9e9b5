#pragma once
/// Depth sleeves as numbers: printed tubes that slip over the drill, between its chuck and the bush, so that
/// it goes as deep as it must and no deeper.
///
///      chuck            set in the chuck with the sleeve against its jaws, so that the tip
///     [=====]           stands out of the sleeve by `depth`
///      | : |  sleeve, six flats, engraved: depth, its own length, holes
///      | : |
///     ======== bush     it bears on the bush's rim (on the boss where there is no bush);
///        :              the bore is wide, so that chips do not jam between drill and sleeve
///        v  depth: from the top of the bush to the tip
///
/// Holes share a sleeve where one depth serves all of them: none is drilled deeper than `deeper_at_most`
/// beyond its own stop, none nearer to the far wall than it may be. So there are as few sleeves as can be.
#include <string>
#include <vector>

#include "plan/cradle_plan.hpp"
#include "plan/drilling_depth.hpp"
#include "plan/expectation.hpp"

namespace culmwright {

/// Sizes of depth sleeves. Common practice.
namespace sleeve_sizes {
constexpr int flats = 6;
constexpr double least_across = 12.0;  ///< a flat then takes letters of 5
constexpr double wall = 2.4;
constexpr double over_bush = 3.0;  ///< wider than the bush that it bears on
constexpr double room = 0.75;      ///< around the drill, per side, for chips
constexpr double least_bearing = 0.7;
constexpr double least_length = 8.0;
constexpr double deeper_at_most = 3.0;
constexpr double shank_free = 5.0;  ///< of plain shank that stands out of the chuck above the flutes
constexpr double engraving = 0.5;   ///< deep
constexpr double text_margin = 1.0;
}  // namespace sleeve_sizes

/// A hole as far as its depth goes.
struct DepthAtHole {
  std::string id;
  double drill = 0.0;         ///< diameter
  double bush_outside = 0.0;  ///< 0: the drill turns in a plain bore
  DrillingDepth depth;
};

struct DepthSleeve {
  int number = 1;
  std::vector<std::string> ids;  ///< of its holes
  double drill = 0.0;            ///< diameter
  double depth = 0.0;            ///< of the tip beyond the sleeve
  double length = 0.0;
  double bore_radius = 0.0;
  double across = 0.0;           ///< over two opposite flats
  double room_left = 0.0;        ///< from the tip to the nearest far wall, of the worst of its holes
  std::vector<PlaneText> texts;  ///< in the sleeve's frame: z along the drill toward the chuck
  std::vector<std::string> notes;

  std::string part() const { return "depth sleeve " + std::to_string(number); }
  /// Of the drill out of its chuck.
  double stands_out() const { return depth + length; }
  double flat_width() const;
};

struct DepthSleeves {
  std::vector<DepthSleeve> sleeves;   ///< the shallowest first
  std::vector<std::string> left_out;  ///< holes that get none, and why
};

/// How far a straight drill of that diameter can stand out of its chuck: flutes and a little of the shank.
/// Flutes from the drawer where known, else those of DIN 338 (from memory).
double drill_reach(const Shop& shop, double diameter);

/// Deterministic. A hole whose drill is too short for bush, depth and sleeve, or whose far wall is nearer
/// than its stop may come, is left out by name.
DepthSleeves plan_depth_sleeves(const std::vector<DepthAtHole>& holes, const Shop& shop);

/// What the solid must be, in the sleeve's frame; closed form.
Expectation expectation_of(const DepthSleeve& sleeve);

}  // namespace culmwright
