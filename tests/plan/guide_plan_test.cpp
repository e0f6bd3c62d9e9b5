#include "plan/guide_plan.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <set>

#include "base/numeric.hpp"
#include "base/problem.hpp"
#include "guide_samples.hpp"
#include "plan/guide_parts.hpp"

using namespace culmwright;

namespace {

struct Sample {
  Tube tube;
  Instrument instrument;
  std::vector<GuidePlan> plans;
};

Sample culm_sample(double length = 500.0) {
  const Tube tube{test::culm(length)};
  const Instrument instrument = test::twenty_holes(tube);
  return {tube, instrument, plan_guides(tube, instrument, Shop{})};
}

/// A plan without pads, reliefs, grooves or letters on a straight round tube: everything in closed form.
GuidePlan plain_plan(double inner_radius, double outer_radius, double foot, double length) {
  const Tube tube{test::round_tube(inner_radius, inner_radius, 300.0, 3.0)};
  OffsetField field;
  const GuideFace inner(tube, 0.0, field);
  field.level = outer_radius - inner_radius;
  return {"plain",
          "round",
          1,
          inner,
          GuideFace(tube, 0.0, field),
          {100.0, 100.0 + length},
          {{foot, 0.0, -100.0}, {1.0, 0.0, 0.0}},
          {},
          {},
          {},
          StopKind::sighting_only,
          {},
          {},
          {},
          {},
          {}};
}

/// Of a circle beyond a chord at that distance from its centre.
double segment_area(double radius, double chord) {
  return radius * radius * std::acos(chord / radius) - chord * std::sqrt(radius * radius - chord * chord);
}

const FaceExpectation& face_named(const Expectation& expected, const std::string& name) {
  const auto found = std::find_if(expected.faces.begin(), expected.faces.end(),
                                  [&](const FaceExpectation& face) { return face.name == name; });
  REQUIRE(found != expected.faces.end());
  return *found;
}

}  // namespace

TEST_CASE("every hole of the instrument is in exactly one guide") {
  const Sample sample = culm_sample();
  std::multiset<std::string> planned;
  std::multiset<std::string> wanted;
  for (const GuidePlan& plan : sample.plans) {
    for (const GuideHole& hole : plan.holes) planned.insert(hole.id);
  }
  for (const PlacedKey& key : sample.instrument.keys) wanted.insert(key.key.id);
  CHECK(planned == wanted);
}

TEST_CASE("a guide spans at most 170 degrees of normal angle and its pads lie inside that") {
  for (const GuidePlan& plan : culm_sample().plans) {
    for (double at = plan.at.from; at <= plan.at.to; at += 1.0) {
      const double low = plan.foot_theta(plan.inner, -1, at);
      const double high = plan.foot_theta(plan.inner, 1, at);
      CHECK((high - low) * 180.0 / pi <= 170.0);
      const Vec3 foot = plan.inner.point(high, at);
      CHECK(std::abs(dot(foot - plan.foot.point, plan.foot.up)) < 1e-9);
      const bool beside_pad =
          std::any_of(plan.pads.begin(), plan.pads.end(), [&](const Span& pad) { return pad.contains(at); });
      if (beside_pad) CHECK(high - plan.middle() > 66.0 * pi / 180.0);
    }
  }
}

TEST_CASE("pads lie on the skin and nothing else of a guide touches it") {
  const Sample sample = culm_sample();
  for (const GuidePlan& plan : sample.plans) {
    REQUIRE(plan.pads.size() == 2);
    for (const Span& pad : plan.pads) {
      for (const double side : {-1.0, 1.0}) {
        for (double off = -9.0; off <= 9.0; off += 3.0) {
          const double theta = plan.middle() + (side * 55.0 + off) * pi / 180.0;
          for (double at = pad.from; at <= pad.to; at += 2.5) {
            CHECK(sample.tube.outside(plan.inner.point(theta, at)) == Approx(0.0).margin(1e-9));
          }
        }
      }
    }
    // Against the full skin, ridges included; over the tube, not past its end.
    const double from = std::max(plan.at.from, sample.tube.end_a_at());
    for (double at = from; at <= plan.at.to; at += 0.9) {
      for (double degrees = -80.0; degrees <= 80.0; degrees += 4.0) {
        const Vec3 p = plan.inner.point(plan.middle() + degrees * pi / 180.0, at);
        CHECK(sample.tube.section(at).outside({p.x, p.y}) > -1e-9);
      }
    }
  }
}

