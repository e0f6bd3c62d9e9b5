#pragma once
/// The words of a wrap template: how to check, join and wrap it, and how true it is.
#include <set>
#include <string>
#include <vector>

#include "paper/sheet_words.hpp"
#include "paper/wrap_features.hpp"
#include "paper/wrap_template.hpp"

namespace culmwright {

/// Before the sheets are laid out it is not known how many there will be: `several` says whether they are
/// joined.
Block wrap_block(bool several);
Block truth_block(const Tube& tube, const Development& development, double paper_thickness,
                  const TemplateNotes& notes);
/// How true holes come out of the printed guides, in as many blocks as the height of a column asks for.
std::vector<Block> guided_blocks(const std::vector<HoleTolerance>& holes, double column_height);

/// The signs that any sheet of the template may carry, for the room the legend needs.
std::set<Sign> all_signs(const std::vector<Feature>& features, const Tube& tube,
                         const Instrument& instrument);

}  // namespace culmwright
