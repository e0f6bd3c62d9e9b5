#include <algorithm>
#include <filesystem>
#include <iostream>

#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/pages.hpp"
#include "command/parts.hpp"
#include "command/survey_text.hpp"
#include "command/terminal.hpp"
#include "files/output_folder.hpp"
#include "paper/survey_picture.hpp"

namespace culmwright::command {

namespace {

struct Options : FileOptions {
  bool json = false;
  bool plates = false;
};

namespace fs = std::filesystem;

void write_picture(const TubeFit& fit, const fs::path& out) {
  const Drawing drawing = survey_picture(fit.tube(), fit.survey());
  write_pages(out, drawing, fit.tube().id() + "-survey");
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

int run(const Options& options) {
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

}  // namespace

Command survey_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* survey = add_command(app, *options, "survey", "What the measurements of a tube say",
                                 "culmwright survey tube.json --out my-piece");
  survey->add_flag("--json", options->json, "for programs");
  survey->add_flag("--plates", options->plates, "with --out: also survey plates to print, sized to the tube");
  return {survey, [options] { return run(*options); }};
}

}  // namespace culmwright::command
