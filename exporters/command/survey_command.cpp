#include <algorithm>
#include <filesystem>
#include <iostream>

#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/parts.hpp"
#include "command/survey_text.hpp"
#include "command/terminal.hpp"
#include "files/output_folder.hpp"
#include "paper/survey_picture.hpp"
#include "svg.hpp"

namespace culmwright::command {

namespace {

namespace fs = std::filesystem;

void write_picture(const TubeFit& fit, const fs::path& out) {
  const Drawing drawing = survey_picture(fit.tube(), fit.survey());
  write_output_file(out / (fit.tube().id() + "-survey.svg"), to_svg(drawing.pages.front()));
}

/// Both plates or none. Returns whether they were made.
bool write_plates(const TubeFit& fit, const fs::path& out, std::ostream& said) {
  const std::vector<MadePart> plates = make_plates(fit);
  for (const MadePart& plate : plates) {
    if (plate.refused) std::cerr << "refused: " << *plate.refused << "\n";
  }
  if (std::any_of(plates.begin(), plates.end(),
                  [](const MadePart& plate) { return plate.refused.has_value(); })) {
    return false;
  }
  for (const MadePart& plate : plates) {
    write_output_file(out / (plate.stem + ".stl"), plate.stl);
    write_output_file(out / (plate.stem + ".step"), plate.step);
  }
  said << wrapped("Survey plates " + number(plates.front().record.items()[0].number(), 1) +
                      " across flats: " + plates[0].stem + ".stl and " + plates[1].stem + ".stl.",
                  2);
  return true;
}

}  // namespace

int run_survey(const Options& options) {
  const Documents documents = gather(options.files);
  if (documents.tubes.empty()) {
    throw InputError(
        {{"nothing-to-survey", {}, "no tube document", "at least one", "Start from templates/tube.json"}});
  }
  if (options.plates && options.out.empty()) {
    throw InputError({{"no-folder", {}, "--plates without --out", "a folder to write the plates into", ""}});
  }
  JsonValue list = JsonValue::array();
  bool refused = false;
  for (const Loaded<Survey>& tube : documents.tubes) {
    const TubeFit fit = fit_of(tube);
    const SurveyReport report = report_on(fit);
    if (options.json) {
      list.push(survey_json(fit, report));
    } else {
      std::cout << survey_text(fit, report) << "\n";
    }
    if (!options.out.empty()) write_picture(fit, options.out);
    if (options.plates)
      refused = !write_plates(fit, options.out, options.json ? std::cerr : std::cout) || refused;
  }
  if (options.json) std::cout << to_text(list);
  return refused ? solid_refused : done;
}

}  // namespace culmwright::command
