#include "solid/cradle_solid.hpp"

#include "solid/guarded.hpp"
#include "solid/plane_texts.hpp"
#include "solid/sheet_band.hpp"

namespace culmwright {

namespace {

using namespace cradle_sizes;

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
    channel_ = add_band(make_, flat_, sheet_, body_.at, frame_.apply({0, body_.land, 0}), frame_.y,
                        hug_deg * pi / 180.0, FaceSide::along);
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

  /// A side of the profile, drawn out along the tube; the first and the last have a mouth of the tunnel.
  void add_profile_side(std::size_t i) {
    const Vec2 along = unit(profile_[i + 1] - profile_[i]);
    const Vec3 normal = frame_.turn({along.y, -along.x, 0.0});
    const Vec3 on = frame_.apply({profile_[i].x, profile_[i].y, 0.0});
    std::vector<WirePath> wires{
        flat_.loop({outer_[0][i], outer_[0][i + 1], outer_[1][i + 1], outer_[1][i]}, normal)};
    const bool first = i == 0;
    if (first || i + 2 == profile_.size()) wires.push_back(tunnel_mouth(first ? 0 : 1, normal));
    for (WirePath& hole : texts_in(flat_, body_.texts, on, normal, engraving))
      wires.push_back(std::move(hole));
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
    const EdgeUse out_b = flat_.side(channel_.corner[side][1], outer_[1][i]);
    const EdgeUse back = flat_.side(outer_[1][i], outer_[0][i]);
    const EdgeUse in_a = flat_.side(outer_[0][i], channel_.corner[side][0]);
    WirePath path{{channel_.along[side], true}, out_b, back, in_a};
    flat_.face(frame_.apply({0, body_.land, 0}), frame_.y, {side == 1 ? turned_round(path) : path});
  }

  void add_end(std::size_t end) {
    const std::size_t last = profile_.size() - 1;
    WirePath path;
    for (std::size_t i = 0; i < last; ++i) path.push_back(flat_.side(outer_[end][i], outer_[end][i + 1]));
    path.push_back(flat_.side(outer_[end][last], channel_.corner[0][end]));
    path.push_back({channel_.across[end], true});
    path.push_back(flat_.side(channel_.corner[1][end], outer_[end][0]));
    flat_.face(point({0, 0}, end), end == 0 ? -frame_.z : frame_.z, {end == 0 ? turned_round(path) : path});
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
  SheetBand channel_;
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
    for (WirePath& hole : texts_in(flat, wedge.texts, on, normal, engraving))
      wires.push_back(std::move(hole));
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
