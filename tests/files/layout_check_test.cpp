#include <catch2/catch.hpp>

#include "base/words.hpp"
#include "shared.hpp"

using namespace culmwright;
using namespace culmwright::tests;

namespace {

template <class Read>
Problem only_problem(const char* file, const std::string& from, const std::string& to, Read read) {
  const std::string text = replaced(bytes_of(templates_folder() / file), from, to);
  const Problems problems = problems_of([&] { read(text); });
  INFO(all_lines(problems));
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].where.line > 1);
  return problems[0];
}

Problem layout_problem(const std::string& from, const std::string& to) {
  return only_problem("key_layout.json", from, to,
                      [](const std::string& t) { read_key_layout_text(t, "d"); });
}
Problem placement_problem(const std::string& from, const std::string& to) {
  return only_problem("placement.json", from, to, [](const std::string& t) { read_placement_text(t, "d"); });
}
Problem shop_problem(const std::string& from, const std::string& to) {
  return only_problem("shop.json", from, to, [](const std::string& t) { read_shop_text(t, "d"); });
}

void expect(const Problem& problem, const char* code, const char* pointer, const char* said) {
  INFO(to_line(problem));
  CHECK(problem.code == code);
  CHECK(problem.where.pointer == pointer);
  CHECK(to_line(problem).find(said) != std::string::npos);
}

/// The starter workshop in a folder of its own, one file changed.
Problems workshop_problems(const char* file, const std::string& from, const std::string& to) {
  TemporaryFolder folder;
  std::filesystem::copy(templates_folder(), folder.path(), std::filesystem::copy_options::recursive);
  write(folder.path() / file, replaced(bytes_of(folder.path() / file), from, to));
  Problems problems = problems_of([&] { read_whole_workshop(folder.path() / "workshop.json"); });
  for (Problem& problem : problems)
    problem.where.file = std::filesystem::path(problem.where.file).filename().string();
  return problems;
}

}  // namespace

TEST_CASE("ids of a key layout differ, in more than capitals") {
  expect(layout_problem("\"L2\"", "\"L1\""), "duplicate-id", "/keys/1/id", "id \"L1\" a second time");
  expect(layout_problem("\"L2\"", "\"l1\""), "duplicate-id", "/keys/1/id", "\"l1\" beside \"L1\"");
  expect(layout_problem("\"REST\"", "\"R3\""), "duplicate-id", "/parts/0/id", "\"R3\"");
  expect(layout_problem("\"L2\"", "\"../x\""), "text", "/keys/1/id", "it names files too");
}

TEST_CASE("a hole has a diameter above nothing") {
  expect(layout_problem("\"hole_diameter\": 9", "\"hole_diameter\": 0"), "range", "/keys/0/hole_diameter",
         "0.5 to 100 mm");
}

TEST_CASE("touches, parts and marks of a key layout are held against themselves") {
  expect(layout_problem("\"corner_radius\": 8", "\"corner_radius\": 8.5"), "corner",
         "/keys/5/touch/corner_radius", "at most half of its length and width, 8 mm");
  expect(layout_problem("\"along\": 23, \"around\": 0", "\"along\": 0, \"around\": 2"), "same-place",
         "/keys/1/along", "\"L1\" and \"L2\"");
  expect(layout_problem("{ \"along\": 270", "{ \"along\": 110"), "same-place", "/right_mark",
         "both hands' marks");
  expect(layout_problem("\"length\": 40, \"width\": 14, \"corner_radius\": 4 }", "\"length\": 40 }"),
         "missing", "/parts/1/width", "opening \"HATCH\" without a width");
  expect(layout_problem("\"mass_g\": 11", "\"travel\": 11"), "travel", "/parts/0/travel", "slider");
  expect(layout_problem("\"least_length\": 400", "\"least_length\": 400, \"greatest_length\": 399"),
         "mismatch", "/least_length", "at most the greatest length, 399 mm");
}

TEST_CASE("a shop's drills and bushes are held against themselves") {
  expect(shop_problem("9.05", "10.1"), "mismatch", "/drills/1/measured_hole",
         "a hole of 10.1 mm made by a drill of 9 mm");
  expect(shop_problem("\"outside\": 6", "\"outside\": 3"), "mismatch", "/bushes/0/outside",
         "larger than the bore");
}

TEST_CASE("cuts, ids and revisions of a placement are held against themselves") {
  expect(placement_problem("\"mouth_end\": \"A\"", "\"mouth_end\": \"B\""), "order", "/mouth_cut_at",
         "nearer to end B");
  expect(placement_problem("\"id\": \"R1\"", "\"id\": \"L3\""), "duplicate-id", "/keys/1/id",
         "\"L3\" a second time");
  expect(placement_problem("\"number\": 2", "\"number\": 3"), "revision", "/revisions/1/number",
         "without a gap");
  expect(placement_problem("\"revision\": 2}, \"around\": 3.4", "\"revision\": 9}, \"around\": 3.4"),
         "revision", "/keys/0/at", "set by revision 9");
  expect(placement_problem("2024-11-03", "2024-02-30"), "text", "/revisions/1/date", "YYYY-MM-DD");
  expect(placement_problem("\"shifted\"", "\"shiftd\""), "choice", "/keys/0/at/origin",
         "Did you mean \"shifted\"?");
  expect(placement_problem("\"value\": 142.5, ", ""), "missing-key", "/keys/0/at", "\"value\"");
}

