#pragma once
/// The solid parts of an instrument, planned and made (printed.hpp).
#include <functional>
#include <string>
#include <vector>

#include "command/gather.hpp"
#include "command/printed.hpp"

namespace culmwright::command {

/// Guides, cups and tube body, in that order; a part that fails says so in `refused`. `say`: progress.
/// Parts are made on all cores; the same job gives the same bytes.
std::vector<MadePart> make_parts(const Job& job, const Shop& shop,
                                 const std::function<void(const std::string&)>& say);

/// Survey plates for both ends of a piece.
std::vector<MadePart> make_plates(const TubeFit& fit);

}  // namespace culmwright::command
