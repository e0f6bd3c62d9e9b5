#include "fit/remeasure.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "base/words.hpp"
#include "fit/assemble.hpp"
#include "fit/remeasure_settler.hpp"
#include "fit/remeasure_write.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

/// A place known no better than this was not measured, mm; or than three errors of the worst reading.
constexpr double poorest = 5.0;
class Remeasurement {
 public:
  Remeasurement(const Tube& tube, const KeyLayout& layout, const Placement& placement,
                const MeasuredMockUp& mock_up, const RemeasureOptions& options)
      : tube_(tube),
        layout_(layout),
        placement_(placement),
        mock_up_(mock_up),
        options_(options),
        full_(explicit_placement(tube, layout, placement)),
        model_(tube, layout, full_, options, mock_up.paper_thickness) {}

  Remeasured run() {
    readings_ = model_readings(model_, mock_up_, problems_);
    const std::set<int> without(options_.without.begin(), options_.without.end());
    check_without(without);
    stop_at_problems();
    std::vector<const ModelReading*> active;
    for (const ModelReading& reading : readings_) {
      if (without.count(reading.number) == 0) active.push_back(&reading);
    }
    if (active.empty()) {
      problem("nothing-measured", "", "no reading", "at least one reading or mark",
              "What is not measured stays where it is");
      stop_at_problems();
    }
    const MockUpSettler settler(model_, active);
    const Settlement all = settler.settle();
    check(settler, all);
    stop_at_problems();
    unknown_ = settler.unknown();
    result_.more_than_needed = static_cast<int>(active.size()) -
                               static_cast<int>(std::count(unknown_.begin(), unknown_.end(), true));
    const Settlement clean = contradictions(settler, all);
    list_readings(clean, without);
    MockUpWriter(tube_, layout_, placement_, full_, model_, all, unknown_).write(date(), result_);
    if (result_.contradictions.empty()) assemble(tube_, layout_, result_.placement);
    remark(settler);
    return std::move(result_);
  }

 private:
  void problem(const char* code, std::string pointer, std::string found, std::string allowed,
               std::string advice = "") {
    problems_.push_back({code,
                         {mock_up_document, 0, 0, std::move(pointer)},
                         std::move(found),
                         std::move(allowed),
                         std::move(advice)});
  }
  void stop_at_problems() const {
    if (!problems_.empty()) throw InputError(problems_);
  }

  const std::string& date() const { return options_.date.empty() ? mock_up_.date : options_.date; }

  void check_without(const std::set<int>& without) {
    for (const int number : without) {
      if (number >= 1 && number <= static_cast<int>(readings_.size())) continue;
      problem("unknown-reading", "", "reading " + std::to_string(number) + " to be left out",
              "readings 1 to " + std::to_string(readings_.size()));
    }
  }

  const ModelReading* first_about(const MockUpSettler& settler, const std::vector<int>& numbers) const {
    for (const ModelReading* reading : settler.readings()) {
      for (const int number : model_.about(*reading)) {
        if (std::find(numbers.begin(), numbers.end(), number) != numbers.end()) return reading;
      }
    }
    return settler.readings().front();
  }

  std::string names(const std::vector<int>& numbers) const {
    std::vector<std::string> words;
    for (const int number : numbers) words.push_back(model_.name_of(number));
    return listing(words);
  }

  bool straight_only(const MockUpSettler& settler, const std::vector<int>& numbers) const {
    return std::any_of(
        settler.readings().begin(), settler.readings().end(), [&](const ModelReading* reading) {
          const std::vector<int> about = model_.about(*reading);
          return is_straight(reading->said.way) && std::any_of(about.begin(), about.end(), [&](int number) {
                   return std::find(numbers.begin(), numbers.end(), number) != numbers.end();
                 });
        });
  }

