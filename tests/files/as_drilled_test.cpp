#include <catch2/catch.hpp>

#include "shared.hpp"

using namespace culmwright;
using namespace culmwright::tests;

namespace {

AsDrilled document(const std::string& members) {
  return read_as_drilled_text(
             "{\"format\": \"culmwright as-drilled\", \"version\": 1, \"tube\": \"culm-01\", "
             "\"placement\": \"first\"" +
                 members + "}",
             "d.json")
      .value;
}

/// "code pointer" of every problem of these holes.
std::vector<std::string> told(const std::string& holes) {
  std::vector<std::string> all;
  for (const Problem& problem : problems_of([&] { document(", \"holes\": [" + holes + "]"); })) {
    all.push_back(problem.code + " " + problem.where.pointer);
  }
  return all;
}

using Told = std::vector<std::string>;

std::vector<std::string> told_beside(AsDrilled drilled) {
  const Survey tube = read_tube(templates_folder() / "tube.json").value;
  const KeyLayout layout = read_key_layout(templates_folder() / "key_layout.json").value;
  const Placement placement = read_placement(templates_folder() / "placement.json").value;
  std::vector<std::string> all;
  for (const Problem& problem : check_as_drilled_on(drilled, placement, tube, layout)) {
    all.push_back(problem.code + " " + problem.where.pointer);
  }
  return all;
}

}  // namespace

TEST_CASE("drilled holes read alike from their document and from a table") {
  const AsDrilled json = read_as_drilled(templates_folder() / "as_drilled.json").value;
  REQUIRE(json.holes.size() == 4);
  CHECK(json.holes[0].state == DrilledState::finished);
  CHECK(json.holes[0].across_around == 9.2);
  CHECK(json.holes[0].chip_out == 0.4);
  CHECK(json.holes[2].state == DrilledState::pilot);
  CHECK(*json.holes[2].wall == 2.8);
  CHECK_FALSE(json.holes[2].at.has_value());
  CHECK(json.holes[3].state == DrilledState::extra);
  CHECK(*json.holes[3].around == 16.0);

  AsDrilled table = read_as_drilled_table(templates_folder() / "as_drilled.csv", json).value;
  CHECK(table.tube_id == "culm-01");
  CHECK(table.placement_id == "first");
  CHECK(table.revision == 2);
  table.id = json.id;
  table.date = json.date;
  table.note = json.note;
  for (std::size_t i = 0; i < table.holes.size(); ++i) table.holes[i].note = json.holes[i].note;
  CHECK(as_drilled_to_json(table) == as_drilled_to_json(json));
}

TEST_CASE("a table that an as-drilled document names keeps the places of its cells") {
  TemporaryFolder folder;
  write(folder.path() / "h.csv", "key,across_along,wall\nL3,91,2.9\nR1,9,\n");
  write(folder.path() / "d.json",
        R"({"format": "culmwright as-drilled", "version": 1, "units": "inch", "tube": "culm-01",
            "placement": "first", "holes_csv": "h.csv"})");
  Problems problems = problems_of([&] { read_as_drilled(folder.path() / "d.json"); });
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].code == "range");
  CHECK(problems[0].where.file == (folder.path() / "h.csv").string());
  CHECK(problems[0].where.line == 2);
  write(folder.path() / "h.csv", "key,across_along,wall\nL3,0.358,0.114\nR1,0.354,\n");
  const Loaded<AsDrilled> read = read_as_drilled(folder.path() / "d.json");
  CHECK(read.value.holes[0].across_along == Approx(9.0932).epsilon(1e-12));
  CHECK(read.value.holes[0].across_around == read.value.holes[0].across_along);
  CHECK(*read.value.holes[0].wall == Approx(2.8956).epsilon(1e-12));
  CHECK(read.locations.spots.at("/holes/1/across_along").line == 3);
  CHECK(read_as_drilled_table(folder.path() / "h.csv", read.value, true).value.holes[1].across_along ==
        Approx(0.354 * 25.4).epsilon(1e-12));
}

