#include "3mf.hpp"

#include <Model/COM/NMR_DLLInterfaces.h>

#include <algorithm>
#include <cstring>
#include <memory>

#include "base/problem.hpp"
#include "files/sha256.hpp"

namespace culmwright {

namespace {

using namespace NMR;

void check(LIB3MFRESULT result, const char* doing) {
  if (result == 0) return;
  throw GeometryError("a file for printing", std::string("3MF, ") + doing,
                      "lib3mf's error " + std::to_string(result));
}

/// An object of the library, released with its owner.
template <class T>
class Held {
 public:
  Held() = default;
  Held(const Held&) = delete;
  Held& operator=(const Held&) = delete;
  ~Held() {
    if (object_ != nullptr) lib3mf_release(object_);
  }
  T** place() { return &object_; }
  T* get() const { return object_; }

 private:
  T* object_ = nullptr;
};

/// An identifier in the form of a UUID (RFC 9562, version 8: made by the program's own rule) from content.
std::string identifier_of(const std::string& content) {
  std::string digits = sha256(content).substr(0, 32);
  digits[12] = '8';
  digits[16] = "89ab"[(digits[16] >= 'a' ? digits[16] - 'a' + 10 : digits[16] - '0') % 4];
  for (const std::size_t at : {20U, 16U, 12U, 8U}) digits.insert(at, "-");
  return digits;
}

struct Geometry {
  std::vector<MODELMESHVERTEX> vertices;
  std::vector<MODELMESHTRIANGLE> triangles;
};

Geometry geometry_of(const Mesh& mesh) {
  Geometry geometry;
  geometry.vertices.reserve(mesh.vertices.size());
  for (const Vec3& v : mesh.vertices) {
    MODELMESHVERTEX vertex{};
    const double place[3] = {v.x, v.y, v.z};
    for (int k = 0; k < 3; ++k) {
      const float rounded = static_cast<float>(place[k]);
      vertex.m_fPosition[k] = rounded == 0.0F ? 0.0F : rounded;  // nought without a sign
    }
    geometry.vertices.push_back(vertex);
  }
  geometry.triangles.reserve(mesh.triangles.size());
  for (const auto& t : mesh.triangles) {
    MODELMESHTRIANGLE triangle{};
    for (int k = 0; k < 3; ++k) triangle.m_nIndices[k] = static_cast<DWORD>(t[k]);
    geometry.triangles.push_back(triangle);
  }
  return geometry;
}

/// Everything that tells one object from another.
std::string content_of(const std::string& name, const Geometry& geometry) {
  std::string content = name;
  content.push_back('\0');
  const auto append = [&](const auto& list) {
    content.append(reinterpret_cast<const char*>(list.data()), list.size() * sizeof(list[0]));
  };
  append(geometry.vertices);
  append(geometry.triangles);
  return content;
}

/// Adds a part, returns its identifier. `number` tells equal parts apart.
std::string add(PLib3MFModel* model, const NamedMesh& part, std::size_t number) {
  Geometry geometry = geometry_of(part.mesh);
  const std::string id = identifier_of(content_of(part.name, geometry) + "object" + std::to_string(number));
  Held<PLib3MFModelMeshObject> object;
  check(lib3mf_model_addmeshobject(model, object.place()), "adding an object");
  check(lib3mf_object_setnameutf8(object.get(), part.name.c_str()), "naming an object");
  check(lib3mf_object_setuuidutf8(object.get(), id.c_str()), "giving an object its identifier");
  check(lib3mf_meshobject_setgeometry(object.get(), geometry.vertices.data(),
                                      static_cast<DWORD>(geometry.vertices.size()), geometry.triangles.data(),
                                      static_cast<DWORD>(geometry.triangles.size())),
        "taking over a mesh");
  BOOL sound = false;
  check(lib3mf_meshobject_ismanifoldandoriented(object.get(), &sound), "looking at a mesh");
  if (!sound) throw GeometryError(part.name, "3MF", "the mesh is not closed and turned outward");
  Held<PLib3MFModelBuildItem> item;
  check(lib3mf_model_addbuilditem(model, object.get(), nullptr, item.place()), "placing an object");
  check(lib3mf_builditem_setuuidutf8(item.get(), identifier_of(id + "item").c_str()),
        "giving a place its identifier");
  return id;
}

/// What the library writes, at the place where it stands.
struct Output {
  std::string bytes;
  std::size_t at = 0;
};

// The library's callbacks return its error number: 0 is success.
DWORD write_bytes(BYTE* data, DWORD count, void* user) {
  Output& out = *static_cast<Output*>(user);
  if (out.bytes.size() < out.at + count) out.bytes.resize(out.at + count);
  std::memcpy(out.bytes.data() + out.at, data, count);
  out.at += count;
  return 0;
}

DWORD go_to(ULONG64 position, void* user) {
  static_cast<Output*>(user)->at = static_cast<std::size_t>(position);
  return 0;
}

}  // namespace

std::string bytes_3mf(const std::vector<NamedMesh>& parts) {
  require(!parts.empty(), "a 3MF file without parts was asked for");
  Held<PLib3MFModel> model;
  check(lib3mf_createmodel(model.place()), "making a model");
  check(lib3mf_model_setunit(model.get(), MODELUNIT_MILLIMETER), "setting the unit");
  std::string build;
  for (std::size_t i = 0; i < parts.size(); ++i) build += add(model.get(), parts[i], i);
  check(lib3mf_model_setbuilduuidutf8(model.get(), identifier_of(build + "build").c_str()),
        "giving the build its identifier");
  Held<PLib3MFModelWriter> writer;
  check(lib3mf_model_querywriter(model.get(), "3mf", writer.place()), "finding the writer");
  Output out;
  check(lib3mf_writer_writetocallback(writer.get(), reinterpret_cast<void*>(&write_bytes),
                                      reinterpret_cast<void*>(&go_to), &out),
        "writing");
  return std::move(out.bytes);
}

}  // namespace culmwright
