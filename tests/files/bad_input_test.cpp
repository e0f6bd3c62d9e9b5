#include <catch2/catch.hpp>

#include "files/json_tree.hpp"
#include "shared.hpp"

using namespace culmwright;
using namespace culmwright::tests;

namespace {

Problems tube_problems(const std::string& text) {
  return problems_of([&] { read_tube_text(text, "piece.json"); });
}

/// The only problem of a tube document.
Problem only_problem(const std::string& text) {
  const Problems problems = tube_problems(text);
  INFO(all_lines(problems));
  REQUIRE(problems.size() == 1);
  return problems.front();
}

struct Expected {
  const char* code;
  int line;
  int column;
  const char* pointer;
  const char* said;  ///< somewhere in the line that the maker reads
};

void expect(const Problem& problem, const Expected& expected) {
  const std::string line = to_line(problem);
  INFO(line);
  CHECK(problem.code == expected.code);
  CHECK(problem.where.file == "piece.json");
  CHECK(problem.where.line == expected.line);
  CHECK(problem.where.column == expected.column);
  CHECK(problem.where.pointer == expected.pointer);
  CHECK(line.find(expected.said) != std::string::npos);
  CHECK_FALSE(problem.found.empty());
  CHECK_FALSE(problem.allowed.empty());
}

std::string small_with(const std::string& from, const std::string& to) {
  return replaced(small_tube(), from, to);
}

}  // namespace

TEST_CASE("the smallest useful tube is read") {
  const Loaded<Survey> tube = read_tube_text(small_tube(), "piece.json");
  CHECK(tube.value.length == 400.0);
  CHECK(tube.value.stations.size() == 2);
  CHECK(tube.value.nodes.at(0).at_far == 180.0);
  CHECK(tube.locations.spots.at("/stations/1/girth").line == 10);
  CHECK(tube.locations.spots.at("/stations/1/girth").column == 26);
}

TEST_CASE("a wrong type is refused where it stands") {
  expect(only_problem(small_with("\"girth\": 94", "\"girth\": \"94\"")),
         {"type", 9, 25, "/stations/0/girth",
          "found the text \"94\"; allowed: a number from 10 to 1000 mm. Write the number"});
  expect(only_problem(small_with("\"girth\": 94", "\"girth\": \"94,5\"")),
         {"type", 9, 25, "/stations/0/girth", "decimal point"});
  expect(only_problem(small_with("[{\"at_line\": 180}]", "{\"at_line\": 180}")),
         {"type", 13, 12, "/nodes", "found an object; allowed: a list of at most 100 nodes"});
  expect(only_problem(small_with("{\"at_line\": 180}", "180")), {"type", 13, 13, "/nodes/0", "a node"});
  expect(only_problem(small_with("\"K1\"", "17")), {"type", 4, 9, "/id", "Put it in quotes"});
  expect(only_problem(small_with("180}", "180, \"kink\": 1}")),
         {"type", 13, 38, "/nodes/0/kink", "true or false"});
  expect(only_problem(small_with("\"girth\": 94", "\"girth\": null")),
         {"type", 9, 25, "/stations/0/girth", "found null"});
  expect(only_problem("[1]"), {"type", 1, 1, "", "a tube: an object"});
}

TEST_CASE("a missing key is named with what it is for") {
  expect(only_problem(small_with("  \"length\": 400,\n", "")),
         {"missing-key", 1, 1, "", "\"length\" (From end A to end B"});
  expect(only_problem(small_with("\"facing_deg\": 0, ", "")),
         {"missing-key", 12, 13, "/walls/0", "exactly one of \"facing_deg\" or \"around\""});
}

TEST_CASE("both ways to say a direction at once are refused") {
  expect(only_problem(small_with("\"facing_deg\": 0, ", "\"facing_deg\": 0, \"around\": 0, ")),
         {"conflict", 12, 13, "/walls/0", "both \"facing_deg\" and \"around\""});
}

