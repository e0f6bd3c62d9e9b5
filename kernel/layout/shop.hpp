#pragma once
/// The shop: printer, fits, drills in the drawer, bushes, paper and filament.
#include <optional>
#include <string>
#include <vector>

#include "layout/cup_shape.hpp"
#include "layout/fitted.hpp"
#include "layout/guide_wishes.hpp"

namespace culmwright {

struct Printer {
  double bed_x = 220.0;
  double bed_y = 220.0;
  double height = 240.0;
  double nozzle = 0.4;
  double shrinkage =
      0.0;  ///< of printed sizes, as a fraction; holes print undersize by `hole_undersize` more
  double hole_undersize = 0.2;  ///< on diameter
};

/// Clearances, per side. Common practice.
struct Fits {
  double spigot = 0.15;      ///< key cup's spigot in its hole
  double bush = 0.05;        ///< metal bush in its printed bore
  double glue_line = 0.1;    ///< under a flange
  double drill = 0.1;        ///< twist drill that turns in a printed bore
  double peg = 0.1;          ///< pilot bit or rod as a peg in its printed bore
  double parts_apart = 0.5;  ///< between two fitted parts, at least
};

/// What a guide's bores are for.
enum class GuideBores {
  pilot,     ///< a metal bush for the pilot drill in every one; the holes are opened afterwards
  full_size  ///< plain bores for the finished hole's own drill, up to `full_size_up_to`; wider ones as pilot
};

enum class DrillKind { twist, brad_point, forstner, step };

struct Drill {
  DrillKind kind = DrillKind::twist;
  double diameter = 0.0;
  double shank = 0.0;
  double head_length = 0.0;
  double flute_length = 0.0;
  std::optional<double> measured_hole;  ///< diameter of a hole it made in scrap
};

/// A metal drill bush. Sizes as DIN 179 when not from the drawer.
struct Bush {
  double bore = 3.0;
  double outside = 6.0;
  double length = 12.0;
};

enum class PaperSize { a4, letter, a3 };

struct Paper {
  PaperSize size = PaperSize::a4;
  double margin = 10.0;     ///< left free; printers do not reach the edge
  double thickness = 0.10;  ///< 80 g/m²
};

struct Filament {
  std::string name = "PETG";
  double density = 1.27e-3;  ///< g/mm³
};

struct Shop {
  std::string id;
  std::string note;
  Printer printer;
  Fits fits;
  std::vector<Drill> drills;
  std::vector<Bush> bushes;
  Paper paper;
  Filament filament;
  double strap_width = 20.0;
  double foam_thickness = 3.0;
  double pilot_diameter = 3.0;
  GuideBores bores = GuideBores::pilot;
  double full_size_up_to = 10.0;  ///< diameter; wider drills heat and wear a printed bore (common practice)
  double saw_kerf = 0.6;          ///< of the saw that cuts openings out
  double saddle_wall = 4.0;       ///< common practice
  double boss_wall = 3.0;
  CupDefaults cups;
  GuideWishes guides;
  FittedDefaults fitted;
  Wiring wires;
  bool cradles = false;  ///< `make` also makes cradles, wedges and backing: they double the printing time
};

}  // namespace culmwright
