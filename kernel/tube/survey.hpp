#pragma once
/// What the maker measured on one piece, as read, before anything is concluded from it. Millimetres and
/// grams.
#include <optional>
#include <string>
#include <vector>

#include "tube/directions.hpp"

namespace culmwright {

/// One standard deviation of each instrument, as the maker judges it. Defaults: common practice at a bench.
struct InstrumentErrors {
  double caliper = 0.1;       ///< a width across
  double tape = 0.3;          ///< a girth
  double height = 0.05;       ///< a height over the board
  double straightedge = 0.2;  ///< a gap under a straightedge
  double wall = 0.2;          ///< a wall thickness
  double along = 0.5;         ///< where along the tube a reading was taken
  double around = 0.5;        ///< where around the tube a reading was taken
  Angle protractor = Angle::from_degrees(3.0);
  double scale_g = 0.5;
  double balance = 1.0;  ///< place of the balance point
};

/// A direction in a section, by protractor from the x axis (`facing`) or by where the jaw touches the skin
/// (`around`). Exactly one is set.
struct Direction {
  std::optional<Angle> facing;
  std::optional<double> around;
};

/// A caliper width: the distance between two parallel jaws; `direction` is that of the jaw's outward normal.
struct Width {
  Direction direction;
  double across = 0.0;
};

/// Survey plates: n flats; flat 0 lies at θ = 0, flat i at 360° · i / n.
struct SurveyPlates {
  int flats = 16;
  double across_flats = 0.0;
};

struct Station {
  double at = 0.0;
  std::vector<Width> widths;
  std::optional<double> girth;
  /// One reading a flat, over the board, the flat that faces up: h(θ) + half across-flats. Empty, or as many
  /// as the plates have flats; a skipped one is nullopt.
  std::vector<std::optional<double>> heights;
};

/// A straightedge laid along the tube on side `facing`. Hollow: it touches near both ends, `gap` under it at
/// `at`. Convex: the belly touches; held so that both ends gape alike, the gap at each end is `gap`, `at` the
/// belly.
struct BowReading {
  double at = 0.0;
  Angle facing;
  double gap = 0.0;
  bool convex = false;
};

struct WallReading {
  double at = 0.0;
  Direction direction;
  double thickness = 0.0;
  /// Not written in a tube document: one standard deviation where it differs from `errors.wall`, and the hole
  /// through which it was read (fit/drilled_facts.hpp).
  std::optional<double> error = std::nullopt;
  std::string through = {};
};

/// Bamboo's growth ring. The ridge lies at `at_line` on the reference line's side and at `at_far` on the far
/// side.
struct Node {
  double at_line = 0.0;
  double at_far = 0.0;
  double band = 8.0;          ///< full width along the tube of the ridge
  double ridge_height = 0.0;  ///< greatest height of the ridge over the smooth skin; 0 when sanded
  bool kink = false;          ///< the axis may turn here
  double diaphragm = 3.0;     ///< thickness of the inner plate
  std::optional<double> pierced_diameter;  ///< how wide it is pierced; none when whole

  double at() const { return 0.5 * (at_line + at_far); }
};

/// The hollow above a branch. Not convex: no part of the skin's support, but relief and wall rules read it.
struct Groove {
  SkinPlace place;  ///< its middle
  double length = 0.0;
  double width = 0.0;
  double depth = 0.0;
};

enum class BlemishUse { avoid, hide, note };

struct Blemish {
  SkinPlace place;  ///< its middle
  double length = 0.0;
  double width = 0.0;
  BlemishUse use = BlemishUse::note;
  std::string note;
};

/// An end sawn out of square: its plane leans so that it is lowest (farthest from the middle) toward
/// `toward`.
struct EndTilt {
  Angle tilt;
  Angle toward;
};

/// A girth measured again before drilling, to see whether the piece has moved since its survey.
struct CheckGirth {
  double at = 0.0;
  double girth = 0.0;
  std::string date;
};

enum class Material { bamboo, elder, wood, pipe, other };
enum class Verdict { undecided, keep, aside };

struct Survey {
  std::string id;
  Material material = Material::other;
  std::string species;
  std::string date;
  std::string note;
  Verdict verdict = Verdict::undecided;
  std::string verdict_note;

  double length = 0.0;            ///< end A to end B, along the axis
  double datum_from_end_a = 0.0;  ///< where the datum mark was pricked
  std::optional<End> butt;        ///< the root end, for bamboo
  std::optional<Angle> handsome;  ///< the side to show
  std::optional<EndTilt> tilt_a;
  std::optional<EndTilt> tilt_b;

  InstrumentErrors errors;
  double tape_thickness = 0.0;  ///< a tape of thickness t reads πt too long
  std::optional<SurveyPlates> plates;
  std::vector<Station> stations;
  std::vector<BowReading> bow;
  std::vector<WallReading> walls;
  std::vector<Node> nodes;
  std::vector<Groove> grooves;
  std::vector<Blemish> blemishes;
  std::vector<CheckGirth> check_girths;  ///< no part of the fit

  std::optional<double> mass_g;
  std::optional<double> balance_at;
  std::optional<double> moisture_percent;

  double end_a_at() const { return -datum_from_end_a; }
  double end_b_at() const { return length - datum_from_end_a; }
};

}  // namespace culmwright
