#include "solid/kernel_analysis.hpp"

#include <BRepCheck_Analyzer.hxx>
#include <BRepCheck_Shell.hxx>
#include <BRep_Builder.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Shell.hxx>
#include <vector>

#include "solid/proven_borders.hpp"

namespace culmwright {

namespace {

/// Faces on their way to the kernel's analysis, proven borders judged and left out, others that keep clear
/// each on a face of its own.
class Lightened {
 public:
  Lightened() { builder_.MakeCompound(faces_); }

  /// False: a proven border does not lie on its face.
  bool take(const TopoDS_Face& given) {
    const TopoDS_Face face = TopoDS::Face(given.Oriented(TopAbs_FORWARD));
    const SortedWires wires = sorted_wires(face);
    if (!lie_on_face(wires.proven, face)) return false;
    const bool untouched = wires.proven.empty() && wires.alone.size() + wires.together.size() <= 1;
    if (untouched) {
      builder_.Add(faces_, given);
      return true;
    }
    for (const TopoDS_Wire& wire : wires.alone) add(face, {wire});
    if (!wires.together.empty()) add(face, wires.together);
    return true;
  }

  bool rest_valid() const { return BRepCheck_Analyzer(faces_).IsValid(); }

 private:
  void add(const TopoDS_Face& face, const std::vector<TopoDS_Wire>& wires) {
    TopoDS_Face copy = TopoDS::Face(face.EmptyCopied());
    for (const TopoDS_Wire& wire : wires) builder_.Add(copy, wire);
    builder_.Add(faces_, copy);
  }

  BRep_Builder builder_;
  TopoDS_Compound faces_;
};

bool shell_valid(const TopoDS_Shell& shell) {
  BRepCheck_Shell check(shell);
  return check.Closed() == BRepCheck_NoError && check.Orientation() == BRepCheck_NoError;
}

}  // namespace

bool valid_for_kernel(const TopoDS_Shape& solid, bool borders_proven) {
  TopTools_IndexedMapOfShape shells;
  TopExp::MapShapes(solid, TopAbs_SHELL, shells);
  if (!borders_proven || solid.ShapeType() != TopAbs_SOLID || shells.Extent() != 1) {
    return BRepCheck_Analyzer(solid).IsValid();
  }
  if (!shell_valid(TopoDS::Shell(shells(1)))) return false;
  Lightened faces;
  for (TopExp_Explorer at(solid, TopAbs_FACE); at.More(); at.Next()) {
    if (!faces.take(TopoDS::Face(at.Current()))) return false;
  }
  return faces.rest_valid();
}

}  // namespace culmwright
