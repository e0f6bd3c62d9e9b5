#include "files/tables.hpp"

namespace culmwright::files {

namespace {

Codec<Printer> printer() {
  return object(
      Table<Printer>("the printer")
          .with_default("bed_x", &Printer::bed_x, length(40, 2000), "Usable size of the bed, left to right")
          .with_default("bed_y", &Printer::bed_y, length(40, 2000), "Usable size of the bed, front to back")
          .with_default("height", &Printer::height, length(40, 2000), "Usable height")
          .with_default("nozzle", &Printer::nozzle, length(0.05, 2), "Diameter of the nozzle")
          .with_default("shrinkage_percent", &Printer::shrinkage, scaled(-5, 5, "%", 0.01),
                        "How much printed sizes come out too small")
          .with_default("hole_undersize", &Printer::hole_undersize, length(-1, 2),
                        "How much smaller a printed hole comes out, on its diameter"));
}

Codec<Fits> fits() {
  return object(
      Table<Fits>("the fits")
          .with_default("spigot", &Fits::spigot, length(0, 2), "Key cup in its hole, per side")
          .with_default("bush", &Fits::bush, length(0, 2), "Metal bush in its printed bore, per side")
          .with_default("glue_line", &Fits::glue_line, length(0, 2), "Under a flange")
          .with_default("drill", &Fits::drill, length(0, 2), "Drill that turns in a printed bore, per side")
          .with_default("peg", &Fits::peg, length(0, 2),
                        "Pilot bit or rod as a peg in its printed bore, per side")
          .with_default("parts_apart", &Fits::parts_apart, length(0, 20),
                        "Between two fitted parts, at least"));
}

Codec<Drill> drill() {
  return object(
      Table<Drill>("a drill")
          .required("kind", &Drill::kind,
                    choice<DrillKind>({{"twist", DrillKind::twist},
                                       {"brad_point", DrillKind::brad_point},
                                       {"forstner", DrillKind::forstner},
                                       {"step", DrillKind::step}}),
                    "Its kind")
          .required("diameter", &Drill::diameter, length(0.3, 100), "As marked on it")
          .with_default("shank", &Drill::shank, length(0, 50), "Diameter of its shank; 0: not known")
          .with_default("head_length", &Drill::head_length, length(0, 200), "Length of a Forstner bit's head")
          .with_default("flute_length", &Drill::flute_length, length(0, 500), "Length of its flutes")
          .optional("measured_hole", &Drill::measured_hole, length(0.3, 105),
                    "Diameter of a hole that it made in scrap of the same stuff"));
}

Codec<Bush> bush() {
  return object(Table<Bush>("a drill bush")
                    .required("bore", &Bush::bore, length(0.5, 60), "The drill that it guides")
                    .required("outside", &Bush::outside, length(1, 90), "Outside diameter")
                    .required("length", &Bush::length, length(2, 150), "Length"));
}

Codec<Paper> paper() {
  return object(
      Table<Paper>("the paper")
          .with_default("size", &Paper::size,
                        choice<PaperSize>(
                            {{"A4", PaperSize::a4}, {"Letter", PaperSize::letter}, {"A3", PaperSize::a3}}),
                        "Size of the sheet")
          .with_default("margin", &Paper::margin, length(0, 60),
                        "Left free on every side; printers need 4 to 7")
          .with_default("thickness", &Paper::thickness, length(0.02, 2), "About 0.10 for 80 g/m²"));
}

Codec<Filament> filament() {
  constexpr double g_per_cm3 = 1e-3;  // in g/mm³
  return object(Table<Filament>("the filament")
                    .with_default("name", &Filament::name, line_of_text(60), "Its kind")
                    .with_default("density_g_per_cm3", &Filament::density,
                                  scaled(0.3, 10, "g/cm³", g_per_cm3), "Its density"));
}

Codec<CupDefaults> cup_defaults() {
  using C = CupDefaults;
  return object(
      Table<C>("the cups")
          .with_default("recess", &C::recess, recess(), "Of switch seats, for switch or sensor")
          .with_default("wire_way", &C::wire_way, length(0, 20), "Diameter of a switch seat's way for wires")
          .with_default("surface", &C::surface, touch_surface(), "The surface under the finger")
          .with_default("pad_thickness", &C::pad_thickness, length(0.8, 10), "Of pads")
          .with_default("pad_over_rim", &C::pad_over_rim, length(0.3, 10),
                        "Of pads beyond the edge of the hole; practice: 1 to 2")
          .with_default("land", &C::land, pad_land(), "What pads close on")
          .with_default("lugs", &C::lugs, yes_or_no(), "Padded cups have two lugs with a pin's hole")
          .with_default("pin", &C::pin, length(0.8, 6), "Diameter of the pin through the lugs")
          .with_default("arm_width", &C::arm_width, length(1, 30), "Of the arm between the lugs")
          .with_default("wall_under_facet", &C::wall_under_facet, length(0.5, 20),
                        "What a flat for a pad must leave of the wall, at least"));
}

Codec<GuideWishes> guide_wishes() {
  using W = GuideWishes;
  return object(Table<W>("the guides")
                    .with_default("joint_fit", &W::joint_fit, length(0, 1),
                                  "A guide's tongue in its neighbour's notch, per side"));
}

Table<Shop> shop_fields() {
  return Table<Shop>("a shop")
      .required("id", &Shop::id, identifier(), "The shop's short name")
      .with_default("note", &Shop::note, note_text(), "In your own words")
      .with_default("printer", &Shop::printer, printer(), "The 3D printer")
      .with_default("fits", &Shop::fits, fits(), "Clearances")
      .with_default("drills", &Shop::drills, list(drill(), 0, 500, "drills"), "The drills in the drawer")
      .with_default("bushes", &Shop::bushes, list(bush(), 0, 200, "bushes"), "The drill bushes in the drawer")
      .with_default("paper", &Shop::paper, paper(), "What templates are printed on")
      .with_default("filament", &Shop::filament, filament(), "What parts are printed from")
      .with_default("strap_width", &Shop::strap_width, length(3, 100), "Of the straps that hold a guide")
      .with_default("foam_thickness", &Shop::foam_thickness, length(0.2, 30), "Of mock-up patches")
      .with_default("pilot_diameter", &Shop::pilot_diameter, length(0.8, 10), "The pilot drill")
      .with_default(
          "bores", &Shop::bores,
          choice<GuideBores>({{"pilot", GuideBores::pilot}, {"full_size", GuideBores::full_size}}),
          "What the guides' bores are for: the pilot drill in a metal bush, or the hole's own drill")
      .with_default("full_size_up_to", &Shop::full_size_up_to, length(0.5, 30),
                    "Widest drill that turns in a printed bore; wider holes get a pilot bush")
      .with_default("saw_kerf", &Shop::saw_kerf, length(0, 5), "Of the saw that cuts openings out")
      .with_default("saddle_wall", &Shop::saddle_wall, length(1.2, 20), "Wall of a drill saddle")
      .with_default("boss_wall", &Shop::boss_wall, length(1.2, 20), "Wall around a bush")
      .with_default("cups", &Shop::cups, cup_defaults(), "What key cups are like where a key does not say")
      .with_default("guides", &Shop::guides, guide_wishes(), "What is asked of drill guides")
      .with_default("fitted", &Shop::fitted, fitted_defaults(),
                    "Thumb rests, sliders and strap rings where the key layout does not say")
      .with_default("wires", &Shop::wires, wiring(), "Wires from switches and sensors")
      .with_default("cradles", &Shop::cradles, yes_or_no(),
                    "Also make cradles for the drill table, their wedges, and backing for the bore");
}

}  // namespace

const Table<Shop>& shop_table() {
  static const Table<Shop> table = shop_fields();
  return table;
}

}  // namespace culmwright::files
