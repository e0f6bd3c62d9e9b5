#pragma once
/// What cannot be true of the cups of a key layout or a shop; part of check_values.hpp. Pointers are those of
/// the JSON documents.
#include <string>

#include "base/problem.hpp"
#include "layout/key_layout.hpp"

namespace culmwright {

/// `pointer`: of the key's cup_shape.
void check_cup_shape(Problems& problems, const Key& key, const std::string& pointer);
void check_cup_defaults(Problems& problems, const CupDefaults& cups, const std::string& pointer);

}  // namespace culmwright
