#include "fit/propose.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

#include "fit/assemble.hpp"
#include "fit/shift.hpp"
#include "propose_cases.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

std::vector<Proposal> proposals(const Tube& tube, const KeyLayout& layout, const ProposeOptions& options = {},
                                const PieceFacts& facts = facts_of_culm()) {
  auto result = propose(tube, facts, layout, options);
  if (const Refusal* refusal = std::get_if<Refusal>(&result)) FAIL(refusal->sentence);
  return std::get<std::vector<Proposal>>(result);
}

Refusal refusal(const Tube& tube, const KeyLayout& layout, const ProposeOptions& options = {}) {
  auto result = propose(tube, facts_of_culm(), layout, options);
  REQUIRE(std::holds_alternative<Refusal>(result));
  return std::get<Refusal>(result);
}

bool says(const std::vector<std::string>& sentences, const std::string& words) {
  return std::any_of(sentences.begin(), sentences.end(),
                     [&](const std::string& s) { return s.find(words) != std::string::npos; });
}

double term(const Proposal& proposal, const std::string& name) {
  for (const ScoreTerm& t : proposal.terms) {
    if (t.name == name) return t.value;
  }
  FAIL("no term " + name);
  return 0.0;
}

PlacedId& key_in(Placement& placement, const std::string& id) {
  for (PlacedId& placed : placement.keys) {
    if (placed.id == id) return placed;
  }
  throw std::logic_error("no key " + id);
}

KeyLayout without_leeway(KeyLayout layout) {
  for (Key& key : layout.keys) key.leeway = {};
  for (Part& part : layout.parts) part.leeway = {};
  return layout;
}

/// The piece with ends exchanged: turned upside down about the reference line's side.
TubeShape upside_down(const TubeShape& shape) {
  TubeShape turned = shape;
  const double length = shape.end_b_at;
  std::vector<FourierAlong::Term> skin;
  skin.push_back({0,
                  straight(0, FourierAlong(shape.skin).section(length).mean(), length,
                           FourierAlong(shape.skin).section(0.0).mean()),
                  {}});
  const FourierSection middle = shape.skin.section(0.5 * length);
  for (const FourierTerm& t : middle.terms()) {
    if (t.order == 2) skin.push_back({2, constant(t.cosine.value), constant(-t.sine.value)});
  }
  turned.skin = FourierAlong(skin);
  turned.nodes.clear();
  for (auto node = shape.nodes.rbegin(); node != shape.nodes.rend(); ++node) {
    Node other = *node;
    other.at_line = length - node->at_line;
    other.at_far = length - node->at_far;
    turned.nodes.push_back(other);
  }
  for (Blemish& blemish : turned.blemishes) {
    blemish.place = {length - blemish.place.at, -blemish.place.around};
  }
  return turned;
}

/// Round, tapered, oval, with nodes, a blemish to avoid and one to hide; no bow.
TubeShape plain_culm(double length, double turned_degrees = 0.0) {
  TubeShape shape = round_tube(17.5, 18.5, length, 4.2);
  shape.id = "plain";
  shape.density = 0.7e-3;
  auto terms = shape.skin.terms();
  const Angle turn = Angle::from_degrees(2.0 * turned_degrees);
  terms.push_back({2, constant(0.25 * turn.cos()), constant(0.25 * turn.sin())});
  shape.skin = FourierAlong(terms);
  for (const double at : {0.21 * length, 0.62 * length}) {
    Node node;
    node.at_line = node.at_far = at;
    node.band = 9.0;
    shape.nodes.push_back(node);
  }
  return shape;
}

}  // namespace

TEST_CASE("every proposal keeps all rules, lists every key and part, and adds up") {
  const Tube tube = long_culm(600.0, 3);
  const KeyLayout layout = tenor_of_17();
  const auto found = proposals(tube, layout);
  REQUIRE(found.size() == 5);
  for (const Proposal& p : found) {
    CAPTURE(p.character);
    const Instrument instrument = assemble(tube, layout, p.placement);
    CHECK(acceptable(check(tube, layout, instrument)));
    CHECK(p.placement.keys.size() == layout.keys.size());
    CHECK(p.placement.parts.size() == layout.parts.size() - 1);  // the mouthpiece stands on the end
    double sum = 0.0;
    for (const ScoreTerm& t : p.terms) sum += t.points();
    CHECK(p.score == sum);
    for (const PlacedId& key : p.placement.keys) CHECK(key.at.origin == Origin::proposed);
    CHECK(p.placement.revisions.size() == 1);
    CHECK(p.placement.signature() == nullptr);
    // Independent of the program's own sum: shifts from the hand's places, from the instrument alone.
    double shifted = 0.0;
    for (const PlacedKey& key : instrument.keys) {
      const HandMark mark = key.key.hand == Hand::left ? *p.placement.left_mark : *p.placement.right_mark;
      const double along = key.along - mark.along - key.key.along;
      const double around = key.around - mark.around - key.key.around;
      CHECK(std::abs(along) <= key.key.leeway.along + 0.02);
      CHECK(std::abs(around) <= key.key.leeway.around + 0.02);
      shifted += along * along + around * around;
    }
    CHECK(term(p, "keys shifted from the hand's places") == Approx(shifted).margin(1e-9));
    CHECK(instrument.length() >= layout.least_length);
    CHECK(instrument.length() <= layout.greatest_length);
  }
  CHECK(std::is_sorted(found.begin(), found.end(),
                       [](const Proposal& a, const Proposal& b) { return a.score < b.score; }));
}

