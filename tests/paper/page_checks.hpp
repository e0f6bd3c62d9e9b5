#pragma once
/// What must hold of every page that leaves the program, read from its display list.
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "drawing/paper_sheet.hpp"
#include "drawing/plane.hpp"

namespace culmwright::test {

inline std::vector<Text> texts_of(const Page& page) {
  std::vector<Text> texts;
  for (const Group& group : page.groups) {
    for (const Item& item : group.items) {
      if (const Text* text = std::get_if<Text>(&item)) texts.push_back(*text);
    }
  }
  return texts;
}

/// Straight lines of a shape; circles and arcs as chords of 5°, cubics as eight chords.
inline std::vector<Segment> segments_of(const Shape& shape) {
  std::vector<Segment> found;
  if (const Path* path = std::get_if<Path>(&shape.geometry)) {
    for (const Contour& contour : path->contours) {
      Vec2 from = contour.start;
      for (const PathStep& step : contour.steps) {
        Vec2 last = from;
        for (int i = 1; i <= (step.controls ? 8 : 1); ++i) {
          const double t = step.controls ? i / 8.0 : 1.0;
          const double u = 1.0 - t;
          const Vec2 p = step.controls ? from * (u * u * u) + (*step.controls)[0] * (3 * u * u * t) +
                                             (*step.controls)[1] * (3 * u * t * t) + step.to * (t * t * t)
                                       : step.to;
          found.push_back({last, p});
          last = p;
        }
        from = step.to;
      }
      if (contour.closed) found.push_back({from, contour.start});
    }
  } else if (const Circle* circle = std::get_if<Circle>(&shape.geometry)) {
    for (int i = 0; i < 72; ++i) {
      const auto at = [&](int k) {
        return circle->centre + direction_on_page(Angle::from_degrees(5.0 * k)) * circle->radius;
      };
      found.push_back({at(i), at(i + 1)});
    }
  }
  return found;
}

/// In words, everything that stands outside the margin, every word that meets another or a line, every letter
/// that is too small.
inline std::vector<std::string> faults_of(const Page& page, double margin) {
  std::vector<std::string> faults;
  const Box inner = printable({page.width, page.height}, margin);
  const std::vector<Text> texts = texts_of(page);
  std::vector<Quad> boxes;
  for (const Text& text : texts) {
    boxes.push_back(text_box(text));
    if (text.height < 2.5 || text.words.empty()) faults.push_back("too small: " + text.words);
  }
  for (std::size_t i = 0; i < texts.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      if (overlap(boxes[i], boxes[k])) faults.push_back(texts[i].words + " on " + texts[k].words);
    }
  }
  for (const Group& group : page.groups) {
    for (const Item& item : group.items) {
      if (!inner.contains(bounds(item), 1e-6))
        faults.push_back("outside the margin: something of " + group.id);
      const Shape* shape = std::get_if<Shape>(&item);
      if (shape == nullptr || !shape->line) continue;
      for (const Segment& segment : segments_of(*shape)) {
        for (std::size_t i = 0; i < texts.size(); ++i) {
          if (meets(segment, boxes[i])) faults.push_back(texts[i].words + " on a line of " + group.id);
        }
      }
    }
  }
  return faults;
}

inline void check_page(const Page& page, double margin) {
  INFO(page.title);
  const std::vector<std::string> faults = faults_of(page, margin);
  CAPTURE(faults);
  CHECK(faults.empty());
}

inline const Group* group_of(const Page& page, const std::string& id) {
  for (const Group& group : page.groups) {
    if (group.id == id) return &group;
  }
  return nullptr;
}

inline int count_words(const Page& page, const std::string& words) {
  int count = 0;
  for (const Text& text : texts_of(page)) count += text.words == words ? 1 : 0;
  return count;
}

}  // namespace culmwright::test
