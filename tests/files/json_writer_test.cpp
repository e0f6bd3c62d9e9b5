#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>
#include <random>

#include "files/json_tree.hpp"
#include "files/json_writer.hpp"
#include "shared.hpp"

using namespace culmwright;
using namespace culmwright::tests;

namespace {

files::JsonNode parsed(const std::string& text) {
  Problems problems;
  auto node = files::parse_json(text, "t", false, problems);
  INFO(all_lines(problems));
  REQUIRE(node);
  return *node;
}

}  // namespace

TEST_CASE("numbers are written with the fewest digits that read back the same") {
  CHECK(to_one_line(JsonValue(0.1)) == "0.1");
  CHECK(to_one_line(JsonValue(1.0 / 3.0)) == "0.3333333333333333");
  CHECK(to_one_line(JsonValue(1e300)) == "1e+300");
  CHECK(to_one_line(JsonValue(-0.0)) == "0");
  CHECK(to_one_line(JsonValue(12)) == "12");
  CHECK(to_one_line(JsonValue(std::size_t{7})) == "7");
  CHECK(to_one_line(JsonValue(true)) == "true");
  CHECK(to_one_line(JsonValue()) == "null");
  std::mt19937_64 random(3);
  for (int i = 0; i < 20000; ++i) {
    const std::uint64_t bits = random();
    double value = 0.0;
    std::memcpy(&value, &bits, sizeof value);
    if (!std::isfinite(value)) continue;
    REQUIRE(parsed(to_one_line(JsonValue::array({JsonValue(value)}))).items[0].number == value);
  }
}

// RFC 8259, section 7: quotation mark, reverse solidus and the control characters must be escaped.
TEST_CASE("text is escaped as RFC 8259 asks, and ill-formed bytes are replaced") {
  CHECK(to_one_line(JsonValue("a\"b\\c\n\t\x01 Ω")) == "\"a\\\"b\\\\c\\n\\t\\u0001 Ω\"");
  CHECK(to_one_line(JsonValue(std::string("a\xFF\xC3", 3))) == "\"a\xEF\xBF\xBD\xEF\xBF\xBD\"");
  const std::string all = [] {
    std::string text;
    for (int c = 0; c < 128; ++c) text += static_cast<char>(c);
    return text;
  }();
  CHECK(parsed(to_one_line(JsonValue::array({JsonValue(all)}))).items[0].text == all);
}

TEST_CASE("keys keep their order and short values share a line") {
  JsonValue value = JsonValue::object();
  JsonValue hole = JsonValue::object();
  hole.set("id", "L1").set("at", 12.5);
  JsonValue long_list = JsonValue::array();
  for (int i = 0; i < 40; ++i) long_list.push(1000 + i);
  value.set("z", 1)
      .set("a", JsonValue::array({hole, hole}))
      .set("long", long_list)
      .set("none", JsonValue::array());
  const std::string text = to_text(value);
  const std::string head =
      "{\n  \"z\": 1,\n  \"a\": [{\"id\": \"L1\", \"at\": 12.5}, {\"id\": \"L1\", \"at\": 12.5}],\n";
  CHECK(text.substr(0, head.size()) == head);
  CHECK(text.find("  \"long\": [\n    1000,\n    1001,\n") != std::string::npos);
  const std::string last = "\n  \"none\": []\n}\n";
  CHECK(text.substr(text.size() - last.size()) == last);
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t end = text.find('\n', start);
    CHECK(end - start <= 100);
    start = end + 1;
  }
  CHECK(to_text(files::to_value(parsed(text))) == text);
}

TEST_CASE("every value of a document knows its line and column") {
  const files::JsonNode node = parsed("{\"a\":[1,\n  {\"b\" : \"ü\", \"c\":true}],\n\"d\": -2.5e1 }");
  CHECK(node.members[0].value.items[0].spot.column == 7);
  const files::JsonNode& inner = node.members[0].value.items[1];
  CHECK(inner.spot.line == 2);
  CHECK(inner.spot.column == 3);
  CHECK(inner.members[0].value.spot.column == 10);
  CHECK(inner.members[1].spot.column == 15);
  CHECK(inner.members[1].value.spot.column == 19);
  CHECK(node.members[1].value.spot.line == 3);
  CHECK(node.members[1].value.text == "-2.5e1");
}

// RFC 6901, section 3: ~ and / inside a key.
TEST_CASE("pointers escape what RFC 6901 escapes") {
  CHECK(files::joined("/x", "a/b") == "/x/a~1b");
  CHECK(files::joined("", "m~n") == "/m~0n");
}
