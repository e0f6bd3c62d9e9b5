#include "command/pages.hpp"

#include <functional>

#include "pdf.hpp"
#include "svg.hpp"

namespace culmwright::command {

namespace {

using Write = std::function<void(const std::string& name, const std::string& bytes)>;

std::vector<std::string> each_file(const Drawing& drawing, const std::string& stem, const Write& write) {
  std::vector<std::string> names;
  for (std::size_t i = 0; i < drawing.pages.size(); ++i) {
    const std::string sheet = drawing.pages.size() == 1 ? "" : "-sheet-" + std::to_string(i + 1);
    names.push_back(stem + sheet + ".svg");
    write(names.back(), to_svg(drawing.pages[i]));
  }
  names.push_back(stem + ".pdf");
  write(names.back(), to_pdf(drawing));
  return names;
}

}  // namespace

std::vector<std::string> add_pages(OutputFolder& folder, const Drawing& drawing, const std::string& stem) {
  return each_file(drawing, stem,
                   [&](const std::string& name, const std::string& bytes) { folder.add(name, bytes); });
}

std::vector<std::string> write_pages(const std::filesystem::path& folder, const Drawing& drawing,
                                     const std::string& stem) {
  return each_file(drawing, stem, [&](const std::string& name, const std::string& bytes) {
    write_output_file(folder / name, bytes);
  });
}

}  // namespace culmwright::command
