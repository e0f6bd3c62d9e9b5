#include "fit/propose_score.hpp"

#include <algorithm>
#include <cmath>

#include "fit/words.hpp"

namespace culmwright {

namespace {

double turned_away(const Model& model, Angle facing) {
  return model.facts.handsome ? 0.5 * (1.0 - (facing - *model.facts.handsome).cos()) : 0.0;
}

bool butt_up(const Model& model, End mouth_end) {
  return model.facts.butt && *model.facts.butt == mouth_end;
}

/// cm² in sight of a blemish to hide between two cuts: the more the nearer to the front.
double in_sight(const Model& model, const Blemish& blemish, Angle facing, double from_at, double to_at) {
  if (blemish.use != BlemishUse::hide || blemish.place.at < from_at || blemish.place.at > to_at) return 0.0;
  const SkinTable::Ring& ring = model.skin.nearest(blemish.place.at);
  const double apart =
      std::remainder(blemish.place.around - model.skin.around(ring, facing, 0.0), ring.girth);
  const double facing_front = std::cos(apart / ring.mean_radius());
  return 0.01 * blemish.length * blemish.width * std::max(facing_front, 0.0);
}

bool under_opening(const Model& model, const Instrument& instrument, const Blemish& blemish) {
  for (const PlacedPart& part : instrument.parts) {
    if (part.part.kind != PartKind::opening) continue;
    const SkinTable::Ring& ring = model.skin.nearest(blemish.place.at);
    const double around = std::abs(std::remainder(blemish.place.around - part.place.around, ring.girth));
    const double along = std::abs(blemish.place.at - part.place.at);
    if (along <= 0.5 * (part.part.length - blemish.length) &&
        around <= 0.5 * (part.part.width - blemish.width)) {
      return true;
    }
  }
  return false;
}

struct Shifts {
  double keys = 0.0;
  double parts = 0.0;
  double marks = 0.0;
  double spacing = 0.0;
};

double squared(double x) {
  return x * x;
}

Shifts shifts_of(const Model& model, const Placement& placement, const Instrument& instrument) {
  Shifts shifts;
  const HandMark marks[2] = {placement.left_mark.value_or(model.layout.left),
                             placement.right_mark.value_or(model.layout.right)};
  for (int i = 0; i < 2; ++i) {
    shifts.marks += squared(marks[i].along - model.marks[i].along);
  }
  const auto along_of = [&](const Item& item) {
    return item.is_key ? instrument.keys[item.index].along : instrument.parts[item.index].along;
  };
  for (const Item& item : model.items) {
    const double around =
        item.is_key ? instrument.keys[item.index].around : instrument.parts[item.index].around;
    const double from = item.anchor == Anchor::left_hand    ? marks[0].along
                        : item.anchor == Anchor::right_hand ? marks[1].along
                        : item.anchor == Anchor::mouth_end  ? 0.0
                                                            : instrument.length();
    const double girth = model.skin
                             .nearest(item.is_key ? instrument.keys[item.index].place.at
                                                  : instrument.parts[item.index].place.at)
                             .girth;
    const double shift =
        squared(along_of(item) - from - item.along) + squared(std::remainder(around - item.around, girth));
    (item.is_key ? shifts.keys : shifts.parts) += shift;
  }
  for (const auto& [a, b] : neighbours(model)) {
    const Item& first = model.items[static_cast<std::size_t>(a)];
    const Item& second = model.items[static_cast<std::size_t>(b)];
    shifts.spacing += squared(along_of(second) - along_of(first) - (second.along - first.along));
  }
  return shifts;
}

std::string internode_words(const std::vector<double>& bounds, int internode) {
  const auto length = [&](std::size_t i) { return bounds[i + 1] - bounds[i]; };
  const auto k = static_cast<std::size_t>(internode);
  std::size_t longest = 0;
  for (std::size_t i = 0; i + 1 < bounds.size(); ++i) {
    if (length(i) > length(longest)) longest = i;
  }
  if (k == longest && bounds.size() > 2) return "the long internode";
  static const char* const ordinals[] = {"first", "second", "third", "fourth", "fifth", "sixth"};
  if (k < 6) return std::string("the ") + ordinals[k] + " internode";
  return "internode " + std::to_string(k + 1) + " from the mouth";
}

std::string hands_words(const Model& model, const Instrument& instrument, const int internode[2]) {
  bool has[2] = {false, false};
  for (const Key& key : model.layout.keys) has[key.hand == Hand::right] = true;
  std::vector<double> bounds{0.0};
  const double sense = instrument.mouth_end == End::a ? 1.0 : -1.0;
  // Internodes count from the tube's own end, so the cut ends bound the first and last only.
  std::vector<double> nodes;
  for (const Node& node : model.tube.nodes()) {
    nodes.push_back(sense * (node.at() - instrument.mouth_cut_at));
  }
  std::sort(nodes.begin(), nodes.end());
  for (const double node : nodes) bounds.push_back(std::clamp(node, 0.0, instrument.length()));
  bounds.push_back(instrument.length());
  if (nodes.empty()) return "no node on it";
  // Numbered from the mouth cut: internodes that are cut off wholly do not count.
  const int skipped =
      static_cast<int>(std::count_if(nodes.begin(), nodes.end(), [](double n) { return n <= 0.0; }));
  bounds.erase(bounds.begin() + 1, bounds.begin() + 1 + skipped);
  const auto words = [&](int i) { return internode_words(bounds, std::max(internode[i] - skipped, 0)); };
  if (has[0] && has[1]) {
    if (internode[0] == internode[1]) return "both hands in " + words(0);
    return "left hand in " + words(0) + ", right hand in " + words(1);
  }
  return has[0] ? "the hand in " + words(0) : "the hand in " + words(1);
}

std::string whole(double value) {
  return std::to_string(std::lround(value));
}

std::string balance_words(const std::optional<Balance>& balance) {
  if (!balance || !balance->torque) return "";
  const double torque = balance->torque->value;
  const double size = std::abs(torque);
  // Common practice: a thumb hardly notices a quarter of the first, and tires at the last.
  if (size < 15.0) return ", in balance: " + whole(size) + " N·mm";
  const char* how = size < 60.0 ? "slightly " : size < 150.0 ? "" : "very ";
  return std::string(", ") + how + (torque > 0.0 ? "foot" : "mouth") + "-heavy: " + whole(size) + " N·mm";
}

}  // namespace

double stand_points(const Model& model, const Stand& stand) {
  const Weights& weights = model.layout.weights;
  return weights.handsome * turned_away(model, stand.facing) +
         (butt_up(model, stand.mouth_end) ? weights.butt : 0.0);
}

double cut_points(const Model& model, const Stand& stand, const Setting& setting) {
  const Weights& weights = model.layout.weights;
  double points = weights.cut_off * (model.tube.length() - (setting.foot - setting.mouth));
  const double from = std::min(stand.sense * setting.mouth, stand.sense * setting.foot);
  const double to = std::max(stand.sense * setting.mouth, stand.sense * setting.foot);
  for (const Blemish& blemish : model.tube.blemishes()) {
    points += weights.blemishes * in_sight(model, blemish, stand.facing, from, to);
  }
  return points;
}

std::vector<ScoreTerm> score_terms(const Model& model, const Placement& placement,
                                   const Instrument& instrument, const std::optional<Balance>& balance,
                                   std::optional<double> discomfort) {
  const Weights& w = model.layout.weights;
  const Shifts shifts = shifts_of(model, placement, instrument);
  double thin = 0.0;
  for (const PlacedKey& key : instrument.keys) thin += squared(std::max(w.wall_wanted - key.wall, 0.0));
  const double from = std::min(instrument.mouth_cut_at, instrument.foot_cut_at);
  const double to = std::max(instrument.mouth_cut_at, instrument.foot_cut_at);
  double seen = 0.0;
  for (const Blemish& blemish : model.tube.blemishes()) {
    if (!under_opening(model, instrument, blemish)) {
      seen += in_sight(model, blemish, instrument.facing, from, to);
    }
  }
  std::vector<ScoreTerm> terms;
  if (discomfort) {
    terms.push_back({"discomfort of the hands", *discomfort, "", 1.0});
  } else {
    terms.push_back({"keys shifted from the hand's places", shifts.keys, "mm²", w.departure});
  }
  terms.push_back({"parts shifted", shifts.parts, "mm²", w.parts});
  terms.push_back({"hand marks shifted along", shifts.marks, "mm²", w.marks});
  terms.push_back({"uneven spacing of finger keys", shifts.spacing, "mm²", w.spacing});
  if (balance && balance->torque) {
    terms.push_back({"torque about the thumb rest", std::abs(balance->torque->value), "N·mm", w.torque});
  }
  if (balance && balance->roll) {
    terms.push_back({"roll on the thumb rest", std::abs(balance->roll->torque), "N·mm", w.roll});
  }
  if (model.facts.handsome) {
    terms.push_back(
        {"handsome side turned away", turned_away(model, instrument.facing), "of all", w.handsome});
  }
  terms.push_back({"blemishes to hide, in sight", seen, "cm²", w.blemishes});
  if (model.facts.butt) {
    terms.push_back({"butt at the mouth end", butt_up(model, instrument.mouth_end) ? 1.0 : 0.0, "", w.butt});
  }
  terms.push_back({"wall thinner than wanted at holes", thin, "mm²", w.wall});
  terms.push_back({"tube cut off", model.tube.length() - instrument.length(), "mm", w.cut_off});
  return terms;
}

std::vector<std::pair<int, int>> neighbours(const Model& model) {
  std::vector<std::pair<int, int>> pairs;
  for (const Anchor anchor : {Anchor::left_hand, Anchor::right_hand}) {
    std::vector<int> row;
    for (std::size_t i = 0; i < model.items.size(); ++i) {
      if (model.items[i].under_hand && model.items[i].anchor == anchor) row.push_back(static_cast<int>(i));
    }
    std::stable_sort(row.begin(), row.end(), [&](int a, int b) {
      return model.items[static_cast<std::size_t>(a)].along < model.items[static_cast<std::size_t>(b)].along;
    });
    for (std::size_t i = 1; i < row.size(); ++i) pairs.emplace_back(row[i - 1], row[i]);
  }
  return pairs;
}

std::string character_of(const Model& model, const Instrument& instrument, const int internode[2],
                         const std::optional<Balance>& balance) {
  std::string text = std::string("mouth at ") + (instrument.mouth_end == End::a ? "A" : "B");
  text +=
      ", facing " + whole(instrument.facing.degrees()) + "°, " + hands_words(model, instrument, internode);
  return text + balance_words(balance);
}

}  // namespace culmwright
