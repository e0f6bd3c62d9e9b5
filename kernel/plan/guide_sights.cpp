/// The guide's outer face in the flat, and the sighting windows on it.
#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "base/words.hpp"
#include "plan/guide_parts.hpp"

namespace culmwright::guide_parts {

using namespace guide_sizes;

namespace {

constexpr int foot_points = 32;
constexpr double text_edge_margin = 2.0;
constexpr double sight_room = 1.2;
constexpr double end_room = 1.5;  ///< from the tube's end, where the stop stands
constexpr double sight_step = 0.5;
constexpr double greatest_sight_deg = 58.0;
/// Between the skin's normal and the plane that draws the line, at least as a cosine: the scribing block runs
/// off a skin that turns away from it, and on a bent slim tube the plane may miss the skin.
constexpr double least_facing = 0.6;
constexpr double greatest_slant = 0.5;  ///< of the line across the window, aside per length
constexpr double least_base = 40.0;     ///< between the two windows of a guide, where another line offers it

Span grown(const Span& span, double by) {
  return {span.from - by, span.to + by};
}

}  // namespace

FlatMap::FlatMap(const GuidePlan& plan)
    : middle_(plan.middle()), radius_(plan.outer.radius(plan.middle(), plan.at.middle())), at_(plan.at) {
  across_ = {-1e300, 1e300};
  for (int i = 0; i <= 20; ++i) {
    const double at = at_.from + at_.length() * i / 20;
    across_.from = std::max(across_.from, flat(plan.foot_theta(plan.outer, -1, at), at).x);
    across_.to = std::min(across_.to, flat(plan.foot_theta(plan.outer, 1, at), at).x);
  }
  for (const GuideBoss* boss : plan.bosses()) {
    const RigidMotion frame = rim_frame(boss->drilling);
    const GuideFace::Meeting axis = plan.outer.meet(frame, {});
    Disc disc{flat(axis.theta, axis.at), 0.0};
    for (int i = 0; i < foot_points; ++i) {
      const Vec2 aim = direction(Angle::from_degrees(360.0 * i / foot_points)) * boss->boss_radius;
      const GuideFace::Meeting foot = plan.outer.meet(frame, aim);
      disc.radius = std::max(disc.radius, length(flat(foot.theta, foot.at) - disc.middle));
    }
    bosses_.push_back(disc);
  }
  for (const OffsetPatch& patch : plan.outer.field().patches) {
    const Span whole = grown(patch.at, patch.at_step);
    if (patch.height < 0.0) {
      bands_.push_back(whole);  // straps cover it
    } else {
      bands_.push_back({whole.from, patch.at.from});
      bands_.push_back({patch.at.to, whole.to});
    }
  }
}

bool FlatMap::even(const Box& box, double margin) const {
  for (const Span& band : bands_) {
    if (box.low.y < band.to && box.high.y > band.from) return false;
  }
  return std::none_of(bosses_.begin(), bosses_.end(), [&](const Disc& disc) {
    const Vec2 nearest{std::clamp(disc.middle.x, box.low.x, box.high.x),
                       std::clamp(disc.middle.y, box.low.y, box.high.y)};
    return length(nearest - disc.middle) < disc.radius + margin;
  });
}

bool FlatMap::free(const Box& box, double margin) const {
  if (box.low.x < across_.from + text_edge_margin || box.high.x > across_.to - text_edge_margin) return false;
  if (box.low.y < at_.from + text_edge_margin || box.high.y > at_.to - text_edge_margin) return false;
  if (!even(box, margin)) return false;
  for (const Box& other : boxes_) {
    if (box.low.x < other.high.x + margin && box.high.x > other.low.x - margin &&
        box.low.y < other.high.y + margin && box.high.y > other.low.y - margin) {
      return false;
    }
  }
  return true;
}

namespace {

/// The lines a maker can draw with the scribing block, the usual ones first.
std::vector<SightingLine> lines_to_sight_on(const Instrument& instrument) {
  std::vector<SightingLine> lines{{"reference line", "REF LINE", Angle()}};
  if (std::abs(instrument.facing.normalized().radians()) > 1e-9)
    lines.push_back({"key line", "KEY LINE", instrument.facing});
  const auto add = [&](double degrees) {
    const std::string side = degrees > 0 ? "left" : "right";
    const std::string angle = number_text(std::abs(degrees));
    lines.push_back({"line at " + angle + "° to the player's " + side + " of the reference line",
                     angle + " " + side, Angle::from_degrees(degrees)});
  };
  lines.push_back({"line opposite the reference line", "180 LINE", Angle::from_degrees(180.0)});
  for (const double degrees : {90.0, -90.0, 45.0, -45.0, 135.0, -135.0}) add(degrees);
  return lines;
}

class SightFinder {
 public:
  SightFinder(const Job& job, const GuidePlan& plan, const FlatMap& map)
      : job_(job), plan_(plan), map_(map) {}

