#include "step_assembly.hpp"

#include <BRep_Builder.hxx>
#include <StepBasic_ProductDefinition.hxx>
#include <StepBasic_ProductDefinitionFormation.hxx>
#include <StepData_StepModel.hxx>
#include <StepRepr_NextAssemblyUsageOccurrence.hxx>
#include <StepShape_ManifoldSolidBrep.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS_Compound.hxx>
#include <gp_Trsf.hxx>

#include "solid/guarded.hpp"
#include "step_writing.hpp"

namespace culmwright {

namespace {

using step_writing::ascii;
using step_writing::plain;

TopLoc_Location location_of(const RigidMotion& place) {
  gp_Trsf motion;
  motion.SetValues(place.x.x, place.y.x, place.z.x, place.origin.x,  //
                   place.x.y, place.y.y, place.z.y, place.origin.y,  //
                   place.x.z, place.y.z, place.z.z, place.origin.z);
  return TopLoc_Location(motion);
}

TopoDS_Compound compound_of(const std::vector<AssemblyPart>& parts) {
  BRep_Builder builder;
  TopoDS_Compound all;
  builder.MakeCompound(all);
  for (const AssemblyPart& part : parts) {
    builder.Add(all, part.solid.occt_shape().Moved(location_of(part.place)));
  }
  return all;
}

using Occurrence = Handle(StepRepr_NextAssemblyUsageOccurrence);
using Brep = Handle(StepShape_ManifoldSolidBrep);

/// Occurrences and solids come in the order of the parts; every name is set from there.
void name_everything(const Handle(StepData_StepModel) & model, const std::vector<AssemblyPart>& parts,
                     const std::string& name) {
  std::vector<Occurrence> occurrences;
  std::vector<Brep> solids;
  for (int i = 1; i <= model->NbEntities(); ++i) {
    const Handle(Standard_Transient) entity = model->Value(i);
    const Occurrence occurrence = Occurrence::DownCast(entity);
    const Brep solid = Brep::DownCast(entity);
    if (!occurrence.IsNull()) occurrences.push_back(occurrence);
    if (!solid.IsNull()) solids.push_back(solid);
  }
  if (occurrences.size() != parts.size() || solids.size() != parts.size()) {
    throw GeometryError(name, "STEP",
                        std::to_string(occurrences.size()) + " occurrences and " +
                            std::to_string(solids.size()) + " solids of " + std::to_string(parts.size()) +
                            " parts");
  }
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const std::string part = plain(parts[i].name);
    step_writing::name_product(occurrences[i]->RelatedProductDefinition()->Formation()->OfProduct(), part);
    step_writing::name_product(occurrences[i]->RelatingProductDefinition()->Formation()->OfProduct(),
                               plain(name));
    // The kernel's own number of an occurrence counts on for as long as the process lives.
    occurrences[i]->SetId(ascii(std::to_string(i + 1)));
    occurrences[i]->SetName(ascii(part));
    solids[i]->SetName(ascii(part));
  }
}

}  // namespace

std::string step_assembly_text(const std::vector<AssemblyPart>& parts, const std::string& name) {
  require(!parts.empty(), "an assembly of no parts was to be written");
  return guarded(name, "STEP of the assembly", [&] {
    step_writing::set_up(plain(name), true);
    STEPControl_Writer writer;
    if (writer.Transfer(compound_of(parts), STEPControl_AsIs) != IFSelect_RetDone) {
      throw GeometryError(name, "STEP of the assembly", "the solids could not be translated");
    }
    name_everything(writer.Model(), parts, name);
    return step_writing::text_of(writer, name, plain(name));
  });
}

}  // namespace culmwright