TEST_CASE("a guide clears the crest of every ridge by 0.8 and stands clear of it all around") {
  const Sample sample = culm_sample();
  for (const GuidePlan& plan : sample.plans) {
    for (const Node& node : sample.tube.nodes()) {
      for (double at = node.at() - 6.0; at <= node.at() + 6.0; at += 0.25) {
        if (!plan.at.contains(at)) continue;
        for (double degrees = -80.0; degrees <= 80.0; degrees += 8.0) {
          const Vec3 p = plan.inner.point(plan.middle() + degrees * pi / 180.0, at);
          CHECK(sample.tube.section(at).outside({p.x, p.y}) >= guide_sizes::ridge_clearance - 1e-6);
        }
      }
      for (const Span& pad : plan.pads) CHECK((pad.from > node.at() + 5.0 || pad.to < node.at() - 5.0));
    }
  }
}

TEST_CASE("no wall of a guide is thinner than 1.2, and its crown is as thick as the shop wants") {
  const Shop shop;
  for (const GuidePlan& plan : culm_sample().plans) {
    for (double at = plan.at.from; at <= plan.at.to; at += 0.7) {
      const double crown =
          plan.outer.field()(plan.middle(), at).value - plan.inner.field()(plan.middle(), at).value;
      const bool strap = std::any_of(plan.straps.begin(), plan.straps.end(),
                                     [&](const Span& s) { return at > s.from - 3.0 && at < s.to + 3.0; });
      CHECK(crown >= (strap ? shop.saddle_wall - guide_sizes::strap_groove : shop.saddle_wall) - 1e-9);
      CHECK(crown - guide_sizes::engraving >= guide_sizes::least_wall);
    }
  }
}

TEST_CASE("bosses of one guide keep their web, stand within the saddle and above it") {
  for (const GuidePlan& plan : culm_sample().plans) {
    for (std::size_t i = 0; i < plan.holes.size(); ++i) {
      const GuideHole& hole = plan.holes[i];
      CHECK(hole.boss_radius == Approx(hole.bore_radius + 3.0));
      for (std::size_t j = 0; j < i; ++j) {
        // Axes sampled densely from the saddle's face to the tops.
        double least = 1e300;
        for (double s = 4.0; s <= hole.top; s += 0.1) {
          for (double t = 4.0; t <= plan.holes[j].top; t += 0.1) {
            const Vec3 a = hole.drilling.point + hole.drilling.axis * s;
            const Vec3 b = plan.holes[j].drilling.point + plan.holes[j].drilling.axis * t;
            least = std::min(least, length(a - b));
          }
        }
        CHECK(least - hole.boss_radius - plan.holes[j].boss_radius >= guide_sizes::boss_web - 1e-6);
      }
      const RigidMotion frame = rim_frame(hole.drilling);
      for (int k = 0; k < 16; ++k) {
        const Vec2 aim = direction(Angle::from_degrees(22.5 * k)) * hole.boss_radius;
        const GuideFace::Meeting foot = plan.outer.meet(frame, aim);
        CHECK(foot.height < hole.top);
        CHECK(plan.at.contains(foot.at));
        CHECK(foot.theta < plan.foot_theta(plan.outer, 1, foot.at));
        CHECK(foot.theta > plan.foot_theta(plan.outer, -1, foot.at));
      }
    }
  }
}

TEST_CASE("holes too near for two bosses go into different guides") {
  const Tube tube{test::round_tube(16.0, 16.0, 200.0, 4.0)};
  Instrument instrument = test::instrument_on(tube);
  for (int i = 0; i < 4; ++i) {
    instrument.keys.push_back(test::placed(tube, "K" + std::to_string(i), {60.0 + 11.0 * i, 0.0}, 5.0));
  }
  const auto plans = plan_guides(tube, instrument, Shop{});
  REQUIRE(plans.size() == 2);
  CHECK(plans[0].holes.size() == 2);
  CHECK(plans[1].holes.size() == 2);
  CHECK(plans[0].holes[1].id == "K2");
}

