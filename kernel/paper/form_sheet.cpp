#include "paper/form_sheet.hpp"

#include "paper/sheet_plan.hpp"

namespace culmwright {

namespace {

constexpr double margin = 10.0;
constexpr double edge_room = 0.6;
constexpr double title_height = 5.5;  ///< above a table
constexpr double head_height = 9.4;
constexpr double number_width = 12.0;  ///< of the names of rows
constexpr double mark_radius = 0.8;
constexpr double mark_room = 2.6;
constexpr double inset = 1.2;

Text text_at(Vec2 at, const std::string& words, double height, Weight weight, Anchor anchor = Anchor::start) {
  return {at, words, height, anchor, {}, weight, Ink::black};
}

Item quick_mark(Vec2 middle) {
  return Shape{Circle{middle, mark_radius}, {}, Ink::black, Ink::black};
}

}  // namespace

double form_table_height(std::size_t rows) {
  return title_height + head_height + form_row_height * static_cast<double>(rows);
}

FormSheet::FormSheet(PaperSize paper, std::string title) : paper_(paper) {
  const SheetSize size = sheet_size(paper, Orientation::portrait);
  page_.width = size.width;
  page_.height = size.height;
  page_.title = std::move(title);
  room_ = printable(size, margin + edge_room);
}

double FormSheet::heading(const std::string& words, bool with_mark) {
  Group& group = page_.group("heading", "Heading");
  group.items.push_back(text_at({room_.left, room_.top + 5.0}, words, 5.0, Weight::bold));
  if (!with_mark) return room_.top + 5.0 + form_gap;
  const Vec2 at{room_.left, room_.top + 10.5};
  caption(group, at, "also in a quick survey: three minutes, enough to compare pieces", true,
          Weight::regular);
  return at.y + form_gap;
}

void FormSheet::caption(Group& group, Vec2 at, const std::string& words, bool quick, Weight weight) {
  if (quick) group.items.push_back(quick_mark(at + Vec2{mark_radius, -1.2}));
  group.items.push_back(text_at(at + Vec2{quick ? mark_room : 0.0, 0.0}, words, 2.5, weight));
}

double FormSheet::table(const FormTable& table, double left, double right, double top) {
  Group& group = page_.group(table.id, table.title);
  group.items.push_back(text_at({left, top + 3.5}, table.title, 3.5, Weight::bold));
  group.items.push_back(text_at({right, top + 3.5}, table.path, 2.5, Weight::regular, Anchor::end));
  const double head = top + title_height;
  const double body = head + head_height;
  const double foot = body + form_row_height * static_cast<double>(table.row_names.size());
  double shares = 0.0;
  for (const FormColumn& column : table.columns) shares += column.share;
  std::vector<double> edges{left + number_width};
  for (const FormColumn& column : table.columns) {
    edges.push_back(edges.back() + (right - left - number_width) * column.share / shares);
  }
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    const FormColumn& column = table.columns[i];
    caption(group, {edges[i] + inset, head + 3.8}, column.head, column.quick, Weight::bold);
    if (column.key != column.head) {
      group.items.push_back(text_at({edges[i] + inset, head + 7.8}, column.key, 2.5, Weight::regular));
    }
  }
  for (std::size_t row = 0; row < table.row_names.size(); ++row) {
    const double y = body + form_row_height * static_cast<double>(row);
    group.items.push_back(line_between({left, y}, {right, y}, LineType::continuous_thin));
    group.items.push_back(text_at({left + inset, y + 4.8}, table.row_names[row], 2.5, Weight::regular));
    if (row >= table.filled.size()) continue;
    for (std::size_t i = 0; i < table.filled[row].size(); ++i) {
      const std::string& words = table.filled[row][i];
      if (!words.empty()) {
        group.items.push_back(text_at({edges[i] + inset, y + 5.3}, words, 3.5, Weight::regular));
      }
    }
  }
  for (const double x : edges) {
    group.items.push_back(line_between({x, head}, {x, foot}, LineType::continuous_thin));
  }
  group.items.push_back(line_between({left, head}, {left, foot}, LineType::continuous_thin));
  group.items.push_back(line_between({left, head}, {right, head}, LineType::continuous_thick));
  group.items.push_back(line_between({left, foot}, {right, foot}, LineType::continuous_thick));
  return foot;
}

void FormSheet::box(const std::string& id, const FormColumn& column, const Box& box,
                    const std::string& filled) {
  Group& group = page_.group(id, column.head);
  caption(group, {box.left, box.top - 1.4}, column.head, column.quick, Weight::bold);
  const double used = text_extent(column.head, 2.5, Weight::bold).width + (column.quick ? mark_room : 0.0);
  const double wanted = text_extent(column.key, 2.5, Weight::regular).width;
  if (column.key != column.head) {
    // Beside the caption where there is room, else under the box's upper edge.
    if (used + wanted + 2.0 <= box.width()) {
      group.items.push_back(
          text_at({box.right, box.top - 1.4}, column.key, 2.5, Weight::regular, Anchor::end));
    } else {
      group.items.push_back(text_at({box.left + inset, box.top + 3.6}, column.key, 2.5, Weight::regular));
    }
  }
  group.items.push_back(stroked(box_path(box), LineType::continuous_thin));
  if (!filled.empty()) {
    group.items.push_back(text_at({box.left + inset, box.bottom - 2.0}, filled, 3.5, Weight::regular));
  }
}

void FormSheet::block(const Block& block, Vec2 corner) {
  Group& group = page_.group(block.id, block.title);
  for (const Item& item : block.items) group.items.push_back(moved(item, corner));
}

Box FormSheet::title(const std::string& piece, const std::string& kind, int sheet, int sheets) {
  TitleBlock title;
  title.piece = piece.empty() ? "blank" : shortened(piece, panel_width);
  title.kind = kind;
  title.scale = "none";
  title.paper = std::string(paper_name(paper_)) + " upright";
  title.sheet = sheet;
  title.sheets = sheets;
  const Block made = title_block(title);
  const Vec2 corner{room_.right - panel_width, room_.bottom - made.height};
  block(made, corner);
  return {corner.x, corner.y, room_.right, room_.bottom};
}

}  // namespace culmwright
