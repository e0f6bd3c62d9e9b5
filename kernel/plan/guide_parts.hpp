#pragma once
/// Steps of planning a guide, shared by the files that do them. Not for use outside kernel/plan.
#include <optional>
#include <string>
#include <vector>

#include "plan/guide_plan.hpp"

namespace culmwright::guide_parts {

/// The longest part of that width that the bed takes, straight or across its corners.
double longest_on_bed(const Printer& printer, double width);
/// Across the widest saddle on that tube, about: a millimetre or two is of no account.
double saddle_width(const Tube& base, const Shop& shop);

/// Everything one guide is planned from.
struct Job {
  const Tube& tube;
  const Tube& base;  ///< without ridges
  const Instrument& instrument;
  const Shop& shop;
  int number = 1;
  double middle = 0.0;
  std::vector<GuideHole> holes;  ///< in order along the tube

  std::string name() const { return "guide " + std::to_string(number); }
  /// The ends as the instrument has them, cut to length.
  Span ends() const;
  /// Longest guide that the bed takes.
  double longest() const { return longest_on_bed(shop.printer, saddle_width(base, shop)); }
};

/// How far the saddle stands off at its pads; the crown is thinner by the relief.
double outer_level(const Shop& shop);

/// The middles of pads and straps near one end (side −1: toward end A), and where the guide may end there.
struct EndZone {
  double pad = 0.0;
  std::optional<double> strap;
  double end_at = 0.0;
};
/// Throws GeometryError when no place for pads is left. `with_strap`: look for a place with a strap groove
/// first, from the bosses outward so that the guide stays short.
EndZone end_zone(const Job& job, int side, bool with_strap);
/// The same for the end that has the stop: the guide reaches the tube's end anyway, so from there inward, for
/// the pads to stand as far apart as can be. Nothing where a strap finds no place outside the bosses.
std::optional<EndZone> stop_end_zone(const Job& job, int side);

/// A stretch of the skin that the guide has to stand clear of or that no pad may stand on.
struct NodeBand {
  Span at;
  double ridge_height = 0.0;
};
std::vector<NodeBand> node_bands(const Tube& tube);

OffsetField inner_field(const Job& job, const std::vector<Span>& pads);
OffsetField outer_field(const Job& job, const std::vector<Span>& straps);

/// The stop, if an end is within reach of a guide that would otherwise be `at`, which it lengthens.
struct Stop {
  StopKind kind = StopKind::sighting_only;
  std::optional<StopPost> post;
};
Stop find_stop(const Job& job, Span& at);

FootPlane foot_plane(const Job& job, const GuideFace& inner, const Span& at);

/// The outer face in the flat near the guide's middle: (arc from the middle, at), both in millimetres, and
/// what already stands there. For keeping things apart by a millimetre or so, not for making them.
class FlatMap {
 public:
  explicit FlatMap(const GuidePlan& plan);
  struct Disc {
    Vec2 middle;
    double radius = 0.0;
  };
  struct Box {
    Vec2 low;
    Vec2 high;
  };
  Vec2 flat(double theta, double at) const { return {(theta - middle_) * radius_, at}; }
  Vec2 on_face(Vec2 flat) const { return {middle_ + flat.x / radius_, flat.y}; }
  /// Whether a box keeps `margin` from everything, and the saddle's edges by their own margin.
  bool free(const Box& box, double margin) const;
  void occupy(const Box& box) { boxes_.push_back(box); }
  const std::vector<Disc>& bosses() const { return bosses_; }
  Span across() const { return across_; }

 private:
  double middle_;
  double radius_;
  Span at_;
  Span across_;
  std::vector<Disc> bosses_;
  std::vector<Span> bands_;
  std::vector<Box> boxes_;
};

void add_sights(const Job& job, GuidePlan& plan, FlatMap& map);
void add_lettering(const Job& job, GuidePlan& plan, FlatMap& map);

GuidePlan lay_out(const Job& job);

}  // namespace culmwright::guide_parts
