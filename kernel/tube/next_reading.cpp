/// Which reading would help most: each candidate is one more row of the least squares; the covariance after
/// it follows from the covariance now by a rank-one update, C − C g gᵀ C / (σ² + gᵀ C g), without measuring
/// anything.
#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "tube/reading_candidates.hpp"
#include "tube/reading_rows.hpp"
#include "tube/sampled_tube.hpp"
#include "tube/survey_report.hpp"

namespace culmwright {

namespace {

/// A reading that lowers the error by less than this share is not worth the walk to the bench.
constexpr double worth_reading = 0.05;
constexpr int along_probes = 16;
constexpr int around_probes = 8;

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

/// The places of a piece without holes: a net over its skin, each with its error along the normal and
/// sideways.
std::vector<PlaceError> net_of_places(const TubeFit& fit) {
  std::vector<PlaceError> places;
  for (int i = 0; i < along_probes; ++i) {
    const double at = probe_at(fit.tube(), i);
    const double wander = fit.skin_wander_sigma(at) * fit.skin_wander_sigma(at);
    for (int k = 0; k < around_probes; ++k) {
      const Angle theta = probe_theta(k);
      PlaceError place;
      place.mean_square = wander;
      place.wander = {{at, wander, 0.0}};
      for (const auto& gradient : {fit.support_gradient(at, theta), fit.sideways_gradient(at, theta)}) {
        place.with_unknowns.push_back(times(fit.covariance(), gradient));
        place.mean_square += inner(gradient, place.with_unknowns.back());
      }
      places.push_back(std::move(place));
    }
  }
  return places;
}

double root_mean_square(const std::vector<PlaceError>& places) {
  double sum = 0.0;
  for (const PlaceError& place : places) sum += place.mean_square;
  return std::sqrt(sum / static_cast<double>(places.size()));
}

/// A candidate's readings made independent of each other: what each adds to the ones before, as a
/// combination of the unknowns, scaled so that the square of its product with an error's covariances is what
/// it takes away of the error.
std::vector<std::vector<double>> independent(const TubeFit& fit, const CandidateReading& candidate) {
  std::vector<std::vector<double>> combinations;
  std::vector<std::vector<double>> covariances;
  for (const auto& [gradient, sigma] : candidate.rows) {
    std::vector<double> r = gradient;
    std::vector<double> c = times(fit.covariance(), gradient);
    for (std::size_t k = 0; k < combinations.size(); ++k) {
      const double share = inner(covariances[k], gradient);
      c = sum_of(std::move(c), covariances[k], -share);
      r = sum_of(std::move(r), combinations[k], -share);
    }
    const double scale = 1.0 / std::sqrt(sigma * sigma + inner(gradient, c));
    for (double& value : c) value *= scale;
    for (double& value : r) value *= scale;
    combinations.push_back(std::move(r));
    covariances.push_back(std::move(c));
  }
  return combinations;
}

/// What a candidate takes away of what was not measured around a place.
double taken_of_wander(const TubeFit& fit, const PlaceError::Wander& wander,
                       const CandidateReading& candidate) {
  double taken = 0.0;
  const double now = fit.skin_wander_sigma(wander.at);
  if (candidate.new_station && now > 0.0) {
    // Beside a new station only the distance to it counts where that is the lesser.
    const double q = 4.0 * fit.priors().skin_wander * fit.priors().skin_wander / 100.0;
    const double then = q * std::abs(wander.at - *candidate.new_station);
    taken += wander.of_skin * std::max(0.0, 1.0 - then / (now * now));
  }
  const double bow = bow_wander_sigma(fit, wander.at);
  if (candidate.bow_at && bow > 0.0) {
    // A gap tells one of the bow's two directions.
    const double then = bow_wander_sigma(fit, wander.at, {*candidate.bow_at}) / bow;
    taken += 0.5 * candidate.bow_directions * wander.of_bow * std::max(0.0, 1.0 - then * then);
  }
  return taken;
}

double error_with(const TubeFit& fit, const std::vector<PlaceError>& places,
                  const CandidateReading& candidate) {
  const std::vector<std::vector<double>> readings = independent(fit, candidate);
  double sum = 0.0;
  for (const PlaceError& place : places) {
    double taken = 0.0;
    for (const std::vector<double>& covariances : place.with_unknowns) {
      for (const std::vector<double>& reading : readings) {
        const double part = inner(reading, covariances);
        taken += part * part;
      }
    }
    taken = std::max(0.0, taken - place.by_chance * static_cast<double>(readings.size()));
    for (const PlaceError::Wander& wander : place.wander) {
      taken += taken_of_wander(fit, wander, candidate);
    }
    sum += std::max(0.0, place.mean_square - taken);
  }
  return std::sqrt(sum / static_cast<double>(places.size()));
}

}  // namespace

double hole_error(const TubeFit& fit) {
  return root_mean_square(net_of_places(fit));
}

NextReading next_reading(const TubeFit& fit) {
  return next_reading(fit, net_of_places(fit));
}

NextReading next_reading(const TubeFit& fit, const std::vector<PlaceError>& places) {
  require(!places.empty(), "the next reading was asked for without places");
  NextReading next;
  next.hole_error_now = root_mean_square(places);
  next.hole_error_after = next.hole_error_without_plates = next.hole_error_now;
  next.good_enough = next.hole_error_now <= accepted_by_fingers;
  for (const CandidateReading& candidate : candidate_readings(fit)) {
    const double after = error_with(fit, places, candidate);
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
