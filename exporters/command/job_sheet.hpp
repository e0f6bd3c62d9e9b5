#pragma once
/// The bench sheet of a job, and the index sheet of a workshop: brought together from what was planned and
/// made, and turned into their files.
#include <string>
#include <vector>

#include "command/gather.hpp"
#include "command/printed.hpp"
#include "command/tolerance_text.hpp"
#include "files/output_folder.hpp"
#include "plan/guide_plan.hpp"
#include "plan/interference.hpp"
#include "sheet/sheet_document.hpp"

namespace culmwright::command {

/// What is known of a job beside its documents.
struct SheetMakings {
  const JobTolerance& tolerance;
  const std::vector<GuidePlan>& guides;  ///< in the order of drilling
  std::string no_guides;                 ///< why there are none; empty where nothing is left to guide
  const std::vector<MadePart>& parts;    ///< those to print are listed, refused ones by name
  std::string no_parts;                  ///< why none were made
  const std::vector<Clearance>& near;
  std::vector<SheetPicture> views;
};

/// With what the program would propose beside it, where nothing is drilled yet.
SheetDocument job_sheet(const Job& job, const Shop& shop, const SheetMakings& makings);

/// Width of the column that a sheet's pictures stand in, on the shop's paper.
double sheet_column(const Shop& shop);

/// "STEM.html" and "STEM.pdf". Throws GeometryError where something does not fit the paper.
struct SheetFiles {
  std::string html;
  std::string pdf;
};
SheetFiles sheet_files(const SheetDocument& document, const Shop& shop);

}  // namespace culmwright::command
