#pragma once
/// The hands' verdict carried back: distances measured on the mock-up become the places of a new revision.
///
/// Unknown are only the numbers that a reading is about; everything else stays, bit for bit. A key measured
/// along only keeps its distance from the key line, as when it is shifted (fit/shift.hpp). A neighbour that a
/// reading counts from stays, unless it was measured too. What is locked or drilled is a fact: a reading of
/// it moves nothing and is held against it.
///
/// All readings are settled together by weighted least squares over the unknown numbers x (Gauss–Newton):
///
///     least  r′ C⁻¹ r,   r = distances − predicted(x),   C = diag(error²) + G S G′
///
/// where S are the stated errors of what was counted from but not measured, and G says how the readings
/// depend on it. Stated errors are those of (J′ C⁻¹ J)⁻¹; they hold to the second order of the skin's
/// curvature over one error (1e-3 of an error for 0.5 mm).
///
/// Predicted: along, the difference of the two places projected on the tube's axis (a rule laid alongside on
/// a piece of 1 % taper and 2 mm bow shows 0.03 mm more over 400 mm); from an end sawn out of square, from
/// its edge on the side of the key. Around, arc of the section, ridges included. By paper strip, the straight
/// line of the unrolled skin between the two (paper/development.hpp): as good as that development states it,
/// 0.02 mm for neighbours on a culm, and without the ridge of a node between them. By caliper, the distance
/// in space.
///
/// Contradictions: the outlier test of survey networks (Baarda 1968): with P = C⁻¹ − C⁻¹ J (J′C⁻¹J)⁻¹ J′ C⁻¹,
/// reading i differs from what all the others say of it by (C⁻¹r)ᵢ / Pᵢᵢ, with a standard deviation of
/// Pᵢᵢ^−½. The one that differs most, by more than three of them, is named and left out, and the rest is
/// settled again. Where two cannot be told apart, both are named.
#include <optional>
#include <string>
#include <vector>

#include "layout/measured_mock_up.hpp"
#include "layout/placement.hpp"
#include "tube/tube.hpp"

namespace culmwright {

struct RemeasureOptions {
  std::string date;               ///< of the revision; empty: the mock-up's
  std::vector<int> without;       ///< readings to leave out, by their number
  std::optional<EndTilt> tilt_a;  ///< where the survey gives it
  std::optional<EndTilt> tilt_b;
};

/// A reading with what became of it. Readings are numbered from 1 in the order of the document, marks after
/// them, each mark's `along` before its `around`.
struct SettledReading {
  int number = 0;
  std::string pointer;  ///< in the mock-up document
  std::string words;    ///< "R2 24 mm toward foot from R1"
  double distance = 0.0;
  double settled = 0.0;  ///< the same distance between the settled places
  double error = 0.0;    ///< one standard deviation of the reading
  bool left_out = false;
};

struct Contradiction {
  int number = 0;             ///< of the reading
  std::vector<int> suspects;  ///< readings that may as well be the wrong one
  std::vector<int> against;   ///< readings that disagree with it, suspects included
  double others_say = 0.0;    ///< the distance by everything else
  double times = 0.0;         ///< the difference, in standard deviations
  std::string sentence;
};

/// A key, part, cut or the key line that was measured.
struct MeasuredPlace {
  std::string id;                ///< or "mouth cut", "foot cut", "key line"
  std::optional<double> along;   ///< as played, now; where measured
  std::optional<double> around;  ///< as played, now; where measured
  std::optional<double> along_error;
  std::optional<double> around_error;
  std::string moved;  ///< "2.1 mm toward foot, 0.4 mm to player's left"; empty: less than 0.05 mm
};

struct Remeasured {
  Placement placement;  ///< with its new revision; not to be used while there are contradictions
  std::vector<MeasuredPlace> places;
  std::vector<SettledReading> readings;
  std::vector<Contradiction> contradictions;
  std::vector<std::string> remarks;  ///< sentences
  int more_than_needed = 0;          ///< readings beyond one for each unknown number
};

/// Throws InputError with every problem: a reading of what the key layout does not have, a chain that hangs
/// on nothing, straight distances that fix no place, a place off the tube; pointers are those of the mock-up
/// document (Place::file is "mock-up"). Throws as `assemble` does when the new places are not possible.
Remeasured remeasure(const Tube& tube, const KeyLayout& layout, const Placement& placement,
                     const MeasuredMockUp& mock_up, const RemeasureOptions& options = {});

constexpr const char* mock_up_document = "mock-up";

/// Readings that differ from all others by more than this many standard deviations contradict them.
constexpr double contradiction_sigmas = 3.0;

}  // namespace culmwright
