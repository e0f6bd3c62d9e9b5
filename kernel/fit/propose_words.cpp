#include "fit/propose_words.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "fit/words.hpp"

namespace culmwright {

namespace {

class Explainer {
 public:
  Explainer(const Model& model, const Candidate& candidate, const AlongProblem& along, const Blocked& blocked)
      : model_(model), candidate_(candidate), along_(along), blocked_(blocked) {}

  Refusal explain() {
    if (!blocked_.chains.empty()) {
      const BlockingChain& chain = blocked_.chains.front();
      if (!chain.links.empty() && !chain.circular && no_place(chain.links.back().variable)) {
        say_no_place(chain.links.back().variable);
      } else {
        for (const ChainLink& link : chain.links) say(link, chain);
        say_end(chain);
      }
    }
    for (const int d : blocked_.demands)
      say_demand(along_.demands[static_cast<std::size_t>(d)],
                 along_.problem.demands[static_cast<std::size_t>(d)].distance);
    for (const int r : blocked_.reversible) {
      say_demand(along_.reversible[static_cast<std::size_t>(r)],
                 along_.problem.reversible[static_cast<std::size_t>(r)].distance_a_first);
    }
    for (const Relaxation& relaxation : blocked_.relaxations) say(relaxation);
    if (refusal_.relaxations.empty()) {
      refusal_.relaxations.push_back("No single relaxation of the leeway, the demands or the room would do.");
    }
    refusal_.sentence = "No placement: " + summary() + " Nearest came mouth end " +
                        (candidate_.stand.mouth_end == End::a ? "A" : "B") + ", facing " +
                        std::to_string(std::lround(candidate_.stand.facing.degrees())) + "°.";
    return refusal_;
  }

 private:
  const std::string& name(int variable) const {
    return model_.items[static_cast<std::size_t>(variable)].words;
  }

  void add(std::string sentence) {
    if (!sentence.empty() && sentence.front() >= 'a' && sentence.front() <= 'z') {
      sentence.front() = static_cast<char>(sentence.front() - 'a' + 'A');
    }
    if (said_.insert(sentence).second) refusal_.demands.push_back(std::move(sentence));
  }

  /// Why a stretch is closed to the variable.
  std::string reasons(int variable, Stretch stretch) {
    std::vector<std::string> words;
    for (const Keepout& keepout : along_.keepouts[static_cast<std::size_t>(variable)]) {
      if (keepout.from >= stretch.to - 1e-6 || keepout.to <= stretch.from + 1e-6) continue;
      std::string reason;
      if (keepout.why == Keepout::Why::end && keepout.which >= 2) {
        reason = keepout.which == 2 ? "the mouth end" : "the foot end";
      } else {
        reason = words_of(model_, keepout);
      }
      if (std::find(words.begin(), words.end(), reason) == words.end()) words.push_back(reason);
      if (keepout.why == Keepout::Why::node) node_ = reason;
    }
    return listing(words);
  }

  /// Places count from the mouth cut here.
  void say(const ChainLink& link, const BlockingChain& chain) {
    const SettleVariable& v = along_.problem.variables[static_cast<std::size_t>(link.variable)];
    if (&link == &chain.links.front() && !chain.circular) {
      first_ = name(link.variable);
      if (v.costs.size() == 1) {
        add(first_ + " is fixed at " + millimetres(v.origin) + " from the mouth.");
      } else {
        say_leeway(link.variable);
        closed_before(link.variable, v);
      }
    }
    for (const Stretch& stretch : link.skipped) {
      const std::string why = reasons(link.variable, stretch);
      if (why.empty()) continue;
      add(name(link.variable) + " is kept out of " + millimetres(stretch.from) + " to " +
          millimetres(stretch.to) + " from the mouth: " + why + ".");
    }
  }

  /// Closed places at the beginning of the leeway, which no link of the chain steps over.
  void closed_before(int variable, const SettleVariable& v) {
    double open = v.least;
    for (std::size_t k = 0; k < v.costs.size(); ++k) {
      const double z = v.origin + v.step * static_cast<double>(k);
      if (z < v.least - 1e-9 || v.costs[k] == forbidden_place) continue;
      open = z;
      break;
    }
    if (open <= v.least + v.step) return;
    const std::string why = reasons(variable, {v.least, open});
    if (why.empty()) return;
    add(name(variable) + " is kept out of " + millimetres(v.least) + " to " + millimetres(open) +
        " from the mouth: " + why + ".");
  }

