#pragma once
/// One big patched face of a directly built part: its surface, and the openings cut into it so far.
#include <Geom_BSplineSurface.hxx>
#include <vector>

#include "plan/guide_face.hpp"
#include "solid/direct_builder.hpp"

namespace culmwright {

struct Sheet {
  GuideFace face;
  std::vector<double> at;  ///< where along the tube the patch was sampled
  Handle(Geom_BSplineSurface) surface;
  std::vector<WirePath> holes;  ///< clockwise in (θ, at)
};

/// The patch of a face between two places along, finer where its field rises; it reaches 94° from the middle.
/// 0.001 mm from the face. `nudge` (mm) shifts its knots and nothing else.
Sheet make_sheet(const GuideFace& face, const Span& at, double nudge);

/// The place (θ, at) on the patch itself where the line through (xy, ·) parallel to the frame's z meets it;
/// from a guess nearby. Accuracy 1e-12.
Vec2 meet_patch(const Handle(Geom_BSplineSurface) & patch, const RigidMotion& frame, Vec2 xy, Vec2 guess);

/// θ on the patch where its line at `at` meets a plane, from a guess nearby. Accuracy 1e-13.
double meet_plane(const Handle(Geom_BSplineSurface) & patch, Vec3 point, Vec3 normal, double guess,
                  double at);

}  // namespace culmwright
