/// The measured mock-up: document and tables.
#include "files/csv_tables.hpp"
#include "files/fixed_columns.hpp"
#include "files/tables.hpp"

namespace culmwright::files {

namespace {

Codec<Toward> toward() {
  std::vector<std::pair<std::string, Toward>> pairs;
  for (const Toward direction : {Toward::foot, Toward::mouth, Toward::end_a, Toward::end_b,
                                 Toward::players_left, Toward::players_right}) {
    pairs.emplace_back(words_of(direction), direction);
  }
  return choice(pairs);
}

Codec<ReadingPoint> reading_point() {
  std::vector<std::pair<std::string, ReadingPoint>> pairs;
  for (const ReadingPoint point : {ReadingPoint::centre, ReadingPoint::near_edge, ReadingPoint::far_edge,
                                   ReadingPoint::near_hole_edge, ReadingPoint::far_hole_edge}) {
    pairs.emplace_back(words_of(point), point);
  }
  return choice(pairs);
}

Codec<double> distance() {
  return length(0, longest_tube);
}
Codec<double> reading_error() {
  return length(0.001, 50);
}

Codec<ReadingErrors> reading_errors() {
  using E = ReadingErrors;
  return object(Table<E>("the errors of the readings")
                    .with_default("rule", &E::rule, reading_error(), "A rule, or a paper strip")
                    .with_default("tape", &E::tape, reading_error(), "A tape")
                    .with_default("caliper", &E::caliper, reading_error(), "A caliper"));
}

Codec<MockUpReading> reading() {
  using R = MockUpReading;
  const Codec<R> whole = object(
      Table<R>("a reading")
          .required("what", &R::what, line_of_text(80),
                    "What was measured: a key or part, or \"mouth cut\", \"foot cut\", \"key line\"")
          .required("way", &R::way,
                    choice<Way>({{"along", Way::along},
                                 {"around", Way::around},
                                 {"skin", Way::skin},
                                 {"straight", Way::straight}}),
                    "along the tube; around it, on the skin; skin: the shortest way on the skin, by a paper "
                    "strip; straight: through the air, by caliper")
          .required("distance", &R::distance, distance(), "What the rule said; never negative")
          .required("from", &R::from, line_of_text(80),
                    "What it counts from: a key or part; along also \"end A\", \"end B\", \"mouth cut\", "
                    "\"foot cut\", \"datum\"; around also \"reference line\", \"key line\"")
          .optional("direction", &R::direction, toward(), "Which way it lies from there")
          .with_default("point", &R::point, reading_point(), "Where on what was measured; edges of its touch")
          .with_default("from_point", &R::from_point, reading_point(), "Where on what it counts from")
          .optional("level", &R::level, distance(),
                    "Of the key line alone: where it was measured, along from the mouth cut")
          .with_default(
              "by", &R::by,
              choice<MeasuredBy>(
                  {{"rule", MeasuredBy::rule}, {"tape", MeasuredBy::tape}, {"caliper", MeasuredBy::caliper}}),
              "The instrument, which says how far to trust it")
          .optional("error", &R::error, reading_error(),
                    "One standard deviation, where it differs from the instrument's")
          .with_default("note", &R::note, note_text(), "In your own words"));
  // Nothing follows from a distance whose way is not known.
  Codec<R> codec = whole;
  codec.read = [whole](const JsonNode& node, const std::string& pointer, Reading& state, R& value) {
    whole.read(node, pointer, state, value);
    if (state.is_spoiled(joined(pointer, "way"))) value.what.clear();
  };
  return codec;
}

Codec<WrapMark> wrap_mark() {
  using M = WrapMark;
  return object(
      Table<M>("a mark")
          .required("key", &M::key, identifier(), "The key or part")
          .optional("along", &M::along, distance(), "From the mouth cut toward the foot")
          .optional("around", &M::around, length(0, greatest_girth), "From the line, square to it")
          .optional("direction", &M::direction, toward(),
                    "On which side of the line; none on the line itself")
          .with_default("line", &M::line,
                        choice<WrapLine>(
                            {{"key line", WrapLine::key_line}, {"reference line", WrapLine::reference_line}}),
                        "The line that around counts from")
          .optional("hand", &M::hand, hand_name(), "The hand; needed where there is no key layout yet")
          .optional("finger", &M::finger, finger_name(),
                    "The finger; needed where there is no key layout yet")
          .optional("hole_diameter", &M::hole_diameter, length(0.5, 100),
                    "The finished hole, where there is no key layout yet")
          .optional("error", &M::error, reading_error(),
                    "One standard deviation, where it differs from the rule's")
          .with_default("note", &M::note, note_text(), "In your own words"));
}

Table<MeasuredMockUp> fields() {
  using M = MeasuredMockUp;
  const Codec<std::string> name = file_name();
  return Table<M>("a mock-up")
      .with_default("placement", &M::placement_id, identifier(),
                    "The id of the placement that was held; needed where there are several")
      .with_default("date", &M::date, day(), "The day it was measured")
      .with_default("note", &M::note, note_text(), "In your own words")
      .with_default("errors", &M::errors, reading_errors(),
                    "One standard deviation of a distance, as you judge it")
      .with_default("paper_thickness", &M::paper_thickness, length(0, 2),
                    "Of the wrap that carries the marks")
      .with_default("readings", &M::readings, list(reading(), 0, 1000, "readings"),
                    "The distances, in any order; what is not among them stays where it is")
      .read_elsewhere("readings_csv", name.schema(1.0),
                      "Instead of readings: a CSV table with columns what, way, distance, from, direction")
      .with_default("marks", &M::marks, list(wrap_mark(), 0, most_keys, "marks"),
                    "Marks on a paper wrap, measured on the unrolled paper")
      .read_elsewhere("marks_csv", name.schema(1.0),
                      "Instead of marks: a CSV table with columns key, finger, along, around, direction")
      .at_most_one_of({"readings", "readings_csv"})
      .at_most_one_of({"marks", "marks_csv"});
}

/// The apostrophe that a spreadsheet has curled is made straight again.
class PlainColumns : public FixedColumns {
 public:
  using FixedColumns::FixedColumns;
  void finish(JsonNode& row) const override {
    const std::string curly = "’";
    for (JsonMember& member : row.members) {
      const std::size_t found = member.value.text.find(curly);
      if (member.key == "direction" && found != std::string::npos) {
        member.value.text.replace(found, curly.size(), "'");
      }
    }
  }
};

class MarkColumns final : public PlainColumns {
 public:
  explicit MarkColumns(const CsvTable& table)
      : PlainColumns({{"key", "key", false},
                      {"hand", "hand", false},
                      {"finger", "finger", false},
                      {"along", "along"},
                      {"around", "around"},
                      {"direction", "direction", false},
                      {"line", "line", false},
                      {"hole", "hole_diameter"},
                      {"error", "error"},
                      {"note", "note", false}},
                     {"key"}),
        says_hand_(has_column(table, "hand")) {}
  void finish(JsonNode& row) const override {
    PlainColumns::finish(row);
    if (!says_hand_) split_hand_from_finger(row);
  }

 private:
  bool says_hand_;
};

}  // namespace

std::unique_ptr<CsvColumns> reading_columns(const CsvTable&) {
  return std::make_unique<PlainColumns>(std::vector<Column>{{"what", "what", false},
                                                            {"way", "way", false},
                                                            {"distance", "distance"},
                                                            {"from", "from", false},
                                                            {"direction", "direction", false},
                                                            {"point", "point", false},
                                                            {"from_point", "from_point", false},
                                                            {"level", "level"},
                                                            {"by", "by", false},
                                                            {"error", "error"},
                                                            {"note", "note", false}},
                                        std::vector<std::string>{"what", "way", "distance", "from"});
}

std::unique_ptr<CsvColumns> mark_columns(const CsvTable& table) {
  return std::make_unique<MarkColumns>(table);
}

bool holds_readings(const CsvTable& table) {
  return has_column(table, "way") || has_column(table, "what");
}

const Table<MeasuredMockUp>& mock_up_table() {
  static const Table<MeasuredMockUp> table = fields();
  return table;
}

}  // namespace culmwright::files
