#include "paper/step_picture.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"

namespace culmwright {

namespace {

constexpr double names_from = 50.0;  ///< x of the column of names
constexpr double highest = 74.0;
constexpr double largest_scale = 2.0;
constexpr double edge = 2.0;
constexpr double name_pitch = 4.4;
constexpr double collar_height = 4.0;
constexpr double bit_above = 9.0;  ///< of the bit that is drawn above its stop
constexpr double collar_beside = 3.0;
constexpr double block_foot = 8.0;  ///< of a V-block under its groove
constexpr int section_points = 180;

/// Where the hole is, from the skin at its middle: x to the right of who looks from the mouth end, y outward.
class Cut {
 public:
  Cut(const DrillBench& bench, const Drilling& drilling)
      : section_(bench.tube().section(-drilling.point.z)), middle_{drilling.point.x, drilling.point.y} {
    const double long_axis = std::hypot(drilling.axis.x, drilling.axis.y);
    up_ = {drilling.axis.x / long_axis, drilling.axis.y / long_axis};
    const double side = bench.instrument.mouth_end == End::a ? 1.0 : -1.0;
    right_ = {side * up_.y, -side * up_.x};
  }
  Vec2 seen(Vec2 p) const {
    const Vec2 d = p - middle_;
    return {d.x * right_.x + d.y * right_.y, d.x * up_.x + d.y * up_.y};
  }
  /// The skin, moved outward by `off`.
  Vec2 skin(double theta, double off = 0.0) const {
    return seen(section_.point(Angle::from_radians(theta)) + Vec2{std::cos(theta), std::sin(theta)} * off);
  }
  Vec2 bore(double theta, double off = 0.0) const {
    return seen(section_.bore_point(Angle::from_radians(theta)) +
                Vec2{std::cos(theta), std::sin(theta)} * off);
  }

 private:
  Section section_;
  Vec2 middle_;
  Vec2 up_;
  Vec2 right_;
};

using Corners = std::vector<Vec2>;

/// A thing in the cut, in millimetres of the cut, and its name.
struct Thing {
  std::string id;
  std::string name;
  Corners corners;
  Ink fill = Ink::white;
  Corners inner{};  ///< a hole in it
  Vec2 pointed_at{};
};

Corners box(double left, double bottom, double right, double top) {
  return {{left, bottom}, {right, bottom}, {right, top}, {left, top}};
}

/// What drills, and how far.
struct Bit {
  double radius = 0.0;
  double top = 0.0;  ///< what the stop bears on, over the skin
  double tip = 0.0;  ///< negative: under the skin
};

const GuideHole* guided(const DrillBench& bench, const DrillingStep& step, const std::string& id,
                        const GuidePlan** plan) {
  for (const GuidePlan& guide : bench.guides) {
    if (guide.name != step.guide) continue;
    for (const GuideHole& hole : guide.holes) {
      if (hole.id != id) continue;
      *plan = &guide;
      return &hole;
    }
  }
  return nullptr;
}

const Drilling* drilling_of(const DrillBench& bench, const std::string& id) {
  for (const PlacedKey& key : bench.instrument.keys) {
    if (key.key.id == id) return &key.drilling;
  }
  return nullptr;
}

class StepDrawing {
 public:
  StepDrawing(const DrillBench& bench, const DrillingStep& step, const StepLine& line,
              const Drilling& drilling)
      : bench_(bench), step_(step), line_(line), cut_(bench, drilling) {}

  Page draw() {
    add_support();
    add_tube();
    add_backing();
    const GuidePlan* plan = nullptr;
    const GuideHole* hole = guided(bench_, step_, line_.id, &plan);
    Bit bit{0.5 * line_.drill, 0.0, 0.0};
    if (hole != nullptr) bit.top = add_guide(*plan, *hole);
    bit.tip = bit.top - line_.stop->length;
    add_bit(bit);
    return laid_out();
  }

 private:
  Corners around(double from, double to, double off, bool bore) const {
    Corners corners;
    for (int i = 0; i <= section_points; ++i) {
      const double theta = from + (to - from) * i / section_points;
      corners.push_back(bore ? cut_.bore(theta, off) : cut_.skin(theta, off));
    }
    return corners;
  }

  void add_tube() {
    Thing tube{"tube", line_.wall ? "wall " + fixed_text(*line_.wall, 1) : "wall", {}, Ink::accent};
    tube.corners = around(0.0, 2.0 * pi, 0.0, false);
    tube.inner = around(0.0, 2.0 * pi, 0.0, true);
    tube.pointed_at = rightmost(tube.corners);
    things_.push_back(std::move(tube));
  }

