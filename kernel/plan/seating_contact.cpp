#include "plan/seating_contact.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

using namespace guide_sizes;

namespace {

/// Offsets from a pad's middle, in degrees: full contact to 9, then the step that lifts off.
constexpr double pad_around[] = {-12.0, -10.5, -9.0, -6.0, -3.0, 0.0, 3.0, 6.0, 9.0, 10.5, 12.0};
/// As shares of the pad's half length.
constexpr double pad_along[] = {-1.1, -0.5, 0.5, 1.1};
constexpr double rest_step_deg = 10.0;
constexpr double rest_reach_deg = 80.0;
constexpr double rest_step = 10.0;

double radians(double degrees) {
  return degrees * pi / 180.0;
}

class Collector {
 public:
  explicit Collector(const GuidePlan& plan) : plan_(plan), over_(plan.at) {
    if (!plan.post) return;
    const double end = -plan.post->touches.z;
    (plan.post->end == End::a ? over_.from : over_.to) = end;
  }

  bool over_tube(double at) const { return over_.contains(at); }
  const Span& over() const { return over_; }

  int station(double at) {
    found_.stations.push_back(plan_.inner.point(plan_.middle(), at));
    section_ = plan_.inner.base().section(at);
    return static_cast<int>(found_.stations.size()) - 1;
  }

  void add(double from_middle_deg, int station, int pad) {
    const double theta = plan_.middle() + radians(from_middle_deg);
    found_.points.push_back({plan_.inner.jet(*section_, theta).point, theta, station, pad});
  }

  ContactPoints found_;

 private:
  const GuidePlan& plan_;
  Span over_;
  std::optional<Section> section_;
};

}  // namespace

ContactPoints contact_points(const GuidePlan& plan) {
  Collector collect(plan);
  for (std::size_t end = 0; end < plan.pads.size(); ++end) {
    for (const double share : pad_along) {
      const double at = plan.pads[end].middle() + 0.5 * plan.pads[end].length() * share;
      if (!collect.over_tube(at)) continue;
      const int station = collect.station(at);
      for (const int side : {0, 1}) {
        const double middle = (side == 0 ? -1.0 : 1.0) * pad_middle_deg;
        for (const double off : pad_around)
          collect.add(middle + off, station, static_cast<int>(2 * end) + side);
      }
    }
  }
  collect.found_.pad_stations = collect.found_.stations.size();
  collect.found_.on_pads = static_cast<int>(collect.found_.points.size());
  const int pieces = std::max(1, static_cast<int>(std::ceil(collect.over().length() / rest_step)));
  for (int i = 0; i <= pieces; ++i) {
    const int station = collect.station(collect.over().from + collect.over().length() * i / pieces);
    for (double deg = -rest_reach_deg; deg <= rest_reach_deg; deg += rest_step_deg)
      collect.add(deg, station, -1);
  }
  return std::move(collect.found_);
}

SkinGap gap_at(const Section& section, Vec3 point, double theta) {
  const double past = -point.z - section.at();
  const Vec2 q{point.x, point.y};
  SurfaceJet h;
  Vec2 n;
  double gain = 0.0;
  for (int i = 0; i < 12; ++i) {
    const Angle angle = Angle::from_radians(theta);
    n = direction(angle);
    h = section.support(angle);
    const double first = cross(n, q) - (h.f_t + h.f_ts * past);
    const double second = dot(q, n) + h.f_tt;
    const double step = second > 1e-6 ? std::clamp(first / second, -0.2, 0.2) : (first > 0.0 ? 0.05 : -0.05);
    theta += step;
    gain = 0.5 * first * step;
    // The distance is stationary in θ: what is left after a step of 0.005 is 1e-7 mm.
    if (std::abs(step) < 5e-3) break;
  }
  const double excess = dot(q, n) + gain - (h.f + past * (h.f_s + 0.5 * past * h.f_ss));
  const double slope = h.f_s + past * h.f_ss;
  const double scale = 1.0 / std::sqrt(1.0 + slope * slope);
  const Vec2 normal = direction(Angle::from_radians(theta));
  return {excess * scale, Vec3{normal.x, normal.y, slope} * scale, theta};
}

}  // namespace culmwright
