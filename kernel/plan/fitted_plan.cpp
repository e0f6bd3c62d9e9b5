#include "plan/fitted_plan.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "base/problem.hpp"
#include "base/words.hpp"
#include "plan/skin_ray.hpp"

namespace culmwright {

namespace {

using namespace fitted_sizes;

constexpr double beside_chamfer = 0.2;  ///< flat left between a chamfer and what stands or opens there
constexpr int looks = 8;                ///< along and around half a footprint

std::string mm(double value) {
  return fixed_text(value, 2) + " mm";
}

/// Along x, from one end to the other.
struct Stretch {
  double from = 0.0;
  double to = 0.0;
  double length() const { return to - from; }
  double middle() const { return 0.5 * (from + to); }
};

class Planner {
 public:
  Planner(const Tube& tube, const PlacedPart& part, const Shop& shop, End mouth_end)
      : tube_(tube), part_(part), shop_(shop), shape_(part.part.shape.value_or(PartShape{})) {
    plan_.id = part.part.id;
    plan_.kind = part.part.kind;
    plan_.to_tube = rim_frame({part.point, unit(Vec3{part.normal.x, part.normal.y, 0.0}), 1.0});
    plan_.toward_mouth = mouth_end == End::a ? -1.0 : 1.0;
    plan_.seat_offset = shop.fits.glue_line;
  }

  FittedPlan plan() {
    outline();
    seat_on_skin();
    heights();
    Stretch room = features();
    if (shape_.fastening != std::optional<Fastening>(Fastening::glue)) {
      slots(room);
      screws();
    } else {
      plan_.fastening = Fastening::glue;
    }
    if (plan_.fastening == Fastening::glue) {
      plan_.slots.clear();
      note("glued on and bound over: rough the skin under it first");
    }
    ride();
    lie();
    return std::move(plan_);
  }

 private:
  [[noreturn]] void refuse(const std::string& why) const { throw GeometryError(plan_.part(), "plan", why); }
  void note(const std::string& words) { plan_.notes.push_back(words); }

  void outline() {
    const Part& part = part_.part;
    const double length = part.length + (part.kind == PartKind::slider ? part.travel : 0.0);
    const double half = 0.5 * std::min(length, part.width);
    plan_.base = {length, part.width, std::clamp(part.corner_radius, std::min(2.0 * chamfer, half), half)};
    const double least = 2.0 * (notch_radius + notch_lead + notch_depth) + 2.0 * chamfer;
    if (2.0 * half < least) {
      refuse("a footprint of " + mm(length) + " × " + mm(part.width) + "; at least " + mm(least) +
             " both ways is printed");
    }
  }

  /// f(point of the footprint), the middle and the edges included.
  void over_base(const std::function<void(Vec2)>& f) const {
    for (int i = -looks; i <= looks; ++i) {
      for (int k = -looks; k <= looks; ++k) {
        Vec2 p{0.5 * plan_.base.length * i / looks, 0.5 * plan_.base.width * k / looks};
        const double out = plan_.base.distance(p);
        if (out > 0.0) p = p * (1.0 - out / culmwright::length(p));
        f(p);
      }
    }
  }

  void seat_on_skin() {
    const double at = -plan_.to_tube.origin.z;
    const double half = 0.5 * plan_.base.length;
    if (at - half < tube_.end_a_at() || at + half > tube_.end_b_at()) {
      refuse("its footprint, " + mm(2.0 * half) + " long, stands beyond the end of the tube");
    }
    plan_.seat_low = 1e300;
    plan_.seat_high = -1e300;
    double leaning = 1.0;
    over_base([&](Vec2 p) {
      const SkinHit hit = skin_hit(tube_, plan_.to_tube, p, plan_.seat_offset);
      plan_.seat_low = std::min(plan_.seat_low, hit.height);
      plan_.seat_high = std::max(plan_.seat_high, hit.height);
      leaning = std::min(leaning, hit.facing);
    });
    if (leaning < least_facing) {
      refuse("its footprint, " + mm(plan_.base.width) + " around, is too wide for the tube there (" +
             mm(tube_.section(at).width(Angle())) + "): the skin leans away by more than 60°");
    }
  }

