#include "plan/cradle_plan.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "base/words.hpp"
#include "plan/cradle_facets.hpp"
#include "plan/cradle_places.hpp"
#include "tube/mass.hpp"

namespace culmwright {

using namespace cradle_sizes;

namespace {

constexpr int samples_along = 25;
constexpr double relief_step = 3.0;  ///< over which a relief rises
constexpr double relief_room = 1.0;
constexpr double beside_tunnel = 1.5;  ///< of side wall under the tunnel's mouth, above the facets
constexpr double text_margin = 1.0;
constexpr double outer_room = 1.5;     ///< of the outer facet beyond what standing needs
constexpr double bisector_room = 3.0;  ///< of a wedge's weight from the edge between two facets
constexpr double work_room = 25.0;     ///< the piece's weight lies at least so far inside the cradles
constexpr double wood = 0.7e-3;        ///< g/mm³, of a piece that was not weighed: REFERENCES, bamboo

double radians(double degrees) {
  return degrees * pi / 180.0;
}

std::string set_name(int number) {
  return "cradle set " + std::to_string(number);
}

struct Job {
  const Tube& tube;
  Tube base;  ///< without ridges
  const Instrument& instrument;
  const Shop& shop;
};

double body_length(const Shop& shop) {
  return shop.strap_width + strap_room + 2.0 * strap_wall;
}

OffsetField inner_field(double middle, const CradlePlace& place) {
  OffsetField field;
  field.level = crown_relief;
  const Span whole{place.at.from - 10.0, place.at.to + 10.0};
  for (const double side : {-1.0, 1.0}) {
    Span theta{middle + side * radians(pad_from_deg), middle + side * radians(pad_to_deg)};
    if (theta.from > theta.to) std::swap(theta.from, theta.to);
    field.patches.push_back({-crown_relief, whole, 1.0, theta, radians(pad_step_deg)});
  }
  for (const UnderCradle& thing : place.over) {
    const double height = thing.theta ? crown_relief : thing.height + ridge_clearance;
    OffsetPatch relief{
        height, {thing.at.from - relief_room, thing.at.to + relief_room}, relief_step, {}, 1.0};
    if (thing.theta) {
      relief.theta = *thing.theta;
      relief.theta_step = radians(pad_step_deg);
    }
    field.patches.push_back(relief);
  }
  return field;
}

double height_of(const CradleSet& set, Vec3 p) {
  const Vec2 v = direction(set.middle);
  return p.x * v.x + p.y * v.y;
}

CradleBody body_of(const Job& job, const CradleSet& set, const CradlePlace& place, char letter) {
  const double middle = set.middle.radians() + pi;
  CradleBody body{"cradle " + std::to_string(set.number) + letter,
                  GuideFace(job.base, middle, inner_field(middle, place)),
                  place.at,
                  1e300,
                  {},
                  {}};
  for (int i = 0; i < samples_along; ++i) {
    const double at = place.at.from + place.at.length() * i / (samples_along - 1);
    for (const double side : {-1.0, 1.0})
      body.land = std::min(body.land, height_of(set, body.inner.point(middle + side * radians(hug_deg), at)));
  }
  for (const UnderCradle& thing : place.over)
    body.notes.push_back("no clear place: relieved over " + thing.words);
  return body;
}

/// Depth of the lowest place of the channel below the axis, and half its greatest width.
Vec2 channel_reach(const CradleSet& set) {
  Vec2 reach;
  for (const CradleBody& body : set.bodies) {
    for (int i = 0; i < samples_along; ++i) {
      const double at = body.at.from + body.at.length() * i / (samples_along - 1);
      const RigidMotion to_set = set.frame(at).inverse();
      for (int k = -12; k <= 12; ++k) {
        const Vec3 p = to_set.apply(body.inner.point(body.inner.middle() + radians(hug_deg) * k / 12.0, at));
        reach.x = std::max(reach.x, std::abs(p.x));
        reach.y = std::max(reach.y, -p.y);
      }
    }
  }
  return reach;
}

/// Where the lines of two facets, both `foot` from the axis, meet; their bores lean a and b from v toward u.
Vec2 corner(double foot, double a, double b) {
  // n·p = −foot for n = (sin, cos): the corner lies on their bisector.
  const double middle = 0.5 * (a + b);
  const double far = foot / std::cos(0.5 * (a - b));
  return {-far * std::sin(middle), -far * std::cos(middle)};
}

/// v of a facet's line at that u.
double line_at(double foot, double lean, double u) {
  return (-foot - u * std::sin(lean)) / std::cos(lean);
}

double lean_of(const CradleSet& set, const BoreAngle& bores) {
  return std::remainder(bores.axis.radians() - set.middle.radians(), 2.0 * pi);
}

/// Half the width of the outer facet on its outer side: as much as it needs, and the weight over the foot of
/// what stands beyond it on a wedge.
double outer_half(const CradleSet& set, const BoreAngle& facet, const BoreAngle& outermost) {
  const double lean = std::abs(outermost.axis.radians() - facet.axis.radians());
  return std::max(facet_half, set.foot * std::tan(lean) + stands_by + outer_room);
}

/// Sizes of the foot, and the facets, for the chosen angles in ascending order.
void shape_foot(CradleSet& set, const std::vector<BoreAngle>& facets, const std::vector<BoreAngle>& angles,
                Vec2 reach) {
  set.tunnel.to = -reach.y - tunnel_roof;
  set.tunnel.from = set.tunnel.to - tunnel_height;
  set.foot = -set.tunnel.from + floor;
  for (int i = 0; i < 200; ++i, set.foot += 0.5) {
    set.half_width = reach.x + side_wall;
    double upper = -1e300;
    for (const double side : {-1.0, 1.0}) {
      const BoreAngle& outer = side < 0.0 ? facets.back() : facets.front();  // growing θ, its foot toward −u
      const double lean = -side * lean_of(set, outer);
      const double half = outer_half(set, outer, side < 0.0 ? angles.back() : angles.front());
      set.half_width = std::max(set.half_width, set.foot * std::sin(lean) + half * std::cos(lean));
    }
    for (const double side : {-1.0, 1.0}) {
      const BoreAngle& outer = side < 0.0 ? facets.back() : facets.front();
      upper = std::max(upper, line_at(set.foot, lean_of(set, outer), side * set.half_width));
    }
    if (upper <= set.tunnel.from - beside_tunnel) break;
  }
  set.facets.clear();
  const std::size_t count = facets.size();
  for (std::size_t i = count; i-- > 0;) {  // growing θ leans to growing u, its foot to −u
    const double lean = lean_of(set, facets[i]);
    CradleFacet facet;
    facet.bores = facets[i];
    facet.from = i + 1 == count ? Vec2{-set.half_width, line_at(set.foot, lean, -set.half_width)}
                                : corner(set.foot, lean, lean_of(set, facets[i + 1]));
    facet.to = i == 0 ? Vec2{set.half_width, line_at(set.foot, lean, set.half_width)}
                      : corner(set.foot, lean, lean_of(set, facets[i - 1]));
    set.facets.push_back(facet);
  }
}

void add_wedges(CradleSet& set, const std::vector<BoreAngle>& angles, double mouth) {
  set.wedges.clear();
  for (const BoreAngle& bores : angles) {
    int nearest = 0;
    double least = 1e300;
    for (std::size_t i = 0; i < set.facets.size(); ++i) {
      const double lean = lean_of(set, bores) - lean_of(set, set.facets[i].bores);
      if (std::abs(lean) < std::abs(least)) {
        least = lean;
        nearest = static_cast<int>(i);
      }
    }
    if (std::abs(least) < 1e-12) continue;
    set.wedges.push_back({set.number, bores, nearest, Angle::from_radians(least), mouth, {}});
  }
}

/// Reading along the tube from the mouth end to the foot, in a plane of that normal.
RigidMotion text_frame(Vec3 origin, Vec3 normal, double mouth) {
  const Vec3 x{0.0, 0.0, mouth};  // away from the mouth end: z is toward A
  return {x, cross(normal, x), normal, origin};
}

/// Centred in a field of that size, or nothing where it has no room.
std::optional<PlaneText> text_in(const std::string& text, const RigidMotion& frame, double wide,
                                 double tall) {
  const Lettering line = lettering(text);
  if (line.width > wide - 2.0 * text_margin || line.height > tall - 2.0 * text_margin) return {};
  PlaneText placed{text, frame, {}};
  for (const StrokeOutline& stroke : line.strokes) {
    StrokeOutline outline;
    for (const Vec2& p : stroke) outline.push_back(p - Vec2{0.5 * line.width, 0.5 * line.height});
    placed.strokes.push_back(std::move(outline));
  }
  return placed;
}

std::string listed_ids(const BoreAngle& bores) {
  std::string words;
  for (const std::string& id : bores.ids) words += (words.empty() ? "" : " ") + id;
  return words;
}

void engrave(const CradleSet& set, CradleBody& body, double mouth) {
  const RigidMotion frame = set.frame(body.at.middle());
  const auto add = [&](const std::string& text, const RigidMotion& where, double tall) {
    if (auto placed = text_in(text, where, body.at.length(), tall)) {
      body.texts.push_back(std::move(*placed));
    } else {
      body.notes.push_back("no room to engrave " + text + ": write it on");
    }
  };
  for (const CradleFacet& facet : set.facets) {
    const Vec2 along = unit(facet.to - facet.from);
    const Vec2 middle = (facet.from + facet.to) * 0.5;
    const Vec3 normal = frame.turn({along.y, -along.x, 0.0});
    add(listed_ids(facet.bores), text_frame(frame.apply({middle.x, middle.y, 0.0}), normal, mouth),
        length(facet.to - facet.from));
  }
  const double v = 0.5 * (set.tunnel.to + body.land);
  add("< " + body.name.substr(body.name.find(' ') + 1),
      text_frame(frame.apply({set.half_width, v, 0.0}), frame.x, mouth), body.land - set.tunnel.to);
}

void engrave(CradleWedge& wedge) {
  const RigidMotion read_across{{1, 0, 0}, {0, 0, -1}, {0, 1, 0}, {0.0, 0.0, 0.22 * wedge_length}};
  const auto ids = text_in(listed_ids(wedge.bores), read_across, wedge_width, 0.5 * wedge_length);
  if (ids) wedge.texts.push_back(*ids);
  // In the wedge's frame z is toward B; the arrow points against its frame's x.
  const Vec3 x{0.0, 0.0, -wedge.mouth};
  const RigidMotion toward_mouth{x, cross(Vec3{0, 1, 0}, x), {0, 1, 0}, {0.0, 0.0, -0.22 * wedge_length}};
  if (const auto arrow = text_in("<", toward_mouth, 0.5 * wedge_length, wedge_width))
    wedge.texts.push_back(*arrow);
}

/// Area and middle of a closed polygon.
struct Flat {
  double area = 0.0;
  Vec2 middle;
};
Flat flat_of(const std::vector<Vec2>& corners) {
  Flat flat;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Vec2 a = corners[i];
    const Vec2 b = corners[(i + 1) % corners.size()];
    flat.area += 0.5 * cross(a, b);
    flat.middle = flat.middle + (a + b) * (cross(a, b) / 6.0);
  }
  flat.middle = flat.middle * (1.0 / flat.area);
  return flat;
}

/// Mass and place in (u, v) of what stands: the piece, and the cradles as if they were solid.
struct Weight {
  double mass = 0.0;
  Vec2 middle;
  void add(double more, Vec2 at) {
    middle = (middle * mass + at * more) * (1.0 / (mass + more));
    mass += more;
  }
};
Weight weight_of(const CradleSet& set, const Job& job) {
  const WallMoments moments = wall_moments(job.tube);
  const auto mass = mass_of(job.tube, job.tube.end_a_at(), job.tube.end_b_at());
  const RigidMotion to_set = set.frame(0.0).inverse();
  const Vec3 centre = to_set.turn({moments.x / moments.volume, moments.y / moments.volume, 0.0});
  Weight weight;
  weight.add(mass ? mass->mass_g : wood * moments.volume, {centre.x, centre.y});
  for (const CradleBody& body : set.bodies) {
    const Flat whole = flat_of(set.profile(body));
    std::vector<Vec2> hollow;
    for (int k = 24; k >= -24; --k) {
      const double theta = body.inner.middle() + radians(hug_deg) * k / 24.0;
      const Vec3 p = to_set.turn(body.inner.point(theta, body.at.middle()));
      hollow.push_back({p.x, p.y});
    }
    const Flat channel = flat_of(hollow);
    const double grams = job.shop.filament.density * body.at.length();
    weight.add(grams * whole.area, whole.middle);
    weight.add(-grams * std::abs(channel.area), channel.middle);
  }
  return weight;
}

/// Distance inside the nearer edge of what it stands on, along the table, of a line through p that stands
/// upright; negative outside.
double margin_of(Vec2 p, double lean, const std::vector<Vec2>& foot) {
  const Vec2 along{std::cos(lean), -std::sin(lean)};
  double low = 1e300;
  double high = -1e300;
  for (const Vec2& corner : foot) {
    low = std::min(low, dot(corner, along));
    high = std::max(high, dot(corner, along));
  }
  return std::min(dot(p, along) - low, high - dot(p, along));
}

Standing standing_on(const CradleSet& set, const Job& job, const Weight& weight, const BoreAngle& bores,
                     const CradleFacet& facet, const CradleWedge* wedge) {
  const double lean = lean_of(set, bores);
  std::vector<std::vector<Vec2>> feet{{facet.from, facet.to}};
  if (wedge != nullptr) {
    const double facet_lean = lean_of(set, facet.bores);
    const Vec2 x{std::cos(facet_lean), -std::sin(facet_lean)};
    const Vec2 y{std::sin(facet_lean), std::cos(facet_lean)};
    const std::vector<Vec2> outline = profile(*wedge);
    feet.push_back({});
    for (const Vec2& p : {outline[2], outline[3]}) feet.back().push_back(x * p.x + y * (p.y - set.foot));
  }
  Standing standing{1e300, 1e300};
  const RigidMotion to_set = set.frame(0.0).inverse();
  for (const std::vector<Vec2>& foot : feet) {
    standing.weight_margin = std::min(standing.weight_margin, margin_of(weight.middle, lean, foot));
    for (const PlacedKey& key : job.instrument.keys) {
      if (std::find(bores.ids.begin(), bores.ids.end(), key.key.id) == bores.ids.end()) continue;
      const Vec3 p = to_set.turn({key.drilling.point.x, key.drilling.point.y, 0.0});
      standing.thrust_margin = std::min(standing.thrust_margin, margin_of({p.x, p.y}, lean, foot));
    }
  }
  return standing;
}

/// Facets for the set's angles, all that they carry standing safely. Angles that would not stand on a facet
/// of their own are barred one after the other. False when none are left.
bool settle_facets(CradleSet& set, const Job& job, const std::vector<BoreAngle>& angles, double mouth) {
  const Vec2 reach = channel_reach(set);
  const double least_foot = reach.y + tunnel_roof + tunnel_height + floor;
  const Angle apart = Angle::from_radians(2.0 * std::atan(facet_half / least_foot));
  const Angle clear = Angle::from_radians(bisector_room / least_foot);
  std::vector<bool> barred(angles.size(), false);
  for (;;) {
    const std::vector<int> chosen = choose_facets(angles, apart, clear, barred);
    if (chosen.empty()) return false;
    std::vector<BoreAngle> facets;
    for (const int i : chosen) facets.push_back(angles[i]);
    shape_foot(set, facets, angles, reach);
    add_wedges(set, angles, mouth);
    const Weight weight = weight_of(set, job);
    const auto stands = [&](const Standing& s) {
      return std::min(s.weight_margin, s.thrust_margin) >= stands_by;
    };
    bool all = true;
    for (std::size_t i = 0; i < chosen.size(); ++i) {
      const CradleFacet& facet = set.facets[chosen.size() - 1 - i];
      bool good = stands(standing_on(set, job, weight, facet.bores, facet, nullptr));
      for (const CradleWedge& wedge : set.wedges) {
        if (wedge.facet != static_cast<int>(chosen.size() - 1 - i)) continue;
        good = good && stands(standing_on(set, job, weight, wedge.bores, facet, &wedge));
      }
      if (!good) barred[chosen[i]] = true;
      all = all && good;
    }
    if (all) return true;
  }
}

/// Along the tube: the group's holes, and the piece's own weight well inside.
Span work_of(const Job& job, const std::vector<BoreAngle>& angles) {
  const WallMoments moments = wall_moments(job.tube);
  const double weight = moments.at / moments.volume;
  Span work{weight - work_room, weight + work_room};
  for (const PlacedKey& key : job.instrument.keys) {
    for (const BoreAngle& bores : angles) {
      if (std::find(bores.ids.begin(), bores.ids.end(), key.key.id) == bores.ids.end()) continue;
      work.from = std::min(work.from, -key.drilling.point.z);
      work.to = std::max(work.to, -key.drilling.point.z);
    }
  }
  return work;
}

/// None when the angles have no facets in common.
std::optional<CradleSet> set_of(const Job& job, const std::vector<BoreAngle>& angles, int number) {
  CradleSet set;
  set.number = number;
  set.tube_id = job.tube.id();
  set.middle = Angle::from_radians(0.5 * (angles.front().axis.radians() + angles.back().axis.radians()));
  set.tunnel_half = 0.5 * (job.shop.strap_width + strap_room);
  const auto places = cradle_places(job.tube, job.instrument, set.middle.radians() + pi,
                                    body_length(job.shop), work_of(job, angles));
  if (!places) {
    throw GeometryError(set_name(number), "places",
                        "no room for two cradles of " + number_text(body_length(job.shop)) +
                            " mm between the cuts of the tube");
  }
  for (std::size_t i = 0; i < places->size(); ++i)
    set.bodies.push_back(body_of(job, set, (*places)[i], i == 0 ? 'A' : 'B'));
  const double mouth = job.instrument.mouth_end == End::a ? -1.0 : 1.0;
  if (!settle_facets(set, job, angles, mouth)) return {};
  for (CradleBody& body : set.bodies) engrave(set, body, mouth);
  for (CradleWedge& wedge : set.wedges) engrave(wedge);
  return set;
}

/// A group parted at its widest gap.
std::pair<std::vector<BoreAngle>, std::vector<BoreAngle>> parted(const std::vector<BoreAngle>& angles) {
  std::size_t at = 1;
  for (std::size_t i = 2; i < angles.size(); ++i) {
    if (angles[i].axis.radians() - angles[i - 1].axis.radians() >
        angles[at].axis.radians() - angles[at - 1].axis.radians())
      at = i;
  }
  const auto middle = angles.begin() + static_cast<std::ptrdiff_t>(at);
  return {{angles.begin(), middle}, {middle, angles.end()}};
}

}  // namespace

