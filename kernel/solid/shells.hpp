#pragma once
/// Faces that were put into one shell, sorted into the shells they make.
#include "solid/solid.hpp"

namespace culmwright {

/// The same solid with one shell for each set of faces joined by edges: the outside, and one around each
/// void.
Solid with_separate_shells(const Solid& solid);

}  // namespace culmwright
