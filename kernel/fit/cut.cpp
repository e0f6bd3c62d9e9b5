#include "fit/cut.hpp"

#include <algorithm>
#include <limits>

#include "base/problem.hpp"

namespace culmwright {

MinimumCut::MinimumCut(int nodes)
    : terminal_(nodes, 0),
      tree_(nodes, Tree::none),
      parent_(nodes, no_parent),
      distance_(nodes, 0),
      stamp_(nodes, 0),
      is_active_(nodes, 0) {}

void MinimumCut::add_edge(int from, int to, Capacity capacity) {
  if (capacity > 0) edges_.push_back({from, to, capacity});
}

void MinimumCut::add_terminal(int node, Capacity from_source, Capacity to_sink) {
  // What can pass straight through needs no search.
  Capacity& left = terminal_[node];
  from_source += std::max<Capacity>(left, 0);
  to_sink += std::max<Capacity>(-left, 0);
  flow_ += std::min(from_source, to_sink);
  left = from_source - to_sink;
}

void MinimumCut::build_arcs() {
  const std::size_t nodes = terminal_.size();
  first_.assign(nodes + 1, 0);
  for (const Edge& edge : edges_) {
    ++first_[edge.from + 1];
    ++first_[edge.to + 1];
  }
  for (std::size_t i = 0; i < nodes; ++i) first_[i + 1] += first_[i];
  std::vector<int> next(first_.begin(), first_.end() - 1);
  arcs_.resize(2 * edges_.size());
  for (const Edge& edge : edges_) {
    const int there = next[edge.from]++;
    const int back = next[edge.to]++;
    arcs_[there] = {edge.to, back, edge.capacity};
    arcs_[back] = {edge.from, there, 0};
  }
}

void MinimumCut::activate(int node) {
  if (is_active_[node]) {
    // What was looked at before must be looked at again.
    if (active_[next_active_] == node) scan_ = first_[node];
    return;
  }
  is_active_[node] = 1;
  active_.push_back(node);
}

void MinimumCut::plant() {
  for (int i = 0; i < static_cast<int>(terminal_.size()); ++i) {
    if (terminal_[i] == 0) continue;
    tree_[i] = terminal_[i] > 0 ? Tree::source : Tree::sink;
    parent_[i] = terminal;
    distance_[i] = 1;
    activate(i);
  }
  if (!active_.empty()) scan_ = first_[active_.front()];
}

/// Whether the tree of `node` can reach along `arc`, which starts there.
bool MinimumCut::can_carry(int node_in_tree, int arc) const {
  return (tree_[node_in_tree] == Tree::source ? arcs_[arc].left : arcs_[arcs_[arc].reverse].left) > 0;
}

/// Lets the trees grow until they touch: the arc from the source's tree to the sink's, or −1.
int MinimumCut::grow() {
  while (next_active_ < active_.size()) {
    const int i = active_[next_active_];
    if (tree_[i] != Tree::none) {
      for (; scan_ < first_[i + 1]; ++scan_) {
        if (can_carry(i, scan_) && touches_other_tree(i, scan_)) {
          return tree_[i] == Tree::source ? scan_ : arcs_[scan_].reverse;
        }
      }
    }
    is_active_[i] = 0;
    ++next_active_;
    if (next_active_ > 4096 && 2 * next_active_ > active_.size()) {
      active_.erase(active_.begin(), active_.begin() + static_cast<std::ptrdiff_t>(next_active_));
      next_active_ = 0;
    }
    if (next_active_ < active_.size()) scan_ = first_[active_[next_active_]];
  }
  return -1;
}

/// Takes the node at the far end of the arc into the tree of `node` if it is free, or hangs it up anew if
/// that is a shorter way; true where it belongs to the other tree.
bool MinimumCut::touches_other_tree(int node, int arc) {
  const int j = arcs_[arc].head;
  if (tree_[j] != Tree::none && tree_[j] != tree_[node]) return true;
  const bool is_free = tree_[j] == Tree::none;
  if (!is_free && !(stamp_[j] <= stamp_[node] && distance_[j] > distance_[node] + 1)) return false;
  tree_[j] = tree_[node];
  parent_[j] = arcs_[arc].reverse;
  distance_[j] = distance_[node] + 1;
  stamp_[j] = stamp_[node];
  if (is_free) activate(j);
  return false;
}

MinimumCut::Capacity MinimumCut::narrowest(int node, Tree tree, Capacity limit) const {
  for (; parent_[node] != terminal; node = arcs_[parent_[node]].head) {
    const Arc& up = arcs_[parent_[node]];
    limit = std::min(limit, tree == Tree::source ? arcs_[up.reverse].left : up.left);
  }
  return std::min(limit, tree == Tree::source ? terminal_[node] : -terminal_[node]);
}

void MinimumCut::push(int node, Tree tree, Capacity amount) {
  while (parent_[node] != terminal) {
    Arc& up = arcs_[parent_[node]];
    Arc& down = arcs_[up.reverse];
    Arc& carries = tree == Tree::source ? down : up;
    Arc& back = tree == Tree::source ? up : down;
    carries.left -= amount;
    back.left += amount;
    const int above = up.head;
    if (carries.left == 0) {
      parent_[node] = no_parent;
      orphans_.push_back(node);
    }
    node = above;
  }
  terminal_[node] -= tree == Tree::source ? amount : -amount;
  if (terminal_[node] == 0) {
    parent_[node] = no_parent;
    orphans_.push_back(node);
  }
}

void MinimumCut::augment(int bridge) {
  const int from = arcs_[arcs_[bridge].reverse].head;
  const int to = arcs_[bridge].head;
  const Capacity amount = narrowest(to, Tree::sink, narrowest(from, Tree::source, arcs_[bridge].left));
  arcs_[bridge].left -= amount;
  arcs_[arcs_[bridge].reverse].left += amount;
  push(from, Tree::source, amount);
  push(to, Tree::sink, amount);
  flow_ += amount;
}

/// Number of arcs to the terminal, or −1 where the path ends in an orphan.
int MinimumCut::distance_to_terminal(int node) {
  int steps = 0;
  for (;;) {
    if (stamp_[node] == now_) return steps + distance_[node];
    if (parent_[node] == no_parent) return -1;
    ++steps;
    if (parent_[node] == terminal) {
      stamp_[node] = now_;
      distance_[node] = 1;
      return steps;
    }
    node = arcs_[parent_[node]].head;
  }
}

void MinimumCut::mark_path(int node, int distance) {
  for (; stamp_[node] != now_; node = arcs_[parent_[node]].head) {
    stamp_[node] = now_;
    distance_[node] = distance--;
  }
}

void MinimumCut::adopt(int orphan) {
  int best = no_parent;
  int best_distance = std::numeric_limits<int>::max();
  for (int a = first_[orphan]; a < first_[orphan + 1]; ++a) {
    const int j = arcs_[a].head;
    if (tree_[j] != tree_[orphan] || parent_[j] == no_parent || !can_carry(j, arcs_[a].reverse)) continue;
    const int distance = distance_to_terminal(j);
    if (distance < 0) continue;
    if (distance < best_distance) {
      best = a;
      best_distance = distance;
    }
    mark_path(j, distance);
  }
  if (best == no_parent) {
    set_free(orphan);
    return;
  }
  parent_[orphan] = best;
  stamp_[orphan] = now_;
  distance_[orphan] = best_distance + 1;
}

void MinimumCut::set_free(int orphan) {
  for (int a = first_[orphan]; a < first_[orphan + 1]; ++a) {
    const int j = arcs_[a].head;
    if (tree_[j] != tree_[orphan]) continue;
    if (can_carry(j, arcs_[a].reverse)) activate(j);
    if (parent_[j] >= 0 && arcs_[parent_[j]].head == orphan) {
      parent_[j] = no_parent;
      orphans_.push_back(j);
    }
  }
  tree_[orphan] = Tree::none;
  // It may come back into either tree while it still waits to be looked at.
  if (is_active_[orphan]) activate(orphan);
}

MinimumCut::Capacity MinimumCut::solve() {
  build_arcs();
  plant();
  for (int bridge = grow(); bridge >= 0; bridge = grow()) {
    augment(bridge);
    ++now_;
    for (std::size_t k = 0; k < orphans_.size(); ++k) adopt(orphans_[k]);
    orphans_.clear();
  }
  check();
  return flow_;
}

void MinimumCut::check() const {
  for (std::size_t i = 0; i < terminal_.size(); ++i) {
    const bool source_side = tree_[i] == Tree::source;
    require(terminal_[i] == 0 || source_side == (terminal_[i] > 0), "a minimum cut is full at the terminals");
    if (!source_side) continue;
    for (int a = first_[i]; a < first_[i + 1]; ++a) {
      require(arcs_[a].left == 0 || tree_[arcs_[a].head] == Tree::source, "a minimum cut is full");
    }
  }
}

}  // namespace culmwright
