#include "stl.hpp"

#include <cmath>
#include <cstdint>
#include <cstring>

#include "base/problem.hpp"

namespace culmwright {

namespace {

constexpr std::size_t header_bytes = 80;
constexpr std::size_t facet_bytes = 50;

void put_u16(std::string& out, std::uint16_t value) {
  out.push_back(static_cast<char>(value & 0xffU));
  out.push_back(static_cast<char>(value >> 8U));
}

void put_u32(std::string& out, std::uint32_t value) {
  put_u16(out, static_cast<std::uint16_t>(value & 0xffffU));
  put_u16(out, static_cast<std::uint16_t>(value >> 16U));
}

void put_float(std::string& out, double value) {
  // Nought is written without a sign, so that the bytes do not depend on how it was reached.
  const float rounded = static_cast<float>(value) == 0.0F ? 0.0F : static_cast<float>(value);
  std::uint32_t bits = 0;
  std::memcpy(&bits, &rounded, sizeof bits);
  put_u32(out, bits);
}

void put(std::string& out, Vec3 v) {
  put_float(out, v.x);
  put_float(out, v.y);
  put_float(out, v.z);
}

double as_float(double value) {
  return static_cast<double>(static_cast<float>(value));
}

Vec3 as_float(Vec3 v) {
  require(std::abs(v.x) < 1e6 && std::abs(v.y) < 1e6 && std::abs(v.z) < 1e6,
          "a vertex for STL is not finite or lies beyond a kilometre");
  return {as_float(v.x), as_float(v.y), as_float(v.z)};
}

bool same(Vec3 a, Vec3 b) {
  return a.x == b.x && a.y == b.y && a.z == b.z;
}

std::string header(const std::string& name) {
  std::string text = "culmwright part, units mm: ";
  for (const char c : name) text.push_back(c >= ' ' && c <= '~' ? c : '-');
  text.resize(header_bytes, ' ');
  return text;
}

}  // namespace

std::string stl_bytes(const Mesh& mesh, const std::string& name) {
  std::string facets;
  facets.reserve(mesh.triangles.size() * facet_bytes);
  std::uint32_t count = 0;
  for (const auto& t : mesh.triangles) {
    const Vec3 exact[3] = {mesh.vertices[t[0]], mesh.vertices[t[1]], mesh.vertices[t[2]]};
    const Vec3 a = as_float(exact[0]);
    const Vec3 b = as_float(exact[1]);
    const Vec3 c = as_float(exact[2]);
    if (same(a, b) || same(b, c) || same(c, a)) continue;
    Vec3 normal = cross(b - a, c - a);
    if (length(normal) == 0.0) normal = cross(exact[1] - exact[0], exact[2] - exact[0]);
    put(facets, length(normal) > 0.0 ? unit(normal) : Vec3{});
    put(facets, a);
    put(facets, b);
    put(facets, c);
    put_u16(facets, 0);
    ++count;
  }
  std::string bytes = header(name);
  put_u32(bytes, count);
  return bytes + facets;
}

}  // namespace culmwright
