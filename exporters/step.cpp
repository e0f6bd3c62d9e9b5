#include "step.hpp"

#include <StepData_StepModel.hxx>
#include <StepShape_ManifoldSolidBrep.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TopoDS_Shape.hxx>

#include "solid/guarded.hpp"
#include "step_writing.hpp"

namespace culmwright {

namespace {

void name_everything(const Handle(StepData_StepModel) & model, const std::string& name) {
  for (int i = 1; i <= model->NbEntities(); ++i) {
    const Handle(Standard_Transient) entity = model->Value(i);
    const Handle(StepBasic_Product) product = Handle(StepBasic_Product)::DownCast(entity);
    const Handle(StepShape_ManifoldSolidBrep) solid = Handle(StepShape_ManifoldSolidBrep)::DownCast(entity);
    if (!product.IsNull()) step_writing::name_product(product, name);
    if (!solid.IsNull()) solid->SetName(step_writing::ascii(name));
  }
}

}  // namespace

std::string step_text(const Solid& solid, const std::string& part_name) {
  return guarded(part_name, "STEP", [&] {
    const std::string name = step_writing::plain(part_name);
    step_writing::set_up(name, false);
    STEPControl_Writer writer;
    if (writer.Transfer(solid.occt_shape(), STEPControl_ManifoldSolidBrep) != IFSelect_RetDone) {
      throw GeometryError(part_name, "STEP", "the solid could not be translated");
    }
    name_everything(writer.Model(), name);
    return step_writing::text_of(writer, part_name, name);
  });
}

}  // namespace culmwright
