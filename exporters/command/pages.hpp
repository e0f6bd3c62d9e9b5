#pragma once
/// The files of a drawing.
#include <filesystem>
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "files/output_folder.hpp"

namespace culmwright::command {

/// Adds "stem.svg", or "stem-sheet-1.svg" and so on where there are several pages, and "stem.pdf" with all of
/// them. Returns their names, the PDF last.
std::vector<std::string> add_pages(OutputFolder& folder, const Drawing& drawing, const std::string& stem);
/// The same into a folder that keeps a manifest, file by file.
std::vector<std::string> write_pages(const std::filesystem::path& folder, const Drawing& drawing,
                                     const std::string& stem);

}  // namespace culmwright::command
