#pragma once
/// One sheet of a form: boxes to write in, with their captions, in a title block's company.
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "drawing/paper_sheet.hpp"
#include "paper/sheet_words.hpp"

namespace culmwright {

struct FormColumn {
  std::string head;  ///< in words
  std::string key;   ///< what it becomes in the document
  bool quick = false;
  double share = 1.0;  ///< of the table's width, against the other columns
};

struct FormTable {
  std::string id;
  std::string title;
  std::string path;  ///< in the document
  std::vector<FormColumn> columns;
  std::vector<std::string> row_names;            ///< before each row
  std::vector<std::vector<std::string>> filled;  ///< by row and column; may be shorter than the table
};

constexpr double form_row_height = 7.4;  ///< room to write in
constexpr double form_gap = 5.0;         ///< between the parts of a sheet

/// Height of a table with so many rows.
double form_table_height(std::size_t rows);

class FormSheet {
 public:
  FormSheet(PaperSize paper, std::string title);

  Page& page() { return page_; }
  const Box& room() const { return room_; }
  double width() const { return room_.width(); }

  /// The name of the sheet and what the mark of quick rows means. Returns the y below it.
  double heading(const std::string& words, bool with_mark);
  /// Returns the y below it.
  double table(const FormTable& table, double left, double right, double top);
  /// A box under its caption; caption and key share the line above it where they fit.
  void box(const std::string& id, const FormColumn& column, const Box& box, const std::string& filled = "");
  /// Words in a column.
  void block(const Block& block, Vec2 corner);
  /// At the lower right corner. Returns its box.
  Box title(const std::string& piece, const std::string& kind, int sheet, int sheets);

 private:
  void caption(Group& group, Vec2 at, const std::string& words, bool quick, Weight weight);

  PaperSize paper_;
  Page page_;
  Box room_;
};

}  // namespace culmwright
