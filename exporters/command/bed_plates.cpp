#include "command/bed_plates.hpp"

#include <algorithm>

#include "3mf.hpp"
#include "plan/bed_layout.hpp"
#include "stl.hpp"

namespace culmwright::command {

namespace {

Vec3 size_of(const Mesh& mesh) {
  Vec3 size;
  for (const Vec3& v : mesh.vertices) {
    size = {std::max(size.x, v.x), std::max(size.y, v.y), std::max(size.z, v.z)};
  }
  return size;
}

/// The part's own mesh, its corner at the bed's, to where it lies on the plate.
RigidMotion to_plate(const BedPlace& place, const BedItem& item) {
  if (!place.turned) return {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {place.x, place.y, 0}};
  return {{0, 1, 0}, {-1, 0, 0}, {0, 0, 1}, {place.x + item.size_y, place.y, 0}};
}

void append(Mesh& all, const Mesh& more) {
  const int first = static_cast<int>(all.vertices.size());
  all.vertices.insert(all.vertices.end(), more.vertices.begin(), more.vertices.end());
  for (const auto& t : more.triangles) all.triangles.push_back({first + t[0], first + t[1], first + t[2]});
}

JsonValue place_json(const MadePart& part, const BedPlace& place) {
  const Vec3 size = size_of(part.printed);
  return JsonValue::object()
      .set("part", part.name)
      .set("stl", part.stem + ".stl")
      .set("x", place.x)
      .set("y", place.y)
      .set("turned_deg", place.turned ? 90 : 0)
      .set("size", point_json(size));
}

MadePart plate_of(const std::vector<const MadePart*>& parts, const std::vector<BedItem>& items,
                  const std::vector<BedPlace>& places, int number, const BedRoom& room,
                  const std::string& label) {
  MadePart plate;
  plate.name = "plate " + std::to_string(number);
  plate.stem = "plates/" + file_name(plate.name);
  std::vector<NamedMesh> objects;
  Mesh all;
  JsonValue lying = JsonValue::array();
  for (const BedPlace& place : places) {
    const MadePart& part = *parts[place.item];
    objects.push_back({part.name, moved(part.printed, to_plate(place, items[place.item]))});
    append(all, objects.back().mesh);
    lying.push(place_json(part, place));
  }
  plate.stl = stl_bytes(all, label + " " + plate.name);
  plate.three_mf = bytes_3mf(objects);
  plate.record.set("plate", number)
      .set("stl", plate.stem + ".stl")
      .set("3mf", plate.stem + ".3mf")
      .set("bed", JsonValue::array({room.bed_x, room.bed_y}))
      .set("filled", filled(places, items, room))
      .set("parts", std::move(lying));
  return plate;
}

}  // namespace

std::vector<MadePart> bed_plates(const std::vector<MadePart>& parts, const Shop& shop,
                                 const std::string& label) {
  std::vector<const MadePart*> small;
  std::vector<BedItem> items;
  for (const MadePart& part : parts) {
    if (!is_small_part(part) || part.printed.vertices.empty()) continue;
    const Vec3 size = size_of(part.printed);
    small.push_back(&part);
    items.push_back({part.name, size.x, size.y});
  }
  std::vector<MadePart> plates;
  if (small.size() < 2) return plates;
  const BedRoom room = bed_room(shop.printer);
  const BedLayout layout = lay_on_beds(items, room);
  for (std::size_t i = 0; i < layout.plates.size(); ++i) {
    plates.push_back(plate_of(small, items, layout.plates[i], static_cast<int>(i) + 1, room, label));
  }
  return plates;
}

}  // namespace culmwright::command
