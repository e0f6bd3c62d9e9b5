#pragma once
/// A mock-up patch to print, as numbers: the touch's outline standing on the skin as thick as the shop's
/// foam, to be stuck on, felt and moved.
///
///        .-- round edge --.           c: outward along the skin's normal, 0 on the skin
///       ( top = skin + t   )  c = high
///       |        id        |          seen from outside, mouth end up: X up, Y to the left
///       '~~ skin + glue ~~~'  c = low      ,--^--.   notch in the edge toward the mouth end
///
/// In lengths of skin about the patch's place (plan/skin_chart.hpp): the side walls stand along the skin's
/// normals, the underside is parallel to the skin at the glue line's distance, ridges included. It is printed
/// underside down with support under its arch: the underside is stuck on, the top is what is felt.
#include <optional>
#include <string>
#include <vector>

#include "layout/mock_up.hpp"
#include "layout/shop.hpp"
#include "plan/expectation.hpp"
#include "plan/outline.hpp"
#include "plan/skin_chart.hpp"
#include "plan/stroke_letters.hpp"

namespace culmwright {

/// Sizes of printed patches. Common practice of printed parts.
namespace patch_sizes {
constexpr double least_thickness = 1.2;
constexpr double edge_radius = 1.0;  ///< of the rounded upper edge, at most
constexpr double notch_half = 1.0;   ///< of its width
constexpr double notch_depth = 1.8;
constexpr double engraving = 0.5;  ///< deep
constexpr double least_side = 5.0;
constexpr double greatest_half_deg = 80.0;  ///< of the skin's normal, from the middle to an edge
}  // namespace patch_sizes

struct MockUpPatchPlan {
  MockUpPatch patch;
  SkinChart chart;
  RoundedRectangle outline;  ///< length along x, width along y
  double low = 0.0;          ///< of the underside from the skin
  double high = 0.0;         ///< of the top
  double edge = 0.0;         ///< radius of the upper edge, in (outline's inset, c)
  double mouth = 1.0;        ///< +1: the mouth end lies toward growing x; else −1
  double notch_half = patch_sizes::notch_half;
  double notch_floor = 0.0;            ///< X of the notch's floor
  std::vector<StrokeOutline> strokes;  ///< of the id in the top, in (X, Y), counter-clockwise
  double support = 0.0;                ///< under the arch while it is printed, mm³
  RigidMotion lie;                     ///< into the printing position
  std::vector<std::string> notes;

  std::string part() const { return "mock-up patch " + patch.id; }
  /// From the frame whose X points to the mouth end to the chart's.
  Vec2 on_chart(Vec2 XY) const { return XY * mouth; }
  /// X of the outline moved inward by `inset`, at Y = ± notch_half on the mouth's side.
  double edge_at_notch(double inset) const;
};

/// One piece of the outline, counter-clockwise in (X, Y), t from 0 to 1, moved inward by `inset` from 0 to
/// the edge's radius. The first begins where the notch ends, the last ends where the notch begins.
class PatchPiece {
 public:
  static PatchPiece line(Vec2 from, Vec2 to, Vec2 out);
  /// Angles of its ends about its middle, radians.
  static PatchPiece corner(Vec2 middle, double radius, double from, double to);
  Vec2 at(double t, double inset) const;
  double length() const;
  bool is_corner() const { return radius_ > 0.0; }
  /// It begins, or ends, on the line Y = that height instead, at every inset.
  PatchPiece& begins_at_height(double y) {
    begin_height_ = y;
    return *this;
  }
  PatchPiece& ends_at_height(double y) {
    end_height_ = y;
    return *this;
  }

 private:
  Vec2 from_;  ///< of a line; a corner's middle
  Vec2 to_;
  Vec2 out_;
  double radius_ = 0.0;
  double begin_ = 0.0;
  double end_ = 0.0;
  std::optional<double> begin_height_;
  std::optional<double> end_height_;
};
std::vector<PatchPiece> patch_pieces(const MockUpPatchPlan& plan);

/// Throws GeometryError naming the patch that is narrower than 5 mm, wraps by more than 160° or stands beyond
/// what is known of the tube.
MockUpPatchPlan plan_mock_up_patch(const Tube& tube, const MockUpPatch& patch, End mouth_end,
                                   const Shop& shop);

/// What the solid must be, in the tube's frame. Volume and areas by quadrature over the plan.
Expectation expectation_of(const MockUpPatchPlan& plan);

}  // namespace culmwright
