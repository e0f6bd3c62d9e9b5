#include "command/printed.hpp"

#include <atomic>
#include <chrono>
#include <mutex>

#include "3mf.hpp"
#include "base/words.hpp"
#include "command/parallel.hpp"
#include "plan/printing.hpp"
#include "step.hpp"
#include "stl.hpp"

namespace culmwright::command {

namespace {

/// OpenCASCADE's STEP writer keeps its state in globals: one at a time.
std::mutex step_writer;

}  // namespace

std::string step_bytes(const Solid& solid, const std::string& name) {
  const std::lock_guard<std::mutex> lock(step_writer);
  return step_text(solid, name);
}

std::string step_assembly_bytes(const std::vector<AssemblyPart>& parts, const std::string& name) {
  const std::lock_guard<std::mutex> lock(step_writer);
  return step_assembly_text(parts, name);
}

bool is_small_part(const MadePart& part) {
  return part.stem.rfind("cups/", 0) == 0 || part.stem.rfind("fitted/", 0) == 0;
}

void write_printed(MadePart& part, const Solid& solid, const MeshAccuracy& accuracy, const RigidMotion& lie,
                   const RigidMotion& to_tube, const std::string& label, double scale) {
  OnBed bed = on_bed(solid.mesh(accuracy), lie);
  const double drawn_volume = volume(bed.mesh);
  for (Vec3& v : bed.mesh.vertices) v = v * scale;
  part.stl = stl_bytes(bed.mesh, label);
  part.three_mf = bytes_3mf({{label, bed.mesh}});
  part.step = step_bytes(solid, label);
  part.record.set("stl", part.stem + ".stl")
      .set("3mf", part.stem + ".3mf")
      .set("step", part.stem + ".step")
      .set("printing_position_to_tube", matrix_json(to_tube.after(bed.to_part)))
      .set("step_to_tube", matrix_json(to_tube))
      .set("facets", bed.mesh.triangles.size())
      .set("volume_mm3", drawn_volume);
  if (scale != 1.0) part.record.set("stl_larger_by", scale);
  part.printed = std::move(bed.mesh);
  if (is_small_part(part)) part.in_place = PlacedSolid{solid, to_tube, accuracy};
}

void guard_part(MadePart& part, const std::function<void(MadePart&)>& work) {
  try {
    work(part);
  } catch (const GeometryError& error) {
    part.refused = error.what();
    part.stl.clear();
    part.three_mf.clear();
    part.step.clear();
    part.printed = {};
    part.in_place.reset();
  }
}

std::vector<MadePart> make_all(std::vector<PartTask> tasks,
                               const std::function<void(const std::string&)>& say) {
  std::atomic<int> finished{0};
  std::mutex saying;
  const auto start = std::chrono::steady_clock::now();
  parallel_for(static_cast<int>(tasks.size()), [&](int i) {
    guard_part(tasks[i].part, tasks[i].work);
    const int count = ++finished;
    const std::lock_guard<std::mutex> lock(saying);
    const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - start;
    const double left = spent.count() * (static_cast<double>(tasks.size()) / count - 1.0);
    say(std::to_string(count) + " of " + std::to_string(tasks.size()) + " parts" +
        (left < 1.0 ? "" : ", about " + fixed_text(left, 0) + " s left"));
  });
  std::vector<MadePart> parts;
  for (PartTask& task : tasks) parts.push_back(std::move(task.part));
  return parts;
}

void add_parts(OutputFolder& folder, const std::vector<MadePart>& parts) {
  for (const MadePart& part : parts) {
    if (!part.stl.empty()) folder.add(part.stem + ".stl", part.stl);
    if (!part.three_mf.empty()) folder.add(part.stem + ".3mf", part.three_mf);
    if (!part.step.empty()) folder.add(part.stem + ".step", part.step);
  }
}

std::string file_name(const std::string& id) {
  std::string name;
  for (char c : id) name += c == ' ' ? '-' : c;
  return name;
}

JsonValue strings(const std::vector<std::string>& list) {
  JsonValue json = JsonValue::array();
  for (const std::string& text : list) json.push(text);
  return json;
}

JsonValue matrix_json(const RigidMotion& motion) {
  JsonValue json = JsonValue::array();
  for (double value : motion.matrix()) json.push(value);
  return json;
}

JsonValue point_json(Vec3 p) {
  return JsonValue::array({p.x, p.y, p.z});
}

}  // namespace culmwright::command
