/// Holes as they came out: document and table.
#include "files/csv_tables.hpp"
#include "files/fixed_columns.hpp"
#include "files/tables.hpp"

namespace culmwright::files {

namespace {

Codec<double> gauge_error() {
  return length(0.001, 10);
}

Codec<DrilledHole> hole() {
  using H = DrilledHole;
  return object(
      Table<H>("a drilled hole")
          .required("id", &H::id, identifier(),
                    "The key or opening, as in the key layout; of an extra hole a name of its own")
          .with_default(
              "state", &H::state,
              choice<DrilledState>({{"pilot", DrilledState::pilot},
                                    {"finished", DrilledState::finished},
                                    {"extra", DrilledState::extra}}),
              "pilot: the pilot went through; finished: opened to its size; extra: a hole where none "
              "was wanted, which belongs to no key")
          .with_default(
              "across_along", &H::across_along, length(0, 300),
              "Its diameter along the tube, as measured; of an opening its length; 0: a pilot's that "
              "was not measured")
          .derived(
              "across_around", &H::across_around, length(0, 300),
              [](H& h) { h.across_around = h.across_along; },
              "Its diameter around the tube; of an opening its width; left out: as along")
          .optional("at", &H::at, length(-longest_tube, longest_tube),
                    "Its middle from the datum mark toward end B; left out: where the placement has it")
          .optional("around", &H::around, length(-greatest_girth, greatest_girth),
                    "Its middle along the skin from the reference line to the right")
          .optional("wall", &H::wall, length(0.1, 100), "The wall by hook gauge through the hole")
          .with_default("chip_out", &H::chip_out, length(0, 50),
                        "Skin broken away beyond the rim, at its widest")
          .with_default("note", &H::note, note_text(), "In your own words"));
}

Table<AsDrilled> fields() {
  using A = AsDrilled;
  return Table<A>("an as-drilled document")
      .with_default("id", &A::id, identifier(), "A short name of its own")
      .required("tube", &A::tube_id, identifier(), "The id of the tube that was drilled")
      .required("placement", &A::placement_id, identifier(), "The id of the placement that was drilled")
      .with_default("revision", &A::revision, whole_number(1, 100'000),
                    "The revision of the placement that was drilled")
      .with_default("date", &A::date, day(), "The day it was measured")
      .with_default("note", &A::note, note_text(), "In your own words")
      .with_default("caliper_error", &A::caliper_error, gauge_error(),
                    "One standard deviation of a diameter, as you judge it")
      .with_default("place_error", &A::place_error, gauge_error(),
                    "One standard deviation of a measured place, along and around")
      .with_default("hook_gauge_error", &A::hook_gauge_error, gauge_error(),
                    "One standard deviation of a wall reading")
      .with_default("holes", &A::holes, list(hole(), 0, most_keys, "drilled holes"),
                    "The holes drilled so far, in any order; what is not among them is not drilled")
      .read_elsewhere(
          "holes_csv", file_name().schema(1.0),
          "Instead of holes: a CSV table with columns key, state, across_along, across_around, at, "
          "around, wall, chip_out, note")
      .at_most_one_of({"holes", "holes_csv"});
}

}  // namespace

std::unique_ptr<CsvColumns> drilled_columns(const CsvTable&) {
  return std::make_unique<FixedColumns>(std::vector<Column>{{"key", "id", false},
                                                            {"state", "state", false},
                                                            {"across_along", "across_along"},
                                                            {"across_around", "across_around"},
                                                            {"at", "at"},
                                                            {"around", "around"},
                                                            {"wall", "wall"},
                                                            {"chip_out", "chip_out"},
                                                            {"note", "note", false}},
                                        std::vector<std::string>{"key"});
}

const Table<AsDrilled>& as_drilled_table() {
  static const Table<AsDrilled> table = fields();
  return table;
}

}  // namespace culmwright::files
