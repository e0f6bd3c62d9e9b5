#include "layout/check_values.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/words.hpp"
#include "layout/check_cups.hpp"

namespace culmwright {

namespace {

std::string mm(double value) {
  return number_text(value) + " mm";
}
std::string item(const char* list, std::size_t i, const char* key) {
  return std::string("/") + list + "/" + std::to_string(i) + "/" + key;
}

void add(Problems& problems, const char* code, std::string pointer, std::string found, std::string allowed,
         std::string advice = "") {
  problems.push_back(
      {code, {"", 0, 0, std::move(pointer)}, std::move(found), std::move(allowed), std::move(advice)});
}

/// Names that must differ, and not in capitals only: they name files, which some systems then confuse.
class Names {
 public:
  Names(Problems& problems, std::string what) : problems_(problems), what_(std::move(what)) {}
  void add(const std::string& name, const std::string& pointer) {
    if (name.empty()) return;
    std::string folded = name;
    for (char& c : folded) c = static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
    const auto [before, is_new] = seen_.emplace(folded, name);
    if (is_new) return;
    culmwright::add(problems_, "duplicate-id", pointer,
                    before->second == name ? what_ + " \"" + name + "\" a second time"
                                           : what_ + " \"" + name + "\" beside \"" + before->second + "\"",
                    "each " + what_ + " once, differing in more than capitals");
  }

 private:
  Problems& problems_;
  std::string what_;
  std::map<std::string, std::string> seen_;
};

void check_corner(Problems& problems, double radius, double length, double width, const std::string& name,
                  const std::string& pointer) {
  const double most = 0.5 * std::min(length, width);
  if (radius > most) {
    add(problems, "corner", pointer, "a corner radius of " + mm(radius) + " on " + name,
        "at most half of its length and width, " + mm(most));
  }
}

void check_part(Problems& problems, const Part& part, std::size_t i) {
  check_corner(problems, part.corner_radius, part.length, part.width, "part \"" + part.id + "\"",
               item("parts", i, "corner_radius"));
  const bool cut_out = part.kind == PartKind::opening;
  for (const auto& [key, size] :
       {std::pair<const char*, double>{"length", part.length}, {"width", part.width}}) {
    if (cut_out && size <= 0.0) {
      add(problems, "missing", item("parts", i, key), "opening \"" + part.id + "\" without a " + key,
          "an opening has a length and a width above 0");
    }
  }
  if (part.kind != PartKind::slider && part.travel > 0.0) {
    add(problems, "travel", item("parts", i, "travel"),
        "a travel of " + mm(part.travel) + " on part \"" + part.id + "\"",
        "travel only on a part of kind \"slider\"");
  }
}

bool plays(const KeyLayout& layout, Hand hand) {
  return std::any_of(layout.keys.begin(), layout.keys.end(),
                     [&](const Key& key) { return key.hand == hand; });
}

void check_same_place(Problems& problems, const KeyLayout& layout) {
  for (std::size_t i = 0; i < layout.keys.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      const Key& a = layout.keys[k];
      const Key& b = layout.keys[i];
      if (a.hand != b.hand || a.along != b.along || a.around != b.around) continue;
      add(problems, "same-place", item("keys", i, "along"),
          "keys \"" + a.id + "\" and \"" + b.id + "\" at one place", "each key at its own place");
    }
  }
}

void check_revisions(Problems& problems, const Placement& placement) {
  for (std::size_t i = 0; i < placement.revisions.size(); ++i) {
    const int expected = static_cast<int>(i) + 1;
    if (placement.revisions[i].number == expected || placement.revisions[i].number == 0) continue;
    add(problems, "revision", item("revisions", i, "number"),
        "revision " + std::to_string(placement.revisions[i].number),
        "revision " + std::to_string(expected) + ": they are numbered 1, 2, 3 … without a gap",
        "Revisions are only ever added; put back the one that is missing");
    return;
  }
}

void check_set_by(Problems& problems, const Placement& placement, int revision, const std::string& pointer) {
  if (revision <= placement.revision()) return;
  add(problems, "revision", pointer, "a number set by revision " + std::to_string(revision),
      "a revision in the list, which ends at " + std::to_string(placement.revision()));
}

void check_placed(Problems& problems, const Placement& placement, const std::vector<PlacedId>& list,
                  const char* name, Names& names) {
  for (std::size_t i = 0; i < list.size(); ++i) {
    names.add(list[i].id, item(name, i, "id"));
    check_set_by(problems, placement, list[i].at.revision, item(name, i, "at"));
    check_set_by(problems, placement, list[i].around.revision, item(name, i, "around"));
  }
}

template <class Known>
void check_known(Problems& problems, const std::vector<PlacedId>& list, const char* name, const char* what,
                 const std::vector<Known>& known, const std::string& layout_id) {
  std::vector<std::string> ids;
  for (const Known& one : known) ids.push_back(one.id);
  for (std::size_t i = 0; i < list.size(); ++i) {
    if (std::find(ids.begin(), ids.end(), list[i].id) != ids.end()) continue;
    const std::optional<std::string> nearest = nearest_word(list[i].id, ids);
    add(problems, "unknown-id", item(name, i, "id"), std::string(what) + " \"" + list[i].id + "\"",
        std::string("a ") + what + " of key layout \"" + layout_id + "\"",
        nearest ? "Did you mean \"" + *nearest + "\"?" : "");
  }
}

/// `beyond`: ids that may stand beyond the cuts (a mouthpiece sits on the end, or in front of it).
void check_between_cuts(Problems& problems, const Placement& placement, const std::vector<PlacedId>& list,
                        const char* name, const std::set<std::string>& beyond = {}) {
  const auto [first, last] = std::minmax(placement.mouth_cut_at.value, placement.foot_cut_at.value);
  for (std::size_t i = 0; i < list.size(); ++i) {
    const double at = list[i].at.value;
    if ((at >= first && at <= last) || beyond.count(list[i].id) > 0) continue;
    add(problems, "outside", item(name, i, "at"), "\"" + list[i].id + "\" at " + mm(at),
        "a place between the cuts, from " + number_text(first) + " to " + mm(last));
  }
}

void check_file_names(Problems& problems, const std::vector<std::string>& list, const char* name) {
  for (std::size_t i = 0; i < list.size(); ++i) {
    if (list[i].empty() || std::find(list.begin(), list.begin() + static_cast<std::ptrdiff_t>(i), list[i]) ==
                               list.begin() + static_cast<std::ptrdiff_t>(i)) {
      continue;
    }
    add(problems, "duplicate-id", std::string("/") + name + "/" + std::to_string(i),
        "the file \"" + list[i] + "\" a second time", "each file once");
  }
}

}  // namespace

