#include <catch2/catch.hpp>

#include "shared.hpp"

using namespace culmwright;
using namespace culmwright::tests;

namespace {

MeasuredMockUp document(const std::string& members) {
  return read_mock_up_text("{\"format\": \"culmwright mock-up\", \"version\": 1" + members + "}", "m.json")
      .value;
}

Problems wrong(const std::string& readings, const std::string& marks = "") {
  return problems_of([&] { document(", \"readings\": [" + readings + "], \"marks\": [" + marks + "]"); });
}

/// "code pointer" of every problem.
std::vector<std::string> told(const Problems& problems) {
  std::vector<std::string> all;
  for (const Problem& problem : problems) all.push_back(problem.code + " " + problem.where.pointer);
  return all;
}

using Told = std::vector<std::string>;

Problems table_problems(const std::string& text) {
  TemporaryFolder folder;
  write(folder.path() / "m.csv", text);
  return problems_of([&] { read_mock_up_table(folder.path() / "m.csv"); });
}

}  // namespace

TEST_CASE("a measured mock-up reads alike from its document and from a table") {
  const MeasuredMockUp json = read_mock_up(templates_folder() / "mock_up.json").value;
  MeasuredMockUp table = read_mock_up_table(templates_folder() / "mock_up_readings.csv").value;
  REQUIRE(json.readings.size() == 4);
  CHECK(json.readings[2].by == MeasuredBy::caliper);
  CHECK(json.readings[2].point == ReadingPoint::near_edge);
  CHECK(json.readings[1].direction == Toward::players_right);
  for (MockUpReading& reading : table.readings) reading.note.clear();
  table.placement_id = json.placement_id;
  table.date = json.date;
  table.note = json.note;
  CHECK(mock_up_to_json(table) == mock_up_to_json(json));

  TemporaryFolder folder;
  write(folder.path() / "r.csv", bytes_of(templates_folder() / "mock_up_readings.csv"));
  write(folder.path() / "f.csv", bytes_of(templates_folder() / "finger_marks.csv"));
  write(folder.path() / "m.json",
        R"({"format": "culmwright mock-up", "version": 1, "readings_csv": "r.csv", "marks_csv": "f.csv"})");
  const Loaded<MeasuredMockUp> named = read_mock_up(folder.path() / "m.json");
  CHECK(named.value.readings.size() == 4);
  CHECK(named.value.marks.size() == 7);
  CHECK(named.locations.spots.at("/readings/2/distance").line == 4);
  CHECK(named.locations.spots.at("/marks/3/key").line == 5);
}

TEST_CASE("a measured mock-up is written so that it reads back the same") {
  for (const char* file : {"mock_up.json", "finger_marks.csv"}) {
    const auto path = templates_folder() / file;
    const MeasuredMockUp value =
        path.extension() == ".csv" ? read_mock_up_table(path).value : read_mock_up(path).value;
    const std::string text = mock_up_to_json(value);
    CHECK(mock_up_to_json(read_mock_up_text(text, "again").value) == text);
  }
}

TEST_CASE("finger marks out of a table carry hand and finger, whichever way the columns say it") {
  const MeasuredMockUp marks = read_mock_up_table(templates_folder() / "finger_marks.csv").value;
  REQUIRE(marks.marks.size() == 7);
  CHECK(marks.marks[3].hand == Hand::left);
  CHECK(marks.marks[3].finger == Finger::thumb);
  CHECK(marks.marks[3].note == "under the thumb's pad");
  CHECK(*marks.marks[0].hole_diameter == 9.0);
  CHECK(marks.marks[2].direction == Toward::players_right);
  CHECK_FALSE(marks.marks[1].direction.has_value());
  TemporaryFolder folder;
  // A spreadsheet curls apostrophes.
  write(folder.path() / "m.csv",
        "key,hand,finger,along,around,direction,line\nL1,left,index,112,3,to player’s left,reference line\n");
  const MeasuredMockUp apart = read_mock_up_table(folder.path() / "m.csv").value;
  CHECK(apart.marks[0].hand == Hand::left);
  CHECK(apart.marks[0].direction == Toward::players_left);
  CHECK(apart.marks[0].line == WrapLine::reference_line);
}

