#include "plan/printing.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "base/words.hpp"

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

namespace {

constexpr double free_edge = 5.0;
constexpr double on_the_bed = 0.05;
const double leaning = std::sqrt(0.5);  ///< of 45°

PrintingChoice judged(const Mesh& part, const std::vector<Vec3>& bore_axes, const PrintingPosition& position,
                      const Printer& printer) {
  PrintingChoice choice{position.name, position.lie, {}, false, 0.0, 0, ""};
  const Mesh lying = on_bed(part, position.lie).mesh;
  for (const Vec3& v : lying.vertices) {
    choice.size = {std::max(choice.size.x, v.x), std::max(choice.size.y, v.y), std::max(choice.size.z, v.z)};
  }
  for (const auto& triangle : lying.triangles) {
    const Vec3 a = lying.vertices[triangle[0]];
    const Vec3 normal = cross(lying.vertices[triangle[1]] - a, lying.vertices[triangle[2]] - a);
    const double low = std::min({a.z, lying.vertices[triangle[1]].z, lying.vertices[triangle[2]].z});
    if (normal.z < -leaning * length(normal) && low > on_the_bed)
      choice.overhang_area += 0.5 * length(normal);
  }
  for (const Vec3& axis : bore_axes) choice.sagging_bores += position.lie.turn(axis).z < leaning;
  choice.fits = choice.size.x <= printer.bed_x - 2.0 * free_edge &&
                choice.size.y <= printer.bed_y - 2.0 * free_edge && choice.size.z <= printer.height;
  const auto millimetres = [](double x) { return fixed_text(x, 0); };
  choice.reason = choice.name + ": " + millimetres(choice.size.x) + " × " + millimetres(choice.size.y) +
                  " × " + millimetres(choice.size.z) + " high, " +
                  (choice.fits ? "fits the bed" : "does not fit the bed") + "; " +
                  (choice.sagging_bores == 0 ? "every bore prints round"
                                             : fixed_text(choice.sagging_bores, 0) + " of " +
                                                   fixed_text(static_cast<double>(bore_axes.size()), 0) +
                                                   " bores print lying and sag") +
                  "; " + fixed_text(0.01 * choice.overhang_area, 0) + " cm² want support";
  return choice;
}

}  // namespace

std::vector<PrintingChoice> judged_positions(const Mesh& part, const std::vector<Vec3>& bore_axes,
                                             const std::vector<PrintingPosition>& positions,
                                             const Printer& printer) {
  std::vector<PrintingChoice> choices;
  for (const PrintingPosition& position : positions) {
    choices.push_back(judged(part, bore_axes, position, printer));
  }
  std::stable_sort(choices.begin(), choices.end(), [](const PrintingChoice& a, const PrintingChoice& b) {
    if (a.fits != b.fits) return a.fits;
    if (a.sagging_bores != b.sagging_bores) return a.sagging_bores < b.sagging_bores;
    return a.overhang_area < b.overhang_area;
  });
  return choices;
}

}  // namespace culmwright
