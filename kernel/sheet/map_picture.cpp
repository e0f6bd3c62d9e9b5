#include "sheet/map_picture.hpp"

#include <algorithm>
#include <cmath>

#include "paper/skin_view.hpp"
#include "paper/words.hpp"

namespace culmwright {

namespace {

constexpr double scales[] = {1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 15.0, 20.0};
constexpr double ruler_room = 11.0;
constexpr double hand_room = 6.5;
constexpr double end_room = 5.0;  ///< above and below, for the ends' names

double height_at(const Tube& tube, double scale) {
  return tube.length() / scale + 2.0 * end_room;
}
double width_at(const Tube& tube, double scale) {
  return greatest_girth(tube) / scale + ruler_room + hand_room;
}

Text plain(Vec2 at, const std::string& words, Anchor anchor) {
  return {at, words, 2.5, anchor, {}, Weight::regular, Ink::black};
}

/// Ticks every 10, numbers as often as they have room for.
void draw_ruler(const Instrument& instrument, double scale, double left, double mouth_y, Page& page) {
  Group& group = page.group("ruler", "Millimetres from the mouth cut");
  const double length = instrument.length();
  const double numbered = scale <= 2.5 ? 50.0 : 100.0;
  for (double along = 0.0; along <= length + 1e-9; along += 10.0) {
    const bool with_number = std::abs(std::remainder(along, numbered)) < 1e-9;
    if (!with_number && scale > 5.0) continue;
    const double y = mouth_y + along / scale;
    group.items.push_back(
        line_between({left - (with_number ? 2.0 : 1.0), y}, {left, y}, LineType::continuous_thin));
    if (with_number) group.items.push_back(plain({left - 2.6, y + 1.2}, decimals(along, 0), Anchor::end));
  }
  group.items.push_back(
      line_between({left, mouth_y}, {left, mouth_y + length / scale}, LineType::continuous_thin));
}

}  // namespace

std::string reduction_words(double scale) {
  return "1:" + decimals(scale, std::abs(scale - std::round(scale)) < 1e-9 ? 0 : 1);
}

double map_scale(const Tube& tube, double width, double height) {
  for (double scale : scales) {
    if (height_at(tube, scale) <= height && width_at(tube, scale) <= width) return scale;
  }
  return std::ceil(std::max(tube.length() / (height - 2.0 * end_room),
                            greatest_girth(tube) / (width - ruler_room - hand_room)));
}

Page map_picture(const Tube& tube, const Instrument& instrument, double scale) {
  Page page;
  page.width = width_at(tube, scale);
  page.height = height_at(tube, scale);
  page.title = "Map of " + tube.id() + (instrument.layout_id.empty() ? "" : " as " + instrument.layout_id);
  std::string keys;
  for (const PlacedKey& key : instrument.keys) keys += (keys.empty() ? "" : ", ") + key.key.id;
  page.description = "The skin unrolled, seen from outside, mouth end up, at " + reduction_words(scale) +
                     (keys.empty() ? std::string(".") : ". Keys: " + keys + ".");
  const bool from_a = instrument.mouth_end == End::a;
  const double first_at = from_a ? tube.end_a_at() : tube.end_b_at();
  const double half = 0.5 * greatest_girth(tube) / scale;
  const Vec2 origin{ruler_room + half, end_room};
  page.group("map", page.title);
  SkinView(tube, instrument, instrument.facing, scale, origin, first_at, page, "map").draw();
  const double mouth_y = origin.y + std::abs(instrument.mouth_cut_at - first_at) / scale;
  draw_ruler(instrument, scale, ruler_room - 2.5, mouth_y, page);
  Group& ends = page.group("ends", "Ends");
  const auto name = [&](End end, const char* played) {
    return std::string(end == End::a ? "end A" : "end B") +
           (instrument.keys.empty() ? "" : std::string(", ") + played);
  };
  const End foot = from_a ? End::b : End::a;
  ends.items.push_back(
      plain({origin.x, origin.y - 1.8}, name(instrument.mouth_end, "mouth"), Anchor::middle));
  ends.items.push_back(plain({origin.x, page.height - 1.2}, name(foot, "foot"), Anchor::middle));
  return page;
}

Instrument bare_piece(const Tube& tube) {
  Instrument piece;
  piece.tube_id = tube.id();
  piece.mouth_cut_at = tube.end_a_at();
  piece.foot_cut_at = tube.end_b_at();
  return piece;
}

}  // namespace culmwright
