#pragma once
/// The survey's readings as one list, each with what the present shape predicts for it. For the fit alone.
#include <string>
#include <vector>

#include "tube/fit_parameters.hpp"

namespace culmwright {

struct Reading {
  enum class Kind { width, girth, height, bow, wall };
  Kind kind = Kind::girth;
  double at = 0.0;
  Direction direction;
  double read = 0.0;
  bool convex = false;
  std::string pointer;
  std::string what;
  std::optional<double> sigma = std::nullopt;  ///< where it differs from its instrument's
};

struct Readings {
  std::vector<Reading> list;
  std::vector<const Station*> stations;  ///< outside node bands, with at least one reading, in order
  std::vector<int> highest_even;         ///< per station, the highest order it can tell; 0 when none
  std::vector<int> highest_odd;
  std::vector<double> wall_at;  ///< places of wall readings, those within 2 mm taken together
  std::vector<int> highest_wall;
  bool has_heights = false;
  double mean_radius = 0.0;
  double mean_wall = 0.0;
};

/// Precondition: check_readings found nothing. The survey must outlive the result.
Readings readings_of(const Survey& survey);

/// Whether the readings suffice for a tube: a station with a girth, width or heights outside the node bands,
/// no end more than 30 mm beyond the stations, a wall reading.
Problems check_readings(const Survey& survey);

/// Whether a station stands inside a node's band, where it describes the ridge and not the skin.
bool in_node_band(const Survey& survey, double at);

struct Prediction {
  double value = 0.0;
  double sigma = 0.0;  ///< of the reading, the error of its direction included
};

/// What `tube` predicts; adds the reading's gradient to `row`.
Prediction predict(const Reading& reading, const Tube& tube, const Survey& survey,
                   const FitParameters& parameters, std::vector<double>& row);

}  // namespace culmwright
