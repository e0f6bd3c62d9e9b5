#include <catch2/catch.hpp>

#include "files/csv.hpp"
#include "shared.hpp"

using namespace culmwright;
using namespace culmwright::tests;

namespace {

std::vector<std::vector<std::string>> cells(const std::string& text) {
  Problems problems;
  const auto table = files::parse_csv(text, "t.csv", problems);
  INFO(all_lines(problems));
  REQUIRE(table);
  std::vector<std::vector<std::string>> rows(1);
  for (const auto& cell : table->header) rows[0].push_back(cell.text);
  for (const auto& row : table->rows) {
    rows.emplace_back();
    for (const auto& cell : row) rows.back().push_back(cell.text);
  }
  return rows;
}

Problems form_problems(const std::string& text) {
  Problems problems;
  files::parse_csv(text, "t.csv", problems);
  return problems;
}

/// A tube whose stations are that table.
Loaded<Survey> tube_with(const TemporaryFolder& folder, const std::string& table,
                         const std::string& more = "") {
  write(folder.path() / "s.csv", table);
  const std::string text =
      R"({"format": "culmwright tube", "version": 1, "id": "K", "material": "bamboo", "length": 15,
 "stations_csv": "s.csv")" +
      more + "}";
  return read_tube_text(replaced(text, "15", more.find("inch") == std::string::npos ? "400" : "15"),
                        "piece.json", folder.path());
}

Problems table_problems(const std::string& table, const std::string& more = "") {
  TemporaryFolder folder;
  Problems problems = problems_of([&] { tube_with(folder, table, more); });
  for (Problem& problem : problems) {
    problem.where.file = std::filesystem::path(problem.where.file).filename().string();
  }
  return problems;
}

}  // namespace

TEST_CASE("the examples of RFC 4180, section 2, are read as it says") {
  using Rows = std::vector<std::vector<std::string>>;
  CHECK(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n") == Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});  // 1
  CHECK(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx") == Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});      // 2
  CHECK(cells("field_name,field_name2\r\naaa,bbb\r\n") ==
        Rows{{"field_name", "field_name2"}, {"aaa", "bbb"}});  // 3
  CHECK(cells("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx") ==
        Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});  // 5
  CHECK(cells("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx") ==
        Rows{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}});                 // 6
  CHECK(cells("\"aaa\",\"b\"\"bb\",\"ccc\"") == Rows{{"aaa", "b\"bb", "ccc"}});  // 7
}

TEST_CASE("line feeds alone, empty lines, empty cells and a byte order mark are taken") {
  CHECK(cells("\xEF\xBB\xBF"
              "a,b\n\n1,\n,\"\"\n") ==
        std::vector<std::vector<std::string>>{{"a", "b"}, {"1", ""}, {"", ""}});
}

TEST_CASE("a table of broken form is refused at its place") {
  Problems problems = form_problems("a,b\n1\n1,2,3\n");
  REQUIRE(problems.size() == 2);
  CHECK(problems[0].where.line == 2);
  CHECK(problems[1].where.line == 3);
  CHECK(problems[1].found == "a row of 3 cells");
  CHECK(with_code(form_problems("a,b\n1,\"2\n"), "truncated") != nullptr);
  CHECK(with_code(form_problems("a,b\n1,\"2\"3\n"), "syntax")->where.column == 3);
  CHECK(with_code(form_problems("a,b\n1,2\"3\"\n"), "syntax") != nullptr);
  CHECK(with_code(form_problems(""), "empty") != nullptr);
  CHECK(with_code(form_problems("\n\n"), "empty") != nullptr);
  CHECK(with_code(form_problems("a\n\xFF\n"), "encoding")->where.line == 2);
}

TEST_CASE("stations out of a table carry girth, widths by facing and by place, and heights") {
  TemporaryFolder folder;
  const Loaded<Survey> tube = tube_with(folder,
                                        "at,girth,width_facing_-45,width_around_12.5,h0,h1,h2,h3,h4,h5\n20,"
                                        "94,30.1,,45,45,,45,45,45\n30,,,29.9,,,,,,\n",
                                        R"(, "plates": {"flats": 6, "across_flats": 60})");
  REQUIRE(tube.value.stations.size() == 2);
  const Station& station = tube.value.stations[0];
  CHECK(*station.girth == 94.0);
  REQUIRE(station.widths.size() == 1);
  CHECK(station.widths[0].direction.facing->degrees() == Approx(-45.0));
  CHECK(station.widths[0].across == 30.1);
  REQUIRE(station.heights.size() == 6);
  CHECK_FALSE(station.heights[2].has_value());
  CHECK(*tube.value.stations[1].widths.at(0).direction.around == 12.5);
  CHECK(tube.value.stations[1].heights.empty());
  CHECK(tube.locations.spots.at("/stations/1/widths/0/across").line == 3);
}

