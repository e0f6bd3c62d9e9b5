#pragma once
/// Tubes as nature might have grown them, made up without the fit's own parameters, and their surveys with
/// every error that a maker makes.
#include <cmath>
#include <random>

#include "measure.hpp"
#include "shapes.hpp"

namespace culmwright::test {

/// One generator and its distribution; the numbers need not be the same everywhere.
class Luck {
 public:
  explicit Luck(unsigned seed) : generator_(seed) {}
  double normal() { return normal_(generator_); }
  double uniform() { return std::uniform_real_distribution<double>(0.0, 1.0)(generator_); }

 private:
  std::mt19937 generator_;
  std::normal_distribution<double> normal_;
};

/// A function along the tube with that standard deviation everywhere, that changes by half of it, one
/// standard deviation, in 100 mm: the size and the walk that FitPriors states for a coefficient.
inline PiecewiseCubic wandering(double sigma, double length, Luck& luck, double offset = 0.0) {
  constexpr double step = 10.0;
  std::vector<double> x, y;
  const double kept = std::exp(-step / 800.0);
  double value = sigma * luck.normal();
  for (double at = 0.0; at <= length + 0.5 * step; at += step) {
    x.push_back(at);
    y.push_back(offset + value);
    value = kept * value + sigma * std::sqrt(1.0 - kept * kept) * luck.normal();
  }
  return PiecewiseCubic::monotone(x, y, Beyond::held);
}

/// Round size: taper and a random walk that is off by `half_way` in the middle of 100 mm.
inline PiecewiseCubic tapering(double at_a, double at_b, double length, double half_way, Luck& luck) {
  constexpr double step = 10.0;
  std::vector<double> x, y;
  double walk = 0.0;
  for (double at = 0.0; at <= length + 0.5 * step; at += step) {
    x.push_back(at);
    y.push_back(at_a + (at_b - at_a) * at / length + walk);
    walk += half_way * std::sqrt(4.0 * step / 100.0) * luck.normal();
  }
  return PiecewiseCubic::monotone(x, y, Beyond::linear);
}

/// Half waves between the ends, the first with that standard deviation, the j-th with 1/j² of it.
inline PiecewiseCubic bowed(double sigma, double length, Luck& luck) {
  double waves[12];
  for (int j = 0; j < 12; ++j) waves[j] = sigma / ((j + 1) * (j + 1)) * luck.normal();
  std::vector<double> x, y;
  for (int i = 0; i <= 84; ++i) {
    x.push_back(length * i / 84);
    double sum = 0.0;
    for (int j = 0; j < 12; ++j) sum += waves[j] * std::sin(pi * (j + 1) * i / 84.0);
    y.push_back(i == 0 || i == 84 ? 0.0 : sum);
  }
  return PiecewiseCubic::spline(x, y, std::vector<bool>(x.size(), false));
}

/// A bent, tapered, oval and lobed piece; every size drawn from what FitPriors says of such material.
inline Tube grown_tube(const FitPriors& priors, unsigned seed, double length = 420.0) {
  Luck luck(seed);
  const double radius = 15.0 + 4.0 * luck.uniform();
  TubeShape shape = round_tube(radius, radius, length, 4.0);
  shape.id = "grown";
  std::vector<FourierAlong::Term> terms;
  terms.push_back({0, tapering(radius - 1.0, radius + 1.0, length, priors.skin_wander, luck), {}});
  const double bow = priors.bow * length / 400.0;
  terms.push_back({1, bowed(bow, length, luck), bowed(bow, length, luck)});
  for (int order = 2; order <= 8; ++order) {
    const double sigma = order == 2 ? priors.ovality * radius : priors.lobe * 9.0 / (order * order);
    terms.push_back({order, wandering(sigma, length, luck), wandering(sigma, length, luck)});
  }
  shape.skin = FourierAlong(terms);
  return Tube(shape);
}

/// How carefully it is measured.
enum class Care { quick, calipers, plates };

inline void add_reading_errors(Survey& survey, Luck& luck) {
  const InstrumentErrors& errors = survey.errors;
  for (Station& station : survey.stations) {
    if (station.girth) *station.girth += errors.tape * luck.normal();
    for (Width& width : station.widths) width.across += errors.caliper * luck.normal();
    for (auto& height : station.heights) *height += errors.height * luck.normal();
  }
  for (BowReading& bow : survey.bow) {
    const double read = (bow.convex ? -bow.gap : bow.gap) + errors.straightedge * luck.normal();
    bow.gap = std::abs(read);
    bow.convex = read < 0.0;
  }
  for (WallReading& wall : survey.walls) wall.thickness += errors.wall * luck.normal();
}

/// Read at places and in directions that are off by what InstrumentErrors says, with instruments that are.
inline Survey measured(const Tube& truth, Care care, unsigned seed) {
  Luck luck(seed);
  Survey survey = bare_survey(truth);
  survey.material = Material::bamboo;
  const InstrumentErrors errors;
  if (care == Care::plates) survey.plates = SurveyPlates{16, 70.0};
  const double places = care == Care::quick ? 5 : 8;
  for (double i = 0.0; i < places; i += 1.0) {
    const double at = truth.length() * i / (places - 1.0);
    const bool end = i == 0.0 || i == places - 1.0;
    const double held = end ? at : at + errors.along * luck.normal();
    Survey one = survey;
    one.stations.clear();
    one.bow.clear();
    if (care == Care::plates) {
      add_heights(one, truth, held);
    } else {
      add_girth(one, truth, held);
      const std::vector<double> degrees =
          care == Care::quick ? std::vector<double>{0, 90} : std::vector<double>{0, 45, 90, 135};
      for (double d : degrees) {
        add_widths(one, truth, held, {d + errors.protractor.degrees() * luck.normal()});
        one.stations.back().widths.back().direction.facing = Angle::from_degrees(d);
      }
    }
    one.stations.back().at = at;
    survey.stations.push_back(one.stations.back());
  }
  if (care != Care::plates) {
    const std::vector<double> shares =
        care == Care::quick ? std::vector<double>{0.5} : std::vector<double>{0.25, 0.5, 0.75};
    for (double share : shares) {
      for (double d : {180.0, 90.0}) add_bow(survey, truth, truth.length() * share, d);
    }
  }
  add_walls(survey, truth, {0.0, truth.length()}, 4);
  add_reading_errors(survey, luck);
  return survey;
}

}  // namespace culmwright::test
