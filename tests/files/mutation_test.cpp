#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "shared.hpp"

using namespace culmwright;
using namespace culmwright::tests;

namespace {

/// One to four slips of bytes: flipped, removed, doubled, moved, or replaced by something spiteful.
std::string damaged(std::string text, std::mt19937& random) {
  static const std::vector<std::string> spite = {
      "NaN", "-Infinity", "1e308",   "1e999", "-0", "null", "[[[[[[", "\"",      "{",
      "}",   ",",         "\\u0000", "\xFF",  "//", "/*",   "1e-320", "\"id\":", "0x10"};
  for (unsigned slips = 1 + random() % 4; slips > 0 && !text.empty(); --slips) {
    const std::size_t at = random() % text.size();
    const std::size_t length = std::min<std::size_t>(1 + random() % 12, text.size() - at);
    switch (random() % 5) {
      case 0:
        text[at] = static_cast<char>(text[at] ^ (1 << random() % 8));
        break;
      case 1:
        text.erase(at, length);
        break;
      case 2:
        text.insert(at, text.substr(at, length));
        break;
      case 3:
        text.insert(random() % text.size(), text.substr(at, length));
        break;
      default:
        text.replace(at, length, spite[random() % spite.size()]);
        break;
    }
  }
  return text;
}

/// Reads the text; what is taken must be written, read and written again without change, which no NaN
/// survives: the writer stops the program at one.
template <class Read, class Write>
bool survives(const std::string& text, Read read, Write write) {
  std::string first;
  try {
    first = write(read(text));
  } catch (const InputError& error) {
    REQUIRE_FALSE(error.problems().empty());
    for (const Problem& problem : error.problems()) {
      REQUIRE_FALSE(problem.code.empty());
      REQUIRE_FALSE(problem.found.empty());
      REQUIRE_FALSE(problem.allowed.empty());
      REQUIRE(problem.where.line > 0);
      REQUIRE(problem.where.column > 0);
    }
    return false;
  }
  REQUIRE(write(read(first)) == first);
  return true;
}

template <class Read, class Write>
void damage_many(const char* file, Read read, Write write) {
  const std::string whole = bytes_of(templates_folder() / file);
  REQUIRE(survives(whole, read, write));
  int taken = 0;
  const unsigned seeds = 1500;
  for (unsigned seed = 0; seed < seeds; ++seed) {
    std::mt19937 random(seed);
    const std::string text = damaged(whole, random);
    INFO(file << ", seed " << seed << "\n" << text);
    taken += survives(text, read, write) ? 1 : 0;
  }
  INFO(file << ": " << taken << " of " << seeds << " damaged documents were taken, seeds 0 to " << seeds - 1);
  CHECK(taken > 0);                // a slip in a note or comment harms nobody
  CHECK(taken < seeds * 3 / 4.0);  // but most slips are found
}

}  // namespace

TEST_CASE("damaged documents never break the reader and never bring in what is no number") {
  damage_many(
      "tube.json", [](const std::string& t) { return read_tube_text(t, "d").value; }, tube_to_json);
  damage_many(
      "tube_quick.json", [](const std::string& t) { return read_tube_text(t, "d").value; }, tube_to_json);
  damage_many(
      "key_layout.json", [](const std::string& t) { return read_key_layout_text(t, "d").value; },
      key_layout_to_json);
  damage_many(
      "shop.json", [](const std::string& t) { return read_shop_text(t, "d").value; }, shop_to_json);
  damage_many(
      "placement.json", [](const std::string& t) { return read_placement_text(t, "d").value; },
      placement_to_json);
  damage_many(
      "workshop.json", [](const std::string& t) { return read_workshop_text(t, "d").value; },
      workshop_to_json);
}

TEST_CASE("damaged tables never break the reader") {
  const std::string whole = bytes_of(templates_folder() / "tube_stations.csv");
  const std::string document = bytes_of(templates_folder() / "tube_on_plates.json");
  TemporaryFolder folder;
  for (unsigned seed = 0; seed < 1000; ++seed) {
    std::mt19937 random(seed);
    write(folder.path() / "tube_stations.csv", damaged(whole, random));
    INFO("seed " << seed);
    survives(
        document, [&](const std::string& t) { return read_tube_text(t, "d", folder.path()).value; },
        tube_to_json);
  }
}
