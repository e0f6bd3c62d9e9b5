#include <algorithm>
#include <filesystem>
#include <iostream>

#include "base/words.hpp"
#include "command/check_text.hpp"
#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/placement_file.hpp"
#include "command/remeasure_text.hpp"
#include "command/terminal.hpp"
#include "files/output_folder.hpp"
#include "fit/assemble.hpp"
#include "fit/remeasure_marks.hpp"
#include "fit/shift.hpp"

namespace culmwright::command {

namespace {

struct Options : FileOptions {
  std::string tube;
  std::string date;
  std::vector<int> without;
  std::string units = "mm";
  bool json = false;
  std::string new_layout;
  std::string mouth_end = "A";
  double facing_deg = 0.0;
};

namespace fs = std::filesystem;

[[noreturn]] void refuse(const char* code, std::string found, std::string allowed, std::string advice) {
  throw InputError({{code, {}, std::move(found), std::move(allowed), std::move(advice)}});
}

bool is_table(const std::string& file) {
  std::string ending = fs::path(file).extension().string();
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](char c) { return static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c); });
  return ending == ".csv";
}

/// The documents, and the tables of readings and marks beside them.
Documents gather_all(const Options& options) {
  std::vector<std::string> documents;
  std::vector<std::string> tables;
  for (const std::string& file : options.files) (is_table(file) ? tables : documents).push_back(file);
  Documents all;
  Problems problems;
  const auto keep = [&](const InputError& error) {
    problems.insert(problems.end(), error.problems().begin(), error.problems().end());
  };
  try {
    all = gather(documents);
  } catch (const InputError& error) {
    keep(error);
  }
  for (const std::string& table : tables) {
    try {
      all.mock_ups.push_back(read_mock_up_table(table, options.units == "inch"));
    } catch (const InputError& error) {
      keep(error);
    }
  }
  if (!problems.empty()) throw InputError(std::move(problems));
  return all;
}

const Loaded<MeasuredMockUp>& only_mock_up(const Documents& documents) {
  if (documents.mock_ups.size() != 1) {
    refuse("one-mock-up", std::to_string(documents.mock_ups.size()) + " measured mock-ups among the files",
           "one mock-up, as a document or as a table",
           "Start from templates/mock_up.json or templates/mock_up_readings.csv");
  }
  return documents.mock_ups.front();
}

/// The one that the mock-up names, or the only one.
const Job& job_of(const std::vector<Job>& jobs, const Loaded<MeasuredMockUp>& mock_up) {
  const std::string& wanted = mock_up.value.placement_id;
  if (wanted.empty()) return only_job(jobs);
  std::vector<std::string> ids;
  for (const Job& job : jobs) {
    if (job.placement->value.id == wanted) return job;
    ids.push_back(job.placement->value.id);
  }
  Problem problem{"unknown-id",
                  {"", 0, 0, "/placement"},
                  "the placement \"" + wanted + "\", which is not among the files given",
                  ids.empty() ? "a placement document beside the mock-up" : "one of " + listed(ids),
                  ""};
  throw InputError(located({std::move(problem)}, mock_up.locations));
}

/// Problems of the mock-up get their lines in it.
Problems at_their_lines(const Problems& problems, const Locations& locations) {
  Problems all;
  for (Problem problem : problems) {
    if (problem.where.file == mock_up_document) {
      problem.where.file.clear();
      problem = located({problem}, locations).front();
    }
    all.push_back(std::move(problem));
  }
  return all;
}

template <class Measure>
auto with_lines(const Loaded<MeasuredMockUp>& mock_up, const Measure& measure) {
  try {
    return measure();
  } catch (const InputError& error) {
    throw InputError(at_their_lines(error.problems(), mock_up.locations));
  }
}

RemeasureOptions measuring(const Options& options, const Survey& survey) {
  RemeasureOptions how;
  how.date = options.date;
  how.without = options.without;
  how.tilt_a = survey.tilt_a;
  how.tilt_b = survey.tilt_b;
  return how;
}

/// What was measured, and the new placement against the rules.
int report(const Remeasured& remeasured, const TubeFit& fit, const KeyLayout& layout, bool json,
           const std::vector<std::string>& written) {
  const bool agree = remeasured.contradictions.empty();
  JsonValue out = remeasure_json(remeasured);
  std::string text = remeasure_text(remeasured);
  bool sound = agree;
  if (agree) {
    const Instrument instrument = assemble(fit.tube(), layout, remeasured.placement);
    const std::vector<Finding> findings = check(fit, layout, instrument);
    sound = acceptable(findings);
    const auto balance = balance_of(fit, layout, instrument);
    out.set("check", check_json(instrument, findings, balance));
    for (const std::string& file : written) text += "  Written: " + file + "\n";
    text += "\n" + check_text(instrument, findings, balance);
  }
  std::cout << (json ? to_text(out) : text);
  return sound ? done : rule_failed;
}

