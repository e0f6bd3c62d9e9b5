#pragma once
/// The solid parts of an instrument: planned, built, held against the gate, meshed, and turned into the bytes
/// of their files. Nothing is written here.
#include <optional>
#include <string>
#include <vector>

#include "command/gather.hpp"
#include "files/json_writer.hpp"
#include "solid/gate.hpp"

namespace culmwright::command {

/// One part, or why there is none.
struct MadePart {
  std::string name;  ///< "guide 1"
  std::string stem;  ///< of its files, without extension: "guides/guide-1"
  std::string stl;   ///< bytes; empty for a part that is not printed
  std::string step;
  JsonValue record = JsonValue::object();
  GateLog gate;
  std::optional<std::string> refused;  ///< the failure by name
};

/// Guides, cups and tube body, in that order; a part that fails says so in `refused`. `say`: progress.
/// Parts are made on all cores; the same job gives the same bytes.
std::vector<MadePart> make_parts(const Job& job, const Shop& shop,
                                 const std::function<void(const std::string&)>& say);

/// Survey plates for both ends of a piece.
std::vector<MadePart> make_plates(const TubeFit& fit);

/// A 4 × 4 matrix, row by row.
JsonValue matrix_json(const RigidMotion& motion);
JsonValue point_json(Vec3 p);

}  // namespace culmwright::command
