#include "step_writing.hpp"

#include <APIHeaderSection_MakeHeader.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_PrinterOStream.hxx>
#include <STEPControl_Controller.hxx>
#include <StepData_Protocol.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_StepWriter.hxx>
#include <TCollection_HAsciiString.hxx>
#include <XSControl_WorkSession.hxx>
#include <sstream>

#include "base/problem.hpp"

namespace culmwright::step_writing {

namespace {

/// A fixed moment: the same input must give the same bytes.
constexpr const char* time_stamp = "2000-01-01T00:00:00";

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

Handle(TCollection_HAsciiString) ascii(const std::string& text) {
  return new TCollection_HAsciiString(text.c_str());
}

std::string plain(const std::string& name) {
  std::string text;
  for (const char c : name) text.push_back(c >= ' ' && c <= '~' && c != '\'' && c != '\\' ? c : '-');
  return text;
}

void name_product(const Handle(StepBasic_Product) & product, const std::string& name) {
  product->SetId(ascii(name));
  product->SetName(ascii(name));
}

void set_up(const std::string& name, bool assembly) {
  STEPControl_Controller::Init();
  Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_PrinterOStream));  // the terminal is ours
  Interface_Static::SetCVal("write.step.schema", "AP214IS");
  Interface_Static::SetCVal("write.step.unit", "MM");
  Interface_Static::SetIVal("write.step.assembly", assembly ? 1 : 0);
  Interface_Static::SetIVal("write.surfacecurve.mode", 0);
  Interface_Static::SetCVal("write.step.product.name", name.c_str());
}

std::string text_of(const STEPControl_Writer& writer, const std::string& part_name, const std::string& name) {
  const Handle(StepData_StepModel) model = Handle(StepData_StepModel)::DownCast(writer.WS()->Model());
  write_header(model, name);
  StepData_StepWriter text(model);
  text.SendModel(Handle(StepData_Protocol)::DownCast(writer.WS()->Protocol()));
  std::ostringstream out;
  if (!text.Print(out)) throw GeometryError(part_name, "STEP", "the text could not be written");
  return out.str();
}

}  // namespace culmwright::step_writing