// The inch is 25.4 mm.
TEST_CASE("a mock-up measured in inches arrives in millimetres") {
  const std::string reading =
      R"({"what": "R2", "way": "along", "distance": 4.5, "from": "end A", "error": 0.02})";
  const MeasuredMockUp inches =
      document(R"(, "units": "inch", "errors": {"rule": 0.03125}, "readings": [)" + reading + "]");
  CHECK(inches.readings[0].distance == Approx(114.3).epsilon(1e-14));
  CHECK(*inches.readings[0].error == Approx(0.508).epsilon(1e-14));
  CHECK(inches.errors.rule == Approx(0.79375).epsilon(1e-14));
  CHECK(inches.errors.caliper == 0.1);
  TemporaryFolder folder;
  write(folder.path() / "m.csv", "what,way,distance,from\nR2,along,4.5,end A\n");
  CHECK(read_mock_up_table(folder.path() / "m.csv", true).value.readings[0].distance ==
        Approx(114.3).epsilon(1e-14));
}

TEST_CASE("a reading that says nothing clear is refused at its place, all of them at once") {
  const Problems problems = wrong(
      R"({"what": "R2", "way": "along", "distance": 20, "from": "R1"},
         {"what": "R2", "way": "around", "distance": 3, "from": "mouth cut", "direction": "to player's left"},
         {"what": "R2", "way": "around", "distance": 3, "from": "key line", "direction": "toward foot"},
         {"what": "R2", "way": "skin", "distance": 3, "from": "R1", "direction": "toward foot"},
         {"what": "R2", "way": "straight", "distance": 3, "from": "end A"},
         {"what": "R2", "way": "along", "distance": 3, "from": "R2", "direction": "toward foot"},
         {"what": "datum", "way": "along", "distance": 3, "from": "end A"},
         {"what": "key line", "way": "around", "distance": 3, "from": "reference line", "direction": "to player's left"},
         {"what": "R2", "way": "skin", "distance": 3, "from": "R1", "point": "near edge"},
         {"what": "R2", "way": "along", "distance": -3, "from": "end A"},
         {"what": "R2", "way": "along", "distance": 3, "from": "end A", "direction": "toward foots"})");
  INFO(all_lines(problems));
  CHECK(told(problems) == Told{"missing /readings/0", "from /readings/1/from",
                               "direction /readings/2/direction", "direction /readings/3/direction",
                               "from /readings/4/from", "same /readings/5/from", "what /readings/6/what",
                               "missing /readings/7", "edge /readings/8/point", "range /readings/9/distance",
                               "choice /readings/10/direction"});
  CHECK(problems.back().advice.find("toward foot") != std::string::npos);
  for (const Problem& problem : problems) CHECK(problem.where.line > 0);
}

TEST_CASE("a mark that says too little is refused") {
  const Problems problems = wrong("", R"({"key": "L1"}, {"key": "L2", "around": 3},
    {"key": "L3", "around": 3, "direction": "toward foot"}, {"key": "L4", "around": 0, "along": 4},
    {"key": "L4", "along": 5})");
  INFO(all_lines(problems));
  CHECK(told(problems) == Told{"missing /marks/0", "missing /marks/1", "direction /marks/2/direction",
                               "duplicate-id /marks/4/key"});
}

TEST_CASE("wrong cells of a table of readings are named by line and column") {
  const Problems problems =
      table_problems("what,way,distance,from\nR2,along,abc,end A\nR2,sideways,3,key line\nR3,along,3,\n");
  INFO(all_lines(problems));
  REQUIRE(problems.size() == 3);
  CHECK(problems[0].where.line == 2);
  CHECK(problems[0].where.column == 10);
  CHECK(problems[1].code == "choice");
  CHECK(problems[1].where.line == 3);
  CHECK(problems[2].code == "missing-key");
  CHECK(problems[2].where.line == 4);
  CHECK(with_code(table_problems("what,way,distnce,from\nR2,along,3,end A\n"), "unknown-column")->advice ==
        "Did you mean \"distance\"?");
}
