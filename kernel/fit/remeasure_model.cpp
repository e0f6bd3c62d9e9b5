#include "fit/remeasure_model.hpp"

#include <algorithm>
#include <cmath>

#include "fit/assemble.hpp"
#include "fit/words.hpp"
#include "tube/hole.hpp"

namespace culmwright {

namespace {

using Kind = ReadingEnd::Kind;

constexpr double slope_step = 0.01;  // mm; small against the skin's curvature, large against rounding
constexpr int rim_points = 48;

PlayedFrame frame_of(const Tube& tube, const Placement& placement) {
  return PlayedFrame(tube, placement.mouth_end, placement.mouth_cut_at.value, placement.foot_cut_at.value,
                     placement.facing.value);
}

template <class T>
bool is_fact(const Tracked<T>& number) {
  return number.locked || number.origin == Origin::drilled;
}

bool is_near(ReadingPoint point) {
  return point == ReadingPoint::near_edge || point == ReadingPoint::near_hole_edge;
}

}  // namespace

MockUpModel::MockUpModel(const Tube& tube, const KeyLayout& layout, const Placement& before,
                         const RemeasureOptions& options, double paper_thickness)
    : tube_(tube),
      options_(options),
      paper_thickness_(paper_thickness),
      sense_(before.mouth_end == End::a ? 1.0 : -1.0),
      frame_(frame_of(tube, before)),
      facing_radius_(tube.girth(0.5 * (tube.end_a_at() + tube.end_b_at())) / (2.0 * pi)) {
  add(before.keys, layout.keys, {});
  add(before.parts, {}, layout.parts);
  numbers_.push_back(
      {before.mouth_cut_at.value, is_fact(before.mouth_cut_at), false, before.mouth_cut_at.error});
  numbers_.push_back(
      {before.foot_cut_at.value, is_fact(before.foot_cut_at), false, before.foot_cut_at.error});
  Number facing{before.facing.value.radians() * facing_radius_, is_fact(before.facing), false, {}};
  if (before.facing.error) facing.error = *before.facing.error * facing_radius_;
  numbers_.push_back(facing);
}

void MockUpModel::add(const std::vector<PlacedId>& listed, const std::vector<Key>& keys,
                      const std::vector<Part>& parts) {
  for (const PlacedId& placed : listed) {
    Thing thing;
    thing.id = placed.id;
    for (const Key& key : keys) {
      if (key.id == placed.id) thing.key = &key;
    }
    for (const Part& part : parts) {
      if (part.id == placed.id) thing.part = &part;
    }
    things_.push_back(thing);
    // A hole is drilled at one place: both its numbers are facts then.
    const bool drilled = placed.at.origin == Origin::drilled || placed.around.origin == Origin::drilled;
    numbers_.push_back({placed.at.value, drilled || placed.at.locked, placed.at.locked, placed.at.error});
    numbers_.push_back(
        {placed.around.value, drilled || placed.around.locked, placed.around.locked, placed.around.error});
  }
}

MockUpModel::Values MockUpModel::values() const {
  Values values;
  for (const Number& number : numbers_) values.push_back(number.value);
  return values;
}

std::string MockUpModel::name_of(int number) const {
  if (number == mouth_cut()) return "the mouth cut";
  if (number == foot_cut()) return "the foot cut";
  if (number == facing()) return "the key line";
  return things_[static_cast<std::size_t>(number / 2)].id + (number % 2 == 0 ? " along" : " around");
}

std::optional<int> MockUpModel::thing_called(const std::string& id) const {
  for (std::size_t i = 0; i < things_.size(); ++i) {
    if (things_[i].id == id) return static_cast<int>(i);
  }
  return std::nullopt;
}

std::vector<int> MockUpModel::about(const ModelReading& reading) const {
  switch (reading.what.kind) {
    case Kind::mouth_cut:
      return {mouth_cut()};
    case Kind::foot_cut:
      return {foot_cut()};
    case Kind::key_line:
      return {facing()};
    default:
      break;
  }
  const int thing = reading.what.thing;
  if (reading.said.way == Way::along) return {at_of(thing)};
  if (reading.said.way == Way::around) return {around_of(thing)};
  return {at_of(thing), around_of(thing)};
}

std::vector<int> MockUpModel::depends_on(const ModelReading& reading) const {
  std::vector<int> numbers = about(reading);
  const auto add = [&](int number) {
    if (std::find(numbers.begin(), numbers.end(), number) == numbers.end()) numbers.push_back(number);
  };
  for (const ReadingEnd& end : {reading.what, reading.from}) {
    if (end.kind == Kind::thing) {
      add(at_of(end.thing));
      add(around_of(end.thing));
    }
    if (end.kind == Kind::mouth_cut || end.kind == Kind::key_line) add(mouth_cut());
    if (end.kind == Kind::foot_cut) add(foot_cut());
  }
  if (reading.said.way == Way::around) add(facing());
  return numbers;
}

double MockUpModel::inside(double at) const {
  const double beyond = tube_.shape().beyond;
  return std::clamp(at, tube_.end_a_at() - beyond, tube_.end_b_at() + beyond);
}

double MockUpModel::key_line(double at, const Values& values) const {
  const Angle facing_now = Angle::from_radians(values[static_cast<std::size_t>(facing())] / facing_radius_);
  const Section section = tube_.section(inside(at));
  return section.around(section.theta_on_half_plane(facing_now));
}

double MockUpModel::around(int thing, const Values& values, const std::vector<bool>& unknown) const {
  const auto at = static_cast<std::size_t>(at_of(thing));
  const auto around = static_cast<std::size_t>(around_of(thing));
  const Number& was = numbers_[at];
  if (unknown[around] || numbers_[around].locked_alone || values[at] == was.value) return values[around];
  return values[around] + frame_.key_line_around(inside(values[at])) -
         frame_.key_line_around(inside(was.value));
}

SkinPlace MockUpModel::place(int thing, const Values& values, const std::vector<bool>& unknown) const {
  return {inside(values[static_cast<std::size_t>(at_of(thing))]), around(thing, values, unknown)};
}

/// +1 where the direction said is that in which the tube's own numbers grow.
double MockUpModel::sign_of(const ModelReading& reading) const {
  if (reading.said.direction) {
    switch (*reading.said.direction) {
      case Toward::foot:
      case Toward::players_left:
        return sense_;
      case Toward::mouth:
      case Toward::players_right:
        return -sense_;
      case Toward::end_a:
        return -1.0;
      case Toward::end_b:
        return 1.0;
    }
  }
  switch (reading.from.kind) {
    case Kind::end_b:
      return -1.0;
    case Kind::mouth_cut:
      return sense_;
    case Kind::foot_cut:
      return -sense_;
    default:
      return 1.0;
  }
}

/// An end sawn out of square is touched on the side of what is measured, or else at the reference line.
double MockUpModel::along(const ReadingEnd& end, const ReadingEnd& other, const Values& values,
                          const std::vector<bool>& unknown) const {
  const auto sawn = [&](double at, const std::optional<EndTilt>& tilt, double outward) {
    if (!tilt) return at;
    const Section section = tube_.section(at);
    const Angle theta =
        other.kind == Kind::thing ? section.theta_at(around(other.thing, values, unknown)) : section.line();
    return at + outward * std::tan(tilt->tilt.radians()) * dot(section.point(theta), direction(tilt->toward));
  };
  switch (end.kind) {
    case Kind::thing:
      return values[static_cast<std::size_t>(at_of(end.thing))];
    case Kind::end_a:
      return sawn(tube_.end_a_at(), options_.tilt_a, -1.0);
    case Kind::end_b:
      return sawn(tube_.end_b_at(), options_.tilt_b, 1.0);
    case Kind::mouth_cut:
      return values[static_cast<std::size_t>(mouth_cut())];
    case Kind::foot_cut:
      return values[static_cast<std::size_t>(foot_cut())];
    default:
      return 0.0;
  }
}

double MockUpModel::from_key_line(int thing, const Values& values, const std::vector<bool>& unknown) const {
  const SkinPlace where = place(thing, values, unknown);
  return where.around - key_line(where.at, values);
}

/// On the unrolled wrap an arc is longer by half the paper's thickness times how far the normal turns on it.
double MockUpModel::said_around(const ModelReading& reading, const Values& values,
                                const std::vector<bool>& unknown) const {
  if (reading.what.kind == Kind::key_line) {
    const double at =
        values[static_cast<std::size_t>(mouth_cut())] + sense_ * reading.said.level.value_or(0.0);
    return key_line(at, values);
  }
  const int thing = reading.what.thing;
  if (reading.from.kind == Kind::thing) {
    return from_key_line(thing, values, unknown) - from_key_line(reading.from.thing, values, unknown);
  }
  const SkinPlace where = place(thing, values, unknown);
  const double line = reading.from.kind == Kind::key_line ? key_line(where.at, values) : 0.0;
  const double arc = where.around - line;
  if (!reading.on_paper) return arc;
  const Section section = tube_.section(where.at);
  const Angle turned = section.theta_at(line + wrapped(arc, section.girth())) - section.theta_at(line);
  return wrapped(arc, section.girth()) + 0.5 * paper_thickness_ * turned.radians();
}

/// From a thing's place to its edge in the direction in which the tube's numbers grow (`sign` > 0) or fall.
double MockUpModel::reach(int thing, ReadingPoint point, Way way, double sign, SkinPlace place) const {
  const Thing& which = things_[static_cast<std::size_t>(thing)];
  const bool by_along = way == Way::along;
  if (which.part != nullptr) {
    const double length = which.part->kind == PartKind::slider
                              ? std::max(which.part->length, which.part->travel)
                              : which.part->length;
    return 0.5 * (by_along ? length : which.part->width);
  }
  if (point == ReadingPoint::near_edge || point == ReadingPoint::far_edge) {
    return 0.5 * (by_along ? which.key->touch.length : which.key->touch.width);
  }
  const Drilling drilling = drilling_at(tube_, place, which.key->square, 0.5 * which.key->hole_diameter);
  double farthest = 0.0;
  for (const RimPoint& rim_point : rim(tube_, drilling, rim_points)) {
    const double from_middle = by_along
                                   ? rim_point.place.at - place.at
                                   : wrapped(rim_point.place.around - place.around, tube_.girth(place.at));
    farthest = std::max(farthest, sign * from_middle);
  }
  return farthest;
}

/// What edges add to the distance between the middles, in the direction said.
double MockUpModel::edges(const ModelReading& reading, const Values& values,
                          const std::vector<bool>& unknown) const {
  const double sign = sign_of(reading);
  double sum = 0.0;
  const auto add = [&](const ReadingEnd& end, ReadingPoint point, double away) {
    if (point == ReadingPoint::centre || end.kind != Kind::thing) return;
    const double toward = is_near(point) ? -away : away;
    const SkinPlace where = place(end.thing, values, unknown);
    sum += (is_near(point) ? -1.0 : 1.0) * reach(end.thing, point, reading.said.way, toward, where);
  };
  add(reading.what, reading.said.point, sign);
  add(reading.from, reading.said.from_point, -sign);
  return sum;
}

/// Whole millimetres: the run, and with it the surface, stays the same while places settle. Neighbours side
/// by side have a run too.
const Development* MockUpModel::net(const ModelReading& reading, const Values& values,
                                    const std::vector<bool>& unknown) const {
  if (reading.said.way != Way::skin) return nullptr;
  const double a = place(reading.what.thing, values, unknown).at;
  const double b = place(reading.from.thing, values, unknown).at;
  constexpr double grain = 5.0;
  const double from = inside(grain * (std::floor(std::min(a, b) / grain) - 1.0));
  const double to = inside(grain * (std::ceil(std::max(a, b) / grain) + 1.0));
  const auto known = nets_.find({from, to});
  if (known != nets_.end()) return &known->second;
  return &nets_.emplace(std::pair(from, to), Development::fit(tube_, from, to, 0.0)).first->second;
}

double MockUpModel::predicted(const ModelReading& reading, const Values& values,
                              const std::vector<bool>& unknown, const Development* net) const {
  switch (reading.said.way) {
    case Way::along:
      return sign_of(reading) * (along(reading.what, reading.from, values, unknown) -
                                 along(reading.from, reading.what, values, unknown)) +
             edges(reading, values, unknown);
    case Way::around:
      return sign_of(reading) * said_around(reading, values, unknown) + edges(reading, values, unknown);
    case Way::skin:
    case Way::straight:
      break;
  }
  const SkinPlace a = place(reading.what.thing, values, unknown);
  const SkinPlace b = place(reading.from.thing, values, unknown);
  if (reading.said.way == Way::straight) {
    return length(tube_.skin_point(a).point - tube_.skin_point(b).point);
  }
  // The paper strip goes the shorter way around.
  const double girth = tube_.girth(0.5 * (a.at + b.at));
  const double from = wrapped(b.around, girth);
  const SkinPlace beside{a.at, from + wrapped(a.around - from, girth)};
  const double turn = std::abs(beside.around) > girth ? std::copysign(girth, beside.around) : 0.0;
  return length(net->unroll(SkinPlace{beside.at, beside.around - turn}) -
                net->unroll(SkinPlace{b.at, from - turn}));
}

double MockUpModel::girth_at(const ModelReading& reading, const Values& values) const {
  const int number = reading.what.kind == Kind::thing ? at_of(reading.what.thing) : mouth_cut();
  return tube_.girth(inside(values[static_cast<std::size_t>(number)]));
}

double MockUpModel::miss(const ModelReading& reading, double predicted, const Values& values) const {
  const double miss = reading.said.distance - predicted;
  if (reading.said.way != Way::around) return miss;
  return wrapped(miss, girth_at(reading, values));  // once around is the same place
}

double MockUpModel::predicted(const ModelReading& reading, const Values& values,
                              const std::vector<bool>& unknown) const {
  const double plain = predicted(reading, values, unknown, net(reading, values, unknown));
  return reading.said.distance - miss(reading, plain, values);
}

LinearReading MockUpModel::linear(const ModelReading& reading, const Values& values,
                                  const std::vector<bool>& unknown) const {
  const Development* const unrolled = net(reading, values, unknown);
  LinearReading linear;
  linear.error = reading.error;
  linear.miss = miss(reading, predicted(reading, values, unknown, unrolled), values);
  for (const int number : depends_on(reading)) {
    const auto n = static_cast<std::size_t>(number);
    if (!unknown[n] && !numbers_[n].error) continue;
    Values moved = values;
    moved[n] = values[n] + slope_step;
    const double more = predicted(reading, moved, unknown, unrolled);
    moved[n] = values[n] - slope_step;
    const double less = predicted(reading, moved, unknown, unrolled);
    double rise = more - less;
    if (reading.said.way == Way::around) rise = wrapped(rise, girth_at(reading, values));
    (unknown[n] ? linear.by_unknown : linear.by_base).emplace_back(number, rise / (2.0 * slope_step));
  }
  return linear;
}

}  // namespace culmwright
