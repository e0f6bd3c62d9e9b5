#include <catch2/catch.hpp>
#include <filesystem>

#include "programs.hpp"

namespace fs = std::filesystem;

namespace {

using culmwright::test::Ran;
using culmwright::test::read_file;
using culmwright::test::TemporaryFolder;
using culmwright::test::write_file;

const fs::path source = CULMWRIGHT_SOURCE_DIR;

Ran run(const std::string& words) {
  return culmwright::test::run(std::string(CULMWRIGHT_PROGRAM) + " " + words);
}

std::string demo(const std::string& name) {
  return (source / "examples/workshop" / name).string();
}
std::string starter(const std::string& name) {
  return (source / "templates" / name).string();
}

bool says(const Ran& ran, const std::string& words) {
  // Lines are broken at spaces.
  std::string flat;
  for (const char c : ran.output) {
    if (c == '\n' || c == ' ') {
      if (flat.empty() || flat.back() != ' ') flat += ' ';
    } else {
      flat += c;
    }
  }
  return flat.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("propose, hold, remeasure three keys, check, take back: the whole loop") {
  const TemporaryFolder folder;
  const std::string piece = demo("tubes/culm-12.json") + " " + demo("key-layouts/alto-12.json") + " ";
  REQUIRE(run("propose " + piece + "--count 1 --date 2026-02-01 --out " + folder.file("p")).code == 0);
  const std::string placement = folder.file("p/alto-12-on-culm-12.json");
  REQUIRE(fs::exists(placement));
  const std::string before = read_file(placement);
  // Nothing is written where a reading makes no sense.
  write_file(folder.file("wrong.csv"), "what,way,distance,from,direction\nR9,along,20,R1,toward foot\n");
  const Ran wrong = run("remeasure " + piece + placement + " " + folder.file("wrong.csv"));
  CHECK(wrong.code == 2);
  CHECK(says(wrong, "wrong.csv:2:1: /readings/0/what"));
  CHECK(read_file(placement) == before);

  write_file(folder.file("held.csv"),
             "what,way,distance,from,direction,by\n"
             "L2,along,21.5,L1,toward foot,\n"
             "L3,along,21,L2,toward foot,caliper\n"
             "R2,around,1.5,key line,to player’s left,\n");
  const Ran measured =
      run("remeasure " + piece + placement + " " + folder.file("held.csv") + " --date 2026-02-02");
  INFO(measured.output);
  CHECK((measured.code == 0 || measured.code == 1));
  CHECK(says(measured, "L2 "));
  CHECK(says(measured, "toward foot"));
  const std::string after = read_file(placement);
  CHECK(after.find("\"measured\"") != std::string::npos);
  CHECK(after.find("Measured on the mock-up: L2, L3 and R2") != std::string::npos);
  CHECK(run("check " + piece + placement).code == measured.code);
  CHECK(run("shift " + piece + placement + " --undo --date 2026-02-03").code == 0);
  CHECK(run("check " + piece + placement).code == 0);
  const Ran history = run("shift " + piece + placement + " --history");
  CHECK(says(history, "Undone: revision 2 (Measured on the mock-up"));
}

TEST_CASE("the starter mock-up goes with the starter placement, and finds it among others by its name") {
  const TemporaryFolder folder;
  const std::string words = starter("tube.json") + " " + starter("key_layout.json") + " " +
                            starter("placement.json") + " " + starter("mock_up.json");
  const Ran ran = run("remeasure " + words + " --out " + folder.file("out"));
  INFO(ran.output);
  CHECK((ran.code == 0 || ran.code == 1));
  CHECK(fs::exists(folder.file("out/first.json")));
  const Ran json = run("remeasure --json " + words + " --out " + folder.file("out2"));
  CHECK(json.output.find("\"contradictions\": []") != std::string::npos);
  CHECK(run("remeasure " + starter("workshop.json") + " " + starter("mock_up.json") + " --out " +
            folder.file("out3"))
            .code == ran.code);
  CHECK(read_file(folder.file("out3/first.json")) == read_file(folder.file("out/first.json")));
  CHECK(run("remeasure " + starter("workshop.json")).code == 2);
  CHECK(run("remeasure " + demo("workshop.json") + " " + starter("mock_up.json")).code == 2);
}

TEST_CASE("contradictions end with code 1, nothing written, until the maker names the reading to leave out") {
  const TemporaryFolder folder;
  write_file(folder.file("placement.json"), read_file(starter("placement.json")));
  write_file(folder.file("m.csv"),
             "what,way,distance,from,direction\n"
             "R2,along,297.5,mouth cut,\n"
             "R2,along,25.5,R1,toward foot\n"
             "R2,along,174,end B,\n");
  const std::string words = "remeasure " + starter("tube.json") + " " + starter("key_layout.json") + " " +
                            folder.file("placement.json") + " " + folder.file("m.csv");
  const std::string before = read_file(folder.file("placement.json"));
  const Ran ran = run(words);
  INFO(ran.output);
  CHECK(ran.code == 1);
  CHECK(says(ran, "Contradiction: Reading 3"));
  CHECK(says(ran, "--without 3"));
  CHECK(says(ran, "Nothing was written"));
  CHECK(read_file(folder.file("placement.json")) == before);
  const Ran without = run(words + " --without 3");
  CHECK(without.code != 2);
  CHECK_FALSE(says(without, "Contradiction"));
  CHECK(read_file(folder.file("placement.json")) != before);
}

TEST_CASE("finger marks on a paper wrap are enough to begin with") {
  const TemporaryFolder folder;
  const std::string words = "remeasure " + starter("tube.json") + " " + starter("finger_marks.csv") +
                            " --new-layout mine --date 2026-02-02";
  CHECK(run(words).code == 2);  // no folder
  const Ran ran = run(words + " --out " + folder.file("out"));
  INFO(ran.output);
  CHECK((ran.code == 0 || ran.code == 1));
  CHECK(fs::exists(folder.file("out/mine.json")));
  const std::string documents = starter("tube.json") + " " + folder.file("out/mine.json") + " " +
                                folder.file("out/mine-on-culm-01.json");
  CHECK(run("check " + documents).code == ran.code);
  // And these are documents like any other: the next mock-up is measured on them.
  write_file(folder.file("m.csv"), "what,way,distance,from,direction\nL3,along,20.5,L2,toward foot\n");
  const Ran again = run("remeasure " + documents + " " + folder.file("m.csv"));
  CHECK(again.code != 2);
  CHECK(says(again, "revision 2"));
  CHECK(read_file(folder.file("out/mine-on-culm-01.json")).find("Measured on the mock-up: L3") !=
        std::string::npos);
}
