#pragma once
/// A saw collar as numbers: a split ring that is slid on from the end that comes off, hugs the skin of the
/// part that stays, is drawn tight by a cable tie or a strap, and whose end face is the fence for the saw:
/// the plane of the cut, square to the tube's axis.
///
///      waste   | cut        stays
///     ~~~~~~~~~|==========================      fence: the end of a thick rim, true off the printer's bed
///              |######                          rim
///              |#########.__.--.____.--.        tie or strap in its groove
///              |========================'       bore: the skin, a sliding fit outside it
///     - - - - -|- - - - - - - - - - - - - - axis
///
/// It stands on the part that stays, not on the waste: the saw's kerf then falls into the waste and the
/// length is the fence's; the collar binds the fibres at the edge that matters, so that they do not splinter;
/// there is room for it however little comes off. The split lies opposite the reference line; a window stands
/// with its two corners on the line. All in the tube's frame; θ is unwrapped around the reference line.
#include <string>
#include <vector>

#include "plan/cut_walls.hpp"
#include "plan/expectation.hpp"
#include "plan/guide_face.hpp"

namespace culmwright {

/// Sizes of saw collars. Common practice of printed parts.
namespace collar_sizes {
constexpr double fit = 0.2;           ///< outside the skin, per side; the tie takes it up
constexpr double rim_length = 6.0;    ///< of the thick rim, along
constexpr double rim_thick = 9.0;     ///< for the saw blade to lie against
constexpr double wall = 4.0;          ///< of the sleeve
constexpr double flank = 3.0;         ///< from the rim down to the sleeve
constexpr double word_zone = 8.0;     ///< along, for the words and the window
constexpr double groove_width = 8.0;  ///< for a cable tie up to 7.6 wide
constexpr double groove_depth = 1.2;
constexpr double groove_step = 1.2;
constexpr double lip = 3.0;    ///< beyond the groove
constexpr double split = 6.0;  ///< wide, at the bore
constexpr double ridge_clearance = 0.8;
constexpr double ridge_room = 1.0;  ///< beyond a ridge's band before the relief falls
constexpr double ridge_step = 2.0;
constexpr double least_bearing = 14.0;  ///< along, clear of ridges
constexpr double longest = 70.0;
constexpr double engraving = 0.6;
constexpr double window_length = 6.4;
constexpr double window_width = 3.6;
constexpr double beside_split = 4.0;  ///< words keep this from it
}  // namespace collar_sizes

struct CollarPlan {
  std::string tube_id;
  double cut_at = 0.0;
  int toward = 1;  ///< the collar reaches from the cut toward end B (+1) or end A (−1)
  GuideFace inner;
  GuideFace outer;
  Span at;                                 ///< its two ends
  Span theta;                              ///< from split to split, around the reference line
  std::vector<Vec2> window;                ///< (θ, at), counter-clockwise
  std::vector<std::vector<Vec2>> strokes;  ///< engraved, (θ, at), counter-clockwise
  std::string words;                       ///< that the strokes write
  std::vector<std::string> notes;          ///< what the maker should know

  std::string part() const;
  double length() const { return at.length(); }
};

/// The collar for a cut square to the axis at `cut_at`; `kept`: the end that stays. Throws GeometryError
/// where no collar finds a hold: too near the kept end, or nothing but ridges, or the skin too sharply
/// curved. Precondition: cut_at on the tube.
CollarPlan plan_collar(const Tube& tube, double cut_at, End kept);

/// What the solid must be; areas and volume by quadrature.
Expectation expectation_of(const CollarPlan& plan);

/// From the tube's frame to the bed's: the fence down, so that it comes off the bed plane and nothing hangs.
RigidMotion printing_position(const CollarPlan& plan);

}  // namespace culmwright
