#pragma once
/// How true each hole will come out, when it is drilled through its guide on the real tube instead of the one
/// that the survey describes.
///
/// Tubes are drawn that might be the true one (tube/sampled_tube.hpp). On each the guide is printed, set by
/// stop and eye, and strapped home (plan/seating.hpp), each with its own error; the bush stands somewhere in
/// its bore and the bit somewhere in its bush. The axis pierces the drawn skin: how far from the wanted place
/// along and around, both counted on the drawn tube (from its datum; from its line), and how far its axis is
/// turned from square. Not in it: a bit that runs off, a tube that moves with the weather after its survey,
/// friction under the straps.
#include <string>
#include <vector>

#include "layout/shop.hpp"
#include "plan/seating.hpp"
#include "tube/reading_set.hpp"
#include "tube/survey_report.hpp"

namespace culmwright {

/// Standard deviations unless it says otherwise. Common practice, no source.
struct ToleranceOptions {
  int samples = 399;
  unsigned seed = 1;
  double sighting = 0.25;      ///< of a sharp corner over a pencil line, each window
  double other_line = 0.3;     ///< of a line that is not the reference line, where it was drawn
  double mark = 0.5;           ///< of turn set by marks on the skin, where there is no window
  double stop = 0.3;           ///< of the end that a stop touches, from the datum: measured and sawn
  double stop_aside = 0.4;     ///< more where it touches away from the reference line
  double by_hand = 0.5;        ///< along, where there is neither stop nor peg
  double print = 0.07;         ///< of a printed feature's place, each way, and of a pad's height
  double print_scale = 1e-3;   ///< of a printed length
  double bush_play = 0.05;     ///< of the bush in its bore, per side, at most
  double peg_play = 0.1;       ///< of a peg in its bore, per side, at most
  double joint_play = 0.1;     ///< of a tongue in its notch, per side, at most
  double drilled_place = 0.3;  ///< of a hole drilled before, along and around, where a peg stands in it
  double bit_play = 0.02;      ///< of the bit in its bush, per side, at most: F7 against h8 (ISO 286)
};

/// The defaults with the shop's own fits.
ToleranceOptions tolerance_options(const Shop& shop);

struct HoleTolerance {
  std::string id;
  int guide = 0;        ///< number of its guide
  double at = 0.0;      ///< of its place
  double along = 0.0;   ///< 95 of 100 stay within ± this
  double around = 0.0;  ///< the same
  double radial = 0.0;  ///< 95 of 100 stay within this distance of the place
  Angle tilt;           ///< 95 of 100 are no farther out of square than this, against the planned axis
  double rms = 0.0;     ///< root mean square distance from the place
  /// Share of the drawn tubes that the guide goes onto; the figures are of those. A guide that does not go
  /// on, or rocks, is seen before it drills.
  double seats = 1.0;
};

/// Above what fingers accept.
inline bool too_wide(const HoleTolerance& hole) {
  return hole.radial > accepted_by_fingers;
}

struct ToleranceReport {
  std::vector<HoleTolerance> holes;  ///< guide by guide, in the order of the plans
  /// Of each hole: the part of its root mean square error that the survey is to blame for. The rest is
  /// setting, print and play, which no reading lessens.
  std::vector<double> from_survey;
  /// Which reading would lower the error most, as root mean square over the holes. Good enough: every hole
  /// within what fingers accept.
  NextReading next;
  /// The fewest readings that bring every hole within what fingers accept, or the best there are; empty where
  /// all are within already, or no reading helps. With survey plates, and without.
  ReadingSet set;
  ReadingSet set_without_plates;
};

/// Every hole of the plans, which must have been made from this fit's tube; they stand in the order of
/// drilling. Deterministic. Throws GeometryError naming a guide that goes onto fewer than half of the drawn
/// tubes.
std::vector<HoleTolerance> hole_tolerances(const TubeFit& fit, const std::vector<GuidePlan>& plans,
                                           const ToleranceOptions& options = {});
/// The same with what would help; takes twice the time.
ToleranceReport tolerance_report(const TubeFit& fit, const std::vector<GuidePlan>& plans,
                                 const ToleranceOptions& options = {});

/// "± 0.4 mm along, ± 0.6 mm around, 1.5° out of square".
std::string tolerance_words(const HoleTolerance& hole);

}  // namespace culmwright
