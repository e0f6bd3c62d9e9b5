#pragma once
/// Steps of planning a guide, shared by the files that do them. Not for use outside kernel/plan.
#include <optional>
#include <string>
#include <vector>

#include "plan/guide_plan.hpp"

namespace culmwright::guide_parts {

constexpr double pad_along_step = 3.0;
constexpr double strap_step = 3.0;
constexpr double node_step = 4.0;    ///< over which the relief of a ridge rises
constexpr double node_room = 1.0;    ///< of full relief beyond the ridge
constexpr double stop_margin = 2.5;  ///< saddle beyond a post or a boss

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
  std::vector<GuidePeg> pegs{};
  std::vector<GuideJoint> joints{};

  std::vector<const GuideBoss*> bosses() const;
  /// Whether a tongue sets it.
  bool locked() const;
  const GuideJoint* joint(End toward) const;
  std::string name() const { return "guide " + std::to_string(number); }
  /// The ends as the instrument has them, cut to length.
  Span ends() const;
  /// Longest guide that the bed takes.
  double longest() const { return longest_on_bed(shop.printer, saddle_width(base, shop)); }
};

/// How far the saddle stands off at its pads; the crown is thinner by the relief.
double outer_level(const Shop& shop);

/// A stretch of the skin that the guide has to stand clear of or that no pad may stand on.
struct NodeBand {
  Span at;
  double ridge_height = 0.0;
};
std::vector<NodeBand> node_bands(const Tube& tube);

OffsetField inner_field(const Job& job, const std::vector<Span>& pads);
OffsetField outer_field(const Job& job, const std::vector<Span>& straps);

struct Stop {
  StopKind kind = StopKind::sighting_only;
  std::optional<StopPost> post;
};

/// Where the guide's ends, pads, straps and stop are.
struct Arrangement {
  Span at;
  std::vector<Span> pads;          ///< toward A, toward B
  std::vector<Span> straps;        ///< the flat part of their grooves
  std::vector<int> without_strap;  ///< sides (−1: toward A) where a strap found no room
  Stop stop;
};
/// A guide without pegs has a stop where an end is within reach, on the reference line before elsewhere, even
/// if a strap then finds no room. Throws GeometryError when no place for pads is left or the bed is too
/// short.
Arrangement arrange(const Job& job);
/// The stop, if an end is within reach of a guide that would otherwise be `at`, which it lengthens.
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
  /// Whether a box keeps `margin` from bosses, and off the flanks of ridges and from under straps.
  bool even(const Box& box, double margin) const;
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

/// Raises the tops that the saddle would swallow.
void settle_tops(GuidePlan& plan);
/// Side bores of the holes' bosses: 2.5 for an M3 screw that cuts its thread and locks the bush; for a plain
/// bore a window of half the drill's diameter. Where there is no room a note says so.
void add_side_bores(const Shop& shop, GuidePlan& plan);
/// Throw GeometryError naming what is wrong: pads beyond the saddle, a guide longer than the bed; a boss
/// beyond the saddle; a hole drilled outside the bearing of the pads; a place of the skin that stands so high
/// that the guide would rock on it.
void check_saddle(const GuidePlan& plan, double longest);
void check_bosses(const GuidePlan& plan);
void check_bearing(const GuidePlan& plan);
void check_high_spots(const GuidePlan& plan, const Tube& tube);

void add_sights(const Job& job, GuidePlan& plan, FlatMap& map);
void add_lettering(const Job& job, GuidePlan& plan, FlatMap& map);

GuidePlan lay_out(const Job& job);

/// Whether two guides can be joined end to end by their measures: near enough in turn (radians), no overlap.
bool may_join(double turn, const Span& one, const Span& other);

/// Both halves of a joint.
struct JointPlace {
  GuideJoint notch;   ///< of the guide that is set already
  GuideJoint tongue;  ///< of the one that locks to it
};
/// Where `job`, which alone would lie at `alone`, can lock onto a guide that is planned: nearest to both
/// middles where the notch is clear of bosses, pads and straps; that guide is drawn out by a few millimetres
/// where it must be. Nothing where the two overlap, or lie too far apart for the bed.
std::optional<JointPlace> joint_place(const Job& job, const Span& alone, const GuidePlan& host);

/// How far the guide's middle may lie from the axis of a boss.
double reach_of(const GuideBoss& boss, double level);
/// Whether two bosses keep their web from the saddle's face up.
bool bosses_clear(const GuideBoss& a, const GuideBoss& b, double level);
GuideHole guide_hole(const PlacedKey& key, const Shop& shop);
/// The corners of an opening, as pilot holes in plain bores: bushes would stand too near to each other.
std::vector<GuideHole> corner_holes(const Tube& tube, const PlacedPart& opening, const Shop& shop);
GuidePeg guide_peg(const GuideHole& hole, const Shop& shop, const std::string& drilled_by);

}  // namespace culmwright::guide_parts