TEST_CASE("proposals of one end and the same internodes face more than 20 degrees apart") {
  const auto found = proposals(long_culm(600.0, 0), tenor_of_17());
  for (std::size_t i = 0; i < found.size(); ++i) {
    for (std::size_t j = i + 1; j < found.size(); ++j) {
      if (found[i].instrument.mouth_end != found[j].instrument.mouth_end) continue;
      const Angle apart = (found[i].instrument.facing - found[j].instrument.facing).normalized();
      CHECK(std::abs(apart.degrees()) > different_facing_degrees);
    }
  }
}

TEST_CASE("turning the piece turns the proposals and nothing else") {
  const KeyLayout layout = tenor_of_17();
  PieceFacts facts = facts_of_culm();
  ProposeOptions best;
  best.count = 1;
  const Proposal before = proposals(Tube(plain_culm(560.0)), layout, best, facts).front();
  facts.handsome = *facts.handsome + Angle::from_degrees(50.0);
  const Proposal after = proposals(Tube(plain_culm(560.0, 50.0)), layout, best, facts).front();
  CHECK(after.score == Approx(before.score).margin(0.02));
  CHECK((after.instrument.facing - before.instrument.facing).normalized().degrees() ==
        Approx(50.0).margin(1e-6));
  CHECK(after.instrument.mouth_cut_at == Approx(before.instrument.mouth_cut_at).margin(1e-9));
  CHECK(after.instrument.foot_cut_at == Approx(before.instrument.foot_cut_at).margin(1e-9));
}

TEST_CASE("exchanging the ends exchanges them in the proposals and mirrors nothing") {
  const KeyLayout layout = tenor_of_17();
  PieceFacts facts = facts_of_culm();
  ProposeOptions best;
  best.count = 1;
  const TubeShape shape = plain_culm(560.0);
  const Proposal before = proposals(Tube(shape), layout, best, facts).front();
  facts.butt = End::a;
  facts.handsome = -*facts.handsome;
  const Proposal after = proposals(Tube(upside_down(shape)), layout, best, facts).front();
  CHECK(before.instrument.mouth_end != after.instrument.mouth_end);
  CHECK(after.score == Approx(before.score).margin(0.05));
  CHECK((after.instrument.facing + before.instrument.facing).normalized().degrees() ==
        Approx(0.0).margin(1e-6));
  for (std::size_t i = 0; i < layout.keys.size(); ++i) {
    CHECK(after.instrument.keys[i].along == Approx(before.instrument.keys[i].along).margin(0.3));
    CHECK(after.instrument.keys[i].around == Approx(before.instrument.keys[i].around).margin(0.3));
  }
}

TEST_CASE("what is drilled stays and the rest is proposed around it") {
  const Tube tube = long_culm(600.0, 3);
  const KeyLayout layout = tenor_of_17();
  ProposeOptions options;
  options.count = 1;
  Placement placement = proposals(tube, layout, options).front().placement;
  const Placement planned = placement;
  key_in(placement, "L2").at.value += 4.0;  // the drill slipped
  key_in(placement, "L2").at.origin = Origin::drilled;
  key_in(placement, "L2").around.origin = Origin::drilled;
  options.placement = placement;
  const Proposal around = proposals(tube, layout, options).front();
  Placement result = around.placement;
  CHECK(key_in(result, "L2").at.value == key_in(placement, "L2").at.value);
  CHECK(key_in(result, "L2").at.origin == Origin::drilled);
  CHECK(result.mouth_end == planned.mouth_end);
  CHECK(result.facing.value == planned.facing.value);
  CHECK(acceptable(around.findings));
  REQUIRE(result.revisions.size() == 2);
  // The proposal can be taken back; the hole cannot.
  Placement back = undone(result, "");
  CHECK(key_in(back, "L2").at.value == key_in(placement, "L2").at.value);
  CHECK(key_in(back, "L3").at.value == key_in(placement, "L3").at.value);
}

