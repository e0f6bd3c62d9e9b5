#pragma once
/// Mass and balance of an instrument as placed: the tube between its cuts, less holes and openings, plus
/// every fitted key and part; and what the thumb feels of it.
///
///        along the tube, foot lower by the playing angle α          across, seen from the mouth
///            mouth                                                      front
///              \   . . . horizontal                                  ,---------.
///               \ α                                                 (   + c.g.  )   arm = h′(θ) − g·t(θ)
///            rest o \                                                `----^----'    roll: the rest pushes at
///            θ
///                    \ c.g.                                              rest
///                     \ foot
///
/// Torque about the thumb rest, positive when the foot end sinks: m g (Δalong cos α + Δfront sin α), with the
/// centre of gravity's place relative to the rest, along toward the foot and toward the front.
/// Roll: turning about the tube's own axis on a support at direction θ; its arm is h′(θ) − g·t(θ), with g the
/// centre of gravity in the section; stable where h + h″ exceeds the height of the centre of gravity above
/// the contact, h − g·n. Torque: arm · weight · cos α. (Statics of a body on a rounded support.)
///
/// Millimetres, grams, newtons; standard gravity 9.80665 m/s². Uncertainties: one standard deviation.
#include <optional>
#include <string>
#include <vector>

#include "layout/instrument.hpp"
#include "tube/survey_report.hpp"

namespace culmwright {

constexpr double standard_gravity = 9.80665;  // m/s²

/// One thing that weighs, in the tube's frame.
struct MassItem {
  std::string what;
  double mass_g = 0.0;  ///< negative for what is taken away
  Vec3 centre;
};

struct Roll {
  double arm = 0.0;     ///< mm; positive turns the front toward the player's left
  double torque = 0.0;  ///< N·mm
  bool stable = false;
};

struct Balance {
  std::vector<MassItem> items;
  Figure mass_g;
  Vec3 centre;                          ///< in the tube's frame
  Figure along;                         ///< of the centre of gravity from the mouth cut, toward the foot
  std::optional<Figure> torque;         ///< N·mm about the thumb rest, positive: foot-heavy
  std::optional<double> neutral_along;  ///< where the rest's torque would be nought
  std::optional<double> ballast_g;      ///< at the lighter end, for no torque
  std::optional<End> ballast_end;       ///< the tube's end that is too light
  std::optional<Roll> roll;
};

/// Nothing when the tube's density is unknown (the piece was not weighed). Without a thumb rest among the
/// parts the figures about it stay empty. `playing_angle`: of the tube's axis below the horizontal.
/// `mass_sigma_g`: of the weighed piece; `centre_sigma`: of its centre along the tube.
std::optional<Balance> balance_of(const Tube& tube, const Instrument& instrument, Angle playing_angle,
                                  double mass_sigma_g, double centre_sigma);

}  // namespace culmwright