int measure_anew(const Options& options, const Documents& documents) {
  const Loaded<MeasuredMockUp>& mock_up = only_mock_up(documents);
  const std::vector<Job> jobs = jobs_of(documents, options.tube);
  const Job& job = job_of(jobs, mock_up);
  const KeyLayout& layout = job.key_layout->value;
  Remeasured remeasured = with_lines(mock_up, [&] {
    return remeasure(job.fit.tube(), layout, job.placement_now(), mock_up.value,
                     measuring(options, job.fit.survey()));
  });
  std::vector<std::string> written;
  if (remeasured.contradictions.empty()) {
    // What stood before is what the document says, not what was drilled since.
    remember(job.placement->value, remeasured.placement);
    written.push_back(write_changed(*job.placement, remeasured.placement, options.out));
  }
  return report(remeasured, job.fit, layout, options.json, written);
}

const Loaded<Survey>& only_tube(const Documents& documents, const Options& options) {
  std::vector<const Loaded<Survey>*> fit;
  for (const Loaded<Survey>& tube : documents.tubes) {
    if (options.tube.empty() || tube.value.id == options.tube) fit.push_back(&tube);
  }
  if (fit.size() != 1) {
    refuse("one-tube", std::to_string(fit.size()) + " tubes to make a key layout on",
           "the tube that the wrap lay on", "Name its file, or its id after --tube");
  }
  return *fit.front();
}

int first_layout(const Options& options, const Documents& documents) {
  const Loaded<MeasuredMockUp>& mock_up = only_mock_up(documents);
  if (options.out.empty()) {
    refuse("no-folder", "a new key layout without a folder to write it to", "--out and a folder", "");
  }
  for (const Loaded<KeyLayout>& layout : documents.key_layouts) {
    if (layout.value.id != options.new_layout) continue;
    refuse("same-id",
           "the new key layout " + options.new_layout + ", which " + layout.locations.file + " is called too",
           "an id of its own", "Or leave --new-layout out, and measure that key layout's placement");
  }
  const TubeFit fit = fit_of(only_tube(documents, options));
  FirstLayoutOptions how;
  how.layout_id = options.new_layout;
  how.date = options.date;
  how.mouth_end = options.mouth_end == "A" ? End::a : End::b;
  how.facing = Angle::from_degrees(options.facing_deg);
  how.remeasure = measuring(options, fit.survey());
  const FirstLayout first =
      with_lines(mock_up, [&] { return layout_from_marks(fit.tube(), mock_up.value, how); });
  std::vector<std::string> written;
  if (first.measured.contradictions.empty()) {
    const auto write = [&](const std::string& id, const std::string& text) {
      const fs::path file = fs::path(options.out) / (id + ".json");
      write_output_file(file, text);
      written.push_back(file.string());
    };
    const std::string layout = key_layout_to_json(first.layout);
    const std::string placement = placement_to_json(first.measured.placement);
    // Throw: nothing is written that could not be read again.
    read_key_layout_text(layout, "the new key layout");
    read_placement_text(placement, "the new placement");
    write(first.layout.id, layout);
    write(first.measured.placement.id, placement);
  }
  return report(first.measured, fit, first.layout, options.json, written);
}

int run(const Options& options) {
  const Documents documents = gather_all(options);
  return options.new_layout.empty() ? measure_anew(options, documents) : first_layout(options, documents);
}

}  // namespace

Command remeasure_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* remeasure =
      add_command(app, *options, "remeasure", "Places measured on the mock-up become a new revision",
                  "culmwright remeasure tube.json layout.json placement.json mock_up.json\n"
                  "  culmwright remeasure tube.json finger_marks.csv --new-layout mine --out mine");
  remeasure->add_option("--without", options->without,
                        "leave out the reading of this number; may be said several times");
  remeasure->add_option("--units", options->units, "of a table by itself: mm or inch")
      ->check(CLI::IsMember({"mm", "inch"}));
  remeasure->add_option("--tube", options->tube, "only this tube");
  remeasure->add_option("--date", options->date, "of the new revision, year-month-day");
  remeasure->add_flag("--json", options->json, "for programs");
  remeasure->add_option("--new-layout", options->new_layout,
                        "with no key layout yet: make one of this id, and its placement, from finger marks");
  remeasure->add_option("--mouth-end", options->mouth_end, "with --new-layout: the mouth end, A or B")
      ->check(CLI::IsMember({"A", "B"}));
  remeasure
      ->add_option("--facing-deg", options->facing_deg,
                   "with --new-layout: the key line from the reference line, to the right")
      ->check(CLI::Range(-360.0, 360.0));
  return {remeasure, [options] { return run(*options); }};
}

}  // namespace culmwright::command