TEST_CASE("a misspelt key is refused once, with the one it was meant to be") {
  expect(only_problem(small_with("\"length\"", "\"lenght\"")),
         {"unknown-key", 6, 3, "/lenght", "Did you mean \"length\"?"});
  expect(only_problem(small_with("\"girth\": 94", "\"girht\": 94")),
         {"unknown-key", 9, 16, "/stations/0/girht", "Did you mean \"girth\"?"});
  expect(only_problem(small_with("\"facing_deg\"", "\"Facing_Deg\"")),
         {"unknown-key", 12, 23, "/walls/0/Facing_Deg", "Did you mean \"facing_deg\"?"});
  expect(only_problem(small_with("\"version\": 1,", "\"version\": 1, \"a/b~c\": 2,")),
         {"unknown-key", 3, 17, "/a~1b~0c", "unknown key \"a/b~c\""});
}

TEST_CASE("a list under a misspelt key is not missed a second time") {
  expect(only_problem(small_with("\"stations\"", "\"staitons\"")),
         {"unknown-key", 8, 3, "/staitons", "Did you mean \"stations\"?"});
}

TEST_CASE("a wrong word is refused with the nearest one") {
  expect(only_problem(small_with("\"bamboo\"", "\"bambo\"")),
         {"choice", 5, 15, "/material", "Did you mean \"bamboo\"?"});
}

TEST_CASE("a key written twice is refused at its second place") {
  expect(only_problem(small_with("\"girth\": 94", "\"girth\": 94, \"girth\": 95")),
         {"duplicate-key", 9, 29, "/stations/0/girth", "a second time (first on line 9)"});
}

TEST_CASE("what is no number is refused as such") {
  for (const char* word : {"NaN", "nan", "Infinity", "-Infinity", "inf", "-inf"}) {
    INFO(word);
    const Problem problem = only_problem(small_with("\"girth\": 94", std::string("\"girth\": ") + word));
    expect(problem, {"not-a-number", 9, 25, "", word});
  }
}

TEST_CASE("numbers outside the physical range are refused, however large") {
  expect(
      only_problem(small_with("\"girth\": 94", "\"girth\": 1e308")),
      {"range", 9, 25, "/stations/0/girth", "found the number 1e308; allowed: a number from 10 to 1000 mm"});
  expect(only_problem(small_with("\"girth\": 94", "\"girth\": -94")),
         {"range", 9, 25, "/stations/0/girth", "-94"});
  expect(only_problem(small_with("\"girth\": 94", "\"girth\": 1e309")), {"range", 9, 25, "", "1e309"});
  expect(only_problem(small_with("\"girth\": 94", "\"girth\": 99999999999999999999")),
         {"range", 9, 25, "/stations/0/girth", "99999999999999999999"});
  expect(only_problem(small_with("180}", "180, \"diaphragm\": -1}")),
         {"range", 13, 43, "/nodes/0/diaphragm", "-1"});
}

TEST_CASE("a format of another kind or version is refused before anything else") {
  expect(only_problem(small_with("culmwright tube", "culmwright shop")),
         {"format", 2, 13, "/format", "A tube is wanted here"});
  expect(only_problem(small_with("\"version\": 1", "\"version\": 2")),
         {"version", 3, 14, "/version", "version 1"});
  expect(only_problem(small_with("  \"format\": \"culmwright tube\",\n", "")),
         {"missing-key", 1, 1, "", "\"format\""});
  expect(only_problem(small_with("  \"version\": 1,\n", "")), {"missing-key", 1, 1, "", "\"version\""});
}

