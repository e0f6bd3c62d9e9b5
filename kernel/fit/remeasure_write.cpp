#include "fit/remeasure_write.hpp"

#include <algorithm>
#include <cmath>

#include "fit/shift.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

/// Smaller changes are rounding: numbers are kept to thousandths.
constexpr double unchanged = 5e-4;
constexpr double least_error = 0.001;

double thousandths(double value) {
  return std::round(value * 1000.0) / 1000.0 + 0.0;
}

/// In tenths, the finest a maker marks out.
std::string moved_words(double along, double around) {
  ShiftOrder order;
  order.along = std::round(along * 10.0) / 10.0 + 0.0;
  order.around = std::round(around * 10.0) / 10.0 + 0.0;
  const std::string words = words_of(order);  // no id: it begins with a space
  return words.empty() ? words : words.substr(1);
}

PlayedPlace played(const MockUpModel& model, const PlayedFrame& frame, SkinPlace place) {
  return {frame.along(place.at), frame.played({model.inside(place.at), place.around}).around};
}

}  // namespace

void MockUpWriter::write(const std::string& date, Remeasured& result) {
  Placement& placement = result.placement;
  placement = before_;
  if (placement.revisions.empty()) {
    Revision first;
    first.what = "First placement";
    placement.revisions.push_back(std::move(first));
  }
  revision_ = placement.revision() + 1;
  const bool held =
      is_unknown(model_.mouth_cut()) || is_unknown(model_.foot_cut()) || is_unknown(model_.facing());
  if (held) list_everything(result);
  for (int thing = 0; thing < static_cast<int>(model_.things().size()); ++thing)
    write_thing(thing, placement);
  if (held) {
    write_cut(model_.mouth_cut(), mark_on_tube::mouth_cut, placement.mouth_cut_at, result);
    write_cut(model_.foot_cut(), mark_on_tube::foot_cut, placement.foot_cut_at, result);
    write_facing(result);
    carry_marks(frame_now(placement), placement);
  }
  list_places(frame_now(placement), result);
  Revision entry;
  entry.number = revision_;
  entry.date = date;
  std::vector<std::string> ids;
  for (const MeasuredPlace& place : result.places) ids.push_back(place.id);
  entry.what = "Measured on the mock-up: " + (ids.empty() ? "nothing that may move" : listing(ids));
  placement.revisions.push_back(std::move(entry));
  remember(before_, placement);
}

/// When cuts or key line move, what counts from them is listed first, so that it stays on the tube. A
/// mouthpiece goes with its end.
void MockUpWriter::list_everything(Remeasured& result) const {
  result.placement.keys = full_.keys;
  result.placement.parts.clear();
  for (const PlacedId& part : full_.parts) {
    const auto same = [&](const auto& other) { return other.id == part.id; };
    const bool listed = std::any_of(before_.parts.begin(), before_.parts.end(), same);
    const auto known = std::find_if(layout_.parts.begin(), layout_.parts.end(), same);
    if (listed || known->kind != PartKind::mouthpiece) result.placement.parts.push_back(part);
  }
  result.remarks.push_back(
      "A cut or the key line was measured anew. Keys and parts keep their places on the tube, so their "
      "distances from it change.");
}

void MockUpWriter::set(Tracked<double>& number, double value, double error) const {
  if (std::abs(value - number.value) >= unchanged) number.value = thousandths(value);
  number.origin = Origin::measured;
  number.revision = revision_;
  number.error = std::max(least_error, thousandths(error));
}

PlacedId& MockUpWriter::entry(int thing, Placement& placement) const {
  const Thing& which = model_.things()[static_cast<std::size_t>(thing)];
  const bool key = which.key != nullptr;
  std::vector<PlacedId>& list = key ? placement.keys : placement.parts;
  const auto same = [&](const PlacedId& placed) { return placed.id == which.id; };
  const auto listed = std::find_if(list.begin(), list.end(), same);
  if (listed != list.end()) return *listed;
  const std::vector<PlacedId>& full = key ? full_.keys : full_.parts;
  list.push_back(*std::find_if(full.begin(), full.end(), same));
  return list.back();
}

