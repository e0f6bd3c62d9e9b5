/// Reach: whether the player's fingers come to every key, where the key layout says how large the hands are.
#include "fit/played_hands.hpp"
#include "fit/rule_checks.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

SkinPlace place_of(const Instrument& instrument, const ReachedPlace& reached) {
  for (const PlacedKey& key : instrument.keys) {
    if (!reached.is_rest && key.key.id == reached.id) return key.place;
  }
  for (const PlacedPart& part : instrument.parts) {
    if (reached.is_rest && part.part.id == reached.id) return part.place;
  }
  return {};
}

std::string sentence_of(const ReachedHand& hand, const ReachedPlace& place) {
  const std::string size = "a hand of " + millimetres(hand.played.model.size.length) + " by " +
                           millimetres(hand.played.model.size.breadth);
  const std::string finger = words_of(hand.played.task.hand, place.finger);
  if (place.reached) return place.id + " lies within reach of " + finger + ", for " + size + ".";
  const bool thumb = place.finger == Finger::thumb;
  return place.id + " lies " + millimetres(place.miss) + " out of reach of " + finger + ", for " + size +
         " with every other finger at its keys." +
         (thumb ? " The model of the thumb is rough: try it on a mock-up."
                : " Move it, or its hand's other keys, nearer together.");
}

std::vector<Finding> reach_of(const LaidOut& laid, const char* rule, bool thumbs) {
  Tally tally(rule);
  for (const ReachedHand& hand : laid.hands) {
    for (const ReachedPlace& place : hand.laid.places) {
      if ((place.finger == Finger::thumb) != thumbs) continue;
      Finding finding = tally.at_most(place.miss, reached_within);
      finding.ids = {place.id};
      finding.place = place_of(laid.instrument, place);
      finding.sentence = sentence_of(hand, place);
      tally.add(std::move(finding));
    }
  }
  return std::move(tally).take();
}

}  // namespace

std::vector<Finding> fingers_reach(const LaidOut& laid) {
  return reach_of(laid, "reach", false);
}

std::vector<Finding> thumbs_reach(const LaidOut& laid) {
  return reach_of(laid, "thumb-reach", true);
}

}  // namespace culmwright
