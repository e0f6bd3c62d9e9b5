#pragma once
/// Backing for the bore, so that the drill breaks through into something and splits nothing off: how wide the
/// bore is at every hole and on the way in, and half-round shoes that lie against the wall under the holes.
///
///        bit
///      ___|___  wall                 the shoe is the bore's own shape less a loose fit, cut off flat;
///     (  shoe  )                     a stick slid in under it holds it against the wall, planed to what is
///     |--------|  flat               left between the flat and the far wall
///     |  stick |
///      `-.__.-´
///
/// The way in is straight: the widest round bar, parallel to the tube's straight axis, that passes all
/// sections and all pierced nodes up to there.
#include <optional>
#include <string>
#include <vector>

#include "layout/instrument.hpp"
#include "layout/shop.hpp"
#include "plan/cradle_plan.hpp"

namespace culmwright {

/// Sizes of backing. Common practice of printed parts.
namespace backing_sizes {
constexpr double fit = 0.3;          ///< per side, loose
constexpr double widest_deg = 70.0;  ///< of the bore's normal from the shoe's middle, each way
constexpr double narrowest_deg = 40.0;
constexpr double beside_deg = 4.0;    ///< of a shoe beside the rims of its holes, at least
constexpr double reach_deg = 35.0;    ///< of a hole from the shoe's middle, at most
constexpr double beyond = 8.0;        ///< of a shoe beyond the rims of its holes
constexpr double least_height = 2.0;  ///< of a shoe under its crown: a pilot's point needs one
constexpr double room_to_pass = 0.5;  ///< of a shoe in the narrowest place, on its width
constexpr double diaphragm_room = 1.0;
constexpr double engraving = 0.5;
}  // namespace backing_sizes

/// The way in from one end.
struct WayIn {
  End from = End::a;
  double diameter = 0.0;  ///< of the widest round bar; 0 where a node is whole
  std::string narrowest;  ///< "node 2, pierced 6 mm", "node 1, not pierced", or "the bore at 120 mm"
};
/// Up to that place along the tube. Accuracy 0.01 mm.
WayIn way_in(const Tube& tube, End from, double at);

struct BoreAtHole {
  std::string id;
  double at = 0.0;
  double least_across = 0.0;  ///< of the bore's section there
  WayIn way;                  ///< from the end with the wider way
  std::string shoe;           ///< its name, or empty
  std::string why_none;       ///< in words where there is none
};

struct BackingShoe {
  std::string name;  ///< "backing 1"
  std::vector<std::string> ids;
  GuideFace face;  ///< the bore as a skin, less the fit
  Span at;
  double half = 0.0;    ///< radians from its middle to the flat's edges, about: as wide as the way in allows
  double flat = 0.0;    ///< height of the flat over the straight axis, toward the shoe's middle
  double height = 0.0;  ///< least, from the flat to the crown
  double width = 0.0;   ///< greatest across the flat: what has to pass the way in
  WayIn way;
  Span stick;  ///< least and greatest room between the flat and the far wall
  std::vector<PlaneText> texts;
  std::vector<std::string> notes;
  RigidMotion frame() const;  ///< at its middle: x toward growing θ, y toward its middle, z toward end B
};

struct BackingPlan {
  std::vector<BoreAtHole> bores;  ///< in the instrument's order
  std::vector<BackingShoe> shoes;
};

/// Which holes can be backed, and the shoes. Says by name which cannot, and why; throws nothing.
BackingPlan plan_backing(const Tube& tube, const Instrument& instrument, const Shop& shop);

Expectation expectation_of(const BackingShoe& shoe);

/// Flat down on the bed: nothing to hold up. Along the longer side of the bed.
RigidMotion printing_position(const BackingShoe& shoe, const Printer& printer);

}  // namespace culmwright
