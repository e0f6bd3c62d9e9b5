#include "files/csv_tables.hpp"

#include <algorithm>

#include "files/fixed_columns.hpp"

namespace culmwright::files {

namespace {

constexpr std::size_t most_flats = 64;
constexpr std::string_view by_facing = "width_facing_";
constexpr std::string_view by_around = "width_around_";

/// The flat of a column h0 … h63.
std::optional<std::size_t> flat_of(const std::string& column) {
  if (column.size() < 2 || column.size() > 3 || column[0] != 'h') return std::nullopt;
  if (column.find_first_not_of("0123456789", 1) != std::string::npos) return std::nullopt;
  if (column.size() == 3 && column[1] == '0') return std::nullopt;
  const std::size_t flat = std::stoul(column.substr(1));
  return flat < most_flats ? std::optional<std::size_t>(flat) : std::nullopt;
}

bool starts_with(const std::string& text, std::string_view with) {
  return text.compare(0, with.size(), with) == 0;
}

/// The direction of a width column; the pointer says which key it fills.
std::optional<std::pair<const char*, double>> direction_of(const std::string& column) {
  const bool facing = starts_with(column, by_facing);
  if (!facing && !starts_with(column, by_around)) return std::nullopt;
  const std::optional<double> value = csv_number(column.substr(facing ? by_facing.size() : by_around.size()));
  if (!value) return std::nullopt;
  return std::pair<const char*, double>{facing ? "facing_deg" : "around", *value};
}

JsonNode take(JsonNode& row, std::string_view key) {
  const auto found = std::find_if(row.members.begin(), row.members.end(),
                                  [&](const JsonMember& member) { return member.key == key; });
  if (found == row.members.end()) return {};
  JsonNode value = std::move(found->value);
  row.members.erase(found);
  return value;
}

JsonNode empty_like(const JsonNode& node, JsonNode::Kind kind) {
  JsonNode made;
  made.kind = kind;
  made.spot = node.spot;
  made.column_name = node.column_name;
  return made;
}

class StationColumns final : public CsvColumns {
 public:
  explicit StationColumns(const CsvTable& table) {
    for (const CsvCell& cell : table.header) {
      if (const auto flat = flat_of(cell.text)) flats_ = std::max(flats_, *flat + 1);
    }
  }

  std::optional<CsvTarget> target(const std::string& column) const override {
    if (column == "at" || column == "girth") return CsvTarget{column};
    if (direction_of(column)) return CsvTarget{"widths/" + column};
    if (flat_of(column)) return CsvTarget{"heights/" + column};
    return std::nullopt;
  }
  std::vector<std::string> known() const override {
    return {"at", "girth", "width_facing_0", "width_facing_90", "width_around_0", "h0", "h1"};
  }
  std::vector<std::string> required() const override { return {"at"}; }

  void finish(JsonNode& row) const override {
    const JsonNode widths = take(row, "widths");
    if (!widths.members.empty()) row.members.push_back({"widths", widths.spot, list_of_widths(widths)});
    const JsonNode heights = take(row, "heights");
    if (!heights.members.empty()) row.members.push_back({"heights", heights.spot, list_of_heights(heights)});
  }

 private:
  static JsonNode list_of_widths(const JsonNode& cells) {
    JsonNode list = empty_like(cells, JsonNode::Kind::array);
    for (const JsonMember& cell : cells.members) {
      const auto direction = direction_of(cell.key);
      JsonNode side = empty_like(cell.value, JsonNode::Kind::number);
      side.number = direction->second;
      side.text = cell.key.substr(by_facing.size());
      JsonNode width = empty_like(cell.value, JsonNode::Kind::object);
      width.members.push_back({direction->first, cell.spot, std::move(side)});
      width.members.push_back({"across", cell.spot, cell.value});
      list.items.push_back(std::move(width));
    }
    return list;
  }

  JsonNode list_of_heights(const JsonNode& cells) const {
    JsonNode list = empty_like(cells, JsonNode::Kind::array);
    list.items.assign(flats_, empty_like(cells, JsonNode::Kind::null));
    for (const JsonMember& cell : cells.members) list.items[*flat_of(cell.key)] = cell.value;
    return list;
  }

  std::size_t flats_ = 0;
};

class KeyColumns final : public FixedColumns {
 public:
  explicit KeyColumns(const CsvTable& table)
      : FixedColumns({{"key", "id", false},
                      {"hand", "hand", false},
                      {"finger", "finger", false},
                      {"along", "along"},
                      {"around", "around"},
                      {"hole", "hole_diameter"},
                      {"square_to", "square_to", false},
                      {"cup", "cup", false},
                      {"touch_length", "touch/length"},
                      {"touch_width", "touch/width"},
                      {"touch_corner_radius", "touch/corner_radius"},
                      {"leeway_along", "leeway/along"},
                      {"leeway_around", "leeway/around"},
                      {"mass_g", "mass_g"},
                      {"note", "note", false}},
                     {"key", "finger", "along", "around", "hole"}),
        has_hand_(has_column(table, "hand")) {}

  void finish(JsonNode& row) const override {
    if (!has_hand_) split_hand_from_finger(row);
  }

 private:
  bool has_hand_;
};

}  // namespace

std::unique_ptr<CsvColumns> station_columns(const CsvTable& table) {
  return std::make_unique<StationColumns>(table);
}

std::unique_ptr<CsvColumns> key_columns(const CsvTable& table) {
  return std::make_unique<KeyColumns>(table);
}

}  // namespace culmwright::files
