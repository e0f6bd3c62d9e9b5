#pragma once
/// Mock-ups measured on known instruments, for the tests of remeasuring.
#include "fit/frame.hpp"
#include "fit/remeasure.hpp"
#include "instruments.hpp"

namespace culmwright::test {

inline MockUpReading reading(const std::string& what, Way way, double distance, const std::string& from,
                             std::optional<Toward> direction = std::nullopt) {
  MockUpReading made;
  made.what = what;
  made.way = way;
  made.distance = distance;
  made.from = from;
  made.direction = direction;
  return made;
}

inline MeasuredMockUp mock_up_of(std::vector<MockUpReading> readings) {
  MeasuredMockUp made;
  made.readings = std::move(readings);
  return made;
}

/// A straight pipe, 30 mm outside, whose skin is a plane rolled up: everything can be calculated by hand.
inline Tube pipe() {
  return Tube(round_tube(15.0, 15.0, 400.0, 3.0));
}

/// Four keys H1 … H4 down the pipe and a rest; mouth end A, key line = reference line.
inline Drilled four_keys(const Tube& tube) {
  Drilled drilled(tube);
  drilled.hole(8.0, 100.0, 0.0)
      .hole(8.0, 125.0, 2.0)
      .hole(8.0, 150.0, -2.0)
      .hole(8.0, 180.0, 0.0)
      .part("rest", PartKind::thumb_rest, 24.0, 14.0, 130.0, 45.0);
  drilled.placement.revisions = {{1, "2026-02-01", "First placement"}};
  return drilled;
}

inline const PlacedId& placed(const Placement& placement, const std::string& id) {
  for (const auto* list : {&placement.keys, &placement.parts}) {
    for (const PlacedId& one : *list) {
      if (one.id == id) return one;
    }
  }
  throw std::logic_error("not listed: " + id);
}

inline bool same(const Tracked<double>& a, const Tracked<double>& b) {
  return a.value == b.value && a.origin == b.origin && a.revision == b.revision && a.locked == b.locked &&
         a.error == b.error;
}

/// Numbers of a placement are kept to thousandths.
constexpr double kept = 5.1e-4;

inline Remeasured remeasured(const Tube& tube, const Drilled& drilled, std::vector<MockUpReading> readings,
                             const RemeasureOptions& options = {}) {
  return remeasure(tube, drilled.layout, drilled.placement, mock_up_of(std::move(readings)), options);
}

/// The codes and pointers of all problems, "code pointer".
template <class Call>
std::vector<std::string> troubles(Call&& call) {
  std::vector<std::string> found;
  try {
    call();
  } catch (const InputError& error) {
    for (const Problem& problem : error.problems()) {
      found.push_back(problem.code + " " + problem.where.pointer);
    }
  }
  return found;
}

}  // namespace culmwright::test
