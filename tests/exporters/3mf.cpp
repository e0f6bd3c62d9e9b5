#include "3mf.hpp"

#include <Model/COM/NMR_DLLInterfaces.h>

#include <catch2/catch.hpp>
#include <sstream>

#include "base/problem.hpp"
#include "plan/printing.hpp"
#include "plan/sample_meshes.hpp"
#include "programs.hpp"

using namespace culmwright;

// REFERENCES, "Paper and files": 3MF Core 1.4.0: millimetre default, z up; every edge shared by exactly two
// triangles, consistently oriented outward.

namespace {

std::vector<NamedMesh> two_parts() {
  return {{"guide 1", samples::box(10, 20, 30)}, {"key cup L3 – Deckel", samples::box(1, 2, 3)}};
}

/// What the library that wrote it reads from a file.
struct ReadBack {
  std::vector<std::string> names;
  std::vector<unsigned> vertices;
  std::vector<unsigned> triangles;
  unsigned unit = 0;
};

ReadBack read_back(std::string bytes) {
  using namespace NMR;
  ReadBack found;
  PLib3MFModel* model = nullptr;
  PLib3MFModelReader* reader = nullptr;
  REQUIRE(lib3mf_createmodel(&model) == 0);
  REQUIRE(lib3mf_model_queryreader(model, "3mf", &reader) == 0);
  REQUIRE(lib3mf_reader_readfrombuffer(reader, reinterpret_cast<BYTE*>(bytes.data()), bytes.size()) == 0);
  DWORD warnings = 0;
  REQUIRE(lib3mf_reader_getwarningcount(reader, &warnings) == 0);
  CHECK(warnings == 0);
  DWORD unit = 0;
  REQUIRE(lib3mf_model_getunit(model, &unit) == 0);
  found.unit = unit;
  PLib3MFModelResourceIterator* objects = nullptr;
  REQUIRE(lib3mf_model_getmeshobjects(model, &objects) == 0);
  BOOL more = false;
  while (lib3mf_resourceiterator_movenext(objects, &more) == 0 && more) {
    PLib3MFModelResource* object = nullptr;
    REQUIRE(lib3mf_resourceiterator_getcurrent(objects, &object) == 0);
    char name[256];
    ULONG needed = 0;
    REQUIRE(lib3mf_object_getnameutf8(object, name, sizeof name, &needed) == 0);
    DWORD vertices = 0;
    DWORD triangles = 0;
    REQUIRE(lib3mf_meshobject_getvertexcount(object, &vertices) == 0);
    REQUIRE(lib3mf_meshobject_gettrianglecount(object, &triangles) == 0);
    found.names.emplace_back(name);
    found.vertices.push_back(vertices);
    found.triangles.push_back(triangles);
    lib3mf_release(object);
  }
  lib3mf_release(objects);
  lib3mf_release(reader);
  lib3mf_release(model);
  return found;
}

std::string python_says(const std::string& bytes) {
  test::need_program("python3", "python3");
  const test::TemporaryFolder folder;
  test::write_file(folder.file("parts.3mf"), bytes);
  const test::Ran ran = test::run(std::string("python3 '") + CULMWRIGHT_SOURCE_DIR +
                                  "/tests/exporters/read_3mf.py' '" + folder.file("parts.3mf") + "'");
  INFO(ran.output);
  CHECK(ran.code == 0);
  return ran.output;
}

}  // namespace

TEST_CASE("the library that writes 3MF reads the parts back with names, sizes and unit") {
  const ReadBack found = read_back(bytes_3mf(two_parts()));
  CHECK(found.unit == NMR::MODELUNIT_MILLIMETER);
  CHECK(found.names == std::vector<std::string>{"guide 1", "key cup L3 – Deckel"});
  CHECK(found.vertices == std::vector<unsigned>{8, 8});
  CHECK(found.triangles == std::vector<unsigned>{12, 12});
}

TEST_CASE("a zip and XML reader finds in 3MF what the Core specification asks for, and no clock") {
  const std::string text = python_says(bytes_3mf(two_parts()));
  std::istringstream lines(text);
  std::string line;
  std::getline(lines, line);
  CHECK(line == "millimeter");
  std::getline(lines, line);
  CHECK(line == "guide 1|8|12|0|6000.000");
  std::getline(lines, line);
  CHECK(line == "key cup L3 – Deckel|8|12|0|6.000");
  std::getline(lines, line);
  CHECK(line.rfind("dates [(1980, 0, 0, 0, 0, 0)]", 0) == 0);
}

TEST_CASE("the same parts make the same 3MF bytes; other names or shapes make other identifiers") {
  const std::string once = bytes_3mf(two_parts());
  CHECK(once == bytes_3mf(two_parts()));
  auto renamed = two_parts();
  renamed[0].name = "guide 2";
  CHECK(once != bytes_3mf(renamed));
  const std::vector<NamedMesh> twins{{"cup", samples::box(1, 2, 3)}, {"cup", samples::box(1, 2, 3)}};
  CHECK(read_back(bytes_3mf(twins)).names.size() == 2);
}

TEST_CASE("an open mesh and an inside-out one never become 3MF") {
  Mesh open = samples::box(1, 2, 3);
  open.triangles.pop_back();
  CHECK_THROWS_AS(bytes_3mf({{"open", open}}), GeometryError);
  Mesh turned = samples::box(1, 2, 3);
  std::swap(turned.triangles[3][0], turned.triangles[3][1]);
  CHECK_THROWS_AS(bytes_3mf({{"one facet turned over", turned}}), GeometryError);
}
