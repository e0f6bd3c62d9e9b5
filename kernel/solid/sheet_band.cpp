#include "solid/sheet_band.hpp"

#include <algorithm>

#include "solid/curves.hpp"
#include "solid/spline.hpp"

namespace culmwright {

namespace {

/// The sheet's own places along, and one between each two.
std::vector<double> places_along(const Sheet& sheet) {
  std::vector<double> at{sheet.at.front()};
  for (std::size_t i = 1; i < sheet.at.size(); ++i) {
    at.push_back(0.5 * (sheet.at[i - 1] + sheet.at[i]));
    at.push_back(sheet.at[i]);
  }
  return at;
}

}  // namespace

SheetBand add_band(DirectBuilder& make, FlatFaces& flat, const Sheet& sheet, const Span& at, Vec3 point,
                   Vec3 normal, double half, FaceSide side) {
  SheetBand band;
  TopoDS_Vertex vertex[2][2];
  double theta_at[2][2];
  const std::vector<double> places = places_along(sheet);
  for (int k = 0; k < 2; ++k) {
    double theta = sheet.face.middle() + (k == 0 ? -half : half);
    std::vector<Vec2> on_sheet;
    std::vector<Vec3> points;
    for (const double place : places) {
      theta = meet_plane(sheet.surface, point, normal, theta, place);
      on_sheet.push_back({theta, place});
      points.push_back(vec_of(sheet.surface->Value(theta, place)));
    }
    for (int end = 0; end < 2; ++end) {
      theta_at[k][end] = end == 0 ? on_sheet.front().x : on_sheet.back().x;
      vertex[k][end] = make.vertex(end == 0 ? points.front() : points.back());
      band.corner[k][end] = flat.corner(end == 0 ? points.front() : points.back(), vertex[k][end]);
    }
    band.along[k] =
        make.edge(curve_through(places, points), places.front(), places.back(), vertex[k][0], vertex[k][1]);
    make.lay(band.along[k], sheet.surface, curve_through(places, on_sheet),
             5 * static_cast<int>(places.size()));
  }
  for (int end = 0; end < 2; ++end) {
    const double place = end == 0 ? at.from : at.to;
    const Handle(Geom_BSplineCurve) curve = Handle(Geom_BSplineCurve)::DownCast(sheet.surface->VIso(place));
    curve->Segment(theta_at[0][end], theta_at[1][end]);
    band.across[end] = make.edge(curve, theta_at[0][end], theta_at[1][end], vertex[0][end], vertex[1][end]);
    make.lay(band.across[end], sheet.surface, line_2d({0.0, place}, {1.0, 0.0}), 64);
  }
  make.face(
      sheet.surface, side,
      {{{band.across[0], true}, {band.along[1], true}, {band.across[1], false}, {band.along[0], false}}});
  return band;
}

WirePath turned_round(const WirePath& path) {
  WirePath other(path.rbegin(), path.rend());
  for (EdgeUse& use : other) use.forward = !use.forward;
  return other;
}

}  // namespace culmwright
