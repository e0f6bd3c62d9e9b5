#pragma once
/// The solid parts of an instrument, planned and made (printed.hpp).
#include <functional>
#include <string>
#include <vector>

#include "command/gather.hpp"
#include "command/printed.hpp"
#include "plan/guide_plan.hpp"

namespace culmwright::command {

/// Tube body, guides, depth sleeves, cups, fitted parts and collars, in that order; a part that fails says so in `refused`. `say`: progress.
/// Parts are made on all cores; the same job gives the same bytes.
std::vector<MadePart> make_parts(const Job& job, const Shop& shop,
                                 const std::function<void(const std::string&)>& say);

/// The guides of a job alone, in the order of `plans`; one that fails says so in `refused`.
std::vector<MadePart> make_guides(const Job& job, const Shop& shop, const std::vector<GuidePlan>& plans,
                                  const std::function<void(const std::string&)>& say);

/// Survey plates for both ends of a piece.
std::vector<MadePart> make_plates(const TubeFit& fit);

}  // namespace culmwright::command
