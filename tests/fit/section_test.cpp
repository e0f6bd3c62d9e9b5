#include "fit/section.hpp"

#include <catch2/catch.hpp>

#include "instruments.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

SectionLeft left_at(const Tube& tube, const Drilled& drilled, double at) {
  const Instrument instrument = assemble(tube, drilled.layout, drilled.placement);
  return section_left(LaidOut(tube, drilled.layout, instrument), at);
}

}  // namespace

TEST_CASE("the whole section of a round tube has I = pi/64 [D^4 - (D - 2t)^4]") {
  // D = 30, t = 4: 28261.77 mm⁴ (calculated from the formula; handbook formula of the hollow circle).
  const Tube tube(round_tube(15.0, 15.0, 200.0, 4.0));
  const SectionLeft whole = left_at(tube, Drilled(tube), 100.0);
  const double formula = pi / 64.0 * (std::pow(30.0, 4) - std::pow(22.0, 4));
  CHECK(formula == Approx(28261.77).margin(0.005));
  CHECK(whole.whole.front_to_back == Approx(formula).epsilon(1e-9));
  CHECK(whole.whole.sideways == Approx(formula).epsilon(1e-9));
  CHECK(whole.least() == Approx(1.0).epsilon(1e-12));
}

TEST_CASE("a bow changes nothing: stiffness is about the section's own centroid") {
  TubeShape shape = round_tube(15.0, 15.0, 200.0, 4.0);
  auto terms = shape.skin.terms();
  terms.push_back({1, constant(2.5), constant(-1.5)});
  shape.skin = FourierAlong(terms);
  const Tube tube(shape);
  const SectionLeft whole = left_at(tube, Drilled(tube), 100.0);
  CHECK(whole.whole.front_to_back == Approx(28261.77).margin(0.01));
}

TEST_CASE("a hole through a round tube leaves what the strips cut from two circles leave") {
  // Independent: ∫ over w of the strip between the two circles, in closed form along the strip.
  const double R = 15.0, b = 11.0, r = 5.0;
  const Tube tube(round_tube(R, R, 200.0, R - b));
  Drilled drilled(tube);
  drilled.hole(2.0 * r, 100.0, 0.0);
  const SectionLeft found = left_at(tube, drilled, 100.0);
  double area = 0, first = 0, along = 0, across = 0;
  const int n = 20000;
  for (int i = 0; i < n; ++i) {
    const double w = -r + 2.0 * r * (i + 0.5) / n;
    const double outer = std::sqrt(R * R - w * w), inner = std::sqrt(b * b - w * w), dw = 2.0 * r / n;
    area += (outer - inner) * dw;
    first += (outer * outer - inner * inner) / 2.0 * dw;
    along += (outer * outer * outer - inner * inner * inner) / 3.0 * dw;
    across += w * w * (outer - inner) * dw;
  }
  const double whole = pi / 4.0 * (std::pow(R, 4) - std::pow(b, 4));
  const double whole_area = pi * (R * R - b * b);
  const double front = whole - along - first * first / (whole_area - area);
  CHECK(found.left.front_to_back == Approx(front).epsilon(1e-5));
  CHECK(found.left.sideways == Approx(whole - across).epsilon(1e-5));
  CHECK(found.ids == std::vector<std::string>{"H1"});
}

TEST_CASE("beside the hole's middle the section loses what its chord there takes") {
  const Tube tube(round_tube(15.0, 15.0, 200.0, 4.0));
  Drilled wide(tube);
  wide.hole(10.0, 100.0, 0.0);
  Drilled narrow(tube);
  narrow.hole(2.0 * std::sqrt(25.0 - 9.0), 100.0, 0.0);
  const SectionLeft beside = left_at(tube, wide, 103.0);
  const SectionLeft middle = left_at(tube, narrow, 100.0);
  CHECK(beside.left.front_to_back == Approx(middle.left.front_to_back).epsilon(1e-5));
  CHECK(beside.left.sideways == Approx(middle.left.sideways).epsilon(1e-5));
}

TEST_CASE("an opening takes a sector of the ring") {
  // A ring sector of half angle δ: ∫cos² = δ + ½ sin 2δ, ∫sin² = δ − ½ sin 2δ, ∫cos = 2 sin δ.
  const double R = 15.0, b = 11.0, width = 14.0;
  const Tube tube(round_tube(R, R, 300.0, R - b));
  Drilled drilled(tube);
  drilled.part("opening", PartKind::opening, 40.0, width, 150.0, 0.0);
  const SectionLeft found = left_at(tube, drilled, 150.0);
  const double delta = 0.5 * width / R;
  const double fourth = (std::pow(R, 4) - std::pow(b, 4)) / 4.0;
  const double moment = (std::pow(R, 3) - std::pow(b, 3)) / 3.0 * 2.0 * std::sin(delta);
  const double area = (R * R - b * b) / 2.0 * (2.0 * pi - 2.0 * delta);
  const double front = fourth * (pi - delta - 0.5 * std::sin(2.0 * delta)) - moment * moment / area;
  CHECK(found.left.front_to_back == Approx(front).epsilon(1e-4));
  CHECK(found.left.sideways == Approx(fourth * (pi - delta + 0.5 * std::sin(2.0 * delta))).epsilon(1e-4));
}

TEST_CASE("the rule names the weakest section and what is cut there") {
  const Tube tube(round_tube(15.0, 15.0, 400.0, 4.0));
  Drilled drilled(tube);
  drilled.hole(8.0, 100.0, 0.0).hole(12.0, 200.0, 20.0).hole(10.0, 300.0, 0.0);
  drilled.layout.limits.stiffness_left = 0.9;
  const Finding weakest = finding(tube, drilled, "section");
  CHECK_FALSE(weakest.passes);
  CHECK(weakest.ids == std::vector<std::string>{"H2"});
  CHECK(weakest.place.at == Approx(200.0).margin(0.2));
  drilled.layout.limits.stiffness_left = 0.45;
  CHECK(finding(tube, drilled, "section").passes);
}

TEST_CASE("turning the whole instrument about a round tube changes no stiffness") {
  const Tube tube(round_tube(15.0, 15.0, 400.0, 4.0));
  double before = 0.0;
  for (const double turned : {0.0, 37.0, 150.0}) {
    Drilled drilled(tube);
    const double arc = turned / 360.0 * 30.0 * pi;
    drilled.hole(10.0, 200.0, arc).hole(9.0, 203.0, arc + 25.0 - 30.0 * pi);
    drilled.placement.facing.value = Angle::from_degrees(turned);
    const SectionLeft left = left_at(tube, drilled, 201.0);
    if (turned > 0.0) CHECK(left.least() == Approx(before).epsilon(1e-6));
    before = left.least();
  }
}