TEST_CASE("drilled holes that break a rule among themselves are told, not refused") {
  const Tube tube = long_culm(600.0, 3);
  const KeyLayout layout = tenor_of_17();
  ProposeOptions options;
  options.count = 1;
  Placement placement = proposals(tube, layout, options).front().placement;
  for (const char* id : {"L2", "L3"}) key_in(placement, id).at.origin = Origin::drilled;
  key_in(placement, "L3").at.value = key_in(placement, "L2").at.value + 10.0;
  options.placement = placement;
  const Proposal found = proposals(tube, layout, options).front();
  CHECK(says(found.remarks, "Drilled or locked already: The web between L2 and L3"));
  for (const Finding& finding : found.findings) {
    if (finding.passes || finding.severity == Severity::warning) continue;
    CHECK(finding.ids == std::vector<std::string>{"L2", "L3"});
  }
}

TEST_CASE("a locked cut and a locked facing are kept") {
  const Tube tube = long_culm(600.0, 3);
  const KeyLayout layout = tenor_of_17();
  ProposeOptions options;
  options.count = 1;
  Placement placement = proposals(tube, layout, options).front().placement;
  placement.keys.clear();
  placement.parts.clear();
  placement.facing.value = Angle::from_degrees(-100.0);
  placement.facing.locked = true;
  placement.foot_cut_at.value = 500.0;
  placement.mouth_cut_at.value = 13.0;
  placement.foot_cut_at.locked = placement.mouth_cut_at.locked = true;
  options.placement = placement;
  const Proposal found = proposals(tube, layout, options).front();
  CHECK(found.instrument.facing.degrees() == Approx(-100.0));
  CHECK(found.instrument.mouth_cut_at == 13.0);
  CHECK(found.instrument.foot_cut_at == 500.0);
  CHECK(found.placement.foot_cut_at.locked);
}

TEST_CASE("a tube too short is refused with both lengths and what is lacking") {
  const Refusal found = refusal(long_culm(380.0, 2), tenor_of_17());
  CHECK(found.sentence ==
        "No placement: the tube is too short. It has 380.0 mm; the key layout needs 440.0 mm.");
  CHECK(says(found.relaxations, "60.0 mm"));
}

TEST_CASE("a node where a finger's key would fall is named, with the leeway that would do") {
  KeyLayout layout = tenor_of_17();
  layout.mark_leeway = 0.0;
  ProposeOptions options;
  options.mouth_end = End::a;
  options.mouth_cut_at = 0.0;
  options.foot_cut_at = 500.0;
  const Tube tube = long_culm(600.0, 4);
  const Refusal found = refusal(tube, layout, options);
  CHECK(found.sentence.find("R1 finds no place within its leeway") != std::string::npos);
  CHECK(says(found.demands, "Node 2 (at 240.0 mm) keeps it out of 22"));
  // R1 is wanted at 235 ± 5; the node closes 240 ± (4.5 + 5 + 4.5 + slant): it needs the leeway to reach out.
  CHECK(says(found.relaxations, "more leeway along, either way, for every key and part"));
  // The relaxation is enough.
  for (Key& key : layout.keys) key.leeway.along += 9.0;
  for (Part& part : layout.parts) part.leeway.along += 9.0;
  CHECK(std::holds_alternative<std::vector<Proposal>>(propose(tube, facts_of_culm(), layout, options)));
}

TEST_CASE("keys that stand too near each other without leeway are named, with the web they need") {
  KeyLayout layout = without_leeway(tenor_of_17());
  for (Key& key : layout.keys) {
    if (key.id == "L2") key.along = 14.0;  // 14 from L1, holes of 9: 5 apart, touches of 14 just meet
    if (key.id == "L2") key.touch = {10.0, 10.0, 5.0};
    if (key.id == "L1") key.touch = {10.0, 10.0, 5.0};
  }
  layout.limits.web_along = 7.0;
  const Refusal found = refusal(long_culm(600.0, 0), layout);
  // Rims of diameter 9, 4 apart around: √((9 + 7)² − 4²) = 15.49.
  CHECK(says(found.demands, "L1 and L2 must be 15.5 mm apart along"));
  CHECK(says(found.demands, "they need a web of 7.0 mm"));
  CHECK(says(found.relaxations, "Webs between holes smaller by"));
  CHECK(says(found.relaxations, "more leeway along"));
}

TEST_CASE("without any leeway a clear tube still takes the instrument, every key at its place") {
  const auto found = proposals(long_culm(600.0, 0), without_leeway(tenor_of_17()));
  for (const Proposal& p : found) {
    CHECK(term(p, "keys shifted from the hand's places") == Approx(0.0).margin(1e-3));
  }
}

