#pragma once
/// An instrument's skin unrolled about a line along it, mouth end up, seen from outside: what placements are
/// compared on and failing places are shown on. Sections are laid out one by one: lengths around are true in
/// each section, lengths along are those of the axis.
#include <optional>
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "drawing/plane.hpp"
#include "layout/instrument.hpp"
#include "paper/skin_curve.hpp"
#include "tube/tube.hpp"

namespace culmwright {

/// The greatest girth of the piece, ridges included.
double greatest_girth(const Tube& tube);

class SkinView {
 public:
  /// The line in the middle is the half plane at `middle` (the key line's facing for a whole instrument). Its
  /// point at `origin_at` stands at `origin` on the page. Everything goes into the group `group` of `page`.
  /// `window`: what lies outside is left out, names too.
  SkinView(const Tube& tube, const Instrument& instrument, Angle middle, double scale, Vec2 origin,
           double origin_at, Page& page, std::string group, std::optional<Box> window = std::nullopt);

  /// With `draw`, the keys and parts of these ids are shown too as `earlier` had them, long-dashed
  /// double-dotted, an arrow from where each was to where it is; and its cuts and key line where they differ.
  /// `earlier` must outlive this view.
  void show_earlier(const Instrument& earlier, std::vector<std::string> ids);

  /// Names of keys stand clear of these lines where there is room; on the page.
  void keep_names_off(std::vector<Polyline> lines) { drawn_over_ = std::move(lines); }

  /// Skin, nodes, blemishes, parts, keys with their names; the hands beside it where there is no window.
  void draw();

  /// Where a place of the skin stands on the page, within half a girth of the middle line.
  Vec2 on_page(SkinPlace place) const;

 private:
  Vec2 laid(double theta, double at) const;
  Vec2 near_middle(Angle theta, double at) const;
  Angle middle_theta(double at) const { return tube_.section(at).theta_on_half_plane(middle_); }
  void add(Item item) { page_.group(group_).items.push_back(std::move(item)); }
  void line(const Polyline& points, LineType type);
  Polyline laid_out(const SkinCurve& curve, int turns = 0) const;
  void curve(const SkinCurve& on_skin, LineType type);
  Vec2 edge(int side, double at) const;
  void outline(double from_at, double to_at, LineType type);
  Polyline key_line(Angle facing) const;
  bool is_shown(const std::string& id) const;
  std::vector<SkinCurve> earlier_curves() const;
  std::vector<Segment> earlier_moves() const;
  void draw_earlier();
  void draw_earlier_cut(double at, double now_at);
  void draw_moves();
  void draw_skin();
  void draw_node(const Node& node);
  void draw_part(const PlacedPart& part);
  void draw_key(const PlacedKey& key);
  void draw_names();
  void draw_hand(Hand hand, const char* name);

  const Tube& tube_;
  const Instrument& instrument_;
  Angle middle_;
  double scale_;
  Vec2 origin_;
  double origin_at_;
  Page& page_;
  std::string group_;
  std::optional<Box> window_;
  const Instrument* earlier_ = nullptr;
  std::vector<std::string> earlier_ids_;
  std::vector<Polyline> drawn_over_;
  double sense_;  ///< +1 with end A up
};

}  // namespace culmwright
