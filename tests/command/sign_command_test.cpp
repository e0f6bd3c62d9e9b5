/// From a proposal to a signature and what ends it, by the program alone.
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

/// A copy of the demo's piece, key layout and shop, and a placement of its own.
class Bench {
 public:
  Bench() {
    fs::copy(workshop, folder_.file("w"), fs::copy_options::recursive);
    fs::copy_file(folder_.file("w/placements/alto-12.json"), folder_.file("alto-12.json"));
  }
  std::string tube() const { return folder_.file("w/tubes/culm-12.json"); }
  std::string layout() const { return folder_.file("w/key-layouts/alto-12.json"); }
  std::string shop() const { return folder_.file("w/shop.json"); }
  std::string placement() const { return placement_; }
  std::string out(const std::string& name) const { return folder_.file(name); }

  Ran run(const std::string& words) const {
    return culmwright::test::run(std::string(CULMWRIGHT_PROGRAM) + " " + words);
  }
  /// From now on with the best placement that the program proposes.
  void propose() {
    const Ran ran = run("propose " + tube() + " " + layout() + " --count 1 --out " + folder_.file("out"));
    REQUIRE(ran.code == 0);
    placement_ = folder_.file("out/alto-12-on-culm-12.json");
  }
  /// The command with all four documents.
  Ran command(const std::string& name, const std::string& words = "") const {
    return run(name + " " + tube() + " " + layout() + " " + shop() + " " + placement() + " " + words);
  }
  Ran sign(const std::string& words = "") const {
    return command("sign", "--by 'A. Maker' --date 2026-03-02 " + words);
  }
  void change(const std::string& file, const std::string& from, const std::string& to) const {
    std::string text = read_file(file);
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    write_file(file, text.replace(at, from.size(), to));
  }

 private:
  TemporaryFolder folder_;
  std::string placement_ = folder_.file("alto-12.json");
};

