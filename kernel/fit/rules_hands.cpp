/// The hands: which is uppermost, and how far apart they are.
#include <algorithm>
#include <cmath>

#include "fit/hands.hpp"
#include "fit/rule_checks.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

/// Index to little finger: what lies under a hand. Thumb and side keys may pass the other hand's.
std::vector<std::size_t> keys_under(const LaidOut& laid, Hand hand) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < laid.instrument.keys.size(); ++i) {
    const Key& key = laid.instrument.keys[i].key;
    if (key.hand == hand && is_under_hand(key)) found.push_back(i);
  }
  return found;
}

const char* name_of(Hand hand) {
  return hand == Hand::left ? "left" : "right";
}

}  // namespace

std::vector<Finding> hands_order(const LaidOut& laid) {
  Tally tally("hands-order");
  const Hand upper = upper_hand(laid.layout);
  const Hand lower = upper == Hand::left ? Hand::right : Hand::left;
  const std::vector<PlacedKey>& keys = laid.instrument.keys;
  const std::vector<std::size_t> above = keys_under(laid, upper);
  const std::vector<std::size_t> below = keys_under(laid, lower);
  if (above.empty() || below.empty()) return {};
  const auto by_along = [&](std::size_t a, std::size_t b) { return keys[a].along < keys[b].along; };
  const PlacedKey& last = keys[*std::max_element(above.begin(), above.end(), by_along)];
  const PlacedKey& first = keys[*std::min_element(below.begin(), below.end(), by_along)];
  Finding finding = tally.at_least(first.along - last.along, 0.0);
  finding.ids = {last.key.id, first.key.id};
  finding.place = first.place;
  finding.sentence = first.key.id + " (" + name_of(lower) + " hand) stands " +
                     millimetres(std::abs(finding.value)) + (finding.value < 0.0 ? " above " : " below ") +
                     last.key.id + " (" + name_of(upper) + " hand); the " + name_of(upper) +
                     " hand is the upper one.";
  tally.add(std::move(finding));
  return std::move(tally).take();
}

std::vector<Finding> hands_apart(const LaidOut& laid) {
  Tally tally("hands-apart");
  const double limit = laid.layout.limits.hands_apart;
  for (const std::size_t i : keys_under(laid, Hand::left)) {
    for (const std::size_t j : keys_under(laid, Hand::right)) {
      if (least_possible_gap(laid.touches[i], laid.touches[j]) - limit > tally.margin_that_matters())
        continue;
      const Gap gap = gap_between(laid.tube, laid.touches[i], laid.touches[j]);
      Finding finding = tally.at_least(gap.distance, limit);
      finding.ids = {laid.key_id(i), laid.key_id(j)};
      finding.place = gap.middle;
      finding.sentence = "The hands come within " + millimetres(std::max(gap.distance, 0.0)) +
                         " of each other, at the touches of " + listing(finding.ids) + "; they need " +
                         millimetres(limit) + ".";
      tally.add(std::move(finding));
    }
  }
  return std::move(tally).take();
}

}  // namespace culmwright
