#include "plan/drilling_schedule.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/words.hpp"
#include "plan/drilling_bind.hpp"
#include "plan/drilling_words.hpp"

namespace culmwright {

namespace {

using namespace drilling_practice;

std::string mm(double value, int decimals = 1) {
  return fixed_text(value, decimals);
}

double hole_of(const Drill& drill) {
  return drill.measured_hole.value_or(drill.diameter);
}

const PlacedKey* key_of(const Instrument& instrument, const std::string& id) {
  for (const PlacedKey& key : instrument.keys) {
    if (key.key.id == id) return &key;
  }
  return nullptr;
}

bool finished(const PlacedKey& key) {
  return key.drilled && key.drilled->state == DrilledState::finished;
}

std::string cradle_names(const CradleSet& set) {
  std::vector<std::string> names;
  for (const CradleBody& body : set.bodies) names.push_back(body.name);
  return listed(names, " and ");
}

/// How the tube lies for a hole.
std::string held_words(const DrillBench& bench, const std::string& id) {
  const auto has = [&](const BoreAngle& bores) {
    return std::find(bores.ids.begin(), bores.ids.end(), id) != bores.ids.end();
  };
  for (const CradleSet& set : bench.cradles) {
    for (const CradleFacet& facet : set.facets) {
      if (has(facet.bores)) return cradle_names(set) + " on facet " + listed(facet.bores.ids, ", ");
    }
    for (const CradleWedge& wedge : set.wedges) {
      if (has(wedge.bores))
        return cradle_names(set) + " on facet " + listed(set.facets[wedge.facet].bores.ids, ", ") + ", " +
               wedge.part() + " under each";
    }
  }
  return "V-blocks, hole upright";
}

const BoreAtHole* bore_at(const DrillBench& bench, const std::string& id) {
  for (const BoreAtHole& bore : bench.backing.bores) {
    if (bore.id == id) return &bore;
  }
  return nullptr;
}

/// A hole that nothing backs stays undersize and is reamed.
bool backed(const DrillBench& bench, const std::string& id) {
  const BoreAtHole* bore = bore_at(bench, id);
  return bore != nullptr && !bore->shoe.empty();
}
std::string backing_words(const DrillBench& bench, const std::string& id) {
  const BoreAtHole* bore = bore_at(bench, id);
  if (bore == nullptr) return {};
  return bore->shoe.empty() ? "none: " + bore->why_none : bore->shoe;
}

double wall_of(const PlacedKey& key) {
  return key.drilled && key.drilled->wall ? *key.drilled->wall : key.wall;
}

ValueToWrite value(const PlacedKey& key, const char* field, const char* words, std::optional<double> known) {
  return {key.key.id, field, words, known ? mm(*known, 2) : ""};
}
ValueToWrite wall_value(const PlacedKey& key) {
  return value(key, "wall", "wall, by hook gauge", key.drilled ? key.drilled->wall : std::optional<double>{});
}

/// Steps in order, each after those that have to be done before it.
class ScheduleMaker {
 public:
  explicit ScheduleMaker(const DrillBench& bench) : bench_(bench) {}

  DrillingSchedule make() {
    add_pierce();
    add_bind();
    add_back();
    const std::vector<std::string> prepared = ids_so_far();
    add_pilots(prepared);
    add_walls();
    add_drills();
    add_finish("ream", "Ream to size", false);
    add_finish("by-ear", "Open by ear", true);
    add_openings();
    add_each(Stage::deburr, "deburr", "Deburr every rim");
    add_each(Stage::seal, "seal", "Seal every rim");
    add_measure();
    add_each(Stage::fit_cups, "fit-cups", "Fit the key cups");
    for (DrillingStep& step : made_.steps) step.number = static_cast<int>(&step - made_.steps.data()) + 1;
    return std::move(made_);
  }

 private:
  DrillingStep begun(Stage stage, const std::string& id, const std::string& title) const {
    DrillingStep step;
    step.id = id;
    step.stage = stage;
    step.title = title;
    step.how = schedule_words::how(stage);
    step.cautions = schedule_words::cautions(stage);
    return step;
  }
  std::vector<std::string> ids_so_far() const {
    std::vector<std::string> ids;
    for (const DrillingStep& step : made_.steps) ids.push_back(step.id);
    return ids;
  }
  /// After the step that stands last, unless it says otherwise.
  void add(DrillingStep step) {
    if (step.lines.empty()) return;
    if (step.after.empty() && !made_.steps.empty()) step.after = {made_.steps.back().id};
    made_.steps.push_back(std::move(step));
  }
  bool all_finished() const {
    return std::all_of(bench_.instrument.keys.begin(), bench_.instrument.keys.end(), finished);
  }

