#include "fit/assemble.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "fit/frame.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

std::string item(const char* list, std::size_t index, const char* member = "") {
  return std::string("/") + list + "/" + std::to_string(index) + member;
}

/// Gathers problems; everything that can still be looked at after one is looked at.
class Assembly {
 public:
  Assembly(const Tube& tube, const KeyLayout& layout, const Placement& placement)
      : tube_(tube), layout_(layout), placement_(placement) {
    check_partners();
    check_layout_ids();
    read_list(placement.keys, "keys", layout.keys, keys_);
    read_list(placement.parts, "parts", layout.parts, parts_);
    check_cuts();
  }

  Instrument build();

 private:
  void add(const char* document, const char* code, std::string pointer, std::string found,
           std::string allowed, std::string advice = {}) {
    Place where;
    where.file = document;
    where.pointer = std::move(pointer);
    problems_.push_back({code, where, std::move(found), std::move(allowed), std::move(advice)});
  }

  void check_partners();
  void check_layout_ids();
  template <class Item>
  void read_list(const std::vector<PlacedId>& listed, const char* name, const std::vector<Item>& known,
                 std::map<std::string, std::size_t>& found);
  void check_cuts();
  bool place_is_on_tube(SkinPlace place, double reach, const char* list, std::size_t index,
                        std::optional<std::size_t> listed);
  HandMark mark(Hand hand) const;
  PlayedPlace offset_of(const Key& key) const;
  PlayedPlace offset_of(const Part& part, double length) const;
  PlacedKey placed(const Key& key, SkinPlace place, const PlacedId* listed, const PlayedFrame& frame) const;
  PlacedPart placed(const Part& part, SkinPlace place, const PlayedFrame& frame) const;
  bool stands_before_an_end(const Part& part, double at) const;
  PlacedPart before_an_end(const Part& part, double at, const PlayedFrame& frame) const;
  void place_keys(const PlayedFrame& frame, Instrument& instrument);
  void place_parts(const PlayedFrame& frame, Instrument& instrument);
  bool hole_fits(const Key& key, std::size_t index, SkinPlace place);

  const Tube& tube_;
  const KeyLayout& layout_;
  const Placement& placement_;
  std::map<std::string, std::size_t> keys_;  ///< id → index in the placement's list
  std::map<std::string, std::size_t> parts_;
  bool cuts_are_sound_ = true;
  Problems problems_;
};

void Assembly::check_partners() {
  if (placement_.tube_id != tube_.id()) {
    add(placement_document, "wrong-tube", "/tube", quoted(placement_.tube_id), quoted(tube_.id()),
        "This placement was made for another tube");
  }
  if (placement_.layout_id != layout_.id) {
    add(placement_document, "wrong-key-layout", "/key_layout", quoted(placement_.layout_id),
        quoted(layout_.id), "This placement was made for another key layout");
  }
}

void Assembly::check_layout_ids() {
  std::set<std::string> seen;
  const auto check = [&](const std::string& id, std::string pointer) {
    if (seen.insert(id).second) return;
    add(key_layout_document, "duplicate-id", std::move(pointer), quoted(id) + " a second time",
        "each id once, keys and parts together");
  };
  for (std::size_t i = 0; i < layout_.keys.size(); ++i) check(layout_.keys[i].id, item("keys", i, "/id"));
  for (std::size_t i = 0; i < layout_.parts.size(); ++i) check(layout_.parts[i].id, item("parts", i, "/id"));
}

template <class Item>
void Assembly::read_list(const std::vector<PlacedId>& listed, const char* name,
                         const std::vector<Item>& known, std::map<std::string, std::size_t>& found) {
  for (std::size_t i = 0; i < listed.size(); ++i) {
    const std::string& id = listed[i].id;
    const auto same = [&](const Item& candidate) { return candidate.id == id; };
    if (std::none_of(known.begin(), known.end(), same)) {
      std::vector<std::string> ids;
      for (const Item& candidate : known) ids.push_back(candidate.id);
      add(placement_document, "unknown-id", item(name, i, "/id"), quoted(id),
          ids.empty() ? "none: the key layout has no " + std::string(name) : "one of " + listing(ids));
    } else if (!found.insert({id, i}).second) {
      add(placement_document, "duplicate-id", item(name, i, "/id"), quoted(id) + " a second time",
          "each id once");
    }
  }
}

