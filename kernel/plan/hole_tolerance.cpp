#include "plan/hole_tolerance.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "base/words.hpp"
#include "plan/hole_tolerance_draws.hpp"
#include "tube/sampled_tube.hpp"

namespace culmwright {

namespace {

constexpr int survey_samples = 199;  ///< for what the survey is to blame for
/// Keeps the numbers of print and setting apart from those of the tubes.
constexpr unsigned setting_stream = 0x0b0e0000U;

double square(double x) {
  return x * x;
}

/// The value that 95 of 100 do not exceed: of n in order the k-th is not exceeded by the next draw with
/// probability k / (n + 1).
double within_95(std::vector<double> values) {
  const auto k = static_cast<std::size_t>(std::ceil(0.95 * static_cast<double>(values.size() + 1)));
  const std::size_t index = std::min(values.size(), k) - 1;
  std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(index), values.end());
  return values[index];
}

void add_figures(const std::vector<HoleMiss>& misses, HoleTolerance& hole) {
  std::vector<double> along, around, radial, tilt;
  double squares = 0.0;
  for (const HoleMiss& miss : misses) {
    along.push_back(std::abs(miss.along));
    around.push_back(std::abs(miss.around));
    radial.push_back(std::hypot(miss.along, miss.around));
    tilt.push_back(miss.tilt.radians());
    squares += radial.back() * radial.back();
  }
  hole.along = within_95(std::move(along));
  hole.around = within_95(std::move(around));
  hole.radial = within_95(std::move(radial));
  hole.tilt = Angle::from_radians(within_95(std::move(tilt)));
  hole.rms = std::sqrt(squares / static_cast<double>(misses.size()));
}

/// What one hole's place owes to the survey alone, mean squares; and its covariances with the fit's unknowns.
struct SurveyShare {
  double whole = 0.0;
  double wander = 0.0;
  std::vector<double> along;
  std::vector<double> around;
};

/// Guides printed and set without error: on drawn tubes, and on the same without what lies between stations.
std::vector<SurveyShare> survey_shares(const TubeFit& fit, const std::vector<GuidePlan>& plans,
                                       unsigned first_seed) {
  const GuideSet set(fit.tube(), plans);
  const std::size_t unknowns = fit.values().size();
  std::vector<SurveyShare> shares;
  std::vector<int> seated;
  for (int i = 0; i < survey_samples; ++i) {
    const unsigned seed = first_seed + static_cast<unsigned>(i);
    const auto whole = set.drill(sampled_tube(fit, seed), nullptr, seed);
    const auto drawn = set.drill(sampled_without_wander(fit, seed), nullptr, seed);
    const std::vector<double> values = fit.draw(seed);
    shares.resize(whole.size(), {0.0, 0.0, std::vector<double>(unknowns), std::vector<double>(unknowns)});
    seated.resize(whole.size());
    for (std::size_t h = 0; h < whole.size(); ++h) {
      if (!whole[h] || !drawn[h]) continue;
      ++seated[h];
      SurveyShare& share = shares[h];
      share.whole += square(whole[h]->along) + square(whole[h]->around);
      share.wander += square(whole[h]->along - drawn[h]->along) + square(whole[h]->around - drawn[h]->around);
      for (std::size_t p = 0; p < unknowns; ++p) {
        share.along[p] += drawn[h]->along * (values[p] - fit.values()[p]);
        share.around[p] += drawn[h]->around * (values[p] - fit.values()[p]);
      }
    }
  }
  for (std::size_t h = 0; h < shares.size(); ++h) {
    const double each = 1.0 / std::max(1, seated[h]);
    shares[h].whole *= each;
    shares[h].wander *= each;
    for (double& value : shares[h].along) value *= each;
    for (double& value : shares[h].around) value *= each;
  }
  return shares;
}

/// A mean square divided by what wanders there: the bow in two directions, the skin's mean radius and lobes.
PlaceError::Wander wander_at(const TubeFit& fit, double at, double mean_square) {
  const double skin = square(fit.skin_wander_sigma(at));
  const double bow = 2.0 * square(bow_wander_sigma(fit, at));
  const double share = skin + bow > 0.0 ? bow / (skin + bow) : 0.0;
  return {at, (1.0 - share) * mean_square, share * mean_square};
}

}  // namespace