TEST_CASE("a stop touches the end on the reference line, beyond it only air") {
  const Tube tube{test::culm()};
  Instrument instrument = test::instrument_on(tube);
  instrument.keys.push_back(test::placed(tube, "L1", {45.0, 3.0}, 9.0));
  instrument.keys.push_back(test::placed(tube, "L2", {66.0, -3.0}, 9.0));
  const auto plans = plan_guides(tube, instrument, Shop{});
  REQUIRE(plans.size() == 1);
  const GuidePlan& plan = plans[0];
  CHECK(plan.stop == StopKind::end_on_line);
  REQUIRE(plan.post);
  const StopPost& post = *plan.post;
  // The point it touches lies on the reference line: half plane y = 0, x > 0, at end A.
  CHECK(post.touches.y == Approx(0.0).margin(1e-9));
  CHECK(post.touches.x > 0.0);
  CHECK(-post.touches.z == Approx(tube.end_a_at()).margin(1e-9));
  CHECK(std::abs(tube.outside(post.touches)) < 1e-9);
  // The post is tangent to the end's plane from outside, and reaches from the saddle into the foot plane.
  CHECK(-post.axis_point.z + post.radius == Approx(tube.end_a_at()).margin(1e-9));
  CHECK(post.foot < -5.0);
  const Vec3 foot = post.axis_point + post.up * post.foot;
  CHECK(dot(foot - plan.foot.point, plan.foot.up) == Approx(0.0).margin(0.1));
}

TEST_CASE("a stop at the foot end stands beyond the cut, and a cut that is still to be made is said") {
  const Tube tube{test::round_tube(16.0, 16.0, 300.0, 4.0)};
  Instrument instrument = test::instrument_on(tube);
  instrument.foot_cut_at = 290.0;
  instrument.keys.push_back(test::placed(tube, "R1", {250.0, 0.0}, 9.0));
  const GuidePlan plan = plan_guides(tube, instrument, Shop{}).at(0);
  REQUIRE(plan.post);
  CHECK(plan.post->end == End::b);
  CHECK(-plan.post->axis_point.z - plan.post->radius == Approx(290.0).margin(1e-9));
  CHECK(plan.at.to > 290.0 + 2.0 * plan.post->radius + 1.0);
  CHECK(std::any_of(plan.notes.begin(), plan.notes.end(), [](const std::string& note) {
    return note.find("cut it to length first") != std::string::npos;
  }));
}

TEST_CASE("an end sawn out of square moves the stop by what the survey says") {
  TubeShape shape = test::round_tube(16.0, 16.0, 300.0, 4.0);
  shape.tilt_a = EndTilt{Angle::from_degrees(2.0), Angle()};
  const Tube tube{shape};
  Instrument instrument = test::instrument_on(tube);
  instrument.keys.push_back(test::placed(tube, "L1", {45.0, 0.0}, 9.0));
  const auto plans = plan_guides(tube, instrument, Shop{});
  REQUIRE(plans.at(0).post);
  // Lowest toward the reference line: the tube there is longer by 16 tan 2°.
  CHECK(-plans[0].post->touches.z == Approx(-16.0 * std::tan(2.0 * pi / 180.0)).margin(1e-9));
}

TEST_CASE("holes too near for one guide are drilled through a second one, pegged into two of the first") {
  // Both ends are far away: windows and pilot holes are all there is to set by.
  const Tube tube{test::round_tube(16.0, 16.0, 500.0, 4.0)};
  Instrument instrument = test::instrument_on(tube);
  for (int i = 0; i < 4; ++i) {
    const SkinPlace place{230.0 + 10.0 * i, i % 2 == 0 ? 4.0 : -4.0};
    instrument.keys.push_back(test::placed(tube, "K" + std::to_string(i), place, 5.0));
  }
  Shop shop;
  shop.boss_wall = 4.0;
  const auto plans = plan_guides(tube, instrument, shop);
  REQUIRE(plans.size() >= 2);
  for (std::size_t i = 1; i < plans.size(); ++i) {
    const GuidePlan& plan = plans[i];
    CHECK(plan.number == static_cast<int>(i) + 1);
    CHECK(plan.stop == StopKind::pegs);
    CHECK_FALSE(plan.post);
    REQUIRE(plan.pegs.size() == 2);
    CHECK(std::find(plan.after.begin(), plan.after.end(), "guide 1") != plan.after.end());
    for (const GuidePeg& peg : plan.pegs) {
      const auto earlier = std::find_if(instrument.keys.begin(), instrument.keys.end(),
                                        [&](const PlacedKey& key) { return key.key.id == peg.id; });
      REQUIRE(earlier != instrument.keys.end());
      // On the very axis of the hole, its bore the pilot's with the fit and what the printer takes away.
      CHECK(length(earlier->drilling.point - peg.drilling.point) == 0.0);
      CHECK(2.0 * peg.bore_radius == Approx(3.0 + 2.0 * shop.fits.peg + shop.printer.hole_undersize));
      CHECK(plan.at.contains(-peg.drilling.point.z));
    }
  }
}

