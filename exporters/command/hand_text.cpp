#include "command/hand_text.hpp"

#include <cmath>

#include "base/angle.hpp"
#include "command/terminal.hpp"

namespace culmwright::command {

namespace {

std::string degrees(double radians) {
  return number(radians * 180.0 / pi, 0) + "°";
}
double in_degrees(double radians) {
  return radians * 180.0 / pi;
}

const char* name_of(Finger finger) {
  constexpr const char* names[] = {"thumb", "index", "middle", "ring", "little", "side"};
  return names[static_cast<int>(finger)];
}
const char* name_of(Hand hand) {
  return hand == Hand::left ? "left" : "right";
}

std::string margin(double value) {
  return value >= farthest_margin ? number(value, 0) + "+" : number(value, 0);
}

std::string size_words(const PlayedHand& hand) {
  return number(hand.model.size.length, 0) + " by " + number(hand.model.size.breadth, 0) + " mm";
}

/// The turns of the first joints that a player knows: knuckle and middle joint.
std::vector<std::string> bends(const ReachedPlace& place) {
  switch (place.finger) {
    case Finger::thumb:
      return {degrees(place.turns[1]), degrees(place.turns[2])};
    case Finger::side:
      return {degrees(place.turns[1]), ""};
    default:
      return {degrees(place.turns[1]), degrees(place.turns[2])};
  }
}

std::string table_of(const HandComfort& comfort) {
  TextTable table(
      {"key", "finger", "reach", "mouth", "foot", "left", "right", "knuckle", "middle", "strain"});
  for (const PlaceComfort& at : comfort.places) {
    const ReachedPlace& place = at.place;
    const std::vector<std::string> bent = bends(place);
    const ReachMargin& m = at.margin;
    if (place.reached) {
      table.row({place.id, name_of(place.finger), "yes", margin(m.toward_mouth), margin(m.toward_foot),
                 margin(m.to_left), margin(m.to_right), bent[0], bent[1], number(at.strain, 1)});
    } else {
      table.row(
          {place.id, name_of(place.finger), number(-place.miss, 1), "", "", "", "", bent[0], bent[1], ""});
    }
  }
  return table.text();
}

std::string points_words(const HandComfort& comfort) {
  std::string words = "Comfort: " + number(comfort.points(), 1) + " points, fewer are better: ";
  words += "joints " + number(comfort.strain_points, 1) + ", pads aslant " +
           number(comfort.square_points, 1) + ", little room to reach " + number(comfort.margin_points, 1) +
           ", spread " + number(comfort.spread_points, 1) + ", ways between keys " +
           number(comfort.way_points, 1) + ", wrist " + number(comfort.wrist_points, 1);
  if (comfort.miss_points > 0.0) words += ", out of reach " + number(comfort.miss_points, 1);
  return words + ".";
}

std::string wrist_words(const HandComfort& comfort) {
  const double extension = comfort.laid.extension;
  const double sideways = comfort.laid.wrist_sideways;
  return "Wrist bent " + degrees(std::abs(extension)) + (extension >= 0.0 ? " back" : " toward the palm") +
         " and " + degrees(std::abs(sideways)) +
         (sideways >= 0.0 ? " toward the little finger." : " toward the thumb.");
}

std::string spread_words(const SpreadComfort& spread) {
  const std::string pair = spread.a + " to " + spread.b + ": fingers ";
  const double apart = in_degrees(spread.spread);
  if (std::abs(apart) < 0.5) return pair + "side by side.";
  if (apart < 0.0) return pair + degrees(-spread.spread) + " toward each other.";
  return pair + degrees(spread.spread) + " apart, " + number(100.0 * spread.share(), 0) +
         " % of the greatest spread that was measured.";
}

std::string way_words(const WayComfort& way) {
  std::string words = way.from + " to " + way.to + ": " + number(way.distance, 0) + " mm, with " +
                      degrees(way.turn) + " in the joint that turns most";
  if (!way.room) return words + ".";
  if (*way.room >= 0.5) return words + "; " + number(*way.room, 0) + " mm clear of the finger beside it.";
  if (*way.room > -0.5) return words + "; it brushes the finger beside it.";
  return words + "; it presses " + number(-*way.room, 1) + " mm into the finger beside it.";
}

}  // namespace

const std::string& comfort_caution() {
  static const std::string words =
      "Reach and comfort are calculated from average hands: they advise, touch decides. They are no medical "
      "advice: "
      "stop when it hurts.";
  return words;
}

std::string comfort_text(const Tube& tube, const KeyLayout& layout, const Instrument& instrument) {
  std::string words;
  for (const PlayedHand& hand : played_hands(tube, layout, instrument)) {
    const HandComfort comfort = hand_comfort(hand.model, hand.task);
    words += (words.empty() ? "" : ", ") + std::string(name_of(hand.task.hand)) + " hand " +
             number(comfort.points(), 1);
  }
  if (words.empty()) return "";
  return wrapped("Discomfort in points: " + words + ". The command hand takes it apart; touch decides.", 2);
}

JsonValue comfort_json(const Tube& tube, const KeyLayout& layout, const Instrument& instrument) {
  JsonValue hands = JsonValue::array();
  for (const PlayedHand& hand : played_hands(tube, layout, instrument)) {
    hands.push(hand_json(hand, hand_comfort(hand.model, hand.task)));
  }
  return hands;
}

std::string hand_text(const PlayedHand& hand, const HandComfort& comfort) {
  std::string text =
      std::string(hand.task.hand == Hand::left ? "Left" : "Right") + " hand, " + size_words(hand) + "\n";
  text += table_of(comfort);
  text += wrapped(
      "Room of each touch in mm, toward mouth and foot, to the player's left and right, the palm held; bend "
      "of "
      "knuckle and middle joint; strain: 1 is felt.",
      2);
  for (const std::string& words : hand_words(hand, comfort)) text += wrapped(words, 2);
  return text;
}

std::vector<std::string> hand_words(const PlayedHand& hand, const HandComfort& comfort) {
  std::vector<std::string> words{points_words(comfort), wrist_words(comfort)};
  for (const SpreadComfort& spread : comfort.spreads) words.push_back(spread_words(spread));
  for (const WayComfort& way : comfort.ways) words.push_back(way_words(way));
  for (const PlaceComfort& at : comfort.places) {
    if (at.place.reached) continue;
    words.push_back(
        at.place.id + " lies " + number(at.place.miss, 1) + " mm out of reach of " +
        words_of(hand.task.hand, at.place.finger) + "." +
        (at.place.finger == Finger::thumb ? " The model of the thumb is rough: try it on a mock-up." : ""));
  }
  return words;
}

JsonValue hand_json(const PlayedHand& hand, const HandComfort& comfort) {
  JsonValue places = JsonValue::array();
  for (const PlaceComfort& at : comfort.places) {
    const ReachedPlace& place = at.place;
    JsonValue json = JsonValue::object();
    json.set("id", place.id)
        .set("finger", name_of(place.finger))
        .set("rest", place.is_rest)
        .set("reached", place.reached)
        .set("miss", place.miss)
        .set("margin_toward_mouth", at.margin.toward_mouth)
        .set("margin_toward_foot", at.margin.toward_foot)
        .set("margin_to_players_left", at.margin.to_left)
        .set("margin_to_players_right", at.margin.to_right)
        .set("knuckle_deg", in_degrees(place.turns[1]))
        .set("middle_joint_deg", in_degrees(place.finger == Finger::side ? place.turns[3] : place.turns[2]))
        .set("sideways_deg", in_degrees(place.turns[0]))
        .set("off_square_deg", in_degrees(place.off_square))
        .set("strain", at.strain);
    places.push(std::move(json));
  }
  JsonValue spreads = JsonValue::array();
  for (const SpreadComfort& spread : comfort.spreads) {
    spreads.push(JsonValue::object()
                     .set("from", spread.a)
                     .set("to", spread.b)
                     .set("spread_deg", in_degrees(spread.spread))
                     .set("greatest_deg", in_degrees(spread.greatest)));
  }
  JsonValue ways = JsonValue::array();
  for (const WayComfort& way : comfort.ways) {
    JsonValue json = JsonValue::object();
    json.set("from", way.from).set("to", way.to).set("distance", way.distance);
    json.set("turn_deg", in_degrees(way.turn));
    if (way.room) json.set("room_beside", *way.room);
    ways.push(std::move(json));
  }
  JsonValue points = JsonValue::object();
  points.set("sum", comfort.points())
      .set("joints", comfort.strain_points)
      .set("pads_aslant", comfort.square_points)
      .set("room_to_reach", comfort.margin_points)
      .set("spread", comfort.spread_points)
      .set("ways", comfort.way_points)
      .set("wrist", comfort.wrist_points)
      .set("out_of_reach", comfort.miss_points);
  return JsonValue::object()
      .set("hand", name_of(hand.task.hand))
      .set("length", hand.model.size.length)
      .set("breadth", hand.model.size.breadth)
      .set("points", std::move(points))
      .set("wrist_back_deg", in_degrees(comfort.laid.extension))
      .set("wrist_toward_little_finger_deg", in_degrees(comfort.laid.wrist_sideways))
      .set("places", std::move(places))
      .set("spreads", std::move(spreads))
      .set("ways", std::move(ways));
}

}  // namespace culmwright::command
