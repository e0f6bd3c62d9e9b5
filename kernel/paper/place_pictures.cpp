#include "paper/place_pictures.hpp"

#include <cmath>

#include "drawing/paper_sheet.hpp"
#include "paper/skin_view.hpp"

namespace culmwright {

namespace {

constexpr double margin = 10.0;
constexpr double heading_room = 14.0;
constexpr double window_width = 90.0;
constexpr double window_height = 58.0;
constexpr double words_room = 24.0;
constexpr double gap = 10.0;
constexpr double ring_radius = 9.0;
constexpr std::size_t in_row = 2;
constexpr std::size_t on_page = 6;

Page page_for(const Instrument& instrument) {
  const SheetSize size = sheet_size(PaperSize::a4, Orientation::portrait);
  Page page;
  page.width = size.width;
  page.height = size.height;
  page.title = "Places to look at: " + instrument.layout_id + " on " + instrument.tube_id;
  page.description = "Windows on the unrolled skin at true size, mouth end up; the place is ringed.";
  Group& heading = page.group("heading", "Heading");
  heading.items.push_back(Text{{margin + 1.0, margin + 5.0},
                               instrument.layout_id + " on " + instrument.tube_id,
                               5.0,
                               Anchor::start,
                               Angle(),
                               Weight::bold});
  heading.items.push_back(Text{{size.width - margin - 1.0, margin + 5.0},
                               "scale 1:1, mouth end up, seen from outside",
                               2.5,
                               Anchor::end,
                               Angle()});
  return page;
}

void draw_place(const Tube& tube, const Instrument& instrument, const MarkedPlace& marked, const Box& window,
                const std::string& id, Page& page) {
  // The line through the place itself stands in the middle, so that nothing near it is cut by the seam.
  const SkinPoint skin = tube.skin_point(marked.place);
  const Angle middle = Angle::from_radians(std::atan2(skin.point.y, skin.point.x));
  page.group(id, marked.title);
  SkinView view(tube, instrument, middle, 1.0, window.middle(), marked.place.at, page, id, window);
  view.draw();
  Group& group = page.group(id);
  group.items.push_back(stroked(box_path(window), LineType::continuous_thin));
  Shape ring;
  ring.geometry = Circle{window.middle(), ring_radius};
  ring.line = LineType::continuous_thick;
  group.items.push_back(ring);
  double y = window.bottom + 5.0;
  group.items.push_back(Text{{window.left, y}, marked.title, 3.5, Anchor::start, Angle(), Weight::bold});
  for (const std::string& line : wrapped(marked.sentence, 2.5, Weight::regular, window.width())) {
    y += 4.4;
    group.items.push_back(Text{{window.left, y}, line, 2.5, Anchor::start, Angle()});
  }
}

}  // namespace

Drawing place_pictures(const Tube& tube, const Instrument& instrument,
                       const std::vector<MarkedPlace>& places) {
  require(!places.empty(), "pictures of places need at least one place");
  Drawing drawing;
  for (std::size_t i = 0; i < places.size(); ++i) {
    if (i % on_page == 0) drawing.pages.push_back(page_for(instrument));
    const double left = margin + static_cast<double>(i % in_row) * (window_width + gap);
    const double top = margin + heading_room +
                       static_cast<double>(i % on_page / in_row) * (window_height + words_room + 3.0);
    draw_place(tube, instrument, places[i], {left, top, left + window_width, top + window_height},
               "place-" + std::to_string(i + 1), drawing.pages.back());
  }
  return drawing;
}

}  // namespace culmwright