void Assembly::check_cuts() {
  const std::string range = "between " + millimetres(tube_.end_a_at()) + " (end A) and " +
                            millimetres(tube_.end_b_at()) + " (end B)";
  const auto within = [&](double at, const char* pointer) {
    if (at >= tube_.end_a_at() && at <= tube_.end_b_at()) return;
    cuts_are_sound_ = false;
    add(placement_document, "cut-outside", pointer, "a cut at " + millimetres(at), range,
        "Cut within the piece as measured");
  };
  const double mouth = placement_.mouth_cut_at.value;
  const double foot = placement_.foot_cut_at.value;
  within(mouth, "/mouth_cut_at");
  within(foot, "/foot_cut_at");
  const bool mouth_is_a = placement_.mouth_end == End::a;
  if (mouth_is_a ? mouth < foot : mouth > foot) return;
  cuts_are_sound_ = false;
  add(placement_document, "cut-order", "/foot_cut_at",
      "the foot cut at " + millimetres(foot) + ", the mouth cut at " + millimetres(mouth),
      std::string("with mouth end ") +
          (mouth_is_a ? "A the foot cut at a larger" : "B the foot cut at a smaller") +
          " place than the mouth cut",
      "Exchange the cuts, or name the other end as mouth end");
}

bool Assembly::place_is_on_tube(SkinPlace place, double reach, const char* list, std::size_t index,
                                std::optional<std::size_t> listed) {
  const char* document = listed ? placement_document : key_layout_document;
  const char* advice =
      listed ? "" : "It is placed by its key layout offset: shift the mark, or list it in the placement";
  const auto pointer = [&](const char* member) { return item(list, listed.value_or(index), member); };
  const double past = reach - (tube_.shape().beyond - 1.0);  // room the skin is known for beyond an end
  const double low = tube_.end_a_at() + std::max(0.0, past);
  const double high = tube_.end_b_at() - std::max(0.0, past);
  if (!(place.at >= low && place.at <= high)) {
    add(document, "place-outside", pointer(listed ? "/at" : "/along"),
        "a place at " + millimetres(place.at) + " on the tube",
        "between " + millimetres(low) + " and " + millimetres(high), advice);
    return false;
  }
  const double girth = tube_.girth(place.at);
  if (std::abs(place.around) <= girth) return true;
  add(document, "place-outside", pointer("/around"), millimetres(place.around) + " around",
      "no more than once around, " + millimetres(girth) + " there", advice);
  return false;
}

HandMark Assembly::mark(Hand hand) const {
  return hand == Hand::left ? placement_.left_mark.value_or(layout_.left)
                            : placement_.right_mark.value_or(layout_.right);
}

PlayedPlace Assembly::offset_of(const Key& key) const {
  const HandMark from = mark(key.hand);
  return {from.along + key.along, from.around + key.around};
}

PlayedPlace Assembly::offset_of(const Part& part, double length) const {
  switch (part.from) {
    case From::mouth_end:
      break;
    case From::foot_end:
      return {length - part.along, part.around};
    case From::left_hand:
    case From::right_hand: {
      const HandMark from = mark(part.from == From::left_hand ? Hand::left : Hand::right);
      return {from.along + part.along, from.around + part.around};
    }
  }
  return {part.along, part.around};
}

/// Where a key or part stands that is not listed. Its section may lie outside the tube, which has no skin
/// there: then only `at` is right, and the caller refuses the place for it.
SkinPlace resolved(const Tube& tube, const PlayedFrame& frame, PlayedPlace offset) {
  const double at = frame.at(offset.along);
  if (at < tube.end_a_at() || at > tube.end_b_at()) return {at, 0.0};
  if (std::abs(offset.around) > tube.girth(at)) return {at, offset.around};
  return frame.on_tube(offset);
}

