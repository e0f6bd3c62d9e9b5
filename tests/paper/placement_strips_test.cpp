#include "paper/placement_strips.hpp"

#include <catch2/catch.hpp>

#include "page_checks.hpp"
#include "shapes.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

PlacementStrip strip(const Tube& tube, End mouth_end) {
  Instrument instrument;
  instrument.id = "strip";
  instrument.tube_id = tube.id();
  instrument.mouth_end = mouth_end;
  instrument.mouth_cut_at = mouth_end == End::a ? 10.0 : tube.end_b_at() - 10.0;
  instrument.foot_cut_at = mouth_end == End::a ? tube.end_b_at() : tube.end_a_at();
  for (int i = 0; i < 6; ++i) {
    PlacedKey key;
    key.key.id = "K" + std::to_string(i + 1);
    key.key.hand = i < 3 ? Hand::left : Hand::right;
    key.key.hole_diameter = 8.0;
    key.key.touch = {14.0, 14.0, 7.0};
    key.place = {120.0 + 22.0 * i + (i >= 3 ? 50.0 : 0.0), 4.0 * (i % 2)};
    key.drilling = drilling_at(tube, key.place, HoleSquare::to_skin, 4.0);
    key.theta = tube.skin_point(key.place).theta;
    instrument.keys.push_back(key);
  }
  return {tube, instrument, "1  2.0 points", {"mouth at A, in balance"}};
}

std::vector<std::string> texts(const Page& page) {
  std::vector<std::string> words;
  for (const Group& group : page.groups) {
    for (const Item& item : group.items) {
      if (const Text* text = std::get_if<Text>(&item)) words.push_back(text->words);
    }
  }
  return words;
}

}  // namespace

TEST_CASE("five strips stand side by side on one page, all holes named, nothing beyond the margin") {
  const Tube tube{culm()};
  const std::vector<PlacementStrip> strips(5, strip(tube, End::a));
  const Drawing drawing = placement_strips(strips, "six keys on culm");
  REQUIRE(drawing.pages.size() == 1);
  const Page& page = drawing.pages.front();
  const std::vector<std::string> words = texts(page);
  for (int i = 1; i <= 6; ++i) CHECK(std::count(words.begin(), words.end(), "K" + std::to_string(i)) == 5);
  const Box margin{10.0 - 0.3, 10.0 - 0.3, page.width - 10.0 + 0.3, page.height - 10.0 + 0.3};
  for (const Group& group : page.groups) {
    for (const Item& item : group.items) {
      INFO(group.id);
      CHECK(margin.contains(bounds(item), 0.01));
    }
  }
}

TEST_CASE("eleven pieces take more pages at the same scale") {
  const Tube tube{culm()};
  const Drawing drawing = placement_strips(std::vector<PlacementStrip>(11, strip(tube, End::a)), "many");
  CHECK(drawing.pages.size() >= 2);
  CHECK(drawing.pages.front().description == drawing.pages.back().description);
}

TEST_CASE("with the mouth at B the strip is turned upside down, not mirrored") {
  // The same hole seen from the front: with end B up, what was right of the key line is left of it.
  const Tube tube{round_tube(15, 15, 300, 4)};
  const auto x_of_first = [&](End end) {
    PlacementStrip one = strip(tube, end);
    one.instrument.keys.resize(1);
    one.instrument.keys[0].place = {100.0, 12.0};
    one.instrument.keys[0].drilling = drilling_at(tube, {100.0, 12.0}, HoleSquare::to_skin, 4.0);
    one.instrument.keys[0].theta = tube.skin_point(SkinPlace{100.0, 12.0}).theta;
    const Drawing drawing = placement_strips({one}, "one");
    double middle = 0.0;
    double axis = 0.0;
    for (const Group& group : drawing.pages.front().groups) {
      for (const Item& item : group.items) {
        const Shape* shape = std::get_if<Shape>(&item);
        if (shape == nullptr) continue;
        if (shape->fill == Ink::accent) middle = bounds(item).middle().x;
        if (shape->line == LineType::long_dashed_dotted_thin) axis = bounds(item).middle().x;
      }
    }
    return middle - axis;
  };
  CHECK(x_of_first(End::a) > 1.0);
  CHECK(x_of_first(End::b) == Approx(-x_of_first(End::a)).margin(1e-6));
}
