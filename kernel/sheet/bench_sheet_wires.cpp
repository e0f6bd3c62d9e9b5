#include "base/words.hpp"
#include "sheet/bench_sheet_sections.hpp"

namespace culmwright::bench {

namespace {

std::string numbers_of(const std::vector<int>& nodes) {
  std::vector<std::string> words;
  for (int node : nodes) words.push_back(std::to_string(node));
  return words.empty() ? "none" : listed(words, ", ");
}

SheetTable run_table(const WireList& list) {
  SheetTable table{"Wires in the order of pulling",
                   {{"Key"},
                    {"Done"},
                    {"Wires", true},
                    {"Comes out at"},
                    {"Way", true},
                    {"Cut to", true},
                    {"Nodes passed"}},
                   {}};
  for (const WireRun& run : list.runs) {
    table.rows.push_back({run.id, SheetCell::to_tick("wires of " + run.id + " pulled"),
                          std::to_string(run.wires), run.exit, fixed_text(run.way, 0),
                          fixed_text(run.cut_to, 0), numbers_of(run.nodes)});
  }
  return table;
}

SheetTable node_table(const WireList& list) {
  SheetTable table{
      "Nodes on their way, the first counted from end A",
      {{"Node"}, {"At", true}, {"Wires", true}, {"As pierced", true}, {"Wide enough at", true}, {"Work"}},
      {}};
  for (const WireNode& node : list.nodes) {
    std::string work = "none";
    if (node.work) {
      work = std::string(node.pierced ? "widen" : "pierce") + " from end " +
             (node.from == End::a ? "A" : "B") + ", " + fixed_text(node.reach, 0) + " in";
    }
    table.rows.push_back({std::to_string(node.number), fixed_text(node.at, 0), std::to_string(node.wires),
                          node.pierced ? number_text(*node.pierced, 4) : std::string("whole"),
                          number_text(node.wide, 3), work});
  }
  return table;
}

}  // namespace

SheetPart the_wires(const WireList& list) {
  SheetPart part{"Wires", {}};
  part.blocks.push_back(
      SheetCaution{"Never drill with a cell fitted. Wiring and cells by the rules of the place and by "
                   "those licensed for them."});
  if (!list.runs.empty()) {
    part.blocks.push_back(run_table(list));
    part.blocks.push_back(SheetWords{"In all " + fixed_text(list.total / 1000.0, 1) + " m of wire."});
  }
  if (!list.nodes.empty()) part.blocks.push_back(node_table(list));
  SheetList refused;
  for (const RefusedWires& one : list.refused) refused.items.push_back(one.sentence);
  if (!refused.items.empty()) part.blocks.push_back(refused);
  return part;
}

SheetPart the_clearances(const std::vector<Clearance>& near) {
  SheetTable table{"What comes near to what once all is in place, to the chords of the meshes",
                   {{"Part"}, {"From"}, {"Apart", true}, {"At least", true}, {"Verdict"}},
                   {}};
  SheetList failures;
  for (const Clearance& one : near) {
    table.rows.push_back({one.first, one.second, fixed_text(one.found.distance, 2), fixed_text(one.least, 2),
                          one.fails ? "FAILS" : "ok"});
    if (one.fails) failures.items.push_back(one.sentence);
  }
  SheetPart part{"Clearances", {table}};
  if (!failures.items.empty()) part.blocks.push_back(failures);
  return part;
}

}  // namespace culmwright::bench
