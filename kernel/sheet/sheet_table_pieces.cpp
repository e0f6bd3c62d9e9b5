#include <algorithm>

#include "base/problem.hpp"
#include "sheet/sheet_pieces.hpp"

namespace culmwright {

using namespace sheet_sizes;

namespace {

constexpr double least_field = 15.0;  ///< of a column to write in

struct Column {
  double left = 0.0;
  double width = 0.0;
  bool to_write = false;
};

double width_of(const std::string& words, Weight weight) {
  return text_extent(words, lettering, weight).width;
}

double longest_word(const std::string& words, Weight weight) {
  double longest = 0.0;
  for (const std::string& word : wrapped(words, lettering, weight, 0.0)) {
    longest = std::max(longest, width_of(word, weight));
  }
  return longest;
}

struct Widths {
  std::vector<double> least;
  std::vector<double> natural;
};

Widths measured(const SheetTable& table) {
  Widths widths;
  for (const SheetColumn& column : table.columns) {
    widths.least.push_back(longest_word(column.head, Weight::bold));
    // A long head is better broken than paid for by the column's width.
    widths.natural.push_back(widths.least.back());
  }
  for (const auto& row : table.rows) {
    require(row.size() == table.columns.size(),
            "a row of a table has another number of cells than its heads");
    for (std::size_t i = 0; i < row.size(); ++i) {
      const Weight weight = i == 0 ? Weight::bold : Weight::regular;
      widths.least[i] = std::max(widths.least[i], longest_word(row[i].words, weight));
      widths.natural[i] = std::max(widths.natural[i], width_of(row[i].words, weight));
      if (row[i].tick) {
        widths.least[i] = std::max(widths.least[i], tick);
        widths.natural[i] = std::max(widths.natural[i], tick);
      } else if (!row[i].field.empty()) {
        widths.natural[i] = std::max(widths.natural[i], least_field);
      }
    }
  }
  for (std::size_t i = 0; i < widths.least.size(); ++i) {
    widths.least[i] += 2.0 * cell_inset;
    widths.natural[i] = std::max(widths.natural[i] + 2.0 * cell_inset, widths.least[i]);
  }
  return widths;
}

/// Natural widths where they fit, what is left over going to columns that are written in, else to the last;
/// narrower ones in proportion to what they can give.
std::vector<Column> columns_of(const SheetTable& table, double width) {
  const Widths widths = measured(table);
  double least = 0.0;
  double natural = 0.0;
  for (std::size_t i = 0; i < widths.least.size(); ++i) {
    least += widths.least[i];
    natural += widths.natural[i];
  }
  if (least > width) {
    throw GeometryError("table “" + table.caption + "”", "sheet", "its words are wider than the page");
  }
  std::vector<Column> columns(widths.least.size());
  int written = 0;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    columns[i].to_write = std::any_of(table.rows.begin(), table.rows.end(),
                                      [&](const auto& row) { return !row[i].field.empty() && !row[i].tick; });
    written += columns[i].to_write ? 1 : 0;
  }
  double left = 0.0;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    double wide = widths.natural[i];
    if (natural > width) {
      wide = widths.least[i] + (widths.natural[i] - widths.least[i]) * (width - least) / (natural - least);
    } else if (written > 0) {
      wide += columns[i].to_write ? (width - natural) / written : 0.0;
    } else {
      wide += (width - natural) / static_cast<double>(columns.size());
    }
    columns[i].left = left;
    columns[i].width = wide;
    left += wide;
  }
  return columns;
}

/// A cell's lines; returns the y below them.
double set_cell(Block& block, const Column& column, const std::string& words, bool figures, Weight weight,
                double top) {
  double y = top + cell_inset;
  // A hair more than the width, since the width was taken from such a line.
  for (const std::string& line : wrapped(words, lettering, weight, column.width - 2.0 * cell_inset + 1e-6)) {
    const double x = figures ? column.left + column.width - cell_inset : column.left + cell_inset;
    block.items.push_back(
        set_text({x, y + lettering}, line, lettering, weight, figures ? Anchor::end : Anchor::start));
    y += line_pitch;
  }
  return y;
}

void rule(Block& block, double y, double width, LineType type) {
  block.items.push_back(line_between({0.0, y}, {width, y}, type));
}

Block head_of(const SheetTable& table, const std::vector<Column>& columns, double width) {
  Block block{"table-heads", table.caption, 0.0, {}};
  double foot = 0.0;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    foot = std::max(foot, set_cell(block, columns[i], table.columns[i].head, table.columns[i].figures,
                                   Weight::bold, 0.5));
  }
  block.height = foot + 0.8;
  rule(block, 0.25, width, LineType::continuous_thick);
  rule(block, block.height, width, LineType::continuous_thin);
  return block;
}

Block row_of(const SheetTable& table, const std::vector<SheetCell>& row, const std::vector<Column>& columns,
             double width, bool last) {
  Block block{"table-row", row.front().words, 0.0, {}};
  double foot = 0.0;
  bool to_write = false;
  for (std::size_t i = 0; i < row.size(); ++i) {
    to_write = to_write || !row[i].field.empty();
    foot = std::max(foot, set_cell(block, columns[i], row[i].words, table.columns[i].figures,
                                   i == 0 ? Weight::bold : Weight::regular, 0.4));
  }
  block.height = std::max(foot + 0.2, to_write ? box : 0.0);
  for (std::size_t i = 0; i < row.size(); ++i) {
    if (row[i].tick) {
      for (Item& item : tick_box({columns[i].left + cell_inset, 1.45}, row[i].ticked)) {
        block.items.push_back(std::move(item));
      }
    }
    if (row[i].field.empty() || row[i].tick) continue;
    for (const double x : {columns[i].left, columns[i].left + columns[i].width}) {
      block.items.push_back(line_between({x, 0.0}, {x, block.height}, LineType::continuous_thin));
    }
  }
  rule(block, block.height, width, last ? LineType::continuous_thick : LineType::continuous_thin);
  return block;
}

}  // namespace

std::vector<Piece> table_pieces(const SheetTable& table, double width) {
  const std::vector<Column> columns = columns_of(table, width);
  const auto head = std::make_shared<const Block>(head_of(table, columns, width));
  std::vector<Piece> pieces(2);
  pieces[0].block = words_block(table.caption, width);
  pieces[0].before = 3.5;
  pieces[0].with_next = true;
  pieces[1].block = *head;
  pieces[1].before = 0.6;
  pieces[1].with_next = true;
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    Piece piece;
    piece.block = row_of(table, table.rows[i], columns, width, i + 1 == table.rows.size());
    piece.repeated = head;
    pieces.push_back(std::move(piece));
  }
  return pieces;
}

}  // namespace culmwright
