/// How far the true skin is from the developable that was fitted to it.
#include <algorithm>
#include <cmath>

#include "paper/development.hpp"

namespace culmwright {

namespace {

constexpr int sections = 120;
constexpr int directions = 144;
constexpr double step = 2.0 * pi / directions;
/// A run may end at a node, where the bow has a kink: the slope that counts is that of the run's own side.
constexpr double just_inside = 1e-6;

/// Skin less developable, from half a turn before the reference line to half a turn past it.
struct Ring {
  std::vector<Angle> theta;
  std::vector<SurfaceJet> excess;
  std::vector<double> radius;  ///< of curvature
};

/// Order 1 of the excess: how far the section as a whole is shifted.
Vec2 shift_of(const Ring& ring) {
  Vec2 centre;
  for (int k = 0; k < directions; ++k)
    centre = centre + direction(ring.theta[k]) * (2.0 * ring.excess[k].f / directions);
  return centre;
}

void add_distance(const Ring& ring, DevelopmentError& error) {
  const Vec2 shift = shift_of(ring);
  error.bow = std::max(error.bow, length(shift));
  for (int k = 0; k < directions; ++k) {
    error.shape = std::max(error.shape, std::abs(ring.excess[k].f - dot(shift, direction(ring.theta[k]))));
  }
}

/// From the reference line around to one side (sense ±1). A line square to the rulings that starts level with
/// a section drifts along the tube by ∫ F, where F = h_sθ (h + h″) dθ to first order in the slopes; what the
/// skin drifts more than the paper is the misfit along. The misfit around is ∫ (Δh + Δh″) dθ.
void add_misfit(const Ring& ring, int sense, DevelopmentError& error) {
  double along = 0.0;
  double around = 0.0;
  for (int k = directions / 2; k != (sense > 0 ? directions : 0); k += sense) {
    const SurfaceJet& here = ring.excess[k];
    const SurfaceJet& next = ring.excess[k + sense];
    along += 0.5 * step * sense * (ring.radius[k] * here.f_ts + ring.radius[k + sense] * next.f_ts);
    around += 0.5 * step * sense * (here.f + next.f) + next.f_t - here.f_t;
    error.along = std::max(error.along, std::abs(along));
    error.around = std::max(error.around, std::abs(around));
  }
}

}  // namespace

void Development::measure_error() {
  for (int i = 0; i <= sections; ++i) {
    const double at = std::clamp(at_from_ + (at_to_ - at_from_) * i / sections, at_from_ + just_inside,
                                 at_to_ - just_inside);
    const Section section = tube_.section(at);
    Ring ring;
    for (int k = 0; k <= directions; ++k) {
      const Angle theta = section.line() + Angle::from_radians(step * (k - directions / 2));
      const SurfaceJet skin = section.base_support(theta);
      SurfaceJet excess = skin;
      excess -= fitted(theta, at);
      ring.theta.push_back(theta);
      ring.excess.push_back(excess);
      ring.radius.push_back(skin.f + skin.f_tt);
    }
    add_distance(ring, error_);
    add_misfit(ring, 1, error_);
    add_misfit(ring, -1, error_);
  }
}

SurfaceJet Development::fitted(Angle theta, double at) const {
  SurfaceJet h;
  for (const Term& term : terms_) {
    const double k = term.order;
    const double c = std::cos(k * theta.radians());
    const double s = std::sin(k * theta.radians());
    const double a = term.cosine + term.cosine_slope * (at - at_from_);
    const double b = term.sine + term.sine_slope * (at - at_from_);
    h.f += a * c + b * s;
    h.f_t += k * (b * c - a * s);
    h.f_tt -= k * k * (a * c + b * s);
    h.f_s += term.cosine_slope * c + term.sine_slope * s;
    h.f_ts += k * (term.sine_slope * c - term.cosine_slope * s);
  }
  return h;
}

}  // namespace culmwright
