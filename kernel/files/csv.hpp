#pragma once
/// Comma separated values as RFC 4180 has them: quoting with "", CRLF or LF, a header row, as many cells in
/// every row; UTF-8, with or without its mark. Empty lines are skipped.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.hpp"
#include "files/json_tree.hpp"

namespace culmwright::files {

struct CsvCell {
  std::string text;
  int line = 0;
  int column = 0;  ///< of its first character in the line
};

struct CsvTable {
  std::string file;
  std::vector<CsvCell> header;
  std::vector<std::vector<CsvCell>> rows;  ///< each as long as the header
};

/// All problems of the table's form are added; none is returned then.
std::optional<CsvTable> parse_csv(std::string_view text, const std::string& file, Problems& problems);

/// A number as JSON has it, or with a leading + or zeros; nothing else, above all not "nan".
std::optional<double> csv_number(const std::string& text);

/// What a column holds: a JSON path below the row's object ("leeway/along"), as a number or as text.
struct CsvTarget {
  std::string path;
  bool is_number = true;
};

/// Every row as an object, built from its cells that are not empty, ready for a field table to read. The
/// caller explains each header cell; one it does not know is a problem, with the nearest of `known`
/// suggested.
class CsvColumns {
 public:
  virtual ~CsvColumns() = default;
  /// Where the column's cells go; none when the name is not known.
  virtual std::optional<CsvTarget> target(const std::string& column) const = 0;
  virtual std::vector<std::string> known() const = 0;
  virtual std::vector<std::string> required() const = 0;
  /// Completes a row: lists out of single cells, and the like.
  virtual void finish(JsonNode& row) const = 0;
};

/// None when a required column is missing: its absence would only be said again for every row.
std::optional<JsonNode> rows_as_list(const CsvTable& table, const CsvColumns& columns, Problems& problems);

}  // namespace culmwright::files
