/// A job half drilled, and a slip, played by the program alone.
#include <catch2/catch.hpp>
#include <filesystem>

#include "programs.hpp"

namespace fs = std::filesystem;

namespace {

using culmwright::test::Ran;
using culmwright::test::read_file;
using culmwright::test::TemporaryFolder;
using culmwright::test::write_file;

const fs::path workshop = fs::path(CULMWRIGHT_SOURCE_DIR) / "examples/workshop";

/// A copy of the demo's alto: its piece, key layout, shop and placement; holes drilled of it.
class Bench {
 public:
  Bench() {
    fs::copy(workshop, folder_.file("w"), fs::copy_options::recursive);
    fs::copy_file(folder_.file("w/placements/alto-12.json"), placement());
  }
  std::string placement() const { return folder_.file("alto-12.json"); }
  std::string holes() const { return folder_.file("holes.json"); }
  std::string out(const std::string& name) const { return folder_.file(name); }
  std::string three() const {
    return folder_.file("w/tubes/culm-12.json") + " " + folder_.file("w/key-layouts/alto-12.json") + " " +
           folder_.file("w/shop.json");
  }
  /// `list`: the holes' JSON objects.
  void drill(const std::string& list, const std::string& id = "alto-12") const {
    write_file(
        holes(),
        "{\"format\": \"culmwright as-drilled\", \"version\": 1, \"tube\": \"culm-12\",\n\"placement\": \"" +
            id + "\",\n\"holes\": [\n" + list + "\n]}");
  }
  Ran run(const std::string& command, const std::string& words = "") const {
    return culmwright::test::run(std::string(CULMWRIGHT_PROGRAM) + " " + command + " " + three() + " " +
                                 placement() + " " + holes() + " " + words);
  }

 private:
  TemporaryFolder folder_;
};

std::string one_line(const std::string& text) {
  std::string line;  // the terminal's line breaks are no part of what is said
  for (char c : text) {
    if (c == '\n') c = ' ';
    if (c != ' ' || line.empty() || line.back() != ' ') line += c;
  }
  return line;
}

bool says(const Ran& ran, const std::string& words) {
  return one_line(ran.output).find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("half-way, the walls read through the pilots set the depth stops of the rest") {
  const Bench bench;
  bench.drill(R"({"id": "L1", "state": "pilot"}, {"id": "L2", "state": "pilot"})");
  const Ran before = bench.run("as-drilled", "--json");
  REQUIRE(before.code == 0);
  bench.drill(R"({"id": "L1", "state": "pilot", "wall": 5.2}, {"id": "L2", "state": "pilot", "wall": 5.1})");
  const Ran after = bench.run("as-drilled", "--json");
  REQUIRE(after.code == 0);
  CHECK(before.output != after.output);
  CHECK(after.output.find("\"wall_expected\"") != std::string::npos);
  const Ran text = bench.run("as-drilled");
  CHECK(says(text, "The tube was calculated anew"));
  CHECK(says(text, "Next: "));
  CHECK(says(text, "depth stop"));
}

TEST_CASE("a slip is written as a fact, and the rest is proposed around it") {
  const Bench bench;
  bench.drill(R"({"id": "L1", "across_along": 9.1, "across_around": 9.1})");
  const Ran plain = bench.run("as-drilled", "--json");
  REQUIRE(plain.code == 0);
  // Where L1 is, two millimetres farther along.
  const std::size_t at = plain.output.find("\"wanted_at\": ") + 13;
  const std::size_t around = plain.output.find("\"wanted_around_the_tube\": ") + 26;
  const double slipped = std::stod(plain.output.substr(at)) + 2.0;
  const double kept = std::stod(plain.output.substr(around));
  bench.drill("{\"id\": \"L1\", \"across_along\": 9.1, \"across_around\": 9.1, \"at\": " +
              std::to_string(slipped) + ", \"around\": " + std::to_string(kept) + "}");
  const Ran told = bench.run("as-drilled", "--date 2026-03-01 --out " + bench.out("drilled"));
  CHECK(says(told, "2.0 mm toward"));
  CHECK(says(told, "with what is drilled listed and locked"));
  const std::string written = read_file(bench.out("drilled/alto-12.json"));
  CHECK(written.find("\"origin\": \"drilled\"") != std::string::npos);
  CHECK(written.find("As drilled: L1") != std::string::npos);

  const Ran proposed = bench.run("propose", "--count 1 --out " + bench.out("proposed"));
  REQUIRE(proposed.code == 0);
  const std::string anew = read_file(bench.out("proposed/alto-12.json"));
  CHECK(anew.find("Proposed around what is drilled") != std::string::npos);
  CHECK(anew.find("\"origin\": \"drilled\"") != std::string::npos);
}

TEST_CASE("drilled holes of another placement are refused with their line") {
  const Bench bench;
  bench.drill(R"({"id": "L1", "state": "pilot"})", "alto-21");
  const Ran ran = bench.run("as-drilled");
  CHECK(ran.code == 2);
  CHECK(says(ran, "holes.json:2:"));
  bench.drill(R"({"id": "L99", "state": "pilot"})");
  const Ran unknown = bench.run("check");
  CHECK(unknown.code == 2);
  CHECK(says(unknown, "holes.json:4:"));
}