  double theta(Angle facing, double at) const {
    return plan_.outer.unwrapped(job_.base.section(at).theta_on_half_plane(facing).radians());
  }

  /// The first free place from one end (side −1: from the low end) toward the other.
  std::optional<double> from_end(Angle facing, int side) const {
    const double half = 0.5 * sight_length;
    const Span over = {std::max(plan_.at.from, job_.ends().from + end_room),
                       std::min(plan_.at.to, job_.ends().to - end_room)};
    const double start = side < 0 ? over.from + half : over.to - half;
    for (double in = 0.0; in <= over.length() - sight_length; in += sight_step) {
      const double at = start - side * in;
      if (place_free(facing, at)) return at;
    }
    return {};
  }

  SightingWindow window(Angle facing, double at) const {
    const double half = 0.5 * sight_length;
    const double aside = 0.5 * sight_width / plan_.outer.radius(theta(facing, at), at);
    SightingWindow window;
    window.corners = {{theta(facing, at - half), at - half},
                      {theta(facing, at) + aside, at},
                      {theta(facing, at + half), at + half},
                      {theta(facing, at) - aside, at}};
    window.near_corner = place(facing, at - half);
    window.far_corner = place(facing, at + half);
    return window;
  }

  FlatMap::Box box(Angle facing, double at) const {
    const Vec2 middle = map_.flat(theta(facing, at), at);
    const Vec2 half{0.5 * sight_width + 0.3, 0.5 * sight_length};
    return {middle - half, middle + half};
  }

 private:
  SkinPlace place(Angle facing, double at) const {
    const Section section = job_.tube.section(at);
    return {at, section.around(section.theta_on_half_plane(facing))};
  }

  bool line_there(Angle facing, double at) const {
    const Section section = job_.base.section(at);
    const Angle found = section.theta_on_half_plane(facing);
    const Vec2 p = section.point(found);
    return std::abs(dot(p, tangent(facing))) < 1e-6 && dot(p, direction(facing)) > 0.0 &&
           (found - facing).cos() >= least_facing;
  }

  /// Whether the line can be drawn across the whole window, and runs along it.
  bool line_runs(Angle facing, double at) const {
    const double middle = theta(facing, at);
    const double radius = plan_.outer.radius(middle, at);
    for (const double off : {-0.5 * sight_length, 0.0, 0.5 * sight_length}) {
      if (!line_there(facing, at + off)) return false;
      if (radius * std::abs(theta(facing, at + off) - middle) > greatest_slant * std::abs(off)) return false;
    }
    return true;
  }

  bool place_free(Angle facing, double at) const {
    if (!line_runs(facing, at)) return false;
    const double half = 0.5 * sight_length + sight_room;
    const double from_middle = theta(facing, at) - plan_.middle();
    if (std::abs(from_middle) > greatest_sight_deg * pi / 180.0) return false;
    for (const NodeBand& band : node_bands(job_.tube)) {
      if (at - half < band.at.to && at + half > band.at.from) return false;
    }
    const double clear_of_pad = (pad_middle_deg - pad_half_deg) * pi / 180.0 - 0.15;
    for (const Span& pad : plan_.pads) {
      if (std::abs(from_middle) > clear_of_pad && at - half < pad.to && at + half > pad.from) return false;
    }
    return map_.free(box(facing, at), sight_room);
  }

  const Job& job_;
  const GuidePlan& plan_;
  const FlatMap& map_;
};

}  // namespace

void add_sights(const Job& job, GuidePlan& plan, FlatMap& map) {
  const SightFinder finder(job, plan, map);
  const auto base_of = [&](const SightingLine& line) {
    const auto low = finder.from_end(line.facing, -1);
    const auto high = finder.from_end(line.facing, 1);
    return low && high ? *high - *low : (low ? 0.0 : -1.0);
  };
  const SightingLine* best = nullptr;
  double best_base = -1.0;
  const std::vector<SightingLine> lines = lines_to_sight_on(job.instrument);
  for (const SightingLine& line : lines) {
    const double base = base_of(line);
    if (base > best_base + 1e-9) {
      best = &line;
      best_base = base;
    }
    if (best_base >= std::max(least_base, 0.5 * plan.at.length())) break;
  }
  if (best == nullptr) {
    plan.notes.push_back("no room for sighting windows: set the turn by the skin marks of the template");
    return;
  }
  plan.sighting_line = *best;
  const double low = *finder.from_end(best->facing, -1);
  const double high = *finder.from_end(best->facing, 1);
  const bool two = high - low >= sight_length + 2.0;
  if (!two) plan.notes.push_back("room for one sighting window only: check the turn at its two corners");
  for (const double at : two ? std::vector<double>{low, high} : std::vector<double>{low}) {
    plan.sights.push_back(finder.window(best->facing, at));
    map.occupy(finder.box(best->facing, at));
  }
}

}  // namespace culmwright::guide_parts
