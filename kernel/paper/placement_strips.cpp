#include "paper/placement_strips.hpp"

#include <algorithm>
#include <cmath>

#include "drawing/label_placer.hpp"
#include "drawing/paper_sheet.hpp"
#include "drawing/plane.hpp"
#include "paper/skin_curve.hpp"
#include "paper/words.hpp"

namespace culmwright {

namespace {

constexpr double margin = 10.0;
constexpr double heading_room = 12.0;
constexpr double title_room = 6.0;
constexpr double words_room = 30.0;
constexpr double hand_room = 6.0;  ///< right of a strip, for the hands
constexpr double strip_gap = 8.0;
constexpr double least_width = 40.0;  ///< of a strip's column, for its words
constexpr double hatch_spacing = 1.2;
constexpr double scales[] = {1.0, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 15.0, 20.0};

double greatest_girth(const Tube& tube) {
  double girth = 0.0;
  for (int i = 0; i <= 20; ++i) {
    girth = std::max(girth, tube.section(tube.end_a_at() + tube.length() * i / 20).girth());
  }
  for (const Node& node : tube.nodes()) girth = std::max(girth, tube.section(node.at()).girth());
  return girth;
}

/// One strip on the page: its frame, and what is drawn in it.
class StripDrawing {
 public:
  StripDrawing(const PlacementStrip& strip, double scale, Vec2 top_middle, Page& page, int number)
      : strip_(strip), scale_(scale), top_(top_middle), page_(page), id_("strip-" + std::to_string(number)) {
    const Instrument& instrument = strip.instrument;
    sense_ = instrument.mouth_end == End::a ? 1.0 : -1.0;
    first_at_ = sense_ > 0.0 ? strip.tube.end_a_at() : strip.tube.end_b_at();
  }

  void draw() {
    page_.group(id_, strip_.title);
    draw_skin();
    for (const Node& node : strip_.tube.nodes()) draw_node(node);
    for (const Blemish& blemish : strip_.tube.blemishes()) {
      curve(oval_curve(strip_.tube, blemish.place, blemish.length, blemish.width), LineType::dashed_thin);
    }
    for (const PlacedPart& part : strip_.instrument.parts) draw_part(part);
    for (const PlacedKey& key : strip_.instrument.keys) draw_key(key);
    draw_ids();
    draw_hand(Hand::left, "left hand");
    draw_hand(Hand::right, "right hand");
  }

 private:
  /// The played view: x from the key line to the player's left, y from the tube's end at the mouth downward.
  Vec2 on_page(double theta, double at) const {
    const Section section = strip_.tube.section(at);
    const Angle key_line = section.theta_on_half_plane(strip_.instrument.facing);
    const double arc = section.arc(key_line, Angle::from_radians(theta));
    return top_ + Vec2{sense_ * arc / scale_, sense_ * (at - first_at_) / scale_};
  }

  /// The same, with θ taken within half a turn of the key line.
  Vec2 near_front(Angle theta, double at) const {
    const Angle key_line = strip_.tube.section(at).theta_on_half_plane(strip_.instrument.facing);
    return on_page((key_line + (theta - key_line).normalized()).radians(), at);
  }

  void add(Item item) { page_.group(id_).items.push_back(std::move(item)); }

  /// The curve on the page, moved by whole turns so that its middle lies within half a girth of the key line,
  /// and `turns` beyond that.
  Polyline laid_out(const SkinCurve& curve, int turns = 0) const {
    if (curve.points.empty()) return {};
    double theta = 0.0;
    double at = 0.0;
    for (const Vec2& p : curve.points) {
      theta += p.x / static_cast<double>(curve.points.size());
      at += p.y / static_cast<double>(curve.points.size());
    }
    const Angle key_line = key_theta(at);
    const double turned = (key_line + (Angle::from_radians(theta) - key_line).normalized()).radians() - theta;
    Polyline line;
    for (const Vec2& p : curve.points) line.push_back(on_page(p.x + turned + 2.0 * pi * turns, p.y));
    if (curve.closed) line.push_back(line.front());
    return line;
  }

  /// What crosses the back appears at both edges.
  void curve(const SkinCurve& on_skin, LineType type) {
    if (on_skin.points.size() < 2) return;
    const double at = on_skin.points.front().y;
    const Box inside{edge(-1, at).x, -1e6, edge(1, at).x, 1e6};
    for (int turns : {-1, 0, 1}) {
      for (const Polyline& piece : clipped(laid_out(on_skin, turns), inside)) {
        if (piece.size() > 1) add(stroked(open_path(piece), type));
      }
    }
  }

  /// Both edges of the unrolled skin, half a turn either side of the key line.
  Vec2 edge(int side, double at) const {
    const Section section = strip_.tube.section(at);
    return {top_.x + side * 0.5 * section.girth() / scale_, top_.y + sense_ * (at - first_at_) / scale_};
  }

