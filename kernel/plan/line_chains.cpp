#include "plan/line_chains.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <utility>

namespace culmwright {

namespace {

constexpr double cell = 4.0;  ///< of the map in which pieces are looked up, millimetres

bool before(Vec2 a, Vec2 b) {
  return a.x != b.x ? a.x < b.x : a.y < b.y;
}
double length_of(const LinePiece& piece) {
  return length(piece[1] - piece[0]);
}
/// In one order whatever the order and direction in which pieces came: longest first.
std::vector<LinePiece> in_order(std::vector<LinePiece> pieces) {
  for (LinePiece& piece : pieces) {
    if (before(piece[1], piece[0])) std::swap(piece[0], piece[1]);
  }
  std::sort(pieces.begin(), pieces.end(), [](const LinePiece& a, const LinePiece& b) {
    const double la = length_of(a), lb = length_of(b);
    if (la != lb) return la > lb;
    if (before(a[0], b[0]) || before(b[0], a[0])) return before(a[0], b[0]);
    return before(a[1], b[1]);
  });
  return pieces;
}

/// From, to along a piece, 0 to 1.
using Share = std::array<double, 2>;

template <class Use>
void each_cell(const LinePiece& piece, const Use& use) {
  const auto of = [](double x) { return static_cast<std::int64_t>(std::floor(x / cell)); };
  const auto x = std::minmax({of(piece[0].x), of(piece[1].x)});
  const auto y = std::minmax({of(piece[0].y), of(piece[1].y)});
  for (std::int64_t i = x.first; i <= x.second; ++i) {
    for (std::int64_t k = y.first; k <= y.second; ++k) use(i * 1000003 + k);
  }
}

/// The part of `piece` beside `other`, if it runs along it there.
void add_cover(const LinePiece& piece, const LinePiece& other, double near, std::vector<Share>& parts) {
  const Vec2 along = piece[1] - piece[0];
  const double square = dot(along, along);
  if (square <= 0.0) return;
  double from = dot(other[0] - piece[0], along) / square;
  double to = dot(other[1] - piece[0], along) / square;
  Vec2 at_from = other[0], at_to = other[1];
  if (from > to) {
    std::swap(from, to);
    std::swap(at_from, at_to);
  }
  const double a = std::max(from, 0.0), b = std::min(to, 1.0);
  if (b <= a) return;
  const auto off = [&](double t) {
    const Vec2 on_other = at_from + (at_to - at_from) * ((t - from) / (to - from));
    return length(on_other - (piece[0] + along * t));
  };
  if (off(a) <= near && off(b) <= near) parts.push_back({a, b});
}

/// What the parts leave of [0, 1].
std::vector<Share> left_over(std::vector<Share> parts) {
  std::sort(parts.begin(), parts.end());
  std::vector<Share> left;
  double reached = 0.0;
  for (const Share& part : parts) {
    if (part[0] > reached) left.push_back({reached, part[0]});
    reached = std::max(reached, part[1]);
  }
  if (reached < 1.0) left.push_back({reached, 1.0});
  return left;
}

/// Points that are one, numbered in order of place.
class Points {
 public:
  explicit Points(double same) : same_(same) {}
  int of(Vec2 p) {
    const auto key = [&](double x) { return static_cast<std::int64_t>(std::floor(x / (2.0 * same_))); };
    const std::int64_t kx = key(p.x), ky = key(p.y);
    for (std::int64_t i = kx - 1; i <= kx + 1; ++i) {
      for (std::int64_t k = ky - 1; k <= ky + 1; ++k) {
        const auto it = cells_.find({i, k});
        if (it == cells_.end()) continue;
        for (const int index : it->second) {
          if (length(points_[index] - p) <= same_) return index;
        }
      }
    }
    points_.push_back(p);
    cells_[{kx, ky}].push_back(static_cast<int>(points_.size()) - 1);
    return static_cast<int>(points_.size()) - 1;
  }
  Vec2 at(int index) const { return points_[index]; }
  std::size_t count() const { return points_.size(); }