TEST_CASE("deep nesting, huge lists, huge texts and huge documents are refused") {
  const std::string deep(100000, '[');
  expect(only_problem(deep), {"too-deep", 1, 25, "", "24 levels"});
  std::string many = "{\"at\": 20, \"girth\": 94}";
  for (int i = 0; i < 1000; ++i) many += ", {\"at\": 20, \"girth\": 94}";
  expect(only_problem(small_with("{\"at\": 20, \"girth\": 94},\n    {\"at\": 350, \"girth\": 100}", many)),
         {"size", 8, 15, "/stations", "found a list of 1001; allowed: a list of at most 1000 stations"});
  std::string values = "[0";
  for (std::size_t i = 0; i < files::most_values; ++i) values += ",0";
  CHECK(only_problem(values + "]").code == "too-many");
  CHECK(only_problem(std::string(files::largest_file + 1, ' ')).code == "too-large");
  CHECK(only_problem(small_with("\"K1\"", "\"" + std::string(41, 'K') + "\"")).code == "text");
  CHECK(only_problem(small_with("\"bamboo\",", "\"bamboo\", \"note\": \"" + std::string(4001, 'n') + "\","))
            .code == "text");
}

TEST_CASE("thousands of unknown keys cost no more than the first hundred") {
  std::string keys;
  for (int i = 0; i < 60000; ++i) keys += "\"k" + std::to_string(i) + "\": 0, ";
  const Problems problems = tube_problems(small_with("\"version\": 1,", "\"version\": 1, " + keys));
  CHECK(problems.size() == 101);
  CHECK(with_code(problems, "too-many") != nullptr);
}

TEST_CASE("bytes that are no UTF-8 are refused with their place") {
  expect(only_problem(small_with("\"K1\"", "\"K\xE9\"")), {"encoding", 4, 11, "", "0xE9"});
  expect(only_problem(small_with("\"K1\",", "\"K1\", // \xFF")), {"encoding", 4, 18, "", "0xFF"});
  CHECK(only_problem(small_with("\"K1\"", "\"\xED\xA0\x80\"")).code == "encoding");  // a surrogate
  CHECK(only_problem(small_with("\"K1\"", "\"\xC0\x80\"")).code == "encoding");      // overlong
  CHECK(only_problem(std::string("\xFF\xFE{\0}\0", 6)).code == "encoding");          // UTF-16
  CHECK(only_problem(std::string(small_tube()) + '\0').code == "encoding");
}

TEST_CASE("a byte order mark is passed over and columns count characters") {
  CHECK(tube_problems("\xEF\xBB\xBF" + std::string(small_tube())).empty());
  expect(only_problem(small_with("\"bamboo\",", "\"bamboo\", \"note\": \"Höhe Ω\", \"x\": 1,")),
         {"unknown-key", 5, 43, "/x", "\"x\""});
}

TEST_CASE("a truncated or empty file is called what it is") {
  const std::string whole = small_tube();
  for (std::size_t length : {whole.size() - 3, whole.size() / 2, std::size_t{5}}) {
    const Problem problem = only_problem(whole.substr(0, length));
    INFO(to_line(problem));
    CHECK(problem.code == "truncated");
    CHECK(problem.where.line > 0);
  }
  for (const char* empty : {"", "  \n\n", "\xEF\xBB\xBF"}) CHECK(only_problem(empty).code == "empty");
  CHECK(only_problem(whole + "}").code == "syntax");
}

TEST_CASE("slips of the typing hand get their own advice") {
  expect(only_problem(small_with("[{\"at_line\": 180}]", "[{\"at_line\": 180},]")),
         {"syntax", 13, 30, "", "Remove the comma"});
  expect(only_problem(small_with("\"girth\": 94", "\"girth\": 94,5")),
         {"syntax", 9, 28, "", "decimal point, no comma"});
  expect(only_problem(small_with("\"girth\": 94", "\"girth\": , \"at\": 1")),
         {"syntax", 9, 25, "", "found \",\"; allowed: a value"});
  expect(only_problem(small_with("\"girth\": 94", "\"girth\": 94 true")),
         {"syntax", 9, 28, "", "found \"true\""});
  expect(only_problem(small_with("400,", "400")), {"syntax", 7, 3, "", "A comma may be missing before it"});
  expect(only_problem(small_with("\"K1\"", "'K1'")), {"syntax", 4, 9, "", "double quotes"});
  expect(only_problem(small_with("\"K1\"", "\"K\\1\"")), {"syntax", 4, 12, "", "backslash"});
  expect(only_problem(small_with("\"K1\",", "\"K1,")), {"syntax", 4, 13, "", "closing quote"});
  expect(only_problem(small_with("\"K1\",", "\"K1\", # mine")),
         {"syntax", 4, 15, "", "Comments are written //"});
}

