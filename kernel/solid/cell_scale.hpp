#pragma once
/// How finely a surface must be divided along each of its parameters, as a change of scale: in cells instead
/// of parameters, a step of one keeps the chord everywhere.
#include <Geom_Surface.hxx>
#include <vector>

#include "base/vec.hpp"

namespace culmwright {

/// A rising function from a parameter to a number of cells, linear between its places.
class CellScale {
 public:
  /// `density[i]`: cells per unit of the parameter between places i and i + 1. The whole is stretched a
  /// little so that it holds a whole number of cells, one at least, `most` at most. Precondition: places
  /// rise; density positive.
  CellScale(std::vector<double> places, const std::vector<double>& density, int most);
  /// Plainly proportional, with any number of cells for the whole; counts as one.
  static CellScale even(double low, double high, double cells);

  int count() const { return count_; }
  double cells(double parameter) const;
  double parameter(double cells) const;

 private:
  CellScale() = default;
  std::vector<double> places_;
  std::vector<double> cells_;
  int count_ = 1;
};

struct ParameterBox {
  Vec2 low;
  Vec2 high;
};

struct SurfaceCells {
  CellScale u;
  CellScale v;
  Vec2 cells(Vec2 uv) const { return {u.cells(uv.x), v.cells(uv.y)}; }
  Vec2 parameters(Vec2 cells) const { return {u.parameter(cells.x), v.parameter(cells.y)}; }
};

/// The scales of a surface within a box: along each parameter a cell's chord departs by half of `chord` at
/// the most bent place across, a cell turns by `angle` at most and is no longer than 15 mm. From the control
/// points of a B-spline, otherwise from samples.
SurfaceCells surface_cells(const Handle(Geom_Surface) & surface, const ParameterBox& box, double chord,
                           double angle);

/// Both scales proportional, in millimetres at the middle of the box: for planes.
SurfaceCells even_cells(const Handle(Geom_Surface) & surface, const ParameterBox& box);

}  // namespace culmwright
