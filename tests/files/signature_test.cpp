#include <catch2/catch.hpp>
#include <cctype>
#include <cmath>

#include "files/json_writer.hpp"
#include "files/sha256.hpp"
#include "files/sign_state.hpp"
#include "files/signed_values.hpp"
#include "shared.hpp"

using namespace culmwright;
using namespace culmwright::tests;

namespace {

std::filesystem::path demo(const std::string& name) {
  return std::filesystem::path(CULMWRIGHT_SOURCE_DIR) / "examples/workshop" / name;
}

/// Demo documents, and a placement of them that is signed off.
struct Signed {
  Survey tube = read_tube(demo("tubes/culm-12.json")).value;
  KeyLayout layout = read_key_layout(demo("key-layouts/alto-12.json")).value;
  Shop shop = read_shop(demo("shop.json")).value;
  Placement placement = read_placement(demo("placements/alto-12.json")).value;

  Signed() {
    Signature signature = signature_for(placement, tube, layout, &shop);
    signature.by = "A. Maker";
    signature.date = "2026-03-02";
    signature.accepted = {{"fibre-line", {"R1", "R2"}, "the wall is thick there"}};
    placement.revisions.back().signature = signature;
  }
  SignMark mark() const { return sign_mark(placement, tube, layout, &shop); }
};

/// Where each number of a document stands, its version apart.
struct NumberSpot {
  std::size_t from = 0;
  std::size_t length = 0;
};

std::vector<NumberSpot> numbers_of(const std::string& text) {
  std::vector<NumberSpot> spots;
  bool quoted = false;
  for (std::size_t i = text.find("\"version\""); i < text.size(); ++i) {
    if (text[i] == '\\') ++i;
    if (text[i] == '"') quoted = !quoted;
    if (quoted || !(std::isdigit(static_cast<unsigned char>(text[i])) || text[i] == '-')) continue;
    const std::size_t end = text.find_first_not_of("0123456789+-.eE", i);
    spots.push_back({i, end - i});
    i = end - 1;
  }
  spots.erase(spots.begin());  // the version
  return spots;
}

/// The document with one number changed by as little as it takes to be allowed; none where nothing is.
template <class T>
std::optional<T> perturbed(const std::string& text, NumberSpot spot, std::string& now,
                           Loaded<T> (*read)(const std::string&)) {
  const double value = std::stod(text.substr(spot.from, spot.length));
  for (double other : {value + 0.01, value - 0.01, value + 1.0, value - 1.0}) {
    now = to_one_line(JsonValue(std::round(other * 1e6) / 1e6));
    try {
      return read(text.substr(0, spot.from) + now + text.substr(spot.from + spot.length)).value;
    } catch (const InputError&) {
      continue;
    }
  }
  return std::nullopt;
}

bool says(const SignMark& mark, const std::string& words) {
  for (const std::string& sentence : mark.what_changed) {
    if (sentence.find(words) != std::string::npos) return true;
  }
  return false;
}

/// Every number of the document, changed, ends the signature, and the words tell what it was and is.
template <class T>
void check_every_number(const std::string& text, Loaded<T> (*read)(const std::string&), const char* document,
                        SignMark (*judge)(const T&), std::size_t fewest) {
  std::size_t changed = 0;
  std::size_t fixed = 0;
  for (const NumberSpot& spot : numbers_of(text)) {
    std::string now;
    const std::optional<T> other = perturbed(text, spot, now, read);
    if (!other) {
      ++fixed;
      continue;
    }
    ++changed;
    const SignMark mark = judge(*other);
    INFO(text.substr(spot.from < 60 ? 0 : spot.from - 60, 60) << " → " << now);
    CHECK(mark.state == SignState::no_longer_signed);
    CHECK(mark.changed == std::vector<std::string>{document});
    CHECK_FALSE(mark.what_changed.empty());
    CHECK(says(mark, "was " + text.substr(spot.from, spot.length)));
    CHECK(says(mark, "now " + now));
  }
  CHECK(changed >= fewest);
  CHECK(fixed * 10 <= changed);
}

Loaded<Survey> read_survey(const std::string& text) {
  return read_tube_text(text, "tube");
}
Loaded<KeyLayout> read_keys(const std::string& text) {
  return read_key_layout_text(text, "key layout");
}
Loaded<Shop> read_bench(const std::string& text) {
  return read_shop_text(text, "shop");
}

/// Line breaks and tabs after every comma that is no part of a text.
std::string with_more_space(const std::string& text) {
  std::string out;
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '"') quoted = !quoted;
    out += text[i];
    if (!quoted && text[i] == ',') out += "\n\t ";
  }
  return out;
}

