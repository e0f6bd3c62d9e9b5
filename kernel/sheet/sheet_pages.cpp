#include "sheet/sheet_pages.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "sheet/sheet_pieces.hpp"

namespace culmwright {

using namespace sheet_sizes;

namespace {

constexpr double edge_room = 0.6;   ///< for the width of lines
constexpr double foot_room = 8.0;   ///< of the line at a page's foot
constexpr double title_gap = 4.0;   ///< over the first page's title block
constexpr double column_gap = 7.0;  ///< beside the front's picture

Box room_of(PaperSize paper, double margin) {
  return printable(sheet_size(paper, Orientation::portrait), std::max(margin, 10.0) + edge_room);
}

class Pages {
 public:
  Pages(const SheetDocument& document, PaperSize paper, double margin)
      : document_(document),
        paper_(paper),
        size_(sheet_size(paper, Orientation::portrait)),
        room_(room_of(paper, margin)) {}

  Drawing draw() {
    start_page();
    draw_front();
    // Beside a picture the page is taken; else what follows stands below the words.
    full_ = document_.front.picture.has_value();
    place_all(all_pieces());
    finish();
    return std::move(drawing_);
  }

 private:
  Page& page() { return drawing_.pages.back(); }
  double bottom() const {
    const bool first = drawing_.pages.size() == 1;
    return room_.bottom - foot_room - (first ? title_block(document_.title).height + title_gap : 0.0);
  }
  std::string place_words() const {
    const TitleBlock& title = document_.title;
    return title.piece + (title.instrument.empty() ? "" : ", " + title.instrument);
  }

  void start_page() {
    Page page;
    page.width = size_.width;
    page.height = size_.height;
    page.title = document_.title.kind + ": " + place_words();
    page.description = page.title;
    drawing_.pages.push_back(std::move(page));
    y_ = room_.top;
    empty_ = true;
    full_ = false;
  }

  /// Items as a group of their own, so that its name stays with them.
  void put(const Block& block, Vec2 corner) {
    Group group;
    group.id = block.id + "-" + std::to_string(++groups_);
    group.title = block.title;
    for (const Item& item : block.items) group.items.push_back(moved(item, corner));
    page().groups.push_back(std::move(group));
  }

  std::vector<Piece> all_pieces() const {
    std::vector<Piece> pieces;
    const auto add = [&](std::vector<Piece> more) {
      for (Piece& piece : more) pieces.push_back(std::move(piece));
    };
    for (const SheetSection& section : document_.sections) {
      pieces.push_back(heading_piece(section.title, 2, room_.width()));
      pieces.back().new_page = section.new_page;
      for (const SheetBlock& block : section.blocks) add(pieces_of(block, room_.width()));
      for (const SheetPart& part : section.parts) {
        pieces.push_back(heading_piece(part.title, 3, room_.width()));
        for (const SheetBlock& block : part.blocks) add(pieces_of(block, room_.width()));
      }
    }
    return pieces;
  }

  /// Pieces from `first` that stand together: how many. `steps`: those of a step too.
  static std::size_t together(const std::vector<Piece>& pieces, std::size_t first, bool steps) {
    std::size_t count = 1;
    const auto joined = [&](const Piece& piece) { return piece.with_next || (steps && piece.with_step); };
    while (joined(pieces[first + count - 1]) && first + count < pieces.size() &&
           !pieces[first + count].whole_page) {
      ++count;
    }
    return count;
  }
  std::size_t together(const std::vector<Piece>& pieces, std::size_t first) const {
    const std::size_t whole = together(pieces, first, true);
    // A row that heads would stand above again is one of a step that is cut already.
    const bool fits = !pieces[first].repeated && height_of(pieces, first, whole) <= bottom() - room_.top;
    return fits ? whole : together(pieces, first, false);
  }

  double height_of(const std::vector<Piece>& pieces, std::size_t first, std::size_t count) const {
    double height = 0.0;
    for (std::size_t i = first; i < first + count; ++i) {
      height += pieces[i].block.height + (i > first ? pieces[i].before : 0.0);
    }
    return height;
  }

  void place_all(const std::vector<Piece>& pieces) {
    for (std::size_t i = 0; i < pieces.size();) {
      if (pieces[i].whole_page) {
        draw_whole_page(pieces[i++]);
        continue;
      }
      const std::size_t count = together(pieces, i);
      const double height = height_of(pieces, i, count);
      const double before = empty_ ? 0.0 : pieces[i].before;
      if (full_ || (pieces[i].new_page && !empty_) || y_ + before + height > bottom() + 1e-6) start_page();
      if (empty_ && pieces[i].repeated) {
        put(*pieces[i].repeated, {room_.left, y_});
        y_ += pieces[i].repeated->height;
        empty_ = false;
      }
      check_height(pieces, i, count);
      for (std::size_t k = i; k < i + count; ++k) place(pieces[k]);
      i += count;
    }
  }

  /// Names the highest of what stands together.
  void check_height(const std::vector<Piece>& pieces, std::size_t first, std::size_t count) const {
    const double height = height_of(pieces, first, count);
    if (y_ + height <= bottom() + 1e-6) return;
    const auto from = pieces.begin() + static_cast<std::ptrdiff_t>(first);
    const auto highest =
        std::max_element(from, from + static_cast<std::ptrdiff_t>(count),
                         [](const Piece& a, const Piece& b) { return a.block.height < b.block.height; });
    throw GeometryError(
        "“" + highest->block.title + "”", "sheet",
        "it is " + std::to_string(std::lround(height)) + " mm high, more than a page has room for");
  }

