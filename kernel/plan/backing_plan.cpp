#include "plan/backing_plan.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "plan/body_plan.hpp"
#include "plan/cradle_facets.hpp"

namespace culmwright {

namespace {

using namespace backing_sizes;

constexpr int directions = 180;
constexpr double way_step = 2.0;   ///< along, where the way is sampled
constexpr double bore_step = 1.0;  ///< along, where the bore is sampled as a skin
constexpr double bore_beyond = 6.0;
constexpr int samples_along = 31;
constexpr double bed_margin = 5.0;

double radians(double degrees) {
  return degrees * pi / 180.0;
}

std::string mm(double value) {
  return number_text(value, 3) + " mm";
}

/// How far a bar's middle and radius may reach in each direction: the least of all supports on the way.
struct Narrowing {
  std::vector<double> support = std::vector<double>(directions, 1e300);
  void add(int i, double value) { support[i] = std::min(support[i], value); }
  /// The radius of the largest circle about that point.
  double radius(Vec2 middle) const {
    double least = 1e300;
    for (int i = 0; i < directions; ++i)
      least =
          std::min(least, support[i] - dot(middle, direction(Angle::from_degrees(360.0 * i / directions))));
    return least;
  }
  /// Of the largest circle: the greatest of a concave function, by ever finer steps in 16 directions.
  double largest() const {
    Vec2 middle;
    double best = radius(middle);
    for (double step = 2.0; step > 0.002;) {
      Vec2 better = middle;
      for (int i = 0; i < 16; ++i) {
        const Vec2 next = middle + direction(Angle::from_degrees(22.5 * i)) * step;
        if (radius(next) > best + 1e-9) {
          best = radius(next);
          better = next;
        }
      }
      if (length(better - middle) == 0.0) step *= 0.5;
      middle = better;
    }
    return best;
  }
};

std::string node_words(std::size_t number, const Diaphragm& plate) {
  return "node " + std::to_string(number + 1) +
         (plate.pierced_radius ? ", pierced " + mm(2.0 * *plate.pierced_radius) : ", not pierced");
}

/// Number of the node whose plate this is, counted from end A.
std::size_t node_of(const Tube& tube, const Diaphragm& plate) {
  const double at = 0.5 * (plate.from_at + plate.to_at);
  std::size_t nearest = 0;
  for (std::size_t i = 0; i < tube.nodes().size(); ++i) {
    if (std::abs(tube.nodes()[i].at() - at) < std::abs(tube.nodes()[nearest].at() - at)) nearest = i;
  }
  return nearest;
}

double least_across(const Section& section) {
  double least = 1e300;
  for (int i = 0; i < directions / 2; ++i) {
    const Angle theta = Angle::from_degrees(360.0 * i / directions);
    least = std::min(
        least, section.bore_support(theta).f + section.bore_support(theta + Angle::from_degrees(180.0)).f);
  }
  return least;
}

/// The bore of a stretch as the skin of a tube of its own. Sampled every millimetre: 1e-5 mm.
Tube bore_as_skin(const Tube& tube, const Span& at) {
  std::vector<double> places;
  const int steps = std::max(4, static_cast<int>(std::ceil((at.length() + 2.0 * bore_beyond) / bore_step)));
  for (int i = 0; i <= steps; ++i)
    places.push_back(at.from - bore_beyond + (at.length() + 2.0 * bore_beyond) * i / steps);
  std::vector<int> orders;
  for (const FourierAlong* series : {&tube.shape().skin, &tube.shape().wall}) {
    for (const FourierAlong::Term& term : series->terms()) {
      if (std::find(orders.begin(), orders.end(), term.order) == orders.end()) orders.push_back(term.order);
    }
  }
  const std::vector<bool> smooth(places.size(), false);
  std::vector<FourierAlong::Term> terms;
  for (const int order : orders) {
    std::vector<double> cosine;
    std::vector<double> sine;
    for (const double place : places) {
      double c = 0.0;
      double s = 0.0;
      const auto add = [&](const FourierAlong& series, double sign) {
        for (const FourierAlong::Term& term : series.terms()) {
          if (term.order != order) continue;
          c += sign * term.cosine(place).value;
          if (order > 0) s += sign * term.sine(place).value;
        }
      };
      add(tube.shape().skin, 1.0);
      add(tube.shape().wall, -1.0);
      cosine.push_back(c);
      sine.push_back(s);
    }
    terms.push_back({order, PiecewiseCubic::spline(places, cosine, smooth),
                     order == 0 ? PiecewiseCubic{} : PiecewiseCubic::spline(places, sine, smooth)});
  }
  TubeShape shape;
  shape.id = tube.id() + " bore";
  shape.skin = FourierAlong(std::move(terms));
  shape.wall = FourierAlong({{0, PiecewiseCubic::monotone({0.0}, {1.0}, Beyond::held), {}}});
  shape.end_a_at = at.from;
  shape.end_b_at = at.to;
  shape.beyond = bore_beyond;
  return Tube(std::move(shape));
}

/// Holes that one shoe may serve: alike in direction, in one cavity, not too long for the bed.
struct ShoeGroup {
  double middle = 0.0;
  std::vector<const PlacedKey*> keys;  ///< in order of `at`
};

double at_of(const PlacedKey& key) {
  return -key.drilling.point.z;
}

Span rims_of(const ShoeGroup& group) {
  return {at_of(*group.keys.front()) - group.keys.front()->drilling.radius,
          at_of(*group.keys.back()) + group.keys.back()->drilling.radius};
}

const Cavity* cavity_of(const BodyPlan& body, double at) {
  for (const Cavity& cavity : body.cavities) {
    if (at >= cavity.from_at && at <= cavity.to_at) return &cavity;
  }
  return nullptr;
}

std::vector<ShoeGroup> shoe_groups(const Instrument& instrument, const BodyPlan& body, double longest) {
  std::vector<ShoeGroup> groups;
  for (const std::vector<BoreAngle>& angles :
       cradle_groups(bore_angles(instrument), Angle::from_degrees(2.0 * reach_deg))) {
    std::vector<const PlacedKey*> keys;
    for (const PlacedKey& key : instrument.keys) {
      for (const BoreAngle& bores : angles) {
        if (std::find(bores.ids.begin(), bores.ids.end(), key.key.id) != bores.ids.end())
          keys.push_back(&key);
      }
    }
    std::stable_sort(keys.begin(), keys.end(),
                     [](const PlacedKey* a, const PlacedKey* b) { return at_of(*a) < at_of(*b); });
    const double middle = 0.5 * (angles.front().axis.radians() + angles.back().axis.radians());
    for (const PlacedKey* key : keys) {
      const bool goes_on =
          !groups.empty() && groups.back().middle == middle &&
          cavity_of(body, at_of(*key)) == cavity_of(body, at_of(*groups.back().keys.back())) &&
          at_of(*key) - at_of(*groups.back().keys.front()) < longest - 2.0 * beyond - 20.0;
      if (!goes_on) groups.push_back({middle, {}});
      groups.back().keys.push_back(key);
    }
  }
  return groups;
}

/// Height of the flat and width of what is above it.
void shape_flat(BackingShoe& shoe) {
  const RigidMotion to_shoe = shoe.frame().inverse();
  shoe.flat = -1e300;
  double crown = 1e300;
  for (int i = 0; i < samples_along; ++i) {
    const double at = shoe.at.from + shoe.at.length() * i / (samples_along - 1);
    for (const double side : {-1.0, 1.0}) {
      const Vec3 p = to_shoe.apply(shoe.face.point(shoe.face.middle() + side * shoe.half, at));
      shoe.flat = std::max(shoe.flat, p.y);
    }
    crown = std::min(crown, to_shoe.apply(shoe.face.point(shoe.face.middle(), at)).y);
  }
  double low = 1e300;
  double high = -1e300;
  for (int i = 0; i < samples_along; ++i) {
    const double at = shoe.at.from + shoe.at.length() * i / (samples_along - 1);
    for (int k = -14; k <= 14; ++k) {
      const Vec3 p = to_shoe.apply(shoe.face.point(shoe.face.middle() + shoe.half * k / 14.0, at));
      low = std::min(low, p.x);
      high = std::max(high, p.x);
    }
  }
  shoe.height = crown - shoe.flat;
  shoe.width = std::max(high - low, shoe.height);
}

/// Of a shoe that holds all of its holes, from its middle.
double least_half(const ShoeGroup& group, const Tube& tube) {
  double least = radians(narrowest_deg);
  for (const PlacedKey* key : group.keys) {
    const Vec3 axis = key->drilling.axis;
    const double away = std::abs(std::remainder(std::atan2(axis.y, axis.x) - group.middle, 2.0 * pi));
    const double radius = 0.5 * least_across(tube.section(at_of(*key)));
    least =
        std::max(least, away + std::asin(std::min(0.9, key->drilling.radius / radius)) + radians(beside_deg));
  }
  return std::min(least, radians(widest_deg));
}

/// As wide as passes the way in, and no narrower than its holes need.
void narrow_to_pass(BackingShoe& shoe, const Tube& tube, const ShoeGroup& group) {
  const double least = least_half(group, tube);
  for (shoe.half = radians(widest_deg);; shoe.half -= radians(5.0)) {
    shoe.half = std::max(shoe.half, least);
    shape_flat(shoe);
    if (shoe.half <= least || shoe.width + room_to_pass <= shoe.way.diameter) return;
  }
}

/// Between the flat and the far wall, in the plane of the shoe's middle.
void measure_stick(BackingShoe& shoe, const Tube& tube) {
  shoe.stick = {1e300, -1e300};
  const Vec2 up = direction(Angle::from_radians(shoe.face.middle()));
  for (int i = 0; i < samples_along; ++i) {
    const double at = shoe.at.from + shoe.at.length() * i / (samples_along - 1);
    const Vec2 far = tube.section(at).bore_point(Angle::from_radians(shoe.face.middle() + pi));
    const double room = shoe.flat - dot(far, up);
    shoe.stick = {std::min(shoe.stick.from, room), std::max(shoe.stick.to, room)};
  }
}

void engrave(BackingShoe& shoe, double mouth) {
  std::string words = "<";
  for (const std::string& id : shoe.ids) words += " " + id;
  const RigidMotion frame = shoe.frame();
  // In the flat, read from the mouth end on.
  const Vec3 x = frame.z * -mouth;
  const Vec3 out = -frame.y;
  const RigidMotion where{x, cross(out, x), out, frame.apply({0, shoe.flat, 0})};
  const Lettering line = lettering(words);
  if (line.width > shoe.at.length() - 3.0 || line.height > 0.8 * shoe.width) {
    shoe.notes.push_back("no room to engrave " + words + ": write it on");
    return;
  }
  PlaneText text{words, where, {}};
  for (const StrokeOutline& stroke : line.strokes) {
    StrokeOutline outline;
    for (const Vec2& p : stroke) outline.push_back(p - Vec2{0.5 * line.width, 0.5 * line.height});
    text.strokes.push_back(std::move(outline));
  }
  shoe.texts.push_back(std::move(text));
}

WayIn wider_way(const Tube& tube, const Span& at) {
  const WayIn a = way_in(tube, End::a, at.to);
  const WayIn b = way_in(tube, End::b, at.from);
  return a.diameter >= b.diameter ? a : b;
}

BackingShoe shoe_of(const Tube& tube, const ShoeGroup& group, const Cavity& cavity, int number,
                    double mouth) {
  Span at = rims_of(group);
  at.from = std::max(at.from - beyond, cavity.from_at + (cavity.open_at_from ? 0.0 : diaphragm_room));
  at.to = std::min(at.to + beyond, cavity.to_at - (cavity.open_at_to ? 0.0 : diaphragm_room));
  OffsetField field;
  field.level = -fit;
  BackingShoe shoe{"backing " + std::to_string(number),
                   {},
                   GuideFace(bore_as_skin(tube, at), group.middle, field),
                   at,
                   radians(widest_deg),
                   0.0,
                   0.0,
                   0.0,
                   wider_way(tube, at),
                   {},
                   {},
                   {}};
  for (const PlacedKey* key : group.keys) shoe.ids.push_back(key->key.id);
  narrow_to_pass(shoe, tube, group);
  measure_stick(shoe, tube);
  engrave(shoe, mouth);
  return shoe;
}

/// Why a shoe cannot be used, in words; empty when it can.
std::string why_not(const BackingShoe& shoe, const ShoeGroup& group) {
  if (shoe.way.diameter < shoe.width + room_to_pass) {
    return "the way in is " + mm(shoe.way.diameter) + " at " + shoe.way.narrowest + ", the backing is " +
           mm(shoe.width) + " wide: stop undersize and finish with a reamer";
  }
  if (shoe.height < least_height)
    return "a backing that passes the way in would be only " + mm(shoe.height) + " thick";
  const Span rims = rims_of(group);
  if (rims.from < shoe.at.from + 1.0 || rims.to > shoe.at.to - 1.0)
    return "the holes come too near to a node inside";
  return {};
}

}  // namespace

RigidMotion BackingShoe::frame() const {
  const Vec2 v = direction(Angle::from_radians(face.middle()));
  const Vec2 u = tangent(Angle::from_radians(face.middle()));
  return {{u.x, u.y, 0.0}, {v.x, v.y, 0.0}, {0.0, 0.0, -1.0}, {0.0, 0.0, -at.middle()}};
}

WayIn way_in(const Tube& tube, End from, double at) {
  const double end = from == End::a ? tube.end_a_at() : tube.end_b_at();
  const Span run{std::min(end, at), std::max(end, at)};
  Narrowing narrow;
  WayIn way;
  way.from = from;
  double least = 1e300;
  const int steps = std::max(1, static_cast<int>(std::ceil(run.length() / way_step)));
  for (int i = 0; i <= steps; ++i) {
    const Section section = tube.section(run.from + run.length() * i / steps);
    for (int k = 0; k < directions; ++k)
      narrow.add(k, section.bore_support(Angle::from_degrees(360.0 * k / directions)).f);
    const double across = least_across(section);
    if (across >= least) continue;
    least = across;
    way.narrowest = "the bore at " + number_text(section.at(), 4) + " mm";
  }
  for (const Diaphragm& plate : plan_body(tube).diaphragms) {
    if (plate.to_at < run.from || plate.from_at > run.to) continue;
    const double across = plate.pierced_radius ? 2.0 * *plate.pierced_radius : 0.0;
    for (int k = 0; k < directions; ++k)
      narrow.add(k, dot(plate.middle, direction(Angle::from_degrees(360.0 * k / directions))) + 0.5 * across);
    if (across >= least) continue;
    least = across;
    way.narrowest = node_words(node_of(tube, plate), plate);
  }
  way.diameter = least <= 0.0 ? 0.0 : std::max(0.0, 2.0 * narrow.largest());
  return way;
}

BackingPlan plan_backing(const Tube& tube, const Instrument& instrument, const Shop& shop) {
  BackingPlan plan;
  for (const PlacedKey& key : instrument.keys) {
    BoreAtHole bore;
    bore.id = key.key.id;
    bore.at = at_of(key);
    bore.least_across = least_across(tube.section(bore.at));
    bore.way = wider_way(tube, {bore.at, bore.at});
    plan.bores.push_back(std::move(bore));
  }
  const BodyPlan body = plan_body(tube);
  const double longest = std::max(shop.printer.bed_x, shop.printer.bed_y) - 2.0 * bed_margin;
  const double mouth = instrument.mouth_end == End::a ? -1.0 : 1.0;
  for (const ShoeGroup& group : shoe_groups(instrument, body, longest)) {
    std::string why;
    std::string name;
    const Cavity* cavity = cavity_of(body, at_of(*group.keys.front()));
    if (cavity == nullptr) {
      why = "it stands on a node's inner plate";
    } else {
      BackingShoe shoe = shoe_of(tube, group, *cavity, static_cast<int>(plan.shoes.size()) + 1, mouth);
      why = why_not(shoe, group);
      if (why.empty()) {
        name = shoe.name;
        plan.shoes.push_back(std::move(shoe));
      }
    }
    for (BoreAtHole& bore : plan.bores) {
      for (const PlacedKey* key : group.keys) {
        if (key->key.id != bore.id) continue;
        bore.shoe = name;
        bore.why_none = why;
      }
    }
  }
  return plan;
}

RigidMotion printing_position(const BackingShoe& shoe, const Printer& printer) {
  const RigidMotion frame = shoe.frame();
  // Up is toward the shoe's middle, its length along the longer side of the bed.
  const Vec3 along = frame.z;
  const Vec3 aside = cross(frame.y, along);
  if (printer.bed_x >= printer.bed_y) return RigidMotion{along, aside, frame.y, frame.origin}.inverse();
  return RigidMotion{-aside, along, frame.y, frame.origin}.inverse();
}

}  // namespace culmwright