TEST_CASE("lengths of a table are in the document's unit") {
  TemporaryFolder folder;
  const Loaded<Survey> tube =
      tube_with(folder, "at,girth,width_around_0.5\n1,3.7,1.2\n", R"(, "units": "inch")");
  CHECK(tube.value.stations[0].at == 25.4);
  CHECK(*tube.value.stations[0].girth == Approx(93.98).epsilon(1e-14));
  CHECK(*tube.value.stations[0].widths[0].direction.around == 12.7);
  CHECK(tube.value.length == 381.0);
}

TEST_CASE("all wrong cells of a table are named at once, with line and column") {
  const Problems problems = table_problems("at,girth\n20,abc\n10,9e9\n30,\"12,5\"\n40,nan\n50,inf\n");
  INFO(all_lines(problems));
  REQUIRE(problems.size() == 6);
  CHECK(problems[0].where.file == "s.csv");
  CHECK(problems[0].where.line == 2);
  CHECK(problems[0].where.column == 4);
  CHECK(problems[0].where.pointer == "/stations/0/girth");
  CHECK(problems[0].found == "the text \"abc\" in column \"girth\"");
  CHECK(problems[1].code == "order");
  CHECK(problems[1].where.line == 3);
  CHECK(problems[2].code == "range");
  CHECK(problems[3].advice.find("decimal point") != std::string::npos);
  CHECK(problems[4].code == "type");
  CHECK(problems[5].code == "type");
}

TEST_CASE("wrong, doubled and missing columns are named with the known ones") {
  Problems problems = table_problems("at,girht,at\n20,94,20\n");
  CHECK(with_code(problems, "unknown-column")->advice == "Did you mean \"girth\"?");
  CHECK(with_code(problems, "duplicate-column")->where.column == 10);
  problems = table_problems("girth\n94\n");
  CHECK(with_code(problems, "missing-column")->found.find("\"at\"") != std::string::npos);
  problems = table_problems("at;girth\n20;94\n");
  CHECK(with_code(problems, "unknown-column")->advice.find("commas") != std::string::npos);
  CHECK(with_code(table_problems("at,h64\n20,45\n"), "unknown-column") != nullptr);
  CHECK(with_code(table_problems("at,width_facing_x\n20,45\n"), "unknown-column") != nullptr);
}

TEST_CASE("a table that is not there is named in the document that asks for it") {
  const std::string text =
      replaced(small_tube(), "\"stations\": [", "\"stations_csv\": \"gone.csv\", \"bow\": [");
  const Problems problems = problems_of([&] {
    read_tube_text(replaced(text, "{\"at\": 20, \"girth\": 94},\n    {\"at\": 350, \"girth\": 100}", ""),
                   "piece.json");
  });
  INFO(all_lines(problems));
  const Problem* problem = with_code(problems, "no-file");
  REQUIRE(problem != nullptr);
  CHECK(problem->where.file == "piece.json");
  CHECK(problem->where.line == 8);
  CHECK(problem->where.pointer == "/stations_csv");
}

TEST_CASE("stations and their table at once are a conflict") {
  const std::string text =
      replaced(small_tube(), "\"version\": 1,", "\"version\": 1, \"stations_csv\": \"s.csv\",");
  const Problems problems = problems_of([&] { read_tube_text(text, "piece.json"); });
  CHECK(with_code(problems, "conflict") != nullptr);
}

TEST_CASE("keys out of a table may say the hand with the finger") {
  TemporaryFolder folder;
  write(folder.path() / "k.csv",
        "key,finger,along,around,hole,touch_length,touch_width,note\nL1,left index,0,0,9,20,18,\"say "
        "\"\"ah\"\"\"\nR1,right side,20,0,9.5,,,\n");
  const std::string text =
      R"({"format": "culmwright key layout", "version": 1, "id": "a", "right_mark": {"along": 9, "around": 0}, "keys_csv": "k.csv"})";
  const Loaded<KeyLayout> layout = read_key_layout_text(text, "a.json", folder.path());
  REQUIRE(layout.value.keys.size() == 2);
  CHECK(layout.value.keys[0].hand == Hand::left);
  CHECK(layout.value.keys[0].finger == Finger::index);
  CHECK(layout.value.keys[0].touch.length == 20.0);
  CHECK(layout.value.keys[0].note == "say \"ah\"");
  CHECK(layout.value.keys[1].hand == Hand::right);
  CHECK(layout.value.keys[1].finger == Finger::side);
  CHECK(layout.value.keys[1].hole_diameter == 9.5);
  CHECK(layout.value.keys[1].touch.length == 16.0);
}
