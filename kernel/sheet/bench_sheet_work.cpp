#include <algorithm>

#include "base/words.hpp"
#include "sheet/bench_sheet_sections.hpp"

namespace culmwright::bench {

namespace {

constexpr int extra_rows = 3;   ///< of the as-drilled table, for what nobody wanted
constexpr int repair_rows = 8;  ///< of the list of repairs

/// Of DESIGN's cautions those that belong to no single step of drilling.
const char* const whole_cautions[] = {
    "Clamp round stock in cradles or V-blocks, never hold it by hand. No gloves, loose sleeves or hair near "
    "the "
    "chuck.",
    "Eye protection; extraction and a dust mask for bamboo and wood dust.",
    "A printed guide locates: it does not clamp, guard, or know your drill. A cracked one is thrown away.",
    "Try each guide on the tube and measure before you drill. Local codes come first."};

std::string write_label(const ValueToWrite& value) {
  return value.id + " " + value.words;
}

/// The columns of a step's lines are those that any of them needs.
struct LineColumns {
  bool held = false;
  bool backing = false;
  bool room = false;
  std::vector<ValueToWrite> values;  ///< one of each kind
};

LineColumns columns_of(const DrillingStep& step) {
  LineColumns columns;
  for (const StepLine& line : step.lines) {
    columns.held = columns.held || !line.held.empty();
    columns.backing = columns.backing || !line.backing.empty();
    columns.room = columns.room || line.room.has_value();
    for (const ValueToWrite& value : line.values) {
      const bool there = std::any_of(columns.values.begin(), columns.values.end(),
                                     [&](const ValueToWrite& one) { return one.field == value.field; });
      if (!there) columns.values.push_back(value);
    }
  }
  return columns;
}

SheetCell value_cell(const StepLine& line, const std::string& field) {
  for (const ValueToWrite& value : line.values) {
    if (value.field != field) continue;
    SheetCell cell = SheetCell::to_write(write_label(value));
    cell.words = value.written;
    return cell;
  }
  return {};
}

std::vector<SheetCell> line_row(const StepLine& line, const LineColumns& columns, const std::string& step) {
  const std::string name = line.id.empty() ? "all" : line.id;
  std::string what = line.what;
  for (const std::string& remark : line.remarks) what += (what.empty() ? "" : ". ") + remark;
  std::vector<SheetCell> row{name, SheetCell::to_tick(step + ": " + name + " done", line.done), what};
  if (columns.held) row.push_back(line.held);
  if (columns.backing) row.push_back(line.backing);
  if (columns.room) row.push_back(line.room ? fixed_text(*line.room, 1) : std::string());
  for (const ValueToWrite& value : columns.values) row.push_back(value_cell(line, value.field));
  return row;
}

/// None for a step about the whole tube that asks for no number: its own box is enough.
std::optional<SheetTable> lines_of(const DrillingStep& step) {
  const bool whole = step.lines.size() == 1 && step.lines.front().id.empty() &&
                     step.lines.front().values.empty() && step.lines.front().what.empty();
  if (step.lines.empty() || whole) return std::nullopt;
  const LineColumns columns = columns_of(step);
  SheetTable table;
  table.caption = step.title + ": tick each as it is done";
  table.columns = {{"Hole"}, {"Done"}, {"What"}};
  if (columns.held) table.columns.push_back({"Held in"});
  if (columns.backing) table.columns.push_back({"Backed by"});
  if (columns.room) table.columns.push_back({"Room behind", true});
  for (const ValueToWrite& value : columns.values) table.columns.push_back({value.words});
  for (const StepLine& line : step.lines) table.rows.push_back(line_row(line, columns, step.title));
  return table;
}

SheetStep sheet_step(const DrillingStep& step, const BenchSheetInput& input) {
  SheetStep made;
  made.id = step.id;
  made.title = step.title;
  made.words = step.how;
  if (!step.bit.empty()) made.words.insert(made.words.begin(), "In the chuck: " + step.bit + ".");
  // One caution of several sentences leaves the step on its page.
  std::string cautions;
  for (const std::string& one : step.cautions) cautions += (cautions.empty() ? "" : " ") + one;
  if (!cautions.empty()) made.cautions = {cautions};
  const auto picture = input.step_pictures.find(step.id);
  if (picture != input.step_pictures.end()) made.picture = picture->second;
  made.lines = lines_of(step);
  made.done = step.done();
  return made;
}

SheetTable blank_rows(const std::string& caption, const std::vector<SheetColumn>& columns, int rows) {
  SheetTable table{caption, columns, {}};
  for (int row = 1; row <= rows; ++row) {
    std::vector<SheetCell> cells{std::to_string(row)};
    for (std::size_t i = 1; i < columns.size(); ++i) {
      cells.push_back(SheetCell::to_write(columns[i].head + ", row " + std::to_string(row)));
    }
    table.rows.push_back(std::move(cells));
  }
  return table;
}

std::string measured(double value) {
  return value > 0.0 ? number_text(value, 4) : std::string();
}

std::string measured(const std::optional<double>& value) {
  return value ? number_text(*value, 4) : std::string();
}

const char* word(DrilledState state) {
  if (state == DrilledState::pilot) return "pilot";
  return state == DrilledState::finished ? "finished" : "extra";
}

constexpr const char* drilled_columns[] = {"state",  "across_along", "across_around", "at",
                                           "around", "wall",         "chip_out",      "note"};

std::vector<SheetCell> drilled_row(const std::string& id, const std::optional<DrilledHole>& hole) {
  std::vector<std::string> known(std::size(drilled_columns));
  if (hole) {
    known = {word(hole->state),
             measured(hole->across_along),
             measured(hole->across_around),
             measured(hole->at),
             measured(hole->around),
             measured(hole->wall),
             measured(hole->chip_out),
             hole->note};
  }
  std::vector<SheetCell> row{id};
  for (std::size_t i = 0; i < known.size(); ++i) {
    row.push_back(SheetCell::to_write((id.empty() ? "extra hole" : id) + " " + drilled_columns[i]));
    row.back().words = known[i];
  }
  return row;
}

}  // namespace

SheetSection parts_to_print(const BenchSheetInput& input) {
  SheetSection section{"parts", "Parts to print", {}, {}, false};
  SheetTable table{"Each as it lies in its file; mass filled to the full in " + input.shop.filament.name,
                   {{"Part"}, {"File"}, {"Where it goes"}, {"Mass, g", true}},
                   {}};
  double all = 0.0;
  for (const PrintedPart& part : input.parts) {
    table.rows.push_back(
        {part.name, part.file, part.place, part.mass_g ? fixed_text(*part.mass_g, 1) : std::string()});
    all += part.mass_g.value_or(0.0);
  }
  if (!input.clearances.empty()) section.parts.push_back(the_clearances(input.clearances));
  if (!input.wires.empty()) section.parts.push_back(the_wires(input.wires));
  if (input.parts.empty()) {
    section.blocks.push_back(SheetWords{input.no_parts.empty() ? "None." : "None yet: " + input.no_parts});
    return section;
  }
  table.rows.push_back({"in all", "", "", fixed_text(all, 0)});
  section.blocks.push_back(table);
  return section;
}

SheetSection drilling(const BenchSheetInput& input) {
  SheetSection section{"drilling", "Drilling, step by step", {}, {}, true};
  for (const char* caution : whole_cautions) section.blocks.push_back(SheetCaution{caution});
  section.blocks.push_back(
      SheetWords{"Before the first hole: two girths again, one near each end and clear of the "
                 "nodes. More than half a percent of movement stops the job."});
  section.blocks.push_back(SheetFields{{{"girth near end A", "mm"},
                                        {"at, near end A", "mm"},
                                        {"girth near end B", "mm"},
                                        {"at, near end B", "mm"},
                                        {"measured on", "", 30.0}}});
  if (!input.schedule) {
    section.blocks.push_back(SheetWords{"There is no schedule: " + input.no_schedule});
    return section;
  }
  if (!input.schedule->notes.empty()) section.blocks.push_back(SheetList{input.schedule->notes});
  SheetSteps steps;
  for (const DrillingStep& step : input.schedule->steps) steps.steps.push_back(sheet_step(step, input));
  section.blocks.push_back(steps);
  return section;
}

SheetSection as_drilled(const BenchSheetInput& input) {
  SheetSection section{"as-drilled", "As drilled", {}, {}, true};
  section.blocks.push_back(SheetWords{
      "Write down what came out, also half-way. The columns are those of as_drilled.csv, which the command "
      "as-drilled reads: state pilot, finished or extra; diameters at the skin along and around; at and "
      "around "
      "only where the place was measured again; wall by hook gauge; chip-out at its widest."});
  SheetTable table{"Holes as they came out", {{"key"}}, {}};
  for (const char* column : drilled_columns) table.columns.push_back({column});
  for (const PlacedKey& key : input.instrument.keys)
    table.rows.push_back(drilled_row(key.key.id, key.drilled));
  for (const PlacedPart& part : input.instrument.parts) {
    if (part.part.kind == PartKind::opening) table.rows.push_back(drilled_row(part.part.id, {}));
  }
  for (int i = 1; i <= extra_rows; ++i) table.rows.push_back(drilled_row("extra " + std::to_string(i), {}));
  section.blocks.push_back(table);
  return section;
}

SheetSection sign_off(const BenchSheetInput& input) {
  const SignMark& mark = input.instrument.sign;
  SheetSection section{"sign-off", "Sign-off and revisions", {}, {}, true};
  section.blocks.push_back(SheetFacts{{{"State", sign_words(mark)},
                                       {"Revision", std::to_string(input.instrument.revision)},
                                       {"Placement", input.instrument.id}}});
  SheetList list;
  for (const std::string& change : mark.what_changed) list.items.push_back(change);
  for (const Accepted& accepted : mark.accepted) {
    list.items.push_back("Accepted: " + accepted.rule +
                         (accepted.ids.empty() ? "" : " about " + listed(accepted.ids, " and ")) + ": " +
                         accepted.why + ".");
  }
  if (!list.items.empty()) section.blocks.push_back(list);
  if (!mark.signed_off()) {
    section.blocks.push_back(SheetFields{{{"agreed by", "", 60.0}, {"date", "", 30.0}}});
  }
  SheetTable table{"Revisions of the placement", {{"Revision"}, {"Date"}, {"What"}, {"Signed"}}, {}};
  for (const Revision& revision : input.placement.revisions) {
    const std::string by = revision.signature ? revision.signature->by + ", " + revision.signature->date : "";
    table.rows.push_back({std::to_string(revision.number), revision.date, revision.what, by});
  }
  if (!table.rows.empty()) section.blocks.push_back(table);
  const Signature& now = input.documents;
  SheetTable digests{"SHA-256 of the values that this sheet was made from", {{"Document"}, {"Digest"}}, {}};
  digests.rows = {{"tube", now.tube.digest}, {"key layout", now.key_layout.digest}};
  if (now.shop) digests.rows.push_back({"shop", now.shop->digest});
  digests.rows.push_back({"placement", now.placement.digest});
  section.blocks.push_back(digests);
  return section;
}

SheetSection the_record(const BenchSheetInput& input) {
  (void)input;
  SheetSection section{"record", "The finished instrument", {}, {}, true};
  section.blocks.push_back(SheetFields{{{"finished on", "", 30.0},
                                        {"mass", "g"},
                                        {"balances at, from the mouth cut", "mm"},
                                        {"made for", "", 60.0}}});
  section.blocks.push_back(SheetRoom{"Notes", 75.0, true});
  section.blocks.push_back(SheetRoom{"Photographs", 64.0, false});
  section.blocks.push_back(
      blank_rows("Repairs", {{"No."}, {"Date"}, {"What was done"}, {"With what"}, {"By"}}, repair_rows));
  return section;
}

}  // namespace culmwright::bench
