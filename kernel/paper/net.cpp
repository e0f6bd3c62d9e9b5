#include "paper/net.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

namespace {

constexpr double turn = 2.0 * pi;

Box span_of(const std::vector<Vec2>& points) {
  Box box{points.front().x, points.front().y, points.front().x, points.front().y};
  for (Vec2 p : points) box = box.joined({p.x, p.y, p.x, p.y});
  return box;
}

bool same(Vec2 a, Vec2 b) {
  return a.x == b.x && a.y == b.y;
}

}  // namespace

Net::Net(Development development, Angle seam, double tab)
    : development_(std::move(development)), seam_(seam.radians()), tab_(tab) {
  // The reference line lies between the edges.
  const double line = development_.line(development_.at_from()).radians();
  seam_ += turn * std::floor((line - seam_) / turn);
}

Box Net::window() const {
  return {seam_, development_.at_from(), seam_ + turn, development_.at_to()};
}

double Net::on_net(double theta) const {
  return theta - turn * std::floor((theta - seam_) / turn);
}

Vec2 Net::flat(Vec2 p) const {
  return development_.unroll(Development::Ray{Angle::from_radians(p.x), p.y});
}

std::vector<SkinCurve> Net::turned_copies(const SkinCurve& curve) const {
  std::vector<SkinCurve> copies;
  if (curve.points.empty()) return copies;
  const Box span = span_of(curve.points);
  const double first = std::ceil((seam_ - span.right) / turn);
  const double last = std::floor((seam_ + turn - span.left) / turn);
  for (double k = first; k <= last; k += 1.0) {
    SkinCurve copy = curve;
    for (Vec2& p : copy.points) p.x += k * turn;
    if (span_of(copy.points).overlaps(window())) copies.push_back(copy);
  }
  return copies;
}

std::vector<Polyline> Net::flat(const SkinCurve& curve) const {
  std::vector<Polyline> lines;
  for (SkinCurve copy : turned_copies(curve)) {
    if (copy.closed) copy.points.push_back(copy.points.front());
    std::vector<Polyline> pieces = clipped(copy.points, window());
    if (copy.closed && pieces.size() > 1 && same(pieces.back().back(), copy.points.front()) &&
        same(pieces.front().front(), copy.points.front())) {
      // The curve's own first point lies on the net: what ends there goes on.
      pieces.back().insert(pieces.back().end(), pieces.front().begin() + 1, pieces.front().end());
      pieces.erase(pieces.begin());
    }
    for (Polyline piece : pieces) {
      for (Vec2& p : piece) p = flat(p);
      lines.push_back(piece);
    }
  }
  return lines;
}

std::vector<Polyline> Net::flat_inside(const SkinCurve& curve) const {
  std::vector<Polyline> polygons;
  for (const SkinCurve& copy : turned_copies(curve)) {
    Polyline part = clipped_polygon(copy.points, window());
    if (part.size() < 3) continue;
    for (Vec2& p : part) p = flat(p);
    polygons.push_back(part);
  }
  return polygons;
}

Polyline Net::outline() const {
  Polyline line;
  const Box w = window();
  constexpr int count = 240;
  for (int i = 0; i <= count; ++i) line.push_back(flat({w.left + turn * i / count, w.top}));
  for (int i = count; i >= 0; --i) line.push_back(flat({w.left + turn * i / count, w.bottom}));
  line.push_back(line.front());
  return line;
}

Polyline Net::seam_line() const {
  return {flat({window().right, window().top}), flat({window().right, window().bottom})};
}

Polyline Net::tab_outline() const {
  const Box w = window();
  const auto beyond = [&](double at) { return tab_ * turn / development_.girth(at); };
  const double slant = std::min(0.7 * tab_, 0.2 * w.height());
  return {flat({w.right, w.top}), flat({w.right + beyond(w.top), w.top + slant}),
          flat({w.right + beyond(w.bottom), w.bottom - slant}), flat({w.right, w.bottom})};
}

Box Net::bounds() const {
  return span_of(outline()).joined(span_of(tab_outline()));
}

}  // namespace culmwright