Problems check_key_layout(const KeyLayout& layout) {
  Problems problems;
  Names names(problems, "id");
  for (std::size_t i = 0; i < layout.keys.size(); ++i) {
    const Key& key = layout.keys[i];
    names.add(key.id, item("keys", i, "id"));
    check_corner(problems, key.touch.corner_radius, key.touch.length, key.touch.width,
                 "the touch of key \"" + key.id + "\"", item("keys", i, "touch/corner_radius"));
    check_cup_shape(problems, key, item("keys", i, "cup_shape"));
  }
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    names.add(layout.parts[i].id, item("parts", i, "id"));
    check_part(problems, layout.parts[i], i);
  }
  check_same_place(problems, layout);
  if (plays(layout, Hand::left) && plays(layout, Hand::right) && layout.left.along == layout.right.along &&
      layout.left.around == layout.right.around) {
    add(problems, "same-place", "/right_mark",
        "both hands' marks at one place, " + mm(layout.left.along) + " along",
        "a mark of its own for each hand", "Give \"left_mark\" and \"right_mark\"");
  }
  if (layout.greatest_length > 0.0 && layout.least_length > layout.greatest_length) {
    add(problems, "mismatch", "/least_length", "a least length of " + mm(layout.least_length),
        "at most the greatest length, " + mm(layout.greatest_length));
  }
  return problems;
}

