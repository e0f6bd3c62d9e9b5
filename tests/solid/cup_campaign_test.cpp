/// Cups of every kind, drawn at random: sound, or refused by name by the plan.
#include <catch2/catch.hpp>
#include <iostream>
#include <map>

#include "base/problem.hpp"
#include "outside/exact_mesh.hpp"
#include "plan/sample_cups.hpp"
#include "random_guides.hpp"
#include "solid/admesh.hpp"
#include "solid/cup_solid.hpp"
#include "stl.hpp"

using namespace culmwright;

namespace {

/// What a key layout may ask of such a cup, now and then.
CupShape random_shape(test::Draw& draw, CupKind kind, double hole) {
  const auto at_times = [&](int one_in) { return draw.below(one_in) == 0; };
  constexpr TouchSurface surfaces[] = {TouchSurface::dished, TouchSurface::domed, TouchSurface::flat};
  CupShape shape;
  if (kind == CupKind::touch_cap) {
    shape.surface = surfaces[draw.below(3)];
    shape.flush = at_times(4);
    if (!*shape.flush && at_times(3)) shape.rise = draw.between(1.0, 8.0);
    if (!*shape.flush && at_times(3)) {
      shape.tilt = Angle::from_degrees(draw.between(1.0, 15.0));
      shape.tilt_toward = Angle::from_degrees(draw.between(-180.0, 180.0));
    } else if (shape.surface != TouchSurface::domed && at_times(4)) {
      shape.wire_way = draw.between(1.0, 4.0);
    }
  }
  if (kind == CupKind::switch_seat && at_times(2)) {
    shape.recess =
        Recess{draw.between(3.0, 14.0), at_times(2) ? 0.0 : draw.between(3.0, 12.0), draw.between(1.0, 6.0)};
  }
  if (kind == CupKind::padded_cup) {
    shape.land = at_times(2) ? PadLand::facet : PadLand::saddle;
    shape.lugs = !at_times(3);
    shape.pad_thickness = draw.between(1.5, 4.5);
  }
  if (kind == CupKind::sleeve && at_times(2)) shape.bore = draw.between(0.3, 0.9) * hole;
  return shape;
}

PlacedKey random_key(test::Draw& draw, const Tube& tube, CupKind kind) {
  const double radius = 0.5 * tube.section(0.5 * tube.end_b_at()).width(Angle());
  const double hole = draw.between(5.0, 40.0);
  const double long_side = hole + draw.between(0.0, 12.0);
  const double wide = draw.below(2) == 0 ? long_side : hole + draw.between(-2.0, 8.0);
  const double corner = long_side == wide ? 0.5 * wide : draw.between(0.0, 0.5) * std::min(long_side, wide);
  const SkinPlace place{draw.between(0.05, 0.95) * tube.end_b_at(), draw.between(-pi, pi) * radius};
  PlacedKey key = samples::placed_key(tube, place, hole, kind, {long_side, wide, corner});
  key.key.id = "K" + std::to_string(draw.below(100));
  key.key.cup_shape = random_shape(draw, kind, hole);
  if (draw.below(3) == 0) {
    DrilledHole drilled;
    drilled.across_along = hole + draw.between(-0.1, 0.4);
    drilled.across_around = hole + draw.between(-0.1, 0.4);
    drilled.chip_out = draw.below(3) == 0 ? draw.between(0.2, 2.0) : 0.0;
    key.drilled = drilled;
  }
  return key;
}

struct Tally {
  int sound = 0, again = 0, refused = 0;
};

/// What the plan promises of any cup.
void check_promises(const CupPlan& plan, const PlacedKey& key) {
  if (plan.spigot_radius <= 0.0) return;
  const double narrowest = key.drilled ? key.drilled->least_across() : key.key.hole_diameter;
  CHECK(2.0 * plan.spigot_radius < narrowest);
  CHECK(plan.spigot_length <= plan.wall - cup_sizes::short_of_bore + 1e-9);
}

}  // namespace

TEST_CASE("random cups in holes of 5 to 40 on tubes of 12 to 120 are sound or refused by name") {
  constexpr CupKind kinds[] = {CupKind::switch_seat, CupKind::touch_cap, CupKind::padded_cup, CupKind::plug,
                               CupKind::sleeve};
  const unsigned seed = 20251107;
  INFO("seed " << seed);
  test::Draw draw(seed);
  constexpr int few = 60;
  const int jobs = test::long_jobs(few, 2000);
  std::map<std::string, Tally> tallies;
  int looked_at = 0;
  for (int i = 0; i < jobs; ++i) {
    const Tube tube = test::random_tube(draw);
    const CupKind kind = kinds[i % 5];
    // A few holes on each tube, for most large ones find no room on a thin one.
    const PlacedKey key = random_key(draw, tube, kind);
    INFO("job " << i << ": " << name_of(kind) << ", hole " << key.key.hole_diameter << " on "
                << tube.section(key.place.at).width(Angle()) << ", touch " << key.key.touch.length << " × "
                << key.key.touch.width << ", at " << key.place.at << ", " << key.place.around);
    Tally& tally = tallies[name_of(kind)];
    GateLog log;
    try {
      const CupPlan plan = plan_cup(tube, key, Shop{}, draw.below(2) == 0 ? End::a : End::b);
      check_promises(plan, key);
      const Mesh mesh = cup_solid(plan, tube, log).mesh(cup_accuracy);
      ++tally.sound;
      tally.again += log.size() > 1;
      CHECK(inspect(mesh).closed());
      if (tally.sound % 10 == 1) {
        ++looked_at;
        test::check_by_admesh(mesh, plan.part());
        CHECK(test::crossing_pairs(mesh) == 0);
      }
    } catch (const GeometryError& error) {
      ++tally.refused;
      const std::string why = error.what();
      INFO(why);
      // By the plan, in the maker's words; not by the gate.
      CHECK(why.find(": plan: ") != std::string::npos);
    }
  }
  for (const auto& [kind, tally] : tallies) {
    CHECK(tally.sound > 0);
    if (jobs <= few) continue;
    std::cout << kind << ": " << tally.sound << " sound (" << tally.again << " after another try), "
              << tally.refused << " refused by name\n";
  }
  if (jobs > few) std::cout << looked_at << " of them read by admesh and by exact arithmetic\n";
}
