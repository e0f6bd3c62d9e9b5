#pragma once
/// Bicubic surfaces through samples of a function of direction θ (radians; parameter u) and place along the
/// tube `at` (parameter v). C² throughout. With the tube's frame (z = −at) the surface's own normal
/// ∂u × ∂v points toward the tube's axis.
///
/// Accuracy: fourth order in the step where f is smooth enough. Skins with steps of 3° around and 4 mm along
/// keep to 0.001 mm; slanted ridges, whose surface bends suddenly at their feet, ask for 0.3 mm along.
/// `patch_error` measures it.
#include <Geom_BSplineSurface.hxx>
#include <functional>
#include <vector>

#include "base/vec.hpp"

namespace culmwright {

/// The point of the surface at (θ in radians, at).
using SurfaceFunction = std::function<Vec3(double theta, double at)>;

/// Through f at every (theta[i], at[j]); a window with clamped edges, knots at the samples ("not a knot" next
/// to the edges). The edges are the cubics through the samples of the edge alone, so two patches on the same
/// values have edges of the same knots. Precondition: both strictly increasing, at least four each. Throws
/// Standard_Failure: call it guarded.
Handle(Geom_BSplineSurface)
    windowed_patch(const SurfaceFunction& f, const std::vector<double>& theta, const std::vector<double>& at);

/// Periodic around: `count` ≥ 4 equal steps from `seam` to seam + 2π; f must have period 2π in θ. Clamped
/// along.
Handle(Geom_BSplineSurface)
    periodic_patch(const SurfaceFunction& f, double seam, int count, const std::vector<double>& at);

/// Greatest distance between the patch and f at three places inside each of its knot spans.
double patch_error(const Handle(Geom_BSplineSurface) & patch, const SurfaceFunction& f);

/// Values from `from` to `to`, both included, in steps of at most `step`, and of at most `fine` inside the
/// given ranges; neighbouring steps grow by at most a third or so, which keeps the interpolation calm.
struct FineRange {
  double from = 0.0;
  double to = 0.0;
};
std::vector<double> graded_values(double from, double to, double step, double fine,
                                  const std::vector<FineRange>& ranges);

}  // namespace culmwright
