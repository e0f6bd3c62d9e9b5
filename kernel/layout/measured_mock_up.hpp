#pragma once
/// What the maker measured on the mock-up, after holding it and moving its patches, as read and before
/// anything is concluded from it (fit/remeasure.hpp). Millimetres. Distances have no sign: a direction says
/// in words which way.
///
/// A *reading* is one distance: where one thing (`what`) lies, counted from another (`from`).
///
///   way       what it is                               from                              direction
///   along     along the tube, a rule laid alongside    end A, end B, mouth cut,          toward foot |
///   mouth,
///                                                      foot cut, datum, a key or part    toward A | B
///   around    along the skin, square to the tube       reference line, key line,         to player's left |
///                                                      a key or part                     right
///   skin      the shortest way on the skin, a paper    a key or part                     none
///             strip laid from one to the other
///   straight  through the air, caliper point to point  a key or part                     none
///
/// From an end or a cut the direction is into the tube, from the datum toward B, where none is said. `around`
/// from a key or part is the difference of the two distances from the key line.
///
/// A *mark* is a place on a paper wrap that was unrolled and measured: along from the mouth cut, around from
/// a line. Marks that name hand and finger are enough to make a key layout from.
#include <optional>
#include <string>
#include <vector>

#include "base/problem.hpp"
#include "layout/key_layout.hpp"

namespace culmwright {

enum class Way { along, around, skin, straight };

enum class Toward { foot, mouth, end_a, end_b, players_left, players_right };

/// Where on a thing the rule was held. Edges are those of the touch or footprint, or of the hole's rim, on
/// the side toward the other thing (near) or away from it (far).
enum class ReadingPoint { centre, near_edge, far_edge, near_hole_edge, far_hole_edge };

enum class MeasuredBy { rule, tape, caliper };

/// One standard deviation of a distance by each instrument, as the maker judges it. Defaults: common
/// practice at a bench, the mark on the patch included.
struct ReadingErrors {
  double rule = 0.5;
  double tape = 0.5;
  double caliper = 0.1;
  double of(MeasuredBy by) const {
    return by == MeasuredBy::rule ? rule : by == MeasuredBy::tape ? tape : caliper;
  }
};

/// What is not an id of a key or part. Ids hold no space, so they cannot be mistaken for one another.
namespace mark_on_tube {
constexpr const char* end_a = "end A";
constexpr const char* end_b = "end B";
constexpr const char* mouth_cut = "mouth cut";
constexpr const char* foot_cut = "foot cut";
constexpr const char* datum = "datum";
constexpr const char* reference_line = "reference line";
constexpr const char* key_line = "key line";
}  // namespace mark_on_tube

struct MockUpReading {
  std::string what;  ///< id of a key or part, or "mouth cut", "foot cut", "key line"
  Way way = Way::along;
  double distance = 0.0;
  std::string from;  ///< see the table above
  std::optional<Toward> direction;
  ReadingPoint point = ReadingPoint::centre;       ///< of `what`
  ReadingPoint from_point = ReadingPoint::centre;  ///< of `from`
  /// Of the key line: where it was measured, along from the mouth cut.
  std::optional<double> level;
  MeasuredBy by = MeasuredBy::rule;
  std::optional<double> error;  ///< one standard deviation; otherwise the instrument's
  std::string note;
};

/// Which line of the wrap a mark's `around` counts from.
enum class WrapLine { key_line, reference_line };

struct WrapMark {
  std::string key;                  ///< or part
  std::optional<double> along;      ///< from the mouth cut
  std::optional<double> around;     ///< from `line`
  std::optional<Toward> direction;  ///< of `around`; none on the line itself
  WrapLine line = WrapLine::key_line;
  std::optional<Hand> hand;
  std::optional<Finger> finger;
  std::optional<double> hole_diameter;
  std::optional<double> error;  ///< of both; otherwise the rule's
  std::string note;
};

struct MeasuredMockUp {
  std::string placement_id;  ///< that was held as a mock-up; empty: the one at hand
  std::string date;
  std::string note;
  ReadingErrors errors;
  /// Of the wrap: what was measured on it unrolled lay half of this outside the skin. 80 g/m².
  double paper_thickness = 0.10;
  std::vector<MockUpReading> readings;
  std::vector<WrapMark> marks;
};

/// What cannot be true of it by itself: a way that does not fit its direction or where it counts from, a
/// thing measured from itself, a mark with neither number, a key twice among the marks. Pointers are those of
/// the JSON document. A NaN raises no problem.
Problems check_measured_mock_up(const MeasuredMockUp& mock_up);

/// "toward foot", "to player's left": as in documents and sentences.
const char* words_of(Toward direction);
const char* words_of(ReadingPoint point);

}  // namespace culmwright
