#include "solid/cradle_solid.hpp"

#include <algorithm>
#include <cmath>

#include "solid/curves.hpp"
#include "solid/flat_faces.hpp"
#include "solid/guarded.hpp"
#include "solid/sheet.hpp"
#include "solid/spline.hpp"

namespace culmwright {

namespace {

using namespace cradle_sizes;

/// Texts that stand in a plane.
std::vector<WirePath> texts_in(FlatFaces& flat, const std::vector<PlaneText>& texts, Vec3 point,
                               Vec3 normal) {
  std::vector<WirePath> holes;
  for (const PlaneText& text : texts) {
    const bool here =
        dot(text.frame.z, normal) > 0.999999 && std::abs(dot(text.frame.origin - point, normal)) < 1e-6;
    if (!here) continue;
    for (WirePath& hole : flat.engraved(text.frame, text.strokes, engraving))
      holes.push_back(std::move(hole));
  }
  return holes;
}

class CradleBuilder {
 public:
  CradleBuilder(const CradleSet& set, const CradleBody& body, double nudge)
      : set_(set),
        body_(body),
        make_(body.name),
        flat_(make_),
        frame_(set.frame(body.at.middle())),
        sheet_(make_sheet(body.inner, body.at, nudge)),
        profile_(set.profile(body)) {}

  Solid build() {
    make_.stage("channel");
    add_channel();
    make_.stage("foot and sides");
    for (std::size_t end = 0; end < 2; ++end) {
      for (const Vec2& p : profile_) outer_[end].push_back(flat_.corner(point(p, end)));
    }
    for (std::size_t i = 0; i + 1 < profile_.size(); ++i) add_profile_side(i);
    make_.stage("lands and ends");
    add_land(0);
    add_land(1);
    add_end(0);
    add_end(1);
    return make_.finish();
  }

 private:
  double w_of(std::size_t end) const { return (end == 0 ? -0.5 : 0.5) * body_.at.length(); }
  double at_of(std::size_t end) const { return end == 0 ? body_.at.from : body_.at.to; }
  Vec3 point(Vec2 p, std::size_t end) const { return frame_.apply({p.x, p.y, w_of(end)}); }

  double land_theta(double at, double guess) const {
    return meet_plane(sheet_.surface, frame_.apply({0, body_.land, 0}), frame_.y, guess, at);
  }

  /// Edges of the channel: along the lands (side 0 toward lesser θ) and across the ends.
  void add_channel() {
    std::vector<double> at{sheet_.at.front()};
    for (std::size_t i = 1; i < sheet_.at.size(); ++i) {
      at.push_back(0.5 * (sheet_.at[i - 1] + sheet_.at[i]));
      at.push_back(sheet_.at[i]);
    }
    for (int side = 0; side < 2; ++side) {
      double theta = body_.inner.middle() + (side == 0 ? -1.0 : 1.0) * hug_deg * pi / 180.0;
      std::vector<Vec2> places;
      std::vector<Vec3> points;
      for (const double place : at) {
        theta = land_theta(place, theta);
        places.push_back({theta, place});
        points.push_back(vec_of(sheet_.surface->Value(theta, place)));
      }
      for (std::size_t end = 0; end < 2; ++end) {
        const Vec3 p = end == 0 ? points.front() : points.back();
        rim_theta_[side][end] = end == 0 ? places.front().x : places.back().x;
        rim_vertex_[side][end] = make_.vertex(p);
        rim_corner_[side][end] = flat_.corner(p, rim_vertex_[side][end]);
      }
      rim_[side] = make_.edge(curve_through(at, points), at.front(), at.back(), rim_vertex_[side][0],
                              rim_vertex_[side][1]);
      make_.lay(rim_[side], sheet_.surface, curve_through(at, places), 5 * static_cast<int>(at.size()));
    }
    for (std::size_t end = 0; end < 2; ++end) {
      const double from = rim_theta_[0][end];
      const double to = rim_theta_[1][end];
      const Handle(Geom_BSplineCurve) curve =
          Handle(Geom_BSplineCurve)::DownCast(sheet_.surface->VIso(at_of(end)));
      curve->Segment(from, to);
      across_[end] = make_.edge(curve, from, to, rim_vertex_[0][end], rim_vertex_[1][end]);
      make_.lay(across_[end], sheet_.surface, line_2d({0.0, at_of(end)}, {1.0, 0.0}), 64);
    }
    make_.face(sheet_.surface, FaceSide::along,
               {{{across_[0], true}, {rim_[1], true}, {across_[1], false}, {rim_[0], false}}});
  }

  /// A side of the profile, drawn out along the tube; the first and the last have a mouth of the tunnel.
  void add_profile_side(std::size_t i) {
    const Vec2 along = unit(profile_[i + 1] - profile_[i]);
    const Vec3 normal = frame_.turn({along.y, -along.x, 0.0});
    const Vec3 on = frame_.apply({profile_[i].x, profile_[i].y, 0.0});
    std::vector<WirePath> wires{
        flat_.loop({outer_[0][i], outer_[0][i + 1], outer_[1][i + 1], outer_[1][i]}, normal)};
    const bool first = i == 0;
    if (first || i + 2 == profile_.size()) wires.push_back(tunnel_mouth(first ? 0 : 1, normal));
    for (WirePath& hole : texts_in(flat_, body_.texts, on, normal)) wires.push_back(std::move(hole));
    flat_.face(on, normal, wires);
    if (i + 2 == profile_.size()) add_tunnel();
  }

