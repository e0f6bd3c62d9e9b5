#pragma once
/// CSV tables whose columns are known by name.
#include "files/csv.hpp"

namespace culmwright::files {

struct Column {
  const char* name;
  const char* path;  ///< see CsvTarget
  bool is_number = true;
};

class FixedColumns : public CsvColumns {
 public:
  FixedColumns(std::vector<Column> columns, std::vector<std::string> required)
      : columns_(std::move(columns)), required_(std::move(required)) {}

  std::optional<CsvTarget> target(const std::string& column) const override;
  std::vector<std::string> known() const override;
  std::vector<std::string> required() const override { return required_; }
  void finish(JsonNode& row) const override;

 private:
  std::vector<Column> columns_;
  std::vector<std::string> required_;
};

bool has_column(const CsvTable& table, const std::string& name);

/// "left index" in a finger's cell says hand and finger.
void split_hand_from_finger(JsonNode& row);

}  // namespace culmwright::files
