#include "plan/mesh_gate.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/angle.hpp"
#include "base/words.hpp"
#include "plan/mesh_inside.hpp"

namespace culmwright {

namespace {

constexpr std::size_t fit_samples = 32;
constexpr double probe_step = 0.5;
constexpr int ring_probes = 16;

/// The facets of one face of the solid.
struct BuiltFace {
  std::vector<int> triangles;
  std::vector<Vec3> middles;  ///< of the facets: they lie on no second face, as corners on an edge do
  std::vector<Vec3> corners;  ///< once each
  double area = 0.0;
};

std::vector<BuiltFace> built_faces(const Mesh& mesh) {
  const int count = 1 + *std::max_element(mesh.face_of.begin(), mesh.face_of.end());
  std::vector<BuiltFace> faces(count);
  std::vector<int> last_seen(mesh.vertices.size(), -1);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    faces[mesh.face_of[t]].triangles.push_back(static_cast<int>(t));
  }
  for (int f = 0; f < count; ++f) {
    for (const int t : faces[f].triangles) {
      Vec3 corner[3];
      for (int k = 0; k < 3; ++k) {
        const int v = mesh.triangles[t][k];
        corner[k] = mesh.vertices[v];
        if (last_seen[v] != f) faces[f].corners.push_back(corner[k]);
        last_seen[v] = f;
      }
      faces[f].middles.push_back((corner[0] + corner[1] + corner[2]) * (1.0 / 3.0));
      faces[f].area += 0.5 * length(cross(corner[1] - corner[0], corner[2] - corner[0]));
    }
  }
  return faces;
}

/// Greatest distance of a sample of the facets' middles from a planned face; stops once it exceeds `enough`.
double misfit(const BuiltFace& built, const FaceExpectation& planned, double enough) {
  const std::size_t count = std::min(built.middles.size(), fit_samples);
  double greatest = 0.0;
  for (std::size_t i = 0; i < count && greatest <= enough; ++i) {
    // Spread by the golden ratio: a stride could fall in step with the order of the facets.
    const double share = std::fmod(0.5 + 0.6180339887498949 * static_cast<double>(i), 1.0);
    const std::size_t pick =
        built.middles.size() <= count
            ? i
            : static_cast<std::size_t>(share * static_cast<double>(built.middles.size()));
    const double d = planned.distance(built.middles[pick]);
    greatest = std::isnan(d) ? 1e300 : std::max(greatest, d);
  }
  return greatest;
}

/// Which planned face each built face belongs to, and which planned faces count as one surface.
struct Attribution {
  std::vector<int> planned_of;  ///< for each built face
  std::vector<int> surface_of;  ///< for each planned face, the first one on the same surface
};

/// Planned faces that one built face fits within the limit are one surface to the gate: two coaxial cylinders
/// of nearly one radius cannot be told apart by distance.
Attribution attribute(const std::vector<BuiltFace>& built, const std::vector<FaceExpectation>& planned,
                      double limit) {
  Attribution result;
  result.surface_of.resize(planned.size());
  std::iota(result.surface_of.begin(), result.surface_of.end(), 0);
  for (const BuiltFace& face : built) {
    std::vector<double> fits(planned.size(), 1e300);
    double best = 1e299;
    int chosen = 0;
    for (std::size_t i = 0; i < planned.size(); ++i) {
      fits[i] = misfit(face, planned[i], std::max(best, limit));
      if (fits[i] >= best) continue;
      best = fits[i];
      chosen = static_cast<int>(i);
    }
    result.planned_of.push_back(chosen);
    for (std::size_t i = 0; i < planned.size(); ++i) {
      if (face.triangles.empty() || fits[i] > limit || best > limit) continue;
      const auto [low, high] = std::minmax(result.surface_of[i], result.surface_of[chosen]);
      std::replace(result.surface_of.begin(), result.surface_of.end(), int{high}, int{low});
    }
  }
  return result;
}

void hold_faces(const Mesh& mesh, const Expectation& expected, double chord, GateReport& report) {
  const bool known =
      !expected.faces.empty() && !mesh.triangles.empty() && mesh.face_of.size() == mesh.triangles.size();
  report.equals("faces are known", known, 1);
  if (!known) return;
  const std::vector<BuiltFace> built = built_faces(mesh);
  const Attribution where = attribute(built, expected.faces, chord + gate_distance_room);
  const std::size_t count = expected.faces.size();
  std::vector<double> farthest(count, 0.0);
  std::vector<double> found_area(count, 0.0);
  std::vector<double> planned_area(count, 0.0);
  for (std::size_t b = 0; b < built.size(); ++b) {
    const int planned = where.planned_of[b];
    for (const std::vector<Vec3>* points : {&built[b].middles, &built[b].corners}) {
      for (const Vec3& p : *points) {
        const double d = expected.faces[planned].distance(p);
        farthest[planned] = std::max(farthest[planned], std::isnan(d) ? 1e300 : d);
      }
    }
    found_area[where.surface_of[planned]] += built[b].area;
  }
  for (std::size_t i = 0; i < count; ++i) {
    planned_area[where.surface_of[i]] += expected.faces[i].area.value_or(NAN);
  }
  for (std::size_t i = 0; i < count; ++i) {
    const std::string& name = expected.faces[i].name;
    report.at_most("distance from " + name, farthest[i], chord + gate_distance_room);
    if (where.surface_of[i] != static_cast<int>(i)) continue;
    report.equals(name + " is there", found_area[i] > 0.0, 1);
    if (std::isnan(planned_area[i])) continue;
    report.at_most("share of area off on " + name, std::abs(found_area[i] / planned_area[i] - 1.0),
                   gate_area_share);
  }
}

void hold_bore(const MeshInside& mesh, const BoreExpectation& bore, GateReport& report) {
  const double reach = length(bore.to - bore.from);
  const Vec3 axis = unit(bore.to - bore.from);
  const int steps = std::max(8, static_cast<int>(std::ceil(reach / probe_step)));
  int blocked = 0;
  for (int i = 0; i <= steps; ++i) blocked += mesh.winding(bore.from + axis * (reach * i / steps)) != 0;
  report.equals("probes blocked in " + bore.name, blocked, 0);

  const Vec3 aside = std::abs(axis.x) < 0.7 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
  const Vec3 u = unit(cross(axis, aside));
  const Vec3 v = cross(axis, u);
  int bare = 0;
  for (const double at : bore.ring_at) {
    for (int i = 0; i < ring_probes; ++i) {
      const Angle turn = Angle::from_degrees(360.0 * (i + 0.5) / ring_probes);
      const Vec3 aim = (u * turn.cos() + v * turn.sin()) * bore.ring_radius;
      bare += mesh.winding(bore.from + axis * at + aim) != 1;
    }
  }
  report.equals("ring probes without material around " + bore.name, bare, 0);
}

}  // namespace

