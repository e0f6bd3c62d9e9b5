#include "fit/balance.hpp"

#include <algorithm>
#include <cmath>

#include "base/numeric.hpp"
#include "fit/frame.hpp"
#include "tube/mass.hpp"

namespace culmwright {

namespace {

double density_at(const Tube& tube, double at) {
  const double middle = 0.5 * (tube.end_a_at() + tube.end_b_at());
  return tube.shape().density + tube.shape().density_slope * (at - middle);
}

/// What a drilled hole takes away: the wall between skin and bore, ray by ray over the drill's circle.
MassItem plug_of(const Tube& tube, const PlacedKey& key) {
  double volume = 0.0;
  double depth_moment = 0.0;
  const double radius = key.drilling.radius;
  constexpr int rings = 4, rays = 16;
  for (int ring = 0; ring < rings; ++ring) {
    Drilling thin = key.drilling;
    thin.radius = radius * std::sqrt((ring + 0.5) / rings);  // rings of equal area
    for (int ray = 0; ray < rays; ++ray) {
      const Angle phi = Angle::from_degrees(360.0 * ray / rays);
      const double outer = rim_point(tube, thin, phi).depth;
      const double inner = bore_depth(tube, thin, phi);
      const double cell = pi * radius * radius / (rings * rays);
      volume += cell * (outer - inner);
      depth_moment += cell * 0.5 * (outer * outer - inner * inner);
    }
  }
  const Vec3 centre = key.drilling.point + key.drilling.axis * (depth_moment / volume);
  return {"hole " + key.key.id, -volume * density_at(tube, key.place.at), centre};
}

/// An opening takes the wall under its outline, along the normal.
MassItem cut_of(const Tube& tube, const PlacedPart& part) {
  const double wall = tube.wall(part.place);
  const double corner = part.part.corner_radius;
  const double area = part.part.length * part.part.width - (4.0 - pi) * corner * corner;
  const Section section = tube.section(part.place.at);
  const SurfaceJet h = section.support(part.theta);
  const double radius = h.f + h.f_tt;
  // The outline is measured on the skin; half way through the wall it is narrower by the curvature.
  const double volume = area * wall * (1.0 - 0.5 * wall / radius);
  return {"opening " + part.part.id, -volume * density_at(tube, part.place.at),
          part.point - part.normal * (0.5 * wall)};
}

/// Where a part's mass lies: on the skin, but a mouthpiece goes all round the end, so on the axis of the skin
/// there.
Vec3 mass_place(const Tube& tube, const PlacedPart& part) {
  if (part.part.kind != PartKind::mouthpiece) return part.point;
  const double at = std::clamp(part.place.at, tube.end_a_at(), tube.end_b_at());
  const FourierSection skin = tube.shape().skin.section(at);
  Vec3 centre{0.0, 0.0, -part.place.at};
  for (const FourierTerm& term : skin.terms()) {
    if (term.order == 1) centre = {term.cosine.value, term.sine.value, centre.z};
  }
  return centre;
}

std::vector<MassItem> items_of(const Tube& tube, const Instrument& instrument) {
  const double from = std::min(instrument.mouth_cut_at, instrument.foot_cut_at);
  const double to = std::max(instrument.mouth_cut_at, instrument.foot_cut_at);
  const auto whole = mass_of(tube, from, to);
  std::vector<MassItem> items{{"tube", whole->mass_g, whole->centre}};
  for (const PlacedKey& key : instrument.keys) {
    items.push_back(plug_of(tube, key));
    if (key.key.mass_g > 0.0) items.push_back({"key " + key.key.id, key.key.mass_g, key.drilling.point});
  }
  for (const PlacedPart& part : instrument.parts) {
    if (part.part.kind == PartKind::opening) items.push_back(cut_of(tube, part));
    if (part.part.mass_g > 0.0) items.push_back({part.part.id, part.part.mass_g, mass_place(tube, part)});
  }
  return items;
}

const PlacedPart* thumb_rest(const Instrument& instrument) {
  for (const PlacedPart& part : instrument.parts) {
    if (part.part.kind == PartKind::thumb_rest) return &part;
  }
  return nullptr;
}

/// The section's centre of gravity on the support at the rest, and what turns about it.
Roll roll_on(const Tube& tube, const PlacedPart& rest, Vec3 centre, double weight, Angle playing_angle,
             double sense) {
  const SurfaceJet h = tube.section(rest.place.at).support(rest.theta);
  const Vec2 g{centre.x, centre.y};
  Roll roll;
  const double arm = h.f_t - dot(g, tangent(rest.theta));
  roll.arm = sense * arm;
  roll.torque = roll.arm * weight * playing_angle.cos();
  roll.stable = h.f + h.f_tt > h.f - dot(g, direction(rest.theta));
  return roll;
}

void about_rest(const Tube& tube, const Instrument& instrument, const PlacedPart& rest, Angle playing_angle,
                double mass_sigma_g, Balance& balance) {
  const bool from_a = instrument.mouth_end == End::a;
  const Vec3 toward_foot{0.0, 0.0, from_a ? -1.0 : 1.0};
  const Vec3 front{instrument.facing.cos(), instrument.facing.sin(), 0.0};
  const Vec3 lever = balance.centre - rest.point;
  const double weight = balance.mass_g.value * 1e-3 * standard_gravity;  // N
  const double along = dot(lever, toward_foot);
  const double out = dot(lever, front);
  const double torque = weight * (along * playing_angle.cos() + out * playing_angle.sin());
  const double of_mass = torque / balance.mass_g.value * mass_sigma_g;
  const double of_place = weight * playing_angle.cos() * balance.along.sigma;
  balance.torque = Figure{torque, std::hypot(of_mass, of_place)};
  if (playing_angle.cos() > 1e-6) {
    balance.neutral_along = balance.along.value + out * playing_angle.sin() / playing_angle.cos();
  }
  const double to_end = torque > 0.0 ? rest.along : instrument.length() - rest.along;
  if (to_end > 1.0 && playing_angle.cos() > 1e-6) {
    balance.ballast_g = std::abs(torque) / (to_end * playing_angle.cos()) / standard_gravity * 1e3;
    const bool at_mouth = torque > 0.0;
    balance.ballast_end = at_mouth == from_a ? End::a : End::b;
  }
  balance.roll = roll_on(tube, rest, balance.centre, weight, playing_angle, from_a ? 1.0 : -1.0);
}

}  // namespace

std::optional<Balance> balance_of(const Tube& tube, const Instrument& instrument, Angle playing_angle,
                                  double mass_sigma_g, double centre_sigma) {
  if (tube.shape().density <= 0.0) return std::nullopt;
  Balance balance;
  balance.items = items_of(tube, instrument);
  Vec3 moment;
  for (const MassItem& item : balance.items) {
    balance.mass_g.value += item.mass_g;
    moment = moment + item.centre * item.mass_g;
  }
  balance.mass_g.sigma = mass_sigma_g;
  balance.centre = moment * (1.0 / balance.mass_g.value);
  const double sense = instrument.mouth_end == End::a ? 1.0 : -1.0;
  balance.along.value = sense * (-balance.centre.z - instrument.mouth_cut_at);
  balance.along.sigma = centre_sigma * balance.items.front().mass_g / balance.mass_g.value;
  if (const PlacedPart* rest = thumb_rest(instrument)) {
    about_rest(tube, instrument, *rest, playing_angle, mass_sigma_g, balance);
  }
  return balance;
}

}  // namespace culmwright
