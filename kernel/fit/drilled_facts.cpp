#include "fit/drilled_facts.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "fit/assemble.hpp"
#include "fit/compare.hpp"
#include "fit/frame.hpp"
#include "fit/shift.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

/// Nobody presses an extra hole: its touch is a point.
constexpr double no_touch = 0.2;

std::string item(std::size_t index, const char* member) {
  return "/holes/" + std::to_string(index) + "/" + member;
}

Problems of_document(Problems problems) {
  for (Problem& problem : problems) problem.where.file = as_drilled_document;
  return problems;
}

/// Numbers are kept to thousandths, as everywhere in a placement.
double thousandths(double value) {
  return std::round(value * 1000.0) / 1000.0 + 0.0;
}

template <class List>
auto entry_of(List& list, const std::string& id) {
  return std::find_if(list.begin(), list.end(), [&](const auto& placed) { return placed.id == id; });
}

bool is_key(const KeyLayout& layout, const std::string& id) {
  return entry_of(layout.keys, id) != layout.keys.end();
}

void set_fact(Tracked<double>& number, double value, int revision, std::optional<double> error) {
  const bool known = number.origin == Origin::drilled && number.locked &&
                     std::abs(number.value - value) < 5e-4 && number.error == error;
  if (known) return;
  number = {thousandths(value), Origin::drilled, revision, true, error};
}

/// Where holes stand that were not measured: as the revision that was drilled had them.
class WantedPlaces {
 public:
  WantedPlaces(const Tube& tube, const KeyLayout& layout, const Placement& placement,
               const AsDrilled& as_drilled)
      : instrument_(assemble(tube, layout, earlier(placement, as_drilled))) {}

  SkinPlace operator()(const std::string& id) const {
    for (const PlacedKey& key : instrument_.keys) {
      if (key.key.id == id) return key.place;
    }
    for (const PlacedPart& part : instrument_.parts) {
      if (part.part.id == id) return part.place;
    }
    require(false, "a drilled hole is a key's or a part's");
    return {};
  }

 private:
  static Placement earlier(const Placement& placement, const AsDrilled& as_drilled) {
    if (as_drilled.revision == placement.revision()) return placement;
    try {
      return as_of(placement, as_drilled.revision);
    } catch (const InputError& error) {
      Problem problem = error.problems().front();
      problem.where = {as_drilled_document, 0, 0, "/revision"};
      problem.advice = "Name the revision that the holes were drilled to, or measure where they are";
      throw InputError({std::move(problem)});
    }
  }

  Instrument instrument_;
};

SkinPlace place_of(const DrilledHole& hole, const WantedPlaces& wanted) {
  return hole.at ? SkinPlace{*hole.at, *hole.around} : wanted(hole.id);
}

Placement with_facts(const KeyLayout& layout, const Placement& placement, const AsDrilled& as_drilled,
                     const WantedPlaces& wanted, int revision) {
  Placement facts = placement;
  for (const DrilledHole& hole : as_drilled.holes) {
    if (hole.state == DrilledState::extra) continue;
    std::vector<PlacedId>& list = is_key(layout, hole.id) ? facts.keys : facts.parts;
    auto entry = entry_of(list, hole.id);
    if (entry == list.end()) {
      list.push_back({});
      list.back().id = hole.id;
      entry = list.end() - 1;
    }
    const SkinPlace place = place_of(hole, wanted);
    const auto error = hole.at ? std::optional<double>(as_drilled.place_error) : std::nullopt;
    set_fact(entry->at, place.at, revision, error);
    set_fact(entry->around, place.around, revision, error);
  }
  return facts;
}

Key key_of_extra(const DrilledHole& hole) {
  Key key;
  key.id = hole.id;
  key.finger = Finger::side;
  key.hole_diameter = hole.greatest_across();
  key.touch = {no_touch, no_touch, 0.5 * no_touch};
  key.cup = CupKind::plug;
  return key;
}

