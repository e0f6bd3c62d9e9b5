/// What cannot be true of the cups of a key layout or a shop.
#include "layout/check_cups.hpp"

#include <algorithm>

#include "base/words.hpp"

namespace culmwright {

namespace {

std::string mm(double value) {
  return number_text(value) + " mm";
}

struct Check {
  Problems& problems;
  std::string pointer;  ///< of the shape
  std::string key;      ///< "key \"L3\""

  void add(const char* code, const std::string& field, std::string found, std::string allowed,
           std::string advice = "") {
    problems.push_back(
        {code, {"", 0, 0, pointer + "/" + field}, std::move(found), std::move(allowed), std::move(advice)});
  }
  /// A field that this kind of cup does not have.
  void only(bool given, bool has_it, const char* field, const char* whose) {
    if (!given || has_it) return;
    add("unused-field", field, std::string("\"") + field + "\" for " + key,
        std::string("\"") + field + "\" only for " + whose, "Take it away, or give the key another \"cup\"");
  }
};

void check_recess(Check& check, const Recess& recess) {
  const double least = recess.round() ? recess.length : std::min(recess.length, recess.width);
  if (least < 1.0) {
    check.add("recess", "recess", "a recess " + mm(least) + " wide", "at least 1 mm",
              "A \"width\" of 0 makes it round, \"length\" across");
  }
}

void check_padded(Check& check, const CupShape& shape, const Key& key) {
  if (shape.pad_diameter && *shape.pad_diameter < key.hole_diameter + 1.0) {
    check.add("pad", "pad_diameter",
              "a pad of " + mm(*shape.pad_diameter) + " over the hole of " + mm(key.hole_diameter) + " of " +
                  check.key,
              "at least " + mm(key.hole_diameter + 1.0) + ", half a millimetre beyond the hole all around",
              "Leave it out: the shop adds what it wants of the rim, in steps of 0.5");
  }
  const bool lugless = shape.lugs && !*shape.lugs;
  check.only(shape.pin.has_value() && lugless, false, "pin", "a padded cup with lugs");
  check.only(shape.arm_width.has_value() && lugless, false, "arm_width", "a padded cup with lugs");
}

void check_touch(Check& check, const CupShape& shape) {
  const bool flush = shape.flush.value_or(false);
  const bool tilted = shape.tilt && shape.tilt->degrees() > 0.0;
  check.only(shape.tilt_toward.has_value(), tilted, "tilt_toward_deg", "a cup with a \"tilt_deg\" above 0");
  check.only(tilted && flush, false, "tilt_deg", "a touch that stands above the skin, not a flush one");
  check.only(shape.rise.has_value() && flush, false, "rise",
             "a touch that stands above the skin, not a flush one");
  if (tilted && shape.wire_way.value_or(0.0) > 0.0) {
    check.add("tilt", "wire_way", "a way for wires through the tilted touch of " + check.key,
              "a way for wires only through a touch that is not tilted", "Take away one of the two");
  }
  if (shape.surface == TouchSurface::domed && shape.wire_way.value_or(0.0) > 0.0) {
    check.add("wire-way", "wire_way", "a way for wires through the domed touch of " + check.key,
              "a way for wires only through a flat or dished touch");
  }
}

}  // namespace

void check_cup_shape(Problems& problems, const Key& key, const std::string& pointer) {
  if (!key.cup_shape) return;
  const CupShape& shape = *key.cup_shape;
  Check check{problems, pointer, "key \"" + key.id + "\""};
  const bool seat = key.cup == CupKind::switch_seat;
  const bool cap = key.cup == CupKind::touch_cap;
  const bool padded = key.cup == CupKind::padded_cup;
  check.only(shape.recess.has_value(), seat, "recess", "a switch_seat");
  check.only(shape.wire_way.has_value(), seat || cap, "wire_way", "a switch_seat or a touch_cap");
  check.only(shape.surface.has_value(), seat || cap || padded, "surface",
             "a switch_seat, a touch_cap or a padded_cup");
  check.only(shape.rise.has_value(), seat || cap, "rise", "a switch_seat or a touch_cap");
  check.only(shape.flush.has_value(), cap, "flush", "a touch_cap");
  check.only(shape.tilt.has_value(), cap, "tilt_deg", "a touch_cap");
  check.only(shape.pad_diameter.has_value(), padded, "pad_diameter", "a padded_cup");
  check.only(shape.pad_thickness.has_value(), padded, "pad_thickness", "a padded_cup");
  check.only(shape.land.has_value(), padded, "land", "a padded_cup");
  check.only(shape.lugs.has_value(), padded, "lugs", "a padded_cup");
  check.only(shape.pin.has_value(), padded, "pin", "a padded_cup");
  check.only(shape.arm_width.has_value(), padded, "arm_width", "a padded_cup");
  check.only(shape.bore.has_value(), key.cup == CupKind::sleeve, "bore", "a sleeve");
  if (shape.recess) check_recess(check, *shape.recess);
  if (seat && shape.surface == TouchSurface::domed) {
    check.add("surface", "surface", "a domed touch over the switch of " + check.key,
              "\"dished\" or \"flat\": the switch's own cap is what the finger presses");
  }
  if (padded && shape.surface == TouchSurface::domed) {
    check.add("surface", "surface", "a domed touch on the padded cup of " + check.key,
              "\"dished\" or \"flat\"");
  }
  check_touch(check, shape);
  if (padded) check_padded(check, shape, key);
}

void check_cup_defaults(Problems& problems, const CupDefaults& cups, const std::string& pointer) {
  Check check{problems, pointer, "the shop"};
  check_recess(check, cups.recess);
}

}  // namespace culmwright
