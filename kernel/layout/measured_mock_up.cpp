#include "layout/measured_mock_up.hpp"

#include <map>
#include <set>

#include "base/words.hpp"

namespace culmwright {

namespace {

namespace on_tube = mark_on_tube;

const std::set<std::string>& marks_along() {
  static const std::set<std::string> all{on_tube::end_a, on_tube::end_b, on_tube::mouth_cut,
                                         on_tube::foot_cut, on_tube::datum};
  return all;
}
const std::set<std::string>& lines() {
  static const std::set<std::string> all{on_tube::reference_line, on_tube::key_line};
  return all;
}
bool is_mark_on_tube(const std::string& name) {
  return marks_along().count(name) + lines().count(name) > 0;
}
bool is_sideways(Toward direction) {
  return direction == Toward::players_left || direction == Toward::players_right;
}
bool is_straight(Way way) {
  return way == Way::skin || way == Way::straight;
}

/// Looks at one reading or mark after the other.
class Check {
 public:
  explicit Check(Problems& problems) : problems_(problems) {}

  void reading(const MockUpReading& reading, std::size_t i) {
    item_ = "/readings/" + std::to_string(i);
    // What could not be read is empty, and has been reported.
    if (reading.what.empty() || reading.from.empty()) return;
    subject(reading);
    base(reading);
    direction(reading);
    held(reading);
  }

  void mark(const WrapMark& mark, std::size_t i) {
    item_ = "/marks/" + std::to_string(i);
    if (!mark.along && !mark.around) {
      add("missing", "", "a mark of " + in_quotes(mark.key) + " with neither along nor around",
          "at least one of the two");
    }
    if (mark.direction && !is_sideways(*mark.direction)) {
      add("direction", "/direction", in_quotes(words_of(*mark.direction)), sideways_words());
    }
    if (mark.around && *mark.around > 0.0 && !mark.direction) {
      add("missing", "", "a mark " + number_text(*mark.around) + " around from its line, without a direction",
          sideways_words(),
          "The paper's outside toward you and the mouth end up, the right side is the "
          "player's left");
    }
    if (!mark.key.empty() && !seen_.insert(mark.key).second) {
      add("duplicate-id", "/key", "the mark of " + in_quotes(mark.key) + " a second time",
          "each key marked once", "A second measurement of a key goes among the readings");
    }
  }

 private:
  static std::string in_quotes(const std::string& text) { return "\"" + text + "\""; }
  static std::string sideways_words() { return "\"to player's left\" or \"to player's right\""; }

  void add(const char* code, const std::string& member, std::string found, std::string allowed,
           std::string advice = "") {
    problems_.push_back(
        {code, {"", 0, 0, item_ + member}, std::move(found), std::move(allowed), std::move(advice)});
  }

  void subject(const MockUpReading& reading) {
    if (reading.what == reading.from) {
      add("same", "/from", in_quotes(reading.what) + " measured from itself", "something else to count from");
    }
    if (!is_mark_on_tube(reading.what)) return;
    const bool cut = reading.what == on_tube::mouth_cut || reading.what == on_tube::foot_cut;
    const bool line = reading.what == on_tube::key_line;
    if (!cut && !line) {
      add("what", "/what", in_quotes(reading.what) + ", which is what the tube is measured from",
          "a key, a part, the mouth cut, the foot cut or the key line");
    } else if (cut && reading.way != Way::along) {
      add("way", "/way", "the " + reading.what + " measured another way than along", "\"along\"");
    } else if (line && (reading.way != Way::around || reading.from != on_tube::reference_line)) {
      add("way", "/way", "the key line measured otherwise than around from the reference line",
          "\"around\", from \"reference line\"");
    } else if (line && !reading.level) {
      add("missing", "", "the key line without where along the tube it was measured",
          "\"level\": along from the mouth cut");
    }
  }

  void base(const MockUpReading& reading) {
    if (!is_mark_on_tube(reading.from)) return;
    const std::set<std::string> fits = reading.way == Way::along    ? marks_along()
                                       : reading.way == Way::around ? lines()
                                                                    : std::set<std::string>{};
    if (fits.count(reading.from) > 0) return;
    std::vector<std::string> words;
    for (const std::string& name : fits) words.push_back(in_quotes(name));
    words.push_back("a key or part");
    add("from", "/from",
        in_quotes(reading.from) + " for a distance measured \"" + way_word(reading.way) + "\"",
        listed(words));
  }

  void direction(const MockUpReading& reading) {
    if (is_straight(reading.way)) {
      if (reading.direction) {
        add("direction", "/direction", "a direction for a straight distance", "none",
            "What lies which way is taken from the places before");
      }
      return;
    }
    const bool around = reading.way == Way::around;
    if (reading.direction) {
      if (is_sideways(*reading.direction) == around) return;
      add("direction", "/direction",
          in_quotes(words_of(*reading.direction)) + " for a distance " + (around ? "around" : "along"),
          around ? sideways_words() : "\"toward foot\", \"toward mouth\", \"toward A\" or \"toward B\"");
      return;
    }
    const bool said_by_base = !around && marks_along().count(reading.from) > 0;
    const bool at_centres =
        reading.point == ReadingPoint::centre && reading.from_point == ReadingPoint::centre;
    if (said_by_base || (at_centres && !(reading.distance > 0.0))) return;
    add("missing", "", "a distance from " + in_quotes(reading.from) + " without a direction",
        around ? sideways_words() : "\"toward foot\" or \"toward mouth\"",
        "It says which way " + in_quotes(reading.what) + " lies");
  }

  void held(const MockUpReading& reading) {
    const auto check = [&](ReadingPoint point, const std::string& of, const char* member) {
      if (point == ReadingPoint::centre) return;
      if (is_straight(reading.way)) {
        add("edge", member, in_quotes(words_of(point)) + " for a straight distance", "\"centre\"",
            "Measured to an edge it says nothing sure about the middle");
      } else if (is_mark_on_tube(of)) {
        add("edge", member, in_quotes(words_of(point)) + " of the " + of, "\"centre\"");
      }
    };
    check(reading.point, reading.what, "/point");
    check(reading.from_point, reading.from, "/from_point");
  }

  static const char* way_word(Way way) {
    return way == Way::along    ? "along"
           : way == Way::around ? "around"
           : way == Way::skin   ? "skin"
                                : "straight";
  }

  Problems& problems_;
  std::string item_;
  std::set<std::string> seen_;
};

}  // namespace

Problems check_measured_mock_up(const MeasuredMockUp& mock_up) {
  Problems problems;
  Check check(problems);
  for (std::size_t i = 0; i < mock_up.readings.size(); ++i) check.reading(mock_up.readings[i], i);
  for (std::size_t i = 0; i < mock_up.marks.size(); ++i) check.mark(mock_up.marks[i], i);
  return problems;
}

const char* words_of(Toward direction) {
  switch (direction) {
    case Toward::foot:
      return "toward foot";
    case Toward::mouth:
      return "toward mouth";
    case Toward::end_a:
      return "toward A";
    case Toward::end_b:
      return "toward B";
    case Toward::players_left:
      return "to player's left";
    case Toward::players_right:
      break;
  }
  return "to player's right";
}

const char* words_of(ReadingPoint point) {
  switch (point) {
    case ReadingPoint::centre:
      return "centre";
    case ReadingPoint::near_edge:
      return "near edge";
    case ReadingPoint::far_edge:
      return "far edge";
    case ReadingPoint::near_hole_edge:
      return "near hole edge";
    case ReadingPoint::far_hole_edge:
      break;
  }
  return "far hole edge";
}

}  // namespace culmwright