Problems check_shop(const Shop& shop) {
  Problems problems;
  check_cup_defaults(problems, shop.cups, "/cups");
  for (std::size_t i = 0; i < shop.drills.size(); ++i) {
    const Drill& drill = shop.drills[i];
    // A hole more than a tenth off its drill's size is another drill's.
    if (drill.measured_hole &&
        std::abs(*drill.measured_hole - drill.diameter) > std::max(0.5, 0.1 * drill.diameter)) {
      add(problems, "mismatch", item("drills", i, "measured_hole"),
          "a hole of " + mm(*drill.measured_hole) + " made by a drill of " + mm(drill.diameter),
          "a hole within a tenth of the drill's diameter", "Look for a slip in one of the two");
    }
  }
  for (std::size_t i = 0; i < shop.bushes.size(); ++i) {
    if (shop.bushes[i].outside <= shop.bushes[i].bore) {
      add(problems, "mismatch", item("bushes", i, "outside"),
          "a bush " + mm(shop.bushes[i].outside) + " outside with a bore of " + mm(shop.bushes[i].bore),
          "an outside diameter larger than the bore");
    }
  }
  return problems;
}

Problems check_placement(const Placement& placement) {
  Problems problems;
  const double mouth = placement.mouth_cut_at.value;
  const double foot = placement.foot_cut_at.value;
  const bool a_up = placement.mouth_end == End::a;
  if (a_up ? mouth >= foot : mouth <= foot) {
    add(problems, "order", "/mouth_cut_at",
        "the mouth cut at " + mm(mouth) + " and the foot cut at " + mm(foot),
        std::string("with end ") + (a_up ? "A" : "B") + " as the mouth end, the mouth cut nearer to end " +
            (a_up ? "A" : "B"));
  }
  Names names(problems, "id");
  check_revisions(problems, placement);
  check_set_by(problems, placement, placement.mouth_cut_at.revision, "/mouth_cut_at");
  check_set_by(problems, placement, placement.foot_cut_at.revision, "/foot_cut_at");
  check_set_by(problems, placement, placement.facing.revision, "/facing_deg");
  check_placed(problems, placement, placement.keys, "keys", names);
  check_placed(problems, placement, placement.parts, "parts", names);
  return problems;
}

Problems check_workshop(const Workshop& workshop) {
  Problems problems;
  check_file_names(problems, workshop.tubes, "tubes");
  check_file_names(problems, workshop.key_layouts, "key_layouts");
  check_file_names(problems, workshop.placements, "placements");
  check_file_names(problems, workshop.as_drilled, "as_drilled");
  return problems;
}

Problems check_placement_on(const Placement& placement, const Survey& survey, const KeyLayout& layout) {
  Problems problems;
  for (const auto& [key, at] : {std::pair<const char*, double>{"/mouth_cut_at", placement.mouth_cut_at.value},
                                {"/foot_cut_at", placement.foot_cut_at.value}}) {
    if (at >= survey.end_a_at() && at <= survey.end_b_at()) continue;
    add(problems, "outside", key, "a cut at " + mm(at),
        "a place on tube \"" + survey.id + "\", from " + number_text(survey.end_a_at()) + " to " +
            mm(survey.end_b_at()));
  }
  const double length = std::abs(placement.foot_cut_at.value - placement.mouth_cut_at.value);
  if (length < layout.least_length || (layout.greatest_length > 0.0 && length > layout.greatest_length)) {
    add(problems, "length", "/foot_cut_at", mm(length) + " between the cuts",
        layout.greatest_length > 0.0
            ? number_text(layout.least_length) + " to " + mm(layout.greatest_length) + " for key layout \"" +
                  layout.id + "\""
            : "at least " + mm(layout.least_length) + " for key layout \"" + layout.id + "\"");
  }
  check_known(problems, placement.keys, "keys", "key", layout.keys, layout.id);
  check_known(problems, placement.parts, "parts", "part", layout.parts, layout.id);
  check_between_cuts(problems, placement, placement.keys, "keys");
  std::set<std::string> mouthpieces;
  for (const Part& part : layout.parts) {
    if (part.kind == PartKind::mouthpiece) mouthpieces.insert(part.id);
  }
  check_between_cuts(problems, placement, placement.parts, "parts", mouthpieces);
  return problems;
}

}  // namespace culmwright