  double head_radius() const { return 0.5 * (shop_.fitted.screw_head + screw_room); }
  double slot_radius() const { return 0.5 * (shop_.fitted.screw + screw_room); }
  /// A right-angled countersink.
  double sink() const { return head_radius() - slot_radius(); }
  double least_base() const { return plan_.seat_high + std::max(least_wall + chamfer, sink() + under_head); }

  void heights() {
    const FittedDefaults& defaults = shop_.fitted;
    if (plan_.kind == PartKind::slider) {
      plan_.top = shape_.height.value_or(defaults.slider_height);
      if (plan_.top < plan_.seat_high + least_wall + chamfer) {
        refuse("its bed " + mm(plan_.top) + " above the skin; at least " +
               mm(plan_.seat_high + least_wall + chamfer) + " is printed there");
      }
      return;
    }
    plan_.top = std::max(base, least_base());
    if (plan_.kind == PartKind::thumb_rest) {
      plan_.hook_top = shape_.height.value_or(defaults.hook_height);
      const double least = plan_.top + 2.0 * chamfer;
      if (plan_.hook_top < least) {
        refuse("a hook " + mm(plan_.hook_top) + " above the skin on a base of " + mm(plan_.top) +
               "; at least " + mm(least));
      }
    }
  }

  /// The stretch of the base inside its chamfered edges.
  Stretch inside() const {
    const double half = 0.5 * plan_.base.length - chamfer - wall;
    return {-half, half};
  }

  /// Takes a piece from the side toward the mouth (or the foot), and what parts it from the rest.
  double take(Stretch& room, double length, bool mouth_side) const {
    const bool low = (plan_.toward_mouth < 0.0) == mouth_side;
    const double middle = low ? room.from + 0.5 * length : room.to - 0.5 * length;
    (low ? room.from : room.to) = low ? room.from + length + wall : room.to - length - wall;
    return middle;
  }

  /// Hook, eye, recess and wire way; what is left for screws.
  Stretch features() {
    Stretch room = inside();
    if (plan_.kind == PartKind::thumb_rest) {
      room = {-0.5 * plan_.base.length + hook_from_edge, 0.5 * plan_.base.length - hook_from_edge};
      plan_.hook_middle = take(room, hook, true);
      add_hook();
      (plan_.toward_mouth < 0.0 ? room.to : room.from) =
          plan_.toward_mouth < 0.0 ? inside().to : inside().from;
      if (shape_.ring.value_or(false)) eye_at(take(room, eye_foot(), false));
    }
    if (plan_.kind == PartKind::strap_ring) eye_at(0.0);
    if (plan_.kind == PartKind::slider) slider_features(room);
    if (room.length() < 0.0) {
      refuse("a footprint of " + mm(plan_.base.length) + " along has no room for all that it carries; " +
             mm(plan_.base.length - room.length()) + " would do");
    }
    return room;
  }

  /// How far a round of that radius lies inside the chamfered edge; negative where it does not.
  double inside_by(Vec2 middle, double radius) const {
    return -plan_.base.distance(middle) - radius - chamfer - beside_chamfer;
  }

  /// As wide as the base's rounded corners leave it, with round ends.
  void add_hook() {
    const double radius = 0.5 * hook;
    double low = 0.0;
    double high = 0.5 * plan_.base.width;
    if (inside_by({plan_.hook_middle, low}, radius) < 0.0) {
      refuse("a footprint of " + mm(plan_.base.length) + " × " + mm(plan_.base.width) +
             " has no room for its hook, " + mm(hook) + " thick");
    }
    for (int i = 0; i < 50; ++i) {
      const double middle = 0.5 * (low + high);
      (inside_by({plan_.hook_middle, middle}, radius) < 0.0 ? high : low) = middle;
    }
    // A hundredth of straight side at least: a round hook would have none.
    plan_.hook = RoundedRectangle{hook, hook + 2.0 * std::max(low, 0.01), radius};
  }

