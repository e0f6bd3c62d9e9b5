#include "files/csv.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "base/words.hpp"
#include "files/utf8.hpp"

namespace culmwright::files {

namespace {

constexpr std::size_t most_rows = 5000;
constexpr std::size_t most_columns = 200;

Problem problem_at(const std::string& file, int line, int column, const char* code, std::string found,
                   std::string allowed, std::string advice = "") {
  return {code, {file, line, column, ""}, std::move(found), std::move(allowed), std::move(advice)};
}

std::string trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t");
  const std::size_t last = text.find_last_not_of(" \t");
  return first == std::string_view::npos ? "" : std::string(text.substr(first, last - first + 1));
}

class CsvReader {
 public:
  CsvReader(std::string_view text, const std::string& file, Problems& problems)
      : text_(text), file_(file), problems_(problems), lines_(text) {
    if (text_.substr(0, 3) == "\xEF\xBB\xBF") offset_ = 3;
  }

  CsvTable read() {
    CsvTable table;
    table.file = file_;
    while (offset_ < text_.size()) {
      std::vector<CsvCell> row = read_row();
      const bool blank = row.size() == 1 && row[0].text.empty();
      if (blank) continue;
      if (table.header.empty()) {
        table.header = std::move(row);
      } else {
        add_row(table, std::move(row));
      }
    }
    return table;
  }

 private:
  void add(const CsvCell& cell, const char* code, std::string found, std::string allowed,
           std::string advice = "") {
    problems_.push_back(problem_at(file_, cell.line, cell.column, code, std::move(found), std::move(allowed),
                                   std::move(advice)));
  }

  void add_row(CsvTable& table, std::vector<CsvCell> row) {
    if (row.size() != table.header.size()) {
      add(row.front(), "row", "a row of " + std::to_string(row.size()) + " cells",
          std::to_string(table.header.size()) + " cells, as in the header row",
          row.size() > table.header.size() ? "A number with a decimal comma counts as two cells"
                                           : "Leave a cell that was not measured empty, but keep its comma");
      return;
    }
    table.rows.push_back(std::move(row));
    if (table.rows.size() > most_rows) {
      add(table.rows.back().front(), "size", "more than " + std::to_string(most_rows) + " rows",
          "fewer rows");
      offset_ = text_.size();
    }
  }

  std::vector<CsvCell> read_row() {
    std::vector<CsvCell> row;
    while (true) {
      row.push_back(read_cell());
      if (offset_ >= text_.size()) return row;
      const char c = text_[offset_++];
      if (c == ',') continue;
      if (c == '\r' && offset_ < text_.size() && text_[offset_] == '\n') ++offset_;
      return row;
    }
  }

  /// Leaves `offset_` at the comma or line end behind the cell.
  CsvCell read_cell() {
    const LineColumn place = lines_.at(offset_);
    CsvCell cell{"", place.line, place.column};
    const bool was_quoted = offset_ < text_.size() && text_[offset_] == '"';
    if (was_quoted) read_quoted(cell);
    const std::size_t end = std::min(text_.find_first_of(",\r\n", offset_), text_.size());
    const std::string_view rest = text_.substr(offset_, end - offset_);
    if (was_quoted && rest.find_first_not_of(" \t") != std::string_view::npos) {
      add(cell, "syntax", "text behind a closing quote", "a comma or the end of the line");
    } else if (!was_quoted && rest.find('"') != std::string_view::npos) {
      add(cell, "syntax", "a quote inside a cell without quotes",
          "the whole cell in quotes, and inner quotes doubled");
    } else if (!was_quoted) {
      cell.text = trimmed(rest);
    }
    offset_ = end;
    return cell;
  }

  void read_quoted(CsvCell& cell) {
    ++offset_;
    while (true) {
      const std::size_t quote = text_.find('"', offset_);
      if (quote == std::string_view::npos) {
        add(cell, "truncated", "a quote that is never closed", "a closing quote");
        offset_ = text_.size();
        return;
      }
      cell.text += text_.substr(offset_, quote - offset_);
      offset_ = quote + 1;
      if (offset_ >= text_.size() || text_[offset_] != '"') return;
      cell.text += '"';
      ++offset_;
    }
  }

