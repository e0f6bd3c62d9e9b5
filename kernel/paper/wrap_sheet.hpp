#pragma once
/// One sheet of a wrap template.
#include <set>
#include <string>
#include <vector>

#include "drawing/label_placer.hpp"
#include "paper/net.hpp"
#include "paper/sheet_plan.hpp"
#include "paper/sheet_words.hpp"
#include "paper/wrap_features.hpp"

namespace culmwright {

/// A ringed cross on a joint, repeated on both sheets: held against a window, equal letters are laid on each
/// other.
struct JointMark {
  Vec2 place;  ///< in the plane of the net
  std::string letter;
};

constexpr Angle upward = Angle::from_degrees(-90.0);  ///< of a text that reads from below

inline LabelWish label_wish(std::vector<LabelLine> lines) {
  LabelWish wish;
  wish.lines = std::move(lines);
  return wish;
}

/// What all sheets of a template share.
struct WrapContent {
  Net net;
  Instrument instrument;
  std::vector<Feature> features;
  /// Outlines and insides of the features on the net, in their order.
  std::vector<std::vector<Polyline>> flat;
  std::vector<std::vector<Polyline>> inside;
  std::vector<SkinCurve> relief;  ///< slits over ridges
  std::vector<SkinCurve> limits;  ///< lines that no hole's edge may pass
  SheetPlan plan;
  std::vector<JointMark> marks;
  std::vector<Block> words;  ///< of every sheet: all blocks but map, legend and title
  std::string paper;
  /// Of the whole template; one more than those of the plan when the words have one of their own.
  int sheets = 1;

  /// Of one of the features above.
  const std::vector<Polyline>& flat_of(const Feature& feature) const {
    return flat[static_cast<std::size_t>(&feature - features.data())];
  }
  const std::vector<Polyline>& inside_of(const Feature& feature) const {
    return inside[static_cast<std::size_t>(&feature - features.data())];
  }
};

/// "Wrap template: piece …, instrument …, revision …, DRAFT, sheet 1 of 3".
std::string sheet_title(const WrapContent& content, int sheet);
TitleBlock sheet_title_block(const WrapContent& content, int sheet);

class WrapSheet {
 public:
  WrapSheet(const WrapContent& content, int column, int row);
  Page draw();

 private:
  void draw_edges();
  void draw_nodes();
  void draw_limits();
  void draw_relief();
  void draw_blemishes();
  void draw_lines();
  void draw_cuts_and_ends();
  void draw_features();
  void draw_hole(const Feature& feature);
  void draw_centre(Vec2 middle, const Feature& feature);
  void draw_slider(const Feature& feature);
  void draw_small_hole(const SkinCurve& rim);
  void draw_hands();
  void draw_hand(Hand hand);
  std::optional<double> free_ruling(double at_from, double at_to) const;
  /// The reference line, and the key line where it is another.
  std::vector<SkinCurve> upright_lines() const;
  void draw_datum();
  void draw_joints();
  void name_holes_first();
  void name_holes();
  void name_sides();
  bool name_sides_in_rows(double tall, double less, bool two_rows, double within);
  void name_cuts();
  void name_ends();
  void name_rest();
  void name_line(const SkinCurve& line, const std::string& words);
  void name_edges();
  void name_tab();
  void name_piece();
  void name_joints();
  void place_words();

  Vec2 on_page(Vec2 flat) const { return flat + shift_; }
  /// Draws lines of the net's plane, cut to this sheet; texts keep off them.
  /// Whether anything of them was on it.
  bool lines(const std::string& group, const std::vector<Polyline>& flat, LineType type);
  void hatching(const std::string& group, const std::vector<Polyline>& regions, double degrees,
                double spacing);
  void put(const PlacedLabel& label);
  bool put_centred(const LabelWish& wish, const std::vector<Vec2>& candidates);
  /// The first of the variants that finds a place: on the wrap at one of the candidates, else on the paper
  /// beside it, near the first candidate. Throws GeometryError, naming `what`, when the sheet is too full.
  void put_somewhere(const std::vector<LabelWish>& variants, const std::vector<Vec2>& candidates,
                     const std::string& what);
  bool put_with_leader(const LabelWish& wish);
  /// Lets names stand anywhere in the window, or on this sheet's part of the wrap again.
  void let_outside(bool outside);
  /// Whether a point of the skin belongs to this sheet, joints its edges.
  bool here(Vec2 theta_at) const;
  bool drawn_here(const Feature& feature) const;
  int sheet() const { return row_ * content_.plan.across() + column_ + 1; }
  /// Whether the key line lies on the reference line.
  bool one_line() const;
  const Feature* touch_around(const Feature& hole) const;
  /// Outlines of all that does not stand about this middle, on the page.
  std::vector<Segment> outlines_but(Vec2 middle) const;
  std::vector<Vec2> grid(Box area, Vec2 nearest_to) const;

  const WrapContent& content_;
  const Tube& tube_;
  int column_;
  int row_;
  Polyline outline_;  ///< on the page
  Vec2 shift_;        ///< from the plane of the net to the page
  Box shown_;         ///< on the page
  Box core_;          ///< on the page
  Page page_;
  LabelPlacer placer_;
  std::set<Sign> signs_;
  bool lines_drawn_ = false;
  std::vector<PlacedLabel> placed_;
  std::vector<Quad> on_lines_;  ///< names placed before the reference and key line, which are broken there
};

}  // namespace culmwright
