#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <map>
#include <regex>
#include <set>
#include <sstream>

#include "admesh.hpp"

using namespace culmwright::test;
namespace fs = std::filesystem;

namespace {

const std::string program = CULMWRIGHT_PROGRAM;
const std::string examples = std::string(CULMWRIGHT_SOURCE_DIR) + "/examples/workshop/";

std::string joined_lines(const std::string& text) {
  // A sentence goes on in the next line when that is not the beginning of another.
  return std::regex_replace(text, std::regex("\n  (?!guide |depth |no depth |Depth)"), " ");
}

/// Guide → its holes, as the lines "guide 2: R1, R2; after …" say.
std::map<int, std::vector<std::string>> holes_of(const std::string& text) {
  std::map<int, std::vector<std::string>> guides;
  const std::regex line("guide (\\d+): ([^;\n]*); (?:.*)turned by");
  for (std::sregex_iterator it(text.begin(), text.end(), line), end; it != end; ++it) {
    std::istringstream words((*it)[2].str());
    std::string id;
    while (words >> id) {
      if (id.back() == ',') id.pop_back();
      guides[std::stoi((*it)[1])].push_back(id);
    }
  }
  return guides;
}

int columns(const std::string& line) {
  int count = 0;
  for (const char c : line) count += (c & '\xC0') != '\x80';  // letters, not bytes of UTF-8
  return count;
}

}  // namespace

TEST_CASE("guide names every hole once, in the order of drilling, and what holds each guide") {
  const Ran ran = run(program + " guide " + examples + "workshop.json --tube pipe-01");
  INFO(ran.output);
  REQUIRE(ran.code == 0);
  std::istringstream lines(ran.output);
  for (std::string line; std::getline(lines, line);) CHECK(columns(line) <= 80);
  const std::string text = joined_lines(ran.output);
  const auto guides = holes_of(text);
  REQUIRE(!guides.empty());
  std::multiset<std::string> drilled;
  for (const auto& [number, holes] : guides) drilled.insert(holes.begin(), holes.end());
  const std::multiset<std::string> wanted{"L1", "L2", "L3", "L4", "L5",      "LO",      "LT",      "R1",
                                          "R2", "R3", "R4", "R5", "access1", "access2", "access3", "access4"};
  CHECK(drilled == wanted);
  // What a guide comes after was drilled before it.
  const std::regex after("guide (\\d+): [^;\n]*; after guide (\\d+)");
  for (std::sregex_iterator it(text.begin(), text.end(), after), end; it != end; ++it)
    CHECK(std::stoi((*it)[2]) < std::stoi((*it)[1]));
  // A peg stands in a hole of an earlier guide.
  const std::regex peg("\n +(\\d+) +\\d+ +\\d+ +pegs? in ([A-Z0-9a-z]+)");
  int pegs = 0;
  for (std::sregex_iterator it(ran.output.begin(), ran.output.end(), peg), end; it != end; ++it, ++pegs) {
    bool earlier = false;
    for (const auto& [number, holes] : guides) {
      earlier = earlier ||
                (number < std::stoi((*it)[1]) && std::count(holes.begin(), holes.end(), (*it)[2].str()) > 0);
    }
    CHECK(earlier);
  }
  CHECK(pegs > 0);
}

TEST_CASE("guide --out writes guides, depth sleeves and their records, and again over what it wrote") {
  TemporaryFolder folder;
  const std::string out = folder.file("out");
  const std::string words = program + " guide " + examples + "workshop.json --tube pipe-01 --out " + out;
  const Ran ran = run(words);
  INFO(ran.output);
  REQUIRE(ran.code == 0);
  const std::size_t guides = holes_of(joined_lines(ran.output)).size();
  for (std::size_t i = 1; i <= guides; ++i) {
    for (const char* kind : {".stl", ".3mf", ".step"})
      CHECK(fs::exists(out + "/trial-pipe/guides/guide-" + std::to_string(i) + kind));
  }
  check_file_by_admesh(out + "/trial-pipe/guides/guide-1.stl");
  check_file_by_admesh(out + "/trial-pipe/sleeves/sleeve-1.stl");
  const std::string record = read_file(out + "/trial-pipe/guides.json");
  CHECK(record.find("\"order\"") != std::string::npos);
  CHECK(record.find("\"stop_at\"") != std::string::npos);
  CHECK(read_file(out + "/trial-pipe/sleeves.json").find("\"tip_beyond_sleeve\"") != std::string::npos);
  CHECK(run(words).code == 0);
  CHECK(read_file(out + "/trial-pipe/guides.json") == record);
}

TEST_CASE("guide writes nothing for a placement that breaks a rule, and says so") {
  TemporaryFolder folder;
  const std::string out = folder.file("out");
  const Ran ran = run(program + " guide " + examples + "refused/workshop.json --out " + out);
  INFO(ran.output);
  CHECK(ran.code == 1);
  CHECK(ran.output.find("It breaks a rule, so nothing is written") != std::string::npos);
  CHECK_FALSE(fs::exists(out));
}

TEST_CASE("guide without a placement is wrong input") {
  const Ran ran = run(program + " guide " + examples + "tubes/pipe-01.json");
  CHECK(ran.code == 2);
  CHECK(ran.output.find("no placement among the files") != std::string::npos);
}