void MockUpWriter::write_thing(int thing, Placement& placement) {
  const int at = model_.at_of(thing);
  const int around = model_.around_of(thing);
  if (!is_unknown(at) && !is_unknown(around)) return;
  PlacedId& placed = entry(thing, placement);
  const SkinPlace was = placed.place();
  if (is_unknown(at)) set(placed.at, value(at), error(at));
  const double girth = tube_.girth(model_.inside(placed.at.value));
  double turned = model_.around(thing, settlement_.values, unknown_);
  if (std::abs(turned) > 0.5 * girth) turned = wrapped(turned, girth);
  if (is_unknown(around)) {
    set(placed.around, turned, error(around));
  } else if (std::abs(turned - placed.around.value) >= unchanged) {
    // It has kept its distance from the key line: nothing new is known of it.
    placed.around.value = thousandths(turned);
    placed.around.revision = revision_;
  }
  moved_.push_back({thing, was, placed});
}

/// Cuts that have passed each other are refused when the instrument is assembled.
PlayedFrame MockUpWriter::frame_now(const Placement& placement) const {
  const double mouth = placement.mouth_cut_at.value;
  const double foot = placement.foot_cut_at.value;
  if (model_.sense() * (foot - mouth) <= 0.0) return model_.frame();
  return PlayedFrame(tube_, placement.mouth_end, mouth, foot, placement.facing.value);
}

/// Moves are told as the player saw the instrument before, places as it is now.
void MockUpWriter::list_places(const PlayedFrame& now, Remeasured& result) const {
  std::vector<MeasuredPlace> places;
  for (const Moved& moved : moved_) {
    const PlayedPlace before = played(model_, model_.frame(), moved.was);
    const PlayedPlace after = played(model_, model_.frame(), moved.now.place());
    const PlayedPlace stands = played(model_, now, moved.now.place());
    MeasuredPlace place;
    place.id = moved.now.id;
    if (is_unknown(model_.at_of(moved.thing))) {
      place.along = stands.along;
      place.along_error = moved.now.at.error;
    }
    if (is_unknown(model_.around_of(moved.thing))) {
      place.around = stands.around;
      place.around_error = moved.now.around.error;
    }
    const double girth = tube_.girth(model_.inside(moved.now.at.value));
    place.moved = moved_words(after.along - before.along, wrapped(after.around - before.around, girth));
    places.push_back(std::move(place));
  }
  result.places.insert(result.places.begin(), places.begin(), places.end());
}

void MockUpWriter::write_cut(int number, const char* name, Tracked<double>& cut, Remeasured& result) const {
  if (!is_unknown(number)) return;
  const double was = cut.value;
  set(cut, value(number), error(number));
  MeasuredPlace place;
  place.id = name;
  place.along_error = cut.error;
  place.moved = moved_words(model_.sense() * (cut.value - was), 0.0);
  result.places.push_back(std::move(place));
}

void MockUpWriter::write_facing(Remeasured& result) const {
  if (!is_unknown(model_.facing())) return;
  Tracked<Angle>& facing = result.placement.facing;
  const double radius = model_.facing_radius();
  const Angle was = facing.value;
  const double degrees = Angle::from_radians(value(model_.facing()) / radius).degrees();
  const double uncertain = Angle::from_radians(error(model_.facing()) / radius).degrees();
  facing.value = Angle::from_degrees(thousandths(degrees)).normalized();
  facing.origin = Origin::measured;
  facing.revision = revision_;
  facing.error = Angle::from_degrees(std::max(least_error, thousandths(uncertain))).radians();
  const Angle turned = (facing.value - was).normalized() * model_.sense();
  MeasuredPlace place;
  place.id = mark_on_tube::key_line;
  place.around_error = error(model_.facing());
  place.moved = moved_words(0.0, turned.radians() * radius);
  result.places.push_back(std::move(place));
}

/// The hands' marks stay on the tube too, or at the cut where it has passed them: everything is listed now
/// and counts from them no more.
void MockUpWriter::carry_marks(const PlayedFrame& now, Placement& placement) const {
  if (!is_unknown(model_.mouth_cut()) && !is_unknown(model_.facing())) return;
  const auto carried = [&](const HandMark& mark) -> HandMark {
    const double at = model_.frame().at(mark.along);
    if (at < tube_.end_a_at() || at > tube_.end_b_at()) return mark;
    const PlayedPlace place = now.played(model_.frame().on_tube({mark.along, mark.around}));
    return {std::max(0.0, thousandths(place.along)), thousandths(place.around)};
  };
  placement.left_mark = carried(before_.left_mark.value_or(layout_.left));
  placement.right_mark = carried(before_.right_mark.value_or(layout_.right));
}

}  // namespace culmwright
