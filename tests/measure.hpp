#pragma once
/// Measures a tube of known shape as a maker would: exact readings, and noise of the stated size on request.
#include <random>
#include <set>

#include "tube/survey_fit.hpp"

namespace culmwright::test {

inline Survey bare_survey(const Tube& truth) {
  Survey survey;
  survey.id = truth.id();
  survey.length = truth.length();
  survey.datum_from_end_a = -truth.end_a_at();
  survey.nodes = truth.nodes();
  return survey;
}

inline Station& station_at(Survey& survey, double at) {
  for (Station& station : survey.stations) {
    if (station.at == at) return station;
  }
  survey.stations.push_back({});
  survey.stations.back().at = at;
  return survey.stations.back();
}

/// Girth of the skin without ridges, by quadrature of the curve itself.
inline void add_girth(Survey& survey, const Tube& truth, double at) {
  const Section section = truth.section(at);
  double girth = 0.0;
  const int steps = 720;
  for (int i = 0; i < steps; ++i) {
    const SurfaceJet h = section.base_support(Angle::from_degrees(360.0 * i / steps));
    girth += (h.f + h.f_tt) * 2.0 * pi / steps;
  }
  station_at(survey, at).girth = girth + pi * survey.tape_thickness;
}

inline void add_widths(Survey& survey, const Tube& truth, double at, const std::vector<double>& degrees) {
  const Section section = truth.section(at);
  for (double d : degrees) {
    Width width;
    width.direction.facing = Angle::from_degrees(d);
    width.across =
        section.base_support(Angle::from_degrees(d)).f + section.base_support(Angle::from_degrees(d + 180)).f;
    station_at(survey, at).widths.push_back(width);
  }
}

inline void add_widths_around(Survey& survey, const Tube& truth, double at,
                              const std::vector<double>& around) {
  const Section section = truth.section(at);
  for (double s : around) {
    const Angle theta = section.theta_at(s);
    Width width;
    width.direction.around = s;
    width.across = section.base_support(theta).f + section.base_support(theta + Angle::from_degrees(180)).f;
    station_at(survey, at).widths.push_back(width);
  }
}

/// Heights over the board from flat to flat; `turn`: the whole tube turned back by so many degrees.
inline void add_heights(Survey& survey, const Tube& truth, double at, double turn = 0.0) {
  const Section section = truth.section(at);
  for (int i = 0; i < survey.plates->flats; ++i) {
    const Angle theta = Angle::from_degrees(360.0 * i / survey.plates->flats + turn);
    station_at(survey, at)
        .heights.push_back(section.base_support(theta).f + 0.5 * survey.plates->across_flats);
  }
}

inline void add_bow(Survey& survey, const Tube& truth, double at, double degrees) {
  const Angle theta = Angle::from_degrees(degrees);
  const auto h = [&](double place) { return truth.section(place).base_support(theta).f; };
  const double share = (at - truth.end_a_at()) / truth.length();
  const double line = h(truth.end_a_at()) * (1 - share) + h(truth.end_b_at()) * share;
  BowReading bow;
  bow.at = at;
  bow.facing = theta;
  bow.gap = std::abs(line - h(at));
  bow.convex = h(at) > line;
  survey.bow.push_back(bow);
}

inline void add_walls(Survey& survey, const Tube& truth, const std::vector<double>& at, int count) {
  for (double place : at) {
    for (int i = 0; i < count; ++i) {
      WallReading wall;
      wall.at = place;
      wall.direction.facing = Angle::from_degrees(360.0 * i / count);
      wall.thickness = truth.section(place).wall(*wall.direction.facing);
      survey.walls.push_back(wall);
    }
  }
}

/// The same survey with the instruments' errors on every reading; the directions are taken as they are.
inline Survey with_noise(Survey survey, unsigned seed) {
  std::mt19937 generator(seed);
  std::normal_distribution<double> normal;
  for (Station& station : survey.stations) {
    if (station.girth) *station.girth += survey.errors.tape * normal(generator);
    for (Width& width : station.widths) {
      width.across += survey.errors.caliper * normal(generator);
    }
    for (auto& height : station.heights) {
      if (height) *height += survey.errors.height * normal(generator);
    }
  }
  for (BowReading& bow : survey.bow) bow.gap += survey.errors.straightedge * normal(generator);
  for (WallReading& wall : survey.walls) wall.thickness += survey.errors.wall * normal(generator);
  return survey;
}

}  // namespace culmwright::test
