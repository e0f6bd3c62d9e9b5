#include "tube/reading_entry.hpp"

#include <catch2/catch.hpp>

using namespace culmwright;

namespace {

double one(const char* line, LengthUnit unit = LengthUnit::mm) {
  const auto numbers = typed_lengths(line, unit);
  INFO(line);
  REQUIRE(numbers);
  REQUIRE(numbers->size() == 1);
  return numbers->front();
}

}  // namespace

TEST_CASE("a length is read as makers type it and as digital calipers send it") {
  CHECK(one("12.34") == 12.34);
  CHECK(one("12,34 mm") == 12.34);
  CHECK(one("+ 12.34") == 12.34);
  CHECK(one("  12.34\r") == 12.34);
  CHECK(one("+0012.34mm\t") == 12.34);
  CHECK(one("\x02"
            "12.34\x03") == 12.34);
  CHECK(one("- 3.5") == -3.5);
  CHECK(one(".5") == 0.5);
  CHECK(one("7,") == 7.0);
  CHECK(one("1.2cm") == 12.0);
  CHECK(one("0.4915 in") == Approx(12.4841).epsilon(1e-12));
  CHECK(one("0.4915\"") == one("0.4915 in"));
}

TEST_CASE("a number without a unit is in the unit that was chosen, one with a unit is not") {
  CHECK(one("2", LengthUnit::inch) == 50.8);
  CHECK(one("2 mm", LengthUnit::inch) == 2.0);
  CHECK(one("2 inch", LengthUnit::mm) == 50.8);
}

TEST_CASE("fractions of a tape rule belong to the whole number before them") {
  CHECK(one("3 11/16 in") == Approx(3.6875 * 25.4));
  CHECK(one("11/16", LengthUnit::inch) == Approx(0.6875 * 25.4));
  CHECK(one("-1 1/2", LengthUnit::inch) == Approx(-38.1));
}

TEST_CASE("several numbers on a line are told apart by spaces") {
  const auto numbers = typed_lengths("300 -22,5 18 6", LengthUnit::mm);
  REQUIRE(numbers);
  CHECK(*numbers == std::vector<double>{300.0, -22.5, 18.0, 6.0});
}

TEST_CASE("what is no number is none, and a thousands mark is not guessed at") {
  for (const char* line :
       {"", "  ", "abc", "1,234.5", "1.2.3", "12 kg", "mm", "+", "1 mm mm", "3/0", "--2", "nan", "1e3"}) {
    INFO(line);
    CHECK_FALSE(typed_lengths(line, LengthUnit::mm));
  }
}

TEST_CASE("grams, degrees and per cent may stand behind what is no length") {
  CHECK(typed_numbers("118,5 g")->front() == 118.5);
  CHECK(typed_numbers("15°")->front() == 15.0);
  CHECK(typed_numbers("11 %")->front() == 11.0);
  CHECK_FALSE(typed_numbers("118 mm"));
}
