/// The command `hand`, and hands in the other commands.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <regex>
#include <sstream>

#include "programs.hpp"

using namespace culmwright::test;
namespace fs = std::filesystem;

namespace {

const std::string program = CULMWRIGHT_PROGRAM;
const std::string examples = std::string(CULMWRIGHT_SOURCE_DIR) + "/examples/workshop/";
const std::string alto = " " + examples + "workshop.json --tube culm-11";

std::string text_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

std::string in_one_line(const std::string& text) {
  return std::regex_replace(text, std::regex("\\s+"), " ");
}

int columns(const std::string& line) {
  int count = 0;
  for (const char c : line) count += (c & '\xC0') != '\x80';  // letters, not bytes of UTF-8
  return count;
}

int count_of(const std::string& text, const std::string& words) {
  int count = 0;
  for (std::size_t at = text.find(words); at != std::string::npos; at = text.find(words, at + 1)) ++count;
  return count;
}

/// Every number that stands behind `name` in JSON text.
std::vector<double> numbers_of(const std::string& json, const std::string& name) {
  std::vector<double> numbers;
  const std::regex entry("\"" + name + "\": (-?[0-9.eE+-]+)");
  for (std::sregex_iterator it(json.begin(), json.end(), entry), end; it != end; ++it) {
    numbers.push_back(std::stod((*it)[1]));
  }
  return numbers;
}

}  // namespace

TEST_CASE("hand says of every key who plays it and how far it could be moved, in 80 columns") {
  const Ran ran = run(program + " hand" + alto);
  INFO(ran.output);
  REQUIRE(ran.code == 0);
  std::istringstream lines(ran.output);
  for (std::string line; std::getline(lines, line);) CHECK(columns(line) <= 80);
  for (const char* row : {"LT   thumb ", "LO   thumb ", "L1   index ", "L2   middle ", "L3   ring ",
                          "L4   little ", "L5   little ", "R1    index ", "R2    middle ", "R3    ring ",
                          "R4    little ", "R5    little ", "rest  thumb "}) {
    INFO(row);
    CHECK(count_of(ran.output, row) == 1);
  }
  CHECK(ran.output.find("Left hand, 184 by 82 mm") != std::string::npos);
  CHECK(ran.output.find("Right hand, 184 by 82 mm") != std::string::npos);
  CHECK(in_one_line(ran.output).find("no medical advice: stop when it hurts") != std::string::npos);
}

TEST_CASE("hand gives the same figures to programs, and its parts add up") {
  const Ran ran = run(program + " hand --json" + alto);
  REQUIRE(ran.code == 0);
  const std::vector<double> sums = numbers_of(ran.output, "sum");
  REQUIRE(sums.size() == 2);
  std::vector<double> parts(2, 0.0);
  for (const char* part :
       {"joints", "pads_aslant", "room_to_reach", "spread", "ways", "wrist", "out_of_reach"}) {
    const std::vector<double> values = numbers_of(ran.output, part);
    REQUIRE(values.size() == 2);
    for (std::size_t hand = 0; hand < 2; ++hand) parts[hand] += values[hand];
  }
  for (std::size_t hand = 0; hand < 2; ++hand) CHECK(parts[hand] == Approx(sums[hand]).margin(1e-3));
  CHECK(numbers_of(ran.output, "strain").size() == 13);
  CHECK(ran.output.find("\"caution\"") != std::string::npos);
}

TEST_CASE("the hand's picture shows every finger with its reach, says DRAFT, and is the same every time") {
  const TemporaryFolder folder;
  std::string first;
  for (const char* name : {"once", "again"}) {
    const fs::path out = folder.file(name);
    const Ran ran = run(program + " hand" + alto + " --out " + out.string());
    REQUIRE(ran.code == 0);
    const std::string left = text_of(out / "alto-11-hands-sheet-1.svg");
    for (const char* id : {"LT", "LO", "L1", "L2", "L3", "L4", "L5"}) {
      INFO(id);
      for (const char* group : {"finger-", "reach-", "end-"}) {
        CHECK(left.find("id=\"" + (group + std::string(id)) + "\"") != std::string::npos);
      }
    }
    CHECK(left.find(">DRAFT<") != std::string::npos);
    CHECK(left.find(">Advice only<") != std::string::npos);
    CHECK(text_of(out / "alto-11-hands.pdf").rfind("%PDF", 0) == 0);
    CHECK((first.empty() || first == left));
    first = left;
  }
}

TEST_CASE("a hand too small for the keys fails, by the key's name and by how much") {
  const Ran hand = run(program + " hand" + alto + " --hand 105x48");
  CHECK(hand.code == 1);
  CHECK(in_one_line(hand.output).find("out of reach of the left hand's little finger.") != std::string::npos);
  const Ran check = run(program + " check" + alto + " --hand 105x48");
  CHECK(check.code == 1);
  CHECK(in_one_line(check.output).find("for a hand of 105") != std::string::npos);
  const Ran usual = run(program + " hand" + alto + " --hand men:50");
  CHECK(usual.code == 0);
  CHECK(usual.output.find("Left hand, 193 by 88 mm") != std::string::npos);
}

TEST_CASE("a hand's size that cannot be is refused, and one that is missing is asked for") {
  const Ran wrong = run(program + " hand" + alto + " --hand 900");
  CHECK(wrong.code == 2);
  CHECK(in_one_line(wrong.output).find("from the crease of the wrist") != std::string::npos);

  const TemporaryFolder folder;
  const fs::path layout = folder.file("alto.json");
  std::ofstream(layout) << std::regex_replace(text_of(examples + "key-layouts/alto-12.json"),
                                              std::regex("\"hand_size\": \\{[^}]*\\},?"), "");
  const std::string files =
      " " + examples + "tubes/culm-11.json " + layout.string() + " " + examples + "placements/alto-11.json";
  const Ran missing = run(program + " hand" + files);
  CHECK(missing.code == 2);
  CHECK(in_one_line(missing.output).find("--hand women:50") != std::string::npos);
  CHECK(run(program + " hand" + files + " --hand women:50").code == 0);
}

TEST_CASE("with a hand known, propose goes by its discomfort and says how often that was judged") {
  const std::string files = examples + "tubes/culm-11.json " + examples + "key-layouts/alto-12.json";
  const Ran ran = run(program + " propose " + files);
  INFO(ran.output);
  REQUIRE(ran.code == 0);
  const std::string words = in_one_line(ran.output);
  CHECK(words.find("discomfort of the hands") != std::string::npos);
  CHECK(words.find("keys shifted from the hand's places") == std::string::npos);
  CHECK(std::regex_search(words, std::regex("Comfort judged for [1-9][0-9]* hands; one takes [0-9.]+ ms")));
}
