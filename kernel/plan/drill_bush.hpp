#pragma once
/// The metal bush that guides the pilot drill.
#include "layout/shop.hpp"

namespace culmwright {

/// A press-fit headless drill bush after DIN 179 / ISO 4247 for a drill of that diameter: outside diameter
/// and the shortest of its lengths that is at least `least_length` (the longest where none is). From memory
/// of the standard. Precondition: 0 < drill ≤ 22.
Bush standard_bush(double drill, double least_length);

/// The shop's bush for its pilot drill: from the drawer where it has one of that bore and not shorter than
/// `least_length`, the shortest of them; else the standard's.
Bush pilot_bush(const Shop& shop, double least_length);

/// How much thinner than its nominal diameter a twist drill may be: ISO 286 h8, whose upper limit is the
/// nominal size. From a catalogue page citing DIN 1414. Precondition: 0 < diameter ≤ 50.
double drill_h8(double diameter);

/// The bore as drawn for a drill that turns in the plastic: its nominal diameter, which none exceeds, the fit
/// on both sides, and what the printer makes holes too small by; as a radius.
double plain_bore_radius(const Shop& shop, double drill);

/// The bore as drawn, so that the printed one is the bush plus its fit: outside diameter, the fit on both
/// sides, and what the printer makes holes too small by; as a radius.
double bush_bore_radius(const Shop& shop, const Bush& bush);

/// The same for a peg: the pilot bit or a rod of its diameter, with the fit of pegs.
double peg_bore_radius(const Shop& shop);

}  // namespace culmwright
