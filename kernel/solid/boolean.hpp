#pragma once
/// Named booleans. Each is checked before its result goes on: done without errors, valid by the kernel's own
/// analysis, one solid, positive volume. Otherwise GeometryError names the part, the step and the sizes.
#include <TopoDS_Shape.hxx>
#include <TopoDS_Solid.hxx>
#include <string>
#include <vector>

namespace culmwright {

/// `step` in plain words: "holes out of the tube".
TopoDS_Solid cut(const std::string& part, const std::string& step, const TopoDS_Shape& body,
                 const std::vector<TopoDS_Shape>& tools);
TopoDS_Solid fuse(const std::string& part, const std::string& step, const TopoDS_Shape& body,
                  const std::vector<TopoDS_Shape>& more);

}  // namespace culmwright