TEST_CASE("a workshop tells the problems of all its documents together") {
  TemporaryFolder folder;
  std::filesystem::copy(templates_folder(), folder.path(), std::filesystem::copy_options::recursive);
  const auto change = [&](const char* file, const char* from, const char* to) {
    write(folder.path() / file, replaced(bytes_of(folder.path() / file), from, to));
  };
  change("tube.json", "\"length\": 482", "\"length\": 5");
  change("shop.json", "\"A4\"", "\"A5\"");
  change("key_layout.json", "\"along\": 110", "\"along\": -110");
  change("workshop.json", "tube_quick", "tube_slow");
  const Problems problems = problems_of([&] { read_whole_workshop(folder.path() / "workshop.json"); });
  INFO(all_lines(problems));
  REQUIRE(problems.size() == 4);
  CHECK(with_code(problems, "no-file")->where.line == 6);
  CHECK(with_code(problems, "no-file")->where.file == (folder.path() / "workshop.json").string());
}

TEST_CASE("a placement is held against the tube and key layout that it names") {
  Problems problems = workshop_problems("placement.json", "culm-01", "culm-1");
  CHECK(with_code(problems, "unknown-id")->advice == "Did you mean \"culm-01\"?");
  CHECK(with_code(problems, "unknown-id")->where.line == 5);
  problems = workshop_problems("placement.json", "\"id\": \"L3\"", "\"id\": \"L33\"");
  CHECK(with_code(problems, "unknown-id")->where.pointer == "/keys/0/id");
  problems = workshop_problems("placement.json", "\"foot_cut_at\": 455", "\"foot_cut_at\": 463");
  CHECK(to_line(*with_code(problems, "outside")).find("from -20 to 462 mm") != std::string::npos);
  problems = workshop_problems("placement.json", "\"foot_cut_at\": 455", "\"foot_cut_at\": 300");
  CHECK(with_code(problems, "length")->allowed == "at least 400 mm for key layout \"starter-6\"");
  problems = workshop_problems("placement.json", "\"at\": 257", "\"at\": 457");
  CHECK(with_code(problems, "outside")->where.pointer == "/keys/1/at");
}

TEST_CASE("two tubes of one id, and one file twice, are refused") {
  Problems problems = workshop_problems("tube_quick.json", "quick-01", "culm-01");
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].where.file == "tube_quick.json");
  CHECK(problems[0].where.line == 4);
  problems = workshop_problems("workshop.json", "\"tube_quick.json\"", "\"tube.json\"");
  CHECK(with_code(problems, "duplicate-id")->where.pointer == "/tubes/2");
}

TEST_CASE("a file that is no document of the program is told what it could be") {
  TemporaryFolder folder;
  write(folder.path() / "x.json", "{\"format\": \"culmwright tubes\"}");
  const Problems problems = problems_of([&] { kind_of_file(folder.path() / "x.json"); });
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].allowed.find("\"culmwright key layout\"") != std::string::npos);
  CHECK(problems_of([&] { read_tube(folder.path() / "none.json"); }).at(0).code == "no-file");
  CHECK(problems_of([&] { read_tube(folder.path()); }).at(0).code == "no-file");
}

TEST_CASE("a later problem with a pointer finds its line, or the nearest one around it") {
  const Loaded<Survey> tube = read_tube_text(small_tube(), "piece.json");
  Problems later = {{"not-convex", {"", 0, 0, "/stations/1/widths/3"}, "x", "y", ""},
                    {"not-convex", {"", 0, 0, ""}, "x", "y", ""},
                    {"bow", {"", 0, 0, "/bow"}, "x", "y", ""}};
  later = located(later, tube.locations);
  CHECK(later[0].where.line == 10);
  CHECK(later[0].where.column == 5);
  CHECK(later[1].where.file == "piece.json");
  CHECK(later[1].where.line == 0);
  CHECK(later[2].where.line == 1);
}

TEST_CASE("the nearest word is the one with the fewest slips, if few enough") {
  const std::vector<std::string> known = {"girth", "widths", "heights", "at"};
  CHECK(nearest_word("girht", known) == std::optional<std::string>("girth"));  // neighbours swapped: one slip
  CHECK(nearest_word("weights", known) == std::optional<std::string>("heights"));
  CHECK(nearest_word("AT", known) == std::optional<std::string>("at"));
  CHECK_FALSE(nearest_word("diameter", known).has_value());
  CHECK_FALSE(nearest_word("", {"heights"}).has_value());
}