  double eye_radius() const { return 0.5 * shop_.fitted.eye; }
  double eye_foot() const { return 2.0 * (eye_radius() + eye_wall); }

  void eye_at(double x) {
    SeatedLug lug;
    lug.middle = {x, 0.0};
    lug.thickness = eye_thickness;
    lug.half_width = 0.5 * eye_foot();
    lug.pin_radius = eye_radius();
    const double above_skin =
        plan_.kind == PartKind::strap_ring && shape_.height ? *shape_.height : plan_.top + 1.0 + eye_radius();
    lug.pin_height = above_skin - plan_.top;
    if (lug.pin_height < eye_radius() + 0.5) {
      refuse("the middle of its eye " + mm(above_skin) + " above the skin; at least " +
             mm(plan_.top + eye_radius() + 0.5));
    }
    const Vec2 corner{std::abs(x) + lug.half_width, 0.5 * lug.thickness};
    if (inside_by(corner, 0.0) < 0.0) {
      refuse("an eye of " + mm(shop_.fitted.eye) + " has a foot of " + mm(eye_foot()) + " × " +
             mm(eye_thickness) + "; its footprint of " + mm(plan_.base.length) + " × " +
             mm(plan_.base.width) + " has no room for it");
    }
    plan_.eye = lug;
  }

  void slider_features(Stretch& room) {
    if (shape_.recess) {
      const Recess& recess = *shape_.recess;
      const double width = recess.round() ? recess.length : recess.width;
      const double hole = shop_.printer.hole_undersize;
      const double corner = recess.round() ? 0.5 * (recess.length + hole) : 0.0;
      plan_.recess = RoundedRectangle{recess.length + hole, width + hole, corner};
      plan_.recess_floor = plan_.top - recess.depth;
      const double along = 0.5 * (plan_.base.length - plan_.recess->length) - chamfer;
      const double around = 0.5 * (plan_.base.width - plan_.recess->width) - chamfer;
      const RoundedRectangle& hollow = *plan_.recess;
      const Vec2 near_corner{0.5 * hollow.length - hollow.corner, 0.5 * hollow.width - hollow.corner};
      if (std::min(along, around) < least_wall - chamfer || inside_by(near_corner, hollow.corner) < 0.0) {
        refuse("a recess of " + mm(recess.length) + " × " + mm(width) + " in a footprint of " +
               mm(plan_.base.length) + " × " + mm(plan_.base.width) + "; walls of " + mm(least_wall) +
               " have to stay all round");
      }
      if (plan_.recess_floor < plan_.seat_high + least_wall) {
        refuse("a recess " + mm(recess.depth) + " deep in a bed " + mm(plan_.top) +
               " above the skin leaves less than " + mm(least_wall) + " under it");
      }
      const double half = 0.5 * plan_.recess->length - wall;
      room = {-half, half};
    }
    const double way = shape_.wire_way.value_or(0.0);
    if (way <= 0.0) return;
    plan_.way_radius = 0.5 * (way + shop_.printer.hole_undersize);
    plan_.way_middle = take(room, 2.0 * *plan_.way_radius, true);
    if (room.length() < 0.0) return;  // the caller names the length that would do
    note("its wires pass through a hole of " + number_text(way, 3) + " mm in the wall, " +
         mm(std::abs(plan_.way_middle)) +
         " from the middle of its footprint toward the mouth: drill it before the "
         "part is fixed");
  }

  double slot_floor() const { return plan_.recess ? plan_.recess_floor : plan_.top; }

  /// Width for a head, with a wall on either side.
  bool wide_enough() const {
    const double width = plan_.recess ? plan_.recess->width : plan_.base.width - 2.0 * (chamfer + wall);
    return width >= 2.0 * head_radius() && slot_floor() >= plan_.seat_high + sink() + under_head - 1e-9;
  }

