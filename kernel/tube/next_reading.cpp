/// Which reading would help most: each candidate is one more row of the least squares; the covariance after
/// it follows from the covariance now by a rank-one update, C − C g gᵀ C / (σ² + gᵀ C g), without measuring
/// anything.
#include <algorithm>
#include <cmath>
#include <functional>

#include "base/words.hpp"
#include "tube/fit_readings.hpp"
#include "tube/reading_rows.hpp"
#include "tube/survey_report.hpp"

namespace culmwright {

namespace {

/// A reading that lowers the error by less than this share is not worth the walk to the bench.
constexpr double worth_reading = 0.05;
constexpr int along_probes = 16;
constexpr int around_probes = 8;

struct Candidate {
  std::string text;
  std::vector<std::pair<std::vector<double>, double>> rows;  ///< gradient and error of each reading it brings
  std::optional<double> new_station;
  bool on_plates = false;
  ReadingWish wish;
};

std::string number(double value) {
  return fixed_text(value, 0);
}

double probe_at(const Tube& tube, int i) {
  return tube.end_a_at() + tube.length() * (i + 0.5) / along_probes;
}

Angle probe_theta(int k) {
  return Angle::from_degrees(360.0 * k / around_probes);
}

std::vector<double> times(const std::vector<double>& covariance, const std::vector<double>& g) {
  const std::size_t n = g.size();
  std::vector<double> product(n, 0.0);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) product[i] += covariance[i * n + j] * g[j];
  }
  return product;
}

double inner(const std::vector<double>& a, const std::vector<double>& b) {
  double sum = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
  return sum;
}

/// Mean of the squared error over the probes, given how a probe's variance is found.
double mean_square(const TubeFit& fit, const std::function<double(const std::vector<double>&)>& variance,
                   const std::function<double(double)>& wander) {
  double sum = 0.0;
  for (int i = 0; i < along_probes; ++i) {
    const double at = probe_at(fit.tube(), i);
    for (int k = 0; k < around_probes; ++k) {
      const Angle theta = probe_theta(k);
      const double w = wander(at);
      sum += variance(fit.support_gradient(at, theta)) + variance(fit.sideways_gradient(at, theta)) + w * w;
    }
  }
  return sum / (along_probes * around_probes);
}

double error_with(const TubeFit& fit, const Candidate& candidate) {
  // Successive rank-one updates, kept as the vectors that are taken away.
  std::vector<std::vector<double>> taken;
  for (const auto& [gradient, sigma] : candidate.rows) {
    std::vector<double> c = times(fit.covariance(), gradient);
    for (const auto& t : taken) {
      const double share = inner(t, gradient);
      for (std::size_t i = 0; i < c.size(); ++i) c[i] -= share * t[i];
    }
    const double scale = 1.0 / std::sqrt(sigma * sigma + inner(gradient, c));
    for (double& value : c) value *= scale;
    taken.push_back(std::move(c));
  }
  const auto variance = [&](const std::vector<double>& g) {
    double v = fit.variance(g);
    for (const auto& t : taken) v -= inner(t, g) * inner(t, g);
    return std::max(v, 0.0);
  };
  const auto wander = [&](double at) {
    const double now = fit.skin_wander_sigma(at);
    if (!candidate.new_station) return now;
    // Beside a new station only the distance to it counts where that is the lesser.
    const double q = 4.0 * fit.priors().skin_wander * fit.priors().skin_wander / 100.0;
    return std::min(now, std::sqrt(q * std::abs(at - *candidate.new_station)));
  };
  return std::sqrt(mean_square(fit, variance, wander));
}

