#include <catch2/catch.hpp>

#include "shared.hpp"

using namespace culmwright;
using namespace culmwright::tests;

namespace {

Problem only_problem(const std::string& from, const std::string& to) {
  const std::string text = replaced(small_tube(), from, to);
  const Problems problems = problems_of([&] { read_tube_text(text, "piece.json"); });
  INFO(text << all_lines(problems));
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].where.line > 0);
  return problems[0];
}

void expect(const Problem& problem, const char* code, const char* pointer, const char* said) {
  INFO(to_line(problem));
  CHECK(problem.code == code);
  CHECK(problem.where.pointer == pointer);
  CHECK(to_line(problem).find(said) != std::string::npos);
}

const char* const first = "{\"at\": 20, \"girth\": 94}";

}  // namespace

TEST_CASE("stations out of order or at one place are named") {
  expect(only_problem("\"at\": 350", "\"at\": 15"), "order", "/stations/1/at",
         "the station at 15 mm after the one at 20 mm");
  expect(only_problem("\"at\": 350", "\"at\": 20"), "order", "/stations/1/at", "each at its own place");
}

TEST_CASE("what lies beyond an end is named with that end") {
  expect(only_problem("\"at\": 350", "\"at\": 391"), "outside", "/stations/1/at", "beyond end B at 390 mm");
  expect(only_problem("180", "-10.5"), "outside", "/nodes/0/at_line",
         "the node at -10.5 mm, beyond end A at -10 mm");
  expect(only_problem("180", "180, \"at_far\": 395"), "outside", "/nodes/0/at_far",
         "the node at 395 mm, beyond end B");
  expect(only_problem("\"at\": 0,", "\"at\": 400,"), "outside", "/walls/0/at", "the wall reading at 400 mm");
  expect(only_problem("\"version\": 1,", "\"version\": 1, \"balance_at\": -11,"), "outside", "/balance_at",
         "balance point");
  expect(only_problem("\"version\": 1,", R"("version": 1, "bow": [{"at": 999, "facing_deg": 0, "gap": 1}],)"),
         "outside", "/bow/0/at", "straightedge");
  expect(only_problem(
             "\"version\": 1,",
             R"("version": 1, "grooves": [{"at": 999, "around": 0, "length": 9, "width": 4, "depth": 1}],)"),
         "outside", "/grooves/0/at", "the groove at 999 mm");
}

TEST_CASE("a wall as thick as the radius is refused, whether girth, widths or heights tell the radius") {
  // girth 94: radius 14.9606
  expect(only_problem("\"thickness\": 4", "\"thickness\": 15"), "wall", "/walls/0/thickness",
         "radius is 14.9606 mm");
  CHECK(problems_of([] {
          read_tube_text(replaced(small_tube(), "\"thickness\": 4", "\"thickness\": 14.9"), "p");
        }).empty());
  expect(only_problem(first, R"({"at": 0, "widths": [{"facing_deg": 0, "across": 7.9}]})"), "wall",
         "/walls/0/thickness", "3.95 mm");
  std::string text =
      replaced(small_tube(), first, R"({"at": 0, "heights": [33.9, 33.9, 33.9, null, 33.9, 33.9]})");
  text = replaced(text, "\"version\": 1,", R"("version": 1, "plates": {"flats": 6, "across_flats": 60},)");
  const Problems problems = problems_of([&] { read_tube_text(text, "piece.json"); });
  REQUIRE(problems.size() == 1);
  expect(problems[0], "wall", "/walls/0/thickness", "3.9 mm");
}

TEST_CASE("a width and a girth that exclude each other are refused") {
  expect(only_problem("\"girth\": 94", R"("girth": 94, "widths": [{"facing_deg": 0, "across": 48}])"),
         "width", "/stations/0/widths/0/across", "a width of 48 mm in a girth of 94 mm");
}

TEST_CASE("heights need their plates, one for each flat, and a place between axis and board") {
  const std::string plates = R"("version": 1, "plates": {"flats": 6, "across_flats": 60},)";
  const auto problems = [&](const std::string& heights) {
    std::string text = replaced(small_tube(), "\"version\": 1,", plates);
    text = replaced(text, "\"girth\": 94", "\"girth\": 94, \"heights\": " + heights);
    return problems_of([&] { read_tube_text(text, "piece.json"); });
  };
  CHECK(problems("[45, 45, null, 45, 45, 45]").empty());
  CHECK(with_code(problems("[45, 45, 45]"), "count") != nullptr);
  CHECK(with_code(problems("[30, 45, 45, 45, 45, 45]"), "height")->where.pointer == "/stations/0/heights/0");
  CHECK(with_code(problems("[45, 60, 45, 45, 45, 45]"), "height")->where.pointer == "/stations/0/heights/1");
  expect(only_problem("\"girth\": 94", "\"girth\": 94, \"heights\": [45]"), "missing", "/stations/0/heights",
         "without survey plates");
}

TEST_CASE("nodes out of order or running into each other are named") {
  expect(only_problem("[{\"at_line\": 180}]", "[{\"at_line\": 180}, {\"at_line\": 100}]"), "order",
         "/nodes/1/at_line", "the node at 100 mm after the one at 180 mm");
  expect(only_problem("[{\"at_line\": 180}]", "[{\"at_line\": 180}, {\"at_line\": 187}]"), "overlap",
         "/nodes/1", "the nodes at 180 mm and 187 mm");
  // girth there: 94 + 6 · 160/330 = 96.909, width 30.847
  expect(only_problem("180", "180, \"at_far\": 211"), "slant", "/nodes/0/at_far", "slanted by 31 mm");
  CHECK(problems_of([] {
          read_tube_text(replaced(small_tube(), "180", "180, \"at_far\": 210"), "p");
        }).empty());
  expect(only_problem("180}", "180, \"pierced_diameter\": 40}"), "wide", "/nodes/0/pierced_diameter",
         "40 mm wide in a tube");
}

TEST_CASE("a place more than once around is refused") {
  expect(only_problem("\"facing_deg\": 0", "\"around\": 110"), "around", "/walls/0/around", "girth");
}

TEST_CASE("a piece without any girth, width or height is refused") {
  std::string text = replaced(small_tube(), ", \"girth\": 94", "");
  text = replaced(text, ", \"girth\": 100", "");
  Problems problems = problems_of([&] { read_tube_text(text, "piece.json"); });
  REQUIRE(problems.size() == 1);
  expect(problems[0], "missing", "/stations", "Measure the girth");
  text = replaced(text, "{\"at\": 20},\n    {\"at\": 350}", "");
  problems = problems_of([&] { read_tube_text(text, "piece.json"); });
  REQUIRE(problems.size() == 1);
  expect(problems[0], "missing", "/stations", "at least one");
}
