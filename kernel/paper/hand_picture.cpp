#include "paper/hand_picture.hpp"

#include <algorithm>
#include <cmath>

#include "drawing/label_placer.hpp"
#include "drawing/paper_sheet.hpp"
#include "paper/sketch.hpp"
#include "paper/skin_view.hpp"
#include "paper/words.hpp"

namespace culmwright {

namespace {

constexpr double margin = 10.6;
constexpr double heading_room = 17.0;
constexpr double skin_height = 150.0;  ///< at most, for the unrolled skin
constexpr double end_share = 0.5;      ///< of the width, for the view along the tube
constexpr double gap = 8.0;
constexpr double line_pitch = 4.2;
constexpr double caption_room = 6.0;
constexpr double legend_room = 14.0;
constexpr double beyond = 22.0;  ///< of the skin shown beyond the hand's places
constexpr double scales[] = {1.0, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0};
constexpr double letters = 2.5;

std::string scale_words(double scale) {
  return "1:" + decimals(scale, scale == 2.5 ? 1 : 0);
}

Text plain(Vec2 at, const std::string& words, Anchor anchor = Anchor::start) {
  return {at, words, letters, anchor, {}, Weight::regular, Ink::black};
}

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

class HandPage {
 public:
  HandPage(const Tube& tube, const Instrument& instrument, const PicturedHand& hand, PaperSize paper)
      : tube_(tube),
        instrument_(instrument),
        hand_(hand),
        size_(sheet_size(paper, Orientation::portrait)),
        room_(printable(size_, margin)) {
    page_.width = size_.width;
    page_.height = size_.height;
    page_.title = hand.title + ": " + instrument.layout_id + " on " + instrument.tube_id;
    page_.description =
        "Above, the skin unrolled, mouth end up, with the fingers over it and the area that each could "
        "reach; "
        "below, the hand seen from the mouth end.";
  }

  Page draw(const std::string& caution, std::size_t number, std::size_t count) {
    heading(number, count);
    const double top = room_.top + heading_room;
    const Box skin = draw_skin({room_.left, top + caption_room, room_.right, top + skin_height});
    const double below = skin.bottom + gap;
    const double column = room_.left + end_share * room_.width();
    draw_end({room_.left, below + caption_room, column, room_.bottom - legend_room - gap});
    write_words({column + gap, below, room_.right, room_.bottom - legend_room});
    legend(caution);
    return std::move(page_);
  }

 private:
  void heading(std::size_t number, std::size_t count) {
    Group& group = page_.group("heading", "Heading");
    group.items.push_back(
        Text{{room_.left, room_.top + 5.0}, page_.title, 5.0, Anchor::start, {}, Weight::bold, Ink::black});
    group.items.push_back(plain({room_.left, room_.top + 11.0},
                                "Mouth end up, seen from outside: the player's left is on the right."));
    group.items.push_back(plain({room_.right, room_.top + 11.0},
                                "sheet " + std::to_string(number) + " of " + std::to_string(count),
                                Anchor::end));
  }

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
    double scale = 1.0;
    for (const double candidate : scales) {
      scale = candidate;
      if ((high - low) / scale <= box.height() && greatest_girth(tube_) / scale <= box.width() - 1.0) break;
    }
    page_.group("skin", "The skin unrolled")
        .items.push_back(plain({box.left, box.top - 2.5}, "The skin unrolled, scale " + scale_words(scale)));
    const double width = greatest_girth(tube_) / scale + 2.0;
    const Box window{box.left, box.top, box.left + width, box.top + (high - low) / scale};
    const Vec2 origin{window.middle().x, box.top};
    const double first_at = instrument_.mouth_end == End::a ? low : high;
    SkinView view(tube_, instrument_, instrument_.facing, scale, origin, first_at, page_, "skin", window);
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

  /// Draws what lies within the window and on no name; breaks where two points stand on either side of the
  /// seam.
  void run(const Polyline& points, const Box& window, double longest, LineType type,
           const std::string& group) {
    Polyline part;
    const auto finish = [&] {
      if (part.size() > 1) {
        for (const Polyline& within : clipped(part, window)) {
          for (const Polyline& piece : outside_of(within, names_)) {
            page_.group(group).items.push_back(stroked(open_path(piece), type));
          }
        }
      }
      part.clear();
    };
    for (const Vec2 p : points) {
      if (!part.empty() && length(p - part.back()) > longest) finish();
      part.push_back(p);
    }
    finish();
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

  void draw_over_skin(const PicturedFinger& finger, const SkinView& view, const Box& window, double scale) {
    constexpr int steps = 8;
    const std::string group = "finger-" + finger.id;
    page_.group(group, "The finger at " + finger.id);
    Polyline points;
    for (std::size_t k = 0; k < 3; ++k) {
      for (int i = 0; i < steps; ++i) {
        const double share = static_cast<double>(i) / steps;
        points.push_back(
            view.on_page(under(finger.joints[k] * (1.0 - share) + finger.joints[k + 1] * share)));
      }
    }
    points.push_back(view.on_page(under(finger.joints[3])));
    run(points, window, 20.0 / scale, LineType::continuous_thick, group);
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
    double scale = 1.0;
    for (const double candidate : scales) {
      scale = candidate;
      if ((right - left) / scale <= box.width() && (high - low) / scale <= box.height()) break;
    }
    page_.group("end", "Seen from the mouth end")
        .items.push_back(plain({box.left, box.top - 2.5},
                               "Seen from the mouth end, front up, scale " + scale_words(scale)));
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

  void write_words(const Box& box) {
    Group& group = page_.group("words", "In words");
    double y = box.top + letters;
    for (const std::string& sentence : hand_.words) {
      for (const std::string& line : wrapped(sentence, letters, Weight::regular, box.width())) {
        group.items.push_back(plain({box.left, y}, line));
        y += line_pitch;
      }
    }
  }

  void legend(const std::string& caution) {
    Group& group = page_.group("legend", "What the lines mean");
    double x = room_.left;
    const double y = room_.bottom - legend_room + 4.0;
    const auto entry = [&](const std::string& words, LineType type) {
      group.items.push_back(line_between({x, y - 1.2}, {x + 11.5, y - 1.2}, type));
      group.items.push_back(plain({x + 13.0, y}, words));
      x += 13.0 + text_extent(words, letters, Weight::regular).width + 5.0;
    };
    entry("finger", LineType::continuous_thick);
    entry("its flesh", LineType::continuous_thin);
    entry("reach of its touch, to 12 mm, palm held", LineType::dashed_thin);
    entry("palm", LineType::long_dashed_double_dotted_thin);
    double line = y + 5.0;
    for (const std::string& words : wrapped(caution, letters, Weight::bold, room_.width())) {
      group.items.push_back(
          Text{{room_.left, line}, words, letters, Anchor::start, {}, Weight::bold, Ink::black});
      line += line_pitch;
    }
  }

  const Tube& tube_;
  const Instrument& instrument_;
  const PicturedHand& hand_;
  SheetSize size_;
  Box room_;
  Page page_;
  std::vector<Polyline> names_;  ///< boxes of what SkinView has written
};

}  // namespace

Drawing hand_pictures(const Tube& tube, const Instrument& instrument, const std::vector<PicturedHand>& hands,
                      const std::string& caution, PaperSize paper) {
  Drawing drawing;
  for (std::size_t i = 0; i < hands.size(); ++i) {
    drawing.pages.push_back(HandPage(tube, instrument, hands[i], paper).draw(caution, i + 1, hands.size()));
  }
  return drawing;
}

}  // namespace culmwright
