#pragma once
/// The tube's body as numbers: what is left of the piece when it is cut to length, its nodes pierced, its key
/// holes drilled and its openings cut. For STEP and for pictures. In the tube's own frame.
#include <optional>
#include <string>
#include <vector>

#include "layout/instrument.hpp"
#include "plan/expectation.hpp"
#include "plan/outline.hpp"

namespace culmwright {

/// A blind cut from outside through the near wall only. Its frame stands on the skin: z outward along the
/// axis, x toward end B. Round holes have a round outline.
struct BodyCut {
  std::string name;  ///< "hole L1", "opening cable"
  RigidMotion frame;
  RoundedRectangle outline;
  double depth = 0.0;  ///< from the frame's origin inward; ends in the bore, short of the far wall
  double high = 0.0;   ///< above which there is nothing of the tube
};

/// A node's inner plate, square to the axis.
struct Diaphragm {
  double from_at = 0.0;
  double to_at = 0.0;
  Vec2 middle;                           ///< of the bore there
  std::optional<double> pierced_radius;  ///< none when whole
};

/// A stretch of bore between diaphragms or ends.
struct Cavity {
  double from_at = 0.0;
  double to_at = 0.0;
  bool open_at_from = false;  ///< at an end of the body
  bool open_at_to = false;
};

struct BodyPlan {
  std::string tube_id;
  double from_at = 0.0;  ///< the ends, cut square to the axis
  double to_at = 0.0;
  Angle seam;  ///< direction of the widest stretch of skin without cuts
  std::vector<Cavity> cavities;
  std::vector<Diaphragm> diaphragms;
  std::vector<BodyCut> cuts;
  std::vector<std::string> notes;

  std::string part() const { return "tube " + tube_id; }
};

/// The whole piece with nothing drilled. A diaphragm pierced as wide as the bore is left out; ends sawn out
/// of square are drawn square, and noted.
BodyPlan plan_body(const Tube& tube);

/// The piece as the instrument has it: cut to length, drilled, openings cut. An opening's width is the chord
/// of the arc its part states. Throws GeometryError naming the hole or opening that is too wide for the bore,
/// or runs into a diaphragm or an end.
BodyPlan plan_body(const Tube& tube, const Instrument& instrument);

/// What the solid must be. Volume and areas by quadrature over the plan; the genus by counting ways between
/// the cavities and the outside.
Expectation expectation_of(const BodyPlan& plan, const Tube& tube);

}  // namespace culmwright
