/// Where a key's id is engraved on its cup.
#include <algorithm>
#include <cmath>

#include "plan/cup_parts.hpp"
#include "plan/stroke_letters.hpp"

namespace culmwright::cup_parts {

namespace {

using namespace cup_sizes;

constexpr double largest_scale = 0.9;
constexpr double scan_step = 0.25;
constexpr double fine_step = 0.1;

/// A face as the writing sees it.
struct Sheet {
  std::string name;
  bool looks_up = false;
  double reach_x = 0.0;  ///< where to look for room
  double reach_y = 0.0;
  std::function<bool(Vec2)> free;
};

/// A piece of the writing and where its middle goes.
struct Laid {
  Lettering line;
  Vec2 middle;
};

class Writer {
 public:
  Writer(const Job& job, const std::string& id)
      : job_(job),
        whole_(lettering(id)),
        left_(lettering(id.substr(0, (id.size() + 1) / 2))),
        right_(lettering(id.substr((id.size() + 1) / 2))) {}

  /// The largest letters that find room anywhere on the sheet, the nearest to its middle.
  bool write(const Sheet& sheet) const {
    return try_scales(sheet, [&](double scale) { return nearest_to_middle(sheet, scale); });
  }

  /// One half to the left of the middle, the other to its right, as close as they may come: around a spigot
  /// or a bore.
  bool write_apart(const Sheet& sheet) const {
    if (right_.strokes.empty()) return false;
    return try_scales(sheet, [&](double scale) { return around_middle(sheet, scale); });
  }

 private:
  template <class F>
  bool try_scales(const Sheet& sheet, const F& lay) const {
    const double least = job_.shop.printer.nozzle / letters::stroke;
    for (double scale = std::max(largest_scale, least); scale > 0.0;
         scale = scale - 0.08 > least ? scale - 0.08 : (scale > least ? least : -1.0)) {
      const std::vector<Laid> laid = lay(scale);
      if (laid.empty()) continue;
      cut(sheet, laid, scale);
      return true;
    }
    return false;
  }

  std::vector<Laid> nearest_to_middle(const Sheet& sheet, double scale) const {
    std::optional<Vec2> best;
    for (double x = 0.0; x <= sheet.reach_x; x += scan_step) {
      for (double y = 0.0; y <= sheet.reach_y; y += scan_step) {
        for (const Vec2 p : {Vec2{x, y}, Vec2{x, -y}, Vec2{-x, y}, Vec2{-x, -y}}) {
          const bool nearer = !best || length(p) < length(*best) - 1e-9;
          if (nearer && fits(sheet, {whole_, p}, scale)) best = p;
        }
      }
    }
    if (!best) return {};
    return {{whole_, *best}};
  }

  std::vector<Laid> around_middle(const Sheet& sheet, double scale) const {
    std::vector<Laid> laid;
    const Vec2 right = right_of(sheet);
    for (const double side : {-1.0, 1.0}) {
      const Lettering& half = side < 0.0 ? left_ : right_;
      const double nearest = 0.5 * scale * (half.width + letters::spacing);
      for (double y = nearest; y <= sheet.reach_y; y += fine_step) {
        const Laid piece{half, right * (side * y)};
        if (!fits(sheet, piece, scale)) continue;
        laid.push_back(piece);
        break;
      }
    }
    return laid.size() == 2 ? laid : std::vector<Laid>{};
  }

  /// The top of the letters points to the mouth end; from below, right and left change sides.
  Vec2 up() const { return {job_.plan.toward_mouth, 0.0}; }
  Vec2 right_of(const Sheet& sheet) const { return Vec2{up().y, -up().x} * (sheet.looks_up ? 1.0 : -1.0); }
  Vec2 place(const Sheet& sheet, const Laid& laid, Vec2 on_line, double scale) const {
    return laid.middle + right_of(sheet) * (scale * (on_line.x - 0.5 * laid.line.width)) +
           up() * (scale * (on_line.y - 0.5 * laid.line.height));
  }

  bool fits(const Sheet& sheet, const Laid& laid, double scale) const {
    // A box of the writing with its margin, looked at along its edges.
    const Vec2 margin{id_margin / scale, id_margin / scale};
    const Vec2 low = margin * -1.0;
    const Vec2 high = Vec2{laid.line.width, laid.line.height} + margin;
    constexpr int steps = 10;
    for (int i = 0; i <= steps; ++i) {
      for (int k = 0; k <= steps; ++k) {
        const Vec2 p{low.x + (high.x - low.x) * i / steps, low.y + (high.y - low.y) * k / steps};
        if (!sheet.free(place(sheet, laid, p, scale))) return false;
      }
    }
    return true;
  }

  void cut(const Sheet& sheet, const std::vector<Laid>& laid, double scale) const {
    CupId id{sheet.name, scale * letters::height, {}};
    for (const Laid& piece : laid) {
      for (const StrokeOutline& stroke : piece.line.strokes) {
        std::vector<Vec2> corners;
        for (const Vec2& p : stroke) corners.push_back(place(sheet, piece, p, scale));
        if (polygon_area(corners) < 0.0) std::reverse(corners.begin(), corners.end());
        id.outlines.push_back(std::move(corners));
      }
    }
    job_.plan.id = std::move(id);
  }

  const Job& job_;
  Lettering whole_;
  Lettering left_;
  Lettering right_;
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
  // A finger lies on a cap; none on a plug or a sleeve.
  if (plan.kind == CupKind::sleeve || plan.kind == CupKind::plug) sheets.push_back(touch(plan));
  return sheets;
}

}  // namespace

void engrave_id(const Job& job) {
  const Writer writer(job, job.plan.key_id);
  for (const Sheet& sheet : sheets_of(job.plan)) {
    if (writer.write(sheet)) return;
    if (writer.write_apart(sheet)) return;
  }
  job.note("no face has room for an id that the nozzle can cut: write it on");
}

}  // namespace culmwright::cup_parts
