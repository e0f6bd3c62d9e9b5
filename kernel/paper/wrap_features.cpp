#include "paper/wrap_features.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/words.hpp"

namespace culmwright {

namespace {

constexpr double turn = 2.0 * pi;

const char* kind_words(PartKind kind) {
  switch (kind) {
    case PartKind::thumb_rest:
      return "thumb rest";
    case PartKind::slider:
      return "slider";
    case PartKind::opening:
      return "opening";
    case PartKind::mouthpiece:
      return "mouthpiece";
    case PartKind::strap_ring:
      return "strap ring";
    case PartKind::other:
      break;
  }
  return "part";
}

double reach_of(const Tube& tube, const Feature& feature) {
  const double radius = tube.girth(std::clamp(feature.middle.y, tube.end_a_at(), tube.end_b_at())) / turn;
  double reach = 0.0;
  for (Vec2 p : feature.outline.points) {
    reach = std::max(reach, std::hypot((p.x - feature.middle.x) * radius, p.y - feature.middle.y));
  }
  return reach;
}

/// "9" and "9.5".
std::string size(double value) {
  return number_text(std::round(10.0 * value) / 10.0);
}

/// "Ø9.1" or "Ø9.1 × 9.4", as it came out.
std::string size_words(const DrilledHole& hole) {
  const std::string along = size(hole.across_along);
  const std::string around = size(hole.across_around);
  return "\u00D8" + along + (along == around ? "" : " \u00D7 " + around);
}

/// A hole that is there: as wide as it came out both ways.
void show_as_drilled(const Tube& tube, const Drilling& drilling, const DrilledHole& hole, Feature& feature) {
  feature.drilled = true;
  if (hole.state == DrilledState::pilot) {
    feature.details = {"pilot drilled",
                       size(hole.least_across()) + " \u2192 \u00D8" + size(feature.diameter)};
    Drilling first = drilling;
    first.radius = 0.5 * hole.least_across();
    feature.pilot = rim_curve(tube, first, 36);
    return;
  }
  feature.details = {hole.state == DrilledState::extra ? "extra hole" : "drilled", size_words(hole)};
  feature.pilot = {};
  feature.outline = oval_rim_curve(tube, drilling, hole.across_along, hole.across_around);
}

Feature hole_feature(const Tube& tube, const std::string& id, SkinPlace place, const Drilling& drilling,
                     const std::optional<DrilledHole>& drilled, double pilot) {
  Feature feature;
  feature.kind = Feature::Kind::hole;
  feature.name = id;
  feature.diameter = 2.0 * drilling.radius;
  const bool piloted = pilot > 0.0 && pilot < feature.diameter - 0.5;
  feature.details = {(piloted ? size(pilot) + " \u2192 " : "") + "\u00D8" + size(feature.diameter)};
  if (piloted) {
    Drilling first = drilling;
    first.radius = 0.5 * pilot;
    feature.pilot = rim_curve(tube, first, 36);
  }
  feature.outline = rim_curve(tube, drilling);
  if (drilled) show_as_drilled(tube, drilling, *drilled, feature);
  feature.middle = {tube.section(place.at).theta_at(place.around).radians(), place.at};
  // Rim points count θ near the hole's own, which may be a turn away from the place's.
  double mean = 0.0;
  for (Vec2 p : feature.outline.points) mean += p.x / static_cast<double>(feature.outline.points.size());
  feature.middle.x += turn * std::round((mean - feature.middle.x) / turn);
  feature.reach = reach_of(tube, feature);
  return feature;
}

Feature touch_feature(const Tube& tube, const PlacedKey& key) {
  Feature feature;
  feature.kind = Feature::Kind::touch;
  feature.outline =
      patch_curve(tube, key.place, key.key.touch.length, key.key.touch.width, key.key.touch.corner_radius);
  feature.middle = {tube.section(key.place.at).theta_at(key.place.around).radians(), key.place.at};
  feature.reach = reach_of(tube, feature);
  return feature;
}

Feature part_feature(const Tube& tube, const PlacedPart& placed) {
  const Part& part = placed.part;
  Feature feature;
  feature.kind = part.kind == PartKind::opening ? Feature::Kind::opening : Feature::Kind::footprint;
  feature.name = kind_words(part.kind);
  feature.details = {part.id, size(part.length) + " \u00D7 " + size(part.width) +
                                  (part.corner_radius > 0.0 ? ", R" + size(part.corner_radius) : "")};
  if (part.travel > 0.0) feature.details.push_back("travel " + size(part.travel));
  feature.outline = patch_curve(tube, placed.place, part.length, part.width, part.corner_radius);
  feature.middle = {tube.section(placed.place.at).theta_at(placed.place.around).radians(), placed.place.at};
  feature.reach = reach_of(tube, feature);
  feature.travel = part.travel;
  feature.axis = part.kind == PartKind::slider;
  return feature;
}

Feature blemish_feature(const Tube& tube, const Blemish& blemish) {
  Feature feature;
  feature.kind = Feature::Kind::blemish;
  feature.use = blemish.use;
  feature.name = blemish.use == BlemishUse::avoid  ? "avoid"
                 : blemish.use == BlemishUse::hide ? "hide"
                                                   : "blemish";
  if (!blemish.note.empty()) feature.details = {blemish.note};
  feature.outline = oval_curve(tube, blemish.place, blemish.length, blemish.width);
  feature.middle = {tube.section(blemish.place.at).theta_at(blemish.place.around).radians(),
                    blemish.place.at};
  feature.reach = reach_of(tube, feature);
  return feature;
}

bool known(const Tube& tube, double at) {
  return at >= tube.end_a_at() - tube.shape().beyond && at <= tube.end_b_at() + tube.shape().beyond;
}

}  // namespace

Box span_of(const Feature& feature) {
  Box box{feature.middle.x, feature.middle.y, feature.middle.x, feature.middle.y};
  for (Vec2 p : feature.outline.points) box = box.joined({p.x, p.y, p.x, p.y});
  return box;
}

std::vector<Feature> features_of(const Tube& tube, const Instrument& instrument, double at_from, double at_to,
                                 double pilot) {
  std::vector<Feature> all;
  for (const PlacedKey& key : instrument.keys) {
    all.push_back(hole_feature(tube, key.key.id, key.place, key.drilling, key.drilled, pilot));
  }
  for (const PlacedExtra& extra : instrument.extras) {
    all.push_back(hole_feature(tube, extra.drilled.id, extra.place, extra.drilling, extra.drilled, pilot));
  }
  for (const PlacedPart& part : instrument.parts) {
    if (part.part.length > 0.0 && part.part.width > 0.0 && known(tube, part.place.at)) {
      all.push_back(part_feature(tube, part));
    }
  }
  for (const PlacedKey& key : instrument.keys) all.push_back(touch_feature(tube, key));
  for (const Blemish& blemish : tube.blemishes()) {
    if (known(tube, blemish.place.at)) all.push_back(blemish_feature(tube, blemish));
  }
  std::vector<Feature> shown;
  for (Feature& feature : all) {
    const Box span = span_of(feature);
    if (span.bottom > at_from && span.top < at_to) shown.push_back(std::move(feature));
  }
  return shown;
}

namespace {

/// How bad it is to cut at `theta`: whole hundreds for rims crossed, less for what is merely unhandsome.
double cost_of_seam(double theta, double radius, const std::vector<Feature>& features, Angle front,
                    double line) {
  const auto away = [](double a, double b) { return std::abs(std::remainder(a - b, turn)); };
  double cost = 3.0 * (1.0 - away(theta, front.radians()) / pi);
  for (const double upright : {front.radians(), line}) {
    if (away(theta, upright) * radius < 6.0) cost += 20.0;
  }
  for (const Feature& feature : features) {
    const Box span = span_of(feature);
    const double outside = (away(theta, 0.5 * (span.left + span.right)) - 0.5 * span.width()) * radius;
    const bool cut_out = feature.kind == Feature::Kind::hole || feature.kind == Feature::Kind::opening;
    if (cut_out)
      cost += outside <= 0.5 ? 1000.0 : outside < 3.0 ? 40.0 : outside < 8.0 ? 0.2 * (8.0 - outside) : 0.0;
    else if (outside <= 0.5)
      cost += feature.kind == Feature::Kind::blemish ? 0.5 : 5.0;
  }
  return cost;
}

}  // namespace

Angle choose_seam(const Development& development, const std::vector<Feature>& features, Angle front) {
  const double radius = development.girth(0.5 * (development.at_from() + development.at_to())) / turn;
  const double line = development.line(development.at_from()).radians();
  double best = 0.0;
  double least = std::numeric_limits<double>::infinity();
  // From the back outward, so that of equals the one nearest the back is taken.
  for (int i = 0; i < 720; ++i) {
    const double step = 0.5 * ((i + 1) / 2) * (i % 2 == 1 ? 1.0 : -1.0);
    const double theta = front.radians() + pi + step * pi / 180.0;
    const double cost = cost_of_seam(theta, radius, features, front, line);
    if (cost < least - 1e-9) {
      least = cost;
      best = theta;
    }
  }
  return Angle::from_radians(best);
}

}  // namespace culmwright
