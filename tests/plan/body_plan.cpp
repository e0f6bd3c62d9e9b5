#include "plan/body_plan.hpp"

#include <catch2/catch.hpp>

#include "plan/sample_cups.hpp"

using namespace culmwright;

namespace {

Node node_at(double at, std::optional<double> pierced) {
  Node node;
  node.at_line = node.at_far = at;
  node.diaphragm = 4.0;
  node.pierced_diameter = pierced;
  return node;
}

Tube pipe_with_nodes(const std::vector<Node>& nodes) {
  TubeShape shape = test::round_tube(15, 15, 300, 3);
  shape.nodes = nodes;
  return Tube(shape);
}

}  // namespace

TEST_CASE("a tapered tube's planned volume is that of the handbook's frustums") {
  // REFERENCES, "Statics": outer r 15→13, inner 11→10, L 400: V 108070.787. Calculated.
  TubeShape shape = test::round_tube(15, 13, 400, 4);
  shape.wall = FourierAlong({{0, test::straight(0, 4, 400, 3), {}}});
  const Tube tube(shape);
  CHECK(expectation_of(plan_body(tube), tube).volume == Approx(108070.787).epsilon(1e-8));
}

TEST_CASE("the planned areas of a straight pipe are those of cylinders and rings") {
  const Tube tube(test::round_tube(15, 15, 300, 3));
  const Expectation expected = expectation_of(plan_body(tube), tube);
  for (const FaceExpectation& face : expected.faces) {
    REQUIRE(face.area.has_value());
    const double wanted = face.name == "skin"   ? 2 * pi * 15 * 300
                          : face.name == "bore" ? 2 * pi * 12 * 300
                                                : pi * (225 - 144);
    CHECK(*face.area == Approx(wanted).epsilon(1e-10));
  }
}

TEST_CASE("handles and shells are counted by the ways between cavities and the outside") {
  const auto counts = [](const std::vector<Node>& nodes) {
    const Tube tube = pipe_with_nodes(nodes);
    const Expectation expected = expectation_of(plan_body(tube), tube);
    return std::pair<int, int>(expected.genus, expected.shells);
  };
  CHECK(counts({}) == std::pair<int, int>(1, 1));                            // a pipe
  CHECK(counts({node_at(100, std::nullopt)}) == std::pair<int, int>(0, 1));  // two cups, foot to foot
  CHECK(counts({node_at(100, 10.0)}) == std::pair<int, int>(1, 1));          // a pipe with a neck
  CHECK(counts({node_at(100, std::nullopt), node_at(200, std::nullopt)}) == std::pair<int, int>(0, 2));
  CHECK(counts({node_at(100, 10.0), node_at(200, std::nullopt)}) == std::pair<int, int>(0, 1));
  CHECK(counts({node_at(100, 40.0)}) == std::pair<int, int>(1, 1));  // pierced to the bore
  CHECK(counts({node_at(0, std::nullopt), node_at(300, std::nullopt)}) == std::pair<int, int>(0, 2));
}

TEST_CASE("a diaphragm's volume is that of its plate less its hole") {
  const auto volume = [](const std::vector<Node>& nodes) {
    const Tube tube = pipe_with_nodes(nodes);
    return expectation_of(plan_body(tube), tube).volume;
  };
  CHECK(volume({node_at(100, std::nullopt)}) - volume({}) == Approx(pi * 144 * 4).epsilon(1e-9));
  CHECK(volume({node_at(100, 10.0)}) - volume({}) == Approx(pi * (144 - 25) * 4).epsilon(1e-9));
}
