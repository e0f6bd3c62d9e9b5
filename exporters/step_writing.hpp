#pragma once
/// What STEP files of one part and of assemblies share: the kernel's settings, names, header and text. For
/// exporters/step*.cpp.
#include <STEPControl_Writer.hxx>
#include <StepBasic_Product.hxx>
#include <string>

namespace culmwright::step_writing {

/// Printable ASCII without ' and \; every other byte becomes '-'.
std::string plain(const std::string& name);
Handle(TCollection_HAsciiString) ascii(const std::string& text);
/// The kernel numbers its products for as long as the process lives; here each is called by its name alone.
void name_product(const Handle(StepBasic_Product) & product, const std::string& name);
/// The kernel's settings are global to the process. `assembly`: compounds become assemblies.
void set_up(const std::string& name, bool assembly);
/// With a fixed time in its header: the same model gives the same bytes. Throws GeometryError.
std::string text_of(const STEPControl_Writer& writer, const std::string& part_name, const std::string& name);

}  // namespace culmwright::step_writing