const Signed& sample() {
  static const Signed made;
  return made;
}

SignMark with_tube(const Survey& tube) {
  return sign_mark(sample().placement, tube, sample().layout, &sample().shop);
}
SignMark with_layout(const KeyLayout& layout) {
  return sign_mark(sample().placement, sample().tube, layout, &sample().shop);
}
SignMark with_shop(const Shop& shop) {
  return sign_mark(sample().placement, sample().tube, sample().layout, &shop);
}

}  // namespace

TEST_CASE("a signature holds for the documents it was given for, and its words say who and when") {
  const SignMark mark = sample().mark();
  CHECK(mark.state == SignState::signed_off);
  CHECK(mark.changed.empty());
  CHECK(sign_words(mark) == "SIGNED OFF by A. Maker, 2026-03-02");
  CHECK(sample().placement.signature()->tube.digest == sha256(sample().placement.signature()->tube.values));
  Placement draft = sample().placement;
  draft.revisions.back().signature.reset();
  CHECK(sign_words(sign_mark(draft, sample().tube, sample().layout, nullptr)) == "DRAFT");
}

TEST_CASE("any number of the tube that changes ends the signature and is named") {
  check_every_number<Survey>(tube_to_json(sample().tube), read_survey, "tube", with_tube, 100);
}

TEST_CASE("any number of the key layout that changes ends the signature and is named") {
  check_every_number<KeyLayout>(key_layout_to_json(sample().layout), read_keys, "key layout", with_layout,
                                100);
}

TEST_CASE("any number of the shop that changes ends the signature and is named") {
  check_every_number<Shop>(shop_to_json(sample().shop), read_bench, "shop", with_shop, 30);
}

TEST_CASE("white space, comments, notes and the order of keys leave a signature as it is") {
  Survey tube = sample().tube;
  tube.note = "another note";
  tube.date = "2026-04-01";
  tube.species = "another name";
  tube.verdict = Verdict::keep;
  tube.verdict_note = "because";
  tube.check_girths = {{100.0, 95.0, "2026-03-03"}};
  for (Blemish& blemish : tube.blemishes) blemish.note = "seen";
  CHECK(with_tube(tube).signed_off());
  std::string text = with_more_space(tube_to_json(sample().tube));
  const std::string id = "\"id\": \"" + sample().tube.id + "\"";
  const std::string material = "\"material\": \"bamboo\"";
  text = replaced(replaced(text, id, "/* first */ @"), material, id);
  text = replaced(text, "@", material);
  CHECK(with_tube(read_survey(text).value).signed_off());
  KeyLayout layout = sample().layout;
  layout.note = "another note";
  for (Key& key : layout.keys) key.note = "felt";
  CHECK(with_layout(layout).signed_off());
  Shop shop = sample().shop;
  shop.note = "another note";
  CHECK(with_shop(shop).signed_off());
}

