#include "plan/guide_face.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

Tube smooth_tube(const Tube& tube) {
  TubeShape shape = tube.shape();
  shape.nodes.clear();
  shape.grooves.clear();
  shape.blemishes.clear();
  return Tube(std::move(shape));
}

GuideFace::GuideFace(Tube base, double middle_theta, OffsetField field)
    : base_(std::move(base)), middle_(middle_theta), field_(std::move(field)) {}

GuideFace::Jet GuideFace::jet(const Section& section, double theta) const {
  const Angle angle = Angle::from_radians(theta);
  const SurfaceJet h = section.base_support(angle);
  const OffsetJet c = field_(theta, section.at());
  const Vec2 n = direction(angle);
  const Vec2 t = tangent(angle);
  const Vec2 p = n * (h.f + c.value) + t * h.f_t;
  const Vec2 p_t = t * (h.f + h.f_tt + c.value) + n * c.by_theta;
  const Vec2 p_s = n * (h.f_s + c.by_at) + t * h.f_ts;
  return {{p.x, p.y, -section.at()}, {p_t.x, p_t.y, 0.0}, {p_s.x, p_s.y, -1.0}};
}

GuideFace::Jet GuideFace::jet(double theta, double at) const {
  return jet(base_.section(at), theta);
}

Vec3 GuideFace::point(double theta, double at) const {
  return jet(theta, at).point;
}

double GuideFace::unwrapped(double theta) const {
  return middle_ + std::remainder(theta - middle_, 2.0 * pi);
}

namespace {

/// Direction and distance of the nearest point of the skin. From the direction seen from the axis by Newton
/// steps, which serve every point near or outside the skin; the section's own search for any other.
GuideFace::Where nearest_on(const Section& section, Vec2 q) {
  double t = std::atan2(q.y, q.x);
  for (int i = 0; i < 20; ++i) {
    const Angle angle = Angle::from_radians(t);
    const SurfaceJet h = section.base_support(angle);
    const double curvature = dot(q, direction(angle)) + h.f_tt;
    if (curvature <= 0.0) break;
    const double step = std::clamp((dot(q, tangent(angle)) - h.f_t) / curvature, -0.3, 0.3);
    t += step;
    if (std::abs(step) < 1e-13) {
      const Angle found = Angle::from_radians(t);
      return {t, section.at(), dot(q, direction(found)) - section.base_support(found).f};
    }
  }
  Angle theta;
  const double offset = section.outside(q, &theta);
  return {theta.radians(), section.at(), offset};
}

}  // namespace

GuideFace::Where GuideFace::where(Vec3 p) const {
  Where place = nearest_on(base_.section(-p.z), {p.x, p.y});
  place.theta = unwrapped(place.theta);
  return place;
}

double GuideFace::distance(Vec3 p) const {
  const Section section = base_.section(-p.z);
  const Where place = nearest_on(section, {p.x, p.y});
  const OffsetJet c = field_(unwrapped(place.theta), place.at);
  const SurfaceJet h = section.base_support(Angle::from_radians(place.theta));
  const double around = c.by_theta / std::max(h.f + h.f_tt + place.offset, 1e-3);
  const double along = h.f_s + c.by_at;
  return std::abs(place.offset - c.value) / std::sqrt(1.0 + around * around + along * along);
}

GuideFace::Meeting GuideFace::meet(const RigidMotion& frame, Vec2 xy) const {
  const Vec3 start = frame.apply({xy.x, xy.y, 0.0});
  const Where guess = where(start);
  Meeting meeting{guess.theta, guess.at, 0.0, 0.0};
  for (int i = 0; i < 40; ++i) {
    const Jet face = jet(meeting.theta, meeting.at);
    const Vec2 off{dot(face.point - start, frame.x), dot(face.point - start, frame.y)};
    const Vec2 a{dot(face.by_theta, frame.x), dot(face.by_theta, frame.y)};
    const Vec2 b{dot(face.by_at, frame.x), dot(face.by_at, frame.y)};
    const double det = cross(a, b);
    meeting.height = dot(face.point - start, frame.z);
    meeting.facing = dot(unit(face.outward()), frame.z);
    if (length(off) < 1e-11 || std::abs(det) < 1e-12) break;
    meeting.theta -= std::clamp(cross(off, b) / det, -0.3, 0.3);
    meeting.at -= std::clamp(cross(a, off) / det, -10.0, 10.0);
  }
  return meeting;
}

double GuideFace::radius(double theta, double at) const {
  const SurfaceJet h = base_.section(at).base_support(Angle::from_radians(theta));
  return h.f + h.f_tt + field_(theta, at).value;
}

}  // namespace culmwright
