#pragma once
/// Solid parts on their way to files: built, held against the gate, meshed, laid on the bed, and turned into
/// the bytes of their files. Nothing is written here.
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "files/json_writer.hpp"
#include "files/output_folder.hpp"
#include "plan/mesh.hpp"
#include "solid/gate.hpp"
#include "step_assembly.hpp"

namespace culmwright::command {

/// A solid and where its own frame stands in the tube's; what the gate meshed it at.
struct PlacedSolid {
  Solid solid;
  RigidMotion to_tube;
  MeshAccuracy accuracy;
};

/// One part, or why there is none.
struct MadePart {
  std::string name;      ///< "guide 1"
  std::string stem;      ///< of its files, without extension: "guides/guide-1"
  std::string stl;       ///< bytes; empty for a part that is not printed
  std::string three_mf;  ///< the same
  std::string step;      ///< empty where a part has none
  Mesh printed;          ///< what the STL holds, as it lies on the bed; empty for a part that is not printed
  std::optional<PlacedSolid> in_place;  ///< of what stays on the instrument: tube, cups, fitted parts
  JsonValue record = JsonValue::object();
  GateLog gate;
  std::optional<std::string> refused;  ///< the failure by name
};

/// A printed part's files and where they lie: `lie` lays the solid on the bed, `to_tube` carries the solid's
/// own frame to the tube's, `label` stands in the files. `scale`: the STL is so much larger than the solid,
/// for a printer whose parts come out too small.
void write_printed(MadePart& part, const Solid& solid, const MeshAccuracy& accuracy, const RigidMotion& lie,
                   const RigidMotion& to_tube, const std::string& label, double scale = 1.0);
/// STEP of a solid; may be called from any thread. Throws GeometryError when the kernel's own analysis calls
/// it invalid.
std::string step_bytes(const Solid& solid, const std::string& name);
/// The same of an assembly (step_assembly.hpp).
std::string step_assembly_bytes(const std::vector<AssemblyPart>& parts, const std::string& name);
/// Key cups and fitted parts, by their files: small, and they stay on the instrument.
bool is_small_part(const MadePart& part);

/// Does `work`; a geometry that fails becomes the part's refusal.
void guard_part(MadePart& part, const std::function<void(MadePart&)>& work);

struct PartTask {
  MadePart part;  ///< name and stem
  std::function<void(MadePart&)> work;
};
/// Does all tasks on all cores, guarded. The parts come back in the order of the tasks, the same whatever the
/// number of cores. `say`: progress.
std::vector<MadePart> make_all(std::vector<PartTask> tasks,
                               const std::function<void(const std::string&)>& say);

/// The files of sound parts, into a folder. Precondition: none was refused.
void add_parts(OutputFolder& folder, const std::vector<MadePart>& parts);

/// Characters that are safe in every file system.
std::string file_name(const std::string& id);

JsonValue strings(const std::vector<std::string>& list);
/// A 4 × 4 matrix, row by row.
JsonValue matrix_json(const RigidMotion& motion);
JsonValue point_json(Vec3 p);

}  // namespace culmwright::command