TEST_CASE("a tube all blemish is refused with the blemish named") {
  TubeShape shape = long_culm(600.0, 0).shape();
  Blemish scorched;
  scorched.place = {300.0, 0.0};
  scorched.length = 600.0;
  scorched.width = 130.0;
  scorched.use = BlemishUse::avoid;
  scorched.note = "scorched";
  shape.blemishes.push_back(scorched);
  const Refusal found = refusal(Tube(shape), tenor_of_17());
  CHECK(says(found.demands, "scorched"));
}

TEST_CASE("a hole too wide for the tube is refused with the width that would do") {
  KeyLayout layout = tenor_of_17();
  layout.keys[1].hole_diameter = 24.0;
  const Refusal found = refusal(long_culm(600.0, 1), layout);
  CHECK(found.sentence.find("L2 (a hole of 24.0 mm) finds no place anywhere") != std::string::npos);
  CHECK(says(found.relaxations, "A hole of at most 21."));
}

TEST_CASE("a rule that no shift can mend is refused with its limit, in seconds") {
  KeyLayout layout = tenor_of_17();
  layout.limits.girth_lost = 0.10;
  ProposeFigures figures;
  ProposeOptions options;
  options.figures = &figures;
  const Refusal found = refusal(long_culm(600.0, 0), layout, options);
  CHECK(says(found.demands, "of the girth at one section"));
  CHECK(says(found.relaxations, "The limit of the rule “girth lost at one section” relaxed by"));
  CHECK(figures.checked <= 120);
}

TEST_CASE("one key is placed, and stands clear of the nodes") {
  KeyLayout layout;
  layout.id = "one";
  layout.left = {100.0, 0.0};
  layout.keys.push_back(placed_key("K", Hand::left, Finger::index, 0.0, 0.0, 8.0, {3.0, 3.0}));
  const auto found = proposals(long_culm(400.0, 2), layout);
  CHECK(found.front().score == Approx(0.0).margin(0.1));
  CHECK(found.front().character.find("the hand in the") != std::string::npos);
}

TEST_CASE("sixty keys are placed on a long culm") {
  KeyLayout layout;
  layout.id = "sixty";
  layout.left = {80.0, 0.0};
  layout.right = {460.0, 0.0};
  for (int i = 0; i < 60; ++i) {
    const bool right = i >= 30;
    const int j = i % 30;
    const Finger finger = j % 3 == 0 ? Finger::index : j % 3 == 1 ? Finger::side : Finger::thumb;
    Key key = placed_key((right ? "R" : "L") + std::to_string(j + 1), right ? Hand::right : Hand::left,
                         finger, 34.0 * (j / 3),
                         j % 3 == 0   ? 0.0
                         : j % 3 == 1 ? 30.0
                                      : -30.0,
                         7.0, {6.0, 3.0});
    key.touch = {12.0, 12.0, 6.0};
    layout.keys.push_back(key);
  }
  ProposeOptions options;
  options.count = 1;
  const auto found = proposals(long_culm(900.0, 3), layout, options);
  CHECK(found.front().instrument.keys.size() == 60);
  CHECK(says(found.front().remarks, "stand on one fibre line"));
}

TEST_CASE("the leeway around is used where along there is none") {
  // Two keys side by side, too near around; without leeway along they can only move apart around.
  KeyLayout layout;
  layout.id = "pair";
  layout.left = {100.0, 0.0};
  layout.keys.push_back(placed_key("A", Hand::left, Finger::index, 0.0, 0.0, 8.0, {0.0, 2.0}));
  layout.keys.push_back(placed_key("B", Hand::left, Finger::side, 0.0, 13.0, 8.0, {0.0, 2.0}));
  for (Key& key : layout.keys) key.touch = {8.0, 8.0, 4.0};
  const Tube tube = long_culm(400.0, 0);
  const auto found = proposals(tube, layout);
  const auto& keys = found.front().instrument.keys;
  // Rims of r = 4 on R ≈ 18 are 8.07 wide; the web around is 6: 14.07 between the middles.
  CHECK(keys[1].around - keys[0].around == Approx(14.07).margin(0.15));
  CHECK(keys[0].around == Approx(-0.53).margin(0.1));
  for (Key& key : layout.keys) key.leeway.around = 0.3;
  CHECK(std::holds_alternative<Refusal>(propose(tube, facts_of_culm(), layout)));
}

TEST_CASE("a placement of another tube is not taken as a start") {
  const Tube tube = long_culm(600.0, 3);
  ProposeOptions options;
  options.count = 1;
  options.placement = proposals(tube, tenor_of_17(), options).front().placement;
  options.placement->tube_id = "another";
  CHECK_THROWS_AS(propose(tube, facts_of_culm(), tenor_of_17(), options), InputError);
}
