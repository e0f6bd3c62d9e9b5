#include "solid/boolean.hpp"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <sstream>

#include "solid/guarded.hpp"

namespace culmwright {

namespace {

TopTools_ListOfShape list_of(const std::vector<TopoDS_Shape>& shapes) {
  TopTools_ListOfShape list;
  for (const TopoDS_Shape& shape : shapes) list.Append(shape);
  return list;
}

TopoDS_Solid one_sound_solid(const std::string& part, const std::string& step, const TopoDS_Shape& shape) {
  TopoDS_Solid solid;
  int solids = 0;
  for (TopExp_Explorer at(shape, TopAbs_SOLID); at.More(); at.Next(), ++solids) {
    solid = TopoDS::Solid(at.Current());
  }
  if (solids != 1)
    throw GeometryError(part, step, std::to_string(solids) + " solids came out; one is wanted");
  if (!BRepCheck_Analyzer(solid).IsValid())
    throw GeometryError(part, step, "the result is not a valid solid");
  GProp_GProps weight;
  BRepGProp::VolumeProperties(solid, weight);
  if (!(weight.Mass() > 0.0)) {
    throw GeometryError(part, step, "a volume of " + std::to_string(weight.Mass()) + " mm³ came out");
  }
  return solid;
}

TopoDS_Solid run(BRepAlgoAPI_BooleanOperation&& operation, const std::string& part, const std::string& step,
                 const TopoDS_Shape& body, const std::vector<TopoDS_Shape>& tools) {
  return guarded(part, step, [&] {
    operation.SetArguments(list_of({body}));
    operation.SetTools(list_of(tools));
    operation.SetNonDestructive(true);
    operation.SetRunParallel(false);
    operation.Build();
    if (!operation.IsDone() || operation.HasErrors()) {
      std::ostringstream alerts;
      operation.DumpErrors(alerts);
      throw GeometryError(part, step, alerts.str().empty() ? "the boolean was not done" : alerts.str());
    }
    return one_sound_solid(part, step, operation.Shape());
  });
}

}  // namespace

TopoDS_Solid cut(const std::string& part, const std::string& step, const TopoDS_Shape& body,
                 const std::vector<TopoDS_Shape>& tools) {
  return run(BRepAlgoAPI_Cut(), part, step, body, tools);
}

TopoDS_Solid fuse(const std::string& part, const std::string& step, const TopoDS_Shape& body,
                  const std::vector<TopoDS_Shape>& more) {
  return run(BRepAlgoAPI_Fuse(), part, step, body, more);
}

}  // namespace culmwright
