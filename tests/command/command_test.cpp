#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>

#include "admesh.hpp"
#include "files/sha256.hpp"

namespace fs = std::filesystem;

namespace {

using culmwright::test::Ran;
using culmwright::test::TemporaryFolder;
using culmwright::test::write_file;
namespace test = culmwright::test;

const fs::path source = CULMWRIGHT_SOURCE_DIR;

Ran run(const std::string& words) {
  return test::run(std::string(CULMWRIGHT_PROGRAM) + " " + words);
}

std::string demo(const std::string& name) {
  return (source / "examples/workshop" / name).string();
}

std::string text_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

std::map<std::string, std::string> digests(const fs::path& folder) {
  std::map<std::string, std::string> found;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (entry.is_regular_file()) {
      found[fs::relative(entry.path(), folder).generic_string()] = culmwright::sha256(text_of(entry.path()));
    }
  }
  return found;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("every command explains itself with an example") {
  for (const char* command :
       {"survey", "propose", "check", "shift", "transfer", "rank", "make", "sign", "compare"}) {
    const Ran ran = run(std::string(command) + " --help");
    CHECK(ran.code == 0);
    CHECK(ran.output.find("Example:") != std::string::npos);
  }
  CHECK(run("--help").code == 0);
  CHECK(run("--version").code == 0);
}

TEST_CASE("words that the program does not know end with code 2") {
  CHECK(run("").code == 2);
  CHECK(run("drill").code == 2);
  CHECK(run("survey").code == 2);
  CHECK(run("survey /does/not/exist.json").code == 2);
  CHECK(run("check " + demo("workshop.json") + " --no-such-option").code == 2);
}

TEST_CASE("survey says the figures of a piece, for people and for programs") {
  const Ran ran = run("survey " + demo("tubes/pipe-01.json"));
  CHECK(ran.code == 0);
  CHECK(ran.output.find("pipe-01") != std::string::npos);
  CHECK(ran.output.find("ovality") != std::string::npos);
  const Ran json = run("survey --json " + demo("tubes/pipe-01.json"));
  CHECK(json.code == 0);
  CHECK(json.output.find("\"next_reading\"") != std::string::npos);
}

TEST_CASE("check passes the demo and fails the refused placement in words") {
  CHECK(run("check " + demo("workshop.json")).code == 0);
  const Ran refused = run("check " + demo("refused/workshop.json"));
  CHECK(refused.code == 1);
  CHECK(refused.output.find("FAILS") != std::string::npos);
  const TemporaryFolder folder;
  CHECK(run("check " + demo("refused/workshop.json") + " --out " + folder.file("out")).code == 1);
  CHECK(fs::exists(folder.file("out/alto-elder-places.svg")));
}

TEST_CASE("propose writes placements that check passes, and a picture of them side by side") {
  const TemporaryFolder folder;
  const std::string piece = demo("tubes/culm-12.json") + " " + demo("key-layouts/alto-12.json");
  const Ran ran = run("propose " + piece + " --date 2026-02-01 --out " + folder.file("out"));
  CHECK(ran.code == 0);
  CHECK(ran.output.find("N·mm") != std::string::npos);
  CHECK(fs::exists(folder.file("out/alto-12-on-culm-12-strips.svg")));
  for (int i = 1; i <= 5; ++i) {
    const std::string placement = folder.file("out/alto-12-on-culm-12-" + std::to_string(i) + ".json");
    CHECK(run("check " + piece + " " + placement).code == 0);
  }
  const Ran refused = run("propose " + demo("tubes/elder-02.json") + " " + demo("key-layouts/tenor-17.json"));
  CHECK(refused.code == 1);
  CHECK(refused.output.find("too short") != std::string::npos);
}

TEST_CASE("a key is shifted in words, checked at once, and taken back") {
  const TemporaryFolder folder;
  const std::string before = text_of(demo("placements/alto-12.json"));
  write_file(folder.file("placement.json"), before);
  const std::string words = "shift " + demo("tubes/culm-12.json") + " " + demo("key-layouts/alto-12.json") +
                            " " + folder.file("placement.json") + " --date 2026-02-02 ";
  CHECK(run(words + "--move 'R2 1 toward foot, 0.5 to player'\\''s left'").code == 0);
  const std::string shifted = text_of(folder.file("placement.json"));
  CHECK(shifted.find("\"shifted\"") != std::string::npos);
  CHECK(run(words + "--move 'R2 60 toward foot'").code == 1);  // onto another key; told, and kept
  CHECK(run(words + "--undo").code == 0);
  const Ran history = run(words + "--history");
  CHECK(history.output.find("Revision 4") != std::string::npos);
  CHECK(run(words + "--move 'R2 one up'").code == 2);
  CHECK(text_of(folder.file("placement.json")).find("\"number\": 4") != std::string::npos);
}

TEST_CASE("rank and transfer say which piece becomes what") {
  const TemporaryFolder folder;
  const Ran rank = run("rank " + demo("workshop.json") + " --out " + folder.file("rank"));
  CHECK(rank.code == 0);
  CHECK(rank.output.find("tenor-17 from ") != std::string::npos);
  CHECK(fs::exists(folder.file("rank/rank-tenor-17.svg")));
  const Ran moved =
      run("transfer " + demo("workshop.json") + " --tube culm-11 --to culm-12 --out " + folder.file("moved"));
  CHECK(moved.code == 0);
  CHECK(fs::exists(folder.file("moved/alto-12-on-culm-12.json")));
  CHECK(run("transfer " + demo("workshop.json") + " --tube culm-11 --to nothing").code == 2);
  const std::string twice = demo("tubes/pipe-01.json");
  const Ran twins = run("rank " + twice + " " + twice + " " + demo("key-layouts/alto-12.json"));
  CHECK(twins.code == 2);
  CHECK(twins.output.find("pipe-01.json") != std::string::npos);
}

TEST_CASE("mistakes in two documents are all told at once, with their lines, and nothing is written") {
  const TemporaryFolder folder;
  const std::string tube = text_of(source / "templates/tube.json");
  write_file(folder.file("tube.json"), replaced(replaced(tube, "\"girth\": 91.8", "\"girth\": \"wide\""),
                                                "\"length\": 482", "\"lenght\": 482"));
  const std::string layout = text_of(source / "templates/key_layout.json");
  write_file(folder.file("layout.json"), replaced(layout, "\"version\": 1", "\"version\": 7"));
  const fs::path out = folder.file("out");
  const Ran ran = run("make " + folder.file("tube.json") + " " + folder.file("layout.json") + " " +
                      (source / "templates/placement.json").string() + " --out " + out.string());
  CHECK(ran.code == 2);
  CHECK(ran.output.find("lenght") != std::string::npos);
  CHECK(ran.output.find("length") != std::string::npos);
  CHECK(ran.output.find("/stations/0/girth") != std::string::npos);
  CHECK(ran.output.find("layout.json:") != std::string::npos);
  CHECK(!fs::exists(out));
}

TEST_CASE("the starter documents belong together: they survey, check and make") {
  const auto starter = [](const char* name) { return (source / "templates" / name).string(); };
  CHECK(run("survey " + starter("tube.json")).code == 0);
  CHECK(run("survey " + starter("tube_quick.json")).code == 0);
  CHECK(run("survey " + starter("tube_on_plates.json")).code == 0);
  CHECK(run("check " + starter("workshop.json")).code == 0);
}

TEST_CASE("a tube is made whole, twice with the same bytes, and its record holds the digests") {
  const TemporaryFolder folder;
  const fs::path first = folder.file("first");
  const fs::path second = folder.file("second");
  // Signed first: the record tells by whom, and the sheets are no drafts.
  fs::copy(source / "examples/workshop", folder.file("w"), fs::copy_options::recursive);
  const std::string workshop = folder.file("w/workshop.json") + " --tube pipe-01";
  REQUIRE(run("sign " + workshop + " --by 'A. Maker' --date 2026-03-02").code == 0);
  const std::string words = "make " + workshop + " --out ";
  REQUIRE(run(words + first.string()).code == 0);
  REQUIRE(run(words + second.string()).code == 0);
  const auto made = digests(first);
  CHECK(made == digests(second));
  CHECK(made.count("summary.json") == 1);
  CHECK(made.count("pipe-01/record.json") == 1);
  CHECK(made.count("pipe-01/tube.step") == 1);
  CHECK(made.count("pipe-01/guides/guide-1.stl") == 1);
  CHECK(made.count("pipe-01/cups/L1.step") == 1);
  const std::string record = text_of(first / "pipe-01/record.json");
  CHECK(record.find("\"draft\": false") != std::string::npos);
  CHECK(record.find("\"by\": \"A. Maker\"") != std::string::npos);
  CHECK(record.find("\"state\": \"signed off\"") != std::string::npos);
  for (const auto& [name, digest] : made) {
    if (name.rfind("pipe-01/guides", 0) == 0 || name.rfind("pipe-01/cups", 0) == 0) {
      CHECK(record.find(digest) != std::string::npos);
    }
  }
  int printed = 0;
  for (const auto& [name, digest] : made) {
    if (fs::path(name).extension() != ".stl") continue;
    INFO(name);
    ++printed;
    test::check_file_by_admesh((first / name).string());
  }
  CHECK(printed >= 15);  // 12 cups and the guides
  // What the maker changed is not overwritten, and nothing else is touched.
  write_file((first / "pipe-01/cups/L1.stl").string(), "my own");
  CHECK(run(words + first.string()).code == 2);
  CHECK(text_of(first / "pipe-01/cups/L1.stl") == "my own");
}
