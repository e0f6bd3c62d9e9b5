/// A fitted part's plan as faces and walls.
#include "base/problem.hpp"
#include "plan/fitted_plan.hpp"

namespace culmwright {

namespace {

using namespace fitted_sizes;

class FittedBody {
 public:
  explicit FittedBody(const FittedPlan& plan) : plan_(plan) {
    part_.part = plan.part();
    part_.to_tube = plan.to_tube;
  }

  SeatedPart build() {
    OutlinePath outline = with_notch(plan_.base, notch_radius, notch_depth, notch_lead);
    if (plan_.toward_mouth > 0.0) outline = half_turned(outline);
    seat_ = part_.add(Level::skin(plan_.seat_offset));
    const int shoulder = part_.add(Level::plane(plan_.top - chamfer));
    top_ = part_.add(Level::plane(plan_.top));
    part_.wall("outline", outline, seat_, shoulder);
    part_.wall("chamfer", outline, shoulder, top_, chamfer);
    seat_loops_.push_back({outline, std::nullopt});
    top_loops_.push_back({moved_in(outline, chamfer), std::nullopt});
    add_hook();
    add_eye();
    add_recess();
    for (const ScrewSlot& slot : plan_.slots) add_slot(slot);
    add_way();
    part_.face("seat", seat_, false, seat_loops_);
    part_.face("top", top_, true, top_loops_);
    if (plan_.recess) part_.face("recess floor", floor_, true, floor_loops_);
    return std::move(part_);
  }

 private:
  void add_hook() {
    if (!plan_.hook) return;
    const int shoulder = part_.add(Level::plane(plan_.hook_top - chamfer));
    const int crown = part_.add(Level::plane(plan_.hook_top));
    const OutlinePath outline = rounded_path(*plan_.hook, {plan_.hook_middle, 0.0});
    part_.wall("hook", outline, top_, shoulder);
    part_.wall("hook's chamfer", outline, shoulder, crown, chamfer);
    part_.face("hook's end", crown, true, {{moved_in(outline, chamfer), std::nullopt}});
    top_loops_.push_back({reversed(outline), std::nullopt});
  }

  void add_eye() {
    if (!plan_.eye) return;
    SeatedLug lug = *plan_.eye;
    lug.level = top_;
    top_loops_.push_back({reversed(lug_foot(lug)), std::nullopt});
    part_.lugs.push_back(lug);  // its hole is counted by the expectation itself
  }

  void add_recess() {
    if (!plan_.recess) return;
    floor_ = part_.add(Level::plane(plan_.recess_floor));
    const OutlinePath outline = rounded_path(*plan_.recess);
    part_.wall("recess", reversed(outline), floor_, top_);
    top_loops_.push_back({reversed(outline), std::nullopt});
    floor_loops_.push_back({outline, std::nullopt});
  }

  /// The level and the loops that slots and ways open into.
  int upper() const { return plan_.recess ? floor_ : top_; }
  std::vector<SeatedLoop>& upper_loops() { return plan_.recess ? floor_loops_ : top_loops_; }

  void add_slot(const ScrewSlot& slot) {
    const double sink = slot.head - slot.radius;
    const int below = part_.add(Level::plane(slot.floor - sink));
    const OutlinePath hole = reversed(rounded_path(slot.outline(), {slot.middle, 0.0}));
    part_.wall("slot", hole, seat_, below);
    part_.wall("countersink", hole, below, upper(), sink);
    seat_loops_.push_back({hole, std::nullopt});
    upper_loops().push_back({moved_in(hole, sink), std::nullopt});
    pierced("a screw's slot", slot.middle, slot.floor);
    if (slot.travel == 0.0) {
      part_.bores.back().ring_radius = slot.radius + 0.3;
      part_.bores.back().ring_at = {1.0 + sink + 0.4};
    }
  }

  void add_way() {
    if (!plan_.way_radius) return;
    const OutlinePath hole = reversed(circle_path({plan_.way_middle, 0.0}, *plan_.way_radius));
    part_.wall("way", hole, seat_, upper());
    seat_loops_.push_back({hole, std::nullopt});
    upper_loops().push_back({hole, std::nullopt});
    const double floor = plan_.recess ? plan_.recess_floor : plan_.top;
    pierced("the way for wires", plan_.way_middle, floor);
    part_.bores.back().ring_radius = *plan_.way_radius + 0.3;
    part_.bores.back().ring_at = {1.3};
  }

  void pierced(const std::string& name, double x, double floor) {
    ++part_.genus;
    part_.bores.push_back({name, {x, 0.0, floor + 1.0}, {x, 0.0, plan_.seat_low - 2.0}, 0.0, {}});
  }

  const FittedPlan& plan_;
  SeatedPart part_;
  int seat_ = 0;
  int top_ = 0;
  int floor_ = 0;
  std::vector<SeatedLoop> seat_loops_;
  std::vector<SeatedLoop> top_loops_;
  std::vector<SeatedLoop> floor_loops_;
};

}  // namespace

SeatedPart fitted_part(const FittedPlan& plan) {
  return FittedBody(plan).build();
}

}  // namespace culmwright
