#include "files/tables.hpp"

namespace culmwright::files {

namespace {

constexpr double farthest = 3000.0;  // of a key or part from its mark or end, mm

Codec<double> offset() {
  return length(-farthest, farthest);
}
Codec<double> ratio(double greatest) {
  return number(0, greatest, "");
}

Codec<Leeway> leeway() {
  return object(Table<Leeway>("a leeway")
                    .with_default("along", &Leeway::along, length(0, 500), "Along the tube, each way")
                    .with_default("around", &Leeway::around, length(0, 200), "Around the tube, each way"));
}

Codec<Touch> touch() {
  return object(Table<Touch>("a touch")
                    .required("length", &Touch::length, length(2, 200), "Along the tube")
                    .required("width", &Touch::width, length(2, 100), "Around the tube")
                    .with_default("corner_radius", &Touch::corner_radius, length(0, 50),
                                  "A round touch has half its length and width here"));
}

Codec<CupShape> cup_shape() {
  using C = CupShape;
  return object(
      Table<C>("a cup's shape")
          .optional("recess", &C::recess, recess(), "Switch seat: the recess for switch or sensor")
          .optional("wire_way", &C::wire_way, length(0, 20),
                    "Switch seat and touch cap: diameter of the way for its wires; 0: none")
          .optional("surface", &C::surface, touch_surface(), "The surface under the finger")
          .optional("rise", &C::rise, length(0, 30), "Of the touch's middle above the skin")
          .optional("flush", &C::flush, yes_or_no(), "Touch cap: nothing of it stands above the skin")
          .optional("tilt_deg", &C::tilt, degrees(0, 20), "Touch cap: tilt of its face toward the finger")
          .optional("tilt_toward_deg", &C::tilt_toward, degrees(-180, 180),
                    "Where the tilted face looks: 0 toward the foot, 90 to the player's left")
          .optional("pad_diameter", &C::pad_diameter, length(3, 80), "Padded cup: of its pad")
          .optional("pad_thickness", &C::pad_thickness, length(0.8, 10), "Padded cup: of its pad")
          .optional("land", &C::land, pad_land(), "Padded cup: what the pad closes on")
          .optional("lugs", &C::lugs, yes_or_no(), "Padded cup: two lugs with a pin's hole, for an arm")
          .optional("pin", &C::pin, length(0.8, 6), "Padded cup: diameter of the pin through its lugs")
          .optional("arm_width", &C::arm_width, length(1, 30), "Padded cup: of the arm between its lugs")
          .optional("bore", &C::bore, length(0.5, 100), "Sleeve: the inner diameter that is wanted"));
}

Codec<Key> key() {
  return object(
      Table<Key>("a key")
          .required("id", &Key::id, identifier(), "The key's name, as engraved")
          .required("hand", &Key::hand, hand_name(), "The hand that plays it")
          .required("finger", &Key::finger, finger_name(),
                    "The finger that plays it; side: the side of the hand")
          .required("along", &Key::along, offset(), "From the hand's mark toward the foot")
          .required("around", &Key::around, offset(), "From the hand's mark to the player's left")
          .required("hole_diameter", &Key::hole_diameter, length(0.5, 100), "The finished hole")
          .with_default("square_to", &Key::square,
                        choice<HoleSquare>({{"skin", HoleSquare::to_skin}, {"axis", HoleSquare::to_axis}}),
                        "What the hole stands square to")
          .with_default("touch", &Key::touch, touch(), "What the finger presses")
          .with_default("cup", &Key::cup,
                        choice<CupKind>({{"switch_seat", CupKind::switch_seat},
                                         {"touch_cap", CupKind::touch_cap},
                                         {"padded_cup", CupKind::padded_cup},
                                         {"plug", CupKind::plug},
                                         {"sleeve", CupKind::sleeve}}),
                        "What is fitted into the hole")
          .optional("cup_shape", &Key::cup_shape, cup_shape(), "How the cup departs from what the shop makes")
          .optional("wires", &Key::wires, whole_number(0, 40),
                    "How many wires; left out: two of a switch seat, one of a cap with a wire way")
          .optional("wires_to", &Key::wires_to, identifier(),
                    "The opening its wires go to; left out: the one with the easiest way")
          .with_default("leeway", &Key::leeway, leeway(), "How far it may be moved without harm")
          .with_default("mass_g", &Key::mass_g, number(0, 1000, "g"), "Mass of the fitted key")
          .with_default("note", &Key::note, note_text(), "In your own words"));
}

Codec<Part> part() {
  return object(
      Table<Part>("a part")
          .required("id", &Part::id, identifier(), "The part's name, as marked on the template")
          .required("kind", &Part::kind,
                    choice<PartKind>({{"thumb_rest", PartKind::thumb_rest},
                                      {"slider", PartKind::slider},
                                      {"opening", PartKind::opening},
                                      {"mouthpiece", PartKind::mouthpiece},
                                      {"strap_ring", PartKind::strap_ring},
                                      {"other", PartKind::other}}),
                    "What it is")
          .required("from", &Part::from,
                    choice<From>({{"mouth_end", From::mouth_end},
                                  {"foot_end", From::foot_end},
                                  {"left_hand", From::left_hand},
                                  {"right_hand", From::right_hand}}),
                    "What its place is counted from")
          .required("along", &Part::along, offset(),
                    "From the mouth end or a hand's mark toward the foot; from the foot end toward the mouth")
          .required("around", &Part::around, offset(),
                    "From the key line or the hand's mark, to the player's left")
          .with_default("length", &Part::length, length(0, 1000), "Along the tube")
          .with_default("width", &Part::width, length(0, 300), "Around the tube")
          .with_default("corner_radius", &Part::corner_radius, length(0, 150), "Of its outline on the skin")
          .with_default("travel", &Part::travel, length(0, 500), "Of a slider, along the tube")
          .optional("shape", &Part::shape, part_shape(),
                    "How a thumb rest, slider or strap ring departs from what the shop makes")
          .optional("wires", &Part::wires, whole_number(0, 40), "Slider: how many wires; left out: none")
          .optional("wires_to", &Part::wires_to, identifier(),
                    "The opening its wires go to; left out: the one with the easiest way")
          .with_default("leeway", &Part::leeway, leeway(), "How far it may be moved without harm")
          .with_default("mass_g", &Part::mass_g, number(0, 5000, "g"), "Its mass")
          .with_default("note", &Part::note, note_text(), "In your own words"));
}

Codec<PlayerHand> player_hand() {
  using H = PlayerHand;
  return object(Table<H>("the hand's size")
                    .optional("length", &H::length, length(100, 260),
                              "From the crease of the wrist to the tip of the middle finger")
                    .optional("breadth", &H::breadth, length(45, 130),
                              "Across the four knuckles; left out: 0.445 of the length")
                    .optional("percentile", &H::percentile, number(1, 99, ""),
                              "Instead of a length: so many of a hundred hands are smaller")
                    .optional("set", &H::set,
                              choice<HandSet>({{"women", HandSet::women}, {"men", HandSet::men}}),
                              "Among whose hands the percentile is counted; left out: women")
                    .exactly_one_of({"length", "percentile"})
                    .at_most_one_of({"breadth", "percentile"}));
}

Codec<RuleLimits> rule_limits() {
  using L = RuleLimits;
  return object(
      Table<L>("the limits")
          .with_default("node_clearance", &L::node_clearance, length(0, 100),
                        "Edge of a hole from the edge of a node's ridge, at least")
          .with_default("node_clearance_per_diameter", &L::node_clearance_per_diameter, ratio(5),
                        "The same, as a multiple of the hole's diameter; the larger counts")
          .with_default("web_along", &L::web_along, length(0, 100),
                        "Material between two holes along the grain")
          .with_default("web_along_per_diameter", &L::web_along_per_diameter, ratio(5),
                        "The same, as a multiple of the larger diameter; the larger counts")
          .with_default("web_around", &L::web_around, length(0, 100),
                        "Material between two holes around the tube")
          .with_default("girth_lost_percent", &L::girth_lost, scaled(0, 90, "%", 0.01),
                        "Share of the girth that may be lost at any one section")
          .with_default("end_clearance", &L::end_clearance, length(0, 500),
                        "Edge of a hole from an end, at least")
          .with_default("end_clearance_per_diameter", &L::end_clearance_per_diameter, ratio(10),
                        "The same, as a multiple of the hole's diameter; the larger counts")
          .with_default("hole_to_width", &L::hole_to_width, number(0.05, 0.9, ""),
                        "Hole's diameter divided by the tube's width, at most")
          .with_default("fibre_line_deg", &L::fibre_line, degrees(0, 90),
                        "Holes nearer than this in direction lie on one fibre line")
          .with_default("holes_on_fibre_line", &L::holes_on_fibre_line, whole_number(1, 100),
                        "More holes than this on one fibre line: a warning")
          .with_default("tilt_deg", &L::tilt, degrees(0, 45), "A hole's axis from the true normal, at most")
          .with_default("break_through", &L::break_through, length(0, 100),
                        "Room between the drill's point and the far wall, at least")
          .with_default("hands_apart", &L::hands_apart, length(0, 500),
                        "Between the nearest touches of the two hands, at least")
          .with_default("stiffness_left_percent", &L::stiffness_left, scaled(0, 100, "%", 0.01),
                        "Bending stiffness left at the weakest section, of the whole one's, at least"));
}

Codec<Weights> weights() {
  using W = Weights;
  const Codec<double> points = number(0, 1000, "");
  return object(
      Table<W>("the weights")
          .with_default("departure", &W::departure, points,
                        "Points for each mm² by which a key is shifted from where the hand has it")
          .with_default("parts", &W::parts, points, "For each mm² by which a part is shifted")
          .with_default("marks", &W::marks, points, "For each mm² by which a hand's mark is shifted along")
          .with_default("spacing", &W::spacing, points,
                        "For each mm² by which the spacing of two neighbouring finger keys has changed")
          .with_default("torque", &W::torque, points, "For each N mm about the thumb rest")
          .with_default("roll", &W::roll, points, "For each N mm of turning about the tube's own axis")
          .with_default("handsome", &W::handsome, points, "For the handsome side wholly at the back")
          .with_default("blemishes", &W::blemishes, points,
                        "For each cm² of blemishes to hide that lie in sight")
          .with_default("butt", &W::butt, points, "For the butt at the mouth end")
          .with_default("wall", &W::wall, points,
                        "For each mm² by which the wall at a hole is thinner than wanted")
          .with_default("cut_off", &W::cut_off, points, "For each mm of tube cut off")
          .with_default("wall_wanted", &W::wall_wanted, length(0, 50), "The wall wanted at a hole"));
}

Table<KeyLayout> key_layout_fields() {
  using K = KeyLayout;
  const Codec<std::string> name = file_name();
  return Table<K>("a key layout")
      .required("id", &K::id, identifier(), "The key layout's short name")
      .with_default("note", &K::note, note_text(), "In your own words")
      .with_default("left_mark", &K::left, object(hand_mark_table()), "Where the left hand's mark lies")
      .with_default("right_mark", &K::right, object(hand_mark_table()), "Where the right hand's mark lies")
      .with_default("keys", &K::keys, list(key(), 1, most_keys, "keys"),
                    "The keys, each from its hand's mark")
      .read_elsewhere("keys_csv", name.schema(1.0),
                      "Instead of keys: a CSV table with columns key, hand, finger, along, around, hole")
      .with_default("parts", &K::parts, list(part(), 0, 100, "parts"),
                    "Thumb rest, slider, openings, mouthpiece and the like")
      .optional("hand_size", &K::hand_size, player_hand(), "The player's hand: measured, or a percentile")
      .with_default("limits", &K::limits, rule_limits(), "Limits of the rules")
      .with_default("least_length", &K::least_length, length(0, longest_tube), "Of the tube between its cuts")
      .with_default("greatest_length", &K::greatest_length, length(0, longest_tube),
                    "Of the tube between its cuts; 0: no limit")
      .with_default("least_cut", &K::least_cut, length(0, longest_tube),
                    "Cut off at either end at least, where ends are cracked or uneven")
      .with_default("mark_leeway", &K::mark_leeway, length(0, longest_tube),
                    "How far a proposal may shift either hand's mark along, each way")
      .with_default("playing_angle_deg", &K::playing_angle, degrees(-90, 90),
                    "Of the tube below the horizontal, as it is played")
      .with_default("weights", &K::weights, weights(),
                    "What a proposal is judged by, in points; they may all be left out")
      .exactly_one_of({"keys", "keys_csv"});
}

}  // namespace

Codec<TouchSurface> touch_surface() {
  return choice<TouchSurface>(
      {{"dished", TouchSurface::dished}, {"domed", TouchSurface::domed}, {"flat", TouchSurface::flat}});
}

Codec<PadLand> pad_land() {
  return choice<PadLand>({{"saddle", PadLand::saddle}, {"facet", PadLand::facet}});
}

Codec<Recess> recess() {
  return object(Table<Recess>("a recess")
                    .required("length", &Recess::length, length(0.5, 100),
                              "Along the tube; of a round one its diameter")
                    .with_default("width", &Recess::width, length(0, 100), "Around the tube; 0: it is round")
                    .required("depth", &Recess::depth, length(0.2, 30), "From the touch down"));
}

Codec<Hand> hand_name() {
  return choice<Hand>({{"left", Hand::left}, {"right", Hand::right}});
}

Codec<Finger> finger_name() {
  return choice<Finger>({{"thumb", Finger::thumb},
                         {"index", Finger::index},
                         {"middle", Finger::middle},
                         {"ring", Finger::ring},
                         {"little", Finger::little},
                         {"side", Finger::side}});
}

Table<HandMark> hand_mark_table() {
  return Table<HandMark>("a hand's mark")
      .required("along", &HandMark::along, length(0, longest_tube), "From the mouth cut toward the foot")
      .required("around", &HandMark::around, offset(), "From the key line to the player's left");
}

const Table<KeyLayout>& key_layout_table() {
  static const Table<KeyLayout> table = key_layout_fields();
  return table;
}

}  // namespace culmwright::files
