#include <algorithm>
#include <filesystem>
#include <iostream>

#include "command/collars.hpp"
#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/pages.hpp"
#include "command/parts.hpp"
#include "command/survey_ask.hpp"
#include "command/survey_text.hpp"
#include "command/terminal.hpp"
#include "files/output_folder.hpp"
#include "files/survey_draft.hpp"
#include "paper/plate_sheet.hpp"
#include "paper/survey_form.hpp"
#include "paper/survey_picture.hpp"

namespace culmwright::command {

namespace {

struct Options : FileOptions {
  bool json = false;
  bool plates = false;
  bool form = false;
  bool ask = false;
  std::vector<double> collars;
  std::string paper;
  std::string units = "mm";
};

namespace fs = std::filesystem;

/// The size that was asked for, else the shop's.
PaperSize paper_of(const Options& options, const Documents& documents) {
  if (options.paper == "a4") return PaperSize::a4;
  if (options.paper == "letter") return PaperSize::letter;
  return documents.shop_or_default().paper.size;
}

void write_picture(const TubeFit& fit, PaperSize paper, const fs::path& out) {
  const Drawing drawing = survey_picture(fit.tube(), fit.survey(), paper);
  write_pages(out, drawing, fit.tube().id() + "-survey");
}

void write_part(const MadePart& part, const fs::path& out) {
  write_output_file(out / (part.stem + ".stl"), part.stl);
  write_output_file(out / (part.stem + ".3mf"), part.three_mf);
  write_output_file(out / (part.stem + ".step"), part.step);
}

/// Both plates, with how they are used, or none. Returns whether they were made.
bool write_plates(const TubeFit& fit, PaperSize paper, const fs::path& out, std::ostream& said) {
  const std::vector<MadePart> plates = make_plates(fit);
  for (const MadePart& plate : plates) {
    if (plate.refused) std::cerr << "refused: " << *plate.refused << "\n";
  }
  if (std::any_of(plates.begin(), plates.end(),
                  [](const MadePart& plate) { return plate.refused.has_value(); })) {
    return false;
  }
  for (const MadePart& plate : plates) {
    write_part(plate, out);
  }
  const double across = plates.front().record.items()[0].number();
  const int flats = static_cast<int>(plates.front().record.items()[1].number());
  write_pages(out, plate_instructions(fit.tube().id(), flats, across, paper),
              fit.tube().id() + "-plates-use");
  said << wrapped("Survey plates " + number(across, 1) + " across flats: " + plates[0].stem + ".stl and " +
                      plates[1].stem + ".stl.",
                  2);
  return true;
}

fs::path folder_for(const Options& options, const char* what) {
  if (!options.out.empty()) return options.out;
  throw InputError({{"no-folder", {}, std::string(what) + " without --out", "a folder to write into", ""}});
}

/// The form, blank, or with what the documents say already.
int write_forms(const Options& options) {
  const fs::path out = folder_for(options, "--form");
  Documents others;
  std::vector<Survey> surveys;
  for (const std::string& file : options.files) {
    if (kind_of_file(file) == DocumentKind::tube) {
      surveys.push_back(read_tube_draft(file).value);
    } else {
      const Documents more = gather({file});
      for (const Loaded<Survey>& tube : more.tubes) surveys.push_back(tube.value);
      if (more.shop) others.shop = more.shop;
    }
  }
  const PaperSize paper = paper_of(options, others);
  if (surveys.empty()) {
    for (const std::string& name : write_pages(out, survey_form(paper), "survey-form")) {
      std::cout << (out / name).string() << "\n";
    }
  }
  for (const Survey& survey : surveys) {
    const std::string stem = (survey.id.empty() ? "" : file_name(survey.id) + "-") + "survey-form";
    for (const std::string& name : write_pages(out, survey_form(paper, &survey), stem)) {
      std::cout << (out / name).string() << "\n";
    }
  }
  return done;
}

/// The survey by prompts, then what it says.
int ask(const Options& options) {
  const fs::path out = folder_for(options, "--ask");
  if (options.files.size() > 1) {
    throw InputError(
        {{"one-at-a-time", {}, "--ask with several documents", "one tube document, or none", ""}});
  }
  std::optional<Survey> resumed;
  if (!options.files.empty()) resumed = read_tube_draft(options.files.front()).value;
  const LengthUnit unit = options.units == "inch" ? LengthUnit::inch : LengthUnit::mm;
  const Asked asked = ask_survey(std::cin, std::cout, out, unit, resumed);
  if (asked.file.empty()) {
    std::cout << "Nothing was written.\n";
    return done;
  }
  const std::string again = "culmwright survey --ask --out " + out.string() + " " + asked.file.string();
  if (!asked.complete) {
    std::cout << "\nKept, half done, in " << asked.file.string() << ". Go on with\n  " << again << "\n";
    return done;
  }
  const Loaded<Survey> tube = read_tube(asked.file);
  std::cout << "\nThe survey stands in " << asked.file.string() << ". Add to it with\n  " << again << "\n\n";
  const TubeFit fit = fit_of(tube);
  std::cout << survey_text(fit, report_on(fit)) << "\n";
  return done;
}

/// A collar for each cut asked for. Returns whether all were made.
bool write_collars(const Options& options, const TubeFit& fit, std::ostream& said) {
  const Tube& tube = fit.tube();
  bool all = true;
  for (const double at : options.collars) {
    if (at < tube.end_a_at() || at > tube.end_b_at()) {
      throw InputError(
          {{"outside",
            {},
            "a saw collar at " + number(at, 1),
            "a place on the tube, from " + number(tube.end_a_at(), 1) + " to " + number(tube.end_b_at(), 1),
            "Places along the tube count from the datum mark toward end B"}});
    }
    const bool nearer_a = at - tube.end_a_at() <= tube.end_b_at() - at;
    MadePart part;
    part.name = "saw collar at " + number(at, 1);
    part.stem = tube.id() + "-collar-" + number(at, 1);
    const SawCut cut{at, nearer_a ? End::b : End::a};
    guard_part(part, [&](MadePart& made) { make_collar(tube, cut, tube.id() + " " + made.name, made); });
    if (part.refused) {
      std::cerr << "refused: " << *part.refused << "\n";
      all = false;
      continue;
    }
    write_part(part, options.out);
    said << wrapped("Saw collar: " + part.stem + ".stl. It stands on the longer part, which stays.", 2);
    for (const JsonValue& note : part.record.items().back().items()) said << wrapped(note.text() + ".", 4);
  }
  return all;
}

int report(const Options& options) {
  const Documents documents = gather(options.files);
  if (documents.tubes.empty()) {
    throw InputError({{"nothing-to-survey",
                       {},
                       "no tube document",
                       "at least one",
                       "Start with \"culmwright survey --ask --out FOLDER\", a printed form (--form), or "
                       "templates/tube.json"}});
  }
  if (options.plates) folder_for(options, "--plates");
  if (!options.collars.empty()) folder_for(options, "--collar");
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
    if (!options.out.empty()) write_picture(fit, paper_of(options, documents), options.out);
    if (options.plates)
      refused = !write_plates(fit, paper_of(options, documents), options.out,
                              options.json ? std::cerr : std::cout) ||
                refused;
    if (!options.collars.empty())
      refused = !write_collars(options, fit, options.json ? std::cerr : std::cout) || refused;
  }
  if (options.json) std::cout << to_text(list);
  return refused ? solid_refused : done;
}

int run(const Options& options) {
  if (options.form) return write_forms(options);
  if (options.ask) return ask(options);
  return report(options);
}

}  // namespace

Command survey_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* survey = add_command(app, *options, "survey", "What the measurements of a tube say",
                                 "culmwright survey tube.json --out my-piece");
  survey->get_option("FILES")->required(false);
  survey->add_flag("--json", options->json, "for programs");
  CLI::Option* form = survey->add_flag(
      "--form", options->form, "with --out: a form to print and write on, blank or for the tube given");
  survey
      ->add_flag("--ask", options->ask,
                 "with --out: ask for one reading at a time; goes on with the tube given")
      ->excludes(form);
  survey->add_option("--paper", options->paper, "of form and picture; the shop's otherwise")
      ->check(CLI::IsMember({"a4", "letter"}, CLI::ignore_case));
  survey->add_option("--units", options->units, "with --ask: of numbers typed without a unit")
      ->check(CLI::IsMember({"mm", "inch"}));
  survey
      ->add_option("--collar", options->collars, "with --out: a saw collar to print for a cut at this place")
      ->type_name("AT");
  survey->add_flag("--plates", options->plates, "with --out: also survey plates to print, sized to the tube");
  return {survey, [options] { return run(*options); }};
}

}  // namespace culmwright::command
