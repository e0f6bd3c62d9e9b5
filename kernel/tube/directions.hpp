#pragma once
/// The directions, defined once, for every file, picture and function.
///
///            end A (up)                        seen from end A, looking down the tube
///        ,-----|-----.  z                                   y  player's left
///        |     |     |  ^                                   |
///        |     o     |  |  o = datum mark, at = 0           |
///        |     |     |  |  | = reference line            ,--+--.
///        |     |---->|  |      around grows to           |  |  |   θ from x toward y
///        |     |     |  |      the RIGHT of the one      |  +--|--o----> x  reference line,
///        |     |     |  '-     who looks at it, the      |     |            towards the one
///        |     |     |         player's LEFT             `-----'            who looks at it
///        `-----|-----'
///            end B              at = −z
///
/// - The z axis is the straight line between the end centres (with survey plates: the line between the
/// plates),
///   up toward end A; x toward the reference line; y to the right of the onlooker; right-handed. z = 0 is the
///   section of the datum mark, so at = −z: `at` grows from A to B and is measured along that straight axis.
/// - A direction θ in a section turns from x toward y.
/// - The reference line is straight: where the skin meets the half plane y = 0, x > 0. On a bent or oval tube
/// the
///   outward normal there is not at θ = 0; `around` is the arc length on the skin, in the section, from the
///   line.
/// - A place on the skin is (at, around), never (at, θ): on lobed skin the two differ by a millimetre.
#include "base/angle.hpp"
#include "base/vec.hpp"

namespace culmwright {

/// The ends as the maker marked them before anything was decided.
enum class End { a, b };

/// A place on the skin. `around` in millimetres of arc from the reference line, positive to the player's
/// left.
struct SkinPlace {
  double at = 0.0;
  double around = 0.0;
};

/// The unit vector in a section at direction θ, and the one a quarter turn ahead of it.
inline Vec2 direction(Angle theta) {
  return {theta.cos(), theta.sin()};
}
inline Vec2 tangent(Angle theta) {
  return {-theta.sin(), theta.cos()};
}

}  // namespace culmwright
