/// The sheets of guides in place and of key cups.
#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "base/words.hpp"
#include "paper/line_sheet.hpp"
#include "paper/sketch.hpp"

namespace culmwright {

namespace {

constexpr double heading_room = 8.0;
constexpr double gap = 9.0;

double along_of(const Instrument& instrument, double at) {
  return std::abs(at - instrument.mouth_cut_at);
}

std::vector<std::string> set_words(const GuidePlan& plan) {
  std::vector<std::string> pegs;
  for (const GuidePeg& peg : plan.pegs) pegs.push_back(peg.id);
  switch (plan.stop) {
    case StopKind::end_on_line:
      return {"Stop: the end, on the reference line."};
    case StopKind::end_on_middle:
      return {"Stop: the end, at the guide's middle."};
    case StopKind::pegs:
      return {(pegs.size() == 1 ? "Peg in " : "Pegs in ") + listed(pegs, " and ") + "."};
    case StopKind::joint:
      return {"Joint: its tongue in the notch of " + plan.tongue()->with + ", which stays on."};
    case StopKind::sighting_only:
      break;
  }
  return {"No stop and no peg: set by its sighting windows."};
}

Block guide_words(const GuidePlan& plan, const Instrument& instrument) {
  BlockWriter writer(plan.name == "" ? "guide" : "words-guide-" + std::to_string(plan.number), plan.name);
  writer.heading(plan.name);
  std::vector<std::string> holes;
  for (const GuideHole& hole : plan.holes) holes.push_back(hole.id);
  writer.words("Drills " + listed(holes, " and ") + ".");
  for (const std::string& words : set_words(plan)) writer.words(words);
  if (plan.sighting_line) writer.words("Turned by the " + plan.sighting_line->name + " in its windows.");
  const double a = along_of(instrument, plan.at.from), b = along_of(instrument, plan.at.to);
  writer.words("From " + fixed_text(std::min(a, b), 1) + " to " + fixed_text(std::max(a, b), 1) +
               " from the mouth cut.");
  if (!plan.after.empty()) writer.words("After " + listed(plan.after, " and ") + ".");
  return writer.done();
}

constexpr double name_room = 5.5;       ///< of a guide's name over its views
constexpr double heading_width = 15.0;  ///< of a view's heading, with the room beside it

/// One guide: above and side beside each other, the end below them.
class GuidePicture {
 public:
  GuidePicture(const Instrument& instrument, const GuidePlan& plan, const GuideLines& lines)
      : instrument_(instrument),
        plan_(plan),
        lines_(lines),
        above_(bounds_of(lines.above)),
        side_(bounds_of(lines.side)),
        end_(bounds_of(lines.end)) {
    for (const GuideHole& hole : plan.holes) labels_.push_back({{}, hole.boss_radius, hole.id, {}});
  }
  double width(double scale) const {
    return running_room + shown(above_, scale) + shown(side_, scale) + shown(end_, scale) + 3.0 +
           side_label_room(scaled(scale)) + 2.0 * gap;
  }
  double height(double scale) const { return name_room + heading_room + 4.0 + down(above_) * scale + 3.0; }

  void draw(Page& page, Vec2 corner, double scale, bool hidden) const {
    const std::string id = "guide-" + std::to_string(plan_.number);
    const double high = corner.y + height(scale);
    corner.y += name_room;
    const double top = corner.y + heading_room + 3.0;
    const double low = corner.y + heading_room - 2.0;
    double x = corner.x + running_room;
    const ViewPlace above = placed(above_, {x, top}, scale);
    draw_view(page, id + "-above", plan_.name + " in place, from above", lines_.above, above, hidden);
    name(page, id + "-above-heading", "above", x, x + shown(above_, scale), corner.y);
    draw_along(page, id, above, x - 3.0, low, high);
    x += shown(above_, scale);
    std::vector<SideLabel> labels = scaled(scale);
    for (std::size_t i = 0; i < labels.size(); ++i)
      labels[i].point = above.on_page(lines_.above.frame.seen(plan_.holes[i].drilling.point));
    draw_side_labels(page, id + "-names", "Holes", x + 3.0, labels, low, high);
    x += 3.0 + side_label_room(labels) + gap;
    draw_view(page, id + "-side", plan_.name + " in place, from its side", lines_.side,
              placed(side_, {x, top}, scale), hidden);
    name(page, id + "-side-heading", "side", x, x + shown(side_, scale), corner.y);
    x += shown(side_, scale) + gap;
    draw_view(page, id + "-end", plan_.name + " in place, along the tube", lines_.end,
              placed(end_, {x, top}, scale), false);
    name(page, id + "-end-heading", "mouth end", x, x + shown(end_, scale), corner.y);
  }

