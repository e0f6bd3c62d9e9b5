#pragma once
/// The drilling schedule: what is done at the bench in what order, so that a mistake costs least.
///
///   pierce the nodes → bind the tube → back the bore → pilots, guide by guide → first wall reading → open
///   up, drill by drill → cut the openings out → deburr → seal → measure → fit the cups
///
/// The order, the thresholds and the sizes of steps are common practice; no source. Values only: a sheet sets
/// them (a step has a title, sentences, cautions of its own and lines; a line is one hole with a box to tick
/// and places to write), paper/step_picture.hpp draws them.
#include <optional>
#include <string>
#include <vector>

#include "plan/backing_plan.hpp"
#include "plan/cradle_plan.hpp"
#include "plan/drilling_depth.hpp"
#include "plan/guide_plan.hpp"
#include "tube/survey_fit.hpp"

namespace culmwright {

/// When the tube is bound, how holes are opened. Common practice.
namespace drilling_practice {
constexpr double bind_web_per_diameter = 1.0;  ///< a web along the grain under this times the larger hole
constexpr double bind_end_per_diameter =
    3.0;                             ///< a hole's edge nearer to an end than this times its diameter
constexpr double bind_beyond = 8.0;  ///< a binding's middle beyond the outermost rims
constexpr double binding_width = 8.0;
constexpr double opening_step = 3.0;    ///< on diameter, from one drill to the next, at most
constexpr double reamed_off = 0.5;      ///< on diameter, left for the reamer where the bore is not backed
constexpr double tuned_under = 1.0;     ///< on diameter, left where the hole is opened by ear
constexpr double drilled_over = 0.15;   ///< on diameter, that a drill's own hole may be over the wanted one
constexpr double same_size = 0.05;      ///< of diameters
constexpr double least_pierced = 6.0;   ///< of a node: for wires and the backing's stick
constexpr double beyond = 1.0;          ///< of a depth stop over what goes through for certain
constexpr double forstner_point = 2.0;  ///< of its centre point and spurs before the rim
constexpr double brad_point = 2.5;
}  // namespace drilling_practice

/// All that lies on the bench when one instrument is drilled.
struct DrillBench {
  TubeFit fit;
  Instrument instrument;
  Shop shop;
  std::vector<GuidePlan> guides;   ///< in the order of drilling
  std::vector<CradleSet> cradles;  ///< empty: V-blocks hold the tube
  BackingPlan backing;

  const Tube& tube() const { return fit.tube(); }
};
/// With cradles where the shop has them made and they can stand, and the backing shoes where they are made
/// with them.
DrillBench drill_bench(const TubeFit& fit, const Instrument& instrument, const Shop& shop,
                       std::vector<GuidePlan> guides);

enum class Stage {
  pierce,
  bind,
  back,
  pilot,
  read_wall,
  open_up,
  cut_openings,
  deburr,
  seal,
  measure,
  fit_cups
};
/// "Pilots", "First wall reading": a heading.
const char* stage_words(Stage stage);

/// A place to write a measured number; `field` as in the as-drilled document and its CSV.
struct ValueToWrite {
  std::string id;       ///< of the hole
  std::string field;    ///< "across_along", "across_around", "wall", "chip_out"
  std::string words;    ///< "across, along the tube"
  std::string written;  ///< what is known already, else empty
};

/// Where the depth stop stands on the drill: this far above its very tip.
struct DepthStop {
  double length = 0.0;
  bool from_top =
      true;  ///< stops against the top of the bush or of a plain bore's boss; else against the skin
};

/// One hole, opening or node in a step: a box to tick.
struct StepLine {
  std::string id;      ///< "L1", "hatch 2" (a corner), "node 2"; in a step about the whole tube empty
  std::string what;    ///< a few words: "3 mm, stop at 17.4"
  double drill = 0.0;  ///< diameter of what turns in it, 0: nothing does
  std::optional<DepthStop> stop;
  std::optional<double> wall;  ///< along the hole's axis, at its middle; as read, where it was
  std::optional<double> room;  ///< from the depth stop to the far wall
  std::string held;            ///< "cradles 1A and 1B on facet L1, wedge L3", "V-blocks"; empty: any way
  std::string backing;         ///< "backing 1", or why there is none; empty: not asked for
  std::vector<std::string> remarks;
  std::vector<ValueToWrite> values;
  bool done = false;  ///< known from what was measured as drilled
};

struct DrillingStep {
  std::string id;  ///< unique, for links and files: "pilot-guide-2", "open-8"
  int number = 1;  ///< in the schedule
  Stage stage = Stage::pilot;
  std::string title;                  ///< "Pilots through guide 2"
  std::vector<std::string> how;       ///< sentences
  std::vector<std::string> cautions;  ///< that belong to this very step
  std::string guide;                  ///< name, or empty
  std::string bit;                    ///< "twist drill 3 mm", "reamer", or empty
  std::vector<StepLine> lines;
  std::vector<std::string> after;  ///< ids of steps that must be done before

  bool done() const;
};

struct DrillingSchedule {
  std::vector<DrillingStep> steps;  ///< in order; each stands after all that it names
  std::vector<std::string> notes;   ///< of the whole: what the drawer lacks, what was left out
  const DrillingStep* find(const std::string& id) const;
};

/// Whether a key's hole is opened by ear: it has no leeway along the tube, and its cup lets it sound (a
/// padded cup or a sleeve).
bool is_tuned(const Key& key);

/// The drills from the drawer that open a hole, ascending, each at most `opening_step` wider than the one
/// before where the drawer has such; the last not wider than `largest`. By the hole a drill makes: as
/// measured in scrap, else nominal. Step drills and drills not wider than `from` are left out.
std::vector<Drill> opening_drills(const Shop& shop, double from, double largest);

/// "twist drill 8 mm", "brad-point drill 10 mm".
std::string drill_words(const Drill& drill);
/// From its tip to where its full width begins.
double tip_length(const Drill& drill);

/// For a drill that opens a pilot hole without a guide: stop against the skin at the hole's middle.
struct OpeningDepth {
  double stop = 0.0;  ///< full width through for certain, and a little more
  double room = 0.0;  ///< from there to the far wall
};
OpeningDepth opening_depth(const DrillBench& bench, const PlacedKey& key, const Drill& drill);

/// The schedule of a bench. What was measured as drilled stands as done, with its numbers. Deterministic.
/// Throws what drilling_depth throws.
DrillingSchedule drilling_schedule(const DrillBench& bench);

}  // namespace culmwright