  void not_fixed(const MockUpSettler& settler, const std::vector<int>& numbers, const std::string& how_far) {
    const std::string pointer = first_about(settler, numbers)->pointer;
    if (straight_only(settler, numbers)) {
      problem("unplaced", pointer, names(numbers) + " by straight distances that do not fix it" + how_far,
              "two straight distances in different directions, or one along or around beside them");
      return;
    }
    problem(
        "no-base", pointer,
        names(numbers) +
            (numbers.size() > 1 ? " measured from one another only" : " measured from nothing that stays") +
            how_far,
        "a chain that begins at an end, a cut, the datum, a line, or a key that was not measured",
        "Measure one of them from an end, or from the line");
  }

  void check(const MockUpSettler& settler, const Settlement& all) {
    for (const std::vector<int>& numbers : all.loose) not_fixed(settler, numbers, "");
    double worst = poorest;
    for (const ModelReading* reading : settler.readings()) worst = std::max(worst, 3.0 * reading->error);
    for (std::size_t n = 0; n < all.errors.size() && all.loose.empty(); ++n) {
      if (all.errors[n] <= worst) continue;
      not_fixed(settler, {static_cast<int>(n)}, ", but for " + millimetres(all.errors[n]));
    }
    if (all.loose.empty() && problems_.empty() && !all.settled) {
      problem("not-settled", "", "readings that come to no settlement", "distances that are near the truth",
              "Look for a slip in the straight distances");
    }
    for (std::size_t n = 0; n < all.values.size(); ++n) check_on_tube(settler, all, static_cast<int>(n));
  }

  void check_on_tube(const MockUpSettler& settler, const Settlement& all, int number) {
    const bool along = number < model_.mouth_cut() ? number % 2 == 0 : number < model_.facing();
    if (!along || !settler.unknown()[static_cast<std::size_t>(number)]) return;
    if (number < model_.mouth_cut()) {
      const Part* part = model_.things()[static_cast<std::size_t>(number / 2)].part;
      if (part != nullptr && part->kind == PartKind::mouthpiece) return;
    }
    const double at = all.values[static_cast<std::size_t>(number)];
    constexpr double rounding = 1e-6;
    if (at >= tube_.end_a_at() - rounding && at <= tube_.end_b_at() + rounding) return;
    problem("place-outside", first_about(settler, {number})->pointer,
            model_.name_of(number) + " at " + millimetres(at) + " on the tube",
            "between " + millimetres(tube_.end_a_at()) + " (end A) and " + millimetres(tube_.end_b_at()) +
                " (end B)");
  }

  std::string said(const ModelReading& reading) const {
    return "reading " + std::to_string(reading.number) + " (" + words_of(reading.said) + ")";
  }

  /// The facts and the places not measured that a reading counts from.
  std::string what_stays(const ModelReading& reading) const {
    std::vector<std::string> words;
    for (const int number : model_.depends_on(reading)) {
      if (number >= model_.mouth_cut() || unknown_[static_cast<std::size_t>(number)]) continue;
      const Number& stays = model_.numbers()[static_cast<std::size_t>(number)];
      const std::string id = model_.things()[static_cast<std::size_t>(number / 2)].id;
      const std::string word = id + (stays.fact ? ", which is drilled or locked" : "");
      if (std::find(words.begin(), words.end(), word) == words.end()) words.push_back(word);
    }
    return words.empty() ? "the tube and its cuts" : "the place of " + listing(words);
  }

  /// Takes out one reading after the other until the rest agrees.
  Settlement contradictions(const MockUpSettler& settler, Settlement settlement) {
    std::vector<const ModelReading*> left = settler.readings();
    while (true) {
      const std::vector<Outlier> all = outliers(settlement.linear);
      std::size_t worst = 0;
      double most = contradiction_sigmas;
      for (std::size_t i = 0; i < all.size(); ++i) {
        // Two that cannot be told apart differ by rounding only: the first is named.
        if (std::abs(all[i].times()) <= most * (1.0 + 1e-9)) continue;
        most = std::abs(all[i].times());
        worst = i;
      }
      if (most <= contradiction_sigmas) return settlement;
      result_.contradictions.push_back(contradiction(all, worst, left));
      left.erase(left.begin() + static_cast<std::ptrdiff_t>(worst));
      settlement = settler.settle(left);
    }
  }

