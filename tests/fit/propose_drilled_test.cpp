#include "fit/propose_drilled.hpp"

#include <catch2/catch.hpp>

#include <random>

#include "fit/assemble.hpp"
#include "fit/compare.hpp"
#include "measure.hpp"
#include "propose_cases.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

constexpr double pilot = 3.0;

TubeFit measured(const Tube& truth) {
  Survey survey = bare_survey(truth);
  survey.material = Material::bamboo;
  survey.plates = SurveyPlates{16, 60.0};
  for (int i = 0; i <= 10; ++i) {
    const double at = 3.0 + (truth.length() - 6.0) * i / 10.0;
    bool on_node = false;
    for (const Node& node : truth.nodes()) on_node = on_node || std::abs(node.at() - at) < 12.0;
    if (!on_node) add_heights(survey, truth, at);
  }
  add_walls(survey, truth, {3.0, truth.length() - 3.0}, 8);
  return fit_survey(survey);
}

/// One good placement of the long layout, with holes drilled of it.
struct Slip {
  TubeFit fit = measured(long_culm(600.0, 3));
  KeyLayout layout = tenor_of_17();
  Placement placement;
  AsDrilled as_drilled;

  Slip() {
    ProposeOptions options;
    options.count = 1;
    auto found = propose(fit, layout, options);
    placement = std::get<std::vector<Proposal>>(found).front().placement;
    as_drilled.tube_id = placement.tube_id;
    as_drilled.placement_id = placement.id;
    as_drilled.revision = placement.revision();
  }
  void drill(const std::string& id, double along, double around, double wider,
             DrilledState state = DrilledState::finished) {
    DrilledHole hole;
    hole.id = id;
    hole.state = state;
    SkinPlace place;
    for (const PlacedKey& key : assemble(fit.tube(), layout, placement).keys) {
      if (key.key.id != id) continue;
      place = key.place;
      hole.across_along = hole.across_around = key.key.hole_diameter + wider;
    }
    hole.at = place.at + along;
    hole.around = place.around + around;
    as_drilled.holes.push_back(hole);
  }
  DrilledJob job() const { return with_drilled_facts(fit, layout, placement, as_drilled, pilot); }
  std::variant<std::vector<Proposal>, Refusal> proposed(int count = 2) const {
    ProposeOptions options;
    options.count = count;
    options.date = "2026-03-01";
    return propose_as_drilled(job(), layout, placement, as_drilled, pilot, options);
  }
};

const PlacedKey& key_of(const Instrument& instrument, const std::string& id) {
  for (const PlacedKey& key : instrument.keys) {
    if (key.key.id == id) return key;
  }
  throw std::logic_error("no key " + id);
}

}  // namespace

TEST_CASE("after a slip the rest is placed anew, and what is drilled does not move") {
  Slip slip;
  slip.drill("L1", 0.1, 0.0, 0.1);
  slip.drill("L2", 2.2, 0.3, 0.2);
  const auto found = slip.proposed();
  REQUIRE(std::holds_alternative<std::vector<Proposal>>(found));
  for (const Proposal& proposal : std::get<std::vector<Proposal>>(found)) {
    const Placement& made = proposal.placement;
    CHECK(made.revision() == slip.placement.revision() + 1);
    CHECK(made.mouth_end == slip.placement.mouth_end);
    CHECK(made.mouth_cut_at.value == slip.placement.mouth_cut_at.value);
    CHECK(made.foot_cut_at.value == slip.placement.foot_cut_at.value);
    CHECK(made.facing.value == slip.placement.facing.value);
    for (const DrilledHole& hole : slip.as_drilled.holes) {
      const PlacedKey& key = key_of(proposal.instrument, hole.id);
      CHECK(key.place.at == Approx(*hole.at).margin(6e-4));
      CHECK(key.place.around == Approx(*hole.around).margin(6e-4));
      CHECK(key.locked);
      CHECK(key.origin == Origin::drilled);
    }
    CHECK(acceptable(culmwright::check(slip.fit, slip.layout, proposal.instrument)));
    const Placement before = as_of(made, slip.placement.revision());
    CHECK(before.keys.size() == slip.placement.keys.size());
    CHECK(before.keys[0].at.value == slip.placement.keys[0].at.value);
    CHECK_FALSE(before.keys[0].at.locked);
  }
}