std::string CradleWedge::part() const {
  std::string words = "wedge for";
  for (const std::string& id : bores.ids) words += " " + id;
  return words;
}

std::vector<Vec2> profile(const CradleWedge& wedge) {
  const double half = 0.5 * wedge_width;
  const double rise = wedge_width * std::tan(std::abs(wedge.lean.radians()));
  // The bores lean beyond the facet's toward growing u: for them to stand upright the tube turns back, the
  // side of growing u goes down, that of lesser u up.
  const double left = wedge_least + (wedge.lean.radians() > 0.0 ? 0.0 : rise);
  const double right = wedge_least + (wedge.lean.radians() > 0.0 ? rise : 0.0);
  return {{half, 0.0}, {-half, 0.0}, {-half, -left}, {half, -right}};
}

RigidMotion CradleSet::frame(double at) const {
  const Vec2 v = direction(middle);
  const Vec2 u = tangent(middle);
  return {{u.x, u.y, 0.0}, {v.x, v.y, 0.0}, {0.0, 0.0, -1.0}, {0.0, 0.0, -at}};
}

std::vector<Vec2> CradleSet::profile(const CradleBody& body) const {
  std::vector<Vec2> points{{-half_width, body.land}};
  points.push_back(facets.front().from);
  for (const CradleFacet& facet : facets) points.push_back(facet.to);
  points.push_back({half_width, body.land});
  return points;
}