 private:
  static double across(const SeenBounds& b) { return b.greatest.x - b.least.x; }
  static double down(const SeenBounds& b) { return b.greatest.y - b.least.y; }
  /// Of a view with its heading over it.
  static double shown(const SeenBounds& b, double scale) {
    return std::max(across(b) * scale, heading_width);
  }
  /// In the middle under its heading.
  static ViewPlace placed(const SeenBounds& bounds, Vec2 corner, double scale) {
    const Vec2 beside{0.5 * (shown(bounds, scale) - across(bounds) * scale), 0.0};
    return {corner + beside - bounds.least * scale, scale, false};
  }
  static void name(Page& page, const std::string& id, const char* words, double left, double right,
                   double y) {
    Sketch(page, id, words).words({0.5 * (left + right), y + 3.0}, words, Anchor::middle);
  }
  std::vector<SideLabel> scaled(double scale) const {
    std::vector<SideLabel> labels = labels_;
    for (SideLabel& label : labels) label.clear = label.clear * scale + 0.6;
    return labels;
  }
  /// The guide's ends and its holes, from the mouth cut.
  void draw_along(Page& page, const std::string& id, const ViewPlace& place, double x, double low,
                  double high) const {
    const double sense = instrument_.mouth_end == End::a ? 1.0 : -1.0;
    std::vector<RunningDimension> dimensions;
    const auto add = [&](double at, double from_x) {
      dimensions.push_back(
          {place.on_page({0.0, sense * at}).y, from_x, fixed_text(along_of(instrument_, at), 1)});
    };
    const double edge = place.on_page({above_.least.x, 0.0}).x - 0.6;
    add(plan_.at.from, edge);
    add(plan_.at.to, edge);
    for (const GuideHole& hole : plan_.holes) {
      const Vec2 p = place.on_page(lines_.above.frame.seen(hole.drilling.point));
      add(-hole.drilling.point.z, p.x - hole.boss_radius * place.scale - 0.6);
    }
    draw_running(page, id + "-along", "Along, from the mouth cut", x, std::nullopt, dimensions, low, high);
  }

