#pragma once
/// Puts texts near what they name so that nothing is overprinted: no text meets another text or a line that
/// it must not cross; where it cannot stand beside its anchor a leader line joins them.
#include <optional>
#include <vector>

#include "drawing/plane.hpp"

namespace culmwright {

struct LabelWish {
  Text text;                 ///< `at`, `anchor` are chosen by the placer; rotation is kept
  Vec2 anchor_point;         ///< what is named
  double clear = 0.0;        ///< radius around the anchor point that the text keeps out of
  double farthest = 40.0;    ///< farthest distance of the text's box from the anchor point
  double leader_from = 3.0;  ///< a text farther than `clear` + this gets a leader
  Vec2 preferred{1.0, 0.0};  ///< direction in which it would best stand
};

struct PlacedLabel {
  Text text;
  std::optional<Segment> leader;
};

class LabelPlacer {
 public:
  /// Texts stay inside `bounds` and keep `gap` from everything.
  explicit LabelPlacer(Box bounds, double gap = 0.8) : bounds_(bounds), gap_(gap) {}

  void keep_off(const Quad& quad) { boxes_.push_back(quad); }
  void keep_off(const Box& box);
  void keep_off(const Text& text) { boxes_.push_back(text_box(text)); }
  /// A line that no text may touch; leaders may cross it.
  void keep_off(const Polyline& line, bool closed = false);

  /// The nearest free place, in growing rings of 32 directions, the preferred one first; from then on it is
  /// an obstacle itself. None when there is no room within `farthest`.
  std::optional<PlacedLabel> place(const LabelWish& wish);
  /// Whether a text could stand exactly there.
  bool free(const Text& text) const;

 private:
  bool leader_free(const Segment& leader) const;
  std::optional<PlacedLabel> tried(const LabelWish& wish, Angle way, double away) const;

  Box bounds_;
  double gap_;
  std::vector<Quad> boxes_;
  std::vector<Segment> lines_;
  std::vector<Segment> leaders_;
};

}  // namespace culmwright
