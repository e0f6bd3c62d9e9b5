#pragma once
/// STEP (ISO 10303-21), application protocol 214: what other design programs read. One part a file.
#include <string>

#include "solid/solid.hpp"

namespace culmwright {

/// The text of the file: one product named `name` (ASCII; other bytes become '-'), millimetres, the solid in
/// its own frame. The header's time is fixed, so the same solid gives the same bytes. Surfaces are written
/// without curves in their parameter planes, which halves the file; readers derive them.
/// Throws GeometryError when the kernel cannot translate the solid.
std::string step_text(const Solid& solid, const std::string& name);

}  // namespace culmwright
