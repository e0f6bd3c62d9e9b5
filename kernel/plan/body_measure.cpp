/// What a planned tube body must weigh in volume, area and holes: the gate's measure for the solid built from
/// it.
#include <algorithm>
#include <cmath>
#include <numeric>

#include "plan/body_plan.hpp"
#include "plan/skin_ray.hpp"

namespace culmwright {

namespace {

/// Quadrature along the tube: pieces short enough that no ridge slips between.
constexpr double piece_length = 2.0;
constexpr int pieces_around = 24;
constexpr double ring_beyond = 0.3;  ///< of a bore's ring over its radius

int pieces(double from, double to) {
  return std::max(2, static_cast<int>(std::ceil((to - from) / piece_length)));
}

template <class Support>
double section_area(const Support& support) {
  return 0.5 * integrate(
                   [&](double t) {
                     const SurfaceJet h = support(Angle::from_radians(t));
                     return h.f * h.f - h.f_t * h.f_t;
                   },
                   0.0, 2.0 * pi, pieces_around);
}

double skin_section(const Tube& tube, double at) {
  const Section section = tube.section(at);
  return section_area([&](Angle t) { return section.support(t); });
}

double bore_section(const Tube& tube, double at) {
  const Section section = tube.section(at);
  return section_area([&](Angle t) { return section.bore_support(t); });
}

/// ∫∫ (h + h″) √(1 + h_s²) dθ dat: with fixed normal direction the point moves by h_s n + h_ts t along the
/// tube, so the patch spanned with the section's tangent has that area.
template <class Support>
double surface_area(const Tube& tube, double from, double to, Support support_of) {
  return integrate(
      [&](double at) {
        const Section section = tube.section(at);
        return integrate(
            [&](double t) {
              const SurfaceJet h = (section.*support_of)(Angle::from_radians(t));
              return (h.f + h.f_tt) * std::sqrt(1.0 + h.f_s * h.f_s);
            },
            0.0, 2.0 * pi, pieces_around);
      },
      from, to, pieces(from, to));
}

double plug(const Tube& tube, const BodyCut& cut) {
  return over_area(cut.outline, [&](Vec2 p) {
    return skin_hit(tube, cut.frame, p, 0.0).height - bore_hit(tube, cut.frame, p).height;
  });
}

double volume_of(const BodyPlan& plan, const Tube& tube) {
  double sum = integrate([&](double at) { return skin_section(tube, at); }, plan.from_at, plan.to_at,
                         pieces(plan.from_at, plan.to_at));
  for (const Cavity& cavity : plan.cavities) {
    sum -= integrate([&](double at) { return bore_section(tube, at); }, cavity.from_at, cavity.to_at,
                     pieces(cavity.from_at, cavity.to_at));
  }
  for (const Diaphragm& diaphragm : plan.diaphragms) {
    const double r = diaphragm.pierced_radius.value_or(0.0);
    sum -= pi * r * r * (diaphragm.to_at - diaphragm.from_at);
  }
  for (const BodyCut& cut : plan.cuts) sum -= plug(tube, cut);
  return sum;
}

/// Cavities and the outside (number 0) as places, each way between two of them as a link: a closed surface
/// around a connected set of places has as many handles as it has links beyond a tree.
class Ways {
 public:
  explicit Ways(std::size_t places) : root_(places) { std::iota(root_.begin(), root_.end(), 0); }
  void link(int a, int b) {
    ++links_;
    const int from = root_[a];
    const int to = root_[b];
    std::replace(root_.begin(), root_.end(), int{from}, int{to});
  }
  int sets() const {
    std::vector<int> roots = root_;
    std::sort(roots.begin(), roots.end());
    return static_cast<int>(std::unique(roots.begin(), roots.end()) - roots.begin());
  }
  int genus() const { return links_ - static_cast<int>(root_.size()) + sets(); }