HoleSquare square_of(const KeyLayout& layout, const std::string& id) {
  const auto key = entry_of(layout.keys, id);
  return key == layout.keys.end() ? HoleSquare::to_skin : key->square;
}

/// A hook-gauge reading as the survey would have read it on `tube`.
WallReading wall_reading(const Tube& tube, const KeyLayout& layout, const DrilledHole& hole, SkinPlace place,
                         double error) {
  const Drilling middle = drilling_at(tube, place, square_of(layout, hole.id), 0.0);
  const Section section = tube.section(place.at);
  const double along_axis = -bore_depth(tube, middle, Angle());
  WallReading reading;
  reading.at = place.at;
  reading.direction.around = place.around;
  reading.thickness = *hole.wall * section.wall(section.theta_at(place.around)) / along_axis;
  reading.error = error;
  reading.through = hole.id;
  return reading;
}

/// Problems of readings beyond the survey's own are those of the holes that they came from.
Problems of_walls(Problems problems, std::size_t own_walls, const std::vector<std::size_t>& holes) {
  const std::string walls = "/walls/";
  for (Problem& problem : problems) {
    std::string& pointer = problem.where.pointer;
    if (pointer.compare(0, walls.size(), walls) != 0) continue;
    const std::size_t index = std::stoul(pointer.substr(walls.size()));
    if (index < own_walls) continue;
    pointer = item(holes[index - own_walls], "wall");
    problem.where.file = as_drilled_document;
  }
  return problems;
}

TubeFit with_walls(const TubeFit& fit, const KeyLayout& layout, const AsDrilled& as_drilled,
                   const WantedPlaces& wanted) {
  std::vector<std::size_t> read;
  for (std::size_t i = 0; i < as_drilled.holes.size(); ++i) {
    if (as_drilled.holes[i].wall) read.push_back(i);
  }
  if (read.empty()) return fit;
  constexpr int rounds = 2;
  TubeFit current = fit;
  for (int round = 0; round < rounds; ++round) {
    Survey survey = fit.survey();
    for (const std::size_t i : read) {
      const DrilledHole& hole = as_drilled.holes[i];
      survey.walls.push_back(
          wall_reading(current.tube(), layout, hole, place_of(hole, wanted), as_drilled.hook_gauge_error));
    }
    try {
      current = fit_survey(survey, fit.priors());
    } catch (const InputError& error) {
      throw InputError(of_walls(error.problems(), fit.survey().walls.size(), read));
    }
  }
  return current;
}

/// Problems of the enlarged documents, at the facts that they came from.
Problems of_facts(Problems problems, const KeyLayout& layout, const Placement& listed,
                  const AsDrilled& as_drilled) {
  const auto hole_of = [&](const std::string& id) -> std::optional<std::size_t> {
    const auto hole = entry_of(as_drilled.holes, id);
    if (hole == as_drilled.holes.end()) return std::nullopt;
    return static_cast<std::size_t>(hole - as_drilled.holes.begin());
  };
  for (Problem& problem : problems) {
    const bool of_layout = problem.where.file == key_layout_document;
    const std::string keys = "/keys/";
    if (problem.where.pointer.compare(0, keys.size(), keys) != 0) continue;
    const std::size_t index = std::stoul(problem.where.pointer.substr(keys.size()));
    const std::string id = of_layout ? layout.keys[index].id : listed.keys[index].id;
    const auto hole = hole_of(id);
    const bool of_size = of_layout && as_drilled.holes[hole.value_or(0)].state != DrilledState::pilot;
    if (!hole || !(of_size || as_drilled.holes[*hole].at)) continue;
    problem.where.file = as_drilled_document;
    problem.where.pointer = item(*hole, of_layout ? "across_along" : "at");
    problem.advice = "Measure it again: a hole there cannot be";
  }
  return problems;
}

DrilledHole filled_in(DrilledHole hole, double pilot_diameter) {
  if (hole.across_along == 0.0) hole.across_along = pilot_diameter;
  if (hole.across_around == 0.0) hole.across_around = hole.across_along;
  return hole;
}

