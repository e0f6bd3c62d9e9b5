/// Where an item may not be because of the tube alone: nodes, blemishes, grooves, uneven ends, girth.
#include <algorithm>
#include <cmath>

#include "fit/frame.hpp"
#include "fit/propose_model.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

/// What the table may be off by.
constexpr double table_grain = 0.02;
/// Length of a drill's point over its radius, as rules_hole.cpp has it: 1 / tan 59°.
const double point_per_radius = 1.0 / std::tan(Angle::from_degrees(59.0).radians());
constexpr double widest_in_bore = 0.95;  // as fit/assemble.hpp

bool bears(const Item& item) {
  return !item.is_key && (item.kind == PartKind::thumb_rest || item.kind == PartKind::strap_ring);
}

/// How far the bore reaches beside a hole's axis at θ, on its narrower side: g(θ ± 90°) ∓ h′(θ).
double bore_beside(const SkinTable::Ring& ring, double theta) {
  const auto index = [](double degrees) {
    return static_cast<std::size_t>(std::fmod(degrees + 720.0, 360.0));
  };
  const auto bore = [&](double degrees) { return ring.support[index(degrees)] - ring.wall[index(degrees)]; };
  const double slope = (ring.support[index(theta + 2.0)] - ring.support[index(theta - 2.0)]) /
                       Angle::from_degrees(4.0).radians();
  return std::min(bore(theta + 90.0) - slope, bore(theta - 90.0) + slope);
}

class Gatherer {
 public:
  Gatherer(const Model& model, const Item& item, const Stand& stand, double around)
      : model_(model), item_(item), stand_(stand), around_(around) {}

  std::vector<Keepout> take() && {
    nodes();
    patches();
    uneven_ends();
    if (item_.is_key) girths();
    return std::move(found_);
  }

 private:
  void add(double y_a, double y_b, Keepout::Why why, int which) {
    found_.push_back({std::min(y_a, y_b), std::max(y_a, y_b), why, which});
  }

  /// A slanted ridge lies at another place for every point of the outline.
  void nodes() {
    if (!item_.is_key && !bears(item_)) return;
    const RuleLimits& limits = model_.layout.limits;
    const double clearance =
        item_.is_key ? std::max(limits.node_clearance, limits.node_clearance_per_diameter * item_.diameter)
                     : 0.0;
    const FlatOutline& outline = item_.is_key ? *item_.cut : *item_.touch;
    for (std::size_t n = 0; n < model_.tube.nodes().size(); ++n) {
      const Node& node = model_.tube.nodes()[n];
      const double half_slant = 0.5 * (node.at_line - node.at_far);
      double most = outline.half_along();
      double least = -most;
      if (half_slant != 0.0) {
        const SkinTable::Ring& ring = model_.skin.nearest(node.at());
        const double theta = model_.skin.theta(ring, stand_.facing, stand_.sense * around_);
        most = -1e300;
        least = 1e300;
        for (const Vec2 p : outline.points()) {
          const Angle there =
              Angle::from_degrees(theta) + Angle::from_radians(stand_.sense * p.y / ring.mean_radius());
          const double ridge = stand_.sense * half_slant * there.cos() - p.x;
          most = std::max(most, ridge);
          least = std::min(least, ridge);
        }
      }
      const double reach = 0.5 * node.band + clearance + table_grain;
      const double middle = stand_.y(node.at());
      add(middle + least - reach, middle + most + reach, Keepout::Why::node, static_cast<int>(n));
    }
  }

  void patch(const FlatOutline& outline, SkinPlace place, double length, double width, Keepout::Why why,
             int which) {
    const SkinTable::Ring& ring = model_.skin.nearest(place.at);
    const double around = model_.skin.around(ring, stand_.facing, stand_.sense * around_);
    const double apart = std::abs(std::remainder(around - place.around, ring.girth));
    const FlatOutline of_patch = FlatOutline::of_patch(length, width, 0.0);
    const auto reach = needed_along(outline, of_patch, apart, {table_grain, table_grain});
    if (!reach) return;
    const double middle = stand_.y(place.at);
    add(middle - *reach, middle + *reach, why, which);
  }

  void patches() {
    const FlatOutline& outline = item_.is_key ? *item_.cut : *item_.touch;
    if (item_.is_key || item_.kind != PartKind::opening) {
      for (std::size_t i = 0; i < model_.tube.blemishes().size(); ++i) {
        const Blemish& blemish = model_.tube.blemishes()[i];
        if (blemish.use != BlemishUse::avoid) continue;
        patch(outline, blemish.place, blemish.length, blemish.width, Keepout::Why::blemish,
              static_cast<int>(i));
      }
    }
    if (!bears(item_)) return;
    for (std::size_t i = 0; i < model_.tube.grooves().size(); ++i) {
      const Groove& groove = model_.tube.grooves()[i];
      patch(outline, groove.place, groove.length, groove.width, Keepout::Why::groove, static_cast<int>(i));
    }
  }

