#pragma once
/// Steps of planning a cup. For this folder.
#include <functional>

#include "plan/cup_plan.hpp"
#include "plan/skin_ray.hpp"

namespace culmwright::cup_parts {

/// What is being planned.
struct Job {
  const Tube& tube;
  const PlacedKey& key;
  const Shop& shop;
  CupShape shape;  ///< the key's own wishes
  CupPlan& plan;

  const CupDefaults& usual() const { return shop.cups; }
  [[noreturn]] void refuse(const std::string& why) const;
  void note(std::string what) const { plan.notes.push_back(std::move(what)); }
  double skin(Vec2 xy, double offset) const;
};

std::string mm(double value);

/// Printed inner sizes come out small: a radius drawn larger by that much.
double printed_hole(double radius, const Shop& shop);

/// Calls f(xy) on a polar grid over the outline, its edge and middle included.
template <class F>
void for_grid(const RoundedRectangle& outline, const F& f) {
  constexpr int spokes = 24;
  constexpr int rings = 4;
  f(Vec2{});
  for (int i = 0; i < spokes; ++i) {
    const Angle phi = Angle::from_degrees(360.0 * i / spokes);
    for (int k = 1; k <= rings; ++k) f(Vec2{phi.cos(), phi.sin()} * (outline.reach(phi) * k / rings));
  }
}

/// The seat there, or the ceiling of the slot for prying.
SkinHit seat_under(const Job& job, Vec2 xy);
/// Calls f(xy) all over the flange inside its chamfer, the slot's place looked at more closely.
void over_flange(const CupPlan& plan, const std::function<void(Vec2)>& f);
/// The flange's edge, notch included, for a mouth end toward −x or x as it is.
OutlinePath flange_path(const CupPlan& plan);

/// Radius of a spigot, as drawn, that goes into a hole of that radius with the shop's fit.
double spigot_in(double hole_radius, const Shop& shop, bool measured);

/// Switch seats, touch caps, plugs and sleeves above their seat: recess, way, touch. Precondition: flange,
/// seat and spigot are planned.
void shape_cup(const Job& job);
/// A padded cup: pad, edge, touch and lugs. Precondition: the flange is planned.
void shape_padded_cup(const Job& job);
/// Diameter of the pad.
double pad_diameter(const Job& job);

/// The key's id, where it finds room.
void engrave_id(const Job& job);

}  // namespace culmwright::cup_parts