  void outline(double from_at, double to_at, LineType type) {
    Polyline line;
    for (int i = 0; i <= 40; ++i) line.push_back(edge(-1, from_at + (to_at - from_at) * i / 40));
    for (int i = 40; i >= 0; --i) line.push_back(edge(1, from_at + (to_at - from_at) * i / 40));
    add(stroked(closed_path(line), type));
  }

  void draw_skin() {
    const Tube& tube = strip_.tube;
    const double last_at = sense_ > 0.0 ? tube.end_b_at() : tube.end_a_at();
    const Instrument& instrument = strip_.instrument;
    if (std::abs(first_at_ - instrument.mouth_cut_at) > 0.5) {
      outline(first_at_, instrument.mouth_cut_at, LineType::long_dashed_double_dotted_thin);
    }
    if (std::abs(last_at - instrument.foot_cut_at) > 0.5) {
      outline(instrument.foot_cut_at, last_at, LineType::long_dashed_double_dotted_thin);
    }
    outline(instrument.mouth_cut_at, instrument.foot_cut_at, LineType::continuous_thick);
    add(stroked(open_path(key_line()), LineType::long_dashed_dotted_thin));
  }

  Polyline key_line() const {
    const double from = strip_.instrument.mouth_cut_at;
    const double to = strip_.instrument.foot_cut_at;
    return {near_front(key_theta(from), from), near_front(key_theta(to), to)};
  }

  Angle key_theta(double at) const {
    return strip_.tube.section(at).theta_on_half_plane(strip_.instrument.facing);
  }

  void draw_node(const Node& node) {
    const double half = 0.5 * node.band;
    const Angle key_line = key_theta(node.at());
    Polyline band;
    const auto side = [&](double shift, bool forward) {
      for (int i = 0; i <= 32; ++i) {
        const double t = forward ? i / 32.0 : 1.0 - i / 32.0;
        const Angle theta = key_line + Angle::from_degrees(360.0 * t - 180.0);
        const double slant = 0.5 * (node.at_line - node.at_far) * theta.cos();
        const Vec2 left = edge(-1, node.at());
        const Vec2 right = edge(1, node.at());
        band.push_back({left.x + (right.x - left.x) * t,
                        top_.y + sense_ * (node.at() + slant + shift - first_at_) / scale_});
      }
    };
    side(-half, true);
    side(half, false);
    add(stroked(closed_path(band), LineType::continuous_thin));
    add(hatch_shape(hatched({band}, Angle::from_degrees(45), hatch_spacing)));
  }

  void draw_part(const PlacedPart& part) {
    const bool opening = part.part.kind == PartKind::opening;
    if (part.part.length <= 0.0 || part.part.width <= 0.0 || part.part.kind == PartKind::mouthpiece) return;
    curve(patch_curve(strip_.tube, part.place, part.part.length, part.part.width, part.part.corner_radius),
          opening ? LineType::continuous_thick : LineType::long_dashed_double_dotted_thin);
  }

  void draw_key(const PlacedKey& key) {
    const Touch& touch = key.key.touch;
    curve(patch_curve(strip_.tube, key.place, touch.length, touch.width, touch.corner_radius),
          LineType::continuous_thin);
    const Polyline rim = laid_out(rim_curve(strip_.tube, key.drilling, 36));
    // (A hole across the back is drawn whole, where its middle lies.)
    Shape hole = stroked(closed_path(rim), LineType::continuous_thin);
    hole.fill = Ink::accent;
    add(hole);
  }

  void draw_ids() {
    const Instrument& instrument = strip_.instrument;
    const Vec2 top = edge(-1, instrument.mouth_cut_at);
    const Vec2 bottom = edge(1, instrument.foot_cut_at);
    const double half = 0.5 * greatest_girth(strip_.tube) / scale_;
    LabelPlacer placer({top_.x - half, top.y, top_.x + half, bottom.y}, 0.3);
    for (const PlacedKey& key : instrument.keys) {
      const Touch& touch = key.key.touch;
      placer.keep_off(
          laid_out(patch_curve(strip_.tube, key.place, touch.length, touch.width, touch.corner_radius)));
    }
    for (const PlacedPart& part : instrument.parts) {
      if (part.part.kind == PartKind::mouthpiece) continue;
      placer.keep_off(laid_out(patch_curve(strip_.tube, part.place, part.part.length, part.part.width, 0.0)));
    }
    placer.keep_off(key_line());
    for (const Node& node : strip_.tube.nodes()) {
      const double reach = 0.5 * (node.band + std::abs(node.at_line - node.at_far));
      const double y = edge(-1, node.at()).y;
      placer.keep_off(
          Box{edge(-1, node.at()).x, y - reach / scale_, edge(1, node.at()).x, y + reach / scale_});
    }
    for (int side : {-1, 1}) {
      Polyline skin;
      for (int i = 0; i <= 20; ++i) {
        const double share = i / 20.0;
        skin.push_back(edge(side, instrument.mouth_cut_at * (1.0 - share) + instrument.foot_cut_at * share));
      }
      placer.keep_off(skin);
    }
    for (const PlacedKey& key : instrument.keys) {
      LabelWish wish;
      wish.lines = {{key.key.id, 2.5, Weight::regular}};
      wish.anchor_point = near_front(key.theta, key.place.at);
      wish.clear = 0.5 * std::max(key.key.touch.width, key.key.touch.length) / scale_;
      wish.farthest = 14.0;
      wish.leader_from = 4.0;
      if (const auto label = placer.place(wish)) {
        for (const Text& text : label->texts) add(text);
        if (label->leader)
          add(line_between(label->leader->from, label->leader->to, LineType::continuous_thin));
      }
    }
  }

