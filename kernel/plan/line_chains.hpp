#pragma once
/// Many short pieces of drawn lines, as hidden-line removal leaves them, made into few long ones.
#include <array>
#include <cstdint>
#include <unordered_map>
#include <vector>

#include "plan/line_view.hpp"

namespace culmwright {

using LinePiece = std::array<Vec2, 2>;

/// How pieces are joined, in millimetres.
struct ChainOptions {
  double same_point = 2e-3;  ///< ends nearer than this are one point
  double same_line = 0.02;   ///< pieces nearer than this to another all along lie on it
  double straight = 5e-3;    ///< a line's points may be left out while it moves less than this
  double shortest = 0.1;     ///< shorter lines are left out
  Angle corner = Angle::from_degrees(30.0);  ///< a line does not go on round a sharper corner than this
};

/// Lines that are drawn already, by place.
class LineMap {
 public:
  /// Nearer than this all along is on it.
  explicit LineMap(double near) : near_(near) {}
  void add(const LinePiece& piece);
  /// The parts of the pieces that lie on none of the map's.
  std::vector<LinePiece> beside(const std::vector<LinePiece>& pieces) const;

 private:
  std::vector<std::array<double, 2>> covered(const LinePiece& piece) const;
  double near_;
  std::vector<LinePiece> pieces_;
  std::unordered_map<std::int64_t, std::vector<int>> cells_;
};

/// What of `pieces` does not lie on a piece of `others`, nor on an earlier one of its own: each line once.
/// Longest pieces are kept first.
std::vector<LinePiece> once_only(const std::vector<LinePiece>& pieces, const std::vector<LinePiece>& others,
                                 const ChainOptions& options = {});

/// The pieces joined end to end. Where more than two meet, the straightest pair goes on. The same lines for
/// the same pieces in any order of them and of their ends. Longest first, then by their first point.
std::vector<SeenLine> chained(const std::vector<LinePiece>& pieces, const ChainOptions& options = {});

}  // namespace culmwright
