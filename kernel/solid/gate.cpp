#include "solid/gate.hpp"

#include <ShapeAnalysis_ShapeTolerance.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS_Shape.hxx>
#include <cmath>

#include "solid/guarded.hpp"
#include "solid/kernel_analysis.hpp"

namespace culmwright {

namespace {

constexpr double nudges[] = {0.0, 0.01, -0.01, 0.02};

int count(const TopoDS_Shape& shape, TopAbs_ShapeEnum kind) {
  TopTools_IndexedMapOfShape map;
  TopExp::MapShapes(shape, kind, map);
  return map.Extent();
}

int faces_outside_solids(const TopoDS_Shape& shape) {
  int found = 0;
  for (TopExp_Explorer at(shape, TopAbs_FACE, TopAbs_SOLID); at.More(); at.Next()) ++found;
  return found;
}

void hold_shape(const TopoDS_Shape& shape, GateReport& report) {
  report.equals("solids", count(shape, TopAbs_SOLID), 1);
  report.equals("faces outside the solid", faces_outside_solids(shape), 0);
  report.at_most("greatest tolerance", ShapeAnalysis_ShapeTolerance().Tolerance(shape, 1), gate_tolerance);
}

bool valid(const Solid& solid, const MeshAccuracy& accuracy) {
  // Without a fallback every face was triangulated from its own borders.
  const bool borders_proven = solid.meshing(accuracy).fallback.empty();
  return guarded(solid.name(), "gate", [&] { return valid_for_kernel(solid.occt_shape(), borders_proven); });
}

void hold_borders(const Solid& solid, const MeshAccuracy& accuracy, GateReport& report) {
  const Meshing how = solid.meshing(accuracy);
  if (how.fallback.empty()) {
    report.at_most("distance of borders from their faces", how.border_gap, gate_tolerance);
  }
}

/// Empty as well when there is no mesh at all: the gate said so.
std::string meshing_of(const Solid& solid, const MeshAccuracy& accuracy) {
  try {
    return solid.meshing(accuracy).fallback;
  } catch (const GeometryError&) {
    return {};
  }
}

}  // namespace

GateReport hold(const Solid& solid, const Expectation& expected, const MeshAccuracy& accuracy) {
  GateReport report;
  report.part = expected.part;
  Mesh mesh;
  try {
    guarded(expected.part, "gate", [&] {
      require(!solid.occt_shape().IsNull(), "an empty shape was brought to the gate");
      hold_shape(solid.occt_shape(), report);
    });
    mesh = solid.mesh(accuracy);
    report.equals("every face is meshed", 1, 1);
    hold_borders(solid, accuracy, report);
  } catch (const GeometryError& error) {
    report.equals(std::string("every face is meshed (") + error.what() + ")", 0, 1);
    return report;
  }
  hold_mesh(mesh, expected, accuracy.chord, report);
  // The kernel's own analysis costs most: asked only of what passed all else.
  if (report.sound()) report.equals("valid by the kernel's own analysis", valid(solid, accuracy), 1);
  return report;
}

void require_sound(const GateReport& report, const std::string& stage) {
  if (!report.sound()) throw GeometryError(report.part, stage, report.failures());
}

Solid build_sound(const std::function<Solid(double nudge)>& build, const Expectation& expected, GateLog& log,
                  const MeshAccuracy& accuracy) {
  for (const double nudge : nudges) {
    GateEntry entry{expected.part, nudge, {}, {}};
    try {
      Solid solid = build(nudge);
      const GateReport report = hold(solid, expected, accuracy);
      entry.failure = report.failures();
      entry.meshing = meshing_of(solid, accuracy);
      if (report.sound()) {
        log.push_back(entry);
        return solid;
      }
    } catch (const GeometryError& error) {
      entry.failure = error.what();
    }
    log.push_back(entry);
  }
  throw GeometryError(
      expected.part, "gate",
      std::to_string(std::size(nudges)) + " builds were refused; the last: " + log.back().failure);
}

}  // namespace culmwright
