#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "guide_samples.hpp"
#include "plan/cradle_facets.hpp"
#include "plan/cradle_plan.hpp"
#include "tube/mass.hpp"

using namespace culmwright;

namespace {

/// What a hole stands on: the outward normal of the plane on the table, in the tube's frame.
Vec3 stands_on(const CradleSet& set, const std::string& id, BoreAngle* bores) {
  const RigidMotion frame = set.frame(0.0);
  const auto has = [&](const BoreAngle& angle) {
    return std::find(angle.ids.begin(), angle.ids.end(), id) != angle.ids.end();
  };
  for (const CradleFacet& facet : set.facets) {
    if (!has(facet.bores)) continue;
    *bores = facet.bores;
    const Vec2 along = unit(facet.to - facet.from);
    return frame.turn({along.y, -along.x, 0.0});
  }
  for (const CradleWedge& wedge : set.wedges) {
    if (!has(wedge.bores)) continue;
    *bores = wedge.bores;
    const CradleFacet& facet = set.facets.at(wedge.facet);
    const Vec2 x = unit(facet.to - facet.from);
    const Vec2 y{-x.y, x.x};  // out of the table: against the facet's outward normal
    const std::vector<Vec2> outline = profile(wedge);
    const Vec2 low = unit(outline[3] - outline[2]);
    const Vec2 along = x * low.x + y * low.y;
    return frame.turn({along.y, -along.x, 0.0});
  }
  return {};
}

double degrees_between(Vec3 a, Vec3 b) {
  return std::atan2(length(cross(a, b)), dot(a, b)) * 180.0 / pi;
}

/// The directions of the demo's kind of instrument: a row in front, sideways ones, a thumb behind.
Instrument spread_instrument(const Tube& tube, std::mt19937& generator) {
  Instrument instrument = test::instrument_on(tube);
  std::uniform_real_distribution<double> front(-0.16, 0.16), anywhere(-0.5, 0.5), along(0.22, 0.8);
  const double girth = tube.girth(0.5 * tube.length());
  for (int i = 0; i < 9; ++i) {
    const double around = (i < 6 ? front(generator) : anywhere(generator)) * girth;
    instrument.keys.push_back(
        test::placed(tube, "K" + std::to_string(i + 1), {along(generator) * tube.length(), around}, 8.0));
  }
  return instrument;
}

}  // namespace

TEST_CASE("every bore stands upright on its facet or wedge") {
  std::mt19937 generator(5);
  const Tube tube{test::culm(460.0)};
  for (int round = 0; round < 12; ++round) {
    const Instrument instrument = spread_instrument(tube, generator);
    const std::vector<CradleSet> sets = plan_cradles(tube, instrument, Shop{});
    for (const PlacedKey& key : instrument.keys) {
      int found = 0;
      for (const CradleSet& set : sets) {
        BoreAngle bores;
        const Vec3 down = stands_on(set, key.key.id, &bores);
        if (bores.ids.empty()) continue;
        ++found;
        const double off = degrees_between(-down, key.drilling.axis);
        INFO("round " << round << ", " << key.key.id);
        CHECK(off <= bores.off.degrees() + 1e-7);
        CHECK(off <= 0.5 * cradle_sizes::same_facet_deg + 1e-7);
        if (bores.ids.size() == 1) CHECK(off < 1e-6);
      }
      CHECK(found == 1);
    }
  }
}

TEST_CASE("a cradle bears on the skin by its pads at zero offset, and nowhere else") {
  const Tube tube{test::culm(460.0)};
  for (const CradleSet& set : plan_cradles(tube, test::twenty_holes(tube), Shop{})) {
    for (const CradleBody& body : set.bodies) {
      if (!body.notes.empty()) continue;  // relieved: tested on its own
      for (const double at : {body.at.from, body.at.middle(), body.at.to}) {
        for (const double deg : {-53.0, -42.0, -31.0, 31.0, 42.0, 53.0}) {
          const Vec3 p = body.inner.point(body.inner.middle() + deg * pi / 180.0, at);
          CHECK(std::abs(tube.outside(p)) < 0.02);
        }
        for (const double deg : {-20.0, 0.0, 20.0}) {
          const Vec3 p = body.inner.point(body.inner.middle() + deg * pi / 180.0, at);
          CHECK(tube.outside(p) > 0.45);
        }
      }
    }
  }
}

TEST_CASE("a cradle hugs less than half the tube, so that it lifts out") {
  const Tube tube{test::culm(460.0)};
  for (const CradleSet& set : plan_cradles(tube, test::twenty_holes(tube), Shop{})) {
    for (const CradleBody& body : set.bodies) {
      for (const double at : {body.at.from, body.at.to}) {
        const Section section = body.inner.base().section(at);
        // The channel grows wider all the way up to the lands: nothing holds the tube back.
        double widest = 0.0;
        for (double deg = -58.0; deg <= 58.0; deg += 2.0) {
          const Vec3 p = body.inner.jet(section, body.inner.middle() + deg * pi / 180.0).point;
          const Vec3 q = set.frame(at).inverse().apply(p);
          if (deg > 40.0) CHECK(std::abs(q.x) >= widest - 0.3);
          if (deg > 40.0) widest = std::max(widest, std::abs(q.x));
          CHECK(q.y < 0.0);
        }
      }
      CHECK(body.land < 0.0);
    }
  }
}

