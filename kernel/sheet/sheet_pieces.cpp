#include "sheet/sheet_pieces.hpp"

#include <algorithm>

#include "base/problem.hpp"
#include "paper/form_sheet.hpp"

namespace culmwright {

using namespace sheet_sizes;

Text set_text(Vec2 at, const std::string& words, double height, Weight weight, Anchor anchor) {
  return {at, words, height, anchor, {}, weight, Ink::black};
}

std::vector<Item> tick_box(Vec2 corner, bool ticked) {
  const Box box{corner.x + 0.125, corner.y + 0.125, corner.x + tick - 0.125, corner.y + tick - 0.125};
  std::vector<Item> items{stroked(box_path(box), LineType::continuous_thin)};
  if (ticked) {
    items.push_back(stroked(open_path({{box.left + 0.8, box.top + 2.2},
                                       {box.left + 1.7, box.top + 3.3},
                                       {box.right - 0.7, box.top + 0.9}}),
                            LineType::continuous_thick));
  }
  return items;
}

namespace {

constexpr double number_room = 8.0;  ///< of a step's number
constexpr double step_indent = tick + 2.5;
constexpr double caution_bar = 1.2;

/// Sets lines one under the other and grows the block.
void write(Block& block, const std::string& words, double left, double width,
           Weight weight = Weight::regular) {
  for (const std::string& line : wrapped(words, lettering, weight, width)) {
    block.height += lettering;
    block.items.push_back(set_text({left, block.height}, line, lettering, weight));
    block.height += line_pitch - lettering;
  }
}

void append(Block& block, const std::vector<Item>& items, Vec2 by) {
  for (const Item& item : items) block.items.push_back(moved(item, by));
}

void write_caution(Block& block, const std::string& words, double left, double width) {
  const double top = block.height;
  constexpr double inset = 3.5;
  block.height += 1.4;
  write(block, "Caution", left + inset, width - inset, Weight::bold);
  write(block, words, left + inset, width - inset);
  const Box bar{left, top, left + caution_bar, block.height};
  block.items.push_back(Shape{box_path(bar), {}, Ink::black, Ink::black});
  block.height += 1.4;
}

double field_width(const SheetField& field) {
  const double label = text_extent(field.label, lettering, Weight::regular).width;
  const double unit =
      field.unit.empty() ? 0.0 : 1.5 + text_extent(field.unit, lettering, Weight::regular).width;
  return std::max(label, field.width + unit);
}

/// Boxes side by side under their labels, as many in a row as there is room for.
void write_fields(Block& block, const std::vector<SheetField>& fields, double left, double width) {
  double x = left;
  double top = block.height + 0.8;
  for (const SheetField& field : fields) {
    const double taken = field_width(field);
    if (x > left && x + taken > left + width) {
      x = left;
      top += lettering + 1.2 + box + 2.0;
    }
    block.items.push_back(set_text({x, top + lettering}, field.label));
    const double head = top + lettering + 1.2;
    block.items.push_back(
        stroked(box_path({x, head, x + field.width, head + box}), LineType::continuous_thin));
    if (!field.unit.empty()) {
      block.items.push_back(set_text({x + field.width + 1.5, head + box - 2.2}, field.unit));
    }
    x += taken + 4.0;
    block.height = head + box;
  }
  block.height += 1.0;
}

Piece piece_of(Block block, double before = 2.5) {
  Piece piece;
  piece.block = std::move(block);
  piece.before = before;
  return piece;
}

std::vector<Piece> pieces(const SheetWords& words, double width) {
  return {piece_of(words_block(words.words, width))};
}

std::vector<Piece> pieces(const SheetCaution& caution, double width) {
  Block block{"caution", "Caution", 0.0, {}};
  write_caution(block, caution.words, 0.0, width);
  return {piece_of(std::move(block))};
}

std::vector<Piece> pieces(const SheetList& list, double width) {
  std::vector<Piece> made;
  for (const std::string& item : list.items) {
    Block block{"list", "List", 0.0, {}};
    block.items.push_back(Shape{Circle{{1.2, 1.3}, 0.5}, {}, Ink::black, Ink::black});
    write(block, item, 4.0, width - 4.0);
    made.push_back(piece_of(std::move(block), made.empty() ? 2.5 : 0.8));
  }
  return made;
}

std::vector<Piece> pieces(const SheetFacts& facts, double width) {
  std::vector<Piece> made;
  for (const SheetFact& fact : facts.facts) {
    made.push_back(piece_of(facts_block({{fact}}, width), made.empty() ? 2.5 : 0.6));
  }
  return made;
}

std::vector<Piece> pieces(const SheetFields& fields, double width) {
  Block block{"fields", "To write", 0.0, {}};
  write_fields(block, fields.fields, 0.0, width);
  return {piece_of(std::move(block))};
}

std::vector<Piece> pieces(const SheetRoom& room, double width) {
  Block block{"room", room.label, 0.0, {}};
  write(block, room.label, 0.0, width, Weight::bold);
  const double top = block.height;
  block.height += room.height;
  block.items.push_back(
      stroked(box_path({0.125, top, width - 0.125, block.height}), LineType::continuous_thin));
  for (double y = top + form_row_height; room.ruled && y < block.height - 1.0; y += form_row_height) {
    block.items.push_back(line_between({3.0, y}, {width - 3.0, y}, LineType::continuous_thin));
  }
  return {piece_of(std::move(block), 3.5)};
}

bool needs_page(const SheetPicture& picture, double width) {
  return picture.page.width > width + 1e-9;
}

Piece whole_page(const SheetPicture& picture) {
  Piece piece;
  piece.whole_page = true;
  piece.block.id = "picture";
  piece.block.title = picture.page.title;
  piece.page_groups = picture.page.groups;
  piece.page_title = picture.page.title;
  piece.block.height = picture.page.height;
  return piece;
}

/// The pictures of one row, their feet on one level, captions below.
Piece picture_row(const std::vector<const SheetPicture*>& row) {
  Block block{"pictures", row.front()->page.title, 0.0, {}};
  double tallest = 0.0;
  for (const SheetPicture* picture : row) tallest = std::max(tallest, picture->page.height);
  double x = 0.0;
  for (const SheetPicture* picture : row) {
    const Vec2 corner{x, tallest - picture->page.height};
    for (const Group& group : picture->page.groups) append(block, group.items, corner);
    Block caption{"", "", tallest + 1.5, {}};
    write(caption, picture->caption, x, picture->page.width);
    append(block, caption.items, {});
    block.height = std::max(block.height, caption.height);
    x += picture->page.width + gap;
  }
  return piece_of(std::move(block), 3.0);
}

std::vector<Piece> pieces(const SheetPictures& pictures, double width) {
  std::vector<Piece> made;
  std::vector<const SheetPicture*> row;
  double used = 0.0;
  const auto finish = [&] {
    if (!row.empty()) made.push_back(picture_row(row));
    row.clear();
    used = 0.0;
  };
  for (const SheetPicture& picture : pictures.pictures) {
    if (needs_page(picture, width)) {
      finish();
      made.push_back(whole_page(picture));
      continue;
    }
    if (!row.empty() && used + gap + picture.page.width > width + 1e-9) finish();
    used += (row.empty() ? 0.0 : gap) + picture.page.width;
    row.push_back(&picture);
  }
  finish();
  return made;
}

void write_step_title(Block& block, int number, const std::string& title, bool done, double width) {
  append(block, tick_box({}, done), {});
  double baseline = 3.9;
  block.items.push_back(set_text({step_indent, baseline}, std::to_string(number), 3.5, Weight::bold));
  for (const std::string& line : wrapped(title, 3.5, Weight::bold, width - step_indent - number_room)) {
    block.items.push_back(set_text({step_indent + number_room, baseline}, line, 3.5, Weight::bold));
    baseline += 5.4;
  }
  block.height = baseline - 5.4 + 2.6;
}

Piece step_head(const SheetStep& step, int number, double width) {
  Block block{"step-" + step.id, step.title, 0.0, {}};
  write_step_title(block, number, step.title, step.done, width);
  const double top = block.height;
  double left = step_indent;
  double picture_foot = top;
  if (step.picture) {
    require(step.picture->width <= step_picture_room, "a step's picture is too wide");
    for (const Group& group : step.picture->groups) append(block, group.items, {step_indent, top});
    picture_foot = top + step.picture->height;
    left += step.picture->width + gap;
  }
  for (const std::string& words : step.words) {
    write(block, words, left, width - left);
    block.height += 0.8;
  }
  for (const std::string& words : step.cautions) write_caution(block, words, left, width - left);
  if (!step.fields.empty()) write_fields(block, step.fields, left, width - left);
  block.height = std::max(block.height, picture_foot);
  return piece_of(std::move(block), 5.0);
}

void shift(Block& block, double by) {
  for (Item& item : block.items) item = moved(item, {by, 0.0});
}

void shift(Piece& piece, double by) {
  shift(piece.block, by);
  if (!piece.repeated) return;
  Block repeated = *piece.repeated;
  shift(repeated, by);
  piece.repeated = std::make_shared<const Block>(std::move(repeated));
}

std::vector<Piece> pieces(const SheetSteps& steps, double width) {
  std::vector<Piece> made;
  int number = steps.first;
  for (const SheetStep& step : steps.steps) {
    made.push_back(step_head(step, number++, width));
    if (!step.lines) continue;
    made.back().with_next = true;
    for (Piece& piece : table_pieces(*step.lines, width - step_indent)) {
      shift(piece, step_indent);
      piece.with_step = true;
      made.push_back(std::move(piece));
    }
    made.back().with_step = false;
  }
  return made;
}

std::vector<Piece> pieces(const SheetTable& table, double width) {
  return table_pieces(table, width);
}

}  // namespace

Block words_block(const std::string& words, double width, Weight weight) {
  Block block{"words", "Words", 0.0, {}};
  write(block, words, 0.0, width, weight);
  return block;
}

Block facts_block(const SheetFacts& facts, double width) {
  Block block{"facts", "Facts", 0.0, {}};
  const double names = std::min(42.0, 0.4 * width);
  for (const SheetFact& fact : facts.facts) {
    Block name{"", "", block.height, {}};
    write(name, fact.name, 0.0, names - 2.0);
    write(block, fact.words, names, width - names, Weight::bold);
    append(block, name.items, {});
    block.height = std::max(block.height, name.height) + 0.6;
  }
  return block;
}

Piece heading_piece(const std::string& words, int level, double width) {
  const double height = level == 2 ? 5.0 : 3.5;
  Block block{"heading", words, 0.0, {}};
  if (level == 2) {
    block.items.push_back(line_between({0.0, 0.25}, {width, 0.25}, LineType::continuous_thick));
    block.height = 3.0;
  }
  for (const std::string& line : wrapped(words, height, Weight::bold, width)) {
    block.height += height;
    block.items.push_back(set_text({0.0, block.height}, line, height, Weight::bold));
    block.height += 0.6 * height;
  }
  Piece piece = piece_of(std::move(block), level == 2 ? 9.0 : 6.0);
  piece.with_next = true;
  return piece;
}

std::vector<Piece> pieces_of(const SheetBlock& block, double width) {
  return std::visit([&](const auto& one) { return pieces(one, width); }, block);
}

}  // namespace culmwright
