#pragma once
/// Which parts of an instrument come too near to one another once they are all in place: cups and fitted
/// parts among themselves (flanges and touches outside, spigots inside a thin tube), against the tube with
/// its bore, and against the edges of openings.
///
/// Distances are those of the parts' meshes (mesh_distance.hpp), so exact to the chords of the meshes.
#include <string>
#include <vector>

#include "plan/body_plan.hpp"
#include "plan/mesh_distance.hpp"

namespace culmwright {

/// Something that stands on the instrument, in the tube's frame.
struct StandingPart {
  enum class Kind {
    fitted,  ///< a cup, rest, shoe, ring
    tube,    ///< the body, drilled and cut
    opening  ///< the space that must stay free over an opening
  };
  Kind kind = Kind::fitted;
  std::string name;
  MeshTree mesh;
};

/// A straight prism over the opening's outline, from just under the skin to `height` above it.
/// Precondition: the cut is an opening's (BodyPlan).
StandingPart space_over(const BodyCut& opening, double height = 40.0);

struct Clearance {
  std::string first;
  std::string second;
  MeshDistance found;
  double least = 0.0;   ///< that was asked for
  bool inside = false;  ///< the nearest points lie under the skin
  bool fails = false;
  /// In words; of a failure with what can be done.
  std::string sentence;
};

/// How near parts may come, and which pairs are told of.
struct ClearanceLimits {
  double parts_apart = 0.5;     ///< Fits::parts_apart: among fitted parts, and from openings
  double listed_within = 12.0;  ///< pairs farther apart are not listed
  /// Parts lie against the tube, with a glue line that may be none: they may seem to reach into it by the
  /// chords of both meshes.
  double seeming_depth = 0.06;
};

/// Every pair within `listed_within`, in the order of the parts; boxes first, meshes where those are near.
/// Two openings, and the tube with an opening, are no pairs.
std::vector<Clearance> clearances(const std::vector<StandingPart>& parts, const Tube& tube,
                                  const ClearanceLimits& limits = {});

}  // namespace culmwright