/// How far the bore reaches to the narrower side of a hole's axis.
double bore_beside(const Section& section, const Drilling& drilling) {
  const Angle aim = Angle::from_radians(std::atan2(drilling.axis.y, drilling.axis.x));
  double least = 1e300;
  for (const double side : {-90.0, 90.0}) {
    const Angle toward = aim + Angle::from_degrees(side);
    const double from_axis = dot(Vec2{drilling.point.x, drilling.point.y}, direction(toward));
    least = std::min(least, section.bore_support(toward).f - from_axis);
  }
  return least;
}

bool Assembly::hole_fits(const Key& key, std::size_t index, SkinPlace place) {
  const double allowed =
      2.0 * widest_hole *
      bore_beside(tube_.section(place.at), drilling_at(tube_, place, key.square, 0.5 * key.hole_diameter));
  if (key.hole_diameter > 0.0 && key.hole_diameter <= allowed) return true;
  add(key_layout_document, "hole-too-wide", item("keys", index, "/hole_diameter"),
      "a hole of " + millimetres(key.hole_diameter) + " where the bore has room for " + millimetres(allowed),
      "more than 0 and at most " + millimetres(allowed) + " there",
      "Key " + key.id + " needs a smaller hole, another place or a wider tube");
  return false;
}

PlacedKey Assembly::placed(const Key& key, SkinPlace place, const PlacedId* listed,
                           const PlayedFrame& frame) const {
  PlacedKey result;
  result.key = key;
  result.place = {place.at, wrapped(place.around, tube_.girth(place.at))};
  const PlayedPlace played = frame.played(result.place);
  result.along = played.along;
  result.around = played.around;
  result.theta = tube_.section(place.at).theta_at(result.place.around).normalized();
  result.drilling = drilling_at(tube_, result.place, key.square, 0.5 * key.hole_diameter);
  const Drilling middle{result.drilling.point, result.drilling.axis, 0.0};
  result.wall = -bore_depth(tube_, middle, Angle());
  result.tilt = tilt_of(tube_, result.place, result.drilling);
  if (listed != nullptr) {
    // Two numbers, one key: it comes from where the later of them came from, and is locked when both are.
    const bool along_is_later = listed->at.revision >= listed->around.revision;
    result.origin = along_is_later ? listed->at.origin : listed->around.origin;
    result.locked = listed->at.locked && listed->around.locked;
  }
  return result;
}

PlacedPart Assembly::placed(const Part& part, SkinPlace place, const PlayedFrame& frame) const {
  PlacedPart result;
  result.part = part;
  result.place = {place.at, wrapped(place.around, tube_.girth(place.at))};
  const PlayedPlace played = frame.played(result.place);
  result.along = played.along;
  result.around = played.around;
  const Section section = tube_.section(place.at);
  result.theta = section.theta_at(result.place.around).normalized();
  const Vec2 point = section.point(result.theta);
  const Vec2 out = direction(result.theta);
  result.point = {point.x, point.y, -place.at};
  result.normal = {out.x, out.y, 0.0};
  return result;
}

/// A mouthpiece may be fitted so that its middle lies beyond the piece as measured.
bool Assembly::stands_before_an_end(const Part& part, double at) const {
  const bool off = at < tube_.end_a_at() || at > tube_.end_b_at();
  return part.kind == PartKind::mouthpiece && off && at > tube_.end_a_at() - farthest_mouthpiece &&
         at < tube_.end_b_at() + farthest_mouthpiece;
}

PlacedPart Assembly::before_an_end(const Part& part, double at, const PlayedFrame& frame) const {
  const double end_at = std::clamp(at, tube_.end_a_at(), tube_.end_b_at());
  PlacedPart result = placed(part, frame.on_tube({frame.along(end_at), part.around}), frame);
  result.place.at = at;
  result.along = frame.along(at);
  result.point.z = -at;
  return result;
}

