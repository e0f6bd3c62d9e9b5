#include <catch2/catch.hpp>
#include <cstdint>
#include <random>

#include "fit/cut.hpp"

using culmwright::MinimumCut;

namespace {

struct Graph {
  struct Edge {
    int from, to;
    MinimumCut::Capacity capacity;
  };
  int nodes = 0;
  std::vector<Edge> edges;
  std::vector<MinimumCut::Capacity> source, sink;

  MinimumCut::Capacity capacity_of(unsigned source_side) const {
    MinimumCut::Capacity sum = 0;
    for (int i = 0; i < nodes; ++i) sum += (source_side >> i & 1u) != 0 ? sink[i] : source[i];
    for (const Edge& e : edges) {
      if ((source_side >> e.from & 1u) != 0 && (source_side >> e.to & 1u) == 0) sum += e.capacity;
    }
    return sum;
  }
};

Graph random_graph(std::mt19937_64& random, int nodes, int edges) {
  const auto whole = [&random](int low, int high) {
    return std::uniform_int_distribution<int>(low, high)(random);
  };
  Graph graph;
  graph.nodes = nodes;
  for (int i = 0; i < nodes; ++i) {
    graph.source.push_back(whole(0, 2) == 0 ? whole(0, 30) : 0);
    graph.sink.push_back(whole(0, 2) == 0 ? whole(0, 30) : 0);
  }
  for (int k = 0; k < edges; ++k) {
    const int from = whole(0, nodes - 1);
    const int to = whole(0, nodes - 1);
    if (from != to) graph.edges.push_back({from, to, whole(0, 15)});
  }
  return graph;
}

}  // namespace

TEST_CASE("a minimum cut is the least of all cuts, with the fewest nodes on the source's side") {
  const std::uint64_t seed = 51;
  INFO("seed " << seed);
  std::mt19937_64 random(seed);
  for (int trial = 0; trial < 1500; ++trial) {
    const Graph graph = random_graph(random, 2 + trial % 9, 5 + trial % 40);
    MinimumCut::Capacity least = graph.capacity_of(0);
    for (unsigned side = 1; side < 1u << graph.nodes; ++side)
      least = std::min(least, graph.capacity_of(side));
    unsigned common = (1u << graph.nodes) - 1u;
    for (unsigned side = 0; side < 1u << graph.nodes; ++side) {
      if (graph.capacity_of(side) == least) common &= side;
    }
    MinimumCut cut(graph.nodes);
    for (int i = 0; i < graph.nodes; ++i) cut.add_terminal(i, graph.source[i], graph.sink[i]);
    for (const Graph::Edge& e : graph.edges) cut.add_edge(e.from, e.to, e.capacity);
    REQUIRE(cut.solve() == least);
    unsigned found = 0;
    for (int i = 0; i < graph.nodes; ++i) found |= (cut.on_source_side(i) ? 1u : 0u) << i;
    REQUIRE(graph.capacity_of(found) == least);
    REQUIRE(found == common);
  }
}

TEST_CASE("large random graphs keep their cut full at every edge") {
  // The check is inside solve, which stops the program; here it gets work.
  std::mt19937_64 random(52);
  for (int trial = 0; trial < 20; ++trial) {
    const Graph graph = random_graph(random, 400, 3000);
    MinimumCut cut(graph.nodes);
    for (int i = 0; i < graph.nodes; ++i) cut.add_terminal(i, graph.source[i], graph.sink[i]);
    for (const Graph::Edge& e : graph.edges) cut.add_edge(e.from, e.to, e.capacity);
    const MinimumCut::Capacity flow = cut.solve();
    MinimumCut::Capacity across = 0;
    for (int i = 0; i < graph.nodes; ++i) across += cut.on_source_side(i) ? graph.sink[i] : graph.source[i];
    for (const Graph::Edge& e : graph.edges) {
      if (cut.on_source_side(e.from) && !cut.on_source_side(e.to)) across += e.capacity;
    }
    CHECK(flow == across);
  }
}