  /// Returns the height of what the stop bears on.
  double add_guide(const GuidePlan& plan, const GuideHole& hole) {
    const double half = guide_sizes::greatest_normal_deg * pi / 180.0;
    Thing guide{"guide", plan.name,
                around(plan.middle() - half, plan.middle() + half, bench_.shop.saddle_wall, false)};
    const Corners under = around(plan.middle() + half, plan.middle() - half, 0.0, false);
    guide.corners.insert(guide.corners.end(), under.begin(), under.end());
    guide.pointed_at = rightmost(guide.corners);
    things_.push_back(std::move(guide));
    things_.push_back({"boss", "", box(-hole.boss_radius, 0.5, hole.boss_radius, hole.top)});
    if (hole.plain) return hole.top;
    const double outside = 0.5 * hole.bush.outside;
    Thing bush{"bush", "bush", box(-outside, 0.0, outside, hole.bush.length), Ink::grey};
    bush.pointed_at = {outside, 0.75 * hole.bush.length};
    things_.push_back(std::move(bush));
    return hole.bush.length;
  }

  void add_bit(const Bit& bit) {
    const double shoulder = bit.tip + std::min(0.6 * bit.radius, -bit.tip);
    const double high = bit.top + collar_height + bit_above;
    Thing drill{"bit",
                number_text(line_.drill) + " mm",
                {{0.0, bit.tip},
                 {bit.radius, shoulder},
                 {bit.radius, high},
                 {-bit.radius, high},
                 {-bit.radius, shoulder}}};
    drill.pointed_at = {bit.radius, high - 2.0};
    things_.push_back(std::move(drill));
    const double beside = std::max(bit.radius, 1.5) + collar_beside;
    Thing stop{"stop", "stop at " + fixed_text(line_.stop->length, 1),
               box(-beside, bit.top, beside, bit.top + collar_height), Ink::black};
    stop.pointed_at = {beside, bit.top + 0.5 * collar_height};
    things_.push_back(std::move(stop));
  }

  void add_backing() {
    for (const BackingShoe& shoe : bench_.backing.shoes) {
      if (shoe.name != line_.backing) continue;
      const double middle = shoe.face.middle();
      Thing thing{"backing", shoe.name,
                  around(middle - shoe.half, middle + shoe.half, -backing_sizes::fit, true), Ink::grey};
      thing.pointed_at = rightmost(thing.corners);
      things_.push_back(std::move(thing));
      const Vec2 out{std::cos(middle), std::sin(middle)}, side{-out.y, out.x};
      const double half = 0.3 * shoe.width;
      Thing stick{"stick", "stick", {}};
      for (const auto& [x, y] : {std::pair{-half, shoe.flat},
                                 {half, shoe.flat},
                                 {half, shoe.flat - shoe.stick.from},
                                 {-half, shoe.flat - shoe.stick.from}}) {
        stick.corners.push_back(cut_.seen(side * x + out * y));
      }
      stick.pointed_at = (stick.corners[1] + stick.corners[3]) * 0.5;
      things_.push_back(std::move(stick));
    }
  }

  static bool holds(const BoreAngle& bores, const std::string& id) {
    return std::find(bores.ids.begin(), bores.ids.end(), id) != bores.ids.end();
  }

  void add_support() {
    for (const CradleSet& set : bench_.cradles) {
      for (std::size_t i = 0; i < set.facets.size(); ++i) {
        if (holds(set.facets[i].bores, line_.id)) return add_cradle(set, set.facets[i], false);
      }
      for (const CradleWedge& wedge : set.wedges) {
        if (holds(wedge.bores, line_.id)) return add_cradle(set, set.facets[wedge.facet], true);
      }
    }
    add_block();
  }

  void add_cradle(const CradleSet& set, const CradleFacet& facet, bool wedged) {
    const Vec2 v{std::cos(set.middle.radians()), std::sin(set.middle.radians())}, u{-v.y, v.x};
    const auto place = [&](Vec2 p) { return cut_.seen(u * p.x + v * p.y); };
    Thing cradle{"cradle", "cradle", {}};
    for (const Vec2 p : set.profile(set.bodies.front())) cradle.corners.push_back(place(p));
    double table = cradle.corners.front().y;
    for (const Vec2 p : cradle.corners) table = std::min(table, p.y);
    cradle.pointed_at = rightmost(cradle.corners);
    things_.push_back(std::move(cradle));
    if (!wedged) return;
    const Vec2 a = place(facet.from), b = place(facet.to);
    Thing wedge{"wedge", "wedge", {a, b, {b.x, table}, {a.x, table}}, Ink::grey};
    wedge.pointed_at = rightmost(wedge.corners);
    things_.push_back(std::move(wedge));
  }

