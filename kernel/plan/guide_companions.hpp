#pragma once
/// Which holes can be in one guide: the part of the covering that is asked over and over.
#include <optional>
#include <vector>

#include "plan/guide_cover.hpp"

namespace culmwright {

/// The turn from one direction to another, within half a turn; radians.
double turn_between(double from, double to);

/// Holes of one guide, in order along, with the directions from which it may drill them all (as
/// common_middles finds them, kept while the group grows).
struct OpenGroup {
  std::vector<int> holes;
  Span middles;
};

/// Turns and pairs of a task, taken once. The task must outlive it.
class Companions {
 public:
  explicit Companions(const CoverTask& task);

  /// All holes, along the tube.
  const std::vector<int>& order() const { return order_; }
  OpenGroup group_of(int hole) const;
  /// The middles that are left when a hole farther along joins; nothing where it cannot.
  std::optional<Span> narrowed(const OpenGroup& group, int hole) const;

  /// No set has fewer guides: holes of which no two can be in one guide need a guide each.
  int fewest() const;
  /// Guides that the holes beyond the reach of a guide which starts at `hole` need besides.
  int fewest_beyond(int hole) const { return beyond_[hole]; }

 private:
  void add_alone(std::size_t from, std::vector<int>& alone) const;
  void find_pairs();
  void find_bounds();

  const CoverTask& task_;
  std::size_t count_;
  std::vector<int> order_;
  std::vector<double> turns_;
  std::vector<char> together_;
  std::vector<int> beyond_;
};

/// Sets of guides put together hole by hole along the tube, the most promising 40 kept after each: for so
/// many holes that trying every set is out of reach. Fewest guides first, then those with most freedom left.
std::vector<std::vector<OpenGroup>> promising_sets(const Companions& companions);

}  // namespace culmwright
