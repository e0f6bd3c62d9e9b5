#pragma once
/// The instrument with everything in its place: its assembly as a file, how near its parts come to one
/// another, and the wires through it.
#include <string>
#include <vector>

#include "command/gather.hpp"
#include "command/printed.hpp"
#include "plan/interference.hpp"
#include "plan/wire_list.hpp"

namespace culmwright::command {

/// Tube, cups and fitted parts in the tube's frame, as "assembly.step": every part a product by its name.
/// Precondition: none was refused.
MadePart assembly_of(const std::vector<MadePart>& parts, const Job& job);

/// Of the same parts, and of the space over every opening. In the order of the parts.
std::vector<Clearance> clearances_of(const std::vector<MadePart>& parts, const Job& job, const Shop& shop);
JsonValue clearances_json(const std::vector<Clearance>& found);

JsonValue wires_json(const WireList& list, const Wiring& wiring);
/// As a table and sentences, with the cautions; empty where the instrument has no wires.
std::string wires_text(const WireList& list, const Wiring& wiring);

}  // namespace culmwright::command
