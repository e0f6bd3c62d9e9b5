/// From the readings as said to readings of the model.
#include <algorithm>

#include "base/words.hpp"
#include "fit/remeasure_model.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

using Kind = ReadingEnd::Kind;

constexpr std::pair<const char*, Kind> named_ends[] = {
    {mark_on_tube::end_a, Kind::end_a},         {mark_on_tube::end_b, Kind::end_b},
    {mark_on_tube::mouth_cut, Kind::mouth_cut}, {mark_on_tube::foot_cut, Kind::foot_cut},
    {mark_on_tube::datum, Kind::datum},         {mark_on_tube::reference_line, Kind::reference_line},
    {mark_on_tube::key_line, Kind::key_line}};

class Readings {
 public:
  Readings(const MockUpModel& model, const MeasuredMockUp& mock_up, Problems& problems)
      : model_(model), errors_(mock_up.errors), problems_(problems) {
    for (std::size_t i = 0; i < mock_up.readings.size(); ++i) {
      ModelReading made;
      made.said = mock_up.readings[i];
      add(made, "/readings/" + std::to_string(i), "/what");
    }
    for (std::size_t i = 0; i < mock_up.marks.size(); ++i) add(mock_up.marks[i], i);
  }
  std::vector<ModelReading> take() && { return std::move(readings_); }

 private:
  void problem(const char* code, std::string pointer, std::string found, std::string allowed,
               std::string advice = "") {
    problems_.push_back({code,
                         {mock_up_document, 0, 0, std::move(pointer)},
                         std::move(found),
                         std::move(allowed),
                         std::move(advice)});
  }

  void add(const WrapMark& mark, std::size_t i) {
    const std::string pointer = "/marks/" + std::to_string(i);
    ModelReading made;
    made.on_paper = true;
    made.said.what = mark.key;
    made.said.error = mark.error;
    made.said.note = mark.note;
    if (mark.along) {
      made.said.from = mark_on_tube::mouth_cut;
      made.said.distance = *mark.along;
      add(made, pointer, "/key", "/along");
    }
    if (!mark.around) return;
    made.said.way = Way::around;
    made.said.from = mark.line == WrapLine::key_line ? mark_on_tube::key_line : mark_on_tube::reference_line;
    made.said.distance = *mark.around;
    made.said.direction = mark.direction;
    add(made, pointer, mark.along ? nullptr : "/key", "/around");
  }

  /// `name_at`: where the document says what was measured; none: said before.
  void add(ModelReading made, const std::string& pointer, const char* name_at,
           const std::string& distance_at = "/distance") {
    made.number = static_cast<int>(readings_.size()) + 1;
    made.pointer = made.on_paper ? pointer + distance_at : pointer;
    made.error = made.said.error.value_or(errors_.of(made.said.by));
    const bool known = find(made.said.what, made.what, pointer, name_at) &
                       static_cast<int>(find(made.said.from, made.from, pointer, "/from"));
    if (known) {
      check_turn(made, pointer + distance_at);
      check_edge(made.what, made.said.point, made.said.way, pointer + "/point");
      check_edge(made.from, made.said.from_point, made.said.way, pointer + "/from_point");
    }
    readings_.push_back(std::move(made));
  }

  bool find(const std::string& name, ReadingEnd& end, const std::string& pointer, const char* member) {
    for (const auto& [word, kind] : named_ends) {
      if (name != word) continue;
      end.kind = kind;
      return true;
    }
    if (const auto thing = model_.thing_called(name)) {
      end.thing = *thing;
      return true;
    }
    if (member == nullptr) return false;
    std::vector<std::string> ids;
    for (const Thing& thing : model_.things()) ids.push_back(thing.id);
    std::vector<std::string> known = ids;
    for (const auto& named : named_ends) known.emplace_back(named.first);
    const auto near = nearest_word(name, known);
    problem("unknown-id", pointer + member, quoted(name), "a key or part: " + listed(ids),
            near ? "Did you mean " + quoted(*near) + "?" : "");
    return false;
  }

  void check_turn(const ModelReading& reading, const std::string& pointer) {
    if (reading.said.way != Way::around || reading.what.kind != Kind::thing) return;
    const auto at = static_cast<std::size_t>(model_.at_of(reading.what.thing));
    const double girth = model_.tube().girth(model_.inside(model_.numbers()[at].value));
    if (reading.said.distance <= girth) return;
    problem("range", pointer, millimetres(reading.said.distance) + " around",
            "no more than once around, " + millimetres(girth) + " there");
  }

  void check_edge(const ReadingEnd& end, ReadingPoint point, Way way, const std::string& pointer) {
    if (point == ReadingPoint::centre || end.kind != Kind::thing) return;
    const Thing& thing = model_.things()[static_cast<std::size_t>(end.thing)];
    if (thing.part == nullptr) return;
    if ((way == Way::along ? std::max(thing.part->length, thing.part->travel) : thing.part->width) > 0.0)
      return;
    problem("no-size", pointer, "an edge of " + thing.id + ", whose size the key layout does not say",
            "its centre", "Give the part a length and a width in the key layout");
  }

  const MockUpModel& model_;
  ReadingErrors errors_;
  Problems& problems_;
  std::vector<ModelReading> readings_;
};

std::string held_words(ReadingPoint point) {
  return point == ReadingPoint::centre ? "" : std::string(" (") + words_of(point) + ")";
}

}  // namespace

std::vector<ModelReading> model_readings(const MockUpModel& model, const MeasuredMockUp& mock_up,
                                         Problems& problems) {
  return Readings(model, mock_up, problems).take();
}

std::string words_of(const MockUpReading& reading) {
  const bool mark = reading.from.find(' ') != std::string::npos || reading.from == mark_on_tube::datum;
  const bool end = reading.from == mark_on_tube::end_a || reading.from == mark_on_tube::end_b;
  std::string words = reading.what + held_words(reading.point) + " " + number_text(reading.distance) + " mm ";
  if (reading.direction) words += std::string(words_of(*reading.direction)) + " ";
  words +=
      std::string("from ") + (mark && !end ? "the " : "") + reading.from + held_words(reading.from_point);
  if (reading.way == Way::skin) words += ", on the skin";
  if (reading.way == Way::straight) words += ", straight";
  return words;
}

}  // namespace culmwright