  const Instrument& instrument_;
  const GuidePlan& plan_;
  const GuideLines& lines_;
  SeenBounds above_, side_, end_;
  std::vector<SideLabel> labels_;
};

const std::set<LineSign> guide_signs{LineSign::visible, LineSign::hidden, LineSign::first_angle};

/// The largest scale at which it stands in that room.
double scale_for(const GuidePicture& picture, double width, double height) {
  double scale = 1.0;
  while ((picture.width(scale) > width || picture.height(scale) > height) && scale > 0.03)
    scale = standard_scale(0.9 * scale);
  return scale;
}

}  // namespace

Drawing guide_sheets(const Tube&, const Instrument& instrument, const std::vector<GuidePlan>& plans,
                     const std::vector<GuideLines>& lines, const DrawingOptions& options) {
  require(plans.size() == lines.size(), "every guide has its lines");
  std::vector<GuidePicture> pictures;
  double scale = 1.0;
  const std::string kind = "drill guides in place";
  const Box room = LineSheet(instrument, options, kind).room();
  for (std::size_t i = 0; i < plans.size(); ++i) {
    pictures.emplace_back(instrument, plans[i], lines[i]);
    scale = std::min(scale, scale_for(pictures.back(), room.width(), room.height()));
  }
  std::vector<std::vector<std::size_t>> sheets;
  double used = 0.0, words = 0.0;
  const double column =
      LineSheet(instrument, options, kind).column().height() - LineSheet::foot_height(guide_signs);
  for (std::size_t i = 0; i < pictures.size(); ++i) {
    const double height = pictures[i].height(scale) + gap;
    const double block = guide_words(plans[i], instrument).height + 5.0;
    if (sheets.empty() || used + height > room.height() + gap || words + block > column) {
      sheets.emplace_back();
      used = words = 0.0;
    }
    sheets.back().push_back(i);
    used += height;
    words += block;
  }
  Drawing drawing;
  for (const std::vector<std::size_t>& together : sheets) {
    LineSheet sheet(instrument, options, kind);
    double y = sheet.room().top;
    for (const std::size_t i : together) {
      Sketch(sheet.page(), "guide-" + std::to_string(plans[i].number) + "-heading", plans[i].name)
          .words({sheet.room().left, y + 3.5}, plans[i].name, Anchor::start, 3.5, Weight::bold);
      pictures[i].draw(sheet.page(), {sheet.room().left, y}, scale, options.hidden);
      sheet.add(guide_words(plans[i], instrument));
      y += pictures[i].height(scale) + gap;
    }
    const int number = static_cast<int>(drawing.pages.size()) + 1;
    drawing.pages.push_back(
        sheet.done(guide_signs, scale_words(scale), number, static_cast<int>(sheets.size())));
  }
  return drawing;
}

Drawing cup_sheets(const Instrument& instrument, const std::vector<CupLines>& lines,
                   const DrawingOptions& options) {
  Drawing drawing;
  if (lines.empty()) return drawing;
  const std::string kind = "key cups";
  std::set<LineSign> signs{LineSign::visible};
  if (options.hidden) signs.insert(LineSign::hidden);
  const Box room = LineSheet(instrument, options, kind).room();
  Vec2 above{0.0, 0.0}, side{0.0, 0.0};
  for (const CupLines& cup : lines) {
    const SeenBounds a = bounds_of(cup.above), b = bounds_of(cup.side);
    above = {std::max(above.x, a.greatest.x - a.least.x), std::max(above.y, a.greatest.y - a.least.y)};
    side = {std::max(side.x, b.greatest.x - b.least.x), std::max(side.y, b.greatest.y - b.least.y)};
  }
  constexpr double name_room = 9.0;
  const double wide = above.x + side.x + 3.0;
  const double scale = standard_scale((room.width() - gap) / wide);
  const Vec2 cell{wide * scale + gap, std::max({above.y, side.y}) * scale + name_room + 6.0};
  const int columns = std::max(1, static_cast<int>(std::floor((room.width() + gap) / cell.x)));
  const int rows = std::max(1, static_cast<int>(std::floor((room.height() + 6.0) / cell.y)));
  const int on_sheet = columns * rows;
  const int sheets = (static_cast<int>(lines.size()) + on_sheet - 1) / on_sheet;
  for (int s = 0; s < sheets; ++s) {
    LineSheet sheet(instrument, options, kind);
    for (int i = s * on_sheet; i < std::min(static_cast<int>(lines.size()), (s + 1) * on_sheet); ++i) {
      const CupLines& cup = lines[i];
      const int k = i - s * on_sheet;
      const Vec2 corner{room.left + cell.x * (k % columns), room.top + cell.y * (k / columns)};
      const std::string id = "cup-" + std::to_string(i + 1);
      Sketch(sheet.page(), id + "-name", "Cup " + cup.id)
          .words(corner + Vec2{0.0, 5.2}, cup.id, Anchor::start, 5.0, Weight::bold);
      const SeenBounds a = bounds_of(cup.above), b = bounds_of(cup.side);
      const double middle = corner.y + name_room + 0.5 * std::max(above.y, side.y) * scale;
      const auto at = [&](const SeenBounds& bounds, double left) {
        return ViewPlace{
            {left - bounds.least.x * scale, middle - 0.5 * (bounds.least.y + bounds.greatest.y) * scale},
            scale,
            false};
      };
      draw_view(sheet.page(), id + "-above", "Cup " + cup.id + ", from its touch", cup.above, at(a, corner.x),
                options.hidden);
      draw_view(sheet.page(), id + "-side", "Cup " + cup.id + ", from its side", cup.side,
                at(b, corner.x + (above.x + 3.0) * scale), options.hidden);
    }
    BlockWriter writer("words", "What is shown");
    writer.heading("Key cups")
        .words(
            "Each from its touch, and from the player's right beside it; the mouth end is up, where the "
            "notch "
            "points.");
    sheet.add(writer.done());
    drawing.pages.push_back(sheet.done(signs, scale_words(scale), s + 1, sheets));
  }
  return drawing;
}

}  // namespace culmwright
