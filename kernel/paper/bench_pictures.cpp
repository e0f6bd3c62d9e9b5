#include "paper/bench_pictures.hpp"

#include <cmath>

#include "paper/sketch.hpp"

namespace culmwright {

namespace {

constexpr double quarter_turn = -90.0;

Angle upward() {
  return Angle::from_degrees(quarter_turn);
}

/// The reference line's mark on a section seen from end A: a dash outside at the right.
void line_mark(Sketch& sketch, Vec2 middle, double radius) {
  sketch.thick({middle + Vec2{radius + 0.6, 0.0}, middle + Vec2{radius + 3.0, 0.0}});
}

Vec2 toward(double degrees) {
  const Angle t = Angle::from_degrees(degrees);
  return {t.cos(), -t.sin()};  // seen from end A angles grow against the clock
}

void caliper(Sketch& sketch, Vec2 middle, double half_width, double reach) {
  // Two jaws square to the reading's direction, and the beam above them.
  const double top = middle.y - reach;
  for (const double side : {-1.0, 1.0}) {
    const double x = middle.x + side * half_width;
    sketch.thick({{x, top}, {x, middle.y + 3.0}, {x + side * 1.8, middle.y + 1.0}, {x + side * 1.8, top}});
  }
  sketch.thick(rectangle({middle.x - half_width - 5.0, top - 3.0, middle.x + half_width + 9.0, top}), true);
  for (int i = 0; i < 8; ++i) {
    const double x = middle.x - half_width + 2.0 * half_width * (i + 0.5) / 8.0;
    sketch.thin({{x, top - (i % 4 == 0 ? 1.8 : 1.2)}, {x, top - 0.3}});
  }
}

void board(Sketch& sketch, double left, double right, double y) {
  sketch.thick({{left, y}, {right, y}});
  sketch.hatch({rectangle({left, y, right, y + 2.2})}, 45.0, 1.6);
}

void height_gauge(Sketch& sketch, double x, double foot_y, double tip_y, double arm) {
  sketch.thick(rectangle({x - 4.0, foot_y - 4.0, x + 4.0, foot_y}), true);
  sketch.thick(rectangle({x - 0.9, tip_y - 10.0, x + 0.9, foot_y - 4.0}), true);
  const double side = arm < 0.0 ? -1.0 : 1.0;
  sketch.thick(
      {{x + side * 0.9, tip_y - 2.6}, {x + arm, tip_y - 1.0}, {x + arm, tip_y}, {x + side * 0.9, tip_y}});
}

/// A bowed piece from the side, as a strip of even width about an arc; `rise` toward the top of the page.
void bowed_piece(Sketch& sketch, double left, double right, double y, double rise, double half) {
  Polyline top;
  Polyline foot;
  for (int i = 0; i <= 24; ++i) {
    const double t = i / 24.0;
    const double bow = rise * 4.0 * t * (1.0 - t);
    top.push_back({left + (right - left) * t, y - bow - half});
    foot.push_back({left + (right - left) * t, y - bow + half});
  }
  top.insert(top.end(), foot.rbegin(), foot.rend());
  sketch.thick(top, true);
}

}  // namespace

void picture_of_marks(Page& page, const Box& box) {
  Sketch sketch(page, "picture-marks", "The piece with its marks, end A up");
  const double x = box.left + 34.0;
  const double top = box.top + 8.0;
  const double foot = box.bottom - 8.0;
  const double half = 8.0;
  const double datum = top + 11.0;
  const double node = top + 0.55 * (foot - top);
  sketch.thick({{x - half, top}, {x + half, top}, {x + half + 0.8, foot}, {x - half - 0.8, foot}}, true);
  sketch.axis({x, top - 3.0}, {x, foot + 3.0});
  sketch.words({x + 3.0, top - 2.0}, "A", Anchor::start, 5.0, Weight::bold);
  sketch.words({x + 3.0, foot + 6.2}, "B", Anchor::start, 5.0, Weight::bold);
  sketch.dot({x, datum}, 0.7).ring({x, datum}, 1.7);
  // The ridge: the near half lower by half the slant, the far half hidden and higher.
  for (const double edge : {-2.0, 2.0}) sketch.thin(oval({x, node + edge}, half + 0.4, 2.6, 0.0, 180.0));
  sketch.hidden(oval({x, node}, half + 0.4, 2.6, 180.0, 360.0));
  const double station = top + 0.78 * (foot - top);
  for (const double edge : {-1.1, 1.1}) sketch.thin(oval({x, station + edge}, half + 0.6, 2.4, 0.0, 180.0));
  const double right = x + half;
  // Along, from the datum mark.
  sketch.thin({{x + 2.2, datum}, {right + 15.5, datum}});
  sketch.thin({{x + 1.0, node + 2.6}, {right + 8.0, node + 2.6}});
  sketch.measure({right + 7.0, datum}, {right + 7.0, node + 2.6});
  sketch.words({right + 6.0, 0.5 * (datum + node)}, "node: at, on the line", Anchor::middle, 2.5,
               Weight::regular, upward());
  sketch.thin({{right + 1.0, node - 2.6}, {right + 15.5, node - 2.6}});
  sketch.measure({right + 14.5, datum}, {right + 14.5, node - 2.6});
  sketch.words({right + 13.5, 0.5 * (datum + node)}, "node: at, far side", Anchor::middle, 2.5,
               Weight::regular, upward());
  sketch.thin({{right + 1.2, station}, {right + 8.0, station}});
  sketch.words({right + 9.0, station + 1.0}, "station", Anchor::start);
  // Lengths at the left.
  const double left = x - half;
  sketch.thin({{left - 1.0, top}, {left - 19.0, top}}).thin({{left - 1.6, foot}, {left - 19.0, foot}});
  sketch.measure({left - 18.0, top}, {left - 18.0, foot});
  sketch.words({left - 19.0, 0.5 * (top + foot)}, "length", Anchor::middle, 2.5, Weight::regular, upward());
  sketch.thin({{x - 2.2, datum}, {left - 6.0, datum}});
  sketch.measure({left - 5.0, top}, {left - 5.0, datum});
  sketch.words({left - 6.2, 0.5 * (top + datum) + 10.0}, "datum", Anchor::end);
  sketch.words({left - 6.2, 0.5 * (top + datum) + 13.8}, "from A", Anchor::end);
  // Around, to the right.
  const double y = foot - 8.0;
  sketch.arrow({x + 0.8, y}, {right - 0.5, y});
  sketch.thin({{right + 1.2, y}, {right + 4.0, y}});
  sketch.words({right + 4.8, y + 1.0}, "around", Anchor::start);
  sketch.words({right + 4.8, y + 4.8}, "to the right", Anchor::start);
}

void picture_of_widths(Page& page, const Box& box) {
  Sketch sketch(page, "picture-widths", "Caliper widths on a section, seen from end A");
  const Vec2 middle{box.left + 20.0, box.top + 24.0};
  const double a = 9.5;
  sketch.thick(oval(middle, a, 8.8), true);
  caliper(sketch, middle, a, 14.0);
  for (const double degrees : {45.0, 90.0, 135.0}) {
    const Vec2 way = toward(degrees);
    sketch.axis(middle - way * 7.5, middle + way * 7.5);
  }
  sketch.axis(middle - Vec2{13.5, 0.0}, middle + Vec2{13.5, 0.0});
  sketch.words(middle + Vec2{14.5, 0.9}, "0\u00B0, the line", Anchor::start);
  for (const double degrees : {45.0, 90.0, 135.0}) {
    const Vec2 at = middle - toward(degrees) * 13.0;
    sketch.words(at + Vec2{0.0, 1.2}, degrees == 45.0   ? "45\u00B0"
                                      : degrees == 90.0 ? "90\u00B0"
                                                        : "135\u00B0");
  }
  sketch.words({box.left, box.bottom}, "Widths, seen from end A", Anchor::start);
}

void picture_of_girth(Page& page, const Box& box) {
  Sketch sketch(page, "picture-girth", "A paper strip around the piece, pricked where it overlaps");
  const Vec2 middle{box.left + 16.0, box.top + 26.0};
  sketch.thick(oval(middle, 9.5, 8.8), true);
  // The strip lies on the skin; over the top it lies twice, and its loose end stands off.
  const Polyline over = oval(middle, 11.6, 10.9, -130.0, -62.0);
  sketch.thin(oval(middle, 10.5, 9.8), true).thin(over);
  sketch.thin({over.front(), middle + (over.front() - middle) * (10.5 / 11.6)});
  sketch.thin({over.back(), over.back() + Vec2{7.0, 0.6}});
  const Vec2 prick = middle + Vec2{-0.8, -10.6};
  sketch.thick({prick + Vec2{0.0, -7.0}, prick + Vec2{0.0, 1.4}});
  sketch.ring(prick + Vec2{0.0, -8.0}, 1.0);
  sketch.words({box.left + 22.0, box.top + 6.0}, "prick through both", Anchor::start);
  sketch.words({box.left + 22.0, box.top + 9.8}, "layers, lay flat,", Anchor::start);
  sketch.words({box.left + 29.5, box.top + 13.6}, "measure", Anchor::start);
  sketch.words({box.left, box.bottom}, "Girth: strip or tape", Anchor::start);
}

void picture_of_walls(Page& page, const Box& box) {
  Sketch sketch(page, "picture-walls", "The wall at an end on four sides, and in a pilot hole");
  const Vec2 middle{box.left + 19.0, box.top + 22.0};
  const Polyline skin = oval(middle, 10.5, 10.0);
  const Polyline bore = oval(middle + Vec2{-0.4, 0.3}, 6.6, 6.2);
  sketch.hatch({skin, bore}, 45.0, 1.5).thick(skin, true).thick(bore, true);
  line_mark(sketch, middle, 10.5);
  const char* const names[] = {"0\u00B0", "90\u00B0", "180\u00B0", "270\u00B0"};
  for (int i = 0; i < 4; ++i) {
    const Vec2 way = toward(90.0 * i);
    sketch.words(middle + way * (i % 2 == 0 ? 17.0 : 13.5) + Vec2{0.0, 1.2}, names[i]);
  }
  sketch.words({box.left, box.bottom}, "Wall at both ends", Anchor::start);
  // A pilot hole with the hook gauge.
  const double left = box.left + 54.0;
  const double top = box.top + 20.0;
  const double wall = 7.0;
  const Polyline one = rectangle({left, top, left + 13.0, top + wall});
  const Polyline two = rectangle({left + 18.0, top, left + 31.0, top + wall});
  sketch.hatch({one, two}, 45.0, 1.5);
  sketch.thick(one, true).thick(two, true);
  const double rod = left + 14.2;
  sketch.thick({{rod, top - 12.0},
                {rod, top + wall + 1.4},
                {left + 10.0, top + wall + 1.4},
                {left + 10.0, top + wall},
                {left + 12.8, top + wall}});
  sketch.thick({{rod + 1.4, top - 12.0},
                {rod + 1.4, top + wall + 2.8},
                {left + 8.6, top + wall + 2.8},
                {left + 8.6, top + wall + 0.2}});
  sketch.thin({{left - 5.0, top}, {left - 0.6, top}})
      .thin({{left - 5.0, top + wall}, {left - 0.6, top + wall}});
  sketch.measure({left - 4.0, top}, {left - 4.0, top + wall});
  sketch.words({left - 5.6, top + 0.5 * wall + 1.2}, "wall", Anchor::end);
  sketch.words({left + 18.0, top - 8.0}, "hook gauge", Anchor::start);
  sketch.words({left - 10.0, box.bottom}, "Wall in the first pilot hole", Anchor::start);
}

void picture_of_balance(Page& page, const Box& box) {
  Sketch sketch(page, "picture-balance", "The balance on an edge");
  const double y = box.top + 9.0;
  const double left = box.left + 6.0;
  const double right = box.right - 6.0;
  const double edge = left + 0.56 * (right - left);
  sketch.thick({{left, y - 3.5}, {right, y - 4.0}, {right, y + 4.0}, {left, y + 3.5}}, true);
  sketch.words({left - 1.5, y + 1.2}, "A", Anchor::end, 3.5, Weight::bold);
  sketch.words({right + 1.5, y + 1.2}, "B", Anchor::start, 3.5, Weight::bold);
  sketch.thick({{edge, y + 3.9}, {edge - 3.5, y + 9.5}, {edge + 3.5, y + 9.5}}, true);
  sketch.dot({left + 6.0, y}, 0.6).ring({left + 6.0, y}, 1.5);
  sketch.thin({{left + 6.0, y + 2.0}, {left + 6.0, y + 14.5}}).thin({{edge, y + 10.0}, {edge, y + 14.5}});
  sketch.measure({left + 6.0, y + 13.0}, {edge, y + 13.0});
  sketch.words({0.5 * (left + 6.0 + edge), y + 12.2}, "balances at");
}

void picture_of_bow(Page& page, const Box& box) {
  Sketch sketch(page, "picture-bow", "The straightedge on a hollow and on a convex side");
  const double half = 3.5;
  const double wide = 62.0;
  // Hollow: the edge bridges the piece.
  double left = box.left + 6.0;
  double right = left + wide;
  double y = box.top + 16.0;
  const double rise = 4.0;
  bowed_piece(sketch, left, right, y, -rise, half);
  sketch.thick(rectangle({left - 3.0, y - half - 4.0, right + 3.0, y - half}), true);
  const double middle = 0.5 * (left + right);
  sketch.measure({middle, y - half}, {middle, y + rise - half});
  sketch.words({middle + 3.0, y - half + 2.9}, "gap", Anchor::start);
  sketch.words({left - 4.0, y + 1.2}, "A", Anchor::middle, 3.5, Weight::bold);
  sketch.words({right + 4.0, y + 1.2}, "B", Anchor::middle, 3.5, Weight::bold);
  sketch.words({middle, box.bottom - 12.0}, "hollow side: convex false");
  sketch.words({middle, box.bottom - 8.0}, "at is where the gap is widest");
  // Convex: the belly touches, both ends gape alike.
  left = right + 24.0;
  right = left + wide;
  y += 4.0;
  bowed_piece(sketch, left, right, y, rise, half);
  const double touch = y - rise - half;
  sketch.thick(rectangle({left - 3.0, touch - 4.0, right + 3.0, touch}), true);
  sketch.measure({left + 0.8, touch}, {left + 0.8, y - half});
  sketch.measure({right - 0.8, touch}, {right - 0.8, y - half});
  const double belly = 0.5 * (left + right);
  sketch.words({left - 2.4, y - half - 0.6}, "gap", Anchor::end);
  sketch.words({right + 2.4, y - half - 0.6}, "gap", Anchor::start);
  sketch.words({belly, box.bottom - 12.0}, "convex side: convex true");
  sketch.words({belly, box.bottom - 8.0}, "both gaps alike; at is where it touches");
  // The two planes.
  const Vec2 section{box.right - 14.0, box.top + 18.0};
  sketch.thick(oval(section, 7.0, 6.6), true);
  line_mark(sketch, section, 7.0);
  sketch.thick(rectangle({section.x + 7.2, section.y - 3.4, section.x + 7.2, section.y + 3.4}));
  sketch.thick({section + Vec2{-2.5, -6.8}, section + Vec2{2.5, -6.8}});
  sketch.words(section + Vec2{5.0, 10.5}, "facing 0\u00B0", Anchor::middle);
  sketch.words(section + Vec2{0.0, -8.6}, "90\u00B0");
}

void picture_of_height_gauge(Page& page, const Box& box, int flats) {
  Sketch sketch(page, "picture-height-gauge",
                "The height gauge on a piece in its survey plates, from the end");
  constexpr double half = 17.0;
  constexpr double tube = 8.0;
  const double y = box.bottom - 2.2;
  const Vec2 middle{box.left + 37.0, y - half};
  board(sketch, box.left, box.left + 77.0, y);
  Polyline plate;
  const double corner = half / std::cos(pi / flats);
  for (int i = 0; i < flats; ++i) {
    const Angle t = Angle::from_degrees(360.0 * (i + 0.5) / flats + 90.0);
    plate.push_back(middle + Vec2{t.cos(), t.sin()} * corner);
  }
  sketch.thick(plate, true).thick(oval(middle + Vec2{0.6, -1.0}, tube, tube - 0.4), true);
  const double top = middle.y - 1.0 - (tube - 0.4);
  height_gauge(sketch, middle.x + 31.0, y, top, -30.0);
  sketch.thin({{box.left + 6.0, top}, {middle.x - 4.0, top}});
  sketch.measure({box.left + 7.0, top}, {box.left + 7.0, y});
  sketch.words({box.left + 6.0, middle.y + 4.0}, "height", Anchor::middle, 2.5, Weight::regular, upward());
}

void picture_of_heights(Page& page, const Box& box, int flats) {
  Sketch sketch(page, "picture-heights", "Survey plates on a board, with the height gauge");
  const double y = box.bottom - 10.0;
  const double half = 17.0;  // of the plates' across-flats
  const double axis = y - half;
  // From the side.
  const double left = box.left + 4.0;
  const double right = left + 92.0;
  board(sketch, left - 4.0, right + 12.0, y);
  for (const double x : {left, right - 4.5}) {
    sketch.thick(rectangle({x, y - 2.0 * half, x + 4.5, y}), true);
  }
  const double tube = 8.0;
  const double rise = 2.0;
  bowed_piece(sketch, left + 4.5, right - 4.5, axis, rise, tube);
  sketch.axis({left - 3.0, axis}, {right + 3.0, axis});
  // The gauge stands behind the piece.
  const double at = 0.5 * (left + right) - 8.0;
  const double post = at + 20.0;
  const double tip = axis - tube - rise;
  sketch.thick({{at, tip}, {at, tip - 2.6}, {post - 0.9, tip - 2.6}});
  sketch.thick({{at, tip}, {post - 0.9, tip - 0.8}});
  for (const double side : {-0.9, 0.9}) {
    const double x = post + side;
    sketch.thick({{x, tip - 8.0}, {x, tip + 0.6}}).hidden({{x, tip + 0.6}, {x, axis + tube - 1.2}});
    sketch.thick({{x, axis + tube - 1.0}, {x, y - 4.0}});
  }
  sketch.thick({{post - 0.9, tip - 8.0}, {post + 0.9, tip - 8.0}});
  sketch.thick(rectangle({post - 4.0, y - 4.0, post + 4.0, y}), true);
  sketch.words({left - 3.0, y - 2.0 * half - 2.5}, "A", Anchor::start, 3.5, Weight::bold);
  sketch.words({right + 3.0, y - 2.0 * half - 2.5}, "B", Anchor::end, 3.5, Weight::bold);
  sketch.words({left + 7.0, axis - 1.4}, "line between the plates", Anchor::start);
  picture_of_height_gauge(page, {box.left + 103.0, y - 38.0, box.left + 183.0, y + 2.2}, flats);
  sketch.words({box.left, box.bottom},
               "Roll from flat to flat; the flat that faces up has the number of its height.", Anchor::start);
}

}  // namespace culmwright