TEST_CASE("words of what changed name the field, the old and the new value") {
  Survey tube = sample().tube;
  const std::size_t station = 1;
  REQUIRE(tube.stations.at(station).girth.has_value());
  tube.stations[station].girth = 111.25;
  tube.mass_g.reset();
  tube.nodes.pop_back();
  const SignMark mark = with_tube(tube);
  CHECK(sign_words(mark) == "DRAFT, no longer signed: tube changed");
  const Survey& was = sample().tube;
  const auto text = [](double value) { return to_one_line(JsonValue(value)); };
  CHECK(says(mark, "The tube changed: station at " + text(was.stations[station].at) + ", girth was " +
                       text(*was.stations[station].girth) + ", now 111.25."));
  CHECK(says(mark, "The tube changed: mass was " + text(*was.mass_g) + " g, now not given."));
  CHECK(says(mark, "The tube changed: node " + std::to_string(was.nodes.size()) + " was taken out."));
  KeyLayout layout = sample().layout;
  layout.keys.erase(layout.keys.begin());
  layout.playing_angle = Angle::from_degrees(30.0);
  const SignMark other = with_layout(layout);
  CHECK(says(other, "The key layout changed: key " + sample().layout.keys[0].id + " was taken out."));
  CHECK(says(other, "playing angle was 40°, now 30°."));
  KeyLayout swapped = sample().layout;
  std::swap(swapped.keys[0], swapped.keys[1]);
  CHECK(says(with_layout(swapped), "the keys stand in another order"));
}

TEST_CASE("a shop that comes or goes, and numbers edited without a new revision, end a signature") {
  Signed made;
  const SignMark without = sign_mark(made.placement, made.tube, made.layout, nullptr);
  CHECK(without.state == SignState::no_longer_signed);
  CHECK(says(without, "signed with a shop, which is not among the files given"));
  made.placement.facing.value = made.placement.facing.value + Angle::from_degrees(1.0);
  made.placement.mouth_cut_at.value += 0.5;
  const SignMark edited = made.mark();
  CHECK(edited.changed == std::vector<std::string>{"placement"});
  CHECK(says(edited, "The placement changed: mouth cut at was"));
  CHECK(says(edited, "facing was"));
  made.placement.revisions.push_back({2, "2026-03-05", "Another revision"});
  CHECK(made.mark().state == SignState::draft);
}

TEST_CASE("a signature is written and read back with all it holds, however the file is laid out") {
  const std::string text = placement_to_json(sample().placement);
  const Placement back = read_placement_text(text, "placement").value;
  CHECK(placement_to_json(back) == text);
  REQUIRE(back.signature() != nullptr);
  CHECK(back.signature()->by == "A. Maker");
  REQUIRE(back.signature()->accepted.size() == 1);
  CHECK(back.signature()->accepted[0].rule == "fibre-line");
  CHECK(back.signature()->accepted[0].ids == std::vector<std::string>{"R1", "R2"});
  CHECK(back.signature()->accepted[0].why == "the wall is thick there");
  CHECK(sign_mark(back, sample().tube, sample().layout, &sample().shop).signed_off());
  std::string squeezed;
  bool quoted = false;
  for (char c : text) {
    if (c == '"') quoted = !quoted;
    if (quoted || (c != ' ' && c != '\n')) squeezed += c;
  }
  CHECK(sign_mark(read_placement_text(squeezed, "placement").value, sample().tube, sample().layout,
                  &sample().shop)
            .signed_off());
}

TEST_CASE("kept values that were changed by hand are refused") {
  const std::string text = placement_to_json(sample().placement);
  const std::string length = "\"length\": " + to_one_line(JsonValue(sample().tube.length));
  const Problems problems =
      problems_of([&] { read_placement_text(replaced(text, length, "\"length\": 777"), "placement"); });
  REQUIRE(with_code(problems, "digest") != nullptr);
  CHECK(with_code(problems, "digest")->where.pointer == "/revisions/0/signature/tube");
  CHECK(problems.size() == 1);
  const std::string digest = sample().placement.signature()->shop->digest;
  const Problems shorter =
      problems_of([&] { read_placement_text(replaced(text, digest, digest.substr(1)), "placement"); });
  CHECK(with_code(shorter, "text") != nullptr);
}
