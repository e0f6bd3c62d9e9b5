#pragma once
/// What a survey says: the figures of the piece with their uncertainties (one standard deviation), what looks
/// wrong, and which reading would help most next.
#include <optional>
#include <string>
#include <vector>

#include "tube/survey_fit.hpp"

namespace culmwright {

/// A figure and its standard deviation.
struct Figure {
  double value = 0.0;
  double sigma = 0.0;
};

/// The piece at one station. Diameter: mean of the greatest and the least width; ovality
/// 2 (Dmax − Dmin) / (Dmax + Dmin): ISO 19624 (from memory).
struct StationFigures {
  double at = 0.0;
  Figure girth;
  double greatest = 0.0;
  double least = 0.0;
  double diameter() const { return 0.5 * (greatest + least); }
  double ovality() const { return 2.0 * (greatest - least) / (greatest + least); }
  Figure wall;  ///< mean around
};

struct Internode {
  double from_at = 0.0;  ///< an end, or a node's middle
  double to_at = 0.0;
  double length() const { return to_at - from_at; }
};

struct SurveyRemark {
  std::string
      code;  ///< "reading-off", "density", "station-on-node", "no-station-between-nodes", "ovality-turns"
  std::string pointer;  ///< of the reading concerned; may be empty
  std::string text;
};

/// A reading that would help, for a program to ask for.
struct ReadingWish {
  enum class Kind { girth, widths, heights, gap, station };
  Kind kind = Kind::girth;
  double at = 0.0;
  Angle facing;  ///< of a gap
};

struct NextReading {
  std::string text;             ///< empty when no single reading would lower the error by a twentieth
  double hole_error_now = 0.0;  ///< root mean square error of a hole's place, over the piece or given places
  double hole_error_after = 0.0;
  std::string without_plates;  ///< when the best needs survey plates: the best that does not, if it helps
  double hole_error_without_plates = 0.0;
  std::optional<ReadingWish> wish;  ///< the best that needs no survey plates, if it helps
  bool good_enough = false;         ///< already below what fingers accept
};

struct SurveyReport {
  std::vector<StationFigures> stations;
  Figure taper;       ///< external, (D₁ − D₂)/L between the ends, positive when A is the thicker
  double bow = 0.0;   ///< greatest offset of the axis from the straight line / length
  Figure bow_offset;  ///< that offset in millimetres
  double bow_at = 0.0;
  Angle bow_facing;  ///< toward which the belly lies
  std::vector<Internode> internodes;
  Figure volume;  ///< mm³
  std::optional<double> mass_g;
  std::optional<Figure> density;            ///< g/cm³
  std::optional<Figure> centre_of_gravity;  ///< `at`
  std::vector<SurveyRemark> remarks;
  NextReading next;
};

/// Half a millimetre and a little more: what fingers accept of a touch's place. Common practice.
constexpr double accepted_by_fingers = 0.7;

/// g/cm³ of air-dry material. Bamboo: basic densities 0.65 to 0.69 (Rini et al. 2022) with room for species,
/// the outer wall and moisture; the others common practice.
struct DensityRange {
  double least = 0.0;
  double greatest = 0.0;
};
DensityRange plausible_density(Material material);

SurveyReport report_on(const TubeFit& fit);

/// The figures of the skin at one place.
StationFigures figures_at(const TubeFit& fit, double at);

/// Root mean square error of a hole's place over the piece, from the covariance: along the normal and
/// sideways.
double hole_error(const TubeFit& fit);
NextReading next_reading(const TubeFit& fit);

/// The error of one place, whatever it comes from, and how much of it hangs on what a reading could tell.
struct PlaceError {
  double mean_square = 0.0;  ///< all of it
  /// Covariance of each of its components with each of the fit's unknowns.
  std::vector<std::vector<double>> with_unknowns;
  /// Parts of mean_square that lie in what was not measured around `at`: of the skin between the stations, of
  /// the bow between the places where it was read.
  struct Wander {
    double at = 0.0;
    double of_skin = 0.0;
    double of_bow = 0.0;
  };
  std::vector<Wander> wander;
  /// Where with_unknowns was found by drawing: what each reading seems to take away by chance.
  double by_chance = 0.0;
};

/// The same for these places: the reading after which their root mean square error is least.
NextReading next_reading(const TubeFit& fit, const std::vector<PlaceError>& places);

}  // namespace culmwright
