#include "paper/placement_strips.hpp"

#include <algorithm>

#include "drawing/paper_sheet.hpp"
#include "paper/skin_view.hpp"
#include "paper/words.hpp"

namespace culmwright {

namespace {

constexpr double margin = 10.0;
constexpr double heading_room = 12.0;
constexpr double title_room = 6.0;
constexpr double words_room = 30.0;
constexpr double hand_room = 6.0;  ///< right of a strip, for the hands
constexpr double strip_gap = 8.0;
constexpr double least_width = 40.0;  ///< of a strip's column, for its words
constexpr double scales[] = {1.0, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 15.0, 20.0};

void write_words(const PlacementStrip& strip, const std::string& id, double left, double width, double top,
                 Page& page) {
  Group& group = page.group(id, strip.title + ", in words");
  double y = top;
  for (const std::string& words : strip.words) {
    for (const std::string& line : wrapped(words, 2.5, Weight::regular, width)) {
      group.items.push_back(Text{{left, y}, line, 2.5, Anchor::start, Angle()});
      y += 4.2;
    }
  }
}

}  // namespace

Drawing placement_strips(const std::vector<PlacementStrip>& strips, const std::string& heading) {
  require(!strips.empty(), "a comparison needs at least one strip");
  const SheetSize size = sheet_size(PaperSize::a4, Orientation::landscape);
  const Box room = printable(size, margin);
  const double height = room.height() - heading_room - title_room - words_room;
  double longest = 0.0;
  double widest = 0.0;
  for (const PlacementStrip& strip : strips) {
    longest = std::max(longest, strip.tube.length());
    widest = std::max(widest, greatest_girth(strip.tube));
  }
  // The largest scale at which the longest piece fits and five columns stand side by side, if so many there
  // are.
  const double columns_wanted = static_cast<double>(std::min<std::size_t>(strips.size(), 5));
  double scale = scales[0];
  for (double candidate : scales) {
    scale = candidate;
    const double column = std::max(least_width, widest / scale + hand_room) + strip_gap;
    if (longest / scale <= height && columns_wanted * column - strip_gap <= room.width()) break;
  }
  const double column = std::max(least_width, widest / scale + hand_room) + strip_gap;
  const std::size_t on_page =
      std::max<std::size_t>(1, static_cast<std::size_t>((room.width() + strip_gap) / column));
  Drawing drawing;
  for (std::size_t i = 0; i < strips.size(); ++i) {
    if (i % on_page == 0) {
      Page page;
      page.width = size.width;
      page.height = size.height;
      page.title = heading;
      page.description = "Placements side by side, skin unrolled about the key line, mouth end up, at 1:" +
                         decimals(scale, scale == 2.5 ? 1 : 0) + ".";
      page.group("heading", "Heading")
          .items.push_back(
              Text{{room.left, room.top + 5.0}, heading, 5.0, Anchor::start, Angle(), Weight::bold});
      page.group("heading").items.push_back(
          Text{{room.right, room.top + 5.0},
               "scale 1:" + decimals(scale, scale == 2.5 ? 1 : 0) + ", mouth end up, seen from the front",
               2.5,
               Anchor::end,
               Angle()});
      drawing.pages.push_back(std::move(page));
    }
    Page& page = drawing.pages.back();
    const double left = room.left + 0.5 * thick_line + column * static_cast<double>(i % on_page);
    const double top = room.top + heading_room;
    page.group("titles", "Titles")
        .items.push_back(Text{{left, top + 2.5}, strips[i].title, 3.5, Anchor::start, Angle(), Weight::bold});
    const double half = 0.5 * widest / scale;
    const PlacementStrip& strip = strips[i];
    const bool from_a = strip.instrument.mouth_end == End::a;
    const double first_at = from_a ? strip.tube.end_a_at() : strip.tube.end_b_at();
    page.group("strip-" + std::to_string(i + 1), strip.title);
    SkinView(strip.tube, strip.instrument, strip.instrument.facing, scale, {left + half, top + title_room},
             first_at, page, "strip-" + std::to_string(i + 1))
        .draw();
    write_words(strips[i], "words-" + std::to_string(i + 1), left, column - strip_gap,
                top + title_room + strips[i].tube.length() / scale + 6.0, page);
  }
  return drawing;
}

}  // namespace culmwright
