#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "files/codec.hpp"
#include "shared.hpp"

using namespace culmwright;
using namespace culmwright::tests;

TEST_CASE("written, read and written again a document keeps its bytes") {
  const LoadedWorkshop workshop = read_whole_workshop(templates_folder() / "workshop.json");
  for (const auto& tube : workshop.tubes) {
    const std::string text = tube_to_json(tube.value);
    CHECK(tube_to_json(read_tube_text(text, "again").value) == text);
  }
  for (const auto& layout : workshop.key_layouts) {
    const std::string text = key_layout_to_json(layout.value);
    CHECK(key_layout_to_json(read_key_layout_text(text, "again").value) == text);
  }
  const std::string shop = shop_to_json(workshop.shop.value);
  CHECK(shop_to_json(read_shop_text(shop, "again").value) == shop);
  const std::string placement = placement_to_json(workshop.jobs[0].placement.value);
  CHECK(placement_to_json(read_placement_text(placement, "again").value) == placement);
  const std::string whole = workshop_to_json(workshop.workshop.value);
  CHECK(workshop_to_json(read_workshop_text(whole, "again").value) == whole);
}

TEST_CASE("the starter placement is in the program's own hand already") {
  const std::string text = bytes_of(templates_folder() / "placement.json");
  const Placement placement = read_placement_text(text, "p").value;
  const Placement again = read_placement_text(placement_to_json(placement), "p").value;
  CHECK(again.keys[0].at.value == 142.5);
  CHECK(again.keys[0].at.origin == Origin::shifted);
  CHECK(again.keys[0].at.revision == 2);
  CHECK(again.keys[1].around.locked);
  CHECK(*again.keys[1].around.error == 0.3);
  CHECK(again.facing.value.degrees() == Approx(15.0));
  CHECK(again.facing.origin == Origin::given);
  CHECK(again.signature() == nullptr);
  CHECK(again.revision() == 2);
}

TEST_CASE("an angle and its error come in degrees and are kept in radians") {
  const std::string text = replaced(bytes_of(templates_folder() / "placement.json"), "\"facing_deg\": 15",
                                    R"("facing_deg": {"value": 90, "origin": "measured", "error": 1.5})");
  const Placement placement = read_placement_text(text, "p").value;
  CHECK(placement.facing.value.radians() == Approx(pi / 2).epsilon(1e-15));
  CHECK(*placement.facing.error == Approx(0.026179938779914945).epsilon(1e-15));  // 1.5 · π / 180
  CHECK(placement_to_json(placement).find(
            "{\"value\": 90, \"origin\": \"measured\", \"revision\": 1, \"locked\": false, "
            "\"error\": 1.5}") != std::string::npos);
}

TEST_CASE("any angle or scaled number is written so that it reads back the same") {
  const unsigned seed = 71;
  INFO("seed " << seed);
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> value(-6.3, 6.3);
  const auto radians = [](double degrees) { return Angle::from_degrees(degrees).radians(); };
  const auto hundredth = [](double percent) { return percent * 0.01; };
  int not_exact = 0;
  for (int i = 0; i < 20000; ++i) {
    const double code = value(random);
    for (int way = 0; way < 2; ++way) {
      const std::function<double(double)> to_code =
          way == 0 ? std::function<double(double)>(radians) : hundredth;
      const double factor = way == 0 ? pi / 180.0 : 0.01;
      const double file = files::file_number(code, code / factor, to_code);
      const double read = to_code(file);
      REQUIRE(std::abs(read - code) <= 2e-16 * std::abs(code));
      not_exact += read != code ? 1 : 0;
      REQUIRE(files::file_number(read, read / factor, to_code) == file);
    }
  }
  CHECK(not_exact < 20000);  // of 40000: some values in radians have no number of degrees
  // What a hand types comes back as it was typed.
  for (int tenths = -3600; tenths <= 3600; ++tenths) {
    const double typed = tenths / 10.0;
    const double code = radians(typed);
    REQUIRE(files::file_number(code, code * (180.0 / pi), radians) == typed);
  }
}

// The inch is 25.4 mm (international yard and pound agreement of 1959; CSS Values: 1in = 2.54cm).
TEST_CASE("a tube in inches is the same tube in millimetres") {
  const std::string inches = R"({
    "format": "culmwright tube", "version": 1, "units": "inch", "id": "K", "material": "bamboo",
    "length": 20, "datum_from_end_a": 0.5, "tape_thickness": 0.01, "mass_g": 118, "balance_at": 9,
    "errors": {"caliper": 0.005, "protractor_deg": 2, "scale_g": 1},
    "stations": [{"at": 1, "girth": 3.75, "widths": [{"around": 0.25, "across": 1.2}, {"facing_deg": 90, "across": 1.25}]}],
    "nodes": [{"at_line": 8, "ridge_height": 0.05}]})";
  const Survey survey = read_tube_text(inches, "p").value;
  CHECK(survey.length == 508.0);
  CHECK(survey.datum_from_end_a == 12.7);
  CHECK(*survey.stations[0].girth == 95.25);
  CHECK(survey.stations[0].widths[0].across == Approx(30.48).epsilon(1e-15));
  CHECK(*survey.stations[0].widths[0].direction.around == 6.35);
  CHECK(survey.stations[0].widths[1].direction.facing->degrees() == Approx(90.0));
  CHECK(survey.errors.caliper == Approx(0.127).epsilon(1e-15));
  CHECK(survey.errors.tape == 0.3);  // a default is what it is, in millimetres
  CHECK(survey.errors.scale_g == 1.0);
  CHECK(*survey.mass_g == 118.0);
  CHECK(survey.nodes[0].band == 8.0);
  // Written in millimetres, the same value to the last bit.
  const std::string text = tube_to_json(survey);
  CHECK(text.find("units") == std::string::npos);
  const Survey again = read_tube_text(text, "p").value;
  CHECK(again.stations[0].widths[0].across == survey.stations[0].widths[0].across);
  CHECK(tube_to_json(again) == text);
}

TEST_CASE("limits in inches are told in inches") {
  const std::string text =
      replaced(replaced(small_tube(), "\"version\": 1,", "\"version\": 1, \"units\": \"inch\","),
               "\"length\": 400", "\"length\": 1000");
  const Problems problems = problems_of([&] { read_tube_text(text, "p"); });
  const Problem* problem = with_code(problems, "range");
  REQUIRE(problem != nullptr);
  CHECK(problem->allowed == "a number from 0.787402 to 236.22 inch");  // 20 and 6000 mm
  CHECK(problems_of([&] { read_tube_text(replaced(text, "\"inch\"", "\"cm\""), "p"); }).front().code ==
        "choice");
}