TEST_CASE("tube and cradles stand on every facet and wedge with weight and thrust inside its edges") {
  std::mt19937 generator(6);
  const Tube tube{test::culm(460.0)};
  for (int round = 0; round < 8; ++round) {
    const Instrument instrument = spread_instrument(tube, generator);
    const WallMoments moments = wall_moments(tube);
    for (const CradleSet& set : plan_cradles(tube, instrument, Shop{})) {
      std::vector<BoreAngle> all;
      for (const CradleFacet& facet : set.facets) all.push_back(facet.bores);
      for (const CradleWedge& wedge : set.wedges) all.push_back(wedge.bores);
      for (const BoreAngle& bores : all) {
        const Standing stands = standing(set, tube, instrument, Shop{}, bores);
        CHECK(stands.weight_margin >= cradle_sizes::stands_by);
        CHECK(stands.thrust_margin >= cradle_sizes::stands_by);
      }
      const double weight = moments.at / moments.volume;
      CHECK(set.bodies[0].at.middle() < weight);
      CHECK(set.bodies[1].at.middle() > weight);
      for (const CradleFacet& facet : set.facets) CHECK(length(facet.to - facet.from) > 11.9);
    }
  }
}

TEST_CASE("facets of one set touch the same circle, and the foot is convex under the tunnel") {
  std::mt19937 generator(7);
  const Tube tube{test::culm(460.0)};
  for (int round = 0; round < 8; ++round) {
    for (const CradleSet& set : plan_cradles(tube, spread_instrument(tube, generator), Shop{})) {
      for (const CradleFacet& facet : set.facets) {
        const Vec2 along = unit(facet.to - facet.from);
        CHECK(std::abs(cross(facet.from, along)) == Approx(set.foot).margin(1e-9));
        CHECK(facet.from.y < set.tunnel.from);
        CHECK(facet.to.y < set.tunnel.from);
      }
      for (const CradleBody& body : set.bodies) {
        const std::vector<Vec2> outline = set.profile(body);
        for (std::size_t i = 0; i < outline.size(); ++i) {
          const Vec2 a = outline[i];
          const Vec2 b = outline[(i + 1) % outline.size()];
          const Vec2 c = outline[(i + 2) % outline.size()];
          CHECK(cross(b - a, c - b) > 0.0);
        }
      }
    }
  }
}

TEST_CASE("bores that point alike share a facet; others get one of their own or a wedge") {
  const Tube tube{test::round_tube(16.0, 16.0, 400.0, 4.0)};
  Instrument instrument = test::instrument_on(tube);
  const auto at_degrees = [&](const std::string& id, double at, double degrees) {
    instrument.keys.push_back(test::placed(tube, id, {at, 16.0 * degrees * pi / 180.0}, 8.0));
  };
  at_degrees("A", 120.0, 0.0);
  at_degrees("B", 150.0, 0.1);
  at_degrees("C", 180.0, 3.0);
  at_degrees("D", 210.0, 30.0);
  at_degrees("E", 240.0, 180.0);
  const std::vector<CradleSet> sets = plan_cradles(tube, instrument, Shop{});
  REQUIRE(sets.size() == 2);
  const CradleSet& front = sets[0].facets.size() > 1 ? sets[0] : sets[1];
  REQUIRE(front.facets.size() == 2);
  REQUIRE(front.wedges.size() == 1);
  const bool c_on_wedge = front.wedges[0].bores.ids == std::vector<std::string>{"C"};
  CHECK(c_on_wedge);
  CHECK(front.wedges[0].lean.degrees() == Approx(2.95).margin(1e-6));
  // 36 wide, the wedge rises by 36 tan 2.95° = 1.855.
  const std::vector<Vec2> outline = profile(front.wedges[0]);
  CHECK(std::abs(outline[2].y - outline[3].y) == Approx(1.855).margin(0.001));
}

TEST_CASE("cradles stand clear of ridges, holes and openings where there is room") {
  const Tube tube{test::culm(460.0)};
  const Instrument instrument = test::twenty_holes(tube);
  for (const CradleSet& set : plan_cradles(tube, instrument, Shop{})) {
    for (const CradleBody& body : set.bodies) {
      for (const Node& node : tube.nodes()) {
        const bool clear = body.at.to < node.at() - 5.3 || body.at.from > node.at() + 5.3;
        CHECK((clear || !body.notes.empty()));
      }
    }
  }
}

TEST_CASE("over a ridge that it cannot avoid a cradle is relieved and bears beside it") {
  TubeShape shape = test::culm(200.0);
  shape.nodes.clear();
  for (double at = 25.0; at < 200.0; at += 30.0) {
    Node node;
    node.at_line = node.at_far = at;
    node.band = 8.0;
    node.ridge_height = 0.8;
    shape.nodes.push_back(node);
  }
  const Tube tube{shape};
  Instrument instrument = test::instrument_on(tube);
  instrument.keys.push_back(test::placed(tube, "K", {100.0, 0.0}, 8.0));
  const std::vector<CradleSet> sets = plan_cradles(tube, instrument, Shop{});
  REQUIRE(sets.size() == 1);
  for (const CradleBody& body : sets[0].bodies) {
    CHECK_FALSE(body.notes.empty());
    double least = 1e300;
    for (double at = body.at.from; at <= body.at.to; at += 0.5) {
      for (double deg = -58.0; deg <= 58.0; deg += 2.0)
        least = std::min(least, tube.outside(body.inner.point(body.inner.middle() + deg * pi / 180.0, at)));
    }
    CHECK(least == Approx(0.0).margin(0.02));
  }
}

TEST_CASE("a tube without room for two cradles is refused by name") {
  const Tube tube{test::round_tube(12.0, 12.0, 60.0, 3.0)};
  Instrument instrument = test::instrument_on(tube);
  instrument.keys.push_back(test::placed(tube, "K", {30.0, 0.0}, 6.0));
  try {
    plan_cradles(tube, instrument, Shop{});
    FAIL("planned all the same");
  } catch (const GeometryError& error) {
    CHECK(std::string(error.what()).find("cradle set 1") != std::string::npos);
  }
}
