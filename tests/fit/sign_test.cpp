#include "fit/sign.hpp"

#include <catch2/catch.hpp>

#include "instruments.hpp"
#include "propose_cases.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

Finding failing(const std::string& rule, std::vector<std::string> ids, double value,
                Severity severity = Severity::hard) {
  Finding finding;
  finding.rule = rule;
  finding.severity = severity;
  finding.passes = false;
  finding.value = value;
  finding.limit = 5.0;
  finding.margin = value - 5.0;
  finding.ids = std::move(ids);
  finding.sentence = rule + " is broken.";
  return finding;
}

std::vector<std::string> codes_of(const std::function<void()>& work) {
  std::vector<std::string> codes;
  try {
    work();
  } catch (const InputError& error) {
    for (const Problem& problem : error.problems()) codes.push_back(problem.code);
  }
  return codes;
}

using Codes = std::vector<std::string>;

SignMark mark_of(SignState state, std::vector<Accepted> accepted = {}) {
  SignMark mark;
  mark.state = state;
  mark.by = "A. Maker";
  mark.accepted = std::move(accepted);
  return mark;
}

Signature signature_of(const char* by) {
  Signature signature;
  signature.by = by;
  signature.date = "2026-03-02";
  return signature;
}

}  // namespace

TEST_CASE("what is accepted is read from words: a rule, its keys, a colon, the reason") {
  const KeyLayout layout = tenor_of_17();
  const Accepted accepted = parse_accepted("web-along L1, L2:  thick wall: seen ", layout);
  CHECK(accepted.rule == "web-along");
  CHECK(accepted.ids == std::vector<std::string>{"L1", "L2"});
  CHECK(accepted.why == "thick wall: seen");
  CHECK(parse_accepted("fibre-line: straight grain", layout).ids.empty());
  const Finding finding = failing("web-along", {"L1", "L2"}, 4.0);
  const Accepted again = parse_accepted(words_of(finding, "because"), layout);
  CHECK(again.rule == finding.rule);
  CHECK(again.ids == finding.ids);
  const auto refused = [&](const char* words) { return codes_of([&] { parse_accepted(words, layout); }); };
  CHECK(refused("web-along L1 L2") == Codes{"accept-reason"});
  CHECK(refused("web-along L1 L2:  ") == Codes{"accept-reason"});
  CHECK(refused("web-along L1 L2: …") == Codes{"accept-reason"});  // the offered line as it stands
  CHECK(refused("web-alon L1: because") == Codes{"accept-rule"});
  CHECK(refused(": because") == Codes{"accept-rule"});
  CHECK(refused("web-along L99: because") == Codes{"accept-id"});
}

TEST_CASE("every finding that does not pass has to be accepted by itself or with its rule") {
  Finding passing = failing("end-distance", {"L1"}, 30.0);
  passing.passes = true;
  const std::vector<Finding> findings = {failing("web-along", {"L1", "L2"}, 4.0),
                                         failing("web-along", {"L2", "L3"}, 4.5), passing,
                                         failing("fibre-line", {"R1"}, 4.0, Severity::warning)};
  CHECK(not_accepted(findings, {}).size() == 3);
  const std::vector<Accepted> orders = {{"web-along", {}, "thick"}, {"web-along", {"L3", "L2"}, "thicker"}};
  const std::vector<Accepted> spelt = spelt_out(orders, findings);
  REQUIRE(spelt.size() == 2);
  CHECK(spelt[0].ids == std::vector<std::string>{"L1", "L2"});
  CHECK(spelt[0].why == "thick");
  CHECK(spelt[1].why == "thicker");
  const std::vector<Finding> left = not_accepted(findings, spelt);
  REQUIRE(left.size() == 1);
  CHECK(left[0].rule == "fibre-line");
  CHECK(codes_of([&] { spelt_out({{"web-around", {}, "why"}}, findings); }) == Codes{"accept-nothing"});
  CHECK(codes_of([&] { spelt_out({{"end-distance", {"L1"}, "why"}}, findings); }) == Codes{"accept-nothing"});
}

