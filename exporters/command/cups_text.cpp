#include "command/cups_text.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "command/cup_part.hpp"
#include "command/terminal.hpp"

namespace culmwright::command {

namespace {

constexpr std::size_t nearest_told = 3;

/// Notes in the order in which they come up, each with all that it stands for.
class Notes {
 public:
  void add(const std::string& note, const std::string& id) {
    const auto same =
        std::find_if(notes_.begin(), notes_.end(), [&](const auto& n) { return n.first == note; });
    if (same == notes_.end()) {
      notes_.push_back({note, {id}});
    } else {
      same->second.push_back(id);
    }
  }
  std::string text() const {
    std::string text;
    for (const auto& [note, ids] : notes_) text += wrapped(listed(ids, ", ") + ": " + note, 2);
    return text;
  }

 private:
  std::vector<std::pair<std::string, std::vector<std::string>>> notes_;
};

std::string times(double length, double width) {
  const bool round = std::abs(length - width) < 5e-3;
  return round ? fixed_text(length, 1) : fixed_text(length, 1) + " × " + fixed_text(width, 1);
}

std::vector<std::string> row_of(const CupPlan& plan) {
  return {plan.key_id,
          name_of(plan.kind),
          fixed_text(2.0 * plan.hole.least, 2) + (plan.hole.measured ? " m" : ""),
          plan.flush ? "flush" : times(plan.flange.length, plan.flange.width),
          plan.spigot_radius > 0.0
              ? fixed_text(2.0 * plan.spigot_radius, 2) + " × " + fixed_text(plan.spigot_length, 1)
              : "",
          fixed_text(plan.wall, 1),
          support_words(plan)};
}

/// "2 of 2.5 × 8"; "glue".
std::string held_by(const FittedPlan& plan) {
  if (plan.fastening == Fastening::glue) return "glue";
  const FittedScrew& screw = plan.screws.front();
  return std::to_string(plan.screws.size()) + " of " + number_text(screw.diameter, 3) + " × " +
         number_text(screw.length, 3);
}

std::string drilled_for(const FittedPlan& plan) {
  if (plan.screws.empty()) return "";
  const FittedScrew& screw = plan.screws.front();
  double depth = screw.depth;
  for (const FittedScrew& one : plan.screws) depth = std::min(depth, one.depth);
  return fixed_text(screw.pilot, 1) + " × " + fixed_text(depth, 1);
}

std::vector<std::string> row_of(const FittedPlan& plan) {
  return {plan.part(),
          times(plan.base.length, plan.base.width),
          held_by(plan),
          drilled_for(plan),
          plan.adjust > 0.0 ? fixed_text(plan.adjust, 1) : "",
          std::string("top ") + (plan.top_down() ? "down" : "up")};
}

template <class Plan>
std::string table_of(const std::vector<std::string>& heads, const std::vector<Planned<Plan>>& list) {
  TextTable table(heads);
  for (const Planned<Plan>& one : list) {
    std::vector<std::string> cells(heads.size());
    cells[0] = one.id;
    cells[1] = "refused";
    table.row(one.plan ? row_of(*one.plan) : cells);
  }
  std::string text = table.text();
  for (const Planned<Plan>& one : list) {
    if (!one.plan) text += wrapped(one.refused, 2);
  }
  return text;
}

}  // namespace

std::string cups_text(const std::vector<Planned<CupPlan>>& cups) {
  if (cups.empty()) return "";
  std::string text = table_of({"key", "kind", "hole", "flange", "spigot", "wall", "printed"}, cups);
  Notes notes;
  bool measured = false;
  for (const Planned<CupPlan>& one : cups) {
    if (!one.plan) continue;
    measured = measured || one.plan->hole.measured;
    for (const std::string& note : one.plan->notes) {
      // The table says how each is printed.
      if (note.rfind("printed touch", 0) != 0) notes.add(note, one.id);
    }
  }
  if (measured) text += "  m: as it came out, the caliper's error taken off\n";
  return text + notes.text();
}

std::string fitted_text(const std::vector<Planned<FittedPlan>>& parts) {
  if (parts.empty()) return "";
  Notes notes;
  for (const Planned<FittedPlan>& one : parts) {
    if (!one.plan) continue;
    for (const std::string& note : one.plan->notes) notes.add(note, one.id);
  }
  return table_of({"part", "footprint", "screws", "drill × deep", "moves ±", "printed"}, parts) +
         notes.text();
}

std::string clearances_text(const std::vector<Clearance>& found) {
  std::string text;
  std::vector<const Clearance*> kept;
  for (const Clearance& one : found) {
    if (one.fails) {
      text += wrapped("fails: " + one.sentence, 2);
    } else if (one.least > 0.0) {
      kept.push_back(&one);
    }
  }
  std::stable_sort(kept.begin(), kept.end(), [](const Clearance* one, const Clearance* other) {
    return one->found.distance < other->found.distance;
  });
  kept.resize(std::min(kept.size(), nearest_told));
  std::string nearest;
  for (const Clearance* one : kept) {
    nearest += (nearest.empty() ? "" : "; ") + one->first + " and " + one->second + " " +
               fixed_text(one->found.distance, 1) + (one->inside ? " under the skin" : "");
  }
  if (!nearest.empty()) text += wrapped("nearest to one another: " + nearest, 2);
  return text;
}

}  // namespace culmwright::command
