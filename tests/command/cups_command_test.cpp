/// Cups, fitted parts and the fit gauge, from the program alone.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>

#include "programs.hpp"

namespace fs = std::filesystem;

namespace {

using culmwright::test::Ran;
using culmwright::test::read_file;
using culmwright::test::TemporaryFolder;
using culmwright::test::write_file;

std::string demo(const std::string& name) {
  return std::string(CULMWRIGHT_SOURCE_DIR) + "/examples/workshop/" + name;
}

Ran cups(const std::string& words) {
  return culmwright::test::run(std::string(CULMWRIGHT_PROGRAM) + " cups " + words);
}

std::string alto() {
  return demo("tubes/culm-12.json") + " " + demo("key-layouts/alto-12.json") + " " +
         demo("placements/alto-12.json") + " " + demo("shop.json");
}

std::string tenor() {
  return demo("tubes/culm-07.json") + " " + demo("key-layouts/tenor-17.json") + " " +
         demo("placements/tenor-07.json") + " " + demo("shop.json");
}

/// The number of that name in the object that begins with the words.
double number_in(const std::string& json, const std::string& begins, const std::string& name) {
  const std::size_t object = json.find(begins);
  REQUIRE(object != std::string::npos);
  const std::size_t field = json.find("\"" + name + "\":", object);
  REQUIRE(field != std::string::npos);
  return std::atof(json.c_str() + field + name.size() + 3);
}

bool says(const Ran& ran, const std::string& words) {
  std::string line;  // the terminal's line breaks are no part of what is said
  for (char c : ran.output) {
    if (c == '\n') c = ' ';
    if (c != ' ' || line.empty() || line.back() != ' ') line += c;
  }
  return line.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("cups are made for the holes as they came out: a smaller spigot, a larger flange, a shorter grip") {
  const TemporaryFolder folder;
  const std::string l4 = "\"key\": \"L4\"";
  write_file(folder.file("holes.json"),
             "{\"format\": \"culmwright as-drilled\", \"version\": 1, \"tube\": \"culm-12\", \"placement\": "
             "\"alto-12\", \"holes\": [{\"id\": \"L4\", \"across_along\": 6.9, \"across_around\": 7.3, "
             "\"wall\": 3.2, \"chip_out\": 1.5}]}");
  const Ran wanted = cups(alto() + " --only L4 --json");
  const Ran drilled = cups(alto() + " " + folder.file("holes.json") + " --only L4 --json");
  REQUIRE(wanted.code == 0);
  INFO(drilled.output);
  REQUIRE(drilled.code == 0);
  // Wanted 7: the spigot is smaller by 0.15 a side, the flange is the touch of 14.
  CHECK(number_in(wanted.output, l4, "spigot_diameter") == Approx(6.7).margin(1e-6));
  CHECK(number_in(wanted.output, l4, "flange_width") == Approx(14.0).margin(1e-6));
  // The caliper's error of 0.05 is taken twice: off 6.9, and onto 7.3; lip of 2 and chip all around.
  CHECK(number_in(drilled.output, l4, "spigot_diameter") == Approx(6.9 - 0.1 - 0.3).margin(1e-6));
  CHECK(number_in(drilled.output, l4, "flange_width") == Approx(7.3 + 0.1 + 2 * (1.5 + 2.0)).margin(1e-6));
  CHECK(number_in(drilled.output, l4, "spigot_length") <= 3.2 - 0.15 - 0.5 + 1e-6);
  CHECK(number_in(drilled.output, l4, "spigot_length") < number_in(wanted.output, l4, "spigot_length"));
  const Ran table = cups(alto() + " " + folder.file("holes.json") + " --only L4");
  CHECK(says(table, "6.80 m"));
  CHECK(says(table, "m: as it came out"));
}

TEST_CASE("cups names every kind, the fitted parts with their screws, clearances and wires") {
  const Ran ran = cups(tenor());
  INFO(ran.output);
  REQUIRE(ran.code == 0);
  for (const char* words : {"touch cap", "padded cup", "switch seat", "plug", "thumb rest rest",
                            "slider shoe slide", "strap ring ring", "nearest to one another: key cup",
                            "in the order of pulling", "Pierce nodes before anything else"}) {
    INFO(words);
    CHECK(says(ran, words));
  }
  const Ran check = culmwright::test::run(std::string(CULMWRIGHT_PROGRAM) + " check " + tenor());
  CHECK(says(check, "in the order of pulling"));
  CHECK(cups(tenor() + " --only nobody").code == 2);
}

TEST_CASE("cups --out writes cups, parts and a plate of all of them, and again over what it wrote") {
  const TemporaryFolder folder;
  for (int time = 0; time < 2; ++time) {
    const Ran ran = cups(tenor() + " --only LA ring R6 --out " + folder.file("out"));
    INFO(ran.output);
    REQUIRE(ran.code == 0);
    for (const char* name :
         {"cups/LA.stl", "cups/LA.3mf", "cups/LA.step", "cups/R6.stl", "fitted/ring.stl", "fitted/ring.step",
          "plates/plate-1.stl", "plates/plate-1.3mf", "cups.json", "fitted.json", "manifest.json"}) {
      INFO(name);
      CHECK(fs::exists(folder.file("out/tenor-07/" + std::string(name))));
    }
  }
  CHECK_FALSE(fs::exists(folder.file("out/tenor-07/cups/L1.stl")));
}

TEST_CASE("a strap ring without room for its eye is refused by name, and nothing is written") {
  const TemporaryFolder folder;
  std::string layout = read_file(demo("key-layouts/tenor-17.json"));
  const std::size_t ring = layout.find("\"strap_ring\"");
  const std::size_t length = layout.find("\"length\": ", ring);
  layout.replace(length, layout.find(',', length) - length, "\"length\": 12.0");
  write_file(folder.file("layout.json"), layout);
  const Ran ran = cups(demo("tubes/culm-07.json") + " " + folder.file("layout.json") + " " +
                       demo("placements/tenor-07.json") + " --out " + folder.file("out"));
  CHECK(ran.code == 4);
  CHECK(says(ran, "strap ring ring: plan: an eye of 6.00 mm"));
  CHECK_FALSE(fs::exists(folder.file("out/tenor-07")));
}

TEST_CASE("cups --fit-gauge needs the shop alone, and says how what it writes is read") {
  const TemporaryFolder folder;
  const Ran ran = cups("--fit-gauge " + demo("shop.json") + " --out " + folder.file("out"));
  INFO(ran.output);
  REQUIRE(ran.code == 0);
  for (const char* field : {"printer.shrinkage_percent", "printer.hole_undersize", "fits.drill", "fits.bush",
                            "fits.peg", "fits.spigot"}) {
    CHECK(says(ran, field));
  }
  CHECK(read_file(folder.file("out/fit-gauge/how-to-read.txt")) == ran.output);
  for (const char* name : {"fit-gauge.stl", "fit-gauge.3mf", "fit-gauge.step"})
    CHECK(fs::exists(folder.file("out/fit-gauge/" + std::string(name))));
}
