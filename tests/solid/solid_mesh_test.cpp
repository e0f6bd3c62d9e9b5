#include "solid/solid_mesh.hpp"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <BRep_Builder.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <catch2/catch.hpp>
#include <cmath>
#include <gp_Ax2.hxx>

#include "base/problem.hpp"
#include "guide_samples.hpp"
#include "shapes.hpp"
#include "solid/body_routes.hpp"
#include "solid/body_solid.hpp"
#include "solid/guide_solid.hpp"
#include "solid/sample_bodies.hpp"
#include "solid/triangulate.hpp"

using namespace culmwright;

namespace {

constexpr MeshAccuracy fine{0.01, 0.2, 0.005, 0.1};

/// Places spread over a triangle, its middle among them.
constexpr int rows_of_samples = 5;
template <class Look>
void over_triangle(const Mesh& mesh, const std::array<int, 3>& t, const Look& look) {
  const Vec3 a = mesh.vertices[t[0]];
  const Vec3 b = mesh.vertices[t[1]];
  const Vec3 c = mesh.vertices[t[2]];
  for (int i = 0; i <= rows_of_samples; ++i) {
    for (int j = 0; i + j <= rows_of_samples; ++j) {
      const double u = double(i) / rows_of_samples;
      const double v = double(j) / rows_of_samples;
      look(a * (1.0 - u - v) + b * u + c * v);
    }
  }
}

void check_round(const char* name, const TopoDS_Shape& shape, double planned, int genus) {
  const SolidMesh made = mesh_of(name, shape, fine);
  const MeshFaults faults = inspect(made.mesh);
  INFO(name << ": " << made.how.fallback);
  CHECK(made.how.fallback.empty());
  CHECK(faults.closed());
  CHECK(faults.shells == 1);
  CHECK(faults.genus == genus);
  // A chord of 0.01 on a radius of 5 or more takes at most 2 × 0.01 / 5 of a volume.
  CHECK(volume(made.mesh) == Approx(planned).epsilon(0.004));
  CHECK(volume(made.mesh) < planned * (1.0 + 1e-12));
}

std::vector<Vec2> square(double low, double high) {
  return {{low, low}, {high, low}, {high, high}, {low, high}};
}

double area_of(const std::vector<PlaneTriangle>& triangles, const std::vector<Vec2>& points) {
  double sum = 0.0;
  for (const PlaneTriangle& t : triangles) {
    const Vec2 a = points[t.corner[0]];
    sum += 0.5 * cross(points[t.corner[1]] - a, points[t.corner[2]] - a);
  }
  return sum;
}

}  // namespace

TEST_CASE("a square with a square hole and an island in it is triangulated to its area") {
  std::vector<Vec2> points;
  std::vector<std::array<int, 2>> sides;
  for (const auto& [low, high] : {std::pair{0.0, 10.0}, {2.0, 8.0}, {4.0, 6.0}}) {
    const int first = static_cast<int>(points.size());
    for (const Vec2& p : square(low, high)) points.push_back(p);
    for (int i = 0; i < 4; ++i) sides.push_back({first + i, first + (i + 1) % 4});
  }
  RegionTriangulation region(points, sides);
  CHECK(area_of(region.inside(), points) == Approx(100.0 - 36.0 + 4.0).epsilon(1e-14));
  points.push_back({1.0, 5.0});
  CHECK(region.insert(points.back(), 0) == 12);
  CHECK(area_of(region.inside(), points) == Approx(68.0).epsilon(1e-14));
  CHECK(region.insert({1.0, 5.0}, 0) == -1);
  CHECK(region.insert({0.0, 3.0}, 0) == -1);
}

TEST_CASE("a region whose sides cross, meet a corner or do not close is refused with the reason") {
  const auto why = [](const std::vector<Vec2>& points, const std::vector<std::array<int, 2>>& sides) {
    try {
      RegionTriangulation(points, sides);
    } catch (const TriangulationFault& fault) {
      return std::string(fault.what());
    }
    return std::string();
  };
  const std::vector<std::array<int, 2>> loop{{0, 1}, {1, 2}, {2, 3}, {3, 0}};
  CHECK(why(square(0, 1), loop).empty());
  CHECK(why({{0, 0}, {1, 1}, {1, 0}, {0, 1}}, loop) == "two sides cross");
  CHECK(why({{0, 0}, {1, 0}, {1, 1}, {0, 0}}, loop) == "two corners coincide");
  CHECK(why({{0, 0}, {2, 0}, {2, 2}, {0, 2}, {1, 0}}, loop) == "a side passes through a corner");
  CHECK(why(square(0, 1), {{0, 1}, {1, 2}, {2, 3}}) == "a side does not part inside from outside");
  CHECK(why({{0, 0}, {1, 0}, {2, 0}}, {{0, 1}, {1, 2}, {2, 0}}) == "all corners lie on one line");
}