 private:
  double same_;
  std::vector<Vec2> points_;
  std::map<std::pair<std::int64_t, std::int64_t>, std::vector<int>> cells_;
};

/// Pieces as links between points; at every point each link knows the one it goes on with.
class Net {
 public:
  Net(const std::vector<LinePiece>& pieces, const ChainOptions& options)
      : options_(options), points_(options.same_point) {
    for (const LinePiece& piece : in_order(pieces)) {
      const int a = points_.of(piece[0]), b = points_.of(piece[1]);
      if (a != b) links_.push_back({{a, b}, {-1, -1}, false});
    }
    pair_up();
  }
  std::vector<SeenLine> lines() {
    std::vector<SeenLine> found;
    for (std::size_t i = 0; i < links_.size(); ++i) {
      for (const int end : {0, 1}) {
        if (!links_[i].used && links_[i].next[end] < 0) found.push_back(walk(static_cast<int>(i), end));
      }
    }
    for (std::size_t i = 0; i < links_.size(); ++i) {
      if (!links_[i].used) found.push_back(walk(static_cast<int>(i), 0));
    }
    return found;
  }

 private:
  struct Link {
    std::array<int, 2> ends;
    std::array<int, 2> next;  ///< the link that goes on there, or −1
    bool used;
  };
  struct Meeting {
    double turn;
    int one, one_end, other, other_end;
  };
  Vec2 away(int link, int end) const {
    return unit(points_.at(links_[link].ends[1 - end]) - points_.at(links_[link].ends[end]));
  }
  void pair_up() {
    std::vector<std::vector<std::pair<int, int>>> at(points_.count());
    for (std::size_t i = 0; i < links_.size(); ++i) {
      for (const int end : {0, 1}) at[links_[i].ends[end]].push_back({static_cast<int>(i), end});
    }
    for (const auto& meeting : at) pair_at(meeting);
  }
  void pair_at(const std::vector<std::pair<int, int>>& ends) {
    std::vector<Meeting> pairs;
    for (std::size_t i = 0; i < ends.size(); ++i) {
      for (std::size_t k = 0; k < i; ++k) {
        const double cosine = dot(away(ends[i].first, ends[i].second), away(ends[k].first, ends[k].second));
        const double turn = pi - std::acos(std::max(-1.0, std::min(1.0, cosine)));
        pairs.push_back({turn, ends[k].first, ends[k].second, ends[i].first, ends[i].second});
      }
    }
    std::stable_sort(pairs.begin(), pairs.end(),
                     [](const Meeting& a, const Meeting& b) { return a.turn < b.turn; });
    // Where just two meet, a corner is drawn as one line; elsewhere it would join what does not belong.
    const double most = ends.size() == 2 ? pi : options_.corner.radians();
    for (const Meeting& pair : pairs) {
      if (pair.turn > most) break;
      int& one = links_[pair.one].next[pair.one_end];
      int& other = links_[pair.other].next[pair.other_end];
      if (one >= 0 || other >= 0 || pair.one == pair.other) continue;
      one = pair.other;
      other = pair.one;
    }
  }
  /// From the free end `end` of a link onward.
  SeenLine walk(int link, int end) {
    SeenLine line{points_.at(links_[link].ends[end])};
    while (link >= 0 && !links_[link].used) {
      links_[link].used = true;
      const int out = 1 - end;
      const int point = links_[link].ends[out];
      line.push_back(points_.at(point));
      const int next = links_[link].next[out];
      if (next >= 0) end = links_[next].ends[0] == point && links_[next].next[0] == link ? 0 : 1;
      link = next;
    }
    return line;
  }

