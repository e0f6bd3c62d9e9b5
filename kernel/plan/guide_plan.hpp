#pragma once
/// Drill guides as numbers: saddles that hug the tube, each with a boss and a bush bore for every one of its
/// holes. Every hole of the instrument is in exactly one guide.
///
///                  bush bore
///        stop      ,-| |-.  boss                    seen from the end:
///       ,-----.----'  :  '---.-.----- - ,               ,--boss--.
///       |     sighting :   id  strap    |  saddle     ,'  crown   `.   crown relieved by 0.5
///       |  ,-----------:-----,_____,----'            / pad      pad \  four pads at ±55°, offset 0:
///       |  |    skin   :       pad                  |                | two near each end
///       |__|  end                                 - '-'- - - - - - '-' -  foot plane: flat on the printer's
///                                                                        bed; 170° of normal angle at most
///
/// Only the pads touch the skin; straps pull them home. The bush is a slide fit, stands on the skin and is
/// locked by a screw through the boss's side. All in the tube's frame; θ is unwrapped around the guide's
/// middle.
///
/// A guide without a stop may lock onto one that has been set and stays on the tube:
///
///          guide 1      |    guide 2          ends meet at one plane across the tube, which holds it along;
///       -------------.  |  --------------     a tongue in a notch holds it around, `joint_fit` per side.
///                     | '-'.                  Both go through the whole wall and widen outward: the
///                     | .--'                  tongue drops in from outside, or is pushed in from the end.
///       -------------'  |  --------------
#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "layout/instrument.hpp"
#include "layout/shop.hpp"
#include "plan/drill_bush.hpp"
#include "plan/expectation.hpp"
#include "plan/guide_face.hpp"
#include "plan/opening_cut.hpp"
#include "plan/printing.hpp"
#include "plan/stroke_letters.hpp"

namespace culmwright {

/// Sizes of guides. Common practice of printed parts and drill jigs.
namespace guide_sizes {
constexpr double crown_relief = 0.5;
constexpr double ridge_clearance = 0.8;       ///< over a node's ridge
constexpr double boss_web = 0.4;              ///< between two bosses of one guide, at least
constexpr double edge_margin = 1.5;           ///< from a boss's foot to the saddle's edge
constexpr double bush_proud = 1.0;            ///< the bush stands out of its boss, to be pulled by
constexpr double greatest_normal_deg = 84.0;  ///< from the middle; twice this is under 170°
constexpr double pad_middle_deg = 55.0;
constexpr double pad_half_deg = 9.0;  ///< full contact, each way
constexpr double pad_step_deg = 14.0;
constexpr double pad_length = 10.0;
constexpr double strap_groove = 1.0;  ///< deep
constexpr double engraving = 0.6;     ///< deep
constexpr double sight_length = 7.0;
constexpr double sight_width = 4.4;
constexpr double stop_reach = 70.0;  ///< a guide is drawn out this far to reach an end
constexpr double bed_margin = 5.0;
constexpr double least_wall = 1.2;
constexpr double peg_wall = 2.0;           ///< around a peg's bore
constexpr double peg_boss_above = 4.0;     ///< of a peg's boss over the saddle
constexpr double least_pegs_apart = 12.0;  ///< along; nearer ones count as one
constexpr double lock_core = 2.5;          ///< bore for an M3 screw that cuts its own thread in plastic
constexpr double tongue_length = 6.0;
constexpr double tongue_width = 10.0;     ///< at most; at the outer face
constexpr double tongue_half_deg = 12.0;  ///< at most: clear of the pads' flanks
constexpr double tongue_tip_room = 0.5;   ///< the ends meet, the tongue's tip does not
constexpr double sighting_error = 0.5;    ///< along, of a guide set by eye at a pencil mark; common practice
}  // namespace guide_sizes

/// A bore through one side of a boss's wall, square to the boss's axis and through it.
struct SideBore {
  Angle toward;         ///< in the rim_frame of the boss, from its x
  double height = 0.0;  ///< of its axis, along the boss's axis from the skin
  double radius = 0.0;  ///< as drawn; less than the boss's bore
};

/// The frame of a side bore: z outward along its axis, x along the boss's; `boss` is the boss's rim_frame.
RigidMotion side_frame(const RigidMotion& boss, const SideBore& side);

/// A boss on the saddle with a bore through both.
struct GuideBoss {
  std::string id;            ///< of the hole that it stands over
  Drilling drilling;         ///< the finished hole's
  double bore_radius = 0.0;  ///< as drawn: what prints comes out as bush or peg plus its fit
  double boss_radius = 0.0;
  double top = 0.0;                ///< of the boss, along the axis from the skin
  std::optional<SideBore> side{};  ///< for the screw that locks a bush; a plain bore's window for chips
};

/// A hole that the guide drills: through a metal bush for the pilot drill, which drops onto the skin and is
/// locked by a screw in the side bore; or, `plain`, with a drill that turns in the printed bore itself.
struct GuideHole : GuideBoss {
  Bush bush;  ///< plain: the drill's diameter as bore, no outside
  bool plain = false;
  std::string corner_of{};  ///< the opening whose corner it is; empty for a key's hole

