/// Where a guide's pads, straps and ends are.
#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "base/words.hpp"
#include "plan/guide_parts.hpp"

namespace culmwright::guide_parts {

using namespace guide_sizes;

namespace {

constexpr double strap_room = 0.5;  ///< each side of the strap in its groove
constexpr double boss_room = 1.0;   ///< from a boss to a strap groove
constexpr double end_margin = 1.5;  ///< from a groove to the guide's end
constexpr double search_step = 0.5;
constexpr double search_reach = 45.0;

double radians(double degrees) {
  return degrees * pi / 180.0;
}

bool overlap(const Span& a, const Span& b) {
  return a.from < b.to && b.from < a.to;
}

/// A patch of the skin that no pad may stand on.
struct BadPatch {
  Span at;
  Span theta;
};

std::vector<BadPatch> bad_patches(const Job& job) {
  std::vector<BadPatch> patches;
  const auto add = [&](SkinPlace place, double length, double width) {
    const Section section = job.base.section(place.at);
    const double theta = section.theta_at(place.around).radians();
    const double middle = job.middle + std::remainder(theta - job.middle, 2.0 * pi);
    const double half = 0.5 * width / (0.5 * section.width(Angle::from_radians(theta)));
    patches.push_back({{place.at - 0.5 * length, place.at + 0.5 * length}, {middle - half, middle + half}});
  };
  for (const Groove& groove : job.tube.grooves()) add(groove.place, groove.length, groove.width);
  for (const Blemish& blemish : job.tube.blemishes()) add(blemish.place, blemish.length, blemish.width);
  for (const GuideBoss* boss : job.bosses()) {
    const double theta = std::atan2(boss->drilling.axis.y, boss->drilling.axis.x);
    const double middle = job.middle + std::remainder(theta - job.middle, 2.0 * pi);
    const double half = boss->bore_radius / length(Vec2{boss->drilling.point.x, boss->drilling.point.y});
    const double at = -boss->drilling.point.z;
    patches.push_back({{at - boss->bore_radius, at + boss->bore_radius}, {middle - half, middle + half}});
  }
  return patches;
}

/// Looks for places along one guide; what stands in the way is found once.
class Ground {
 public:
  explicit Ground(const Job& job)
      : job_(job), bands_(node_bands(job.tube)), patches_(bad_patches(job)), bosses_(job.bosses()) {}

  bool pads_clear(double at) const {
    const Span whole{at - 0.5 * pad_length - pad_along_step, at + 0.5 * pad_length + pad_along_step};
    for (const NodeBand& band : bands_) {
      const double room = band.ridge_height > 0.0 ? node_room + node_step : node_room;
      if (overlap(whole, {band.at.from - room, band.at.to + room})) return false;
    }
    const Span flat{at - 0.5 * pad_length, at + 0.5 * pad_length};
    for (const BadPatch& patch : patches_) {
      if (!overlap(flat, patch.at)) continue;
      for (const double side : {-1.0, 1.0}) {
        const double middle = job_.middle + side * radians(pad_middle_deg);
        const double half = radians(pad_half_deg);
        if (overlap({middle - half, middle + half}, patch.theta)) return false;
      }
    }
    return true;
  }
  /// Whether a strap's groove with its flanks misses every boss, and its flat part every
  /// raised ridge.
  bool strap_clear(double at) const {
    const Span flat{at - half_groove(), at + half_groove()};
    for (const NodeBand& band : bands_) {
      if (band.ridge_height > 0.0 && overlap(flat, {band.at.from - node_room, band.at.to + node_room}))
        return false;
    }
    const Span groove{flat.from - strap_step, flat.to + strap_step};
    return std::none_of(bosses_.begin(), bosses_.end(), [&](const GuideBoss* boss) {
      const double middle = -boss->drilling.point.z;
      const double reach = boss->boss_radius + boss_room;
      return overlap(groove, {middle - reach, middle + reach});
    });
  }
  double half_groove() const { return 0.5 * job_.shop.strap_width + strap_room; }
  /// The outermost edge of the holes' bosses on that side (−1: toward end A), or of all bosses.
  double edge(int side, bool with_pegs) const {
    double edge = -1e300;
    for (const GuideHole& hole : job_.holes)
      edge = std::max(edge, -side * hole.drilling.point.z + hole.boss_radius);
    for (const GuidePeg& peg : job_.pegs) {
      if (with_pegs) edge = std::max(edge, -side * peg.drilling.point.z + peg.boss_radius);
    }
    return side * edge;
  }
  /// The outermost hole's own place.
  double outermost_hole(int side) const {
    double place = -1e300;
    for (const GuideHole& hole : job_.holes) place = std::max(place, -side * hole.drilling.point.z);
    return side * place;
  }
  double end(int side) const { return side < 0 ? job_.ends().from : job_.ends().to; }

