#include "files/fixed_columns.hpp"

#include <algorithm>

namespace culmwright::files {

std::optional<CsvTarget> FixedColumns::target(const std::string& column) const {
  for (const Column& known : columns_) {
    if (column == known.name) return CsvTarget{known.path, known.is_number};
  }
  return std::nullopt;
}

std::vector<std::string> FixedColumns::known() const {
  std::vector<std::string> names;
  for (const Column& column : columns_) names.push_back(column.name);
  return names;
}

void FixedColumns::finish(JsonNode&) const {}

bool has_column(const CsvTable& table, const std::string& name) {
  return std::any_of(table.header.begin(), table.header.end(),
                     [&](const CsvCell& cell) { return cell.text == name; });
}

void split_hand_from_finger(JsonNode& row) {
  for (JsonMember& member : row.members) {
    const std::size_t space = member.value.text.find(' ');
    if (member.key != "finger" || space == std::string::npos) continue;
    JsonNode hand = member.value;
    hand.text.erase(space);
    member.value.text.erase(0, space + 1);
    row.members.push_back({"hand", member.spot, std::move(hand)});
    return;
  }
}

}  // namespace culmwright::files
