#include "paper/plate_sheet.hpp"

#include <cmath>

#include "base/words.hpp"
#include "paper/bench_pictures.hpp"
#include "paper/form_sheet.hpp"
#include "paper/sketch.hpp"

namespace culmwright {

namespace {

constexpr double half = 17.0;  ///< of a plate as drawn, across its flats
constexpr double tube = 8.0;   ///< radius of the piece as drawn
constexpr double picture_height = 49.0;

struct Plates {
  int flats = 16;
  double across = 60.0;
  std::string half_across() const { return number_text(0.5 * across); }
};

void board(Sketch& sketch, double left, double right, double y) {
  sketch.thick({{left, y}, {right, y}});
  sketch.hatch({rectangle({left, y, right, y + 2.2})}, 45.0, 1.6);
}

/// A plate from the end, turned by that many flats; a flat lies on the board.
Polyline plate(Vec2 middle, int flats, double turned = 0.0) {
  Polyline points;
  const double corner = half / std::cos(pi / flats);
  for (int i = 0; i < flats; ++i) {
    const Angle t = Angle::from_degrees(360.0 * (i + 0.5 + turned) / flats + 90.0);
    points.push_back(middle + Vec2{t.cos(), t.sin()} * corner);
  }
  return points;
}

void fix_picture(Page& page, const Box& box) {
  Sketch sketch(page, "fix-plates", "A plate on an end, cut open");
  const double x = box.left + 10.0;
  const double axis = box.top + 4.0 + half;
  const double recess = tube + 0.8;
  for (const double side : {-1.0, 1.0}) {
    const auto at = [&](double from_left, double from_axis) {
      return Vec2{x + from_left, axis + side * from_axis};
    };
    // The plate with its recess, and the collar that takes the end.
    const Polyline cut{
        at(0, 2.0),       at(0, half),     at(6.0, half), at(6.0, recess + 2.4), at(11.0, recess + 2.4),
        at(11.0, recess), at(3.6, recess), at(3.6, 2.0)};
    sketch.hatch({cut}, side > 0.0 ? 45.0 : 135.0, 1.8).thick(cut, true);
    sketch.thick({at(3.6, tube), at(44.0, tube)}).thin({at(3.6, tube - 3.0), at(44.0, tube - 3.0)});
    sketch.thin({at(11.2, recess + 2.4), at(22.0, tube + 0.4)});
  }
  sketch.axis({x - 4.0, axis}, {x + 48.0, axis});
  sketch.thick({{x + 3.6, axis - tube}, {x + 3.6, axis + tube}});
  sketch.words({x + 20.0, axis - tube - 4.5}, "tape binds collar and piece", Anchor::start);
  sketch.words({x + 14.0, axis + tube + 6.5}, "end flush in the recess", Anchor::start);
  sketch.leader({x + 13.4, axis + tube + 5.4}, {x + 3.6, axis + tube - 1.5});
}

void press_picture(Page& page, const Box& box) {
  Sketch sketch(page, "press-plates", "Both plates flat on the board together");
  const double y = box.top + 10.0 + 2.0 * half;
  const double left = box.left + 6.0;
  const double right = box.left + 76.0;
  board(sketch, box.left, right + 6.0, y);
  for (const double x : {left, right - 4.5}) {
    sketch.thick(rectangle({x, y - 2.0 * half, x + 4.5, y}), true);
    sketch.arrow({x + 2.2, y - 2.0 * half - 8.0}, {x + 2.2, y - 2.0 * half - 0.6});
  }
  for (const double side : {-1.0, 1.0}) {
    Polyline edge;
    for (int i = 0; i <= 12; ++i) {
      const double t = i / 12.0;
      edge.push_back({left + 4.5 + (right - left - 9.0) * t, y - half + side * tube - 8.0 * t * (1.0 - t)});
    }
    sketch.thick(edge);
  }
  sketch.axis({left - 3.0, y - half}, {right + 3.0, y - half});
  sketch.words({0.5 * (left + right), y - 2.0 * half - 4.0}, "press both down, then bind them");
  sketch.words({left + 7.0, y - half - 1.4}, "line between the plates", Anchor::start);
}

void mark_picture(Page& page, const Box& box, const Plates& plates) {
  Sketch sketch(page, "plate-marks", "The marks of the flats, on plate B from outside");
  const Vec2 middle{box.left + 34.0, box.top + 6.0 + half};
  sketch.thick(plate(middle, plates.flats), true);
  sketch.thick(oval(middle, tube, tube - 0.4), true);
  const bool quarters = plates.flats % 4 == 0;
  for (int k = 0; k < (quarters ? 4 : 2); ++k) {
    const int flat = quarters ? k * plates.flats / 4 : k;
    // Plate B from outside: angles grow with the clock, flat 0 at the right.
    const Angle t = Angle::from_degrees(360.0 * flat / plates.flats);
    const Vec2 n{t.cos(), t.sin()};
    const Vec2 along{-n.y, n.x};
    for (int i = 0; i <= k; ++i) {
      const Vec2 at = middle + n * half + along * (1.2 * (i - 0.5 * k));
      sketch.thick({at, at - n * 1.6});
    }
    const std::string name = "flat " + std::to_string(flat);
    const Vec2 place = middle + n * (half + 2.0);
    const bool sideways = std::abs(n.x) > 0.7;
    sketch.words(sideways ? place + Vec2{0.0, 1.2} : place + Vec2{0.0, n.y > 0.0 ? 2.5 : -0.2}, name,
                 sideways ? (n.x > 0.0 ? Anchor::start : Anchor::end) : Anchor::middle);
  }
}

void scribe_picture(Page& page, const Box& box, const Plates& plates) {
  Sketch sketch(page, "scribe", "The scribing block draws the reference line");
  const double y = box.top + 6.0 + 2.0 * half;
  const Vec2 middle{box.left + 26.0, y - half};
  board(sketch, box.left, box.left + 82.0, y);
  sketch.thick(plate(middle, plates.flats), true);
  sketch.thick(oval(middle + Vec2{-0.6, 0.8}, tube, tube - 0.4), true);
  // The block stands beside the plates; its needle lies at the height of their axis.
  const double post = middle.x + 32.0;
  sketch.thick(rectangle({post - 4.5, y - 4.5, post + 4.5, y}), true);
  sketch.thick(rectangle({post - 0.9, middle.y - 7.0, post + 0.9, y - 4.5}), true);
  sketch.thick(
      {{post - 0.9, middle.y - 0.8}, {middle.x + tube - 0.4, middle.y}, {post - 0.9, middle.y + 0.8}});
  sketch.thin({{post + 1.6, middle.y}, {post + 11.0, middle.y}});
  sketch.measure({post + 10.0, middle.y}, {post + 10.0, y});
  sketch.words({post + 9.0, 0.5 * (middle.y + y)}, plates.half_across(), Anchor::middle, 2.5, Weight::regular,
               Angle::from_degrees(-90.0));
  sketch.words({middle.x + half + 1.6, middle.y + 6.0}, "flat 0", Anchor::start);
}

/// Seen from end B the flats count with the clock, so the next one comes up when the piece rolls to the left.
void roll_picture(Page& page, const Box& box, const Plates& plates) {
  Sketch sketch(page, "roll", "Rolling from flat to flat, seen from end B");
  const double y = box.top + 10.0 + 2.0 * half;
  const Vec2 first{box.left + 61.0, y - half};
  const Vec2 second{box.left + 22.0, y - half};
  board(sketch, box.left, box.left + 82.0, y);
  sketch.thick(plate(first, plates.flats), true).thick(oval(first + Vec2{0.6, -1.0}, tube, tube - 0.4), true);
  sketch.neighbour(plate(second, plates.flats), true);
  sketch.words({first.x, y - 2.0 * half - 1.6}, "flat 0 up")
      .words({second.x, y - 2.0 * half - 1.6}, "flat 1 up");
  sketch.arrow({first.x, y - 2.0 * half - 6.0}, {second.x, y - 2.0 * half - 6.0});
  sketch.words({box.left, y + 6.5}, "seen from end B", Anchor::start);
}

Block step(const char* id, int number, const std::string& title, const std::string& words, double width) {
  return BlockWriter(id, title, width).heading(std::to_string(number) + "  " + title).words(words).done();
}

Block document_words(const Plates& plates, double width) {
  return BlockWriter("document-words", "What goes into the document", width)
      .heading("In the document")
      .words("\"plates\": { \"flats\": " + std::to_string(plates.flats) +
             ", \"across_flats\": " + number_text(plates.across) +
             " }: measure the printed plates with the caliper and write what they are.")
      .words("A straight round piece of diameter D reads " + plates.half_across() +
             " + D/2 on every flat: try it with a turned rod first.")
      .words("Clamp nothing to the piece while it rolls; keep it off the board's edge; splinters.")
      .done();
}

}  // namespace

Drawing plate_instructions(const std::string& tube_id, int flats, double across_flats, PaperSize paper) {
  const Plates plates{flats, across_flats};
  FormSheet sheet(paper, "Survey plates of " + tube_id + ": how to use them");
  const Box& room = sheet.room();
  const double top = sheet.heading("How to use the survey plates", false);
  const double width = 0.5 * (room.width() - 8.0);
  const double right = room.left + width + 8.0;
  const double words_height = 17.5;
  const double pitch = picture_height + words_height + 1.0;
  const std::string axis = plates.half_across();
  const auto place = [&](int i) { return Vec2{i % 2 == 0 ? room.left : right, top + pitch * (i / 2)}; };
  const auto picture = [&](int i) {
    const Vec2 at = place(i) + Vec2{0.0, words_height};
    return Box{at.x, at.y, at.x + width, at.y + picture_height};
  };
  sheet.block(
      step("step-1", 1, "Fix",
           "Plate A on end A, plate B on end B, each end flush in its recess. Bind the collar to the piece.",
           width),
      place(0));
  fix_picture(sheet.page(), picture(0));
  sheet.block(
      step("step-2", 2, "Press flat together",
           "Turn the plates until their single notches agree, press both flat on a true board, and bind them "
           "fast. Neither may rock.",
           width),
      place(1));
  press_picture(sheet.page(), picture(1));
  sheet.block(step("step-3", 3, "Know the flats",
                   "One notch marks flat 0. The plates are mirror images; fixed to the piece their notches "
                   "agree. Here plate "
                   "B, from outside.",
                   width),
              place(2));
  mark_picture(sheet.page(), picture(2), plates);
  sheet.block(
      step("step-4", 4, "Draw the reference line",
           "Flat 0 stands upright, toward the scribing block; its needle " + axis +
               " above the board, half across the flats. Draw from A to B. Prick the datum mark near A.",
           width),
      place(3));
  scribe_picture(sheet.page(), picture(3), plates);
  sheet.block(step("step-5", 5, "Roll from flat to flat",
                   "At each station begin with flat 0 up, then flat 1, flat 2 \u2026: the piece always turns "
                   "the same way, "
                   "the line first.",
                   width),
              place(4));
  roll_picture(sheet.page(), picture(4), plates);
  const Box title = sheet.title(tube_id, "survey plates", 1, 1);
  sheet.block(
      step(
          "step-6", 6, "Read the height",
          "Height gauge on top of the piece, zero on the board: h0 with flat 0 up, then h1, h2 \u2026 A flat "
          "that was skipped is null.",
          width),
      place(5));
  const Box last = picture(5);
  picture_of_height_gauge(sheet.page(),
                          {last.left, last.top + 4.0, last.right, last.top + 6.0 + 2.0 * half + 6.2}, flats);
  const Block note = document_words(plates, title.left - room.left - form_gap);
  sheet.block(note, {room.left, title.top});
  return {{sheet.page()}};
}

}  // namespace culmwright