ToleranceOptions tolerance_options(const Shop& shop) {
  ToleranceOptions options;
  options.bush_play = shop.fits.bush;
  options.peg_play = shop.fits.peg;
  options.joint_play = shop.guides.joint_fit;
  return options;
}

std::vector<HoleTolerance> hole_tolerances(const TubeFit& fit, const std::vector<GuidePlan>& plans,
                                           const ToleranceOptions& options) {
  const GuideSet set(fit.tube(), plans);
  std::vector<HoleTolerance> holes;
  for (const GuidePlan& plan : plans) {
    for (const GuideHole& hole : plan.holes) {
      holes.push_back({});
      holes.back().id = hole.id;
      holes.back().guide = plan.number;
      holes.back().at = -hole.drilling.point.z;
    }
  }
  std::vector<std::vector<HoleMiss>> misses(holes.size());
  for (int i = 0; i < options.samples; ++i) {
    const unsigned seed = options.seed + static_cast<unsigned>(i);
    const auto sample = set.drill(sampled_tube(fit, seed), &options, seed ^ setting_stream);
    for (std::size_t h = 0; h < holes.size(); ++h) {
      if (sample[h]) misses[h].push_back(*sample[h]);
    }
  }
  for (std::size_t h = 0; h < holes.size(); ++h) {
    if (2 * misses[h].size() < static_cast<std::size_t>(options.samples)) {
      throw GeometryError("guide " + std::to_string(holes[h].guide), "seating",
                          "it does not go onto most of the tubes that the survey allows");
    }
    add_figures(misses[h], holes[h]);
    holes[h].seats = static_cast<double>(misses[h].size()) / options.samples;
  }
  return holes;
}

ToleranceReport tolerance_report(const TubeFit& fit, const std::vector<GuidePlan>& plans,
                                 const ToleranceOptions& options) {
  ToleranceReport report;
  report.holes = hole_tolerances(fit, plans, options);
  std::vector<PlaceError> places;
  std::vector<HoleOutlook> outlooks;
  std::size_t next = 0;
  const std::vector<SurveyShare> shares = survey_shares(fit, plans, options.seed);
  for (const GuidePlan& plan : plans) {
    for (const GuideHole& hole : plan.holes) {
      const SurveyShare& share = shares[next];
      const double rms = report.holes[next++].rms;
      report.from_survey.push_back(std::sqrt(share.whole));
      PlaceError place;
      // The drawn shares may exceed the drawn whole by a little.
      place.mean_square = std::max(rms * rms, share.whole);
      place.with_unknowns = {share.along, share.around};
      // What lies between the stations acts where the guide bears and where the hole is.
      for (const double at :
           {-hole.drilling.point.z, plan.pads.front().middle(), plan.pads.back().middle()}) {
        place.wander.push_back(wander_at(fit, at, share.wander / 3.0));
      }
      place.by_chance = share.whole / survey_samples;
      outlooks.push_back({place, report.holes[next - 1].radial});
      places.push_back(std::move(place));
    }
  }
  if (places.empty()) return report;
  report.next = next_reading(fit, places);
  report.next.good_enough = std::none_of(report.holes.begin(), report.holes.end(), too_wide);
  report.set = smallest_set(fit, outlooks, accepted_by_fingers, true);
  report.set_without_plates =
      report.set.on_plates ? smallest_set(fit, outlooks, accepted_by_fingers, false) : report.set;
  return report;
}

std::string tolerance_words(const HoleTolerance& hole) {
  return "± " + fixed_text(hole.along, 1) + " mm along, ± " + fixed_text(hole.around, 1) + " mm around, " +
         fixed_text(hole.tilt.degrees(), 1) + "° out of square";
}

}  // namespace culmwright