  void place(const Piece& piece) {
    if (!empty_) y_ += piece.before;
    put(piece.block, {room_.left, y_});
    y_ += piece.block.height;
    empty_ = false;
  }

  void draw_whole_page(const Piece& piece) {
    const bool own = std::abs(piece.block.height - size_.height) < 1e-6;
    if (!own) {
      throw GeometryError("“" + piece.page_title + "”", "sheet", "the picture fits neither column nor page");
    }
    if (!empty_ || full_) start_page();
    for (const Group& group : piece.page_groups) {
      Block block{group.id, group.title, 0.0, group.items};
      put(block, {});
    }
    empty_ = false;
    full_ = true;
    whole_pages_.push_back(drawing_.pages.size() - 1);
  }

  void draw_front() {
    const SheetFront& front = document_.front;
    double left = room_.left;
    if (front.picture) {
      Block block{"piece", front.picture->page.title, 0.0, {}};
      for (const Group& group : front.picture->page.groups) {
        block.items.insert(block.items.end(), group.items.begin(), group.items.end());
      }
      put(block, {room_.left, room_.top});
      left += front_picture_width + column_gap;
      const Block caption = words_block(front.picture->caption, front_picture_width);
      put(caption, {room_.left, room_.top + front.picture->page.height + 1.5});
    }
    const double width = room_.right - left;
    double y = room_.top;
    const auto line = [&](const std::string& words, double height) {
      for (const std::string& one : wrapped(words, height, Weight::bold, width)) {
        y += height;
        page().group("front", "The piece").items.push_back(set_text({left, y}, one, height, Weight::bold));
        y += 0.6 * height;
      }
    };
    line(document_.heading.empty() ? document_.title.piece : document_.heading, 10.0);
    if (!document_.title.instrument.empty()) line(document_.title.instrument, 5.0);
    if (!document_.title.state.empty()) line(document_.title.state, 5.0);
    const auto add = [&](const Block& block) {
      put(block, {left, y});
      y += block.height + 2.0;
    };
    for (const std::string& words : front.words) add(words_block(words, width));
    y += 1.0;
    add(facts_block({front.facts}, width));
    if (y > bottom()) {
      throw GeometryError("the first page", "sheet", "its words leave no room for the title block");
    }
    y_ = y;
    empty_ = false;
  }

  void finish() {
    TitleBlock title = document_.title;
    title.sheets = static_cast<int>(drawing_.pages.size());
    title.paper = std::string(paper_name(paper_)) + " upright";
    for (std::size_t i = 0; i < drawing_.pages.size(); ++i) {
      title.sheet = static_cast<int>(i) + 1;
      Page& page = drawing_.pages[i];
      page.title += ", sheet " + std::to_string(title.sheet) + " of " + std::to_string(title.sheets);
      if (i == 0) draw_title(page, title);
      draw_foot(page, title, std::find(whole_pages_.begin(), whole_pages_.end(), i) != whole_pages_.end());
    }
  }

  void draw_title(Page& page, const TitleBlock& title) {
    const Block block = title_block(title);
    Group& group = page.group(block.id, block.title);
    const Vec2 corner{room_.right - panel_width, room_.bottom - foot_room - block.height};
    for (const Item& item : block.items) group.items.push_back(moved(item, corner));
  }

  /// A whole page is full: only its number stands outside it, in the margin.
  void draw_foot(Page& page, const TitleBlock& title, bool whole) const {
    Group& group = page.group("foot", "Which sheet this is");
    const std::string number = "sheet " + std::to_string(title.sheet) + " of " + std::to_string(title.sheets);
    if (whole) {
      const double y = 0.5 * (room_.top - edge_room) + 2.5;
      group.items.push_back(set_text({room_.left, y}, document_.title.kind + ", " + number));
      return;
    }
    const double y = room_.bottom - 0.8;
    group.items.push_back(
        line_between({room_.left, y - 4.6}, {room_.right, y - 4.6}, LineType::continuous_thin));
    std::string words = place_words();
    if (!title.revision.empty()) words += ", revision " + title.revision;
    const double used = text_extent(words + "   ", lettering, Weight::regular).width;
    group.items.push_back(set_text({room_.left, y}, words));
    if (!title.state.empty()) {
      group.items.push_back(set_text({room_.left + used, y}, title.state, lettering, Weight::bold));
    }
    group.items.push_back(set_text({room_.right, y}, number, lettering, Weight::regular, Anchor::end));
  }

  const SheetDocument& document_;
  PaperSize paper_;
  SheetSize size_;
  Box room_;
  Drawing drawing_;
  double y_ = 0.0;
  bool empty_ = true;  ///< nothing stands on this page yet
  bool full_ = false;  ///< nothing more may
  int groups_ = 0;
  std::vector<std::size_t> whole_pages_;
};

}  // namespace

double sheet_column(PaperSize paper, double margin) {
  return room_of(paper, margin).width();
}

Drawing sheet_pages(const SheetDocument& document, PaperSize paper, double margin) {
  return Pages(document, paper, margin).draw();
}

}  // namespace culmwright
