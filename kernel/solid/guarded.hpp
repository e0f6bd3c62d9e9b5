#pragma once
/// The one way into OpenCASCADE. Its exceptions are no std::exception; here they become a GeometryError that
/// names the part and the stage.
#include <Standard_Failure.hxx>
#include <string>
#include <utility>

#include "base/problem.hpp"

namespace culmwright {

/// What the failure says of itself: its type, and its message if it has one.
std::string failure_text(const Standard_Failure& failure);

/// Runs `work` and returns its result. Throws GeometryError(part, stage, …) in place of a Standard_Failure;
/// every other exception passes through. `part` and `stage` in plain words: "guide 2", "mesh of a face".
template <class Work>
auto guarded(const std::string& part, const std::string& stage, Work&& work) {
  try {
    return std::forward<Work>(work)();
  } catch (const Standard_Failure& failure) {
    throw GeometryError(part, stage, failure_text(failure));
  }
}

}  // namespace culmwright