  void add_slot(double middle, double travel) {
    plan_.slots.push_back({middle, travel, slot_radius(), head_radius(), slot_floor()});
  }

  void slots(const Stretch& room) {
    const double wanted = shape_.adjust.value_or(shop_.fitted.adjust);
    const double head = 2.0 * head_radius();
    if (plan_.kind == PartKind::strap_ring) return ring_screws(room, wanted);
    if (!wide_enough() || room.length() < head) {
      return no_screws("a footprint of " + mm(plan_.base.length) + " × " + mm(plan_.base.width) +
                       " has no room for a screw's head of " + mm(shop_.fitted.screw_head));
    }
    const double one = 0.5 * (room.length() - head);
    const double two = one - 0.5 * screws_apart;
    if (two >= wanted) {
      two_screws_ = true;
      plan_.adjust = wanted;
      if (wanted == 0.0) {
        for (const double side : {-1.0, 1.0}) add_slot(room.middle() + side * (one), 0.0);
        return;
      }
      add_slot(room.middle(), wanted + 0.5 * screws_apart);
      return;
    }
    plan_.adjust = std::min(wanted, one);
    add_slot(room.middle(), plan_.adjust);
    note("held by one screw, which lets it turn: a touch of glue, or tape under it, once its place is found");
    if (plan_.adjust < wanted) {
      note("it may be moved by " + fixed_text(plan_.adjust, 1) + " either way, not by " +
           number_text(wanted, 3) + ": a footprint " + fixed_text(2.0 * (wanted - plan_.adjust), 0) +
           " longer would give that");
    }
  }

  /// On both sides of the eye's foot.
  void ring_screws(const Stretch& room, double wanted) {
    const double half = 0.5 * eye_foot() + wall;
    const double each = room.to - half;
    const double head = 2.0 * head_radius();
    if (!wide_enough() || each < head) {
      return no_screws("beside its eye there are " + mm(std::max(each, 0.0)) + " for a screw's head of " +
                       mm(shop_.fitted.screw_head));
    }
    two_screws_ = true;
    plan_.adjust = std::min(shape_.adjust ? wanted : 0.0, 0.5 * (each - head));
    for (const double side : {-1.0, 1.0}) add_slot(side * (half + 0.5 * each), plan_.adjust);
  }

  void no_screws(const std::string& why) {
    if (shape_.fastening) {
      refuse("it shall be screwed on, but " + why +
             "; say \"fastening\": \"glue\", or give it a larger footprint");
    }
    note("no screws: " + why);
    plan_.fastening = Fastening::glue;
    plan_.adjust = 0.0;
  }

  std::vector<double> screw_places() const {
    if (plan_.slots.size() > 1) {
      std::vector<double> places;
      for (const ScrewSlot& slot : plan_.slots) places.push_back(slot.middle);
      return places;
    }
    const double middle = plan_.slots.front().middle;
    if (!two_screws_) return {middle};
    return {middle - 0.5 * screws_apart, middle + 0.5 * screws_apart};
  }

  /// Thickness under the top of a screw's head, the least over the slot: so deep the screw goes at most.
  double least_thickness(double x) const {
    double least = 1e300;
    for (const double shift : {-plan_.adjust, 0.0, plan_.adjust}) {
      least = std::min(least, slot_floor() - skin_hit(tube_, plan_.to_tube, {x + shift, 0.0}, 0.0).height);
    }
    return least;
  }

