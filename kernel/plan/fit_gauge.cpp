#include "plan/fit_gauge.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "base/words.hpp"
#include "plan/drill_bush.hpp"
#include "plan/flat_expectation.hpp"

namespace culmwright {

namespace {

using namespace gauge_sizes;

constexpr double bed_edge = 5.0;
constexpr double usual_drill = 8.0;

/// With its tenth always, and hundredths where it has them.
std::string engraved(double diameter) {
  const bool tenths = std::abs(diameter - step * std::round(diameter / step)) < 1e-6;
  return fixed_text(diameter, tenths ? 1 : 2);
}

double tenth(double value) {
  return std::round(value / step) * step;
}

/// The straight drill nearest to the usual one that may turn in plastic; of two as near, the wider.
Drill gauge_drill(const Shop& shop) {
  Drill best;
  const auto off = [](const Drill& drill) { return std::abs(drill.diameter - usual_drill); };
  for (const Drill& drill : shop.drills) {
    const bool straight = drill.kind == DrillKind::twist || drill.kind == DrillKind::brad_point;
    if (!straight || drill.diameter > shop.full_size_up_to) continue;
    const bool nearer = off(drill) < off(best) - 1e-9;
    if (nearer || (off(drill) < off(best) + 1e-9 && drill.diameter > best.diameter)) best = drill;
  }
  if (best.diameter == 0.0) best.diameter = usual_drill;
  return best;
}

const char* title_of(GaugeFit fit) {
  switch (fit) {
    case GaugeFit::drill:
      return "DRILL";
    case GaugeFit::bush:
      return "BUSH";
    case GaugeFit::pilot:
      return "PILOT";
    case GaugeFit::spigot:
      break;
  }
  return "PEGS";
}

std::string words_of(const GaugeRow& row) {
  return std::string(title_of(row.fit)) + " " + number_text(row.nominal, 4);
}

/// Diameters of a row, the least first.
std::vector<double> diameters_of(GaugeFit fit, double nominal) {
  const int count = fit == GaugeFit::spigot ? pegs : holes;
  const double first = fit == GaugeFit::spigot ? tenth(nominal) - step * (pegs - 1) : nominal;
  std::vector<double> diameters;
  for (int i = 0; i < count; ++i) diameters.push_back(first + step * i);
  return diameters;
}

PlaneText text_at(const std::string& words, Vec2 lower_left) {
  return {words,
          {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {lower_left.x, lower_left.y, thickness}},
          lettering(words).strokes};
}

/// Rows from the lower edge up, each: its numbers, its spots, its title.
class Layout {
 public:
  explicit Layout(double pitch) : pitch_(pitch) {}

  void add(GaugeFit fit, double nominal) {
    GaugeRow row{fit, nominal, {}};
    const std::vector<double> diameters = diameters_of(fit, nominal);
    const double widest = diameters.back();
    const double spots_y = y_ + letter_height + letters_gap + 0.5 * widest;
    for (std::size_t i = 0; i < diameters.size(); ++i) {
      const double x = 0.5 * pitch_ + pitch_ * static_cast<double>(i);
      row.spots.push_back({{x, spots_y}, diameters[i]});
      const std::string number = engraved(diameters[i]);
      gauge_.texts.push_back(text_at(number, {x - 0.5 * lettering(number).width, y_}));
    }
    const double title_y = spots_y + 0.5 * widest + letters_gap;
    gauge_.texts.push_back(text_at(words_of(row), {wall, title_y}));
    y_ = title_y + letter_height + wall;
    gauge_.rows.push_back(std::move(row));
  }

  FitGauge done() {
    const double count = std::max(holes, pegs);
    gauge_.length = 10.0 * std::ceil(count * pitch_ / 10.0 - 1e-9);
    gauge_.width = y_;
    const double spare = 0.5 * (gauge_.length - count * pitch_);
    for (GaugeRow& row : gauge_.rows) {
      for (GaugeSpot& spot : row.spots) spot.middle.x += spare;
    }
    for (PlaneText& text : gauge_.texts) text.frame.origin.x += spare;
    const std::string words = "L " + number_text(gauge_.length, 4);
    gauge_.texts.push_back(
        text_at(words, {gauge_.length - wall - lettering(words).width, gauge_.texts[holes].frame.origin.y}));
    return std::move(gauge_);
  }

