#include "solid/mesh_refine.hpp"

#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <Poly_Triangulation.hxx>
#include <TopoDS_Face.hxx>
#include <algorithm>
#include <catch2/catch.hpp>

#include "shapes.hpp"
#include "solid/patch.hpp"
#include "solid/ridges.hpp"

using namespace culmwright;

namespace {

struct Fit {
  double facets = 0.0;    ///< greatest distance of a facet's middle from the skin
  double vertices = 0.0;  ///< of a vertex
};

Fit fit(const TopoDS_Face& face, const Tube& tube) {
  TopLoc_Location location;
  const Handle(Poly_Triangulation) mesh = BRep_Tool::Triangulation(face, location);
  const auto off = [&](const gp_XYZ& p) { return std::abs(tube.outside({p.X(), p.Y(), p.Z()})); };
  Fit result;
  for (int i = 1; i <= mesh->NbNodes(); ++i) {
    result.vertices = std::max(result.vertices, off(mesh->Node(i).XYZ()));
  }
  for (int i = 1; i <= mesh->NbTriangles(); ++i) {
    int n[3];
    mesh->Triangle(i).Get(n[0], n[1], n[2]);
    const gp_XYZ sum = mesh->Node(n[0]).XYZ() + mesh->Node(n[1]).XYZ() + mesh->Node(n[2]).XYZ();
    result.facets = std::max(result.facets, off(sum / 3.0));
  }
  return result;
}

}  // namespace

TEST_CASE("facets that the mesher left off a skin with ridges, and edges that step over one, are mended") {
  const Tube tube(test::culm());
  const auto skin = [&](double theta, double at) {
    return tube.skin_point(at, Angle::from_radians(theta)).point;
  };
  const auto at = graded_values(12.0, 405.0, 4.0, 0.6, ridge_ranges(tube));
  double worst_before = 0.0;
  for (const double seam : {3.0, 2.7, -2.8}) {
    const TopoDS_Face face = BRepBuilderAPI_MakeFace(periodic_patch(skin, seam, 96, at), 1e-7);
    BRepMesh_IncrementalMesh(face, 0.05, false, 0.35, false);
    worst_before = std::max(worst_before, fit(face, tube).facets);
    refine_facets(face, 0.05);
    CHECK(fit(face, tube).facets < 0.06);
    CHECK(fit(face, tube).vertices < 0.005);
  }
  CHECK(worst_before > 0.3);  // otherwise there is nothing to mend and this file can go
}
