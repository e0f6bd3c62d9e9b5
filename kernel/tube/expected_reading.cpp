#include "tube/expected_reading.hpp"

#include <algorithm>
#include <cmath>

#include "tube/mass.hpp"
#include "tube/reading_rows.hpp"
#include "tube/survey_report.hpp"

namespace culmwright {

namespace {

constexpr double surprising_sigmas = 3.0;
/// Of a mean width, from one place of a piece to another, where nothing is known of its taper. Common
/// practice, no source.
constexpr double taper_spread = 0.12;
/// Of a wall from one place to another, as a share.
constexpr double wall_spread = 0.25;

double mean_width(const Station& station, const Survey& survey) {
  double sum = 0.0;
  int count = 0;
  if (station.girth) return *station.girth / pi - survey.tape_thickness;
  for (const Width& width : station.widths) {
    sum += width.across;
    ++count;
  }
  for (const auto& height : station.heights) {
    if (!height || !survey.plates) continue;
    sum += 2.0 * *height - survey.plates->across_flats;
    ++count;
  }
  return count > 0 ? sum / count : 0.0;
}

/// The mean width at the station nearest to a place.
std::optional<double> width_nearby(const Survey& survey, double at) {
  std::optional<double> nearest;
  double least = 1e300;
  for (const Station& station : survey.stations) {
    const double width = mean_width(station, survey);
    if (width <= 0.0 || std::abs(station.at - at) >= least) continue;
    least = std::abs(station.at - at);
    nearest = width;
  }
  return nearest;
}

/// The survey made fit for a fit that asks nothing of its wall and ends: the skin does not depend on them.
/// The reading's own place must not lie beyond the stations' reach.
std::optional<TubeFit> fit_so_far(Survey survey, double at) {
  double first = 1e300;
  double last = -1e300;
  for (const Station& station : survey.stations) {
    if (mean_width(station, survey) <= 0.0) continue;
    first = std::min(first, station.at);
    last = std::max(last, station.at);
  }
  if (first > last) return std::nullopt;
  constexpr double reach = 25.0;
  const double end_a = std::max(survey.end_a_at(), std::min(first, at) - reach);
  const double end_b = std::min(survey.end_b_at(), std::max(last, at) + reach);
  if (end_a < first - reach - 5.0 || end_b > last + reach + 5.0) return std::nullopt;
  const auto outside = [&](double place) { return place < end_a || place > end_b; };
  const auto drop = [&](auto& list) {
    list.erase(std::remove_if(list.begin(), list.end(), [&](const auto& item) { return outside(item.at); }),
               list.end());
  };
  drop(survey.bow);
  drop(survey.walls);
  survey.nodes.erase(
      std::remove_if(survey.nodes.begin(), survey.nodes.end(),
                     [&](const Node& node) { return outside(node.at_line) || outside(node.at_far); }),
      survey.nodes.end());
  survey.grooves.clear();
  survey.blemishes.clear();
  survey.check_girths.clear();
  survey.mass_g.reset();
  survey.balance_at.reset();
  survey.length = end_b - end_a;
  survey.datum_from_end_a = -end_a;
  if (survey.walls.empty()) {
    WallReading wall;
    wall.at = end_a;
    wall.direction.facing = Angle();
    wall.thickness = 0.1 * *width_nearby(survey, end_a);
    survey.walls.push_back(wall);
  }
  try {
    return fit_survey(survey);
  } catch (const InputError&) {
    return std::nullopt;
  }
}

double support(const TubeFit& fit, double at, Angle theta) {
  return fit.tube().shape().skin.section(at)(theta).f;
}

}  // namespace

bool ExpectedReading::surprised_by(double read) const {
  return std::abs(read - value) > surprising_sigmas * sigma;
}

std::optional<ExpectedReading> expected_girth(const Survey& so_far, double at) {
  const double tape = pi * so_far.tape_thickness;
  if (const auto fit = fit_so_far(so_far, at)) {
    const double sigma = std::sqrt(fit->variance(girth_row(*fit, at)));
    const double wander = 2.0 * pi * fit->skin_wander_sigma(at);
    return ExpectedReading{2.0 * pi * fit->tube().shape().skin.section(at).mean() + tape,
                           std::hypot(std::hypot(sigma, wander), so_far.errors.tape)};
  }
  const auto width = width_nearby(so_far, at);
  if (!width) return std::nullopt;
  return ExpectedReading{pi * *width + tape, std::hypot(taper_spread * pi * *width, so_far.errors.tape)};
}

std::optional<ExpectedReading> expected_width(const Survey& so_far, double at, Angle facing) {
  if (const auto fit = fit_so_far(so_far, at)) {
    const double sigma = std::sqrt(fit->variance(width_row(*fit, at, facing)));
    const double wander = 2.0 * fit->skin_wander_sigma(at);
    return ExpectedReading{support(*fit, at, facing) + support(*fit, at, facing + Angle::from_degrees(180)),
                           std::hypot(std::hypot(sigma, wander), so_far.errors.caliper)};
  }
  const auto width = width_nearby(so_far, at);
  if (!width) return std::nullopt;
  return ExpectedReading{*width, std::hypot(taper_spread * *width, so_far.errors.caliper)};
}

std::optional<ExpectedReading> expected_height(const Survey& so_far, double at, int flat) {
  const double axis = 0.5 * so_far.plates->across_flats;
  const Angle facing = Angle::from_degrees(360.0 * flat / so_far.plates->flats);
  const double error = so_far.errors.height;
  if (const auto fit = fit_so_far(so_far, at)) {
    return ExpectedReading{support(*fit, at, facing) + axis,
                           std::hypot(fit->support_sigma(at, facing), error)};
  }
  const auto width = width_nearby(so_far, at);
  if (!width) return std::nullopt;
  return ExpectedReading{0.5 * *width + axis, std::hypot(taper_spread * 0.5 * *width, error)};
}

std::optional<ExpectedReading> expected_gap(const Survey& so_far, double at, Angle facing) {
  if (!(at > so_far.end_a_at() && at < so_far.end_b_at())) return std::nullopt;
  const auto fit = fit_so_far(so_far, at);
  if (!fit || fit->tube().length() < 0.8 * so_far.length) return std::nullopt;
  const Tube& tube = fit->tube();
  const double share = (at - tube.end_a_at()) / tube.length();
  const double line =
      support(*fit, tube.end_a_at(), facing) * (1.0 - share) + support(*fit, tube.end_b_at(), facing) * share;
  const double sigma = std::sqrt(fit->variance(gap_row(*fit, at, facing)));
  return ExpectedReading{
      line - support(*fit, at, facing),
      std::hypot(std::hypot(sigma, fit->skin_wander_sigma(at)), so_far.errors.straightedge)};
}

std::optional<ExpectedReading> expected_wall(const Survey& so_far, double at) {
  if (so_far.walls.empty()) return std::nullopt;
  double sum = 0.0;
  double here = 0.0;
  int count = 0;
  for (const WallReading& wall : so_far.walls) {
    sum += wall.thickness;
    if (std::abs(wall.at - at) > 2.0) continue;
    here += wall.thickness;
    ++count;
  }
  const double all = sum / static_cast<double>(so_far.walls.size());
  if (count == 0) return ExpectedReading{all, std::hypot(wall_spread * all, so_far.errors.wall)};
  // At one place the wall varies by its lobes alone.
  const double lobe = 2.0 * priors_for(so_far.material).wall_lobe;

  return ExpectedReading{here / count, std::hypot(lobe, so_far.errors.wall)};
}

std::optional<ExpectedReading> expected_mass_g(const Survey& so_far) {
  Survey unweighed = so_far;
  unweighed.mass_g.reset();
  unweighed.balance_at.reset();
  try {
    const double volume = wall_moments(fit_survey(unweighed).tube()).volume;
    const DensityRange range = plausible_density(so_far.material);
    const double per_volume = volume / 1000.0;
    // What such material cannot weigh is a surprise.
    return ExpectedReading{0.5 * (range.least + range.greatest) * per_volume,
                           0.5 * (range.greatest - range.least) * per_volume / surprising_sigmas};
  } catch (const InputError&) {
    return std::nullopt;
  }
}

}  // namespace culmwright
