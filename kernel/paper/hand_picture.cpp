#include "paper/hand_picture.hpp"

#include <algorithm>
#include <cmath>

#include "drawing/label_placer.hpp"
#include "paper/line_sheet.hpp"
#include "paper/sheet_words.hpp"
#include "paper/sketch.hpp"
#include "paper/skin_view.hpp"

namespace culmwright {

namespace {

constexpr double gap = 8.0;
constexpr double caption_room = 6.0;
constexpr double skin_share = 0.62;  ///< of the height, for the unrolled skin at most
constexpr double beyond = 22.0;      ///< of the skin shown beyond the hand's places
constexpr double letters = 2.5;
constexpr double longest_step = 20.0;  ///< between points of a finger's line; longer ones cross the seam

/// The tube seen from its mouth end, the front up: the player's left is on the left.
struct EndView {
  Vec2 right;  ///< of the page, in the tube's section
  Vec2 up;
  Vec2 on_page(Vec2 p, double scale, Vec2 origin) const {
    return {origin.x + dot(p, right) / scale, origin.y - dot(p, up) / scale};
  }
};

EndView end_view(const Instrument& instrument) {
  const Vec2 front = direction(instrument.facing);
  // Looking toward the foot: to the right lies the player's right.
  const Vec2 left =
      instrument.mouth_end == End::a ? tangent(instrument.facing) : tangent(instrument.facing) * -1.0;
  return {left * -1.0, front};
}

/// The outline of a segment with its flesh: two half circles and the lines between, where they do not
/// coincide.
Polyline capsule(Vec2 a, Vec2 b, double radius) {
  constexpr int steps = 12;
  const Vec2 way = b - a;
  const double start = std::atan2(way.y, way.x) + 0.5 * pi;
  Polyline outline;
  for (const Vec2 middle : {a, b}) {
    const double from = outline.empty() ? start : start + pi;
    for (int i = 0; i <= steps; ++i) {
      const double angle = from + pi * i / steps;
      outline.push_back(middle + Vec2{std::cos(angle), std::sin(angle)} * radius);
    }
  }
  return outline;
}

/// What the lines of these pictures mean.
Block hand_legend() {
  BlockWriter writer("legend", "What the lines mean");
  writer.heading("Lines").down(0.8);
  const auto row = [&](const std::string& words, LineType type) {
    const double top = writer.y();
    writer.words(words, 16.0).down(0.8);
    writer.item(line_between({0.5, top + 1.3}, {14.5, top + 1.3}, type));
  };
  row("finger, through its joints", LineType::continuous_thick);
  row("its flesh", LineType::continuous_thin);
  row("reach of its touch, up to 12 mm, palm held", LineType::dashed_thin);
  row("palm; parts of the instrument", LineType::long_dashed_double_dotted_thin);
  row("key line", LineType::long_dashed_dotted_thin);
  return writer.done();
}

class HandPage {
 public:
  HandPage(const Tube& tube, const Instrument& instrument, const PicturedHand& hand, PaperSize paper)
      : tube_(tube),
        instrument_(instrument),
        hand_(hand),
        sheet_(instrument, {paper, false}, hand.title),
        page_(sheet_.page()) {
    page_.description =
        "Above, the skin unrolled, mouth end up, with the fingers over it and the area that each could "
        "reach; "
        "below, the hand seen from the mouth end. In words beside them, what it costs the hand.";
  }

  Page draw(const std::string& caution, int number, int count) {
    const Box& room = sheet_.room();
    const Box skin =
        draw_skin({room.left, room.top + caption_room, room.right, room.top + skin_share * room.height()});
    draw_end({room.left, skin.bottom + gap + caption_room, room.right, room.bottom});
    write_words(caution);
    // The title block has the main scale; each view says its own (ISO 5455).
    return sheet_.done({}, scale_words(skin_scale_), number, count);
  }

 private:
  /// The stretch of the tube that the picture shows.
  std::pair<double, double> stretch() const {
    double low = 1e300;
    double high = -1e300;
    for (const PicturedFinger& finger : hand_.fingers) {
      low = std::min(low, finger.place.at);
      high = std::max(high, finger.place.at);
    }
    return {std::max(low - beyond, tube_.end_a_at()), std::min(high + beyond, tube_.end_b_at())};
  }