TEST_CASE("drilled holes are written so that they read back the same") {
  AsDrilled value = read_as_drilled(templates_folder() / "as_drilled.json").value;
  const std::string text = as_drilled_to_json(value);
  CHECK(as_drilled_to_json(read_as_drilled_text(text, "again").value) == text);
  value.holes.clear();
  const std::string none = as_drilled_to_json(value);
  CHECK(as_drilled_to_json(read_as_drilled_text(none, "again").value) == none);
}

TEST_CASE("what cannot be true of drilled holes is told with its place") {
  CHECK(told(R"({"id": "L1", "across_along": 9}, {"id": "L1", "state": "pilot"})") ==
        Told{"duplicate-id /holes/1/id"});
  CHECK(told(R"({"id": "L1"})") == Told{"missing /holes/0/across_along"});
  CHECK(told(R"({"id": "L1", "state": "pilot"})").empty());
  CHECK(told(R"({"id": "L1", "across_along": 9, "at": 100})") == Told{"missing /holes/0/around"});
  CHECK(told(R"({"id": "L1", "across_along": 9, "around": 4})") == Told{"missing /holes/0/at"});
  CHECK(told(R"({"id": "X", "state": "extra", "across_along": 3})") == Told{"missing /holes/0/at"});
  CHECK(
      told(R"({"id": "X", "state": "extra", "across_along": 3, "across_around": 7, "at": 9, "around": 1})") ==
      Told{"mismatch /holes/0/across_around"});
  CHECK(told(R"({"id": "L1", "across_along": -1})") == Told{"range /holes/0/across_along"});
  CHECK(told(R"({"id": "L1", "state": "opened", "across_along": 9})") == Told{"choice /holes/0/state"});
  CHECK(told(R"({"id": "L1", "across": 9, "across_along": 9})") == Told{"unknown-key /holes/0/across"});
}

TEST_CASE("drilled holes that belong to other documents are refused") {
  const AsDrilled good = read_as_drilled(templates_folder() / "as_drilled.json").value;
  CHECK(told_beside(good).empty());
  AsDrilled other = good;
  other.tube_id = "culm-02";
  CHECK(told_beside(other) == Told{"wrong-tube /tube"});
  other = good;
  other.revision = 3;
  CHECK(told_beside(other) == Told{"revision /revision"});
  other = good;
  other.holes[0].id = "L33";
  other.holes[3].id = "R2";
  other.holes[2].id = "HATCH";
  CHECK(told_beside(other) == Told{"unknown-id /holes/0/id", "extra-id /holes/3/id"});
  other = good;
  other.holes[3].at = 470.0;
  CHECK(told_beside(other) == Told{"outside /holes/3/at"});
}

TEST_CASE("a workshop reads what was drilled of its placements, and of each once") {
  TemporaryFolder folder;
  std::filesystem::copy(templates_folder(), folder.path(), std::filesystem::copy_options::recursive);
  const std::string workshop = bytes_of(folder.path() / "workshop.json");
  const std::string with =
      replaced(workshop, "\"shop\":", "\"as_drilled\": [\"as_drilled.json\"], \"shop\":");
  write(folder.path() / "workshop.json", with);
  const LoadedWorkshop read = read_whole_workshop(folder.path() / "workshop.json");
  REQUIRE(read.as_drilled.size() == 1);
  CHECK(read.as_drilled[0].value.holes.size() == 4);

  write(folder.path() / "again.json", bytes_of(folder.path() / "as_drilled.json"));
  write(folder.path() / "workshop.json",
        replaced(with, "[\"as_drilled.json\"]", "[\"as_drilled.json\", \"again.json\"]"));
  Problems problems = problems_of([&] { read_whole_workshop(folder.path() / "workshop.json"); });
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].code == "duplicate-id");
  CHECK(problems[0].where.file == (folder.path() / "again.json").string());
  CHECK(problems[0].where.line == 8);

  write(folder.path() / "workshop.json", with);
  write(folder.path() / "as_drilled.json",
        replaced(bytes_of(folder.path() / "as_drilled.json"), "\"first\"", "\"frist\""));
  problems = problems_of([&] { read_whole_workshop(folder.path() / "workshop.json"); });
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].code == "unknown-id");
  CHECK(problems[0].advice == "Did you mean \"first\"?");
}
