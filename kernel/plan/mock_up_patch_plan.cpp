#include "plan/mock_up_patch_plan.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "plan/guide_face.hpp"

namespace culmwright {

namespace {

using namespace patch_sizes;

constexpr double straight_beside_notch = 0.3;  ///< a shorter piece of edge is given to the notch
constexpr double text_margin = 0.7;
constexpr double ridge_room = 1.0;
constexpr double lettering_scales[] = {1.4, 1.0};

std::string mm(double value) {
  return number_text(value, 3) + " mm";
}

[[noreturn]] void refuse(const MockUpPatchPlan& plan, const std::string& why) {
  throw GeometryError(plan.part(), "plan", why);
}

void check_reach(const MockUpPatchPlan& plan) {
  const Tube& tube = plan.chart.tube();
  const double room = tube.shape().beyond - 1.0;
  const double half = 0.5 * plan.outline.length;
  const double at = plan.chart.at();
  if (at - half < tube.end_a_at() - room || at + half > tube.end_b_at() + room)
    refuse(plan, mm(2.0 * half) + " long, it stands beyond the end of the tube");
  double widest = 0.0;
  for (const double x : {-half, 0.0, half}) {
    for (const double y : {-0.5, 0.5}) {
      const Angle edge = plan.chart.theta({x, y * plan.outline.width});
      widest = std::max(widest, std::abs((edge - plan.chart.theta()).degrees()));
    }
  }
  if (widest > greatest_half_deg) {
    refuse(plan, mm(plan.outline.width) + " wide, it wraps around the tube by " +
                     number_text(2.0 * widest, 3) + "°, more than " + number_text(2.0 * greatest_half_deg) +
                     ": cut it from foam");
  }
}

/// Everything that depends on the outline's corners.
void shape_edge(MockUpPatchPlan& plan, const Shop& shop) {
  const MockUpPatch& patch = plan.patch;
  const double half = 0.5 * std::min(patch.length, patch.width);
  if (2.0 * half < least_side) refuse(plan, "only " + mm(2.0 * half) + " across; at least " + mm(least_side));
  plan.low = shop.fits.glue_line;
  plan.high = std::max(shop.foam_thickness, plan.low + least_thickness);
  if (plan.high > shop.foam_thickness)
    plan.notes.push_back("printed " + mm(plan.high) + " thick, since nothing under " + mm(least_thickness) +
                         " prints well");
  plan.edge = std::min({edge_radius, 0.4 * (plan.high - plan.low), 0.25 * half});
  plan.outline = {patch.length, patch.width, std::clamp(patch.corner_radius, 2.0 * plan.edge, half)};
  const double straight = 0.5 * plan.outline.width - plan.outline.corner;
  if (straight > notch_half && straight < notch_half + straight_beside_notch) plan.notch_half = straight;
  plan.notch_floor = plan.edge_at_notch(0.0) - std::min(notch_depth, 0.25 * plan.outline.length);
}

/// Letters placed about (X, 0): across the patch with the mouth end up, or read along it.
std::vector<StrokeOutline> placed_letters(const Lettering& line, double scale, double X, bool along) {
  std::vector<StrokeOutline> strokes;
  for (const StrokeOutline& stroke : line.strokes) {
    StrokeOutline placed;
    for (const Vec2& p : stroke) {
      const Vec2 off = (p - Vec2{0.5 * line.width, 0.5 * line.height}) * scale;
      placed.push_back(along ? Vec2{X + off.x, off.y} : Vec2{X + off.y, -off.x});
    }
    strokes.push_back(std::move(placed));
  }
  return strokes;
}

bool clear_of_ridges(const MockUpPatchPlan& plan, double X_from, double X_to) {
  const double a = plan.chart.at() + plan.on_chart({X_from, 0.0}).x;
  const double b = plan.chart.at() + plan.on_chart({X_to, 0.0}).x;
  for (const Node& node : plan.chart.tube().nodes()) {
    if (node.ridge_height <= 0.0) continue;
    const double half = 0.5 * (node.band + std::abs(node.at_line - node.at_far)) + ridge_room;
    if (std::max(a, b) > node.at() - half && std::min(a, b) < node.at() + half) return false;
  }
  return true;
}

bool engrave(MockUpPatchPlan& plan, double scale, bool along) {
  const Lettering line = lettering(plan.patch.id);
  const double tall = scale * (along ? line.width : line.height);  // along X
  const double wide = scale * (along ? line.height : line.width);
  const double half = 0.5 * plan.outline.length;
  for (double X = 0.0; X > -half; X -= 0.5) {
    const double high = X + 0.5 * tall + text_margin;
    const double low = X - 0.5 * tall - text_margin;
    const double side = 0.5 * wide + text_margin;
    const auto on_top = [&](Vec2 p) { return plan.outline.distance(p) < -plan.edge; };
    if (high > plan.notch_floor || !on_top({high, side}) || !on_top({low, side})) continue;
    if (!clear_of_ridges(plan, low, high)) continue;
    plan.strokes = placed_letters(line, scale, X, along);
    return true;
  }
  return false;
}

void engrave_id(MockUpPatchPlan& plan) {
  bool done = false;
  if (plan.high - plan.low - engraving >= least_thickness) {
    for (const double scale : lettering_scales) {
      for (const bool along : {false, true}) done = done || engrave(plan, scale, along);
    }
  }
  if (!done) plan.notes.push_back("no room to engrave " + plan.patch.id + ": write it on");
}

/// What stands under the arch on the bed.
double support_under(const MockUpPatchPlan& plan) {
  const RigidMotion to_bed = plan.lie;
  const auto height = [&](Vec2 xy) { return to_bed.turn(plan.chart.point(xy, plan.low)).z; };
  double lowest = 1e300;
  for (int i = 0; i < 48; ++i) {
    const Angle phi = Angle::from_degrees(7.5 * i);
    lowest = std::min(lowest, height(Vec2{phi.cos(), phi.sin()} * plan.outline.reach(phi)));
  }
  return over_area(plan.outline, [&](Vec2 xy) { return std::max(0.0, height(xy) - lowest); });
}

}  // namespace

double MockUpPatchPlan::edge_at_notch(double inset) const {
  const double straight = 0.5 * outline.width - outline.corner;
  if (notch_half <= straight) return 0.5 * outline.length - inset;
  const double r = outline.corner - inset;
  const double rise = notch_half - straight;
  return 0.5 * outline.length - outline.corner + std::sqrt(r * r - rise * rise);
}

PatchPiece PatchPiece::line(Vec2 from, Vec2 to, Vec2 out) {
  PatchPiece piece;
  piece.from_ = from;
  piece.to_ = to;
  piece.out_ = out;
  return piece;
}

PatchPiece PatchPiece::corner(Vec2 middle, double radius, double from, double to) {
  PatchPiece piece;
  piece.from_ = middle;
  piece.radius_ = radius;
  piece.begin_ = from;
  piece.end_ = to;
  return piece;
}

Vec2 PatchPiece::at(double t, double inset) const {
  if (!is_corner()) return from_ + (to_ - from_) * t - out_ * inset;
  const double r = radius_ - inset;
  const auto angle_at = [&](double y) { return std::asin((y - from_.y) / r); };
  const double begin = begin_height_ ? angle_at(*begin_height_) : begin_;
  const double end = end_height_ ? 2.0 * pi + angle_at(*end_height_) : end_;
  const double a = begin + (end - begin) * t;
  return from_ + Vec2{std::cos(a), std::sin(a)} * r;
}

double PatchPiece::length() const {
  return is_corner() ? radius_ * (end_ - begin_) : culmwright::length(to_ - from_);
}

std::vector<PatchPiece> patch_pieces(const MockUpPatchPlan& plan) {
  const RoundedRectangle& outline = plan.outline;
  const double r = outline.corner;
  const double X = 0.5 * outline.length - r;
  const double Y = 0.5 * outline.width - r;
  const double w = plan.notch_half;
  std::vector<PatchPiece> pieces;
  const auto line = [&](Vec2 from, Vec2 to, Vec2 out) {
    if (culmwright::length(to - from) > 1e-9) pieces.push_back(PatchPiece::line(from, to, out));
  };
  const bool notch_in_corners = w > Y;
  if (!notch_in_corners) line({X + r, w}, {X + r, Y}, {1, 0});
  pieces.push_back(PatchPiece::corner({X, Y}, r, 0.0, 0.5 * pi));
  if (notch_in_corners) pieces.back().begins_at_height(w);
  line({X, Y + r}, {-X, Y + r}, {0, 1});
  pieces.push_back(PatchPiece::corner({-X, Y}, r, 0.5 * pi, pi));
  line({-X - r, Y}, {-X - r, -Y}, {-1, 0});
  pieces.push_back(PatchPiece::corner({-X, -Y}, r, pi, 1.5 * pi));
  line({-X, -Y - r}, {X, -Y - r}, {0, -1});
  pieces.push_back(PatchPiece::corner({X, -Y}, r, 1.5 * pi, 2.0 * pi));
  if (notch_in_corners) pieces.back().ends_at_height(-w);
  if (!notch_in_corners) line({X + r, -Y}, {X + r, -w}, {1, 0});
  return pieces;
}

MockUpPatchPlan plan_mock_up_patch(const Tube& tube, const MockUpPatch& patch, End mouth_end,
                                   const Shop& shop) {
  MockUpPatchPlan plan{patch, SkinChart(tube, patch.place), {},  0.0, 0.0, 0.0,
                       1.0,   patch_sizes::notch_half,      0.0, {},  0.0, {},
                       {}};
  plan.mouth = mouth_end == End::a ? -1.0 : 1.0;
  shape_edge(plan, shop);
  check_reach(plan);
  engrave_id(plan);
  const SkinPoint skin = tube.skin_point(plan.chart.at(), plan.chart.theta());
  plan.lie = rim_frame({skin.point, unit(skin.normal), 0.0}).inverse();
  plan.support = support_under(plan);
  plan.notes.push_back("printed underside down, " + fixed_text(plan.support, 0) +
                       " mm³ of support under its arch: the top is what is felt");
  return plan;
}

}  // namespace culmwright