  /// Returns the box that it took.
  Box draw_skin(const Box& box) {
    const auto [low, high] = stretch();
    const double girth = greatest_girth(tube_);
    skin_scale_ = standard_scale(std::min(box.height() / (high - low), (box.width() - 2.0) / girth));
    const double scale = 1.0 / skin_scale_;
    page_.group("skin", "The skin unrolled");
    caption("skin", box, "The skin unrolled, mouth end up: the player's left is on the right", skin_scale_);
    const double width = girth / scale + 2.0;
    const Box window{box.left, box.top, box.left + width, box.top + (high - low) / scale};
    const Vec2 origin{window.middle().x, box.top};
    const double first_at = instrument_.mouth_end == End::a ? low : high;
    SkinView view(tube_, instrument_, instrument_.facing, scale, origin, first_at, page_, "skin", window);
    std::vector<Polyline> lines;
    for (const PicturedFinger& finger : hand_.fingers) {
      for (const Polyline& part : unbroken(over_skin(finger, view), longest_step / scale))
        lines.push_back(part);
    }
    view.keep_names_off(std::move(lines));
    view.draw();
    for (const Item& item : page_.group("skin").items) {
      const Text* text = std::get_if<Text>(&item);
      if (text == nullptr) continue;
      const Quad quad = text_box(*text, 0.8);
      names_.emplace_back(quad.begin(), quad.end());
    }
    for (const PicturedFinger& finger : hand_.fingers) {
      draw_reach(finger, view, window);
      draw_over_skin(finger, view, window, scale);
    }
    page_.group("skin").items.push_back(stroked(box_path(window), LineType::continuous_thin));
    return window;
  }

  /// Where the skin lies nearest to a point in space.
  SkinPlace under(Vec3 point) const {
    const double at = std::clamp(-point.z, tube_.end_a_at(), tube_.end_b_at());
    const Section section = tube_.section(at);
    Angle theta;
    section.outside({point.x, point.y}, &theta);
    return {at, section.around(theta)};
  }

  /// Broken where two points stand on either side of the seam.
  static std::vector<Polyline> unbroken(const Polyline& points, double longest) {
    std::vector<Polyline> parts;
    for (const Vec2 p : points) {
      if (parts.empty() || length(p - parts.back().back()) > longest) parts.emplace_back();
      parts.back().push_back(p);
    }
    parts.erase(
        std::remove_if(parts.begin(), parts.end(), [](const Polyline& part) { return part.size() < 2; }),
        parts.end());
    return parts;
  }

  /// Draws what lies within the window and on no name.
  void run(const Polyline& points, const Box& window, double longest, LineType type,
           const std::string& group) {
    for (const Polyline& part : unbroken(points, longest)) {
      for (const Polyline& within : clipped(part, window)) {
        for (const Polyline& piece : outside_of(within, names_)) {
          page_.group(group).items.push_back(stroked(open_path(piece), type));
        }
      }
    }
  }

  void draw_reach(const PicturedFinger& finger, const SkinView& view, const Box& window) {
    if (finger.reach.empty()) return;
    page_.group("reach-" + finger.id, "Where the finger at " + finger.id + " could reach");
    Polyline points;
    for (std::size_t i = 0; i <= finger.reach.size(); ++i) {
      points.push_back(view.on_page(finger.reach[i % finger.reach.size()]));
    }
    run(points, window, 0.5 * window.width(), LineType::dashed_thin, "reach-" + finger.id);
  }

  /// The line through a finger's joints, on the skin under it.
  Polyline over_skin(const PicturedFinger& finger, const SkinView& view) const {
    constexpr int steps = 8;
    Polyline points;
    for (std::size_t k = 0; k < 3; ++k) {
      for (int i = 0; i < steps; ++i) {
        const double share = static_cast<double>(i) / steps;
        points.push_back(
            view.on_page(under(finger.joints[k] * (1.0 - share) + finger.joints[k + 1] * share)));
      }
    }
    points.push_back(view.on_page(under(finger.joints[3])));
    return points;
  }