 private:
  std::vector<int> root_;
  int links_ = 0;
};

/// The cavity at a place, or 0, the outside, beyond both ends.
int place_at(const BodyPlan& plan, double at) {
  for (std::size_t i = 0; i < plan.cavities.size(); ++i) {
    if (at >= plan.cavities[i].from_at && at <= plan.cavities[i].to_at) return static_cast<int>(i) + 1;
  }
  return 0;
}

Ways ways_of(const BodyPlan& plan) {
  Ways ways(plan.cavities.size() + 1);
  for (std::size_t i = 0; i < plan.cavities.size(); ++i) {
    if (plan.cavities[i].open_at_from) ways.link(static_cast<int>(i) + 1, 0);
    if (plan.cavities[i].open_at_to) ways.link(static_cast<int>(i) + 1, 0);
  }
  for (const Diaphragm& diaphragm : plan.diaphragms) {
    if (!diaphragm.pierced_radius) continue;
    ways.link(place_at(plan, diaphragm.from_at - 1e-6), place_at(plan, diaphragm.to_at + 1e-6));
  }
  for (const BodyCut& cut : plan.cuts) ways.link(place_at(plan, -cut.frame.origin.z), 0);
  return ways;
}

FaceExpectation level(std::string name, double at, double area) {
  return {std::move(name), [at](Vec3 p) { return std::abs(p.z + at); }, area};
}

void expect_surfaces(Expectation& expected, const BodyPlan& plan, const Tube& tube) {
  double skin = surface_area(tube, plan.from_at, plan.to_at, &Section::support);
  double bore = 0.0;
  for (const Cavity& cavity : plan.cavities) {
    bore += surface_area(tube, cavity.from_at, cavity.to_at, &Section::bore_support);
  }
  for (const BodyCut& cut : plan.cuts) {
    skin -= over_area(cut.outline, [&](Vec2 p) { return 1.0 / skin_hit(tube, cut.frame, p, 0.0).facing; });
    bore -= over_area(cut.outline, [&](Vec2 p) { return 1.0 / bore_hit(tube, cut.frame, p).facing; });
  }
  expected.faces.push_back({"skin", [tube](Vec3 p) { return skin_distance(tube, {}, p, 0.0); }, skin});
  if (!plan.cavities.empty()) {
    expected.faces.push_back({"bore", [tube](Vec3 p) { return bore_distance(tube, {}, p); }, bore});
  }
}

void expect_ends(Expectation& expected, const BodyPlan& plan, const Tube& tube) {
  const auto end = [&](const char* name, double at, double inside) {
    double area = skin_section(tube, at);
    if (place_at(plan, inside) != 0) area -= bore_section(tube, at);
    for (const Diaphragm& diaphragm : plan.diaphragms) {
      const double r = diaphragm.pierced_radius.value_or(0.0);
      if (diaphragm.from_at == at || diaphragm.to_at == at) area -= pi * r * r;
    }
    expected.faces.push_back(level(name, at, area));
  };
  end("end nearer A", plan.from_at, plan.from_at + 1e-6);
  end("end nearer B", plan.to_at, plan.to_at - 1e-6);
}

void expect_diaphragms(Expectation& expected, const BodyPlan& plan, const Tube& tube) {
  int number = 0;
  for (const Diaphragm& diaphragm : plan.diaphragms) {
    const std::string name = "diaphragm " + std::to_string(++number);
    const double r = diaphragm.pierced_radius.value_or(0.0);
    for (const double at : {diaphragm.from_at, diaphragm.to_at}) {
      if (at == plan.from_at || at == plan.to_at) continue;
      const char* side = at == diaphragm.from_at ? " toward A" : " toward B";
      expected.faces.push_back(level(name + side, at, bore_section(tube, at) - pi * r * r));
    }
    if (!diaphragm.pierced_radius) continue;
    const Vec2 middle = diaphragm.middle;
    expected.faces.push_back(
        {name + "'s hole",
         [middle, r](Vec3 p) { return std::abs(std::hypot(p.x - middle.x, p.y - middle.y) - r); },
         2.0 * pi * r * (diaphragm.to_at - diaphragm.from_at)});
    expected.bores.push_back({name + "'s hole",
                              {middle.x, middle.y, -diaphragm.from_at + 0.1},
                              {middle.x, middle.y, -diaphragm.to_at - 0.1},
                              r + 0.15,
                              {0.1 + 0.5 * (diaphragm.to_at - diaphragm.from_at)}});
  }
}

/// Where a level ring just beyond the outline's widest reach lies wholly in the wall; none on a thin wall
/// that falls away by more than its thickness.
std::vector<double> ring_depths(const Tube& tube, const BodyCut& cut, double radius) {
  double skin = 1e300;
  double bore = -1e300;
  for (int i = 0; i < 32; ++i) {
    const Angle phi = Angle::from_degrees(11.25 * i);
    const Vec2 xy = Vec2{phi.cos(), phi.sin()} * radius;
    const SkinHit hit = skin_hit(tube, cut.frame, xy, 0.0);
    if (hit.facing < 0.12) return {};
    skin = std::min(skin, hit.height);
    bore = std::max(bore, bore_hit(tube, cut.frame, xy).height);
  }
  if (skin - bore < 0.3) return {};
  return {cut.high - 0.5 * (skin + bore)};
}

void expect_cuts(Expectation& expected, const BodyPlan& plan, const Tube& tube) {
  for (const BodyCut& cut : plan.cuts) {
    const double wall = along_edge(cut.outline, [&](Vec2 p) {
      return skin_hit(tube, cut.frame, p, 0.0).height - bore_hit(tube, cut.frame, p).height;
    });
    expected.faces.push_back({cut.name,
                              [to_cut = cut.frame.inverse(), outline = cut.outline](Vec3 p) {
                                const Vec3 q = to_cut.apply(p);
                                return std::abs(outline.distance({q.x, q.y}));
                              },
                              wall});
    const Vec3 from = cut.frame.apply({0, 0, cut.high});
    const Vec3 to = cut.frame.apply({0, 0, -cut.depth});
    const double ring = 0.5 * std::hypot(cut.outline.length, cut.outline.width) + ring_beyond;
    const double around = cut.outline.round() ? cut.outline.corner + ring_beyond : ring;
    expected.bores.push_back({cut.name, from, to, around, ring_depths(tube, cut, around)});
  }
}

}  // namespace

Expectation expectation_of(const BodyPlan& plan, const Tube& tube) {
  Expectation expected;
  expected.part = plan.part();
  expected.volume = volume_of(plan, tube);
  const Ways ways = ways_of(plan);
  expected.genus = ways.genus();
  expected.shells = ways.sets();
  expect_surfaces(expected, plan, tube);
  expect_ends(expected, plan, tube);
  expect_diaphragms(expected, plan, tube);
  expect_cuts(expected, plan, tube);
  return expected;
}

}  // namespace culmwright
