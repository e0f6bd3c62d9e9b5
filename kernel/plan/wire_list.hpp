#pragma once
/// The wire list of an instrument with switches or sensors: for every key with wires its way through the bore
/// to an opening, the length to cut, the nodes to pierce and how wide, and the order of pulling.
///
///      key           node to pierce            opening
///    ___|_|________________|____________________|   |____     the wires run down the key's hole, along the
///       | '------------- - - - -----------------'               bore, straight in the developed bore, and
///       out
///    ______________________|_____________________________       at the nearest edge of the opening
///
/// Wires and their bundle: the least circle around so many equal circles (known packings up to twenty; from
/// memory), beyond that 70 % filled. Spare, slack and room: the shop's (layout/fitted.hpp), common practice.
#include <optional>
#include <string>
#include <vector>

#include "layout/instrument.hpp"
#include "layout/shop.hpp"

namespace culmwright {

/// Wires may be led out of an open end too, where the key layout names it as their opening.
constexpr const char* wires_to_mouth_end = "mouth_end";
constexpr const char* wires_to_foot_end = "foot_end";

/// How many wires a key has: what it says; else two of a switch seat, one of a touch cap with a wire way.
int wires_of(const Key& key);

/// Diameter of a round bundle over the diameter of one of its wires. Precondition: wires ≥ 1.
double bundle_ratio(int wires);

struct WireRun {
  std::string id;  ///< of the key, or of the slider
  int wires = 0;
  std::string exit;        ///< the opening's id, or "mouth_end", "foot_end"
  double along = 0.0;      ///< of the key from the exit's nearest edge, along the tube
  double way = 0.0;        ///< from the skin at the key through the bore to the skin at the exit
  double cut_to = 0.0;     ///< length of each wire, with slack and spare; a whole centimetre, never less
  std::vector<int> nodes;  ///< that it passes, counted from end A, the first is 1; from the key to the exit
};

struct WireNode {
  int number = 0;  ///< counted from end A, the first is 1
  double at = 0.0;
  int wires = 0;                  ///< that pass it; 0: only what pierces another node does
  double bundle = 0.0;            ///< their diameter
  double wide = 0.0;              ///< how wide it has to be, to the half millimetre above
  std::optional<double> pierced;  ///< as it is
  bool work = false;              ///< it is to be pierced, or widened
  End from = End::a;              ///< the end from which it is best reached
  double reach = 0.0;             ///< from that end
};

struct RefusedWires {
  std::string id;
  std::string sentence;  ///< what is in the way, and what can be done
};

struct WireList {
  std::vector<WireRun> runs;  ///< in the order of pulling: exit by exit, the farthest key first
  std::vector<WireNode> nodes;
  std::vector<RefusedWires> refused;
  double total = 0.0;  ///< of all wires together
  bool empty() const { return runs.empty() && refused.empty(); }
};

/// Throws nothing: a key without a way is refused by name, the rest is planned.
WireList plan_wires(const Tube& tube, const Instrument& instrument, const Shop& shop);

}  // namespace culmwright
