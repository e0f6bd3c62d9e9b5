/// A cup's plan as faces and walls.
#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "plan/cup_plan.hpp"
#include "plan/seated_levels.hpp"

namespace culmwright {

namespace {

using namespace cup_sizes;

constexpr double same_place = 1e-9;

/// The flange's edge; divided by the slot's two ends where there is one.
struct FlangeEdge {
  OutlinePath whole;
  OutlinePath over_slot;  ///< what of `whole` the slot opens through
  OutlinePath elsewhere;  ///< the rest, from the slot's end round to its beginning
  OutlinePath slot;  ///< the slot's own three sides, from its beginning to its end; the seat on their left
};

/// t at which the piece, whose y grows, passes that y.
double t_at(const PathPiece& piece, double y) {
  return find_root([&](double t) { return piece.at(t).y - y; }, 0.0, 1.0, 1e-14);
}

/// For a mouth end toward −x: the slot lies at +x.
FlangeEdge edge_with_slot(const OutlinePath& outline) {
  const double w = slot_half_width;
  std::vector<PathPiece> before, in, after;
  for (const PathPiece& piece : outline) {
    if (piece.at(0.5).x < 0.0 || piece.at(0.0).y > piece.at(1.0).y) {
      (piece.at(0.5).y > 0.0 ? after : before).push_back(piece);
      continue;
    }
    double from = 0.0;
    const auto take = [&](double y, std::vector<PathPiece>& list) {
      if (piece.at(1.0).y <= y + same_place) {
        if (from < 1.0) list.push_back(piece.part(from, 1.0));
        from = 1.0;
      } else if (piece.at(from).y < y - same_place) {
        const double t = t_at(piece, y);
        list.push_back(piece.part(from, t));
        from = t;
      }
    };
    take(-w, before);
    take(w, in);
    if (from < 1.0) after.push_back(piece.part(from, 1.0));
  }
  FlangeEdge edge;
  // The outline begins somewhere on its +x side: put each list in the order of the run.
  const auto by_angle = [](const PathPiece& a, const PathPiece& b) {
    const auto turn = [](const PathPiece& p) {
      const Vec2 m = p.at(0.5);
      const double angle = std::atan2(m.y, m.x);
      return angle;
    };
    return turn(a) < turn(b);
  };
  for (std::vector<PathPiece>* list : {&before, &in, &after}) std::sort(list->begin(), list->end(), by_angle);
  edge.over_slot = in;
  edge.elsewhere = after;
  edge.elsewhere.insert(edge.elsewhere.end(), before.begin(), before.end());
  edge.whole = edge.over_slot;
  edge.whole.insert(edge.whole.end(), edge.elsewhere.begin(), edge.elsewhere.end());
  const Vec2 begin = in.front().at(0.0);
  const Vec2 end = in.back().at(1.0);
  const double inner = std::max(begin.x, end.x) - slot_depth;
  edge.slot = {PathPiece::line(begin, {inner, begin.y}), PathPiece::line({inner, begin.y}, {inner, end.y}),
               PathPiece::line({inner, end.y}, end)};
  return edge;
}

FlangeEdge flange_edge(const CupPlan& plan) {
  FlangeEdge edge;
  if (plan.flush) {
    edge.whole = edge.elsewhere = rounded_path(plan.flange);
    return edge;
  }
  const OutlinePath outline = with_notch(plan.flange, notch_radius, notch_depth, notch_lead);
  if (plan.pry_slot) {
    edge = edge_with_slot(outline);
  } else {
    edge.whole = edge.elsewhere = outline;
  }
  if (plan.toward_mouth > 0.0) {
    for (OutlinePath* path : {&edge.whole, &edge.over_slot, &edge.elsewhere, &edge.slot})
      *path = half_turned(*path);
  }
  return edge;
}

OutlinePath joined(const OutlinePath& a, const OutlinePath& b) {
  OutlinePath all = a;
  all.insert(all.end(), b.begin(), b.end());
  return all;
}

class CupBody {
 public:
  explicit CupBody(const CupPlan& plan) : plan_(plan), edge_(flange_edge(plan)) {
    part_.part = plan.part();
    part_.to_tube = plan.to_tube;
  }

  SeatedPart build() {
    touch_ = part_.add(plan_.touch());
    shoulder_ = part_.add(plan_.touch().raised(-plan_.chamfer));
    part_.wall("chamfer", edge_.whole, shoulder_, touch_, plan_.chamfer);
    if (plan_.pad) {
      padded_underside();
    } else if (plan_.flush) {
      spigot_end(edge_.whole, shoulder_);
    } else {
      seat();
    }
    std::vector<SeatedLoop> touch{{moved_in(edge_.whole, plan_.chamfer), std::nullopt}};
    hollows(touch);
    lugs(touch);
    part_.face("touch", touch_, true, touch);
    if (plan_.id) engrave(part_, plan_.id->face, plan_.id->outlines, engraving);
    return std::move(part_);
  }

 private:
  void seat() {
    const int seat = part_.add(Level::skin(plan_.seat_offset));
    part_.wall("flange wall", edge_.elsewhere, seat, shoulder_);
    const OutlinePath spigot = circle_path({}, plan_.spigot_radius);
    part_.face("seat", seat, false,
               {{joined(edge_.slot, edge_.elsewhere), std::nullopt}, {reversed(spigot), std::nullopt}});
    if (!edge_.slot.empty()) {
      const int ceiling = part_.add(Level::skin(plan_.seat_offset + slot_height));
      part_.wall("flange wall", edge_.over_slot, ceiling, shoulder_);
      part_.wall("slot", edge_.slot, seat, ceiling);
      part_.face("slot ceiling", ceiling, false,
                 {{joined(edge_.over_slot, reversed(edge_.slot)), std::nullopt}});
    }
    spigot_end(spigot, seat);
  }