TEST_CASE("sighting windows have their corners on the line they are named after, far apart") {
  const Sample sample = culm_sample();
  for (const GuidePlan& plan : sample.plans) {
    REQUIRE(plan.sighting_line);
    REQUIRE(plan.sights.size() == 2);
    CHECK(plan.sights[1].near_corner.at - plan.sights[0].near_corner.at > 40.0);
    for (const SightingWindow& sight : plan.sights) {
      for (const int corner : {0, 2}) {
        const Vec3 p = plan.inner.point(sight.corners[corner].x, sight.corners[corner].y);
        const Section section = sample.tube.section(sight.corners[corner].y);
        const Angle line = section.theta_on_half_plane(plan.sighting_line->facing);
        const Vec2 on_skin = section.point(line);
        // Seen square to the skin, the corner covers the point of the line.
        CHECK(std::abs(cross(Vec2{p.x, p.y} - on_skin, direction(line))) < 1e-6);
      }
    }
  }
}

TEST_CASE("turning tube and holes about the tube's axis turns the guides and changes nothing else") {
  const auto build = [](double degrees) {
    TubeShape shape = test::round_tube(15.0, 17.0, 300.0, 4.0);
    const Tube tube{shape};
    Instrument instrument = test::instrument_on(tube);
    instrument.facing = Angle::from_degrees(degrees);
    for (int i = 0; i < 4; ++i) {
      const double at = 45.0 + 25.0 * i;
      const double around = tube.section(at).arc(Angle(), Angle::from_degrees(degrees + 6.0 * i));
      instrument.keys.push_back(test::placed(tube, "K" + std::to_string(i), {at, around}, 9.0));
    }
    return plan_guides(tube, instrument, Shop{});
  };
  const auto straight = build(0.0);
  const auto turned = build(20.0);
  REQUIRE(straight.size() == 1);
  REQUIRE(turned.size() == 1);
  CHECK((turned[0].middle() - straight[0].middle()) * 180.0 / pi == Approx(20.0).margin(1e-6));
  CHECK(turned[0].at.to == Approx(straight[0].at.to).margin(1e-6));
  CHECK(turned[0].foot.up.z == Approx(straight[0].foot.up.z).margin(1e-9));
}

TEST_CASE("the same instrument gives the same plan") {
  const Sample first = culm_sample();
  const Sample second = culm_sample();
  REQUIRE(first.plans.size() == second.plans.size());
  for (std::size_t i = 0; i < first.plans.size(); ++i) {
    CHECK(first.plans[i].at.from == second.plans[i].at.from);
    CHECK(first.plans[i].texts.size() == second.plans[i].texts.size());
    CHECK(expectation_of(first.plans[i]).volume == expectation_of(second.plans[i]).volume);
  }
}

TEST_CASE("a guide says what it is, is read from mouth to foot, and its writing keeps clear of its bosses") {
  const Sample sample = culm_sample();
  for (const GuidePlan& plan : sample.plans) {
    std::set<std::string> texts;
    for (const EngravedText& text : plan.texts) {
      texts.insert(text.text);
      for (const EngravedStroke& stroke : text.strokes) {
        for (const Vec2& c : stroke.corners) {
          const Vec3 p = plan.outer.point(c.x, c.y);
          for (const GuideHole& hole : plan.holes) {
            const Vec3 q = rim_frame(hole.drilling).inverse().apply(p);
            CHECK(std::hypot(q.x, q.y) > hole.boss_radius + 0.6);
          }
          for (const Span& strap : plan.straps) CHECK_FALSE(strap.contains(c.y));
        }
      }
    }
    CHECK(texts.count("< MOUTH") == 1);
    CHECK(texts.count("culm") == 1);
    CHECK(texts.count(plan.sighting_line->engraved) == 1);
    CHECK(texts.count("REV 3") == 1);
    CHECK(texts.count("DRAFT") == 1);
    CHECK((texts.count("FRONT") == 1 || texts.count("BACK") == 1 || texts.count("PLAYER'S LEFT") == 1 ||
           texts.count("PLAYER'S RIGHT") == 1));
    // What found no room is said.
    for (const GuideHole& hole : plan.holes) {
      const bool said = std::any_of(plan.notes.begin(), plan.notes.end(), [&](const std::string& note) {
        return note.find(" " + hole.id) != std::string::npos && note.find("engrave") != std::string::npos;
      });
      CHECK((texts.count(hole.id) == 1) != said);
    }
  }
}

