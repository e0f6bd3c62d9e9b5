#include "step_assembly.hpp"

#include <catch2/catch.hpp>

#include "solid/part21.hpp"
#include "solid/plate_solid.hpp"

using namespace culmwright;

namespace {

Solid plate(double widest) {
  GateLog log;
  return plate_solid(plan_plates(widest, widest).front(), log);
}

RigidMotion turned(double degrees, Vec3 to) {
  const Angle by = Angle::from_degrees(degrees);
  return {{by.cos(), by.sin(), 0}, {-by.sin(), by.cos(), 0}, {0, 0, 1}, to};
}

std::vector<AssemblyPart> parts() {
  return {{"tube culm-07", plate(60), RigidMotion{}},
          {"key cup L1", plate(30), turned(90, {10, 20, -130})},
          {"thumb rest", plate(30), turned(-37.5, {-4, 0.5, -210})}};
}

/// An AXIS2_PLACEMENT_3D as the motion that carries the standard frame into it.
RigidMotion placement(const part21::File& file, int id) {
  const part21::Record& record = file.record(id);
  REQUIRE(record.type == "AXIS2_PLACEMENT_3D");
  const Vec3 z = unit(file.point(record.parameters.at(2).reference));
  Vec3 x = file.point(record.parameters.at(3).reference);
  x = unit(x - z * dot(x, z));
  return {x, cross(z, x), z, file.point(record.parameters.at(1).reference)};
}

/// An occurrence read from the text alone: its name, that of its product and of the product above, its place.
struct Occurrence {
  std::string name;
  std::string product;
  std::string in;
  RigidMotion place;
};

std::string product_of(const part21::File& file, int definition) {
  const int formation = file.record(definition).parameters.at(2).reference;
  const int product = file.record(formation).parameters.at(2).reference;
  REQUIRE(file.record(product).type == "PRODUCT");
  return file.record(product).parameters.at(1).text;
}

/// The transformation that belongs to an occurrence, by way of its shape's definition.
RigidMotion place_of(const part21::File& file, int occurrence) {
  for (const int id : file.of_type("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION")) {
    const part21::Record& shape = file.record(id);
    const int definition = shape.parameters.at(1).reference;
    if (file.record(definition).parameters.at(2).reference != occurrence) continue;
    for (const part21::Record& record : file[shape.parameters.at(0).reference]) {
      if (record.type != "REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION") continue;
      const part21::Record& transformation = file.record(record.parameters.at(0).reference);
      REQUIRE(transformation.type == "ITEM_DEFINED_TRANSFORMATION");
      const RigidMotion from = placement(file, transformation.parameters.at(2).reference);
      const RigidMotion to = placement(file, transformation.parameters.at(3).reference);
      return to.after(from.inverse());
    }
  }
  FAIL("an occurrence without a place");
  return {};
}

std::vector<Occurrence> occurrences(const part21::File& file) {
  std::vector<Occurrence> all;
  for (const int id : file.of_type("NEXT_ASSEMBLY_USAGE_OCCURRENCE")) {
    const part21::Record& record = file.record(id);
    all.push_back({record.parameters.at(1).text, product_of(file, record.parameters.at(4).reference),
                   product_of(file, record.parameters.at(3).reference), place_of(file, id)});
  }
  return all;
}

}  // namespace

TEST_CASE("an assembly read back has every part once, by its name and in its place") {
  const std::string text = step_assembly_text(parts(), "culm-07 rev 2");
  const part21::File file(text);
  CHECK(file.of_type("PRODUCT").size() == 4);
  CHECK(file.of_type("MANIFOLD_SOLID_BREP").size() == 3);
  const std::vector<Occurrence> found = occurrences(file);
  REQUIRE(found.size() == 3);
  for (std::size_t i = 0; i < found.size(); ++i) {
    const AssemblyPart part = parts()[i];
    INFO(part.name);
    CHECK(found[i].name == part.name);
    CHECK(found[i].product == part.name);
    CHECK(found[i].in == "culm-07 rev 2");
    for (const Vec3 p : {Vec3{0, 0, 0}, Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0, 1}}) {
      CHECK(length(found[i].place.apply(p) - part.place.apply(p)) < 1e-9);
    }
  }
  CHECK(text.find("COLOUR") == std::string::npos);
  CHECK(text.find("'2000-01-01T00:00:00'") != std::string::npos);
}

TEST_CASE("each solid of an assembly stays in its own frame, under its product") {
  const part21::File file(step_assembly_text(parts(), "culm-07"));
  std::vector<std::string> names;
  for (const int id : file.of_type("MANIFOLD_SOLID_BREP"))
    names.push_back(file.record(id).parameters.at(0).text);
  CHECK(names == std::vector<std::string>{"tube culm-07", "key cup L1", "thumb rest"});
  // The plates lie on z = 0 in their own frames; a placed copy would have points below.
  for (const int id : file.of_type("VERTEX_POINT")) {
    CHECK(file.point(file.record(id).parameters.at(1).reference).z >= -1e-9);
  }
}

TEST_CASE("the same assembly gives the same bytes, also later in the same process") {
  const std::string once = step_assembly_text(parts(), "culm-07");
  step_assembly_text({parts()[0], parts()[2]}, "another");
  CHECK(step_assembly_text(parts(), "culm-07") == once);
}