  void add_pierce() {
    DrillingStep step = begun(Stage::pierce, "pierce", "Pierce the nodes");
    const Instrument& instrument = bench_.instrument;
    const auto cuts = std::minmax(instrument.mouth_cut_at, instrument.foot_cut_at);
    int number = 0;
    for (const Node& node : bench_.tube().nodes()) {
      ++number;
      if (node.at() < cuts.first || node.at() > cuts.second) continue;
      StepLine line;
      line.id = "node " + std::to_string(number);
      line.done = node.pierced_diameter.has_value();
      const double along = std::abs(node.at() - instrument.mouth_cut_at);
      line.what = mm(along, 0) + " from the mouth cut, " +
                  (line.done ? "pierced " + mm(*node.pierced_diameter) + " mm"
                             : "at least " + mm(least_pierced, 0) + " mm");
      step.lines.push_back(std::move(line));
    }
    add(std::move(step));
  }

  void add_bind() {
    DrillingStep step = begun(Stage::bind, "bind", "Bind both sides of the rows");
    for (const BoundRow& row : rows_to_bind(bench_.tube(), bench_.instrument)) {
      StepLine line;
      line.id = listed(row.ids, ", ");
      const double mouth = bench_.instrument.mouth_cut_at;
      std::vector<double> along{std::abs(row.first - mouth), std::abs(row.last - mouth)};
      std::sort(along.begin(), along.end());
      line.what = "at " + mm(along[0], 0) + " and " + mm(along[1], 0) + " from the mouth cut";
      line.remarks = row.why;
      line.done = all_finished();
      step.lines.push_back(std::move(line));
    }
    add(std::move(step));
  }

  void add_back() {
    DrillingStep step = begun(Stage::back, "back", "Back the bore");
    for (const BackingShoe& shoe : bench_.backing.shoes) {
      StepLine line;
      line.id = shoe.name;
      line.what = "under " + listed(shoe.ids, ", ") + ", in from end " +
                  (shoe.way.from == End::a ? "A" : "B") + "; stick " + mm(shoe.stick.from) + " to " +
                  mm(shoe.stick.to) + " thick";
      if (!bench_.shop.cradles)
        line.remarks.push_back("The shop does not have it printed: plane a half-round stick to the bore.");
      line.done = true;
      for (const std::string& id : shoe.ids) {
        const PlacedKey* key = key_of(bench_.instrument, id);
        line.done = line.done && key != nullptr && finished(*key);
      }
      step.lines.push_back(std::move(line));
    }
    add(std::move(step));
    std::vector<std::pair<std::string, std::vector<std::string>>> not_backed;  // by the reason
    for (const BoreAtHole& bore : bench_.backing.bores) {
      if (bore.why_none.empty()) continue;
      const auto same = std::find_if(not_backed.begin(), not_backed.end(),
                                     [&](const auto& one) { return one.first == bore.why_none; });
      if (same == not_backed.end()) {
        not_backed.push_back({bore.why_none, {bore.id}});
      } else {
        same->second.push_back(bore.id);
      }
    }
    for (const auto& [why, ids] : not_backed) {
      made_.notes.push_back("Not backed: " + listed(ids, " and ") + ", for " + why + ".");
    }
  }

  StepLine pilot_line(const GuideHole& hole) const {
    const Angle theta = Angle::from_radians(std::atan2(hole.drilling.axis.y, hole.drilling.axis.x));
    const DrillingDepth depth =
        drilling_depth(bench_.tube(), hole, bench_.fit.wall_sigma(-hole.drilling.point.z, theta));
    StepLine line;
    line.id = hole.id;
    line.drill = hole.drill();
    line.stop = DepthStop{depth.stop_at, true};
    line.room = depth.room;
    line.what = number_text(hole.drill()) + " mm, stop at " + mm(depth.stop_at);
    line.remarks = depth_remarks(hole, depth, bench_.shop);
    const PlacedKey* key = key_of(bench_.instrument, hole.id);
    line.wall = key != nullptr ? wall_of(*key) : bench_.tube().wall(place_of(hole.drilling));
    line.held = held_words(bench_, hole.id);
    line.backing = key != nullptr ? backing_words(bench_, hole.id) : "";
    line.done = key != nullptr && key->drilled.has_value();
    return line;
  }
  SkinPlace place_of(const Drilling& drilling) const {
    const Section section = bench_.tube().section(-drilling.point.z);
    Angle theta;
    section.outside({drilling.point.x, drilling.point.y}, &theta);
    return {section.at(), section.around(theta)};
  }