TEST_CASE("a signed revision is engraved without DRAFT, and the foot end as mouth turns the writing over") {
  const Tube tube{test::round_tube(16.0, 16.0, 140.0, 4.0)};
  Instrument instrument = test::three_in_a_row(tube);
  instrument.sign.state = SignState::signed_off;
  const auto mean_at = [](const EngravedStroke& stroke) {
    double sum = 0.0;
    for (const Vec2& c : stroke.corners) sum += c.y;
    return sum / static_cast<double>(stroke.corners.size());
  };
  const auto direction_of_writing = [&](const GuidePlan& plan) {
    const auto mouth = std::find_if(plan.texts.begin(), plan.texts.end(),
                                    [](const EngravedText& text) { return text.text == "< MOUTH"; });
    REQUIRE(mouth != plan.texts.end());
    return mean_at(mouth->strokes.back()) - mean_at(mouth->strokes.front());
  };
  const auto up = plan_guides(tube, instrument, Shop{});
  CHECK(direction_of_writing(up.at(0)) > 10.0);
  for (const EngravedText& text : up[0].texts) CHECK(text.text.find("DRAFT") == std::string::npos);
  instrument.mouth_end = End::b;
  std::swap(instrument.mouth_cut_at, instrument.foot_cut_at);
  CHECK(direction_of_writing(plan_guides(tube, instrument, Shop{}).at(0)) < -10.0);
}

TEST_CASE("guides fit their bed, feet down, straight or across its corners") {
  const Sample sample = culm_sample();
  const Printer printer;
  for (const GuidePlan& plan : sample.plans) {
    const RigidMotion lie = printing_position(plan, printer);
    CHECK(dot(lie.x, cross(lie.y, lie.z)) == Approx(1.0));  // the columns of a rotation, not of a mirror
    Vec3 low{1e300, 1e300, 1e300};
    Vec3 high{-1e300, -1e300, -1e300};
    for (double at = plan.at.from; at <= plan.at.to; at += 5.0) {
      for (int side : {-1, 1}) {
        const double edge = plan.foot_theta(plan.outer, side, at);
        for (const double theta : {edge, plan.middle()}) {
          const Vec3 p = lie.apply(plan.outer.point(theta, at));
          low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
          high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
        }
      }
    }
    CHECK(low.z == Approx(0.0).margin(1e-9));
    CHECK(high.x - low.x <= printer.bed_x);
    CHECK(high.y - low.y <= printer.bed_y);
    for (const GuideHole& hole : plan.holes) CHECK(lie.turn(hole.drilling.axis).z > 0.3);
  }
}

TEST_CASE("a smaller bed gives more guides, and one too small for any says so") {
  const Tube tube{test::culm(500.0)};
  const Instrument instrument = test::twenty_holes(tube);
  Shop shop;
  shop.printer.bed_x = shop.printer.bed_y = 150.0;
  CHECK(plan_guides(tube, instrument, shop).size() > culm_sample().plans.size());
  shop.printer.bed_x = shop.printer.bed_y = 60.0;
  CHECK_THROWS_AS(plan_guides(tube, instrument, shop), GeometryError);
}