  void draw_over_skin(const PicturedFinger& finger, const SkinView& view, const Box& window, double scale) {
    const std::string group = "finger-" + finger.id;
    page_.group(group, "The finger at " + finger.id);
    run(over_skin(finger, view), window, longest_step / scale, LineType::continuous_thick, group);
    for (std::size_t k = 1; k < 3; ++k) {
      const Vec2 joint = view.on_page(under(finger.joints[k]));
      const bool on_name = std::any_of(names_.begin(), names_.end(),
                                       [&](const Polyline& name) { return inside(name, joint); });
      if (!window.contains(joint) || on_name) continue;
      Shape dot;
      dot.geometry = Circle{joint, 0.9};
      dot.fill = Ink::white;
      dot.line = LineType::continuous_thin;
      page_.group(group).items.push_back(dot);
    }
  }

  /// Everything of the end view, in the section's millimetres.
  std::vector<Vec2> extent() const {
    std::vector<Vec2> points;
    for (const PicturedFinger& finger : hand_.fingers) {
      for (const Vec3 joint : finger.joints) points.push_back({joint.x, joint.y});
    }
    for (const Vec3 corner : hand_.palm) points.push_back({corner.x, corner.y});
    const auto [low, high] = stretch();
    const Section section = tube_.section(0.5 * (low + high));
    for (int i = 0; i < 36; ++i) points.push_back(section.point(Angle::from_degrees(10.0 * i)));
    return points;
  }

  void draw_end(const Box& box) {
    constexpr double flesh = 14.0;
    const EndView view = end_view(instrument_);
    double left = 1e300, right = -1e300, low = 1e300, high = -1e300;
    for (const Vec2 p : extent()) {
      left = std::min(left, dot(p, view.right) - flesh);
      right = std::max(right, dot(p, view.right) + flesh);
      low = std::min(low, dot(p, view.up) - flesh);
      high = std::max(high, dot(p, view.up) + flesh);
    }
    end_scale_ = standard_scale(std::min(box.width() / (right - left), box.height() / (high - low)));
    const double scale = 1.0 / end_scale_;
    page_.group("end", "Seen from the mouth end");
    caption("end", box, "Seen from the mouth end, front up", end_scale_);
    const Vec2 origin{box.left - left / scale, box.top + high / scale};
    draw_section(view, scale, origin);
    draw_palm(view, scale, origin);
    LabelPlacer placer(box.grown(1.0));
    keep_off_section(view, scale, origin, placer);
    // What lies farther from the mouth end is covered by what lies nearer.
    std::vector<const PicturedFinger*> order;
    for (const PicturedFinger& finger : hand_.fingers) order.push_back(&finger);
    const double sense = instrument_.mouth_end == End::a ? 1.0 : -1.0;
    const auto along = [&](const PicturedFinger* f) { return sense * f->place.at; };
    std::stable_sort(order.begin(), order.end(),
                     [&](const auto* a, const auto* b) { return along(a) > along(b); });
    for (const PicturedFinger* finger : order) draw_from_end(*finger, view, scale, origin, placer);
    for (const PicturedFinger* finger : order) name_from_end(*finger, view, scale, origin, placer);
  }

  Polyline section_outline(const EndView& view, double scale, Vec2 origin, bool bore) const {
    const auto [low, high] = stretch();
    const Section section = tube_.section(0.5 * (low + high));
    Polyline outline;
    for (int i = 0; i < 120; ++i) {
      const Angle theta = Angle::from_degrees(3.0 * i);
      outline.push_back(view.on_page(bore ? section.bore_point(theta) : section.point(theta), scale, origin));
    }
    return outline;
  }

  void keep_off_section(const EndView& view, double scale, Vec2 origin, LabelPlacer& placer) const {
    for (const bool bore : {false, true}) placer.keep_off(section_outline(view, scale, origin, bore), true);
  }

  void draw_section(const EndView& view, double scale, Vec2 origin) {
    for (const bool bore : {false, true}) {
      const Polyline outline = section_outline(view, scale, origin, bore);
      page_.group("end").items.push_back(stroked(closed_path(outline), LineType::continuous_thick));
    }
  }

  void draw_palm(const EndView& view, double scale, Vec2 origin) {
    Polyline outline;
    for (const Vec3 corner : hand_.palm) outline.push_back(view.on_page({corner.x, corner.y}, scale, origin));
    if (outline.size() < 3) return;
    page_.group("palm", "The palm")
        .items.push_back(stroked(closed_path(outline), LineType::long_dashed_double_dotted_thin));
  }

