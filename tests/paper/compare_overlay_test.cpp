#include "paper/compare_overlay.hpp"

#include <catch2/catch.hpp>

#include "page_checks.hpp"
#include "sample_instruments.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

/// The instrument with one key put elsewhere.
Instrument with_key_at(const Tube& tube, Instrument instrument, std::size_t index, SkinPlace place) {
  const Key key = instrument.keys.at(index).key;
  instrument.keys[index] = placed_key(tube, key.id, place, key.hole_diameter, key.touch);
  return instrument;
}

int count_shapes(const Page& page, const std::string& group, LineType type) {
  const Group* found = group_of(page, group);
  int count = 0;
  for (const Item& item : found == nullptr ? std::vector<Item>{} : found->items) {
    const Shape* shape = std::get_if<Shape>(&item);
    count += shape != nullptr && shape->line == type ? 1 : 0;
  }
  return count;
}

/// Arrowheads: filled black, no line.
std::vector<Box> arrowheads(const Page& page, const std::string& group) {
  std::vector<Box> found;
  for (const Item& item : group_of(page, group)->items) {
    const Shape* shape = std::get_if<Shape>(&item);
    if (shape != nullptr && shape->fill == Ink::black) found.push_back(bounds(item));
  }
  return found;
}

}  // namespace

TEST_CASE("an overlay shows each moved key in a window of its own, where it was and where it is") {
  const Tube tube = short_pipe();
  const Instrument was = short_instrument(tube);
  const SkinPlace from = was.keys[1].place;
  const Instrument now = with_key_at(tube, was, 1, {from.at + 2.0, from.around + 3.0});
  const Drawing drawing =
      compare_overlay(tube, was, now, {{"L2", "2.0 toward foot, 3.0 to player's left"}},
                      "whistle-test, revision 1 to 2", {"Mouth cut: 1.0 toward foot."}, PaperSize::a4);
  REQUIRE(drawing.pages.size() == 1);
  const Page& page = drawing.pages.front();
  check_page(page, 10.0);
  CHECK(count_words(page, "2.0 toward foot, 3.0 to player's left") == 1);
  CHECK(count_words(page, "Mouth cut: 1.0 toward foot.") == 1);
  CHECK(count_words(page, "sheet 1 of 1") == 1);
  // Touch and rim as they were.
  CHECK(count_shapes(page, "moved-L2", LineType::long_dashed_double_dotted_thin) == 2);
  // The arrow's tip stands where the hole is: right of and below where it was, mouth end up.
  const std::vector<Box> heads = arrowheads(page, "moved-L2");
  REQUIRE(heads.size() == 1);
  const Shape* hole = nullptr;
  for (const Item& item : group_of(page, "moved-L2")->items) {
    const Shape* shape = std::get_if<Shape>(&item);
    if (shape != nullptr && shape->fill == Ink::accent && bounds(item).contains(heads[0])) hole = shape;
  }
  REQUIRE(hole != nullptr);
  const Vec2 middle = bounds(Item(*hole)).middle();
  CHECK(heads[0].right == Approx(middle.x).margin(0.35));
  CHECK(heads[0].bottom == Approx(middle.y).margin(0.35));
}

TEST_CASE("no words of an overlay meet others or a line, on all papers, with all keys moved") {
  const Tube tube = long_culm();
  const Instrument was = long_instrument(tube);
  Instrument now = was;
  std::vector<OverlayMove> moves;
  for (std::size_t i = 0; i < was.keys.size(); ++i) {
    const SkinPlace place = was.keys[i].place;
    now = with_key_at(tube, now, i, {place.at + 1.5, place.around - 1.0});
    moves.push_back({was.keys[i].key.id, "1.5 toward foot, 1.0 to player's right"});
  }
  now.parts[1].place.at += 6.0;
  moves.push_back({"rest", "6.0 toward foot"});
  now.mouth_cut_at += 4.0;
  now.facing = now.facing + Angle::from_degrees(3.0);
  for (const PaperSize paper : {PaperSize::a4, PaperSize::letter, PaperSize::a3}) {
    const Drawing drawing = compare_overlay(tube, was, now, moves, "tenor-17, revision 2 to 3",
                                            {"Mouth cut: 4.0 toward foot."}, paper);
    int windows = 0;
    for (const Page& page : drawing.pages) {
      check_page(page, 10.0);
      for (const Group& group : page.groups) windows += group.id.rfind("moved-", 0) == 0 ? 1 : 0;
    }
    CHECK(windows == 18);
  }
}

TEST_CASE("a key that went round the back gets a window and no arrow across the picture") {
  const Tube tube = short_pipe();
  const Instrument was = short_instrument(tube);
  const SkinPlace from = was.keys[6].place;
  const Instrument now = with_key_at(tube, was, 6, {from.at, from.around + 8.0});
  const Drawing drawing =
      compare_overlay(tube, was, now, {{"T", "8.0 to player's left"}}, "round the back", {}, PaperSize::a4);
  check_page(drawing.pages.front(), 10.0);
  CHECK(arrowheads(drawing.pages.front(), "whole").empty());
  CHECK(arrowheads(drawing.pages.front(), "moved-T").size() == 1);
}

TEST_CASE("two placements that are alike give one page with the piece alone") {
  const Tube tube = short_pipe();
  const Instrument was = short_instrument(tube);
  const std::string heading = "whistle-of-six-holes-01, revision 12, to whistle-test-on-pipe-1, revision 3";
  const Drawing drawing = compare_overlay(tube, was, was, {}, heading, {}, PaperSize::a4);
  REQUIRE(drawing.pages.size() == 1);
  check_page(drawing.pages.front(), 10.0);
  CHECK(count_shapes(drawing.pages.front(), "whole", LineType::long_dashed_double_dotted_thin) == 0);
}