TEST_CASE("a saddle's volume and areas on a round tube are those of circles and chords") {
  const double foot = 2.0;
  const double length = 40.0;
  const Expectation expected = expectation_of(plain_plan(15.0, 20.0, foot, length));
  const double section = segment_area(20.0, foot) - segment_area(15.0, foot);
  CHECK(expected.volume == Approx(section * length).epsilon(1e-9));
  CHECK(*face_named(expected, "inner face").area ==
        Approx(2.0 * std::acos(foot / 15.0) * 15.0 * length).epsilon(1e-9));
  CHECK(*face_named(expected, "outer face").area ==
        Approx(2.0 * std::acos(foot / 20.0) * 20.0 * length).epsilon(1e-9));
  CHECK(*face_named(expected, "end toward A").area == Approx(section).epsilon(1e-9));
  const double strip = std::sqrt(400.0 - foot * foot) - std::sqrt(225.0 - foot * foot);
  CHECK(*face_named(expected, "feet").area == Approx(2.0 * strip * length).epsilon(1e-9));
  CHECK(expected.genus == 0);
}

TEST_CASE("a boss and its bore add and take the volumes of crossed cylinders") {
  GuidePlan plan = plain_plan(15.0, 20.0, 2.0, 40.0);
  const double without = expectation_of(plan).volume;
  GuideHole hole;
  hole.id = "K";
  hole.drilling = {{15.0, 0.0, -120.0}, {1.0, 0.0, 0.0}, 5.0};
  hole.bore_radius = 4.0;
  hole.boss_radius = 6.0;
  hole.top = 11.0;
  plan.holes.push_back(hole);
  const Expectation expected = expectation_of(plan);
  // Volumes of two crossed cylinders, (8/3) a [(a² + b²) E − (a² − b²) K] (CRC): (20, 6) 4472.410296 and
  // (15, 4) 1494.438464, calculated. Half of one lies on each side of the tube's axis.
  const double top = 15.0 + hole.top;
  const double boss = pi * 36.0 * top - 4472.410296 / 2.0;
  const double bore = pi * 16.0 * top - 1494.438464 / 2.0;
  CHECK(expected.volume - without == Approx(boss - bore).margin(1e-5));
  CHECK(expected.genus == 1);
  REQUIRE(expected.bores.size() == 1);
  CHECK(expected.bores[0].from.x < 15.0);
  CHECK(expected.bores[0].to.x > 26.0);
}

TEST_CASE("a bush is locked by a side bore that leaves wall above and below and can be reached") {
  const Sample sample = culm_sample();
  int locked = 0;
  for (const GuidePlan& plan : sample.plans) {
    for (const GuideHole& hole : plan.holes) {
      if (!hole.side) continue;
      ++locked;
      const RigidMotion frame = rim_frame(hole.drilling);
      // M3 that cuts its own thread in plastic: core hole 2.5, common practice.
      CHECK(2.0 * hole.side->radius == Approx(2.5 + Shop{}.printer.hole_undersize));
      CHECK(hole.side->height + hole.side->radius <= hole.top - 1.2 + 1e-9);
      const Vec2 foot = direction(hole.side->toward) * hole.boss_radius;
      CHECK(hole.side->height - hole.side->radius >= plan.outer.meet(frame, foot).height + 1.2 - 1e-9);
      for (double out = hole.boss_radius + 1.0; out < hole.boss_radius + 20.0; out += 0.5) {
        const Vec2 aim = direction(hole.side->toward) * out;
        const Vec3 p = frame.apply({aim.x, aim.y, hole.side->height});
        for (const GuideHole& other : plan.holes) {
          if (other.id == hole.id) continue;
          const Vec3 q = rim_frame(other.drilling).inverse().apply(p);
          if (q.z < other.top) CHECK(std::hypot(q.x, q.y) > other.boss_radius);
        }
      }
    }
  }
  CHECK(locked > 10);
}

TEST_CASE(
    "full-size bores are plain, 1.5 diameters long at least, with a window for chips; wide holes keep "
    "bushes") {
  const Tube tube{test::round_tube(20.0, 20.0, 300.0, 4.0)};
  Instrument instrument = test::instrument_on(tube);
  for (const double diameter : {6.0, 10.0, 14.0}) {
    instrument.keys.push_back(test::placed(tube, "D" + std::to_string(static_cast<int>(diameter)),
                                           {20.0 + 8.0 * diameter, 0.0}, diameter));
  }
  Shop shop;
  shop.bores = GuideBores::full_size;
  int holes = 0;
  for (const GuidePlan& plan : plan_guides(tube, instrument, shop)) {
    for (const GuideHole& hole : plan.holes) {
      ++holes;
      CHECK(hole.plain == (hole.drilling.radius <= 5.0));
      CHECK(hole.drill() == Approx(hole.plain ? 2.0 * hole.drilling.radius : 3.0));
      if (!hole.plain) continue;
      CHECK(hole.top >= 1.5 * hole.drill());
      REQUIRE(hole.side);
      CHECK(2.0 * hole.side->radius == Approx(0.5 * hole.drill() + shop.printer.hole_undersize));
      CHECK(hole.side->radius < hole.bore_radius);
    }
  }
  CHECK(holes == 3);
}