  /// The piece's own end where it is sawn out of square.
  void uneven_ends() {
    if (!item_.cut) return;
    for (const End end : {End::a, End::b}) {
      const bool is_a = end == End::a;
      const auto& tilt = is_a ? model_.tube.shape().tilt_a : model_.tube.shape().tilt_b;
      if (!tilt) continue;
      const double end_at = is_a ? model_.tube.end_a_at() : model_.tube.end_b_at();
      const SkinTable::Ring& ring = model_.skin.nearest(end_at);
      const Angle theta = Angle::from_degrees(model_.skin.theta(ring, stand_.facing, stand_.sense * around_));
      const double slope = ring.mean_radius() * std::tan(tilt->tilt.radians());
      const double inward = is_a ? 1.0 : -1.0;
      // The outline reaches a little way round, to where the end may stand farther in.
      const double wide = item_.cut->half_around() / ring.mean_radius();
      const double away = std::abs((theta - tilt->toward).normalized().radians());
      const double lean = slope * std::cos(std::min(away + wide, pi));
      const double room = is_a == (stand_.mouth_end == End::a) ? item_.mouth_room : item_.foot_room;
      const double edge = end_at - inward * lean + inward * (room + table_grain);
      add(stand_.y(edge), stand_.y(end_at - inward * 1e4), Keepout::Why::end, is_a ? 0 : 1);
    }
  }

  void girths() {
    const double step =
        model_.skin.rings().size() > 1 ? 0.5 * (model_.skin.rings()[1].at - model_.skin.rings()[0].at) : 0.0;
    const RuleLimits& limits = model_.layout.limits;
    const double radius = 0.5 * item_.diameter;
    for (const SkinTable::Ring& ring : model_.skin.rings()) {
      const double theta = model_.skin.theta(ring, stand_.facing, stand_.sense * around_);
      const double width = ring.width(theta + 90.0);
      const double bore = bore_beside(ring, theta);
      std::optional<Keepout::Why> why;
      if (item_.diameter > limits.hole_to_width * width || radius >= widest_in_bore * bore - 0.05) {
        why = Keepout::Why::width;
      } else {
        const double half_chord = std::sqrt(bore * bore - radius * radius);
        const double room = std::min(half_chord + bore - point_per_radius * radius, 2.0 * half_chord);
        if (room < limits.break_through) why = Keepout::Why::break_through;
      }
      if (!why) continue;
      const double middle = stand_.y(ring.at);
      const bool follows = !found_.empty() && found_.back().why == *why;
      if (follows && found_.back().from <= middle + step + 1e-6 && found_.back().to >= middle - step - 1e-6) {
        found_.back().from = std::min(found_.back().from, middle - step);
        found_.back().to = std::max(found_.back().to, middle + step);
      } else {
        add(middle - step, middle + step, *why, 0);
      }
    }
  }

  const Model& model_;
  const Item& item_;
  const Stand& stand_;
  double around_;
  std::vector<Keepout> found_;
};

}  // namespace

std::vector<Keepout> Model::keepouts(const Item& item, const Stand& stand, double around) const {
  return Gatherer(*this, item, stand, around).take();
}

std::string words_of(const Model& model, const Keepout& keepout) {
  const auto which = static_cast<std::size_t>(keepout.which);
  switch (keepout.why) {
    case Keepout::Why::node:
      return "node " + std::to_string(which + 1) + " (at " + millimetres(model.tube.nodes()[which].at()) +
             ")";
    case Keepout::Why::blemish: {
      const Blemish& blemish = model.tube.blemishes()[which];
      return "the blemish at " + millimetres(blemish.place.at) +
             (blemish.note.empty() ? "" : " (" + blemish.note + ")");
    }
    case Keepout::Why::groove:
      return "the branch groove at " + millimetres(model.tube.grooves()[which].place.at);
    case Keepout::Why::end:
      return std::string("end ") + (which == 0 ? "A" : "B") + ", sawn out of square";
    case Keepout::Why::width:
      return "the tube's width, too small there for so large a hole";
    case Keepout::Why::break_through:
      return "the far wall, too near behind the drill";
    case Keepout::Why::rule:
      break;
  }
  return "a rule that is measured on the finished placing";
}

}  // namespace culmwright
