/// Where a key's id is engraved on its cup.
#include <algorithm>
#include <cmath>

#include "plan/cup_parts.hpp"
#include "plan/stroke_letters.hpp"

namespace culmwright::cup_parts {

namespace {

using namespace cup_sizes;

constexpr double largest_scale = 0.9;
constexpr double scan_step = 0.5;

/// A face as the writing sees it.
struct Sheet {
  std::string name;
  bool looks_up = false;
  double reach_x = 0.0;  ///< where to look for room
  double reach_y = 0.0;
  std::function<bool(Vec2)> free;
};

class Writer {
 public:
  Writer(const Job& job, Lettering line) : job_(job), line_(std::move(line)) {}

  /// The largest letters that find room anywhere on the sheet, the nearest to its middle.
  bool write(const Sheet& sheet) const {
    const double least = job_.shop.printer.nozzle / letters::stroke;
    for (double scale = std::max(largest_scale, least); scale > 0.0;
         scale = scale - 0.08 > least ? scale - 0.08 : (scale > least ? least : -1.0)) {
      std::optional<Vec2> best;
      for (double x = 0.0; x <= sheet.reach_x; x += scan_step) {
        for (double y = 0.0; y <= sheet.reach_y; y += scan_step) {
          for (const Vec2 p : {Vec2{x, y}, Vec2{x, -y}, Vec2{-x, y}, Vec2{-x, -y}}) {
            if ((!best || length(p) < length(*best) - 1e-9) && fits(sheet, p, scale)) best = p;
          }
        }
      }
      if (!best) continue;
      cut(sheet, *best, scale);
      return true;
    }
    return false;
  }

 private:
  /// The top of the letters points to the mouth end; from below, right and left change sides.
  Vec2 place(const Sheet& sheet, Vec2 middle, Vec2 on_line, double scale) const {
    const Vec2 up{job_.plan.toward_mouth, 0.0};
    const Vec2 right = Vec2{up.y, -up.x} * (sheet.looks_up ? 1.0 : -1.0);
    return middle + right * (scale * (on_line.x - 0.5 * line_.width)) +
           up * (scale * (on_line.y - 0.5 * line_.height));
  }

  bool fits(const Sheet& sheet, Vec2 middle, double scale) const {
    // A box of the writing with its margin, looked at along its edges.
    const Vec2 margin{id_margin / scale, id_margin / scale};
    const Vec2 low = margin * -1.0;
    const Vec2 high = Vec2{line_.width, line_.height} + margin;
    constexpr int steps = 10;
    for (int i = 0; i <= steps; ++i) {
      for (int k = 0; k <= steps; ++k) {
        const Vec2 p{low.x + (high.x - low.x) * i / steps, low.y + (high.y - low.y) * k / steps};
        if (!sheet.free(place(sheet, middle, p, scale))) return false;
      }
    }
    return true;
  }

  void cut(const Sheet& sheet, Vec2 middle, double scale) const {
    CupId id{sheet.name, scale * line_.height, {}};
    for (const StrokeOutline& stroke : line_.strokes) {
      std::vector<Vec2> corners;
      for (const Vec2& p : stroke) corners.push_back(place(sheet, middle, p, scale));
      if (polygon_area(corners) < 0.0) std::reverse(corners.begin(), corners.end());
      id.outlines.push_back(std::move(corners));
    }
    job_.plan.id = std::move(id);
  }

  const Job& job_;
  Lettering line_;
};

Sheet spigot_end(const CupPlan& plan) {
  const double r = plan.spigot_radius - plan.lead_in;
  const double way = plan.way_radius.value_or(-1.0);
  return {"spigot end", false, r, r, [=](Vec2 p) { return length(p) < r && length(p) > way; }};
}

Sheet seat(const CupPlan& plan) {
  const double slot = plan.pry_slot ? 0.5 * plan.flange.length - slot_depth : 1e300;
  return {"seat", false, 0.5 * plan.flange.length, 0.5 * plan.flange.width, [&plan, slot](Vec2 p) {
            const bool in_slot = -p.x * plan.toward_mouth > slot && std::abs(p.y) < slot_half_width;
            const bool in_notch = length(p - plan.notch) < notch_depth + notch_lead;
            return plan.flange.distance(p) < 0.0 && length(p) > plan.spigot_radius && !in_slot && !in_notch;
          }};
}

Sheet touch(const CupPlan& plan) {
  const double lug_from = plan.lugs ? 0.5 * plan.lugs->apart - id_margin : 1e300;
  const double lug_to = plan.lugs ? lug_from + 2.0 * id_margin + lug_thickness : 0.0;
  const double lug_half = plan.lugs ? plan.lugs->half_width : 0.0;
  const double open = plan.way_radius ? *plan.way_radius + plan.countersink : -1.0;
  return {"touch", true, 0.5 * plan.flange.length, 0.5 * plan.flange.width, [=, &plan](Vec2 p) {
            const double y = std::abs(p.y);
            const bool in_lug = std::abs(p.x) < lug_half && y > lug_from && y < lug_to;
            const bool in_notch = length(p - plan.notch) < notch_depth + notch_lead + plan.chamfer;
            return plan.flange.distance(p) < -plan.chamfer && !in_lug && !in_notch && length(p) > open;
          }};
}

Sheet behind_pad(const CupPlan& plan) {
  const double r = plan.pad->radius;
  return {"behind the pad", false, r, r, [=](Vec2 p) { return length(p) < r; }};
}

std::vector<Sheet> sheets_of(const CupPlan& plan) {
  if (plan.pad) {
    if (plan.dish) return {behind_pad(plan)};
    return {touch(plan), behind_pad(plan)};
  }
  if (plan.flush) return {spigot_end(plan)};
  std::vector<Sheet> sheets{spigot_end(plan), seat(plan)};
  // A finger lies on a cap; nobody's on a sleeve.
  if (plan.kind == CupKind::sleeve) sheets.push_back(touch(plan));
  return sheets;
}

}  // namespace

void engrave_id(const Job& job) {
  const Writer writer(job, lettering(job.plan.key_id));
  for (const Sheet& sheet : sheets_of(job.plan)) {
    if (writer.write(sheet)) return;
  }
  job.note("its id is not engraved: no face has room for letters that the nozzle can cut; write " +
           job.plan.key_id + " on it");
}

}  // namespace culmwright::cup_parts
