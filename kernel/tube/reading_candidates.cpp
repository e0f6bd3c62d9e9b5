#include "tube/reading_candidates.hpp"

#include "base/words.hpp"
#include "tube/fit_readings.hpp"
#include "tube/reading_rows.hpp"

namespace culmwright {

namespace {

std::string number(double value) {
  return fixed_text(value, 0);
}

void add_station_candidates(const TubeFit& fit, const Readings& readings,
                            std::vector<CandidateReading>& list) {
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
    CandidateReading widths{"the widths at " + number(station->at) + " in four directions, 45° apart",
                            {},
                            {},
                            false,
                            {ReadingWish::Kind::widths, station->at, {}}};
    for (double degrees : {0.0, 45.0, 90.0, 135.0}) {
      widths.rows.push_back({width_row(fit, station->at, Angle::from_degrees(degrees)), errors.caliper});
    }
    list.push_back(std::move(widths));
    CandidateReading heights{"heights on survey plates at " + number(station->at), {},          {}, true,
                             {ReadingWish::Kind::heights, station->at, {}},        station->at, 2};
    for (int i = 0; i < 16; ++i) {
      heights.rows.push_back(
          {fit.support_gradient(station->at, Angle::from_degrees(22.5 * i)), errors.height});
    }
    list.push_back(std::move(heights));
  }
}

void add_other_candidates(const TubeFit& fit, const Readings& readings, std::vector<CandidateReading>& list) {
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
             {ReadingWish::Kind::gap, at, Angle::from_degrees(degrees)},
             at});
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

std::vector<CandidateReading> candidate_readings(const TubeFit& fit) {
  const Readings readings = readings_of(fit.survey());
  std::vector<CandidateReading> list;
  add_station_candidates(fit, readings, list);
  add_other_candidates(fit, readings, list);
  return list;
}

}  // namespace culmwright