  void draw_from_end(const PicturedFinger& finger, const EndView& view, double scale, Vec2 origin,
                     LabelPlacer& placer) {
    const std::string group = "end-" + finger.id;
    page_.group(group, "The finger at " + finger.id + ", seen from the mouth end");
    Polyline line;
    for (const Vec3 joint : finger.joints) line.push_back(view.on_page({joint.x, joint.y}, scale, origin));
    // The outline of all segments together: each is drawn, then the inside of each is laid over.
    for (std::size_t k = 0; k < 3; ++k) {
      const Polyline flesh = capsule(line[k], line[k + 1], finger.flesh[k] / scale);
      page_.group(group).items.push_back(stroked(closed_path(flesh), LineType::continuous_thin));
      placer.keep_off(flesh, true);
    }
    for (std::size_t k = 0; k < 3; ++k) {
      Shape inside;
      inside.geometry = closed_path(capsule(line[k], line[k + 1], finger.flesh[k] / scale - 0.5 * thin_line));
      inside.fill = Ink::white;
      page_.group(group).items.push_back(inside);
    }
    page_.group(group).items.push_back(stroked(open_path(line), LineType::continuous_thick));
    placer.keep_off(line);
  }

  void name_from_end(const PicturedFinger& finger, const EndView& view, double scale, Vec2 origin,
                     LabelPlacer& placer) {
    LabelWish wish;
    wish.lines = {{finger.id, letters, Weight::bold}};
    wish.anchor_point = view.on_page({finger.joints[3].x, finger.joints[3].y}, scale, origin);
    wish.leader_from = 2.0;
    wish.farthest = 60.0;
    const Vec2 away = wish.anchor_point - origin;
    if (length(away) > 1.0) wish.preferred = unit(away);
    const auto placed = placer.place(wish);
    if (!placed) return;
    Group& group = page_.group("end-" + finger.id);
    for (const Text& text : placed->texts) group.items.push_back(text);
    if (placed->leader)
      group.items.push_back(
          line_between(placed->leader->from, placed->leader->to, LineType::continuous_thin));
  }

  void caption(const std::string& group, const Box& box, const std::string& words, double scale) {
    const Text text{
        {box.left, box.top - 2.5}, words + ", scale " + scale_words(scale), letters, Anchor::start, {}};
    page_.group(group).items.push_back(text);
  }

  /// As many sentences as the column holds; the rest is in the table.
  void write_words(const std::string& caution) {
    BlockWriter warning("caution", "Caution");
    warning.heading("Advice only").words(caution);
    const Block last = warning.done();
    const Block signs = hand_legend();
    const double left =
        sheet_.column().height() - last.height - signs.height - 3.0 * panel_gap - LineSheet::foot_height({});
    constexpr double room_for_more = 10.0;
    BlockWriter writer("words", "In words");
    writer.heading("In words");
    for (std::size_t i = 0; i < hand_.words.size(); ++i) {
      BlockWriter longer = writer;
      longer.words(hand_.words[i]).down(0.8);
      const bool is_last = i + 1 == hand_.words.size();
      if (longer.y() + (is_last ? 0.0 : room_for_more) > left) {
        writer.words("The table of the command hand says the rest.");
        break;
      }
      writer = std::move(longer);
    }
    sheet_.add(writer.done());
    sheet_.add(last);
    sheet_.add(signs);
  }

  const Tube& tube_;
  const Instrument& instrument_;
  const PicturedHand& hand_;
  LineSheet sheet_;
  Page& page_;
  double skin_scale_ = 1.0;  ///< millimetres on paper for one
  double end_scale_ = 1.0;
  std::vector<Polyline> names_;  ///< boxes of what SkinView has written
};

}  // namespace

Drawing hand_pictures(const Tube& tube, const Instrument& instrument, const std::vector<PicturedHand>& hands,
                      const std::string& caution, PaperSize paper) {
  Drawing drawing;
  for (std::size_t i = 0; i < hands.size(); ++i) {
    drawing.pages.push_back(HandPage(tube, instrument, hands[i], paper)
                                .draw(caution, static_cast<int>(i) + 1, static_cast<int>(hands.size())));
  }
  return drawing;
}

}  // namespace culmwright
