#pragma once
/// A fit gauge as numbers: a printed plate by which a shop finds out how its printer and its drills really
/// come out. Rows of holes a tenth of a millimetre apart, into which the shop's own metal goes (drill bush,
/// pilot bit, drill); a row of pegs that go into a hole drilled in scrap; and a length to measure.
///
///     PEGS 8     o   o   o   o   o   o   o      stand up, far enough apart for a piece of scrap
///                7.4 7.5 7.6 …
///     DRILL 8    ( ) ( ) ( ) ( ) ( ) ( ) ( )    through
///                8.0 8.1 8.2 …
///     BUSH 6     ( ) …
///     PILOT 3    ( ) …
///     |<---------------- length ---------------->|
///
/// All is drawn true: nothing is added for a printer that makes holes too small. Drawn as printed: the
/// plate's back on the bed, z = 0, pegs up; x along the rows.
#include <string>
#include <vector>

#include "layout/shop.hpp"
#include "plan/cradle_plan.hpp"
#include "plan/expectation.hpp"

namespace culmwright {

/// Sizes of the gauge. Common practice.
namespace gauge_sizes {
constexpr double thickness = 5.0;
constexpr double step = 0.1;  ///< between two neighbours, on the diameter
constexpr int holes = 7;      ///< in a row: nominal to nominal + 0.6
constexpr int pegs = 7;       ///< nominal − 0.6 to nominal
constexpr double peg_height = 8.0;
constexpr double wall = 3.0;   ///< between holes, and to the edge
constexpr double scrap = 7.0;  ///< room beside a peg for scrap around its hole
constexpr double engraving = 0.5;
constexpr double letter_height = 5.0;
constexpr double letters_gap = 1.5;
}  // namespace gauge_sizes

enum class GaugeFit {
  drill,  ///< a drill that turns in a printed bore: fits.drill, printer.hole_undersize
  bush,   ///< a metal bush in its printed bore: fits.bush
  pilot,  ///< the pilot bit as a peg: fits.peg
  spigot  ///< printed pegs in a drilled hole: fits.spigot
};

struct GaugeSpot {
  Vec2 middle;
  double diameter = 0.0;  ///< as drawn, and as engraved under it
};

struct GaugeRow {
  GaugeFit fit = GaugeFit::drill;
  double nominal = 0.0;  ///< of the metal that goes in; of pegs: of the drilled hole
  std::vector<GaugeSpot> spots;
  bool pegs() const { return fit == GaugeFit::spigot; }
};

struct FitGauge {
  double length = 0.0;  ///< along x, whole tens: what is measured for the shrinkage
  double width = 0.0;
  std::vector<GaugeRow> rows;    ///< from the lower edge up
  std::vector<PlaneText> texts;  ///< in the upper face
  std::string part() const { return "fit gauge"; }
};

/// For what is in the shop's drawer: its pilot drill and that drill's bush, and of the twist and brad-point
/// drills that it lets turn in plastic the one nearest to 8 (8 where it has none). Throws GeometryError where the bed is too small for it.
FitGauge plan_fit_gauge(const Shop& shop);

/// What the solid must be; closed form.
Expectation expectation_of(const FitGauge& gauge);

/// How to read it: which field of the shop's document takes which number, one step a line.
std::vector<std::string> reading_steps(const FitGauge& gauge);

}  // namespace culmwright