  void add_pilots(const std::vector<std::string>& prepared) {
    for (const GuidePlan& guide : bench_.guides) {
      DrillingStep step = begun(Stage::pilot, "pilot-guide-" + std::to_string(guide.number),
                                "Pilot holes through " + guide.name);
      step.guide = guide.name;
      step.how = schedule_words::setting(guide);
      step.how.push_back("Try the guide on the tube and measure to its bores before you drill.");
      if (guide.number == 1) {
        step.how.push_back(
            "After the first hole, read its wall by hook gauge: if it is not as stated here, stop "
            "and run culmwright as-drilled first.");
      }
      step.after = prepared;
      for (const std::string& name : guide.after) {
        for (const GuidePlan& other : bench_.guides) {
          if (other.name == name) step.after.push_back("pilot-guide-" + std::to_string(other.number));
        }
      }
      for (const GuideHole& hole : guide.holes) step.lines.push_back(pilot_line(hole));
      step.bit = pilot_bit(guide);
      add(std::move(step));
      piloted_.push_back("pilot-guide-" + std::to_string(guide.number));
    }
  }
  static std::string pilot_bit(const GuidePlan& guide) {
    std::vector<std::string> sizes;
    bool plain = false;
    for (const GuideHole& hole : guide.holes) {
      const std::string size = number_text(hole.drill()) + " mm";
      plain = plain || hole.plain;
      if (std::find(sizes.begin(), sizes.end(), size) == sizes.end()) sizes.push_back(size);
    }
    return "twist drill " + listed(sizes, " and ") + (plain ? "" : ", through the bush");
  }

  void add_walls() {
    DrillingStep step = begun(Stage::read_wall, "read-wall", "First wall reading");
    step.after = piloted_;
    for (const PlacedKey& key : bench_.instrument.keys) {
      StepLine line;
      line.id = key.key.id;
      line.wall = wall_of(key);
      line.what = "expected " + mm(key.wall);
      line.values = {wall_value(key)};
      line.done = key.drilled && key.drilled->wall;
      step.lines.push_back(std::move(line));
    }
    add(std::move(step));
  }

  /// What the guide leaves of a hole.
  double piloted(const std::string& id) const {
    for (const GuidePlan& guide : bench_.guides) {
      for (const GuideHole& hole : guide.holes) {
        if (hole.id == id && hole.corner_of.empty()) return hole.drill();
      }
    }
    return bench_.shop.pilot_diameter;
  }
  /// As wide as drills may make it.
  double drilled_to(const PlacedKey& key) const {
    const double diameter = key.key.hole_diameter;
    if (is_tuned(key.key)) return diameter - tuned_under;
    return backed(bench_, key.key.id) ? diameter + drilled_over : diameter - reamed_off;
  }
  double last_drilled(const PlacedKey& key) const {
    const double from = piloted(key.key.id);
    const std::vector<Drill> drills = opening_drills(bench_.shop, from, drilled_to(key));
    return drills.empty() ? from : hole_of(drills.back());
  }

  StepLine opening_line(const PlacedKey& key, const Drill& drill) const {
    StepLine line;
    line.id = key.key.id;
    line.drill = drill.diameter;
    line.wall = wall_of(key);
    const OpeningDepth depth = opening_depth(bench_, key, drill);
    line.stop = DepthStop{depth.stop, false};
    line.room = depth.room;
    line.what = number_text(drill.diameter) + " mm, stop at " + mm(depth.stop) + " from the skin";
    if (depth.room < 0.0) {
      line.remarks.push_back("No room before the far wall: stop by feel as soon as the rim is through.");
    }
    line.held = held_words(bench_, key.key.id);
    line.backing = backing_words(bench_, key.key.id);
    const double across = key.drilled ? 0.5 * (key.drilled->across_along + key.drilled->across_around) : 0.0;
    line.done = finished(key) || across >= hole_of(drill) - 2.0 * same_size;
    return line;
  }

  void add_drills() {
    struct Use {
      Drill drill;
      std::vector<const PlacedKey*> keys;
    };
    std::map<double, Use> uses;  // by the hole the drill makes
    for (const PlacedKey& key : bench_.instrument.keys) {
      for (const Drill& drill : opening_drills(bench_.shop, piloted(key.key.id), drilled_to(key))) {
        Use& use = uses[hole_of(drill)];
        use.drill = drill;
        use.keys.push_back(&key);
      }
    }
    for (const auto& [size, use] : uses) {
      DrillingStep step = begun(Stage::open_up, "open-" + number_text(use.drill.diameter),
                                "Open up with the " + drill_words(use.drill));
      step.bit = drill_words(use.drill);
      step.how = {"Guides off. The drill follows the hole that is there: upright, slow, lifted often."};
      for (const PlacedKey* key : use.keys) step.lines.push_back(opening_line(*key, use.drill));
      add(std::move(step));
    }
    if (bench_.shop.drills.empty())
      made_.notes.push_back(
          "The shop document lists no drills: every hole is opened from its pilot with a reamer.");
  }

