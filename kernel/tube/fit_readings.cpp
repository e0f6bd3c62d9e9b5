#include "tube/fit_readings.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"

namespace culmwright {

namespace {

using Field = FitParameter::Field;

/// Directions nearer than this are one direction as far as orders are concerned.
constexpr double distinct_degrees = 10.0;
/// Farther than this beyond the last station nothing is assumed.
constexpr double reach_beyond_stations = 30.0;
/// Wall readings nearer than this along the tube belong to one place.
constexpr double same_wall_place = 2.0;

std::string at_text(double at) {
  return fixed_text(at, 1);
}

double rough_degrees(const Direction& direction, double radius) {
  if (direction.facing) return direction.facing->degrees();
  return *direction.around / radius * 180.0 / pi;
}

/// How many directions, taken modulo `turn` degrees, are distinct.
int distinct(std::vector<double> degrees, double turn) {
  for (double& d : degrees) d -= turn * std::floor(d / turn);
  std::sort(degrees.begin(), degrees.end());
  int count = 0;
  double last = -1e9;
  for (double d : degrees) {
    if (d - last < distinct_degrees) continue;
    if (count > 0 && degrees.front() + turn - d < distinct_degrees) continue;
    ++count;
    last = d;
  }
  return count;
}

double radius_of(const Station& station, const Survey& survey) {
  if (station.girth) return *station.girth / (2.0 * pi);
  if (!station.widths.empty()) return 0.5 * station.widths.front().across;
  double sum = 0.0;
  int count = 0;
  for (const auto& height : station.heights) {
    if (!height) continue;
    sum += *height - 0.5 * survey.plates->across_flats;
    ++count;
  }
  return sum / count;
}

bool has_reading(const Station& station) {
  return station.girth || !station.widths.empty() ||
         std::any_of(station.heights.begin(), station.heights.end(),
                     [](const auto& h) { return h.has_value(); });
}

void list_station(const Survey& survey, std::size_t index, Readings& readings) {
  const Station& station = survey.stations[index];
  const std::string base = "/stations/" + std::to_string(index);
  const auto add = [&](Reading::Kind kind, Direction direction, double read, const std::string& pointer,
                       const std::string& what) {
    readings.list.push_back(
        {kind, station.at, direction, read, false, base + pointer, what + " at " + at_text(station.at)});
  };
  if (station.girth) add(Reading::Kind::girth, {}, *station.girth, "/girth", "girth");
  for (std::size_t i = 0; i < station.widths.size(); ++i) {
    add(Reading::Kind::width, station.widths[i].direction, station.widths[i].across,
        "/widths/" + std::to_string(i), "width");
  }
  for (std::size_t i = 0; i < station.heights.size(); ++i) {
    if (!station.heights[i]) continue;
    Direction direction;
    direction.facing = Angle::from_degrees(360.0 * static_cast<double>(i) / survey.plates->flats);
    add(Reading::Kind::height, direction, *station.heights[i], "/heights/" + std::to_string(i), "height");
  }
}

void list_walls(const Survey& survey, Readings& readings) {
  std::vector<std::pair<double, std::vector<double>>> places;
  std::vector<std::size_t> order(survey.walls.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(),
                   [&](auto a, auto b) { return survey.walls[a].at < survey.walls[b].at; });
  for (std::size_t i : order) {
    const WallReading& wall = survey.walls[i];
    const std::string what =
        wall.through.empty() ? "wall at " + at_text(wall.at) : "wall through hole " + wall.through;
    readings.list.push_back({Reading::Kind::wall, wall.at, wall.direction, wall.thickness, false,
                             "/walls/" + std::to_string(i), what, wall.error});
    readings.mean_wall += wall.thickness / static_cast<double>(survey.walls.size());
    if (places.empty() || wall.at - places.back().first > same_wall_place) places.push_back({wall.at, {}});
    places.back().second.push_back(rough_degrees(wall.direction, readings.mean_radius));
  }
  for (const auto& [at, degrees] : places) {
    readings.wall_at.push_back(at);
    readings.highest_wall.push_back(std::min(2, distinct(degrees, 360.0) / 2));
  }
}

double line_between_ends(const Tube& tube, Angle theta, double at) {
  const double a = tube.shape().skin.section(tube.end_a_at())(theta).f;
  const double b = tube.shape().skin.section(tube.end_b_at())(theta).f;
  return a + (b - a) * (at - tube.end_a_at()) / tube.length();
}

Angle direction_of(const Reading& reading, const Tube& tube) {
  if (reading.direction.facing) return *reading.direction.facing;
  return tube.section(reading.at).theta_at(*reading.direction.around);
}

/// Adds factor · dθ/d(unknowns) for the direction at a fixed arc length from the reference line:
///   s = ∫ h dφ from the line's direction to θ, plus h′(θ) − h′(line), stays; the line itself moves by
///   δline = −(δh tan + δh′) / (h + h″), so that δθ = −(∫ δh dφ + δh′(θ) + δh tan at the line) / (h + h″)(θ).
void add_direction_gradient(const Reading& reading, const Tube& tube, Angle theta, double factor,
                            const FitParameters& parameters, std::vector<double>& row) {
  const Section section = tube.section(reading.at);
  const Angle line = section.line();
  const auto radius = [&](Angle t) {
    const SurfaceJet h = section.support(t);
    return h.f + h.f_tt;
  };
  const double per_arc = -factor / radius(theta);
  const auto add = [&](Angle t, double weight, int derivative) {
    parameters.add_gradient(Field::skin, reading.at, t, weight, derivative, row);
  };
  constexpr int steps = 24;  // midpoint rule, ample for a derivative that only steers the iteration
  const Angle step = (theta - line) * (1.0 / steps);
  for (int i = 0; i < steps; ++i) add(line + step * (i + 0.5), per_arc * step.radians(), 0);
  add(theta, per_arc, 1);
  add(line, per_arc * line.sin() / line.cos(), 0);
}

/// One standard deviation of the direction itself, as an angle.
double direction_sigma(const Reading& reading, const Survey& survey, double radius) {
  if (reading.direction.around) return survey.errors.around / radius;
  return reading.kind == Reading::Kind::height ? 0.0 : survey.errors.protractor.radians();
}

}  // namespace

bool in_node_band(const Survey& survey, double at) {
  return std::any_of(survey.nodes.begin(), survey.nodes.end(), [&](const Node& node) {
    const double reach = 0.5 * node.band + 0.5 * std::abs(node.at_line - node.at_far);
    return node.ridge_height > 0.0 && std::abs(at - node.at()) < reach;
  });
}

Readings readings_of(const Survey& survey) {
  Readings readings;
  double sum = 0.0;
  for (std::size_t i = 0; i < survey.stations.size(); ++i) {
    const Station& station = survey.stations[i];
    if (in_node_band(survey, station.at) || !has_reading(station)) continue;
    readings.stations.push_back(&station);
    sum += radius_of(station, survey);
    list_station(survey, i, readings);
  }
  readings.mean_radius = sum / static_cast<double>(readings.stations.size());
  for (const Station* station : readings.stations) {
    std::vector<double> degrees;
    for (const Width& width : station->widths) {
      degrees.push_back(rough_degrees(width.direction, readings.mean_radius));
    }
    const int widths = distinct(degrees, 180.0);
    int heights = 0;
    for (const auto& height : station->heights) heights += height.has_value();
    const int resolved = heights > 2 ? heights / 2 - 1 : 0;
    readings.has_heights = readings.has_heights || heights > 2;
    readings.highest_even.push_back(std::max(widths >= 2 ? 2 * (widths / 2) : 0, resolved));
    readings.highest_odd.push_back(resolved);
  }
  list_walls(survey, readings);
  for (std::size_t i = 0; i < survey.bow.size(); ++i) {
    const BowReading& bow = survey.bow[i];
    Reading reading{Reading::Kind::bow,
                    bow.at,
                    {},
                    bow.gap,
                    bow.convex,
                    "/bow/" + std::to_string(i) + "/gap",
                    "gap under the straightedge at " + at_text(bow.at)};
    reading.direction.facing = bow.facing;
    readings.list.push_back(reading);
  }
  return readings;
}

Problems check_readings(const Survey& survey) {
  Problems problems;
  double first = 1e300;
  double last = -1e300;
  for (const Station& station : survey.stations) {
    if (in_node_band(survey, station.at) || !has_reading(station)) continue;
    first = std::min(first, station.at);
    last = std::max(last, station.at);
  }
  if (first > last) {
    problems.push_back({"no-station",
                        {"", 0, 0, "/stations"},
                        "no station with a girth, a width or heights outside the nodes' bands",
                        "at least one, and two for a taper",
                        "Measure the girth near both ends, clear of the nodes"});
  } else {
    const auto beyond = [&](double gap, const char* end) {
      if (gap <= reach_beyond_stations) return;
      problems.push_back(
          {"beyond-stations",
           {"", 0, 0, "/stations"},
           std::string("end ") + end + " lying " + at_text(gap) + " mm beyond the last station",
           "at most " + at_text(reach_beyond_stations) + " mm",
           std::string("Measure a station nearer to end ") + end});
    };
    beyond(first - survey.end_a_at(), "A");
    beyond(survey.end_b_at() - last, "B");
  }
  if (survey.walls.empty()) {
    problems.push_back({"no-wall",
                        {"", 0, 0, "/walls"},
                        "no wall reading",
                        "at least one, four at each end for a good survey",
                        "Measure the wall at the ends"});
  }
  return problems;
}

Prediction predict(const Reading& reading, const Tube& tube, const Survey& survey,
                   const FitParameters& parameters, std::vector<double>& row) {
  const Angle half_turn = Angle::from_degrees(180.0);
  const InstrumentErrors& errors = survey.errors;
  const Angle theta = reading.kind == Reading::Kind::girth ? Angle() : direction_of(reading, tube);
  const FourierSection section = tube.shape().skin.section(reading.at);
  const auto add = [&](Field field, double at, Angle direction, double factor) {
    parameters.add_gradient(field, at, direction, factor, 0, row);
  };
  Prediction prediction;
  double slope = 0.0;  // of the reading by its direction
  switch (reading.kind) {
    case Reading::Kind::width: {
      const SurfaceJet near = section(theta);
      const SurfaceJet far = section(theta + half_turn);
      prediction = {near.f + far.f, errors.caliper};
      slope = near.f_t + far.f_t;
      add(Field::skin, reading.at, theta, 1.0);
      add(Field::skin, reading.at, theta + half_turn, 1.0);
      break;
    }
    case Reading::Kind::girth:
      prediction = {2.0 * pi * section.mean() + pi * survey.tape_thickness, errors.tape};
      // The mean over a turn keeps order 0 alone.
      for (int i = 0; i < 32; ++i) {
        add(Field::skin, reading.at, Angle::from_degrees(11.25 * i), 2.0 * pi / 32);
      }
      break;
    case Reading::Kind::height:
      prediction = {section(theta).f + 0.5 * survey.plates->across_flats, errors.height};
      add(Field::skin, reading.at, theta, 1.0);
      break;
    case Reading::Kind::bow: {
      const double side = reading.convex ? -1.0 : 1.0;
      const double share = (reading.at - tube.end_a_at()) / tube.length();
      prediction = {side * (line_between_ends(tube, theta, reading.at) - section(theta).f),
                    errors.straightedge};
      add(Field::skin, tube.end_a_at(), theta, side * (1.0 - share));
      add(Field::skin, tube.end_b_at(), theta, side * share);
      add(Field::skin, reading.at, theta, -side);
      break;
    }
    case Reading::Kind::wall: {
      const Section cut = tube.section(reading.at);
      prediction = {cut.wall(theta), reading.sigma.value_or(errors.wall)};
      slope = tube.shape().wall.section(reading.at)(theta).f_t;
      add(Field::wall, reading.at, theta, 1.0);
      break;
    }
  }
  if (reading.direction.around) {
    add_direction_gradient(reading, tube, theta, slope, parameters, row);
  }
  prediction.sigma = std::hypot(prediction.sigma, slope * direction_sigma(reading, survey, section.mean()));
  return prediction;
}

}  // namespace culmwright