 private:
  double pitch_;
  double y_ = wall;
  FitGauge gauge_;
};

FaceExpectation cylinder(std::string name, const GaugeSpot& spot, double high) {
  return {std::move(name),
          [spot](Vec3 p) {
            return std::abs(length(Vec2{p.x, p.y} - spot.middle) - 0.5 * spot.diameter);
          },
          pi * spot.diameter * high};
}

double disc(const GaugeSpot& spot) {
  return 0.25 * pi * spot.diameter * spot.diameter;
}

void expect_hole(Expectation& expected, const std::string& name, const GaugeSpot& spot) {
  expected.faces.push_back(cylinder(name, spot, thickness));
  expected.volume -= disc(spot) * thickness;
  ++expected.genus;
  const Vec3 foot{spot.middle.x, spot.middle.y, -1.0};
  expected.bores.push_back({name,
                            foot,
                            {foot.x, foot.y, thickness + 1.0},
                            0.5 * spot.diameter + 0.5,
                            {1.5, 1.0 + 0.5 * thickness}});
}

void expect_peg(Expectation& expected, const std::string& name, const GaugeSpot& spot) {
  expected.faces.push_back(cylinder(name, spot, peg_height));
  expected.volume += disc(spot) * peg_height;
}

std::string fit_words(GaugeFit fit) {
  switch (fit) {
    case GaugeFit::drill:
      return "drill";
    case GaugeFit::bush:
      return "bush";
    case GaugeFit::pilot:
      return "pilot bit";
    case GaugeFit::spigot:
      break;
  }
  return "peg";
}

std::string step_of(const GaugeRow& row) {
  const std::string nominal = number_text(row.nominal, 4);
  if (row.pegs()) {
    return "PEGS " + nominal +
           ": drill a hole with that drill in scrap of the same stuff and measure it, H. P is "
           "the thickest peg that goes in without force. fits.spigot = (H - P) / 2. H also is the drill's "
           "measured_hole.";
  }
  const std::string what = "the " + fit_words(row.fit) + " of " + nominal;
  const std::string head = std::string(title_of(row.fit)) + " " + nominal +
                           ": T is the number under the smallest "
                           "hole that " +
                           what + " just goes into by hand, ";
  if (row.fit == GaugeFit::drill) {
    return head + "F under the smallest in which it turns freely. printer.hole_undersize = T - " + nominal +
           "; fits.drill = (F - T) / 2.";
  }
  const std::string field = row.fit == GaugeFit::bush ? "fits.bush" : "fits.peg";
  return head + "S under the smallest in which it slides and does not shake. " + field + " = (S - " +
         nominal + " - printer.hole_undersize) / 2, never less than 0.";
}

}  // namespace

FitGauge plan_fit_gauge(const Shop& shop) {
  const Drill drill = gauge_drill(shop);
  const double drilled = tenth(drill.measured_hole.value_or(drill.diameter));
  const Bush bush = pilot_bush(shop, 0.0);
  const double widest = std::max(drill.diameter, bush.outside) + step * (holes - 1);
  const double pitch = std::max(widest + wall, drilled + scrap + wall);
  const double number = lettering(engraved(widest)).width + 2.0 * letters::spacing;
  Layout layout(std::max(pitch, number));
  layout.add(GaugeFit::pilot, shop.pilot_diameter);
  layout.add(GaugeFit::bush, bush.outside);
  layout.add(GaugeFit::drill, drill.diameter);
  layout.add(GaugeFit::spigot, drilled);
  const FitGauge gauge = layout.done();
  const double long_side = std::max(shop.printer.bed_x, shop.printer.bed_y) - 2.0 * bed_edge;
  const double short_side = std::min(shop.printer.bed_x, shop.printer.bed_y) - 2.0 * bed_edge;
  if (gauge.length > long_side || gauge.width > short_side) {
    throw GeometryError(gauge.part(), "plan",
                        fixed_text(gauge.length, 0) + " × " + fixed_text(gauge.width, 0) +
                            " mm do not lie on a bed of " + fixed_text(shop.printer.bed_x, 0) + " × " +
                            fixed_text(shop.printer.bed_y, 0) +
                            " with 5 left free all round; a thinner drill in the drawer makes it smaller");
  }
  return gauge;
}

Expectation expectation_of(const FitGauge& gauge) {
  const double plate = gauge.length * gauge.width;
  Expectation expected;
  expected.part = gauge.part();
  expected.volume = plate * thickness;
  FaceExpectation back = plane_face("back", {0, 0, 0}, {0, 0, 1}, plate);
  FaceExpectation upper = plane_face("upper face", {0, 0, thickness}, {0, 0, 1}, plate);
  double tops = 0.0;
  for (const GaugeRow& row : gauge.rows) {
    for (const GaugeSpot& spot : row.spots) {
      const std::string name = words_of(row) + ", " + number_text(spot.diameter, 4);
      *upper.area -= disc(spot);
      if (row.pegs()) {
        tops += disc(spot);
        expect_peg(expected, name, spot);
      } else {
        *back.area -= disc(spot);
        expect_hole(expected, name, spot);
      }
    }
  }
  for (const PlaneText& text : gauge.texts) expect_text(expected, text, engraving, upper);
  const double x = gauge.length, y = gauge.width;
  expected.faces.push_back(back);
  expected.faces.push_back(upper);
  expected.faces.push_back(plane_face("tops of the pegs", {0, 0, thickness + peg_height}, {0, 0, 1}, tops));
  expected.faces.push_back(plane_face("lower edge", {0, 0, 0}, {0, 1, 0}, x * thickness));
  expected.faces.push_back(plane_face("upper edge", {0, y, 0}, {0, 1, 0}, x * thickness));
  expected.faces.push_back(plane_face("left end", {0, 0, 0}, {1, 0, 0}, y * thickness));
  expected.faces.push_back(plane_face("right end", {x, 0, 0}, {1, 0, 0}, y * thickness));
  return expected;
}

std::vector<std::string> reading_steps(const FitGauge& gauge) {
  std::vector<std::string> steps{
      "Print it flat as it lies, pegs up, with the settings that guides and cups are printed with; let it "
      "cool. "
      "Clean no hole with a drill or knife.",
      "Length: measure the plate from end to end, M. printer.shrinkage_percent = 100 * (" +
          number_text(gauge.length, 4) + " - M) / " + number_text(gauge.length, 4) + "."};
  // The drill's row first: the others build on its result.
  for (const bool drill_row : {true, false}) {
    for (const GaugeRow& row : gauge.rows) {
      if ((row.fit == GaugeFit::drill) == drill_row) steps.push_back(step_of(row));
    }
  }
  steps.push_back(
      "A result below 0, or the first or last of a row, means that something else is wrong: look at the "
      "print "
      "before you believe it.");
  return steps;
}

}  // namespace culmwright