 private:
  const Job& job_;
  std::vector<NodeBand> bands_;
  std::vector<BadPatch> patches_;
  std::vector<const GuideBoss*> bosses_;
};

/// The middles of pads and strap near one end, and where the guide may end there.
struct EndZone {
  double pad = 0.0;
  std::optional<double> strap;
  double end_at = 0.0;
};

double outermost(int side, double a, double b) {
  return side * std::max(side * a, side * b);
}

/// Pads under a strap outside the holes, from their bosses outward so that the guide stays short.
std::optional<EndZone> strapped_zone(const Ground& ground, int side, double strap_width) {
  const double edge = ground.edge(side, false);
  const double least_end = ground.edge(side, true) + side * stop_margin;
  for (double out = 0.0; out <= search_reach; out += search_step) {
    const double middle = edge + side * (boss_room + strap_step + ground.half_groove() + out);
    if (side * middle + 0.5 * strap_width > side * ground.end(side)) break;
    if (!ground.pads_clear(middle) || !ground.strap_clear(middle)) continue;
    const double groove_end = middle + side * (ground.half_groove() + strap_step + end_margin);
    return EndZone{middle, middle, outermost(side, groove_end, least_end)};
  }
  return {};
}

/// Pads as far out as the bosses reach or somewhat less, but never so far in that a hole is drilled outside
/// them; farther out where there is no such place. A strap then only where the bosses leave room for it.
std::optional<EndZone> bare_zone(const Ground& ground, int side) {
  const double edge = ground.edge(side, false);
  const double half_pad = 0.5 * pad_length + pad_along_step;
  const double outer =
      side * std::min(side * ground.end(side) - 0.5 * pad_length - 1.0, side * edge + half_pad);
  const double innermost = side * ground.outermost_hole(side) - 0.5 * pad_length;
  std::vector<double> places;
  for (double at = side * outer; at >= innermost; at -= search_step) places.push_back(side * at);
  for (double out = search_step; out <= search_reach; out += search_step) {
    if (side * outer + out + 0.5 * pad_length + 1.0 <= side * ground.end(side))
      places.push_back(outer + side * out);
  }
  const double least_end = ground.edge(side, true) + side * stop_margin;
  for (const double middle : places) {
    if (!ground.pads_clear(middle)) continue;
    return EndZone{middle, {}, outermost(side, middle + side * half_pad, least_end)};
  }
  return {};
}

/// Where the guide reaches the tube's end anyway: from there inward, for the pads to stand as far apart as
/// can be.
std::optional<EndZone> stop_zone(const Ground& ground, int side) {
  const double innermost = side * ground.edge(side, true) + boss_room + strap_step + ground.half_groove();
  for (double out = side * ground.end(side) - ground.half_groove() - end_margin; out >= innermost;
       out -= search_step) {
    const double middle = side * out;
    if (ground.pads_clear(middle) && ground.strap_clear(middle))
      return EndZone{middle, middle, ground.end(side)};
  }
  return {};
}

/// A place for a strap between bosses, from the guide's end inward to its middle, clear of the other strap.
std::optional<double> strap_between(const Ground& ground, const Span& at, int side,
                                    const std::optional<double>& other) {
  const double room = ground.half_groove() + strap_step + end_margin;
  for (double in = room; in <= 0.5 * at.length() - room; in += search_step) {
    const double middle = side < 0 ? at.from + in : at.to - in;
    if (other && std::abs(*other - middle) < 2.0 * room) continue;
    if (ground.strap_clear(middle)) return middle;
  }
  return {};
}

struct Zones {
  EndZone low;
  EndZone high;
  Span at;
  Stop stop;