  /// What no drill of the drawer brings to its size, and what is left for the ear.
  void add_finish(const std::string& id, const std::string& title, bool by_ear) {
    DrillingStep step = begun(Stage::open_up, id, title);
    step.bit = by_ear ? "reamer or round file" : "reamer";
    step.how = {
        by_ear ? "Fit the tube up as it is played; a little at a time, listening after each; what is off "
                 "cannot be put back."
               : "By hand, from outside, turning one way; measure often."};
    step.cautions = {schedule_words::cautions(Stage::open_up)[0],
                     schedule_words::cautions(Stage::open_up)[2]};
    for (const PlacedKey& key : bench_.instrument.keys) {
      const double reached = last_drilled(key);
      if (is_tuned(key.key) != by_ear || reached >= key.key.hole_diameter - same_size) continue;
      StepLine line;
      line.id = key.key.id;
      line.wall = wall_of(key);
      line.what = "from " + mm(reached, 2) + (by_ear ? " to about " : " to ") + mm(key.key.hole_diameter, 2);
      if (!by_ear && !backed(bench_, key.key.id)) line.backing = backing_words(bench_, key.key.id);
      line.done = finished(key);
      step.lines.push_back(std::move(line));
    }
    add(std::move(step));
  }

  void add_openings() {
    DrillingStep step = begun(Stage::cut_openings, "cut-openings", "Cut the openings out");
    for (const PlacedPart& part : bench_.instrument.parts) {
      if (part.part.kind != PartKind::opening) continue;
      StepLine line;
      line.id = part.part.id;
      line.what = number_text(part.part.length) + " along, " + number_text(part.part.width) +
                  " around, corners of " + number_text(part.part.corner_radius);
      line.wall = bench_.tube().wall(part.place);
      step.lines.push_back(std::move(line));
    }
    add(std::move(step));
  }

  void add_each(Stage stage, const std::string& id, const std::string& title) {
    DrillingStep step = begun(stage, id, title);
    for (const PlacedKey& key : bench_.instrument.keys) {
      StepLine line;
      line.id = key.key.id;
      step.lines.push_back(std::move(line));
    }
    add(std::move(step));
  }

  void add_measure() {
    DrillingStep step = begun(Stage::measure, "measure", "Measure the holes as drilled");
    for (const PlacedKey& key : bench_.instrument.keys) {
      StepLine line;
      line.id = key.key.id;
      line.what = "wanted " + number_text(key.key.hole_diameter);
      line.done = finished(key);
      const auto known = [&](double number) {
        return line.done ? std::optional<double>(number) : std::optional<double>();
      };
      const DrilledHole hole = key.drilled.value_or(DrilledHole{});
      line.values = {value(key, "across_along", "across, along the tube", known(hole.across_along)),
                     value(key, "across_around", "across, around it", known(hole.across_around)),
                     wall_value(key), value(key, "chip_out", "chipped beyond the rim", known(hole.chip_out))};
      step.lines.push_back(std::move(line));
    }
    add(std::move(step));
  }

  const DrillBench& bench_;
  DrillingSchedule made_;
  std::vector<std::string> piloted_;
};

}  // namespace

bool DrillingStep::done() const {
  return !lines.empty() && std::all_of(lines.begin(), lines.end(), [](const StepLine& l) { return l.done; });
}

const DrillingStep* DrillingSchedule::find(const std::string& id) const {
  for (const DrillingStep& step : steps) {
    if (step.id == id) return &step;
  }
  return nullptr;
}

DrillBench drill_bench(const TubeFit& fit, const Instrument& instrument, const Shop& shop,
                       std::vector<GuidePlan> guides) {
  DrillBench bench{fit, instrument, shop, std::move(guides), {}, {}};
  bench.backing = plan_backing(fit.tube(), instrument, shop);
  if (!shop.cradles) return bench;
  try {
    bench.cradles = plan_cradles(fit.tube(), instrument, shop);
  } catch (const GeometryError&) {
    // Cradles that cannot stand are named where they are made; V-blocks hold the tube then.
  }
  return bench;
}

DrillingSchedule drilling_schedule(const DrillBench& bench) {
  return ScheduleMaker(bench).make();
}

}  // namespace culmwright
