#include "layout/as_drilled.hpp"

#include <algorithm>
#include <map>

#include "base/words.hpp"

namespace culmwright {

namespace {

/// Across one way more than this many times the other: two holes run into each other, or a slip of the pen.
constexpr double greatest_ovality = 2.0;

std::string mm(double value) {
  return number_text(value) + " mm";
}

class Checker {
 public:
  explicit Checker(const AsDrilled& as_drilled) : as_drilled_(as_drilled) {}

  Problems run() {
    for (i_ = 0; i_ < as_drilled_.holes.size(); ++i_) check(as_drilled_.holes[i_]);
    return std::move(problems_);
  }

 private:
  void add(const char* code, const char* key, std::string found, std::string allowed,
           std::string advice = "") {
    const std::string pointer = "/holes/" + std::to_string(i_) + "/" + key;
    problems_.push_back({code, {"", 0, 0, pointer}, std::move(found), std::move(allowed), std::move(advice)});
  }

  void check(const DrilledHole& hole) {
    if (!hole.id.empty()) {
      const auto [before, is_new] = seen_.emplace(hole.id, i_);
      if (!is_new) {
        add("duplicate-id", "id", "the hole \"" + hole.id + "\" a second time", "each hole once",
            "A hole drilled in a wrong place has the state \"extra\" and a name of its own");
      }
    }
    check_size(hole);
    check_place(hole);
  }

  void check_size(const DrilledHole& hole) {
    if (hole.state != DrilledState::pilot && hole.across_along == 0.0) {
      add("missing", "across_along", "the hole \"" + hole.id + "\" without a size",
          "its diameter as measured, along the tube and around it; only a pilot may go without");
    }
    const double least = hole.least_across();
    if (least > 0.0 && hole.greatest_across() > greatest_ovality * least &&
        hole.state != DrilledState::finished) {
      add("mismatch", "across_around",
          "the hole \"" + hole.id + "\" " + mm(hole.across_along) + " along and " + mm(hole.across_around) +
              " around",
          "two diameters of one round hole", "Measure both again");
    }
  }

  void check_place(const DrilledHole& hole) {
    if (hole.at.has_value() != hole.around.has_value()) {
      add("missing", hole.at ? "around" : "at",
          std::string("the hole \"") + hole.id + "\" with its place " + (hole.at ? "along" : "around") +
              " only",
          "both at and around, or neither where it is where the placement has it");
    } else if (hole.state == DrilledState::extra && !hole.at) {
      add("missing", "at", "the extra hole \"" + hole.id + "\" without a place",
          "at and around: no placement says where it is");
    }
  }

  const AsDrilled& as_drilled_;
  std::size_t i_ = 0;
  std::map<std::string, std::size_t> seen_;
  Problems problems_;
};

class Partners {
 public:
  Partners(const AsDrilled& as_drilled, const Placement& placement, const Survey& survey,
           const KeyLayout& layout)
      : as_drilled_(as_drilled), placement_(placement), survey_(survey) {
    for (const Key& key : layout.keys) ids_.push_back(key.id);
    for (const Part& part : layout.parts) {
      if (part.kind == PartKind::opening) ids_.push_back(part.id);
    }
  }

  Problems run() {
    if (as_drilled_.tube_id != survey_.id) {
      add("wrong-tube", "/tube", "holes of the tube \"" + as_drilled_.tube_id + "\"",
          "the tube of the placement, \"" + survey_.id + "\"");
    }
    if (as_drilled_.placement_id != placement_.id) {
      add("wrong-placement", "/placement", "holes of the placement \"" + as_drilled_.placement_id + "\"",
          "\"" + placement_.id + "\"");
    }
    if (as_drilled_.revision > placement_.revision()) {
      add("revision", "/revision", "revision " + std::to_string(as_drilled_.revision),
          "a revision of the placement, which is at " + std::to_string(placement_.revision()));
    }
    for (std::size_t i = 0; i < as_drilled_.holes.size(); ++i) {
      check_id(as_drilled_.holes[i], "/holes/" + std::to_string(i));
      check_place(as_drilled_.holes[i], "/holes/" + std::to_string(i));
    }
    return std::move(problems_);
  }

 private:
  void add(const char* code, std::string pointer, std::string found, std::string allowed,
           std::string advice = "") {
    problems_.push_back(
        {code, {"", 0, 0, std::move(pointer)}, std::move(found), std::move(allowed), std::move(advice)});
  }

  void check_id(const DrilledHole& hole, const std::string& pointer) {
    const bool known = std::find(ids_.begin(), ids_.end(), hole.id) != ids_.end();
    if (hole.state == DrilledState::extra) {
      if (known) {
        add("extra-id", pointer + "/id", "an extra hole called \"" + hole.id + "\" as a key or opening is",
            "a name of its own", "Call it \"" + hole.id + "-slip\", say");
      }
      return;
    }
    if (known) return;
    const std::optional<std::string> nearest = nearest_word(hole.id, ids_);
    add("unknown-id", pointer + "/id", "the hole \"" + hole.id + "\"",
        "a key or opening of the key layout: " + listed(ids_),
        nearest ? "Did you mean \"" + *nearest + "\"? A hole that belongs to none has the state \"extra\""
                : "A hole that belongs to none of them has the state \"extra\"");
  }

  void check_place(const DrilledHole& hole, const std::string& pointer) {
    if (!hole.at || !hole.around) return;
    const auto [first, last] = std::minmax(placement_.mouth_cut_at.value, placement_.foot_cut_at.value);
    if (*hole.at < first || *hole.at > last) {
      add("outside", pointer + "/at", "\"" + hole.id + "\" at " + mm(*hole.at),
          "a place between the cuts, from " + number_text(first) + " to " + mm(last),
          "at counts from the datum mark toward end B, not from the mouth cut");
    }
  }

  const AsDrilled& as_drilled_;
  const Placement& placement_;
  const Survey& survey_;
  std::vector<std::string> ids_;
  Problems problems_;
};

}  // namespace

Problems check_as_drilled_on(const AsDrilled& as_drilled, const Placement& placement, const Survey& survey,
                             const KeyLayout& layout) {
  return Partners(as_drilled, placement, survey, layout).run();
}

Problem twice_drilled(const AsDrilled& again, const std::string& other) {
  return {"duplicate-id",
          {"", 0, 0, "/placement"},
          "the holes of the placement \"" + again.placement_id + "\" again (first in " + other + ")",
          "one as-drilled document for each placement",
          "Put the holes into one"};
}

Problems check_as_drilled(const AsDrilled& as_drilled) {
  return Checker(as_drilled).run();
}

}  // namespace culmwright
