#pragma once
/// What was drilled, brought to bear on everything that is still to be made.
///
/// A hole that went through, pilot or finished, is a fact: it stands where it was measured, or where the
/// revision that was drilled had it, and is locked there; a finished one is as wide as it came out. A hole
/// that no key wanted (DrilledState::extra) is a fact too. Hook-gauge readings join the survey as wall
/// readings at that very place and the tube is fitted again, so that walls, depths, mass and spigots follow,
/// half-way already.
///
/// A hook gauge reads along the hole's axis from skin to bore; the survey's walls lie along the skin's inward
/// normal. The reading is taken over in the ratio of the two on the tube as fitted so far, twice; from the
/// second time on it changes by less than 1e-4 of the wall.
#include <optional>
#include <string>
#include <vector>

#include "fit/rules.hpp"
#include "layout/as_drilled.hpp"
#include "tube/survey_fit.hpp"

namespace culmwright {

/// One hole beside what was wanted.
struct DrilledDeparture {
  DrilledHole hole;  ///< a pilot's size filled in
  bool is_key = true;
  std::optional<SkinPlace> wanted;  ///< none of an extra hole
  SkinPlace is;
  double along = 0.0;         ///< from the wanted place toward the foot
  double around = 0.0;        ///< and to the player's left
  double wanted_along = 0.0;  ///< sizes; of a pilot the finished hole's
  double wanted_around = 0.0;
  std::optional<double> wall_before;  ///< along the axis, by the survey without any hook gauge
  double distance() const;
  /// Of a finished hole or opening: how much wider than wanted, the greater of the two.
  double too_wide_by() const;
};

/// A job with its facts.
struct DrilledJob {
  TubeFit fit;          ///< hook-gauge readings among its readings
  Placement placement;  ///< as given, with the facts listed and locked; no revision of their own
  Instrument instrument;
  std::vector<DrilledDeparture> holes;  ///< in the order of the document
};

/// `fit`: of the survey as it stands in its document. Throws InputError with every problem; Place::file says
/// which document a pointer belongs to: as_drilled_document, or those of `assemble` (fit/assemble.hpp).
DrilledJob with_drilled_facts(const TubeFit& fit, const KeyLayout& layout, const Placement& placement,
                              const AsDrilled& as_drilled, double pilot_diameter);

constexpr const char* as_drilled_document = "as-drilled";

/// The placement's new revision in which what was drilled is listed as a fact; the same placement again where
/// it holds all of that already. Throws as with_drilled_facts does.
Placement with_facts_written(const Tube& tube, const KeyLayout& layout, const Placement& placement,
                             const AsDrilled& as_drilled, const std::string& date);

/// The key layout for whatever must keep clear of the facts: finished holes and openings in their real sizes,
/// each extra hole as one more key that no finger plays (a plug without a touch), after all others.
KeyLayout layout_as_drilled(const KeyLayout& layout, const AsDrilled& as_drilled);
/// `placement` (of a DrilledJob) with the extra holes listed too, as layout_as_drilled has them.
Placement placement_as_drilled(const Placement& placement, const AsDrilled& as_drilled);

/// The instrument of `placement` with its facts. `fit`: with the hook-gauge readings. For placements that
/// were made from a DrilledJob's: proposed, shifted.
Instrument assemble_as_drilled(const Tube& tube, const KeyLayout& layout, const Placement& placement,
                               const AsDrilled& as_drilled, double pilot_diameter);

/// As the rules see it: holes as wide as they came out, extra holes after the keys.
Instrument as_rules_see(const Instrument& instrument);
/// Whether the key's or opening's hole went through, or the id is an extra hole's.
bool is_drilled(const Instrument& instrument, const std::string& id);

/// What has been drilled and what that means for the signature, into `mark` (SignMark::drilled). A signature
/// holds for the places that are still to be drilled as long as no hard rule is newly broken between a fact
/// and something that is not drilled yet; where one is, it ends, and says why. What facts break among
/// themselves does not end it: no signature could mend that.
void judge_drilled(const std::vector<DrilledDeparture>& holes, const Instrument& instrument,
                   const std::vector<Finding>& findings, SignMark& mark);

/// "2.1 mm toward foot, 0.3 mm to player's left"; "as wanted" for less than a tenth.
std::string out_by_words(const DrilledDeparture& hole);

}  // namespace culmwright