  ChainOptions options_;
  Points points_;
  std::vector<Link> links_;
};

double length_of(const SeenLine& line) {
  double sum = 0.0;
  for (std::size_t i = 1; i < line.size(); ++i) sum += length(line[i] - line[i - 1]);
  return sum;
}

double distance_from(Vec2 a, Vec2 b, Vec2 p) {
  const Vec2 along = b - a;
  const double square = dot(along, along);
  const double t = square > 0.0 ? std::max(0.0, std::min(1.0, dot(p - a, along) / square)) : 0.0;
  return length(p - (a + along * t));
}

/// Ramer 1972, Douglas and Peucker 1973.
void keep_needed(const SeenLine& line, std::size_t from, std::size_t to, double most,
                 std::vector<char>& kept) {
  std::vector<std::pair<std::size_t, std::size_t>> open{{from, to}};
  while (!open.empty()) {
    const auto [a, b] = open.back();
    open.pop_back();
    double farthest = most;
    std::size_t worst = 0;
    for (std::size_t i = a + 1; i < b; ++i) {
      const double off = distance_from(line[a], line[b], line[i]);
      if (off <= farthest) continue;
      farthest = off;
      worst = i;
    }
    if (worst == 0) continue;
    kept[worst] = 1;
    open.push_back({a, worst});
    open.push_back({worst, b});
  }
}

SeenLine simplified(const SeenLine& line, double most) {
  if (line.size() < 3) return line;
  std::vector<char> kept(line.size(), 0);
  kept.front() = kept.back() = 1;
  // A closed line needs a second point to be measured from.
  std::size_t far = 0;
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (length(line[i] - line[0]) > length(line[far] - line[0])) far = i;
  }
  if (far == 0) return line;
  kept[far] = 1;
  keep_needed(line, 0, far, most, kept);
  if (far + 1 < line.size()) keep_needed(line, far, line.size() - 1, most, kept);
  SeenLine simple;
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (kept[i] != 0) simple.push_back(line[i]);
  }
  return simple;
}

}  // namespace

void LineMap::add(const LinePiece& piece) {
  const int index = static_cast<int>(pieces_.size());
  pieces_.push_back(piece);
  // Into the cells beside as well, as far as a line near it may lie.
  const Vec2 low{std::min(piece[0].x, piece[1].x) - near_, std::min(piece[0].y, piece[1].y) - near_};
  const Vec2 high{std::max(piece[0].x, piece[1].x) + near_, std::max(piece[0].y, piece[1].y) + near_};
  each_cell({low, high}, [&](std::int64_t key) { cells_[key].push_back(index); });
}

std::vector<Share> LineMap::covered(const LinePiece& piece) const {
  std::vector<int> found;
  each_cell(piece, [&](std::int64_t key) {
    const auto it = cells_.find(key);
    if (it != cells_.end()) found.insert(found.end(), it->second.begin(), it->second.end());
  });
  std::sort(found.begin(), found.end());
  found.erase(std::unique(found.begin(), found.end()), found.end());
  std::vector<Share> parts;
  for (const int index : found) add_cover(piece, pieces_[index], near_, parts);
  return parts;
}

std::vector<LinePiece> LineMap::beside(const std::vector<LinePiece>& pieces) const {
  std::vector<LinePiece> found;
  for (const LinePiece& piece : pieces) {
    const Vec2 along = piece[1] - piece[0];
    const std::vector<Share> parts = covered(piece);
    for (const Share& part : left_over(parts)) {
      // Slivers that the covering leaves at the joints of other pieces are no lines.
      if (!parts.empty() && (part[1] - part[0]) * length(along) <= near_) continue;
      found.push_back({piece[0] + along * part[0], piece[0] + along * part[1]});
    }
  }
  return found;
}

std::vector<LinePiece> once_only(const std::vector<LinePiece>& pieces, const std::vector<LinePiece>& others,
                                 const ChainOptions& options) {
  LineMap there(options.same_line);
  for (const LinePiece& piece : others) there.add(piece);
  std::vector<LinePiece> kept;
  for (const LinePiece& piece : in_order(pieces)) {
    if (length_of(piece) <= options.same_point) continue;
    for (const LinePiece& part : there.beside({piece})) {
      kept.push_back(part);
      there.add(part);
    }
  }
  return kept;
}

std::vector<SeenLine> chained(const std::vector<LinePiece>& pieces, const ChainOptions& options) {
  std::vector<SeenLine> lines;
  for (const SeenLine& line : Net(pieces, options).lines()) {
    if (length_of(line) >= options.shortest) lines.push_back(simplified(line, options.straight));
  }
  for (SeenLine& line : lines) {
    if (before(line.back(), line.front())) std::reverse(line.begin(), line.end());
  }
  std::sort(lines.begin(), lines.end(), [](const SeenLine& a, const SeenLine& b) {
    const double la = length_of(a), lb = length_of(b);
    if (std::abs(la - lb) > 1e-9) return la > lb;
    return before(a.front(), b.front()) || (!before(b.front(), a.front()) && before(a.back(), b.back()));
  });
  return lines;
}

}  // namespace culmwright