  WirePath tunnel_mouth(std::size_t side, Vec3 normal) {
    const double u = side == 0 ? -set_.half_width : set_.half_width;
    const double w = set_.tunnel_half;
    for (const Vec2& p : {Vec2{set_.tunnel.from, -w}, Vec2{set_.tunnel.from, w}, Vec2{set_.tunnel.to, w},
                          Vec2{set_.tunnel.to, -w}}) {
      tunnel_[side].push_back(flat_.corner(frame_.apply({u, p.x, p.y})));
    }
    return flat_.loop(tunnel_[side], normal, false);
  }

  void add_tunnel() {
    // Into the tunnel: the floor looks up, the roof down, its sides at each other.
    const Vec3 inward[4] = {frame_.y, -frame_.z, -frame_.y, frame_.z};
    const Vec3 on[4] = {{0, set_.tunnel.from, 0},
                        {0, set_.tunnel.from, set_.tunnel_half},
                        {0, set_.tunnel.to, 0},
                        {0, set_.tunnel.from, -set_.tunnel_half}};
    for (std::size_t k = 0; k < 4; ++k) {
      const std::size_t next = (k + 1) % 4;
      flat_.face(frame_.apply(on[k]), inward[k],
                 {flat_.loop({tunnel_[0][k], tunnel_[0][next], tunnel_[1][next], tunnel_[1][k]}, inward[k])});
    }
  }

  /// Land 0 lies beside lesser θ, that is toward greater u.
  void add_land(int side) {
    const std::size_t i = side == 0 ? profile_.size() - 1 : 0;
    const EdgeUse out_b = flat_.side(rim_corner_[side][1], outer_[1][i]);
    const EdgeUse back = flat_.side(outer_[1][i], outer_[0][i]);
    const EdgeUse in_a = flat_.side(outer_[0][i], rim_corner_[side][0]);
    WirePath path{{rim_[side], true}, out_b, back, in_a};
    if (side == 1) {
      std::reverse(path.begin(), path.end());
      for (EdgeUse& use : path) use.forward = !use.forward;
    }
    flat_.face(frame_.apply({0, body_.land, 0}), frame_.y, {path});
  }

  void add_end(std::size_t end) {
    const std::size_t last = profile_.size() - 1;
    WirePath path;
    for (std::size_t i = 0; i < last; ++i) path.push_back(flat_.side(outer_[end][i], outer_[end][i + 1]));
    path.push_back(flat_.side(outer_[end][last], rim_corner_[0][end]));
    path.push_back({across_[end], true});
    path.push_back(flat_.side(rim_corner_[1][end], outer_[end][0]));
    if (end == 0) {
      std::reverse(path.begin(), path.end());
      for (EdgeUse& use : path) use.forward = !use.forward;
    }
    flat_.face(point({0, 0}, end), end == 0 ? -frame_.z : frame_.z, {path});
  }

  const CradleSet& set_;
  const CradleBody& body_;
  DirectBuilder make_;
  FlatFaces flat_;
  RigidMotion frame_;
  Sheet sheet_;
  std::vector<Vec2> profile_;
  std::vector<int> outer_[2];  ///< corners of the profile at each end
  std::vector<int> tunnel_[2];
  TopoDS_Edge rim_[2];
  TopoDS_Edge across_[2];
  TopoDS_Vertex rim_vertex_[2][2];  ///< [side][end]
  int rim_corner_[2][2] = {};
  double rim_theta_[2][2] = {};
};

Solid build_wedge(const CradleWedge& wedge) {
  DirectBuilder make(wedge.part());
  FlatFaces flat(make);
  const std::vector<Vec2> outline = profile(wedge);
  std::vector<int> ends[2];
  for (int end = 0; end < 2; ++end) {
    for (const Vec2& p : outline)
      ends[end].push_back(flat.corner({p.x, p.y, (end == 0 ? -0.5 : 0.5) * wedge_length}));
  }
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const std::size_t next = (i + 1) % outline.size();
    const Vec2 along = unit(outline[next] - outline[i]);
    const Vec3 normal{along.y, -along.x, 0.0};
    const Vec3 on{outline[i].x, outline[i].y, 0.0};
    std::vector<WirePath> wires{flat.loop({ends[0][i], ends[0][next], ends[1][next], ends[1][i]}, normal)};
    for (WirePath& hole : texts_in(flat, wedge.texts, on, normal)) wires.push_back(std::move(hole));
    flat.face(on, normal, wires);
  }
  for (int end = 0; end < 2; ++end) {
    const Vec3 normal{0, 0, end == 0 ? -1.0 : 1.0};
    flat.face({0, 0, normal.z * 0.5 * wedge_length}, normal, {flat.loop(ends[end], normal)});
  }
  return make.finish();
}

}  // namespace

Solid build_cradle(const CradleSet& set, const CradleBody& body, double nudge) {
  return guarded(body.name, "building face by face", [&] { return CradleBuilder(set, body, nudge).build(); });
}

Solid cradle_solid(const CradleSet& set, const CradleBody& body, GateLog& log) {
  return build_sound([&](double nudge) { return build_cradle(set, body, nudge); }, expectation_of(set, body),
                     log, cradle_accuracy);
}

Solid wedge_solid(const CradleWedge& wedge, GateLog& log) {
  const auto build = [&](double) {
    return guarded(wedge.part(), "building face by face", [&] { return build_wedge(wedge); });
  };
  return build_sound(build, expectation_of(wedge), log, cradle_accuracy);
}

}  // namespace culmwright
