#include "base/words.hpp"

#include <catch2/catch.hpp>
#include <cstdio>
#include <limits>

using namespace culmwright;

TEST_CASE("fixed decimals round as printf does") {
  // C17 7.21.6.1: the value is rounded to the decimals asked for; the C library is the other route here.
  for (double value : {0.0, 0.05, 0.25, 1.005, 2.675, -0.06, -17.449999, 123456.789, 1e22, -1e300}) {
    for (int decimals : {0, 1, 2, 4}) {
      char text[512];
      std::snprintf(text, sizeof text, "%.*f", decimals, value);
      const bool says_nothing = std::string(text).find_first_of("123456789") == std::string::npos;
      if (!(says_nothing && text[0] == '-')) CHECK(fixed_text(value, decimals) == text);
    }
  }
}

TEST_CASE("minus zero is never printed") {
  CHECK(fixed_text(-0.0, 1) == "0.0");
  CHECK(fixed_text(-0.04, 1) == "0.0");
  CHECK(fixed_text(-0.4, 0) == "0");
  CHECK(fixed_text(-0.06, 1) == "-0.1");
  CHECK(number_text(-0.0) == "0");
}

TEST_CASE("the greatest double fits, and what is no number is said so") {
  CHECK(fixed_text(std::numeric_limits<double>::max(), 6).size() == 309 + 1 + 6);
  CHECK(fixed_text(std::numeric_limits<double>::quiet_NaN(), 2) == "nan");
}

TEST_CASE("words are listed as in a sentence") {
  CHECK(listed({}).empty());
  CHECK(listed({"L1"}) == "L1");
  CHECK(listed({"L1", "L2"}, " and ") == "L1 and L2");
  CHECK(listed({"keep", "aside", "undecided"}) == "keep, aside or undecided");
}