  double drill() const { return bush.bore; }
};

/// A peg: the pilot bit, or a rod of its diameter, put through the saddle into a pilot hole that an earlier
/// guide has drilled. It sets the guide along and around at that place to the peg's play.
struct GuidePeg : GuideBoss {
  double diameter = 0.0;   ///< of the peg
  std::string drilled_by;  ///< name of the guide that drilled it; empty: it was there before these guides
};

/// A diamond through the saddle; its two sharp corners stand on the sighting line drawn on the tube.
struct SightingWindow {
  std::vector<Vec2> corners;  ///< (θ, at), counter-clockwise
  SkinPlace near_corner;      ///< on the sighting line
  SkinPlace far_corner;
};

struct SightingLine {
  std::string name;      ///< "reference line"
  std::string engraved;  ///< "REF LINE"
  Angle facing;          ///< half plane it is constructed in, from the reference line
};

/// What sets the guide's place along the tube.
enum class StopKind {
  end_on_line,    ///< a post touches the end on the reference line
  end_on_middle,  ///< a post touches the end at the guide's own middle: true only for an end sawn square
  pegs,           ///< pegs in holes that earlier guides have drilled; they set the turn as well
  joint,          ///< its end against a guide that is on the tube, its tongue in that one's notch
  sighting_only   ///< no end and no drilled hole within reach: set by its sighting windows alone
};

/// Half of a joint between two guides, at one end of a guide.
struct GuideJoint {
  End toward = End::a;  ///< which of the guide's ends
  bool tongue = false;  ///< else the notch
  std::string with;     ///< name of the other guide
  double at = 0.0;      ///< plane across the tube in which the two ends meet
  Span theta;           ///< sides of the tongue or notch, as drawn
  double depth = 0.0;   ///< of tongue or notch, along

