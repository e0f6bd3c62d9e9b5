/// The survey at the terminal: asked for through a pipe, resumed, printed as a form, cut by a collar.
#include <catch2/catch.hpp>
#include <filesystem>

#include "admesh.hpp"
#include "files/documents.hpp"

namespace fs = std::filesystem;

namespace {

using culmwright::test::Ran;
using culmwright::test::TemporaryFolder;
namespace test = culmwright::test;

const fs::path source = CULMWRIGHT_SOURCE_DIR;

Ran run(const std::string& words, const std::string& input = "/dev/null") {
  return test::run(std::string(CULMWRIGHT_PROGRAM) + " " + words + " < " + input);
}

std::string demo(const std::string& name) {
  return (source / "examples/workshop" / name).string();
}

bool says(const Ran& ran, const std::string& words) {
  return ran.output.find(words) != std::string::npos;
}

const char* const quick =
    "K1\nbamboo\n2026-03-01\n400\n10\nB\n120\n1.1\n260\n1,2 mm\n\n\n94,0\n375\n100.2\n4\n4.4\n118 g\n190\n";

}  // namespace

TEST_CASE("a survey through a pipe is kept after every answer, reported, and taken up again") {
  const TemporaryFolder folder;
  const std::string out = folder.file("out");
  const std::string file = out + "/K1.json";
  test::write_file(folder.file("some"), "K1\nbamboo\n\n400\n10\n");
  const Ran some = run("survey --ask --out " + out, folder.file("some"));
  CHECK(some.code == 0);
  CHECK(says(some, "half done"));
  CHECK(test::read_file(file).find("\"length\": 400") != std::string::npos);
  CHECK(run("survey " + file).code == 2);  // no document for others yet, and says so
  const std::string lines = quick;
  const std::size_t rest = lines.find("B\n120");
  test::write_file(folder.file("rest"), lines.substr(rest) + "\n");
  const Ran whole = run("survey --ask --out " + out + " " + file, folder.file("rest"));
  INFO(whole.output);
  CHECK(whole.code == 0);
  CHECK(says(whole, "hole's place is known to"));
  CHECK(run("survey " + file).code == 0);
  // At once, it is the same document but for the day, which the first part left out.
  test::write_file(folder.file("quick"), lines + "\n");
  const std::string other = folder.file("other");
  CHECK(run("survey --ask --out " + other, folder.file("quick")).code == 0);
  culmwright::Survey at_once = culmwright::read_tube(other + "/K1.json").value;
  CHECK(at_once.date == "2026-03-01");
  at_once.date.clear();
  CHECK(culmwright::tube_to_json(at_once) == test::read_file(file));
}

TEST_CASE("a survey that was changed by hand is not overwritten when it is taken up again") {
  const TemporaryFolder folder;
  const std::string out = folder.file("out");
  test::write_file(folder.file("quick"), std::string(quick) + "\n");
  REQUIRE(run("survey --ask --out " + out, folder.file("quick")).code == 0);
  const std::string mine = test::read_file(out + "/K1.json") + "// my own remark\n";
  test::write_file(out + "/K1.json", mine);
  const Ran again = run("survey --ask --out " + out + " " + out + "/K1.json");
  CHECK(again.code == 0);
  CHECK(says(again, "K1-2.json"));
  CHECK(test::read_file(out + "/K1.json") == mine);
}

TEST_CASE("survey forms are written blank and for a piece, on the paper asked for") {
  const TemporaryFolder folder;
  CHECK(run("survey --form --out " + folder.file("a")).code == 0);
  CHECK(fs::exists(folder.file("a/survey-form-sheet-4.svg")));
  CHECK(test::read_file(folder.file("a/survey-form-sheet-1.svg")).find("width=\"210mm\"") !=
        std::string::npos);
  CHECK(
      run("survey --form --paper letter --out " + folder.file("b") + " " + demo("tubes/culm-07.json")).code ==
      0);
  const std::string sheet = test::read_file(folder.file("b/culm-07-survey-form-sheet-1.svg"));
  CHECK(sheet.find("width=\"215.9mm\"") != std::string::npos);
  CHECK(sheet.find("culm-07") != std::string::npos);
  CHECK(run("survey --form").code == 2);
  CHECK(run("survey --form --ask --out " + folder.file("c")).code == 2);
}

TEST_CASE("a saw collar and the plates' instructions are written with the survey") {
  const TemporaryFolder folder;
  const std::string out = folder.file("out");
  const Ran ran = run("survey --collar 12 --plates --out " + out + " " + demo("tubes/culm-07.json"));
  INFO(ran.output);
  CHECK(ran.code == 0);
  CHECK(says(ran, "Slide it on from end A"));
  test::check_file_by_admesh(out + "/culm-07-collar-12.0.stl");
  CHECK(fs::exists(out + "/culm-07-collar-12.0.step"));
  CHECK(fs::exists(out + "/culm-07-plates-use.svg"));
  CHECK(run("survey --collar 9999 --out " + out + " " + demo("tubes/culm-07.json")).code == 2);
}

TEST_CASE("check and survey ask for check girths, and stop a piece that has moved") {
  const TemporaryFolder folder;
  const std::string tube = test::read_file(demo("tubes/culm-12.json"));
  const std::string rest = " " + demo("key-layouts/alto-12.json") + " " + demo("placements/alto-12.json");
  CHECK(says(run("check " + demo("tubes/culm-12.json") + rest), "measure two girths again"));
  culmwright::Survey survey = culmwright::read_tube(demo("tubes/culm-12.json")).value;
  const auto& stations = survey.stations;
  const auto check_with = [&](double share) {
    survey.check_girths.clear();
    for (const auto* station : {&stations.front(), &stations.back()}) {
      REQUIRE(station->girth);
      survey.check_girths.push_back({station->at, *station->girth * (1.0 + share), "2026-03-02"});
    }
    test::write_file(folder.file("culm-12.json"), culmwright::tube_to_json(survey));
    return run("check " + folder.file("culm-12.json") + rest);
  };
  const Ran still = check_with(0.0);
  CHECK(still.code == 0);
  CHECK_FALSE(says(still, "measure two girths again"));
  const Ran moved = check_with(-0.012);
  CHECK(moved.code == 1);
  CHECK(says(moved, "the piece has moved"));
  CHECK(says(run("survey " + folder.file("culm-12.json")), "Measure again"));
}
