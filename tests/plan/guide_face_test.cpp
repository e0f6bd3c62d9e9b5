#include "plan/guide_face.hpp"

#include <catch2/catch.hpp>

#include "shapes.hpp"
#include "tube/hole.hpp"

using namespace culmwright;

namespace {

OffsetField bumpy() {
  OffsetField field;
  field.level = 4.5;
  field.patches.push_back({-0.5, {100.0, 110.0}, 3.0, Span{0.8, 1.1}, 0.25});
  field.patches.push_back({1.1, {140.0, 150.0}, 4.0, {}, 1.0});
  return field;
}

}  // namespace

TEST_CASE("a plateau is flat on its span, gone a step beyond it, and smooth between") {
  const Span flat{10.0, 14.0};
  CHECK(plateau(flat, 3.0, 12.0).value == 1.0);
  CHECK(plateau(flat, 3.0, 7.0).value == 0.0);
  CHECK(plateau(flat, 3.0, 17.0).value == 0.0);
  CHECK(plateau(flat, 3.0, 8.5).value == Approx(0.5));
  for (double x = 6.0; x < 18.0; x += 0.13) {
    const double slope = (plateau(flat, 3.0, x + 1e-6).value - plateau(flat, 3.0, x - 1e-6).value) / 2e-6;
    CHECK(plateau(flat, 3.0, x).slope == Approx(slope).margin(1e-7));
  }
}

TEST_CASE("an offset field's derivatives are those of its values") {
  const OffsetField field = bumpy();
  for (double theta = 0.4; theta < 1.5; theta += 0.07) {
    for (double at = 95.0; at < 156.0; at += 0.9) {
      const OffsetJet jet = field(theta, at);
      const double by_theta = (field(theta + 1e-6, at).value - field(theta - 1e-6, at).value) / 2e-6;
      const double by_at = (field(theta, at + 1e-6).value - field(theta, at - 1e-6).value) / 2e-6;
      CHECK(jet.by_theta == Approx(by_theta).margin(1e-6));
      CHECK(jet.by_at == Approx(by_at).margin(1e-6));
    }
  }
}

TEST_CASE("a guide's face stands off the smooth skin by exactly its field") {
  const Tube base = smooth_tube(Tube{test::culm()});
  const GuideFace face(base, 0.9, bumpy());
  for (double theta = -0.5; theta < 2.3; theta += 0.11) {
    for (double at = 92.0; at < 160.0; at += 3.7) {
      const Vec3 p = face.point(theta, at);
      const double c = face.field()(theta, at).value;
      // By the section's own search, which shares nothing with the face.
      CHECK(base.section(at).outside({p.x, p.y}) == Approx(c).margin(1e-10));
      const GuideFace::Where where = face.where(p);
      CHECK(where.theta == Approx(theta).margin(1e-10));
      CHECK(where.offset == Approx(c).margin(1e-10));
      CHECK(face.distance(p) < 1e-10);
    }
  }
}

TEST_CASE("a guide's face has the tangents of its points, and its normal points outward") {
  const GuideFace face(smooth_tube(Tube{test::culm()}), 0.9, bumpy());
  for (double theta = -0.5; theta < 2.3; theta += 0.23) {
    const GuideFace::Jet jet = face.jet(theta, 108.5);
    const Vec3 t = (face.point(theta + 1e-6, 108.5) - face.point(theta - 1e-6, 108.5)) * 5e5;
    const Vec3 s = (face.point(theta, 108.5 + 1e-6) - face.point(theta, 108.5 - 1e-6)) * 5e5;
    CHECK(length(t - jet.by_theta) < 1e-6);
    CHECK(length(s - jet.by_at) < 1e-6);
    CHECK(dot(jet.outward(), Vec3{std::cos(theta), std::sin(theta), 0.0}) > 0.0);
  }
}

TEST_CASE("lines square to a round tube meet its face where Pythagoras says") {
  OffsetField level;
  level.level = 5.0;
  const GuideFace face(Tube{test::round_tube(15.0, 15.0, 100.0, 3.0)}, 0.0, level);
  const Drilling drilling{{15.0, 0.0, -50.0}, {1.0, 0.0, 0.0}, 4.0};
  const RigidMotion frame = rim_frame(drilling);
  for (int i = 0; i < 12; ++i) {
    const Vec2 aim = direction(Angle::from_degrees(30.0 * i)) * 6.0;
    const GuideFace::Meeting meeting = face.meet(frame, aim);
    CHECK(meeting.height == Approx(std::sqrt(400.0 - aim.y * aim.y) - 15.0).margin(1e-10));
    CHECK(meeting.at == Approx(50.0 + aim.x).margin(1e-10));
    CHECK(meeting.facing == Approx(std::sqrt(400.0 - aim.y * aim.y) / 20.0).margin(1e-10));
  }
}
