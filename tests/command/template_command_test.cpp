#include <catch2/catch.hpp>
#include <filesystem>

#include "programs.hpp"

using namespace culmwright::test;
namespace fs = std::filesystem;

namespace {

const std::string program = CULMWRIGHT_PROGRAM;
const std::string workshop = std::string(CULMWRIGHT_SOURCE_DIR) + "/examples/workshop/workshop.json";

}  // namespace

TEST_CASE("template draws every internode that is used, as SVG pages and one PDF, on the paper asked for") {
  TemporaryFolder folder;
  const std::string out = folder.file("out");
  const Ran ran = run(program + " template " + workshop + " --tube culm-19 --paper letter --out " + out);
  INFO(ran.output);
  REQUIRE(ran.code == 0);
  for (const char* name :
       {"run-1.svg", "run-1.pdf", "run-2-sheet-1.svg", "run-2-sheet-2.svg", "run-2.pdf", "run-3.pdf"}) {
    INFO(name);
    CHECK(fs::exists(out + "/tenor-19/" + name));
  }
  CHECK(read_file(out + "/tenor-19/run-1.svg").find("215.9") != std::string::npos);
  need_program("pdftotext", "poppler-utils");
  const Ran words = run("pdftotext " + out + "/tenor-19/run-2.pdf -");
  for (const char* id : {"LO", "LT", "L1", "L5"}) CHECK(words.output.find(id) != std::string::npos);
  CHECK(words.output.find("Through the guides") != std::string::npos);
  CHECK(words.output.find("It does not hold for") != std::string::npos);
}

TEST_CASE("template --run whole goes from cut to cut") {
  TemporaryFolder folder;
  const std::string out = folder.file("out");
  const Ran ran = run(program + " template " + workshop + " --tube culm-11 --run whole --out " + out);
  INFO(ran.output);
  REQUIRE(ran.code == 0);
  CHECK(fs::exists(out + "/alto-11/whole.pdf"));
  CHECK(run(program + " template " + workshop + " --run sideways --out " + out).code == 2);
}

TEST_CASE("paper too small for its words is wrong input for template, and one refused job for make") {
  TemporaryFolder folder;
  fs::copy(fs::path(CULMWRIGHT_SOURCE_DIR) / "examples/workshop", folder.file("workshop"),
           fs::copy_options::recursive);
  std::string shop = read_file(folder.file("workshop/shop.json"));
  const std::size_t at = shop.find("\"margin\"");
  REQUIRE(at != std::string::npos);
  const std::size_t colon = shop.find(':', at);
  shop.replace(colon + 1, shop.find_first_of(",}\n", colon) - colon - 1, " 60");
  write_file(folder.file("workshop/shop.json"), shop);
  const std::string files = folder.file("workshop/workshop.json");
  const std::string out = folder.file("out");
  const Ran drawn = run(program + " template " + files + " --tube culm-11 --out " + out);
  INFO(drawn.output);
  CHECK(drawn.code == 2);
  CHECK(drawn.output.find("paper A4 with a margin of 60 mm") != std::string::npos);
  const Ran made = run(program + " make " + files + " --tube culm-11 --out " + out);
  INFO(made.output);
  CHECK(made.code == 4);
  CHECK(made.output.find("alto-11: templates") != std::string::npos);
  CHECK(fs::exists(out + "/summary.json"));
  CHECK_FALSE(fs::exists(out + "/culm-11"));
}