  void draw_hand(Hand hand, const char* name) {
    double least = 1e300;
    double greatest = -1e300;
    for (const PlacedKey& key : strip_.instrument.keys) {
      if (key.key.hand != hand) continue;
      const double y = near_front(key.theta, key.place.at).y;
      const double half = 0.5 * key.key.touch.length / scale_;
      least = std::min(least, y - half);
      greatest = std::max(greatest, y + half);
    }
    if (least > greatest) return;
    const double x = top_.x + 0.5 * greatest_girth(strip_.tube) / scale_ + 2.0;
    add(line_between({x, least}, {x, greatest}, LineType::continuous_thin));
    add(line_between({x - 1.0, least}, {x, least}, LineType::continuous_thin));
    add(line_between({x - 1.0, greatest}, {x, greatest}, LineType::continuous_thin));
    if (greatest - least > text_extent(name, 2.5, Weight::regular).width + 1.0) {
      add(Text{{x + 1.0, 0.5 * (least + greatest)}, name, 2.5, Anchor::middle, Angle::from_degrees(90)});
    }
  }

  const PlacementStrip& strip_;
  double scale_;
  Vec2 top_;
  Page& page_;
  std::string id_;
  double sense_ = 1.0;
  double first_at_ = 0.0;
};

void write_words(const PlacementStrip& strip, const std::string& id, double left, double width, double top,
                 Page& page) {
  Group& group = page.group(id, strip.title + ", in words");
  double y = top;
  for (const std::string& words : strip.words) {
    for (const std::string& line : wrapped(words, 2.5, Weight::regular, width)) {
      group.items.push_back(Text{{left, y}, line, 2.5, Anchor::start, Angle()});
      y += 4.2;
    }
  }
}

}  // namespace

Drawing placement_strips(const std::vector<PlacementStrip>& strips, const std::string& heading) {
  require(!strips.empty(), "a comparison needs at least one strip");
  const SheetSize size = sheet_size(PaperSize::a4, Orientation::landscape);
  const Box room = printable(size, margin);
  const double height = room.height() - heading_room - title_room - words_room;
  double longest = 0.0;
  double widest = 0.0;
  for (const PlacementStrip& strip : strips) {
    longest = std::max(longest, strip.tube.length());
    widest = std::max(widest, greatest_girth(strip.tube));
  }
  // The largest scale at which the longest piece fits and five columns stand side by side, if so many there
  // are.
  const double columns_wanted = static_cast<double>(std::min<std::size_t>(strips.size(), 5));
  double scale = scales[0];
  for (double candidate : scales) {
    scale = candidate;
    const double column = std::max(least_width, widest / scale + hand_room) + strip_gap;
    if (longest / scale <= height && columns_wanted * column - strip_gap <= room.width()) break;
  }
  const double column = std::max(least_width, widest / scale + hand_room) + strip_gap;
  const std::size_t on_page =
      std::max<std::size_t>(1, static_cast<std::size_t>((room.width() + strip_gap) / column));
  Drawing drawing;
  for (std::size_t i = 0; i < strips.size(); ++i) {
    if (i % on_page == 0) {
      Page page;
      page.width = size.width;
      page.height = size.height;
      page.title = heading;
      page.description = "Placements side by side, skin unrolled about the key line, mouth end up, at 1:" +
                         decimals(scale, scale == 2.5 ? 1 : 0) + ".";
      page.group("heading", "Heading")
          .items.push_back(
              Text{{room.left, room.top + 5.0}, heading, 5.0, Anchor::start, Angle(), Weight::bold});
      page.group("heading").items.push_back(
          Text{{room.right, room.top + 5.0},
               "scale 1:" + decimals(scale, scale == 2.5 ? 1 : 0) + ", mouth end up, seen from the front",
               2.5,
               Anchor::end,
               Angle()});
      drawing.pages.push_back(std::move(page));
    }
    Page& page = drawing.pages.back();
    const double left = room.left + 0.5 * thick_line + column * static_cast<double>(i % on_page);
    const double top = room.top + heading_room;
    page.group("titles", "Titles")
        .items.push_back(Text{{left, top + 2.5}, strips[i].title, 3.5, Anchor::start, Angle(), Weight::bold});
    const double half = 0.5 * widest / scale;
    StripDrawing(strips[i], scale, {left + half, top + title_room}, page, static_cast<int>(i) + 1).draw();
    write_words(strips[i], "words-" + std::to_string(i + 1), left, column - strip_gap,
                top + title_room + strips[i].tube.length() / scale + 6.0, page);
  }
  return drawing;
}

}  // namespace culmwright