  std::string_view text_;
  const std::string& file_;
  Problems& problems_;
  LineCounter lines_;
  std::size_t offset_ = 0;
};

/// True when every required column is there.
bool check_header(const CsvTable& table, const CsvColumns& columns,
                  std::vector<std::optional<CsvTarget>>& targets, Problems& problems) {
  std::vector<std::string> names;
  for (const CsvCell& cell : table.header) {
    targets.push_back(columns.target(cell.text));
    const auto add = [&](const char* code, std::string found, std::string allowed, std::string advice) {
      problems.push_back(problem_at(table.file, cell.line, cell.column, code, std::move(found),
                                    std::move(allowed), std::move(advice)));
    };
    if (std::find(names.begin(), names.end(), cell.text) != names.end()) {
      add("duplicate-column", "the column " + in_quotes(cell.text) + " a second time", "each column once",
          "");
    } else if (!targets.back()) {
      const std::optional<std::string> nearest = nearest_word(cell.text, columns.known());
      const bool semicolons = cell.text.find(';') != std::string::npos;
      add("unknown-column", "the column " + in_quotes(cell.text),
          "the columns " + listed(columns.known(), " and "),
          semicolons ? "Save the table with commas between the cells"
                     : (nearest ? "Did you mean " + in_quotes(*nearest) + "?" : ""));
    }
    names.push_back(cell.text);
  }
  bool complete = true;
  for (const std::string& name : columns.required()) {
    if (std::find(names.begin(), names.end(), name) != names.end()) continue;
    complete = false;
    problems.push_back(problem_at(table.file, table.header.front().line, 1, "missing-column",
                                  "a header row without the column " + in_quotes(name), "that column", ""));
  }
  return complete;
}

JsonNode value_of(const CsvCell& cell, const CsvTarget& target, const TextSpot& spot,
                  const std::string& column) {
  JsonNode node;
  node.spot = spot;
  node.column_name = column;
  node.text = cell.text;
  node.kind = JsonNode::Kind::string;
  const std::optional<double> number = target.is_number ? csv_number(cell.text) : std::nullopt;
  if (number) {
    node.kind = JsonNode::Kind::number;
    node.number = *number;
  }
  return node;
}

/// Puts a value at a path of keys, making the objects on the way.
void put(JsonNode& object, std::string_view path, JsonNode value) {
  const std::size_t slash = path.find('/');
  const std::string key(path.substr(0, slash));
  const TextSpot spot = value.spot;
  if (slash == std::string_view::npos) {
    object.members.push_back({key, spot, std::move(value)});
    return;
  }
  auto inner = std::find_if(object.members.begin(), object.members.end(),
                            [&](const JsonMember& m) { return m.key == key; });
  if (inner == object.members.end()) {
    JsonNode made;
    made.kind = JsonNode::Kind::object;
    made.spot = spot;
    object.members.push_back({key, spot, std::move(made)});
    inner = object.members.end() - 1;
  }
  put(inner->value, path.substr(slash + 1), std::move(value));
}

}  // namespace

std::optional<double> csv_number(const std::string& text) {
  std::string_view digits = text;
  if (!digits.empty() && digits.front() == '+') digits.remove_prefix(1);
  if (digits.empty() || digits.find_first_not_of("0123456789+-.eE") != std::string_view::npos)
    return std::nullopt;
  double value = 0.0;
  const auto end = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (end.ec != std::errc() || end.ptr != digits.data() + digits.size() || !std::isfinite(value))
    return std::nullopt;
  return value;
}

std::optional<CsvTable> parse_csv(std::string_view text, const std::string& file, Problems& problems) {
  const std::size_t before = problems.size();
  if (std::optional<Problem> problem = unreadable_text(text, file)) {
    problems.push_back(std::move(*problem));
    return std::nullopt;
  }
  CsvTable table = CsvReader(text, file, problems).read();
  if (table.header.empty() && problems.size() == before) {
    problems.push_back(problem_at(file, 1, 1, "empty", "an empty table", "a header row and rows below it"));
  } else if (table.header.size() > most_columns) {
    problems.push_back(problem_at(file, 1, 1, "size", std::to_string(table.header.size()) + " columns",
                                  "at most " + std::to_string(most_columns) + " columns"));
  }
  if (problems.size() > before) return std::nullopt;
  return table;
}

std::optional<JsonNode> rows_as_list(const CsvTable& table, const CsvColumns& columns, Problems& problems) {
  const auto file = std::make_shared<const std::string>(table.file);
  std::vector<std::optional<CsvTarget>> targets;
  if (!check_header(table, columns, targets, problems)) return std::nullopt;
  JsonNode list;
  list.kind = JsonNode::Kind::array;
  list.spot = {file, table.header.front().line, 1};
  for (const std::vector<CsvCell>& cells : table.rows) {
    JsonNode row;
    row.kind = JsonNode::Kind::object;
    row.spot = {file, cells.front().line, 1};
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (cells[i].text.empty() || !targets[i]) continue;
      const TextSpot spot{file, cells[i].line, cells[i].column};
      put(row, targets[i]->path, value_of(cells[i], *targets[i], spot, table.header[i].text));
    }
    columns.finish(row);
    list.items.push_back(std::move(row));
  }
  return list;
}

}  // namespace culmwright::files
