#include "solid/shells.hpp"

#include <BRep_Builder.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedDataMapOfShapeListOfShape.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <map>
#include <numeric>
#include <vector>

namespace culmwright {

Solid with_separate_shells(const Solid& solid) {
  TopTools_IndexedMapOfShape faces;
  std::vector<TopoDS_Shape> oriented;
  for (TopExp_Explorer at(solid.occt_shape(), TopAbs_FACE); at.More(); at.Next()) {
    faces.Add(at.Current());
    oriented.push_back(at.Current());
  }
  std::vector<int> root(oriented.size());
  std::iota(root.begin(), root.end(), 0);
  const auto find = [&](int i) {
    while (root[i] != i) i = root[i] = root[root[i]];
    return i;
  };
  TopTools_IndexedDataMapOfShapeListOfShape around;
  TopExp::MapShapesAndAncestors(solid.occt_shape(), TopAbs_EDGE, TopAbs_FACE, around);
  for (int i = 1; i <= around.Extent(); ++i) {
    const int first = faces.FindIndex(around(i).First()) - 1;
    for (const TopoDS_Shape& face : around(i)) root[find(faces.FindIndex(face) - 1)] = find(first);
  }
  const BRep_Builder builder;
  std::map<int, TopoDS_Shell> shells;
  for (std::size_t i = 0; i < oriented.size(); ++i) {
    TopoDS_Shell& shell = shells[find(static_cast<int>(i))];
    if (shell.IsNull()) builder.MakeShell(shell);
    builder.Add(shell, oriented[i]);
  }
  TopoDS_Solid result;
  builder.MakeSolid(result);
  for (auto& [number, shell] : shells) {
    shell.Closed(true);
    builder.Add(result, shell);
  }
  return Solid(solid.name(), result);
}

}  // namespace culmwright
