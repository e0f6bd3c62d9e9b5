#pragma once
/// Outlines in a part's own xy-plane as chains of straight lines and arcs: what seated parts
/// (seated_part.hpp) are planned with. A closed path has its material on the LEFT as it is run through: the
/// outline of a part runs counter-clockwise, the outline of a hole clockwise.
#include <functional>
#include <vector>

#include "plan/outline.hpp"

namespace culmwright {

/// A straight line or an arc, run through with t from 0 to 1.
class PathPiece {
 public:
  static PathPiece line(Vec2 from, Vec2 to);
  /// From one angle to another (radians) about the middle; `to` < `from` runs clockwise. Less than a full
  /// turn.
  static PathPiece arc(Vec2 middle, double radius, double from, double to);

  bool is_arc() const { return radius_ > 0.0; }
  Vec2 middle() const { return from_; }  ///< of an arc
  double radius() const { return radius_; }
  double first_angle() const { return a_; }  ///< of an arc, radians
  double last_angle() const { return b_; }
  bool clockwise() const { return b_ < a_; }

  Vec2 at(double t) const;
  /// Derivative by t.
  Vec2 by_t(double t) const;
  /// Unit normal to the left: into the material.
  Vec2 inward(double t) const;
  double length() const;
  /// Nearest place of the piece, its ends included.
  double nearest(Vec2 p) const;
  double distance(Vec2 p) const { return culmwright::length(p - at(nearest(p))); }

  PathPiece turned_round() const;
  /// Moved along its inward normal; an arc keeps its angles. Precondition: its radius stays above 0.
  PathPiece moved_in(double by) const;
  /// The part from one t to another.
  PathPiece part(double from, double to) const;
  /// Turned by half a turn about the origin, or moved.
  PathPiece half_turned() const;
  PathPiece moved(Vec2 by) const;

 private:
  Vec2 from_;  ///< a line's start, an arc's middle
  Vec2 to_;
  double radius_ = 0.0;
  double a_ = 0.0;
  double b_ = 0.0;
};

using OutlinePath = std::vector<PathPiece>;

/// Counter-clockwise; in two halves, so that no piece closes upon itself.
OutlinePath circle_path(Vec2 middle, double radius);
/// Counter-clockwise from its +x side; sides of no length are left out; a corner of 0 is sharp.
OutlinePath rounded_path(const RoundedRectangle& outline, Vec2 middle = {});
/// Straight sides through the corners in turn.
OutlinePath polygon_path(const std::vector<Vec2>& corners);
/// The other way round: an outline becomes a hole's.
OutlinePath reversed(const OutlinePath& path);
/// Every piece moved into the material. Good for paths without corners, or of straight sides and arcs that
/// meet smoothly.
OutlinePath moved_in(const OutlinePath& path, double by);
OutlinePath half_turned(const OutlinePath& path);
OutlinePath moved(const OutlinePath& path, Vec2 by);

/// A notch in the −x side of an outline about the origin: a hollow of `radius` that reaches `depth` into the
/// outline, led into it by rounds of `lead`, so that the path has no corner and can be moved in by anything
/// less than `lead` (and its corners' radius). Precondition: the notch, about 3 · radius wide, lies on the
/// −x side or on the arcs beside it; depth < radius + lead.
OutlinePath with_notch(const RoundedRectangle& outline, double radius, double depth, double lead);

/// Signed area: positive counter-clockwise.
double path_area(const OutlinePath& path);
double path_length(const OutlinePath& path);
/// From the nearest piece.
double path_distance(const OutlinePath& path, Vec2 p);
/// Whether the point lies on the left of a counter-clockwise path.
bool path_holds(const OutlinePath& path, Vec2 p);

/// ∫ f over what a closed path runs around, counted negative for a clockwise one: five-point Gauss–Legendre
/// on fans from the path's middle, none longer than 4 nor wider than 45°. f must be defined over the fans.
double over_path(const OutlinePath& path, const std::function<double(Vec2)>& f);
/// ∫ f(piece, t) ds along the path.
double along_path(const OutlinePath& path, const std::function<double(const PathPiece&, double)>& f);

}  // namespace culmwright
