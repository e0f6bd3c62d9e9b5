#include "plan/printing.hpp"

#include <algorithm>

#include "base/problem.hpp"

namespace culmwright {

OnBed on_bed(const Mesh& part, const RigidMotion& lie) {
  require(!part.vertices.empty(), "a part without a mesh was to be laid on the bed");
  RigidMotion to_bed = lie;
  to_bed.origin = {};
  Vec3 low{1e300, 1e300, 1e300};
  for (const Vec3& v : part.vertices) {
    const Vec3 p = to_bed.turn(v);
    low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
  }
  to_bed.origin = -low;
  OnBed result{moved(part, to_bed), to_bed.inverse()};
  // The lowest corner is at nought exactly, not at the last digit of a rounding.
  for (Vec3& v : result.mesh.vertices) {
    v = {std::max(v.x, 0.0), std::max(v.y, 0.0), std::max(v.z, 0.0)};
  }
  return result;
}

}  // namespace culmwright