TEST_CASE("round solids with seams and poles are meshed face by face, closed and true to their volume") {
  const double r = 6.0;
  check_round("ball", BRepPrimAPI_MakeSphere(r).Shape(), 4.0 / 3.0 * pi * r * r * r, 0);
  check_round("cylinder", BRepPrimAPI_MakeCylinder(r, 20.0).Shape(), pi * r * r * 20.0, 0);
  check_round("cone to a point", BRepPrimAPI_MakeCone(r, 0.0, 9.0).Shape(), pi * r * r * 3.0, 0);
  // Machinery's Handbook, 31st ed., p. 93: torus 2π² R r².
  check_round("torus", BRepPrimAPI_MakeTorus(15.0, 5.0).Shape(), 2.0 * pi * pi * 15.0 * 25.0, 1);
  const TopoDS_Shape drill = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, -20), gp_Dir(0, 0, 1)), 3.0, 40.0);
  // What a hole of half height h leaves of a ball is a ball of radius h's volume.
  const double h = std::sqrt(r * r - 9.0);
  check_round("pierced ball", BRepAlgoAPI_Cut(BRepPrimAPI_MakeSphere(r).Shape(), drill).Shape(),
              4.0 / 3.0 * pi * h * h * h, 1);
}

TEST_CASE("every part of every facet keeps the chord to a skin with ridges, holes and bow") {
  TubeShape shape = test::culm(200);
  const Tube tube(shape);
  Instrument instrument = samples::piece(12, 190);
  samples::drill(instrument, tube, "L1", {25, -10}, 8);
  samples::drill(instrument, tube, "L2", {70, 12}, 11);
  const BodyPlan plan = plan_body(tube, instrument);
  for (const double chord : {0.05, 0.02}) {
    const Solid body = body_directly(plan, tube, 0.0);
    const MeshAccuracy accuracy{chord, 0.35, chord, 0.35};
    CHECK(body.meshing(accuracy).fallback.empty());
    const Mesh mesh = body.mesh(accuracy);
    double farthest = 0.0;
    int looked = 0;
    for (const auto& t : mesh.triangles) {
      double least = 1e300;
      double greatest = 0.0;
      over_triangle(mesh, t, [&](Vec3 p) {
        const double off = std::abs(tube.outside(p));
        least = std::min(least, off);
        greatest = std::max(greatest, off);
      });
      if (least > 0.002 || greatest > 1.0) continue;  // of the bore, an end, a hole's wall
      const Vec3 a = mesh.vertices[t[0]];
      const Vec3 n = cross(mesh.vertices[t[1]] - a, mesh.vertices[t[2]] - a);
      if (std::abs(tube.outside(a)) > 0.002 ||
          n.x * a.x + n.y * a.y <= 0.5 * length(n) * std::hypot(a.x, a.y))
        continue;
      farthest = std::max(farthest, greatest);
      ++looked;
    }
    CHECK(looked > 2000);
    CHECK(farthest < 1.25 * chord);  // the middles keep the chord; between them a little more
  }
}

TEST_CASE("no face of a guide with letters, windows and pads needs the general mesher") {
  const Tube tube{test::culm(460.0)};
  for (const GuidePlan& plan : plan_guides(tube, test::twenty_holes(tube), Shop{})) {
    const Solid guide = build_guide(plan, 0.0);
    CHECK(guide.meshing(guide_mesh_accuracy()).fallback.empty());
    const Mesh mesh = guide.mesh(guide_mesh_accuracy());
    CHECK(inspect(mesh).closed());
    // Bores are round to the chord of their edges: a twist drill of the nominal size passes.
    for (const GuideHole& hole : plan.holes) {
      const RigidMotion to_bore = rim_frame(hole.drilling).inverse();
      double narrowest = 1e300;
      for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        over_triangle(mesh, mesh.triangles[i], [&](Vec3 p) {
          const Vec3 q = to_bore.apply(p);
          if (q.z > -2.0 && q.z < hole.top + 0.01) narrowest = std::min(narrowest, std::hypot(q.x, q.y));
        });
      }
      CHECK(narrowest > hole.bore_radius - 0.01);
    }
  }
}

TEST_CASE("a face whose border cannot be followed is named, and the general mesher makes the whole") {
  const TopoDS_Shape box = BRepPrimAPI_MakeCylinder(5.0, 10.0).Shape();
  // An edge turned inward belongs to no border.
  BRep_Builder builder;
  TopoDS_Shape face = TopExp_Explorer(box, TopAbs_FACE).Current();
  TopoDS_Edge edge = TopoDS::Edge(TopExp_Explorer(face, TopAbs_EDGE).Current());
  const TopoDS_Shape wire = TopExp_Explorer(face, TopAbs_WIRE).Current();
  TopoDS_Shape freed = wire;
  freed.Free(true);
  builder.Add(freed, edge.Oriented(TopAbs_INTERNAL));
  try {
    const SolidMesh made = mesh_of("cylinder", box, fine);
    CHECK(made.how.fallback.find("face 1 (cylinder): an edge lies inside the face") == 0);
    CHECK_FALSE(made.mesh.triangles.empty());
  } catch (const GeometryError& error) {
    FAIL(error.what());
  }
}
