#include "stl.hpp"

#include <catch2/catch.hpp>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <sstream>

#include "plan/printing.hpp"
#include "plan/sample_meshes.hpp"

using namespace culmwright;

// The rules of binary STL, as in REFERENCES ("Paper and files"): 80-byte header not starting with "solid",
// little-endian count, 50 bytes a facet, outward by the right-hand rule, no units.

namespace {

std::uint32_t u32_at(const std::string& bytes, std::size_t at) {
  std::uint32_t value = 0;
  for (int i = 3; i >= 0; --i) value = value << 8U | static_cast<unsigned char>(bytes[at + i]);
  return value;
}

float float_at(const std::string& bytes, std::size_t at) {
  const std::uint32_t bits = u32_at(bytes, at);
  float value = 0;
  std::memcpy(&value, &bits, sizeof value);
  return value;
}

Vec3 vec_at(const std::string& bytes, std::size_t at) {
  return {float_at(bytes, at), float_at(bytes, at + 4), float_at(bytes, at + 8)};
}

std::string admesh_says(const std::string& bytes, const std::string& file) {
  std::ofstream(file, std::ios::binary) << bytes;
  std::string text;
  FILE* pipe = popen(("admesh " + file + " 2>&1").c_str(), "r");
  REQUIRE(pipe != nullptr);
  char line[256];
  while (std::fgets(line, sizeof line, pipe) != nullptr) text += line;
  CHECK(pclose(pipe) == 0);
  std::remove(file.c_str());
  return text;
}

}  // namespace

TEST_CASE("a box in STL has header, count and facets of the right size and order of bytes") {
  const std::string bytes = stl_bytes(samples::box(1, 2, 3), "box");
  CHECK(bytes.size() == 80 + 4 + 12 * 50);
  CHECK(bytes.substr(0, 5) != "solid");
  CHECK(bytes.substr(0, 80).find("box") != std::string::npos);
  CHECK(bytes.substr(0, 80).find("units mm") != std::string::npos);
  CHECK(u32_at(bytes, 80) == 12);
  for (int i = 0; i < 12; ++i) {
    CHECK(bytes[84 + 50 * i + 48] == 0);
    CHECK(bytes[84 + 50 * i + 49] == 0);
  }
}

TEST_CASE("every facet's normal is of unit length, follows its corners and points outward") {
  const std::string bytes = stl_bytes(samples::box(1, 2, 3), "box");
  for (int i = 0; i < 12; ++i) {
    const std::size_t at = 84 + 50 * i;
    const Vec3 normal = vec_at(bytes, at);
    const Vec3 a = vec_at(bytes, at + 12);
    const Vec3 b = vec_at(bytes, at + 24);
    const Vec3 c = vec_at(bytes, at + 36);
    CHECK(length(normal) == Approx(1.0));
    CHECK(dot(normal, unit(cross(b - a, c - a))) == Approx(1.0));
    CHECK(dot(normal, a - Vec3{0.5, 1.0, 1.5}) > 0.0);
  }
}

TEST_CASE("a part called solid, and one with a name that is long or not ASCII, still has a proper header") {
  const Mesh box = samples::box(1, 1, 1);
  CHECK(stl_bytes(box, "solid").substr(0, 5) != "solid");
  CHECK(stl_bytes(box, std::string(300, 'x')).size() == 84 + 600);
  const std::string header = stl_bytes(box, "Hüpfer\n1").substr(0, 80);
  CHECK(header.find("H--pfer-1") != std::string::npos);
}

TEST_CASE("the same mesh gives the same bytes, and nought has no sign") {
  Mesh box = samples::box(1, 1, 1);
  const std::string bytes = stl_bytes(box, "box");
  for (Vec3& v : box.vertices) v = v + Vec3{-0.0, -0.0, -0.0};
  for (Vec3& v : box.vertices) v.x = v.x == 0.0 ? -0.0 : v.x;
  CHECK(stl_bytes(box, "box") == bytes);
}

TEST_CASE("a facet that rounding to float collapses is left out and the rest stays closed") {
  // The box's corner 7 split into two that differ by 1e-9 mm, with the sliver between them.
  Mesh box = samples::box(100, 100, 100);
  box.vertices.push_back({100.0, 100.0 - 1e-9, 100.0});
  for (auto& t : box.triangles) {
    if (t == std::array<int, 3>{4, 5, 7}) t = {4, 5, 8};
  }
  box.triangles.push_back({4, 8, 7});
  for (auto& t : box.triangles) {
    if (t == std::array<int, 3>{1, 7, 5}) t = {1, 8, 5};
  }
  box.triangles.push_back({1, 7, 8});
  CHECK(inspect(box).closed());
  CHECK(u32_at(stl_bytes(box, "box"), 80) == 12);
}

TEST_CASE("a part is laid on the bed in the positive octant, and the way back is exact") {
  const Mesh part = moved(samples::hollow_cylinder(), {{0, 1, 0}, {0, 0, 1}, {1, 0, 0}, {-50, 30, -20}});
  const OnBed bed = on_bed(part, {{1, 0, 0}, {0, 0, -1}, {0, 1, 0}, {7, 8, 9}});
  Vec3 low{1e9, 1e9, 1e9};
  for (std::size_t i = 0; i < part.vertices.size(); ++i) {
    const Vec3 v = bed.mesh.vertices[i];
    low = {std::min(low.x, v.x), std::min(low.y, v.y), std::min(low.z, v.z)};
    CHECK(length(bed.to_part.apply(v) - part.vertices[i]) < 1e-12);
  }
  CHECK(low.x == 0.0);
  CHECK(low.y == 0.0);
  CHECK(low.z == 0.0);
}

TEST_CASE("admesh, an independent reader, finds nothing to mend and the handbook's volume") {
  if (std::system("command -v admesh > /dev/null 2>&1") != 0) {
    WARN("admesh is not installed: the STL file was not checked from outside");
    return;
  }
  const std::string text =
      admesh_says(stl_bytes(on_bed(samples::hollow_cylinder(), {}).mesh, "ring"), "stl_test_ring.stl");
  INFO(text);
  for (const char* count : {"Total disconnected facets", "Degenerate facets", "Edges fixed", "Facets removed",
                            "Facets added", "Facets reversed", "Backwards edges", "Normals fixed"}) {
    const std::size_t at = text.find(count);
    REQUIRE(at != std::string::npos);
    CHECK(std::atoi(text.c_str() + text.find(':', at) + 1) == 0);
  }
  const std::size_t at = text.find("Volume");
  REQUIRE(at != std::string::npos);
  // 180 sides hold 0.99980 of the circle: Machinery's Handbook, 11259.5 for h 28, D 36, t 4.
  CHECK(std::atof(text.c_str() + text.find(':', at) + 1) == Approx(11259.5).epsilon(3e-4));
}