TEST_CASE("the tube of a placement with drilled holes is not cut anew") {
  Slip slip;
  slip.drill("L1", 0.0, 0.0, 0.0);
  slip.drill("L2", 2.0, 0.0, 0.0);
  ProposeOptions options;
  options.count = 3;
  options.date = "2026-03-01";
  // The placement alone, as it was written down, without the as-drilled document.
  options.placement =
      with_facts_written(slip.fit.tube(), slip.layout, slip.placement, slip.as_drilled, options.date);
  const auto found = propose(slip.fit, slip.layout, options);
  REQUIRE(std::holds_alternative<std::vector<Proposal>>(found));
  for (const Proposal& proposal : std::get<std::vector<Proposal>>(found)) {
    CHECK(proposal.placement.mouth_cut_at.value == slip.placement.mouth_cut_at.value);
    CHECK(proposal.placement.foot_cut_at.value == slip.placement.foot_cut_at.value);
  }
}

TEST_CASE("random facts never move, and everything else keeps clear of them") {
  const unsigned seed = 11;
  INFO("seed " << seed);
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> off(-1.5, 1.5);
  Slip whole;
  int placed = 0;
  for (int round = 0; round < 6; ++round) {
    Slip slip = whole;
    for (const Key& key : slip.layout.keys) {
      if (random() % 3 == 0) slip.drill(key.id, off(random), off(random), 0.2 * std::abs(off(random)));
    }
    DrilledHole extra;
    extra.id = "X";
    extra.state = DrilledState::extra;
    extra.across_along = extra.across_around = 3.0;
    extra.at = 0.5 * slip.fit.tube().length() + 20.0 * off(random);
    extra.around = 20.0 * off(random);
    slip.as_drilled.holes.push_back(extra);
    const auto found = slip.proposed(1);
    if (std::holds_alternative<Refusal>(found)) {
      CHECK_FALSE(std::get<Refusal>(found).relaxations.empty());
      continue;
    }
    ++placed;
    const Proposal& proposal = std::get<std::vector<Proposal>>(found).front();
    CHECK(proposal.instrument.extras.size() == 1);
    CHECK(proposal.instrument.keys.size() == slip.layout.keys.size());
    for (const PlacedId& listed : proposal.placement.keys) CHECK(listed.id != "X");
    for (const DrilledHole& hole : slip.as_drilled.holes) {
      if (hole.state == DrilledState::extra) continue;
      CHECK(key_of(proposal.instrument, hole.id).place.at == Approx(*hole.at).margin(6e-4));
      CHECK(key_of(proposal.instrument, hole.id).place.around == Approx(*hole.around).margin(6e-4));
    }
    for (const Finding& finding : proposal.findings) {
      if (finding.passes || finding.severity == Severity::warning) continue;
      for (const std::string& id : finding.ids) CHECK(is_drilled(proposal.instrument, id));
    }
  }
  CHECK(placed > 0);
}

TEST_CASE("where nothing goes around the facts, what would make room has been tried") {
  Slip slip;
  // A wide slip at the very place of R2, whose leeway is less than it would have to give way.
  const PlacedKey r2 = key_of(assemble(slip.fit.tube(), slip.layout, slip.placement), "R2");
  DrilledHole extra;
  extra.id = "SLIP";
  extra.state = DrilledState::extra;
  extra.across_along = extra.across_around = 8.0;
  extra.at = r2.place.at;
  extra.around = r2.place.around;
  slip.as_drilled.holes = {extra};
  slip.drill("R1", 0.0, 0.0, 0.0);
  slip.drill("R3", 0.0, 0.0, 0.0);
  const auto found = slip.proposed(1);
  REQUIRE(std::holds_alternative<Refusal>(found));
  const Refusal& refusal = std::get<Refusal>(found);
  CHECK(refusal.sentence.find("Around what is drilled") == 0);
  bool offers_plug = false;
  for (const std::string& offer : refusal.relaxations) {
    offers_plug = offers_plug || offer.find("Fill SLIP with a glued plug") == 0;
  }
  CHECK(offers_plug);
}