  Contradiction contradiction(const std::vector<Outlier>& all, std::size_t worst,
                              const std::vector<const ModelReading*>& readings) const {
    constexpr double the_same = 0.999;
    constexpr double has_a_say = 0.2;
    const ModelReading& reading = *readings[worst];
    Contradiction found;
    found.number = reading.number;
    found.others_say = reading.said.distance - all[worst].size;
    found.times = all[worst].times();
    std::vector<std::string> against;
    for (std::size_t k = 0; k < all.size(); ++k) {
      const double with = std::abs(all[worst].with[k]);
      if (k != worst && with > has_a_say) {
        found.against.push_back(readings[k]->number);
        against.push_back(said(*readings[k]));
      }
      if (with > the_same) found.suspects.push_back(readings[k]->number);
    }
    found.sentence = sentence(found, reading, against);
    return found;
  }

  std::string sentence(const Contradiction& found, const ModelReading& reading,
                       const std::vector<std::string>& against) const {
    const double more = reading.said.distance - found.others_say;
    std::string text = said(reading) + " says " + millimetres(reading.said.distance) + ", everything else " +
                       millimetres(found.others_say) + ": it is " + millimetres(std::abs(more)) +
                       (more > 0.0 ? " more" : " less") + ", " + fixed_text(std::abs(found.times), 1) +
                       " times what the errors explain. It disagrees with ";
    text[0] = 'R';
    text += against.empty() ? what_stays(reading) : listing(against);
    if (found.suspects.size() > 1) {
      text += found.suspects.size() == 2 ? ". Both cannot be true, and nothing else tells which is wrong"
                                         : ". They cannot all be true, and nothing else tells which is wrong";
    }
    return text + ".";
  }

  void list_readings(const Settlement& clean, const std::set<int>& without) {
    for (const ModelReading& reading : readings_) {
      SettledReading one;
      one.number = reading.number;
      one.pointer = reading.pointer;
      one.words = words_of(reading.said);
      one.distance = reading.said.distance;
      one.settled = model_.predicted(reading, clean.values, unknown_);
      one.error = reading.error;
      one.left_out = without.count(reading.number) > 0;
      result_.readings.push_back(std::move(one));
    }
  }

  void remark(const MockUpSettler& settler) {
    for (const int number : settler.kept()) {
      result_.remarks.push_back(model_.name_of(number) +
                                " stays as it was: the straight distances say too little of it.");
    }
    std::set<std::string> facts;
    for (const ModelReading* reading : settler.readings()) {
      const std::vector<int> about = model_.about(*reading);
      const bool fixed = std::all_of(about.begin(), about.end(), [&](int number) {
        return model_.numbers()[static_cast<std::size_t>(number)].fact;
      });
      if (fixed && facts.insert(reading->said.what).second) {
        result_.remarks.push_back(reading->said.what +
                                  " is drilled or locked: it stays, and readings of it are held against it.");
      }
    }
  }

  const Tube& tube_;
  const KeyLayout& layout_;
  const Placement& placement_;
  const MeasuredMockUp& mock_up_;
  const RemeasureOptions& options_;
  Placement full_;
  MockUpModel model_;
  std::vector<ModelReading> readings_;
  std::vector<bool> unknown_;
  Problems problems_;
  Remeasured result_;
};

}  // namespace

Remeasured remeasure(const Tube& tube, const KeyLayout& layout, const Placement& placement,
                     const MeasuredMockUp& mock_up, const RemeasureOptions& options) {
  return Remeasurement(tube, layout, placement, mock_up, options).run();
}

}  // namespace culmwright
