#pragma once
/// An outline as arcs and straight lines, each with its own parameter: what the walls of a cut are made from.
#include <vector>

#include "plan/outline.hpp"

namespace culmwright {

/// Counter-clockwise. An arc's parameter is the angle about its middle; a line's the length from its start.
class OutlinePiece {
 public:
  static OutlinePiece arc(Vec2 middle, double radius, double from, double to);
  static OutlinePiece line(Vec2 from, Vec2 to);

  bool is_arc() const { return radius_ > 0.0; }
  double radius() const { return radius_; }
  /// An arc's middle; a line's start.
  Vec2 origin() const { return origin_; }
  /// A line's direction.
  Vec2 along() const { return along_; }
  Vec2 point(double t) const;
  /// Where a curve over the piece is sampled, ends included: every 3.75° of an arc, 17 places on a line.
  std::vector<double> parameters() const;

 private:
  Vec2 origin_;
  Vec2 along_;
  double radius_ = 0.0;
  double from_ = 0.0;
  double to_ = 0.0;
};

/// A round outline in two halves; any other as its corners and sides, sides of no length left out.
std::vector<OutlinePiece> outline_pieces(const RoundedRectangle& outline);

}  // namespace culmwright
