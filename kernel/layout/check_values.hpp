#pragma once
/// What cannot be true of a key layout, a shop, a placement or a workshop by itself, and of a placement
/// beside the tube and key layout that it names. No solved geometry. Pointers are those of the JSON
/// documents. A number that is NaN (a value that could not be read and was reported already) raises no
/// problem.
#include "base/problem.hpp"
#include "layout/key_layout.hpp"
#include "layout/placement.hpp"
#include "layout/shop.hpp"
#include "layout/workshop.hpp"
#include "tube/survey.hpp"

namespace culmwright {

Problems check_key_layout(const KeyLayout& layout);
Problems check_shop(const Shop& shop);
Problems check_placement(const Placement& placement);
Problems check_workshop(const Workshop& workshop);

/// The placement against its tube and key layout: cuts and places on the tube, ids known, length as the key
/// layout wants it. Precondition: each passed its own check.
Problems check_placement_on(const Placement& placement, const Survey& survey, const KeyLayout& layout);

}  // namespace culmwright
