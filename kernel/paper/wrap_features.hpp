#pragma once
/// What a wrap template shows on a run of an instrument, as curves on the skin.
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "layout/instrument.hpp"
#include "paper/development.hpp"
#include "paper/skin_curve.hpp"

namespace culmwright {

struct Feature {
  enum class Kind { hole, touch, opening, footprint, blemish };
  Kind kind = Kind::hole;
  std::string name;                  ///< what is written beside it; empty for a touch
  std::vector<std::string> details;  ///< smaller lines below it
  SkinCurve outline;
  Vec2 middle;            ///< (θ, at)
  double reach = 0.0;     ///< greatest distance of the outline from its middle, mm of skin
  double diameter = 0.0;  ///< of a hole
  SkinCurve pilot;        ///< rim of a hole's pilot; empty where it is drilled at full size at once
  bool drilled = false;   ///< a hole that is there already: all of it, or its pilot where that is not empty
  std::vector<SkinCurve> small_holes;  ///< rims of what is drilled for a fitted part: screws, wires
  double travel = 0.0;                 ///< of a slider, along the tube
  bool axis = false;      ///< a slider's axis is drawn
  BlemishUse use = BlemishUse::note;
};

/// All that reaches into the run, holes first, in the instrument's order. The reference line's direction is
/// the one about which θ is reduced. `pilot`: diameter of the bit that goes first; 0: none is drawn or named.
std::vector<Feature> features_of(const Tube& tube, const Instrument& instrument, double at_from, double at_to,
                                 double pilot = 0.0);

/// Least and greatest θ and at of an outline.
Box span_of(const Feature& feature);

/// The ruling along which the paper is best cut: it crosses no rim where that can be had, keeps away from
/// rims, touches and the two lines, and lies as near to the back as that allows.
Angle choose_seam(const Development& development, const std::vector<Feature>& features, Angle front);

}  // namespace culmwright