void Assembly::place_keys(const PlayedFrame& frame, Instrument& instrument) {
  for (std::size_t i = 0; i < layout_.keys.size(); ++i) {
    const Key& key = layout_.keys[i];
    const auto entry = keys_.find(key.id);
    const bool listed = entry != keys_.end();
    const PlacedId* given = listed ? &placement_.keys[entry->second] : nullptr;
    const SkinPlace place = listed ? given->place() : resolved(tube_, frame, offset_of(key));
    const auto where = listed ? std::optional<std::size_t>(entry->second) : std::nullopt;
    if (!place_is_on_tube(place, 0.5 * key.hole_diameter, "keys", i, where)) continue;
    if (!hole_fits(key, i, place)) continue;
    instrument.keys.push_back(placed(key, place, given, frame));
  }
}

void Assembly::place_parts(const PlayedFrame& frame, Instrument& instrument) {
  for (std::size_t i = 0; i < layout_.parts.size(); ++i) {
    const Part& part = layout_.parts[i];
    const auto entry = parts_.find(part.id);
    const bool listed = entry != parts_.end();
    const SkinPlace place = listed ? placement_.parts[entry->second].place()
                                   : resolved(tube_, frame, offset_of(part, frame.length()));
    const auto where = listed ? std::optional<std::size_t>(entry->second) : std::nullopt;
    if (stands_before_an_end(part, place.at)) {
      instrument.parts.push_back(before_an_end(part, place.at, frame));
      continue;
    }
    if (!place_is_on_tube(place, 0.0, "parts", i, where)) continue;
    instrument.parts.push_back(placed(part, place, frame));
  }
}

Instrument Assembly::build() {
  Instrument instrument;
  instrument.id = placement_.id;
  instrument.tube_id = tube_.id();
  instrument.layout_id = layout_.id;
  instrument.revision = placement_.revision();
  instrument.mouth_end = placement_.mouth_end;
  instrument.mouth_cut_at = placement_.mouth_cut_at.value;
  instrument.foot_cut_at = placement_.foot_cut_at.value;
  instrument.facing = placement_.facing.value;
  if (cuts_are_sound_) {
    const PlayedFrame frame(tube_, instrument.mouth_end, instrument.mouth_cut_at, instrument.foot_cut_at,
                            instrument.facing);
    place_keys(frame, instrument);
    place_parts(frame, instrument);
  }
  if (!problems_.empty()) throw InputError(std::move(problems_));
  return instrument;
}

/// The list with every id of `placed` in it; numbers already listed are kept as they are.
template <class Placed, class IdOf>
std::vector<PlacedId> listed_all(const std::vector<PlacedId>& listed, const std::vector<Placed>& placed,
                                 int revision, const IdOf& id_of) {
  std::vector<PlacedId> all;
  for (const Placed& one : placed) {
    const auto same = [&](const PlacedId& entry) { return entry.id == id_of(one); };
    const auto entry = std::find_if(listed.begin(), listed.end(), same);
    if (entry != listed.end()) {
      all.push_back(*entry);
      continue;
    }
    PlacedId fresh;
    fresh.id = id_of(one);
    fresh.at.value = one.place.at;
    fresh.at.revision = revision;
    fresh.around.value = one.place.around;
    fresh.around.revision = revision;
    all.push_back(fresh);
  }
  return all;
}

}  // namespace

Instrument assemble(const Tube& tube, const KeyLayout& layout, const Placement& placement) {
  return Assembly(tube, layout, placement).build();
}

Placement explicit_placement(const Tube& tube, const KeyLayout& layout, const Placement& placement) {
  const Instrument instrument = assemble(tube, layout, placement);
  Placement full = placement;
  const int revision = placement.revision();
  full.keys =
      listed_all(placement.keys, instrument.keys, revision, [](const PlacedKey& key) { return key.key.id; });
  full.parts = listed_all(placement.parts, instrument.parts, revision,
                          [](const PlacedPart& part) { return part.part.id; });
  return full;
}

}  // namespace culmwright