  void say_end(const BlockingChain& chain) {
    if (chain.links.empty()) return;
    const int last = chain.links.back().variable;
    last_ = name(last);
    lack_ = chain.lack;
    circular_ = chain.circular;
    if (chain.circular) return;
    const SettleVariable& v = along_.problem.variables[static_cast<std::size_t>(last)];
    if (v.costs.size() == 1) {
      add(last_ + " is fixed at " + millimetres(v.origin) + " from the mouth.");
      return;
    }
    std::string sentence =
        last_ + " may stand no farther than " + millimetres(chain.greatest) + " from the mouth";
    if (chain.greatest < v.greatest - 2.0 * v.step) {
      const std::string why = reasons(last, {chain.greatest, v.greatest});
      if (!why.empty()) sentence += ", because of " + why;
    } else {
      sentence += ", where its leeway ends";
    }
    add(sentence + "; it would be pushed to " + millimetres(chain.greatest + chain.lack) + ".");
  }

  /// Every place within the leeway is closed.
  bool no_place(int variable) const {
    const SettleVariable& v = along_.problem.variables[static_cast<std::size_t>(variable)];
    for (std::size_t k = 0; k < v.costs.size(); ++k) {
      const double z = v.origin + v.step * static_cast<double>(k);
      if (z > v.least - 1e-9 && z < v.greatest + 1e-9 && v.costs[k] != forbidden_place) return false;
    }
    return v.costs.size() > 1;
  }

  void say_leeway(int variable) {
    const SettleVariable& v = along_.problem.variables[static_cast<std::size_t>(variable)];
    if (v.greatest - v.least > 0.01) {
      add("by its leeway " + name(variable) + " may stand between " + millimetres(v.least) + " and " +
          millimetres(v.greatest) + " from the mouth.");
    } else {
      add(name(variable) + " is wanted at " + millimetres(v.least) + " from the mouth and has no leeway.");
    }
  }

  void say_no_place(int variable) {
    const SettleVariable& v = along_.problem.variables[static_cast<std::size_t>(variable)];
    last_ = name(variable);
    no_place_ = true;
    say_leeway(variable);
    for (const Keepout& keepout : along_.keepouts[static_cast<std::size_t>(variable)]) {
      if (keepout.from >= v.greatest + 0.05 || keepout.to <= v.least - 0.05) continue;
      say_keepout(keepout);
    }
  }

  void say_keepout(const Keepout& keepout) {
    const bool at_cut = keepout.why == Keepout::Why::end && keepout.which >= 2;
    if (at_cut && keepout.which == 2) {
      add("it must stand at least " + millimetres(keepout.to) + " from the mouth end.");
    } else if (at_cut) {
      add("for the foot end's sake it must stand at most " + millimetres(keepout.from) + " from the mouth.");
    } else {
      add(words_of(model_, keepout) + " keeps it out of " + millimetres(keepout.from) + " to " +
          millimetres(keepout.to) + " from the mouth.");
    }
  }

  void say_demand(const AlongProblem::Meaning& meaning, double distance) {
    const std::string pair = name(meaning.a) + " and " + name(meaning.b);
    const std::string apart = millimetres(std::max(distance, 0.0)) + " apart along";
    const std::string around = ": " + millimetres(meaning.around) + " apart around, ";
    pair_ = pair;
    switch (meaning.kind) {
      case DemandKind::web:
        if (meaning.limit > 0.0) {
          add(pair + " must be " + apart + around + "they need a web of " + millimetres(meaning.limit) + ".");
        } else {
          add(pair + " must be " + apart + ", by a rule measured on the finished placing.");
        }
        return;
      case DemandKind::opening:
        add(pair + " must be " + apart + around + "the cuts need a web of " + millimetres(meaning.limit) +
            ".");
        return;
      case DemandKind::touches:
        add(pair + " must be " + apart + around + "else they lie over each other.");
        return;
      case DemandKind::hands_apart:
        add(pair + " must be " + apart + ": the hands need " + millimetres(meaning.limit) + " between them.");
        return;
      case DemandKind::hands_order:
        add(pair + " must keep the order of the hands.");
        return;
    }
  }

  void say(const Relaxation& relaxation) {
    const std::string amount = millimetres(relaxation.amount);
    std::string words;
    switch (relaxation.what) {
      case Relaxation::What::leeway:
        words = amount + " more leeway along, either way, for every key and part";
        break;
      case Relaxation::What::demands:
        words = demand_words(static_cast<DemandKind>(relaxation.kind)) + " smaller by " + amount;
        break;
      case Relaxation::What::low_room:
        words = amount + " more room at the mouth end";
        break;
      case Relaxation::What::high_room:
        words = amount + " more room at the foot end";
        break;
      case Relaxation::What::forbidden:
        words = "holes and parts allowed " + amount + " nearer to " +
                (node_.empty() ? "what keeps them out" : "nodes and whatever else keeps them out");
        break;
    }
    if (!relaxation.cures_all) words += " (it removes this reason; others remain)";
    words.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(words.front())));
    refusal_.relaxations.push_back(words + ".");
  }

