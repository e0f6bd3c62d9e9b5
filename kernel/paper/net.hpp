#pragma once
/// The flat net of a run: a development cut open along a ruling, the seam, with a tab to glue it shut. Curves
/// of the skin are cut to it; what crosses the seam appears at both edges.
#include "drawing/plane.hpp"
#include "paper/development.hpp"
#include "paper/skin_curve.hpp"

namespace culmwright {

class Net {
 public:
  /// `seam`: θ of the ruling along which the paper is cut; the net goes from there once around.
  /// `tab`: width of the glue tab beyond the right edge.
  Net(Development development, Angle seam, double tab);

  const Development& development() const { return development_; }
  double seam() const { return seam_; }
  /// The net's window in (θ, at).
  Box window() const;
  /// θ brought onto the net.
  double on_net(double theta) const;

  Vec2 flat(Vec2 theta_at) const;
  /// The parts of a curve that lie on the net, flat. A closed curve that is not cut comes back with its first
  /// point repeated at the end.
  std::vector<Polyline> flat(const SkinCurve& curve) const;
  /// The parts of a closed curve's inside, as polygons.
  std::vector<Polyline> flat_inside(const SkinCurve& curve) const;

  Polyline outline() const;      ///< closed: ends where it begins
  Polyline tab_outline() const;  ///< open: from the top of the right edge around the tab to its foot
  Polyline seam_line() const;    ///< the right edge
  Box bounds() const;            ///< of outline and tab

 private:
  std::vector<SkinCurve> turned_copies(const SkinCurve& curve) const;

  Development development_;
  double seam_;
  double tab_;
};

}  // namespace culmwright
