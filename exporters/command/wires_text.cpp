#include "base/words.hpp"
#include "command/in_place.hpp"
#include "command/terminal.hpp"

namespace culmwright::command {

namespace {

const char* word(End end) {
  return end == End::a ? "A" : "B";
}

std::string nodes_of(const WireRun& run) {
  std::string text;
  for (const int number : run.nodes) text += (text.empty() ? "" : ", ") + std::to_string(number);
  return text;
}

std::string node_sentence(const WireNode& node) {
  const std::string name = "node " + std::to_string(node.number);
  const std::string wide = number_text(node.wide, 3) + " mm";
  if (!node.work) {
    return name + ": pierced " + number_text(*node.pierced, 4) + " mm, wide enough for " +
           std::to_string(node.wires) + " wires (" + wide + ")";
  }
  const std::string what = node.pierced ? "widen it from " + number_text(*node.pierced, 4) + " to " + wide
                                        : "pierce it " + wide + " wide";
  return name + ": " + what + " from end " + word(node.from) + ", " + fixed_text(node.reach, 0) + " mm in; " +
         (node.wires > 0 ? std::to_string(node.wires) + " wires pass it"
                         : std::string("only to reach the node behind it"));
}

JsonValue run_json(const WireRun& run, int order) {
  JsonValue nodes = JsonValue::array();
  for (const int number : run.nodes) nodes.push(number);
  return JsonValue::object()
      .set("pulled", order)
      .set("key", run.id)
      .set("wires", run.wires)
      .set("to", run.exit)
      .set("way", run.way)
      .set("cut_to", run.cut_to)
      .set("nodes", std::move(nodes));
}

JsonValue node_json(const WireNode& node) {
  JsonValue json = JsonValue::object();
  json.set("node", node.number).set("at", node.at).set("wires", node.wires).set("bundle", node.bundle);
  if (node.pierced) json.set("pierced", *node.pierced);
  json.set("wanted", node.wide).set("to_be_pierced", node.work);
  if (node.work) json.set("from_end", word(node.from)).set("reach", node.reach);
  return json;
}

}  // namespace

JsonValue wires_json(const WireList& list, const Wiring& wiring) {
  JsonValue runs = JsonValue::array();
  for (std::size_t i = 0; i < list.runs.size(); ++i) {
    runs.push(run_json(list.runs[i], static_cast<int>(i) + 1));
  }
  JsonValue nodes = JsonValue::array();
  for (const WireNode& node : list.nodes) nodes.push(node_json(node));
  JsonValue refused = JsonValue::array();
  for (const RefusedWires& one : list.refused) {
    refused.push(JsonValue::object().set("key", one.id).set("reason", one.sentence));
  }
  return JsonValue::object()
      .set("wire_diameter", wiring.diameter)
      .set("runs", std::move(runs))
      .set("nodes", std::move(nodes))
      .set("refused", std::move(refused))
      .set("all_together", list.total);
}

std::string wires_text(const WireList& list, const Wiring& wiring) {
  if (list.empty()) return "";
  std::string text;
  if (!list.runs.empty()) {
    TextTable table({"wires of", "wires", "to", "way", "cut each to", "nodes passed"});
    for (const WireRun& run : list.runs) {
      table.row({run.id, std::to_string(run.wires), run.exit, fixed_text(run.way, 0),
                 fixed_text(run.cut_to, 0), nodes_of(run)});
    }
    text += wrapped("Wires of " + number_text(wiring.diameter, 3) +
                        " mm, in the order of pulling; lengths with slack and spare, " +
                        fixed_text(0.001 * list.total, 1) + " m in all:",
                    2) +
            table.text();
  }
  for (const WireNode& node : list.nodes) text += wrapped(node_sentence(node), 2);
  for (const RefusedWires& one : list.refused) text += wrapped(one.sentence, 2);
  return text + wrapped(
                    "Pierce nodes before anything else, with no hand at the far end of the rod. Never drill "
                    "with a cell fitted; wiring and cells by the rules of the place and by those licensed "
                    "for them.",
                    2);
}

}  // namespace culmwright::command