  static std::string demand_words(DemandKind kind) {
    switch (kind) {
      case DemandKind::web:
        return "webs between holes";
      case DemandKind::opening:
        return "webs beside openings";
      case DemandKind::touches:
        return "touches and parts";
      case DemandKind::hands_apart:
        return "the distance between the hands";
      case DemandKind::hands_order:
        break;
    }
    return "the order of the hands";
  }

  std::string summary() const {
    if (no_place_) return last_ + " finds no place within its leeway.";
    if (last_.empty()) return "the demands below cannot all be kept.";
    if (circular_) return "what is asked of " + last_ + " contradicts itself by " + millimetres(lack_) + ".";
    if (first_ == last_ || first_.empty()) return last_ + " lacks " + millimetres(lack_) + " of room.";
    return "between " + first_ + " and " + last_ + " " + millimetres(lack_) + " of room are lacking.";
  }

  const Model& model_;
  const Candidate& candidate_;
  const AlongProblem& along_;
  const Blocked& blocked_;
  Refusal refusal_;
  std::set<std::string> said_;
  std::string first_;
  std::string last_;
  std::string pair_;
  std::string node_;
  double lack_ = 0.0;
  bool circular_ = false;
  bool no_place_ = false;
};

/// How often each reason closes a key's places; over the whole tube.
struct Closed {
  bool everywhere = true;
  std::set<std::string> reasons;
};

/// Closed everywhere in every stand, with all its leeway around.
Closed closed_for(const Model& model, const Item& item, std::size_t i, const std::vector<Stand>& stands) {
  Closed closed;
  for (const Stand& stand : stands) {
    const double low = std::min(stand.y(model.tube.end_a_at()), stand.y(model.tube.end_b_at()));
    const double high = std::max(stand.y(model.tube.end_a_at()), stand.y(model.tube.end_b_at()));
    std::vector<std::vector<Keepout>> ways;
    for (const double side : {-1.0, 0.0, 1.0}) {
      ways.push_back(model.keepouts(item, stand, stand.around[i] + side * item.leeway.around));
    }
    for (double y = low + item.mouth_room; y <= high - item.foot_room; y += 0.5) {
      const auto shut = [y](const std::vector<Keepout>& list) {
        return std::any_of(list.begin(), list.end(),
                           [y](const Keepout& k) { return y > k.from && y < k.to; });
      };
      if (!std::all_of(ways.begin(), ways.end(), shut)) return {false, {}};
    }
    for (const Keepout& keepout : ways[1]) {
      if (closed.reasons.size() < 4) closed.reasons.insert(words_of(model, keepout));
    }
  }
  return closed;
}

std::string smaller_hole(const Model& model, const Item& item) {
  double widest = 0.0;
  for (const SkinTable::Ring& ring : model.skin.rings()) {
    for (int degrees = 0; degrees < 180; degrees += 5) widest = std::max(widest, ring.width(degrees));
  }
  const double allowed = model.layout.limits.hole_to_width * widest;
  if (item.diameter <= allowed) return "Another tube, or " + item.words + " left out.";
  return "A hole of at most " + millimetres(allowed) + " for " + item.words +
         ", where the tube is widest, or a wider tube.";
}

}  // namespace

Refusal refusal_of(const Model& model, const Candidate& candidate, const AlongProblem& along,
                   const Blocked& blocked) {
  return Explainer(model, candidate, along, blocked).explain();
}

std::optional<Refusal> refused_outright(const Model& model, const std::vector<Stand>& stands) {
  const KeyLayout& layout = model.layout;
  const double usable = model.tube.length() - 2.0 * layout.least_cut;
  if (usable < layout.least_length) {
    Refusal refusal;
    refusal.sentence = "No placement: the tube is too short. It has " + millimetres(usable) +
                       (layout.least_cut > 0.0 ? " between the least cuts" : "") + "; the key layout needs " +
                       millimetres(layout.least_length) + ".";
    refusal.demands = {"The key layout needs " + millimetres(layout.least_length) + " between the cuts.",
                       "The tube has " + millimetres(usable) + "."};
    refusal.relaxations = {"A least length smaller by " + millimetres(layout.least_length - usable) +
                           ", or a tube longer by as much."};
    return refusal;
  }
  for (std::size_t i = 0; i < model.items.size(); ++i) {
    const Item& item = model.items[i];
    if (item.fixed || !item.is_key) continue;
    const Closed closed = closed_for(model, item, i, stands);
    if (!closed.everywhere) continue;
    Refusal refusal;
    std::vector<std::string> reasons(closed.reasons.begin(), closed.reasons.end());
    const std::string why = reasons.empty() ? "the ends" : listing(reasons);
    refusal.sentence = "No placement: " + item.words + " (a hole of " + millimetres(item.diameter) +
                       ") finds no place anywhere on this tube.";
    refusal.demands = {item.words + " is kept out everywhere by " + why + "."};
    refusal.relaxations = {smaller_hole(model, item)};
    return refusal;
  }
  return std::nullopt;
}

}  // namespace culmwright