void add_station_candidates(const TubeFit& fit, const Readings& readings, std::vector<Candidate>& list) {
  const InstrumentErrors& errors = fit.survey().errors;
  for (const Station* station : readings.stations) {
    if (!station->girth && station->heights.empty()) {
      list.push_back({"the girth at " + number(station->at),
                      {{girth_row(fit, station->at), errors.tape}},
                      {},
                      false,
                      {ReadingWish::Kind::girth, station->at, {}}});
    }
    if (!station->heights.empty()) continue;
    Candidate widths{"the widths at " + number(station->at) + " in four directions, 45° apart",
                     {},
                     {},
                     false,
                     {ReadingWish::Kind::widths, station->at, {}}};
    for (double degrees : {0.0, 45.0, 90.0, 135.0}) {
      widths.rows.push_back({width_row(fit, station->at, Angle::from_degrees(degrees)), errors.caliper});
    }
    list.push_back(std::move(widths));
    Candidate heights{"heights on survey plates at " + number(station->at),
                      {},
                      {},
                      true,
                      {ReadingWish::Kind::heights, station->at, {}}};
    for (int i = 0; i < 16; ++i) {
      heights.rows.push_back(
          {fit.support_gradient(station->at, Angle::from_degrees(22.5 * i)), errors.height});
    }
    list.push_back(std::move(heights));
  }
}

void add_other_candidates(const TubeFit& fit, const Readings& readings, std::vector<Candidate>& list) {
  const InstrumentErrors& errors = fit.survey().errors;
  const Tube& tube = fit.tube();
  if (!readings.has_heights) {
    for (double share : {0.25, 0.5, 0.75}) {
      const double at = tube.end_a_at() + share * tube.length();
      for (double degrees : {0.0, 90.0}) {
        list.push_back(
            {"the gap under a straightedge at " + number(at) +
                 (degrees > 0.0 ? " on the side, a quarter turn from the line" : " on the line's side"),
             {{gap_row(fit, at, Angle::from_degrees(degrees)), errors.straightedge}},
             {},
             false,
             {ReadingWish::Kind::gap, at, Angle::from_degrees(degrees)}});
      }
    }
  }
  std::vector<double> places{tube.end_a_at()};
  for (const Station* station : readings.stations) places.push_back(station->at);
  places.push_back(tube.end_b_at());
  for (std::size_t i = 0; i + 1 < places.size(); ++i) {
    const double middle = 0.5 * (places[i] + places[i + 1]);
    if (places[i + 1] - places[i] < 20.0 || in_node_band(fit.survey(), middle)) continue;
    list.push_back({"a new station at " + number(middle) + " (girth and two widths)",
                    {{girth_row(fit, middle), errors.tape},
                     {width_row(fit, middle, Angle()), errors.caliper},
                     {width_row(fit, middle, Angle::from_degrees(90)), errors.caliper}},
                    middle,
                    false,
                    {ReadingWish::Kind::station, middle, {}}});
  }
}

}  // namespace

double hole_error(const TubeFit& fit) {
  return std::sqrt(mean_square(
      fit, [&](const std::vector<double>& g) { return fit.variance(g); },
      [&](double at) { return fit.skin_wander_sigma(at); }));
}

NextReading next_reading(const TubeFit& fit) {
  NextReading next;
  next.hole_error_now = hole_error(fit);
  next.hole_error_after = next.hole_error_without_plates = next.hole_error_now;
  next.good_enough = next.hole_error_now <= accepted_by_fingers;
  const Readings readings = readings_of(fit.survey());
  std::vector<Candidate> candidates;
  add_station_candidates(fit, readings, candidates);
  add_other_candidates(fit, readings, candidates);
  for (const Candidate& candidate : candidates) {
    const double after = error_with(fit, candidate);
    if (!candidate.on_plates && after < next.hole_error_without_plates) {
      next.hole_error_without_plates = after;
      next.without_plates = candidate.text;
      next.wish = candidate.wish;
    }
    if (after >= next.hole_error_after) continue;
    next.hole_error_after = after;
    next.text = candidate.text;
  }
  const double worth = (1.0 - worth_reading) * next.hole_error_now;
  if (next.hole_error_without_plates > worth) next.wish.reset();
  if (next.without_plates == next.text || next.hole_error_without_plates > worth) {
    next.without_plates.clear();
    next.hole_error_without_plates = next.hole_error_now;
  }
  if (next.hole_error_after > worth) {
    next.text.clear();
    next.hole_error_after = next.hole_error_now;
  }
  return next;
}

}  // namespace culmwright