TEST_CASE("an opening gets pilot holes at its corners, on the centres of its corner radius") {
  const Tube tube{test::round_tube(20.0, 20.0, 300.0, 4.0)};
  Instrument instrument = test::instrument_on(tube);
  PlacedPart opening;
  opening.part.id = "access";
  opening.part.kind = PartKind::opening;
  opening.part.length = 46.0;
  opening.part.width = 20.0;
  opening.part.corner_radius = 4.0;
  opening.place = {240.0, 5.0};
  instrument.parts.push_back(opening);
  std::set<std::pair<int, int>> corners;
  for (const GuidePlan& plan : plan_guides(tube, instrument, Shop{})) {
    CHECK(std::any_of(plan.notes.begin(), plan.notes.end(), [](const std::string& note) {
      return note.find("to 8") != std::string::npos && note.find("lid") != std::string::npos;
    }));
    for (const GuideHole& hole : plan.holes) {
      CHECK(hole.corner_of == "access");
      CHECK(hole.drilling.radius == 4.0);
      CHECK(hole.drill() == 3.0);
      // Round tube: around is arc length, so the direction is around / 20.
      const double around = 20.0 * std::atan2(hole.drilling.point.y, hole.drilling.point.x);
      CHECK(std::abs(-hole.drilling.point.z - 240.0) == Approx(19.0));
      CHECK(std::abs(around - 5.0) == Approx(6.0));
      corners.insert({-hole.drilling.point.z < 240.0, around < 5.0});
    }
  }
  CHECK(corners.size() == 4);
}

TEST_CASE(
    "a line of drilling outside the four pads is refused by name, and so is a high spot under the saddle") {
  const Tube tube{test::culm()};
  Instrument instrument = test::instrument_on(tube);
  instrument.keys.push_back(test::placed(tube, "L1", {45.0, 3.0}, 9.0));
  GuidePlan plan = plan_guides(tube, instrument, Shop{}).at(0);
  CHECK_NOTHROW(guide_parts::check_bearing(plan));
  CHECK_NOTHROW(guide_parts::check_high_spots(plan, tube));
  GuidePlan tipping = plan;
  tipping.pads = {{48.0, 58.0}, {70.0, 80.0}};  // both beyond the hole
  CHECK_THROWS_WITH(guide_parts::check_bearing(tipping), Catch::Contains("L1"));
  TubeShape ridged = tube.shape();
  Node node;
  node.at_line = node.at_far = 50.0;
  node.band = 9.0;
  node.ridge_height = 1.0;
  ridged.nodes = {node};
  CHECK_THROWS_WITH(guide_parts::check_high_spots(plan, Tube{ridged}), Catch::Contains("rock"));
}

TEST_CASE("the thinnest wall of a guide is what its straps and engraving leave, and no less than 1.2") {
  for (const GuidePlan& plan : culm_sample().plans) {
    const double least = thinnest_wall(plan);
    CHECK(least >= guide_sizes::least_wall - 1e-9);
    CHECK(least <= Shop{}.boss_wall);
  }
}

TEST_CASE("where the search for the fewest guides was cut short, the first plan says so") {
  const Tube tube{test::culm(900.0)};
  Instrument instrument = test::instrument_on(tube);
  for (int i = 0; i < 60; ++i) {
    const SkinPlace place{30.0 + 13.5 * i, i % 2 == 0 ? -14.0 : 18.0};
    instrument.keys.push_back(test::placed(tube, "K" + std::to_string(i + 1), place, 7.0));
  }
  const std::vector<GuidePlan> plans = plan_guides(tube, instrument, Shop{});
  const auto says = [](const std::string& note) {
    return note.find("too many holes to try every way") != std::string::npos;
  };
  CHECK(std::any_of(plans[0].notes.begin(), plans[0].notes.end(), says));
  const Sample few = culm_sample();
  for (const GuidePlan& plan : few.plans) CHECK(std::none_of(plan.notes.begin(), plan.notes.end(), says));
}
