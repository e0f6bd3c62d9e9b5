#include "files/canonical.hpp"

#include <algorithm>
#include <numeric>

namespace culmwright::files {

namespace {

JsonValue in_order(const JsonValue& value) {
  if (value.kind() == JsonValue::Kind::array) {
    JsonValue out = JsonValue::array();
    for (const JsonValue& item : value.items()) out.push(in_order(item));
    return out;
  }
  if (value.kind() != JsonValue::Kind::object) return value;
  std::vector<std::size_t> order(value.items().size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(),
            [&](std::size_t a, std::size_t b) { return value.keys()[a] < value.keys()[b]; });
  JsonValue out = JsonValue::object();
  for (std::size_t i : order) out.set(value.keys()[i], in_order(value.items()[i]));
  return out;
}

}  // namespace

std::string canonical_text(const JsonValue& value) {
  return to_one_line(in_order(value));
}

}  // namespace culmwright::files