TEST_CASE("what cannot be made cannot be accepted") {
  const std::vector<Finding> impossible = {
      failing("web-along", {"L1", "L2"}, 0.39),     failing("web-around", {"L1", "L2"}, -1.0),
      failing("opening-web", {"L1", "hatch"}, 0.0), failing("end-distance", {"L1"}, -2.0),
      failing("touches-apart", {"L1", "L2"}, -0.1), failing("tube-moved", {}, 0.01)};
  for (const Finding& finding : impossible) {
    INFO(finding.rule);
    CHECK_FALSE(why_not_acceptable(finding).empty());
    CHECK(codes_of([&] {
            spelt_out({{finding.rule, finding.ids, "still"}}, {finding});
          }) == Codes{"cannot-accept"});
  }
  CHECK(why_not_acceptable(failing("web-along", {"L1", "L2"}, 0.41)).empty());
  CHECK(why_not_acceptable(failing("node-distance", {"L1"}, -3.0)).empty());
}

TEST_CASE("a broken rule is acceptable only under a signature that still holds and names it") {
  const std::vector<Finding> findings = {failing("web-along", {"L1", "L2"}, 4.0)};
  const std::vector<Accepted> accepted = {{"web-along", {"L1", "L2"}, "thick"}};
  CHECK(acceptable(findings, mark_of(SignState::signed_off, accepted)));
  CHECK_FALSE(acceptable(findings, mark_of(SignState::no_longer_signed, accepted)));
  CHECK_FALSE(acceptable(findings, mark_of(SignState::draft, accepted)));
  CHECK_FALSE(acceptable(findings, mark_of(SignState::signed_off, {{"web-along", {"L1", "L3"}, "no"}})));
  CHECK(acceptable({failing("fibre-line", {"R1"}, 4.0, Severity::warning)}, mark_of(SignState::draft)));
}

TEST_CASE("a draft's last revision takes the signature; a signed one is never touched again") {
  Placement placement;
  placement.id = "p";
  const Placement first = signed_off(placement, signature_of("A"), mark_of(SignState::draft));
  REQUIRE(first.revisions.size() == 1);
  CHECK(first.revisions[0].signature->by == "A");
  CHECK(codes_of([&] { signed_off(first, signature_of("B"), mark_of(SignState::signed_off)); }) ==
        Codes{"signed-already"});
  CHECK(codes_of([&] { signed_off(placement, signature_of(" "), SignMark{}); }) == Codes{"no-name"});
  SignMark changed = mark_of(SignState::no_longer_signed);
  changed.changed = {"tube", "shop"};
  const Placement again = signed_off(first, signature_of("B"), changed);
  REQUIRE(again.revisions.size() == 2);
  CHECK(again.revisions[0].signature->by == "A");
  CHECK(again.revisions[1].signature->by == "B");
  CHECK(again.revisions[1].number == 2);
  CHECK(again.revisions[1].date == "2026-03-02");
  CHECK(again.revisions[1].what == "Signed again: tube and shop changed");
  CHECK(again.revisions[1].before.has_value());
  CHECK(again.keys.empty());
}

TEST_CASE("the words of a mark say draft, signed off by whom and when, or what changed") {
  SignMark mark;
  CHECK(sign_words(mark) == "DRAFT");
  CHECK(sign_detail(mark).empty());
  mark = mark_of(SignState::signed_off);
  CHECK(sign_words(mark) == "SIGNED OFF by A. Maker");
  mark.date = "2026-03-02";
  CHECK(sign_words(mark) == "SIGNED OFF by A. Maker, 2026-03-02");
  mark.state = SignState::no_longer_signed;
  mark.changed = {"tube"};
  CHECK(sign_words(mark) == "DRAFT, no longer signed: tube changed");
  CHECK(sign_heading(mark) == "DRAFT");
}