PlacedExtra extra_of(const PlacedKey& key, const DrilledHole& hole) {
  return {hole, key.place, key.along, key.around, key.theta, key.drilling, key.wall};
}

DrilledDeparture departure(const DrilledJob& job, const TubeFit& before, const KeyLayout& layout,
                           const DrilledHole& hole, SkinPlace place, const WantedPlaces& wanted,
                           double pilot_diameter) {
  DrilledDeparture out;
  out.hole = filled_in(hole, pilot_diameter);
  out.is = place;
  out.is_key = is_key(layout, hole.id);
  if (hole.wall) {
    const Tube& tube = before.tube();
    out.wall_before = -bore_depth(tube, drilling_at(tube, place, square_of(layout, hole.id), 0.0), Angle());
  }
  if (hole.state == DrilledState::extra) return out;
  out.wanted = wanted(hole.id);
  const Instrument& now = job.instrument;
  const PlayedFrame frame(job.fit.tube(), now.mouth_end, now.mouth_cut_at, now.foot_cut_at, now.facing);
  const PlayedPlace from = frame.played(*out.wanted);
  const PlayedPlace to = frame.played(place);
  out.along = to.along - from.along;
  out.around = wrapped(to.around - from.around, job.fit.tube().girth(place.at));
  if (out.is_key) {
    out.wanted_along = out.wanted_around = entry_of(layout.keys, hole.id)->hole_diameter;
  } else {
    const auto part = entry_of(layout.parts, hole.id);
    out.wanted_along = part->length;
    out.wanted_around = part->width;
  }
  return out;
}

}  // namespace

double DrilledDeparture::distance() const {
  return std::hypot(along, around);
}

double DrilledDeparture::too_wide_by() const {
  return std::max(hole.across_along - wanted_along, hole.across_around - wanted_around);
}

KeyLayout layout_as_drilled(const KeyLayout& layout, const AsDrilled& as_drilled) {
  KeyLayout real = layout;
  for (const DrilledHole& hole : as_drilled.holes) {
    if (hole.state == DrilledState::extra) real.keys.push_back(key_of_extra(hole));
    if (hole.state != DrilledState::finished) continue;
    const auto key = entry_of(real.keys, hole.id);
    if (key != real.keys.end()) key->hole_diameter = hole.greatest_across();
    const auto part = entry_of(real.parts, hole.id);
    if (part == real.parts.end()) continue;
    part->length = hole.across_along;
    part->width = hole.across_around;
    part->corner_radius = std::min(part->corner_radius, 0.5 * hole.least_across());
  }
  return real;
}

Placement placement_as_drilled(const Placement& placement, const AsDrilled& as_drilled) {
  Placement real = placement;
  for (const DrilledHole& hole : as_drilled.holes) {
    if (hole.state != DrilledState::extra) continue;
    PlacedId placed;
    placed.id = hole.id;
    set_fact(placed.at, *hole.at, placement.revision(), as_drilled.place_error);
    set_fact(placed.around, *hole.around, placement.revision(), as_drilled.place_error);
    real.keys.push_back(placed);
  }
  return real;
}

Instrument assemble_as_drilled(const Tube& tube, const KeyLayout& layout, const Placement& placement,
                               const AsDrilled& as_drilled, double pilot_diameter) {
  const KeyLayout real = layout_as_drilled(layout, as_drilled);
  const Placement listed = placement_as_drilled(placement, as_drilled);
  Instrument instrument;
  try {
    instrument = assemble(tube, real, listed);
  } catch (const InputError& error) {
    throw InputError(of_facts(error.problems(), real, listed, as_drilled));
  }
  for (std::size_t i = 0; i < instrument.keys.size(); ++i) {
    PlacedKey& key = instrument.keys[i];
    const auto hole = entry_of(as_drilled.holes, key.key.id);
    if (hole == as_drilled.holes.end()) continue;
    if (hole->state == DrilledState::extra) {
      instrument.extras.push_back(extra_of(key, *hole));
      continue;
    }
    key.key.hole_diameter = layout.keys[i].hole_diameter;
    key.drilled = filled_in(*hole, pilot_diameter);
  }
  instrument.keys.resize(layout.keys.size());
  for (PlacedPart& part : instrument.parts) {
    const auto hole = entry_of(as_drilled.holes, part.part.id);
    if (hole != as_drilled.holes.end()) part.drilled = filled_in(*hole, pilot_diameter);
  }
  return instrument;
}