  int missing_straps() const { return !low.strap + !high.strap; }
  int rank() const {
    return stop.kind == StopKind::end_on_line ? 0 : stop.kind == StopKind::end_on_middle ? 1 : 2;
  }
};

/// To the planes of its joints; false where it would be longer without.
bool draw_out(const Job& job, Span& at) {
  const GuideJoint* low = job.joint(End::a);
  const GuideJoint* high = job.joint(End::b);
  if ((low != nullptr && at.from < low->at - 1e-9) || (high != nullptr && at.to > high->at + 1e-9))
    return false;
  if (low != nullptr) at.from = low->at;
  if (high != nullptr) at.to = high->at;
  return true;
}

/// All ways to end the guide that the bed takes.
std::vector<Zones> possible_zones(const Job& job, const Ground& ground) {
  std::vector<Zones> possible;
  const double width = job.shop.strap_width;
  const std::optional<EndZone> low[2] = {strapped_zone(ground, -1, width), bare_zone(ground, -1)};
  const std::optional<EndZone> high[2] = {strapped_zone(ground, 1, width), bare_zone(ground, 1)};
  for (const auto& a : low) {
    for (const auto& b : high) {
      if (!a || !b || a->pad + pad_length > b->pad) continue;
      Zones zones{*a, *b, {a->end_at, b->end_at}, {}};
      if (!draw_out(job, zones.at)) continue;
      if (zones.at.length() > job.longest()) continue;
      if (job.pegs.empty() && !job.locked()) zones.stop = find_stop(job, zones.at);
      possible.push_back(zones);
    }
  }
  return possible;
}

}  // namespace

Arrangement arrange(const Job& job) {
  const Ground ground(job);
  std::vector<Zones> possible = possible_zones(job, ground);
  if (possible.empty()) {
    throw GeometryError(
        job.name(), "pads",
        "no place between at " + number_text(ground.edge(-1, true), 4) + " and " +
            number_text(ground.edge(1, true), 4) +
            ", or near it, where pads stand clear of nodes, grooves, blemishes and bores on a "
            "guide that fits the bed's " +
            number_text(job.longest(), 4));
  }
  const auto better = [](const Zones& a, const Zones& b) {
    if (a.rank() != b.rank()) return a.rank() < b.rank();
    return a.missing_straps() < b.missing_straps();
  };
  Zones best = *std::min_element(possible.begin(), possible.end(), better);
  if (best.stop.post) {
    const int side = best.stop.post->end == End::a ? -1 : 1;
    if (const auto zone = stop_zone(ground, side)) (side < 0 ? best.low : best.high) = *zone;
  }
  Arrangement result;
  result.at = best.at;
  result.stop = best.stop;
  for (const int side : {-1, 1}) {
    const EndZone& zone = side < 0 ? best.low : best.high;
    result.pads.push_back({zone.pad - 0.5 * pad_length, zone.pad + 0.5 * pad_length});
    const EndZone& other = side < 0 ? best.high : best.low;
    const auto strap = zone.strap ? zone.strap : strap_between(ground, result.at, side, other.strap);
    if (strap) {
      result.straps.push_back({*strap - ground.half_groove(), *strap + ground.half_groove()});
    } else {
      result.without_strap.push_back(side);
    }
  }
  return result;
}

}  // namespace culmwright::guide_parts
