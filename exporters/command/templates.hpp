#pragma once
/// The paper templates of a job: one way for every command that draws them.
#include <string>
#include <vector>

#include "command/gather.hpp"
#include "command/tolerance_text.hpp"
#include "drawing/drawing.hpp"

namespace culmwright::command {

enum class Stretch {
  internodes,  ///< one template for each internode that holds a hole or a part
  whole        ///< one from cut to cut
};

struct NamedDrawing {
  std::string stem;  ///< "run-1", "run-2" … or "whole"
  Drawing drawing;
};

/// Wrap templates with the key layout's limits, the survey's error and the tolerance of the holes
/// (tolerance_of) on them. Throws InputError when the paper is too small, GeometryError when a name finds no
/// place.
std::vector<NamedDrawing> templates_of(const Job& job, const Shop& shop, Stretch stretch,
                                       const JobTolerance& tolerance);

/// Outlines of touches, sliders and rests to cut from foam, stem "patches". Throws like the above.
NamedDrawing patches_of(const Job& job, const Shop& shop);

}  // namespace culmwright::command