TEST_CASE("comments are passed over where the program never writes, and refused where it does") {
  const std::string commented = small_with("\"K1\",", "\"K1\", // one, two: [three\n /* four */");
  CHECK(tube_problems(commented).empty());
  expect(only_problem(replaced(commented, "\"bamboo\"", "3")), {"type", 6, 15, "/material", "the number 3"});
  const std::string placement = bytes_of(templates_folder() / "placement.json");
  const Problems problems = problems_of([&] { read_placement_text("// mine\n" + placement, "p.json"); });
  INFO(all_lines(problems));
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].advice.find("note") != std::string::npos);
}

TEST_CASE("all problems of a document are told at once, in the order of the file") {
  std::string text = small_with("\"K1\"", "\"K 1\"");
  text = replaced(text, "\"bamboo\"", "\"bamboos\"");
  text = replaced(text, "\"girth\": 94", "\"girth\": 9");
  text = replaced(text, "{\"at\": 350", "{\"at\": 10, \"wdiths\": []");
  text = replaced(text, "\"thickness\": 4", "\"thickness\": true");
  text = replaced(text, "180", "600");
  const Problems problems = tube_problems(text);
  INFO(all_lines(problems));
  std::vector<std::string> codes;
  std::vector<int> lines;
  for (const Problem& problem : problems) {
    codes.push_back(problem.code);
    lines.push_back(problem.where.line);
  }
  CHECK(codes ==
        std::vector<std::string>{"text", "choice", "range", "order", "unknown-key", "type", "outside"});
  CHECK(std::is_sorted(lines.begin(), lines.end()));
}

TEST_CASE("a value that could not be read raises no second problem") {
  // With no length there is no inside or outside; with no girth no wall is too thick.
  CHECK(only_problem(small_with("400", "\"400\"")).where.pointer == "/length");
  CHECK(only_problem(small_with("\"at\": 350", "\"at\": \"350\"")).where.pointer == "/stations/1/at");
}

TEST_CASE("a survey in inches that does not say so is told what to write, and only there") {
  std::string text = replaced(small_tube(), "\"length\": 400", "\"length\": 15.75");
  text = replaced(text, "\"girth\": 94", "\"girth\": 3.7");
  const Problems problems = problems_of([&] { read_tube_text(text, "piece.json"); });
  int hints = 0;
  for (const Problem& problem : problems) {
    if (problem.code != "range") continue;
    CHECK(problem.advice == "If the document is in inches, say so: \"units\": \"inch\"");
    ++hints;
  }
  CHECK(hints == 2);
  // What inches would not explain, and a document that states its unit, get no such hint.
  const auto advice = [](const std::string& from, const std::string& to) {
    const Problems found =
        problems_of([&] { read_tube_text(replaced(small_tube(), from, to), "piece.json"); });
    const Problem* range = with_code(found, "range");
    REQUIRE(range != nullptr);
    return range->advice;
  };
  CHECK(advice("\"length\": 400", "\"length\": 0.1").empty());
  CHECK(advice("\"length\": 400", "\"length\": 99999").empty());
  CHECK(advice("\"version\": 1,\n  \"id\": \"K1\",\n  \"material\": \"bamboo\",\n  \"length\": 400",
               "\"version\": 1,\n  \"units\": \"mm\",\n  \"id\": \"K1\",\n  \"material\": \"bamboo\",\n  "
               "\"length\": 15")
            .empty());
}