DrilledJob with_drilled_facts(const TubeFit& fit, const KeyLayout& layout, const Placement& placement,
                              const AsDrilled& as_drilled, double pilot_diameter) {
  Problems problems = of_document(check_as_drilled_on(as_drilled, placement, fit.survey(), layout));
  if (!problems.empty()) throw InputError(std::move(problems));
  const WantedPlaces wanted(fit.tube(), layout, placement, as_drilled);
  DrilledJob job{with_walls(fit, layout, as_drilled, wanted),
                 with_facts(layout, placement, as_drilled, wanted, placement.revision()),
                 {},
                 {}};
  job.instrument = assemble_as_drilled(job.fit.tube(), layout, job.placement, as_drilled, pilot_diameter);
  for (const DrilledHole& hole : as_drilled.holes) {
    job.holes.push_back(departure(job, fit, layout, hole, place_of(hole, wanted), wanted, pilot_diameter));
  }
  return job;
}

Placement with_facts_written(const Tube& tube, const KeyLayout& layout, const Placement& placement,
                             const AsDrilled& as_drilled, const std::string& date) {
  Placement before = placement;
  if (before.revisions.empty()) before.revisions.push_back({1, "", "First placement"});
  const WantedPlaces wanted(tube, layout, placement, as_drilled);
  const int revision = before.revision() + 1;
  Placement after = with_facts(layout, before, as_drilled, wanted, revision);
  const auto is_new = [&](const PlacedId& placed) {
    return placed.at.revision == revision || placed.around.revision == revision;
  };
  std::vector<std::string> ids;
  for (const auto* list : {&after.keys, &after.parts}) {
    for (const PlacedId& placed : *list) {
      if (is_new(placed)) ids.push_back(placed.id);
    }
  }
  if (ids.empty()) return placement;
  after.revisions.push_back({revision, date, "As drilled: " + listing(ids)});
  remember(before, after);
  return after;
}

Instrument as_rules_see(const Instrument& instrument) {
  Instrument seen = instrument;
  for (PlacedKey& key : seen.keys) {
    if (key.drilled && key.drilled->state == DrilledState::finished) {
      key.key.hole_diameter = key.drilled->greatest_across();
    }
  }
  for (const PlacedExtra& extra : instrument.extras) {
    PlacedKey key;
    key.key = key_of_extra(extra.drilled);
    key.place = extra.place;
    key.along = extra.along;
    key.around = extra.around;
    key.theta = extra.theta;
    key.drilling = extra.drilling;
    key.wall = extra.wall;
    key.origin = Origin::drilled;
    key.locked = true;
    key.drilled = extra.drilled;
    seen.keys.push_back(key);
  }
  seen.extras.clear();
  return seen;
}

bool is_drilled(const Instrument& instrument, const std::string& id) {
  return std::any_of(instrument.keys.begin(), instrument.keys.end(),
                     [&](const PlacedKey& key) { return key.key.id == id && key.drilled; }) ||
         std::any_of(instrument.parts.begin(), instrument.parts.end(),
                     [&](const PlacedPart& part) { return part.part.id == id && part.drilled; }) ||
         std::any_of(instrument.extras.begin(), instrument.extras.end(),
                     [&](const PlacedExtra& extra) { return extra.drilled.id == id; });
}

}  // namespace culmwright