  void add_block() {
    const Corners tube = around(0.0, 2.0 * pi, 0.0, false);
    double left = 0.0, right = 0.0, low = 0.0;
    for (const Vec2 p : tube) {
      left = std::min(left, p.x);
      right = std::max(right, p.x);
      low = std::min(low, p.y);
    }
    const double radius = 0.5 * (right - left), x = 0.5 * (left + right);
    const double groove = low + radius - std::sqrt(2.0) * radius, half = 1.1 * radius;
    Thing block{"block",
                "V-block",
                {{x - half, groove - block_foot},
                 {x + half, groove - block_foot},
                 {x + half, groove + half},
                 {x, groove},
                 {x - half, groove + half}}};
    block.pointed_at = {x + half, groove - 0.5 * block_foot};
    things_.push_back(std::move(block));
  }

  static Vec2 rightmost(const Corners& corners) {
    return *std::max_element(corners.begin(), corners.end(), [](Vec2 a, Vec2 b) { return a.x < b.x; });
  }

  Page laid_out() const {
    Vec2 least = things_.front().corners.front(), most = least;
    for (const Thing& thing : things_) {
      for (const Vec2 p : thing.corners) {
        least = {std::min(least.x, p.x), std::min(least.y, p.y)};
        most = {std::max(most.x, p.x), std::max(most.y, p.y)};
      }
    }
    const double scale = std::min({(names_from - 4.0 - 2.0 * edge) / (most.x - least.x),
                                   (highest - 2.0 * edge) / (most.y - least.y), largest_scale});
    Page page;
    page.width = step_picture_width;
    page.height = (most.y - least.y) * scale + 2.0 * edge;
    page.title = line_.id + ", cut across and seen from the mouth end";
    page.description = "The tube cut across at " + line_.id + ": " + line_.what + ". " + line_.held + ".";
    const double left = 0.5 * (names_from - 4.0 - (most.x - least.x) * scale);
    const auto on_page = [&](Vec2 p) {
      return Vec2{left + (p.x - least.x) * scale, edge + (most.y - p.y) * scale};
    };
    for (const Thing& thing : things_) draw(page, thing, on_page);
    write_names(page, on_page);
    return page;
  }

  template <class Place>
  static void draw(Page& page, const Thing& thing, const Place& on_page) {
    Path path;
    for (const Corners* corners : {&thing.corners, &thing.inner}) {
      if (corners->empty()) continue;
      Corners placed;
      for (const Vec2 p : *corners) placed.push_back(on_page(p));
      path.contours.push_back(closed_path(placed).contours.front());
    }
    page.group(thing.id, thing.name)
        .items.push_back(Shape{path, LineType::continuous_thin, thing.fill, Ink::black});
  }

  /// In one column, in the order of what they name, each with a leader; none nearer than the pitch.
  template <class Place>
  void write_names(Page& page, const Place& on_page) const {
    std::vector<std::pair<Vec2, std::string>> names;
    for (const Thing& thing : things_) {
      if (!thing.name.empty()) names.push_back({on_page(thing.pointed_at), thing.name});
    }
    std::stable_sort(names.begin(), names.end(),
                     [](const auto& a, const auto& b) { return a.first.y < b.first.y; });
    std::vector<double> heights;
    double next = edge + 2.5;
    for (const auto& [at, name] : names) {
      heights.push_back(std::max(next, at.y));
      next = heights.back() + name_pitch;
    }
    double last = page.height - edge;
    for (std::size_t i = heights.size(); i-- > 0;) {
      heights[i] = std::min(heights[i], last);
      last = heights[i] - name_pitch;
    }
    Group& group = page.group("names", "What is seen");
    for (std::size_t i = 0; i < names.size(); ++i) {
      group.items.push_back(
          line_between(names[i].first, {names_from - 1.0, heights[i] - 0.9}, LineType::continuous_thin));
      group.items.push_back(Text{
          {names_from, heights[i]}, names[i].second, 2.5, Anchor::start, {}, Weight::regular, Ink::black});
    }
  }

  const DrillBench& bench_;
  const DrillingStep& step_;
  const StepLine& line_;
  Cut cut_;
  std::vector<Thing> things_;
};

}  // namespace

std::optional<Page> step_picture(const DrillBench& bench, const DrillingStep& step) {
  if (step.lines.empty()) return std::nullopt;
  const StepLine& line = step.lines.front();
  if (line.drill <= 0.0 || !line.stop) return std::nullopt;
  const GuidePlan* plan = nullptr;
  const GuideHole* hole = guided(bench, step, line.id, &plan);
  const Drilling* drilling = hole != nullptr ? &hole->drilling : drilling_of(bench, line.id);
  if (drilling == nullptr) return std::nullopt;
  return StepDrawing(bench, step, line, *drilling).draw();
}

}  // namespace culmwright