std::vector<CradleSet> plan_cradles(const Tube& tube, const Instrument& instrument, const Shop& shop) {
  const Job job{tube, smooth_tube(tube), instrument, shop};
  std::vector<CradleSet> sets;
  std::vector<std::vector<BoreAngle>> groups =
      cradle_groups(bore_angles(instrument), Angle::from_degrees(2.0 * reach_deg));
  for (std::size_t i = 0; i < groups.size(); ++i) {
    const int number = static_cast<int>(sets.size()) + 1;
    if (std::optional<CradleSet> set = set_of(job, groups[i], number)) {
      sets.push_back(std::move(*set));
    } else if (groups[i].size() > 1) {
      const auto [low, high] = parted(groups[i]);
      groups[i] = high;
      groups.insert(groups.begin() + static_cast<std::ptrdiff_t>(i), low);
      --i;
    } else {
      throw GeometryError(
          set_name(number), "facets",
          "tube and cradles would tip over with the bore of " + listed_ids(groups[i].front()) + " upright");
    }
  }
  return sets;
}

Standing standing(const CradleSet& set, const Tube& tube, const Instrument& instrument, const Shop& shop,
                  const BoreAngle& bores) {
  const Job job{tube, smooth_tube(tube), instrument, shop};
  const Weight weight = weight_of(set, job);
  for (const CradleFacet& facet : set.facets) {
    if (facet.bores.ids == bores.ids) return standing_on(set, job, weight, bores, facet, nullptr);
  }
  for (const CradleWedge& wedge : set.wedges) {
    if (wedge.bores.ids == bores.ids)
      return standing_on(set, job, weight, bores, set.facets[wedge.facet], &wedge);
  }
  throw GeometryError(set_name(set.number), "standing", listed_ids(bores) + " is no bore of it");
}

RigidMotion printing_position(const CradleSet& set, const CradleBody& body) {
  // Standing on the end toward B: up is toward A.
  RigidMotion frame = set.frame(body.at.to);
  const RigidMotion on_end{frame.x, -frame.y, -frame.z, frame.origin};
  return on_end.inverse();
}

}  // namespace culmwright
