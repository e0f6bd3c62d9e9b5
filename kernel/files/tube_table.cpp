#include "files/tables.hpp"

namespace culmwright::files {

namespace {

constexpr double full_turn = 360.0;

Codec<double> place_along() {
  return length(-longest_tube, longest_tube);
}
Codec<double> place_around() {
  return length(-greatest_girth, greatest_girth);
}
Codec<double> spread(double greatest) {
  return length(0.001, greatest);
}

template <class T>
void add_direction(Table<T>& table) {
  table
      .optional(
          "facing_deg", [](auto& object) -> auto& { return object.direction.facing; },
          degrees(-full_turn, full_turn),
          "Direction of the outward normal, by protractor, from the reference line to the right")
      .optional(
          "around", [](auto& object) -> auto& { return object.direction.around; }, place_around(),
          "Where the jaw touches the skin: along the skin from the reference line to the right")
      .exactly_one_of({"facing_deg", "around"});
}

Codec<InstrumentErrors> instrument_errors() {
  using E = InstrumentErrors;
  return object(
      Table<E>("the instrument errors")
          .with_default("caliper", &E::caliper, spread(10), "A width across")
          .with_default("tape", &E::tape, spread(20), "A girth")
          .with_default("height", &E::height, spread(10), "A height over the board")
          .with_default("straightedge", &E::straightedge, spread(20), "A gap under a straightedge")
          .with_default("wall", &E::wall, spread(10), "A wall thickness")
          .with_default("along", &E::along, spread(50), "Where along the tube a reading was taken")
          .with_default("around", &E::around, spread(50), "Where around the tube a reading was taken")
          .with_default("protractor_deg", &E::protractor, degrees(0.01, 45), "A direction by protractor")
          .with_default("scale_g", &E::scale_g, number(0.001, 100, "g"), "The scale")
          .with_default("balance", &E::balance, spread(50), "The place of the balance point"));
}

Codec<EndTilt> end_tilt() {
  return object(
      Table<EndTilt>("the tilt of an end")
          .required("tilt_deg", &EndTilt::tilt, degrees(0, 30), "How far the saw cut is out of square")
          .required("toward_deg", &EndTilt::toward, degrees(-full_turn, full_turn),
                    "The direction in which it leans away from the middle of the tube"));
}

Codec<SurveyPlates> survey_plates() {
  return object(Table<SurveyPlates>("the survey plates")
                    .with_default("flats", &SurveyPlates::flats, whole_number(6, 64), "Number of flat sides")
                    .required("across_flats", &SurveyPlates::across_flats, length(20, 500),
                              "Distance between opposite flats"));
}

Codec<Station> station() {
  Table<Width> width("a width");
  width.required("across", &Width::across, length(3, widest_tube), "Distance between the two jaws");
  add_direction(width);
  return object(
      Table<Station>("a station")
          .required("at", &Station::at, place_along(),
                    "Where it was measured, from the datum mark toward end B")
          .optional("girth", &Station::girth, length(10, greatest_girth), "The length around, by tape")
          .with_default("widths", &Station::widths, list(object(width), 0, 64, "widths"),
                        "Caliper widths; four at 45° tell most")
          .with_default("heights", &Station::heights, list(or_null(length(5, 500)), 0, 64, "heights"),
                        "With survey plates: the height over the board with flat 0, 1, 2 … facing up; null "
                        "for one that was skipped"));
}

Codec<BowReading> bow_reading() {
  return object(
      Table<BowReading>("a straightedge reading")
          .required("at", &BowReading::at, place_along(), "Where the gap was measured, or the belly lies")
          .required("facing_deg", &BowReading::facing, degrees(-full_turn, full_turn),
                    "The side on which the straightedge lay")
          .required("gap", &BowReading::gap, length(0, 200), "The gap; at each end when the side is convex")
          .with_default("convex", &BowReading::convex, yes_or_no(),
                        "true when the belly touches and both ends gape alike"));
}

Codec<WallReading> wall_reading() {
  Table<WallReading> table("a wall reading");
  table.required("at", &WallReading::at, place_along(), "Where along the tube")
      .required("thickness", &WallReading::thickness, length(0.1, 100), "Wall thickness, square to the skin");
  add_direction(table);
  return object(table);
}

Codec<Node> node() {
  return object(
      Table<Node>("a node")
          .required("at_line", &Node::at_line, place_along(), "The ridge on the side of the reference line")
          .derived(
              "at_far", &Node::at_far, place_along(), [](Node& n) { n.at_far = n.at_line; },
              "The ridge on the far side, when it is slanted; otherwise as at_line")
          .with_default("band", &Node::band, length(0.5, 80), "Full width of the ridge along the tube")
          .with_default("ridge_height", &Node::ridge_height, length(0, 30),
                        "How far the ridge stands out; 0 when it was sanded")
          .with_default("kink", &Node::kink, yes_or_no(), "true when the tube changes its direction here")
          .with_default("diaphragm", &Node::diaphragm, length(0, 60), "Thickness of the plate inside")
          .optional("pierced_diameter", &Node::pierced_diameter, length(0.5, widest_tube),
                    "How wide the plate is pierced; leave it out while it is whole"));
}

template <class T>
void add_patch(Table<T>& table) {
  table
      .required(
          "at", [](auto& object) -> auto& { return object.place.at; }, place_along(), "Its middle")
      .required(
          "around", [](auto& object) -> auto& { return object.place.around; }, place_around(),
          "Its middle, along the skin from the reference line to the right")
      .required("length", &T::length, length(0.1, longest_tube), "Along the tube")
      .required("width", &T::width, length(0.1, greatest_girth), "Around the tube");
}

Codec<Groove> groove() {
  Table<Groove> table("a groove");
  add_patch(table);
  table.required("depth", &Groove::depth, length(0, 50), "How deep it lies under the skin around it");
  return object(table);
}

Codec<Blemish> blemish() {
  Table<Blemish> table("a blemish");
  add_patch(table);
  table
      .with_default(
          "use", &Blemish::use,
          choice<BlemishUse>(
              {{"avoid", BlemishUse::avoid}, {"hide", BlemishUse::hide}, {"note", BlemishUse::note}}),
          "avoid: no hole there; hide: out of sight or inside an opening; note: only to be known")
      .with_default("note", &Blemish::note, note_text(), "In your own words");
  return object(table);
}

Codec<CheckGirth> check_girth() {
  return object(
      Table<CheckGirth>("a check girth")
          .required("at", &CheckGirth::at, place_along(), "Where along the tube, clear of the ridges")
          .required("girth", &CheckGirth::girth, length(10, greatest_girth),
                    "The length around, by the same tape as in the survey")
          .with_default("date", &CheckGirth::date, day(), "The day it was measured"));
}

void add_piece(Table<Survey>& table) {
  table
      .required("id", &Survey::id, identifier(),
                "The piece's short name; it stands on every guide and template")
      .required("material", &Survey::material,
                choice<Material>({{"bamboo", Material::bamboo},
                                  {"elder", Material::elder},
                                  {"wood", Material::wood},
                                  {"pipe", Material::pipe},
                                  {"other", Material::other}}),
                "What it is made of")
      .with_default("species", &Survey::species, line_of_text(100), "Its species or grade, if known")
      .with_default("date", &Survey::date, day(), "The day it was measured")
      .with_default("note", &Survey::note, note_text(), "In your own words")
      .with_default(
          "verdict", &Survey::verdict,
          choice<Verdict>(
              {{"undecided", Verdict::undecided}, {"keep", Verdict::keep}, {"aside", Verdict::aside}}),
          "Your decision about the piece")
      .with_default("verdict_note", &Survey::verdict_note, note_text(), "Why")
      .required("length", &Survey::length, length(20, longest_tube), "From end A to end B, along the tube")
      .with_default("datum_from_end_a", &Survey::datum_from_end_a, length(0, longest_tube),
                    "The datum mark's distance from end A, on the reference line")
      .optional("butt", &Survey::butt, end_name(), "The root end as it grew")
      .optional("handsome_deg", &Survey::handsome, degrees(-full_turn, full_turn), "The side to show")
      .optional("tilt_a", &Survey::tilt_a, end_tilt(), "End A, where it is sawn out of square")
      .optional("tilt_b", &Survey::tilt_b, end_tilt(), "End B, where it is sawn out of square");
}

void add_readings(Table<Survey>& table) {
  table
      .with_default("errors", &Survey::errors, instrument_errors(),
                    "One standard deviation of each instrument, as you judge it")
      .with_default("tape_thickness", &Survey::tape_thickness, length(0, 5),
                    "The tape's own thickness, which makes a girth read too long")
      .optional("plates", &Survey::plates, survey_plates(), "The survey plates, where they were used")
      .with_default("stations", &Survey::stations, list(station(), 0, most_stations, "stations"),
                    "The places that were measured, from end A to end B");
  const Codec<std::string> name = file_name();
  table
      .read_elsewhere("stations_csv", name.schema(1.0),
                      "Instead of stations: a CSV table with columns at, girth, width_facing_45, "
                      "width_around_20, h0, h1 …")
      .with_default("bow", &Survey::bow, list(bow_reading(), 0, 100, "readings"), "Straightedge readings")
      .with_default("walls", &Survey::walls, list(wall_reading(), 0, 500, "readings"), "Wall thicknesses")
      .with_default("nodes", &Survey::nodes, list(node(), 0, 100, "nodes"), "Nodes, from end A to end B")
      .with_default("grooves", &Survey::grooves, list(groove(), 0, 100, "grooves"), "Hollows above branches")
      .with_default("blemishes", &Survey::blemishes, list(blemish(), 0, 200, "blemishes"),
                    "Marks of the skin")
      .with_default("check_girths", &Survey::check_girths, list(check_girth(), 0, 20, "girths"),
                    "Two girths measured again before drilling: they show whether the piece has moved")
      .optional("mass_g", &Survey::mass_g, number(0.5, 50000, "g"), "The weighed mass")
      .optional("balance_at", &Survey::balance_at, place_along(), "Where it balances")
      .optional("moisture_percent", &Survey::moisture_percent, number(0, 100, "%"), "Moisture content")
      .at_most_one_of({"stations", "stations_csv"});
}

}  // namespace

Codec<End> end_name() {
  return choice<End>({{"A", End::a}, {"B", End::b}});
}

const Table<Survey>& tube_table() {
  static const Table<Survey> table = [] {
    Table<Survey> fields("a tube");
    add_piece(fields);
    add_readings(fields);
    return fields;
  }();
  return table;
}

}  // namespace culmwright::files
