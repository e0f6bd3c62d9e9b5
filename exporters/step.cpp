#include "step.hpp"

#include <APIHeaderSection_MakeHeader.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_PrinterOStream.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Writer.hxx>
#include <StepBasic_Product.hxx>
#include <StepData_Protocol.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_StepWriter.hxx>
#include <StepShape_ManifoldSolidBrep.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TopoDS_Shape.hxx>
#include <XSControl_WorkSession.hxx>
#include <sstream>

#include "solid/guarded.hpp"

namespace culmwright {

namespace {

/// A fixed moment: the same input must give the same bytes.
constexpr const char* time_stamp = "2000-01-01T00:00:00";

Handle(TCollection_HAsciiString) ascii(const std::string& text) {
  return new TCollection_HAsciiString(text.c_str());
}

std::string plain(const std::string& name) {
  std::string text;
  for (const char c : name) text.push_back(c >= ' ' && c <= '~' && c != '\'' && c != '\\' ? c : '-');
  return text;
}

/// The kernel's settings are global to the process; this is the one file that sets those of STEP.
void set_up(const std::string& name) {
  STEPControl_Controller::Init();
  Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_PrinterOStream));  // the terminal is ours
  Interface_Static::SetCVal("write.step.schema", "AP214IS");
  Interface_Static::SetCVal("write.step.unit", "MM");
  Interface_Static::SetIVal("write.surfacecurve.mode", 0);
  Interface_Static::SetCVal("write.step.product.name", name.c_str());
}

/// The kernel numbers its products for as long as the process lives; here each is called by its name alone.
void name_product(const Handle(StepData_StepModel) & model, const std::string& name) {
  for (int i = 1; i <= model->NbEntities(); ++i) {
    const Handle(Standard_Transient) entity = model->Value(i);
    const Handle(StepBasic_Product) product = Handle(StepBasic_Product)::DownCast(entity);
    const Handle(StepShape_ManifoldSolidBrep) solid = Handle(StepShape_ManifoldSolidBrep)::DownCast(entity);
    if (!product.IsNull()) {
      product->SetId(ascii(name));
      product->SetName(ascii(name));
    }
    if (!solid.IsNull()) solid->SetName(ascii(name));
  }
}

void write_header(const Handle(StepData_StepModel) & model, const std::string& name) {
  APIHeaderSection_MakeHeader header(model);
  header.SetName(ascii(name + ".step"));
  header.SetTimeStamp(ascii(time_stamp));
  header.SetAuthorValue(1, ascii(""));
  header.SetOrganizationValue(1, ascii(""));
  header.SetPreprocessorVersion(ascii("culmwright"));
  header.SetOriginatingSystem(ascii("culmwright"));
  header.SetAuthorisation(ascii(""));
  header.SetDescriptionValue(1, ascii(name));
  header.Apply(model);
}

}  // namespace

std::string step_text(const Solid& solid, const std::string& part_name) {
  return guarded(part_name, "STEP", [&] {
    const std::string name = plain(part_name);
    set_up(name);
    STEPControl_Writer writer;
    if (writer.Transfer(solid.occt_shape(), STEPControl_ManifoldSolidBrep) != IFSelect_RetDone) {
      throw GeometryError(part_name, "STEP", "the solid could not be translated");
    }
    const Handle(StepData_StepModel) model = writer.Model();
    name_product(model, name);
    write_header(model, name);
    StepData_StepWriter text(model);
    text.SendModel(Handle(StepData_Protocol)::DownCast(writer.WS()->Protocol()));
    std::ostringstream out;
    if (!text.Print(out)) throw GeometryError(part_name, "STEP", "the text could not be written");
    return out.str();
  });
}

}  // namespace culmwright
