#pragma once
/// Minimum cut of a graph with two terminals, with whole-number capacities: exact, the same on every machine.
///
/// Two search trees, one from each terminal, kept from path to path (Boykov & Kolmogorov 2004, IEEE PAMI
/// 26(9):1124, section 3; marking and distances as in its section 3.2.2). Its bound is weak, but on graphs of
/// this shape it is quick. After the flow is found the cut is checked against it, always: no capacity may be
/// left across the cut, which proves both.
#include <cstdint>
#include <vector>

namespace culmwright {

class MinimumCut {
 public:
  using Capacity = std::int64_t;
  /// Never cut. The sum of all limited capacities at the terminals must stay below half of it.
  static constexpr Capacity unlimited = Capacity{1} << 61;

  explicit MinimumCut(int nodes);

  /// From `from` to `to`; cut when `from` is on the source's side and `to` on the sink's.
  void add_edge(int from, int to, Capacity capacity);
  /// Edges from the source and to the sink; they add up over calls.
  void add_terminal(int node, Capacity from_source, Capacity to_sink);

  /// The capacity of the minimum cut. Once only.
  Capacity solve();

  /// Of all minimum cuts, the one with the fewest nodes on the source's side.
  bool on_source_side(int node) const { return tree_[node] == Tree::source; }

 private:
  enum class Tree : signed char { none, source, sink };
  struct Edge {
    int from, to;
    Capacity capacity;
  };
  struct Arc {
    int head;
    int reverse;  // index of the arc back
    Capacity left;
  };
  // In place of an arc to the parent.
  static constexpr int no_parent = -1;
  static constexpr int terminal = -2;

  void build_arcs();
  void plant();
  bool can_carry(int node_in_tree, int arc) const;
  int grow();
  bool touches_other_tree(int node, int arc);
  Capacity narrowest(int node, Tree tree, Capacity limit) const;
  void push(int node, Tree tree, Capacity amount);
  void augment(int bridge);
  void adopt(int orphan);
  int distance_to_terminal(int node);
  void mark_path(int node, int distance);
  void set_free(int orphan);
  void activate(int node);
  void check() const;

  std::vector<Edge> edges_;
  std::vector<Arc> arcs_;
  std::vector<int> first_;          // of each node, in arcs_
  std::vector<Capacity> terminal_;  // left from the source (positive) or to the sink (negative)
  std::vector<Tree> tree_;
  std::vector<int> parent_;  // arc from the node to its parent
  std::vector<int> distance_;
  std::vector<int> stamp_;  // when distance_ was known to be right
  std::vector<int> active_;
  std::vector<char> is_active_;
  std::size_t next_active_ = 0;
  int scan_ = 0;  // the next arc to look at, of the active node whose turn it is
  std::vector<int> orphans_;
  int now_ = 0;
  Capacity flow_ = 0;
};

}  // namespace culmwright
