#include "files/signed_values.hpp"

#include <algorithm>

#include "files/canonical.hpp"
#include "files/sha256.hpp"
#include "files/tables.hpp"

namespace culmwright {

namespace {

bool is_left_out(const std::string& key) {
  static const std::vector<std::string> names = {"note",         "date",      "species",     "verdict",
                                                 "verdict_note", "revisions", "check_girths"};
  return std::find(names.begin(), names.end(), key) != names.end();
}

JsonValue without_left_out(const JsonValue& value) {
  if (value.kind() == JsonValue::Kind::array) {
    JsonValue out = JsonValue::array();
    for (const JsonValue& item : value.items()) out.push(without_left_out(item));
    return out;
  }
  if (value.kind() != JsonValue::Kind::object) return value;
  JsonValue out = JsonValue::object();
  for (std::size_t i = 0; i < value.items().size(); ++i) {
    if (!is_left_out(value.keys()[i])) out.set(value.keys()[i], without_left_out(value.items()[i]));
  }
  return out;
}

template <class T>
SignedDocument values_of(const T& document, const files::Table<T>& table) {
  JsonValue all = JsonValue::object();
  table.write(document, all);
  SignedDocument out;
  out.values = files::canonical_text(without_left_out(all));
  out.digest = sha256(out.values);
  return out;
}

}  // namespace

SignedDocument signed_values(const Survey& tube) {
  return values_of(tube, files::tube_table());
}
SignedDocument signed_values(const KeyLayout& layout) {
  return values_of(layout, files::key_layout_table());
}
SignedDocument signed_values(const Shop& shop) {
  return values_of(shop, files::shop_table());
}
SignedDocument signed_values(const Placement& placement) {
  Placement ordered = placement;  // the order of its lists means nothing
  const auto by_id = [](const PlacedId& a, const PlacedId& b) { return a.id < b.id; };
  std::sort(ordered.keys.begin(), ordered.keys.end(), by_id);
  std::sort(ordered.parts.begin(), ordered.parts.end(), by_id);
  return values_of(ordered, files::placement_table());
}

}  // namespace culmwright
