#pragma once
/// STEP of an assembly: every part a product of its own name, placed once.
#include <string>
#include <vector>

#include "base/vec.hpp"
#include "solid/solid.hpp"

namespace culmwright {

/// A solid in its own frame, and where that frame stands in the assembly.
struct AssemblyPart {
  std::string name;
  Solid solid;
  RigidMotion place;
};

/// The text of the file: a product `name`, and under it one product and one placed occurrence for each part,
/// in the order given, both called by the part's name (ASCII as in step_text). Millimetres, no colours. The
/// same parts give the same bytes. Throws GeometryError when the kernel cannot translate a solid.
/// Precondition: at least one part.
std::string step_assembly_text(const std::vector<AssemblyPart>& parts, const std::string& name);

}  // namespace culmwright
