#pragma once
/// Small printed parts of an instrument together on the bed, on their way to files.
#include <string>
#include <vector>

#include "command/printed.hpp"
#include "layout/shop.hpp"

namespace culmwright::command {

/// One print of several parts each: 3MF with every part an object of its own name, STL with all of them,
/// under "plates/". Taken are key cups and fitted parts; a part that no bed has room for stays in its own
/// file only. `label`: what stands before the plate's number in its files. The record tells where each part
/// lies: the part's own STL turned by `turned_deg` to the left about its corner at x = y = 0 and then set
/// down with its box's lower left corner at `x`, `y` of the bed. No plate where there are fewer than two such
/// parts.
std::vector<MadePart> bed_plates(const std::vector<MadePart>& parts, const Shop& shop,
                                 const std::string& label);

}  // namespace culmwright::command