  /// Where the tongue or notch ends, along.
  double tip_at() const { return (toward == End::a) == tongue ? at - depth : at + depth; }
  Span along() const { return {std::min(at, tip_at()), std::max(at, tip_at())}; }
};

struct StopPost {
  Vec3 axis_point;  ///< on the post's axis, at the height of the skin
  Vec3 up;          ///< its axis, unit, outward
  double radius = 0.0;
  double foot = 0.0;  ///< of the post, along `up` from axis_point (negative)
  End end = End::a;
  Vec3 touches;  ///< the point of the end that it touches
};

/// One stroke cut into the outer face.
struct EngravedStroke {
  std::vector<Vec2> corners;  ///< (θ, at), counter-clockwise
};
struct EngravedText {
  std::string text;
  std::vector<EngravedStroke> strokes;
};

/// The plane on which the guide stands when it is printed.
struct FootPlane {
  Vec3 point;
  Vec3 up;  ///< unit, toward the guide
};

struct GuidePlan {
  std::string name;  ///< "guide 2"
  std::string tube_id;
  int number = 1;  ///< in the order of drilling
  GuideFace inner;
  GuideFace outer;
  Span at;  ///< the guide's ends
  FootPlane foot;
  std::vector<GuideHole> holes;  ///< in order along the tube
  std::vector<SightingWindow> sights;
  std::optional<SightingLine> sighting_line;
  StopKind stop = StopKind::sighting_only;
  std::optional<StopPost> post;
  std::vector<EngravedText> texts;
  std::vector<Span> straps;        ///< grooves for straps, flat part
  std::vector<Span> pads;          ///< full contact along the tube, one for each end
  std::vector<std::string> notes;  ///< what the maker should know: what was left out, and why
  std::vector<GuidePeg> pegs{};    ///< one or two where `stop` is StopKind::pegs, else none
  /// Guides that come first: those whose pilot holes take the pegs, the one that it locks to.
  std::vector<std::string> after{};
  std::vector<GuideJoint> joints{};  ///< one at each end at most; one tongue where `stop` is StopKind::joint
  std::vector<OpeningCut> cuts{};    ///< of the openings whose corners it drills

  /// Every boss: the holes', then the pegs'.
  std::vector<const GuideBoss*> bosses() const;
  /// The joint that sets the guide, and where on the smooth skin that is: amid the tongue, at the ends'
  /// plane.
  const GuideJoint* tongue() const;
  Vec3 tongue_point() const;
  /// From end to end, a tongue with it.
  Span reach() const;
  /// Between the outermost corners of the sighting windows, along; 0 without windows. The turn is read over
  /// this arm.
  double sighting_arm() const;
  double middle() const { return inner.middle(); }
  /// Where the face meets the foot plane in the section at `at`, on the side of growing θ (+1) or the other
  /// (−1). Accuracy 1e-11.
  double foot_theta(const GuideFace& face, int side, double at) const;
};

/// Plans the guides of one instrument in the order of drilling: as few as angles (no boss beyond the saddle),
/// bed length and webs allow, of these the set that is set best, of these the shortest
/// (plan/guide_cover.hpp). A guide that reaches an end has a stop there; any other is drawn out over pilot
/// holes that earlier guides have drilled and pegged into them where angle and bed allow; what is left is set
/// by sighting windows and says so. Where another guide ends within reach, a guide without two pegs locks
/// onto it by a joint instead. Holes and openings that are drilled (PlacedKey::drilled) have no bore;
/// their holes take pegs, a finished one as wide as it came out. Throws GeometryError naming the hole or
/// guide that cannot be done. Deterministic. Precondition: `tube` is the instrument's, its shape checked
/// (check_shape).
std::vector<GuidePlan> plan_guides(const Tube& tube, const Instrument& instrument, const Shop& shop);

/// What the gate holds the guide's solid against; areas and volume by quadrature over the plan.
Expectation expectation_of(const GuidePlan& plan);

/// The least wall of a guide as planned: over pads, reliefs, straps and engraving, around bores, beside side
/// bores. To 0.05 mm: sampled.
double thinnest_wall(const GuidePlan& plan);

/// What it leaves to drill, on the printing bed: the axes of its bores, for judging printing positions.
std::vector<Vec3> bore_axes(const GuidePlan& plan);

/// How a guide may lie on the bed, the best first (plan/printing.hpp): on its feet, on either end. `mesh` of
/// the guide in the tube's frame.
std::vector<PrintingChoice> printing_choices(const GuidePlan& plan, const Mesh& mesh, const Printer& printer);

/// The printing position on its feet: from the tube's frame to the bed's, the foot plane on the bed, the boss
/// tops up, the length along the longer side of the bed, or across its corners where it is longer than that.
/// The bores then print upright and round; the flanks carry themselves (the pads lean 35° from upright); only
/// the crown, which touches nothing, wants support.
RigidMotion printing_position(const GuidePlan& plan, const Printer& printer);

}  // namespace culmwright
