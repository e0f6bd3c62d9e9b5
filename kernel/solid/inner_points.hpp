#pragma once
/// Where the mesh of a face gets its points inside the border.
#include <array>
#include <vector>

#include "base/vec.hpp"

namespace culmwright {

/// Points one cell apart, every second row half a cell aside, inside a region of the plane [0, columns] × [0,
/// rows]: an odd number of its sides lies between each of them and infinity. Those nearer than 0.4 cells to a
/// side are left out: the border's own points serve there.
std::vector<Vec2> inner_points(const std::vector<Vec2>& corners, const std::vector<std::array<int, 2>>& sides,
                               int columns, int rows);

}  // namespace culmwright
