#pragma once
/// A number with its history, in a file: the bare number where it was simply given in the first revision, and
/// otherwise {"value", "origin", "revision", "locked", "error"}.
#include "files/table.hpp"
#include "layout/placement.hpp"

namespace culmwright::files {

Codec<Origin> origin_name();
constexpr int latest_revision = 100'000;

/// `error`: the codec of one standard deviation.
template <class V>
Table<Tracked<V>> tracked_table(Codec<V> value, Codec<double> error) {
  using K = Tracked<V>;
  return Table<K>("a number with its history")
      .required("value", &K::value, value, "The number itself")
      .with_default("origin", &K::origin, origin_name(), "Where it came from")
      .with_default("revision", &K::revision, whole_number(1, latest_revision), "The revision that set it")
      .with_default("locked", &K::locked, yes_or_no(), "true: it is not to be moved")
      .optional("error", &K::error, error, "One standard deviation, where it was measured");
}

template <class V>
Codec<Tracked<V>> tracked(Codec<V> value, Codec<double> error) {
  const Codec<Tracked<V>> whole = object(tracked_table(value, error));
  Codec<Tracked<V>> codec;
  codec.read = [=](const JsonNode& node, const std::string& pointer, Reading& reading, Tracked<V>& tracked) {
    if (node.kind == JsonNode::Kind::object) {
      whole.read(node, pointer, reading, tracked);
    } else {
      value.read(node, pointer, reading, tracked.value);
    }
  };
  codec.write = [=](const Tracked<V>& tracked) {
    const bool plain =
        tracked.origin == Origin::given && tracked.revision == 1 && !tracked.locked && !tracked.error;
    return plain ? value.write(tracked.value) : whole.write(tracked);
  };
  codec.schema = [=](double length_unit) {
    JsonValue schema = JsonValue::object();
    return schema.set("anyOf", JsonValue::array({value.schema(length_unit), whole.schema(length_unit)}));
  };
  codec.spoil = whole.spoil;
  return codec;
}

}  // namespace culmwright::files