  void screws() {
    if (plan_.slots.empty()) return;
    const FittedDefaults& shop = shop_.fitted;
    for (const double x : screw_places()) {
      const SkinHit hit = skin_hit(tube_, plan_.to_tube, {x, 0.0}, 0.0);
      const Drilling hole{plan_.to_tube.apply({x, 0.0, hit.height}), plan_.to_tube.z, 0.5 * shop.screw};
      const double wall = wall_along_axis(tube_, hole).least;
      const double thick = least_thickness(x);
      FittedScrew screw;
      screw.xy = {x, 0.0};
      const double at = -hole.point.z;
      screw.place = {at, tube_.section(at).around(hit.theta)};
      screw.diameter = shop.screw;
      screw.pilot = shop.pilot_share * shop.screw;
      screw.wall = wall;
      for (const double length : shop.screw_lengths) {
        if (length - thick <= wall - short_of_bore && length > screw.length) screw.length = length;
      }
      screw.depth = screw.length - thick;
      if (screw.depth < grip * shop.screw) {
        plan_.screws.clear();
        plan_.slots.clear();
        const double best = std::max(screw.depth, 0.0);
        return no_screws("a wall of " + mm(wall) + " under " + mm(thick) + " of plastic takes " + mm(best) +
                         " of the screws in the drawer, " + mm(grip * shop.screw) + " at least hold");
      }
      plan_.screws.push_back(screw);
    }
  }

  /// What is left between seat and skin when the part is moved along and tilted to lie as well as it can.
  void ride() {
    for (const double shift : {-plan_.adjust, plan_.adjust}) {
      if (shift == 0.0) continue;
      double sum = 0.0, sum_x = 0.0, sum_xx = 0.0;
      std::vector<Vec2> gaps;  // x, gap
      const double at = -plan_.to_tube.origin.z;
      const double reach = 0.5 * plan_.base.length + std::abs(shift);
      if (at - reach < tube_.end_a_at() || at + reach > tube_.end_b_at()) continue;
      over_base([&](Vec2 p) {
        const double here = skin_hit(tube_, plan_.to_tube, p, 0.0).height;
        const double there = skin_hit(tube_, plan_.to_tube, {p.x + shift, p.y}, 0.0).height;
        gaps.push_back({p.x, here - there});
        sum += here - there;
        sum_x += p.x * (here - there);
        sum_xx += p.x * p.x;
      });
      const double mean = sum / static_cast<double>(gaps.size()), slope = sum_x / sum_xx;
      double low = 1e300, high = -1e300;
      for (const Vec2& gap : gaps) {
        low = std::min(low, gap.y - mean - slope * gap.x);
        high = std::max(high, gap.y - mean - slope * gap.x);
      }
      plan_.ride = std::max(plan_.ride, high - low);
    }
    if (plan_.ride > rides) {
      note("moved by " + fixed_text(plan_.adjust, 1) +
           " along, the skin under it is another: it rides up to " + mm(plan_.ride) +
           " hollow; look for a ridge, or bed it in thin cork");
    }
  }

  void lie() {
    plan_.support = support_of(fitted_part(plan_), tube_);
    if (plan_.top_down()) plan_.lie = {{1, 0, 0}, {0, -1, 0}, {0, 0, -1}, {}};
  }

  const Tube& tube_;
  const PlacedPart& part_;
  const Shop& shop_;
  PartShape shape_;
  FittedPlan plan_;
  bool two_screws_ = false;
};

}  // namespace

std::string FittedPlan::part() const {
  switch (kind) {
    case PartKind::thumb_rest:
      return "thumb rest " + id;
    case PartKind::slider:
      return "slider shoe " + id;
    case PartKind::strap_ring:
      return "strap ring " + id;
    case PartKind::opening:
    case PartKind::mouthpiece:
    case PartKind::other:
      break;
  }
  return "part " + id;
}

bool is_fitted_part(const Part& part) {
  const bool kind =
      part.kind == PartKind::thumb_rest || part.kind == PartKind::slider || part.kind == PartKind::strap_ring;
  return kind && part.width > 0.0 && part.length + part.travel > 0.0;
}

FittedPlan plan_fitted(const Tube& tube, const PlacedPart& part, const Shop& shop, End mouth_end) {
  require(is_fitted_part(part.part), "a part without a footprint was to be printed");
  return Planner(tube, part, shop, mouth_end).plan();
}

}  // namespace culmwright
