#pragma once
/// The rules one by one, as `check` (fit/rules.hpp) calls them. Each returns what Tally keeps.
#include "fit/frame.hpp"
#include "fit/outline.hpp"
#include "fit/played_hands.hpp"
#include "fit/rules.hpp"
#include "tube/survey_fit.hpp"

namespace culmwright {

/// A hand laid on the instrument.
struct ReachedHand {
  PlayedHand played;
  HandOnTube laid;
};

/// Everything that the rules read, solved once.
struct LaidOut {
  const Tube& tube;
  const KeyLayout& layout;
  const Instrument& instrument;
  const TubeFit* fit;  ///< none where only the tube is known
  PlayedFrame frame;
  std::vector<Outline> holes;    ///< rims, as instrument.keys
  std::vector<Outline> touches;  ///< as instrument.keys
  std::vector<Outline> parts;    ///< footprints (a slider's with its travel), as instrument.parts
  std::vector<ReachedHand> hands;  ///< none where their size is not known

  LaidOut(const Tube& tube_in, const KeyLayout& layout_in, const Instrument& instrument_in,
          const TubeFit* fit_in = nullptr);
  const std::string& key_id(std::size_t i) const { return instrument.keys[i].key.id; }
  const std::string& part_id(std::size_t i) const { return instrument.parts[i].part.id; }
  bool is(std::size_t part, PartKind kind) const { return instrument.parts[part].part.kind == kind; }
};

/// Keeps what a rule has to report: all that fails, else the least margin.
class Tally {
 public:
  explicit Tally(const char* rule_id);

  /// A value that must be at least / at most its limit.
  Finding at_least(double value, double limit) const;
  Finding at_most(double value, double limit) const;
  void add(Finding finding);
  /// A finding with more margin than this would not be kept.
  double margin_that_matters() const;
  std::vector<Finding> take() &&;

 private:
  Finding started(double value, double limit, double margin) const;
  const Rule& rule_;
  std::vector<Finding> failing_;
  std::optional<Finding> closest_;
};

// What is left of the wall (rules_wall.cpp).
std::vector<Finding> webs_along(const LaidOut& laid);
std::vector<Finding> webs_around(const LaidOut& laid);
std::vector<Finding> opening_webs(const LaidOut& laid);
std::vector<Finding> girth_lost(const LaidOut& laid);

// Bending stiffness left at the weakest section (rules_section.cpp).
std::vector<Finding> weakest_section(const LaidOut& laid);

// Where a hole may not be (rules_place.cpp).
std::vector<Finding> node_distance(const LaidOut& laid);
std::vector<Finding> end_distance(const LaidOut& laid);
std::vector<Finding> blemishes_avoided(const LaidOut& laid);
std::vector<Finding> groove_under_hole(const LaidOut& laid);
std::vector<Finding> fibre_line(const LaidOut& laid);

// The hole itself (rules_hole.cpp).
std::vector<Finding> hole_to_width(const LaidOut& laid);
std::vector<Finding> hole_tilt(const LaidOut& laid);
std::vector<Finding> break_through(const LaidOut& laid);

// Hands, touches and parts (rules_hands.cpp, rules_parts.cpp).
std::vector<Finding> hands_order(const LaidOut& laid);
std::vector<Finding> hands_apart(const LaidOut& laid);
std::vector<Finding> touches_apart(const LaidOut& laid);
std::vector<Finding> rest_on_sound_wall(const LaidOut& laid);
std::vector<Finding> least_length(const LaidOut& laid);
std::vector<Finding> greatest_length(const LaidOut& laid);

// What came out of the drill (rules_drilled.cpp).
std::vector<Finding> drilled_flange(const LaidOut& laid);
std::vector<Finding> drilled_size(const LaidOut& laid);
std::vector<Finding> drilled_wall(const LaidOut& laid);
/// What can be done about a broken rule that concerns a drilled hole, as further sentences; empty where the
/// finding passes or concerns none.
std::string drilled_remedy(const Finding& finding, const Instrument& instrument);

// Whether the player reaches it, where the hand's size is known (rules_reach.cpp).
std::vector<Finding> fingers_reach(const LaidOut& laid);
std::vector<Finding> thumbs_reach(const LaidOut& laid);

// Whether the piece is still what was surveyed (rules_moved.cpp).
std::vector<Finding> tube_moved(const LaidOut& laid);

}  // namespace culmwright