bool GateReport::sound() const {
  return !checks.empty() &&
         std::all_of(checks.begin(), checks.end(), [](const GateCheck& check) { return check.passed(); });
}

std::string GateReport::failures() const {
  if (checks.empty()) return "nothing was checked";
  std::string text;
  for (const GateCheck& check : checks) {
    if (check.passed()) continue;
    text += (text.empty() ? "" : "; ") + check.name + ": " + number_text(check.value) +
            (check.exact ? ", wanted " : ", at most ") + number_text(check.limit);
  }
  return text;
}

void GateReport::at_most(std::string name, double value, double limit) {
  checks.push_back({std::move(name), value, limit, false});
}

void GateReport::equals(std::string name, double value, double limit) {
  checks.push_back({std::move(name), value, limit, true});
}

void hold_mesh(const Mesh& mesh, const Expectation& expected, double chord, GateReport& report) {
  const MeshFaults faults = inspect(mesh);
  report.equals("open edges", faults.open_edges, 0);
  report.equals("non-manifold edges", faults.non_manifold_edges, 0);
  report.equals("degenerate facets", faults.degenerate_triangles, 0);
  report.equals("pinched vertices", faults.pinched_vertices, 0);
  report.equals("shells", faults.shells, expected.shells);
  report.equals("genus", faults.genus, expected.genus);
  hold_faces(mesh, expected, chord, report);
  report.at_most("share of volume off", std::abs(volume(mesh) / expected.volume - 1.0), gate_volume_share);
  const MeshInside inside(mesh);
  for (const BoreExpectation& bore : expected.bores) hold_bore(inside, bore, report);
}

}  // namespace culmwright
