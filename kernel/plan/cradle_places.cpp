#include "plan/cradle_places.hpp"

#include <algorithm>
#include <cmath>

#include "plan/cradle_plan.hpp"

namespace culmwright {

namespace {

constexpr double step = 1.0;
constexpr double room = 1.0;    ///< to what must be clear
constexpr double apart = 10.0;  ///< between the two of a set

double radians(double degrees) {
  return degrees * pi / 180.0;
}

bool overlap(const Span& a, const Span& b) {
  return a.from < b.to && b.from < a.to;
}

Span between_cuts(const Instrument& instrument) {
  const auto [low, high] = std::minmax(instrument.mouth_cut_at, instrument.foot_cut_at);
  return {low, high};
}

/// How bad it is to stand there: 0 clear, 1 over a ridge, 2 over a hole or the like.
int hindrance(const Span& at, const std::vector<UnderCradle>& things) {
  int worst = 0;
  for (const UnderCradle& thing : things) {
    if (overlap({at.from - room, at.to + room}, thing.at)) worst = std::max(worst, thing.theta ? 2 : 1);
  }
  return worst;
}

CradlePlace place_at(const Span& at, const std::vector<UnderCradle>& things) {
  CradlePlace place{at, {}};
  for (const UnderCradle& thing : things) {
    if (overlap({at.from - room, at.to + room}, thing.at)) place.over.push_back(thing);
  }
  return place;
}

/// From `wanted` outward (side −1: toward end A), then inward, as far as `limit` and not beyond `other`.
std::optional<Span> search(double wanted, int side, const Span& limit, double other, double length,
                           const std::vector<UnderCradle>& things, int allowed) {
  const auto fits = [&](double middle) -> std::optional<Span> {
    const Span at{middle - 0.5 * length, middle + 0.5 * length};
    if (at.from < limit.from || at.to > limit.to) return {};
    if (side * (middle - other) < length + apart) return {};
    return hindrance(at, things) <= allowed ? std::optional<Span>(at) : std::nullopt;
  };
  const double reach = limit.length();
  for (double out = 0.0; out <= reach; out += step) {
    if (const auto found = fits(wanted + side * out)) return found;
  }
  for (double in = step; in <= reach; in += step) {
    if (const auto found = fits(wanted - side * in)) return found;
  }
  return {};
}

}  // namespace

std::vector<UnderCradle> under_cradle(const Tube& tube, const Instrument& instrument, double middle) {
  std::vector<UnderCradle> things;
  for (const Node& node : tube.nodes()) {
    if (node.ridge_height <= 0.0) continue;
    const double half = 0.5 * (node.band + std::abs(node.at_line - node.at_far));
    things.push_back({"a node's ridge", {node.at() - half, node.at() + half}, {}, node.ridge_height});
  }
  const double hug = radians(cradle_sizes::hug_deg);
  const auto add = [&](std::string words, double at, double theta, double length, double width) {
    const double radius = 0.5 * tube.section(at).width(Angle::from_radians(theta));
    const double half = 0.5 * width / radius;
    const double near = middle + std::remainder(theta - middle, 2.0 * pi);
    if (std::abs(near - middle) > hug + half) return;
    things.push_back(
        {std::move(words), {at - 0.5 * length, at + 0.5 * length}, Span{near - half, near + half}, 0.0});
  };
  for (const PlacedKey& key : instrument.keys) {
    const Vec3 axis = key.drilling.axis;
    add("hole " + key.key.id, -key.drilling.point.z, std::atan2(axis.y, axis.x), 2.0 * key.drilling.radius,
        2.0 * key.drilling.radius);
  }
  const auto direction_at = [&](SkinPlace place) {
    return tube.section(place.at).theta_at(place.around).radians();
  };
  for (const PlacedPart& part : instrument.parts) {
    if (part.part.kind != PartKind::opening) continue;
    add("opening " + part.part.id, part.place.at, direction_at(part.place), part.part.length,
        part.part.width);
  }
  for (const Groove& groove : tube.grooves())
    add("a branch groove", groove.place.at, direction_at(groove.place), groove.length, groove.width);
  for (const Blemish& blemish : tube.blemishes()) {
    if (blemish.use == BlemishUse::avoid)
      add("a blemish", blemish.place.at, direction_at(blemish.place), blemish.length, blemish.width);
  }
  return things;
}

std::optional<std::vector<CradlePlace>> cradle_places(const Tube& tube, const Instrument& instrument,
                                                      double middle, double length, Span work) {
  const std::vector<UnderCradle> things = under_cradle(tube, instrument, middle);
  const Span limit = between_cuts(instrument);
  for (int allowed = 0; allowed <= 2; ++allowed) {
    const auto low = search(work.from, -1, limit, limit.to, length, things, allowed);
    if (!low) continue;
    const auto high = search(work.to, 1, limit, low->middle(), length, things, allowed);
    if (high) return std::vector<CradlePlace>{place_at(*low, things), place_at(*high, things)};
  }
  return {};
}

}  // namespace culmwright