bool says(const Ran& ran, const std::string& words) {
  std::string line;  // the terminal's line breaks are no part of what is said
  for (char c : ran.output) {
    if (c == '\n') c = ' ';
    if (c != ' ' || line.empty() || line.back() != ' ') line += c;
  }
  return line.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("a proposal is signed; a change of the tube, told by value, makes it a draft; it is signed again") {
  Bench bench;
  bench.propose();
  CHECK(says(bench.command("check"), "DRAFT"));
  const Ran signed_off = bench.sign();
  INFO(signed_off.output);
  REQUIRE(signed_off.code == 0);
  CHECK(says(signed_off, "signed off by A. Maker, 2026-03-02"));
  CHECK(says(signed_off, "No check girths yet"));
  CHECK(says(bench.command("check"), "SIGNED OFF by A. Maker, 2026-03-02"));
  CHECK(bench.sign().code == 2);  // it still holds

  const std::string before = read_file(bench.placement());
  bench.change(bench.tube(), "\"at_line\": 118.0", "\"at_line\": 118.5");
  const Ran changed = bench.command("check");
  CHECK(says(changed, "DRAFT, no longer signed: tube changed"));
  CHECK(says(changed, "The tube changed: node 1, at line was 118, now 118.5."));
  CHECK(read_file(bench.placement()) == before);
  CHECK(says(bench.command("shift", "--history"), "no longer signed: tube changed"));

  REQUIRE(bench.sign().code == 0);
  const Ran history = bench.command("shift", "--history");
  CHECK(says(history, "Revision 1"));
  CHECK(says(history,
             "Revision 2, 2026-03-02, signed off by A. Maker, 2026-03-02: Signed again: tube changed"));
  CHECK_FALSE(says(history, "no longer signed"));
}

TEST_CASE("make says first that a placement is no longer signed, and since when in which value") {
  const Bench bench;
  REQUIRE(bench.sign().code == 0);
  // A stricter layout, which the placement breaks: nothing has to be built to see what is said.
  bench.change(bench.layout(), "\"left_mark\"", "\"limits\": {\"web_along\": 60},\n  \"left_mark\"");
  const Ran made = bench.command("make", "--out " + bench.out("made"));
  CHECK(made.code == 1);
  CHECK(says(made, "revision 1: DRAFT, no longer signed: key layout changed"));
  CHECK(says(made, "limits, web along was 5, now 60"));
  CHECK(made.output.find("no longer signed") < made.output.find("breaks a rule"));
  CHECK(says(made, "1 DRAFT"));
}

TEST_CASE("broken rules are signed only one by one with reasons, and then pass under the signature") {
  const Bench bench;
  bench.change(bench.layout(), "\"left_mark\"", "\"limits\": {\"hands_apart\": 60},\n  \"left_mark\"");
  const std::string before = read_file(bench.placement());
  const Ran refused = bench.sign();
  CHECK(refused.code == 1);
  CHECK(says(refused, "Not signed."));
  CHECK(says(refused, "--accept 'hands-apart "));
  CHECK(read_file(bench.placement()) == before);
  CHECK(bench.sign("--accept 'hands-apart: …'").code == 2);
  CHECK(bench.sign("--accept 'hands-apart: small hands' --accept 'web-around: no'").code == 2);
  CHECK(bench.sign("--accept 'hands-apar: small hands'").code == 2);
  CHECK(read_file(bench.placement()) == before);
  CHECK(bench.command("check").code == 1);
  const Ran accepted = bench.sign("--accept 'hands-apart: small hands'");
  CHECK(accepted.code == 0);
  CHECK(says(accepted, "(small hands)"));
  const Ran passes = bench.command("check");
  CHECK(passes.code == 0);
  CHECK(says(passes, "Accepted by A. Maker: small hands."));
  CHECK(says(bench.command("shift", "--history"), "accepting hands-apart"));
}

TEST_CASE("what cannot be made cannot be signed, and a date that is none is refused before writing") {
  const Bench bench;
  const std::string before = read_file(bench.placement());
  CHECK(bench.command("sign", "--by 'A. Maker' --date yesterday").code == 2);
  CHECK(bench.command("sign", "--by ''").code == 2);
  CHECK(read_file(bench.placement()) == before);
  CHECK(bench.command("shift", "--move 'R2 18 toward foot'").code == 1);
  const Ran refused = bench.sign();
  CHECK(refused.code == 1);
  CHECK(says(refused, "This cannot be accepted."));
  CHECK_FALSE(says(refused, "--accept"));
}

TEST_CASE("two revisions are compared in words, for programs and laid over each other") {
  const Bench bench;
  REQUIRE(bench.sign().code == 0);
  REQUIRE(bench.command("shift", "--move \"R2 1 toward foot; L1 0.5 to player's left\"").code == 0);
  const Ran ran = bench.command("compare", "--revisions 1 2 --out " + bench.out("compared"));
  INFO(ran.output);
  CHECK(ran.code == 0);
  CHECK(says(ran, "revision 1, SIGNED OFF by A. Maker, 2026-03-02"));
  CHECK(says(ran, "revision 2, DRAFT"));
  CHECK(says(ran, "1.0 toward foot"));
  CHECK(says(ran, "0.5 to player's left"));
  CHECK(fs::exists(bench.out("compared/alto-12-compared.svg")));
  const Ran json = bench.command("compare", "--json");
  CHECK(json.code == 0);
  CHECK(json.output.find("\"toward_foot\"") != std::string::npos);
  CHECK(bench.command("compare", "--revisions 1 7").code == 2);
  CHECK(bench.command("compare", "--revisions 1").code == 2);
  const std::string other = bench.out("other.json");
  fs::copy_file(bench.placement(), other);
  bench.change(other, "\"id\": \"alto-12\"", "\"id\": \"other\"");
  const Ran alike = bench.command("compare", other);
  CHECK(alike.code == 0);
  CHECK(says(alike, "Every key and part stands where it stood."));
}
