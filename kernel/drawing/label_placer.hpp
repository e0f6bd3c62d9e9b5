#pragma once
/// Puts texts near what they name so that nothing is overprinted: no text meets another text or a line that
/// it must not cross; where it cannot stand beside its anchor a leader line joins them.
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "drawing/plane.hpp"

namespace culmwright {

struct LabelLine {
  std::string words;
  double height = 2.5;
  Weight weight = Weight::regular;
};

struct LabelWish {
  std::vector<LabelLine> lines;  ///< set one under the other, centred
  Angle rotation;
  Vec2 anchor_point;                   ///< what is named
  double clear = 0.0;                  ///< radius around the anchor point that the label keeps out of
  double farthest = 40.0;              ///< farthest distance of the label's box from the anchor point
  double leader_from = 3.0;            ///< a label farther than `clear` + this gets a leader
  Vec2 preferred{1.0, 0.0};            ///< direction in which it would best stand
  std::vector<Segment> leader_avoids;  ///< lines that its leader must not cross
};

struct PlacedLabel {
  std::vector<Text> texts;
  Quad box{};
  std::optional<Segment> leader;
};

class LabelPlacer {
 public:
  /// Texts stay inside `bounds` and keep `gap` from everything.
  explicit LabelPlacer(Box bounds, double gap = 0.8) : bounds_(bounds), gap_(gap) {}

  /// From now on labels stay inside this box, and inside this polygon unless it is empty.
  void stay_within(Box bounds, Polyline polygon) {
    bounds_ = bounds;
    region_ = std::move(polygon);
  }
  void keep_off(const Quad& quad) { boxes_.push_back(quad); }
  void keep_off(const Box& box);
  void keep_off(const Text& text) { boxes_.push_back(text_box(text)); }
  /// A line that no text may touch; leaders may cross it.
  void keep_off(const Polyline& line, bool closed = false);

  /// The nearest free place, in growing rings of 32 directions, the preferred one first; from then on it is
  /// an obstacle itself. None when there is no room within `farthest`.
  std::optional<PlacedLabel> place(const LabelWish& wish);
  /// The first of the candidates at which the label, centred there, is free. No leader.
  std::optional<PlacedLabel> place_centred(const LabelWish& wish, const std::vector<Vec2>& candidates);
  /// Labels that belong together, all or none: each at its own place. None when one of them is not free
  /// there.
  std::optional<std::vector<PlacedLabel>> place_together(const std::vector<LabelWish>& wishes,
                                                         const std::vector<Vec2>& middles);
  /// Whether a box could stand exactly there, with the gap around it.
  bool free(const Quad& box) const;

 private:
  void add_line(const Segment& line);
  bool leader_free(const Segment& leader) const;
  std::optional<PlacedLabel> tried(const PlacedLabel& at_origin, const LabelWish& wish, Angle way,
                                   double away) const;

  Box bounds_;
  double gap_;
  Polyline region_;
  std::vector<Quad> boxes_;
  /// By bands of the page, so that only those near a label are looked at.
  std::map<int, std::vector<Segment>> lines_;
  std::vector<Segment> leaders_;
};

}  // namespace culmwright
