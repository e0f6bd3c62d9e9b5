/// A newcomer's first minutes: a workshop from nothing, and what the program says of itself.
#include <catch2/catch.hpp>
#include <filesystem>
#include <sstream>

#include "programs.hpp"

namespace fs = std::filesystem;

namespace {

using culmwright::test::Ran;
using culmwright::test::read_file;
using culmwright::test::TemporaryFolder;
using culmwright::test::write_file;

Ran culmwright_says(const std::string& words) {
  return culmwright::test::run(std::string(CULMWRIGHT_PROGRAM) + " " + words);
}

bool contains(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("new starts a workshop whose documents read without a fault, whatever way the piece is measured") {
  for (const std::string survey : {"bench", "plates", "quick"}) {
    const TemporaryFolder folder;
    const std::string shop = folder.file("shop");
    INFO(survey);
    const Ran made =
        culmwright_says("new " + shop + " --piece culm-77 --instrument soprano --survey " + survey);
    CHECK(made.code == 0);
    CHECK(contains(read_file(shop + "/tubes/culm-77.json"), "\"id\": \"culm-77\""));
    CHECK(contains(read_file(shop + "/key-layouts/soprano.json"), "\"id\": \"soprano\""));
    CHECK(culmwright_says("survey " + shop + "/tubes/culm-77.json").code == 0);
    // The starter's readings are nobody's piece: nothing is made of them.
    const Ran whole = culmwright_says("make " + shop + "/workshop.json --out " + folder.file("made"));
    CHECK(contains(whole.output, "put aside"));
    CHECK_FALSE(fs::exists(folder.file("made/culm-77")));
  }
}

TEST_CASE("new adds a piece to a workshop, and never writes over one") {
  const TemporaryFolder folder;
  const std::string shop = folder.file("shop");
  REQUIRE(culmwright_says("new " + shop + " --piece one").code == 0);
  write_file(shop + "/tubes/one.json", "mine");
  const Ran again = culmwright_says("new " + shop + " --piece one");
  CHECK(again.code == 2);
  CHECK(contains(again.output, "one.json"));
  CHECK(read_file(shop + "/tubes/one.json") == "mine");
  const Ran second = culmwright_says("new " + shop + " --piece two --survey quick");
  CHECK(second.code == 0);
  CHECK(contains(second.output, "Add \"tubes/two.json\""));
  CHECK(fs::exists(shop + "/tubes/two.json"));
}

TEST_CASE("a mistyped command or option is answered with the nearest one") {
  const Ran command = culmwright_says("shfit");
  CHECK(command.code == 2);
  CHECK(contains(command.output, "Did you mean shift?"));
  const Ran option =
      culmwright_says("check --jsno " + std::string(CULMWRIGHT_SOURCE_DIR) + "/templates/shop.json");
  CHECK(option.code == 2);
  CHECK(contains(option.output, "Did you mean --json?"));
  CHECK(culmwright_says("").code == 2);
}

TEST_CASE("every command's help fits 80 columns and gives an example that begins as one types it") {
  const Ran all = culmwright_says("--help");
  REQUIRE(all.code == 0);
  const Ran manual = culmwright_says("--manual");
  REQUIRE(manual.code == 0);
  int commands = 0;
  std::istringstream lines(manual.output);
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind(".SS ", 0) != 0) continue;
    const std::string command = line.substr(4);
    const Ran help = culmwright_says(command + " --help");
    INFO(command);
    CHECK(help.code == 0);
    CHECK(contains(all.output, "\n  " + command + " "));
    CHECK(contains(help.output, "\n  culmwright " + command + " "));
    std::istringstream help_lines(help.output);
    bool example = false;
    for (std::string row; std::getline(help_lines, row);) {
      example = example || row == "Example:";
      std::size_t columns = 0;
      for (const char c : row) columns += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
      INFO(row);
      CHECK((example || columns <= 80));  // an example is one line, to be copied
    }
    ++commands;
  }
  CHECK(commands >= 16);
}