  /// From `upper` down to the end, its edge broken; with the way's mouth.
  void spigot_end(const OutlinePath& spigot, int upper) {
    const int end = part_.add(Level::skin(-plan_.spigot_length));
    OutlinePath rim = spigot;
    if (plan_.lead_in > 0.0) {
      const int above = part_.add(Level::skin(-plan_.spigot_length + plan_.lead_in));
      rim = moved_in(spigot, plan_.lead_in);
      part_.wall("lead-in", rim, end, above, -plan_.lead_in);
      part_.wall("spigot", spigot, above, upper);
    } else {
      part_.wall("spigot", spigot, end, upper);
    }
    std::vector<SeatedLoop> loops{{rim, std::nullopt}};
    if (plan_.way_radius) {
      end_ = end;
      way_ = reversed(circle_path({}, *plan_.way_radius));
      loops.push_back({way_, std::nullopt});
    }
    part_.face("spigot end", end, false, loops);
  }

  void padded_underside() {
    const PadSeat& pad = *plan_.pad;
    const int rim = part_.add(pad.rim);
    const int floor = part_.add(pad.floor);
    const OutlinePath hollow = circle_path({}, pad.radius);
    part_.wall("flange wall", edge_.whole, rim, shoulder_);
    part_.wall("pad wall", reversed(hollow), rim, floor);
    part_.face("rim", rim, false, {{edge_.whole, std::nullopt}, {reversed(hollow), std::nullopt}});
    part_.face("behind the pad", floor, false, {{hollow, std::nullopt}});
  }

  /// Dish, recess and way, each opening into what is above it. `loops`: of the face that is being cut.
  void hollows(std::vector<SeatedLoop>& touch) {
    int level = touch_;
    std::vector<SeatedLoop>* cut = &touch;
    std::vector<SeatedLoop> dish;
    std::vector<SeatedLoop> floor;
    int dish_level = -1;
    int floor_level = -1;
    if (plan_.dish) {
      dish_level = part_.add(Level::dish(plan_.top, plan_.dish->rim, plan_.dish->depth, plan_.slope));
      const OutlinePath rim = circle_path({}, plan_.dish->rim);
      cut->push_back({reversed(rim), std::nullopt});
      dish.push_back({rim, level});
      level = dish_level;
      cut = &dish;
    }
    if (plan_.pocket) {
      floor_level = part_.add(Level::plane(plan_.pocket->floor));
      const OutlinePath outline = rounded_path(plan_.pocket->outline);
      cut->push_back({reversed(outline), std::nullopt});
      part_.wall("pocket wall", reversed(outline), floor_level, level);
      floor.push_back({outline, std::nullopt});
      level = floor_level;
      cut = &floor;
    }
    if (plan_.way_radius) cut_way(level, *cut);
    if (dish_level >= 0) part_.face("dish", dish_level, true, dish);
    if (floor_level >= 0) part_.face("pocket floor", floor_level, true, floor);
    probes(level);
  }

  void cut_way(int level, std::vector<SeatedLoop>& cut) {
    part_.genus = 1;
    if (plan_.countersink > 0.0) {
      const int below = part_.add(part_.levels[level].raised(-plan_.countersink));
      part_.wall("way", way_, end_, below);
      part_.wall("countersink", way_, below, level, plan_.countersink);
      cut.push_back({moved_in(way_, plan_.countersink), std::nullopt});
    } else {
      part_.wall("way", way_, end_, level);
      cut.push_back({way_, std::nullopt});
    }
  }

  void lugs(std::vector<SeatedLoop>& touch) {
    if (!plan_.lugs) return;
    for (const double side : {-1.0, 1.0}) {
      SeatedLug lug;
      lug.level = touch_;
      lug.thickness = lug_thickness;
      lug.middle = {0.0, side * 0.5 * (plan_.lugs->apart + lug_thickness)};
      lug.half_width = plan_.lugs->half_width;
      lug.pin_height = plan_.lugs->pin_height;
      lug.pin_radius = plan_.lugs->pin_radius;
      touch.push_back({reversed(lug_foot(lug)), std::nullopt});
      part_.lugs.push_back(lug);
    }
  }

  /// The gate's own probes: nothing in recess and way, material around them.
  void probes(int lowest) {
    if (plan_.pocket) {
      const RoundedRectangle& outline = plan_.pocket->outline;
      const double reach = plan_.top + 1.0;
      if (outline.round()) {
        part_.bores.push_back({"the recess",
                               {0, 0, reach},
                               {0, 0, plan_.pocket->floor + 0.1},
                               outline.corner + 0.5 * least_wall,
                               {1.0 + 0.75 * (plan_.top - plan_.pocket->floor)}});
      }
    }
    if (!plan_.way_radius) return;
    const double floor = lowest == touch_ ? plan_.top : graph_jet(part_.levels[lowest], {}).z;
    // The ring goes where the wall is closed all around: between the seat and the lowest end.
    const double end = -plan_.spigot_length;
    part_.bores.push_back({"the way",
                           {0, 0, floor + 1.0},
                           {0, 0, end - 1.0},
                           *plan_.way_radius + 0.5 * least_wall,
                           {1.0 + plan_.countersink + 0.3 * (floor - end), 1.0 + 0.7 * (floor - end)}});
  }

  const CupPlan& plan_;
  FlangeEdge edge_;
  SeatedPart part_;
  OutlinePath way_;
  int touch_ = 0;
  int shoulder_ = 0;
  int end_ = 0;
};

}  // namespace

SeatedPart cup_part(const CupPlan& plan) {
  return CupBody(plan).build();
}

}  // namespace culmwright
