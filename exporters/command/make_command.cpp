#include <algorithm>
#include <deque>
#include <filesystem>
#include <iostream>
#include <optional>

#include "command/bed_plates.hpp"
#include "command/bench_parts.hpp"
#include "command/check_text.hpp"
#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/in_place.hpp"
#include "command/job_parts.hpp"
#include "command/job_sheet.hpp"
#include "command/line_drawings.hpp"
#include "command/pages.hpp"
#include "command/record.hpp"
#include "command/templates.hpp"
#include "command/terminal.hpp"
#include "command/tolerance_text.hpp"
#include "command/workshop_sheet.hpp"
#include "files/output_folder.hpp"
#include "fit/propose.hpp"
#include "fit/sign.hpp"
#include "paper/survey_picture.hpp"

namespace culmwright::command {

namespace {

struct Options : FileOptions {
  std::string tube;
};

namespace fs = std::filesystem;

/// How one job ended.
struct Outcome {
  std::string tube_id;
  const Job* job = nullptr;  ///< none for a tube that got no placement
  std::string folder;
  std::string state;      ///< "made", "breaks a rule", "refused", "no placement", "put aside"
  bool proposed = false;  ///< the placement is the program's own proposal
  std::vector<std::string> reasons;
  int guides = 0;
  int cups = 0;
  int templates = 0;
};

/// A tube's folder is its id; where a workshop places one tube twice, the placement's id follows.
std::string folder_of(const Job& job, const std::vector<Job>& all) {
  int same = 0;
  for (const Job& other : all) same += other.instrument.tube_id == job.instrument.tube_id;
  return same == 1 ? job.instrument.tube_id : job.instrument.tube_id + "." + job.instrument.id;
}

/// Wrap templates, and the patches last. Paper too small for its words is this job's own failure, not that of
/// the others.
std::vector<NamedDrawing> paper_of(const Job& job, const Shop& shop, const JobTolerance& tolerance) {
  try {
    std::vector<NamedDrawing> drawings = templates_of(job, shop, Stretch::internodes, tolerance);
    for (NamedDrawing& made : drawings) made.stem = "templates/" + made.stem;
    drawings.push_back(patches_of(job, shop));
    drawings.back().stem = "mock-up/patches";
    return drawings;
  } catch (const InputError& error) {
    throw GeometryError(job.instrument.id, "templates", to_line(error.problems().front()));
  }
}

/// Returns how many pages of templates there are.
int add_templates(OutputFolder& folder, const Job& job, const Shop& shop, const JobTolerance& tolerance) {
  int pages = 0;
  for (const NamedDrawing& made : paper_of(job, shop, tolerance)) {
    add_pages(folder, made.drawing, made.stem);
    if (made.stem.rfind("templates/", 0) == 0) pages += static_cast<int>(made.drawing.pages.size());
  }
  return pages;
}

void add_sheet(OutputFolder& folder, const Job& job, const Shop& shop, const SheetMakings& makings) {
  const SheetFiles files = sheet_files(job_sheet(job, shop, makings), shop);
  folder.add("sheet.html", files.html);
  folder.add("sheet.pdf", files.pdf);
}

/// Templates, parts, sheet and record of a sound job; nothing is written unless all of it can be.
void make_whole(const Job& job, const Shop& shop, const fs::path& target, Progress& progress,
                Outcome& outcome) {
  const auto say = [&](const std::string& what) { progress.say(outcome.folder + ": " + what); };
  say("tolerance of the holes");
  const JobTolerance tolerance = tolerance_of(job, shop);
  const std::vector<GuidePlan> guides = plan_guides(job.fit.tube(), job.instrument, shop);
  say("templates");
  OutputFolder folder(target);
  add_pages(folder, survey_picture(job.fit.tube(), job.tube->value, shop.paper.size), "survey");
  outcome.templates = add_templates(folder, job, shop, tolerance);
  std::vector<std::string> left_out;
  std::vector<MadePart> parts = job_parts(job, shop, say, left_out);
  for (const MadePart& part : parts) {
    if (part.refused) outcome.reasons.push_back(*part.refused);
    outcome.guides += part.stem.rfind("guides/", 0) == 0;
    outcome.cups += part.stem.rfind("cups/", 0) == 0;
  }
  if (!outcome.reasons.empty()) {
    outcome.state = "refused";
    return;
  }
  say("clearances");
  const std::vector<Clearance> near = clearances_of(parts, job, shop);
  for (const Clearance& one : near) {
    if (one.fails) outcome.reasons.push_back(one.sentence);
  }
  if (!outcome.reasons.empty()) {
    outcome.state = "refused";
    return;
  }
  say("drawings");
  const JobLines lines = lines_of(parts, job, guides);
  for (const JobDrawing& made : drawings_of(job, shop, lines, left_out))
    add_pages(folder, made.drawing, made.stem);
  left_out.insert(left_out.end(), lines.left_out.begin(), lines.left_out.end());
  say("sheet");
  add_sheet(folder, job, shop,
            {tolerance, guides, "", parts, "", near, pictures_of(job, lines, sheet_column(shop))});
  parts.push_back(assembly_of(parts, job));
  for (MadePart& plate : bed_plates(parts, shop, job.instrument.id)) parts.push_back(std::move(plate));
  add_parts(folder, parts);
  if (outcome.proposed) folder.add("placement.json", placement_to_json(job.placement->value));
  JsonValue record = record_json(job, parts, folder.digests());
  record.set("tolerance", tolerance_json(tolerance));
  record.set("bores", backing_json(job, shop)).set("left_out", strings(left_out));
  const WireList wires = plan_wires(job.fit.tube(), job.instrument, shop);
  for (const RefusedWires& one : wires.refused) outcome.reasons.push_back(one.sentence);
  record.set("clearances", clearances_json(near)).set("wires", wires_json(wires, shop.wires));
  folder.add("record.json", to_text(record));
  folder.commit();
  outcome.state = "made";
}

Outcome make_job(const Job& job, const std::vector<Job>& all, const Shop& shop, const fs::path& out,
                 Progress& progress) {
  Outcome outcome;
  outcome.tube_id = job.instrument.tube_id;
  outcome.job = &job;
  outcome.folder = folder_of(job, all);
  outcome.proposed = job.proposed;
  if (!acceptable(job.findings, job.instrument.sign)) {
    outcome.state = "breaks a rule";
    const std::vector<Accepted>& accepted = job.instrument.sign.accepted;
    const bool holds = job.instrument.sign.signed_off();
    for (const Finding& finding : not_accepted(job.findings, holds ? accepted : std::vector<Accepted>{})) {
      if (finding.severity == Severity::hard) outcome.reasons.push_back(finding.sentence);
    }
    return outcome;
  }
  try {
    make_whole(job, shop, out / outcome.folder, progress, outcome);
  } catch (const GeometryError& error) {
    outcome.state = "refused";
    outcome.reasons.push_back(error.what());
  }
  return outcome;
}

/// Beside the summary: all pieces, with their sheets where they were made.
void write_index(const Documents& documents, const std::string& name, const std::vector<Outcome>& outcomes,
                 const fs::path& out) {
  std::vector<IndexedJob> jobs;
  for (const Outcome& outcome : outcomes) {
    if (outcome.job == nullptr) continue;
    jobs.push_back({outcome.job, outcome.state == "made" ? outcome.folder + "/sheet.html" : std::string()});
  }
  const SheetFiles files = sheet_files(workshop_sheet(documents, name, jobs), documents.shop_or_default());
  write_output_file(out / "index.html", files.html);
  write_output_file(out / "index.pdf", files.pdf);
}

JsonValue outcome_json(const Outcome& outcome) {
  JsonValue reasons = JsonValue::array();
  for (const std::string& reason : outcome.reasons) reasons.push(reason);
  JsonValue json = JsonValue::object();
  json.set("tube", outcome.tube_id);
  if (outcome.job != nullptr) {
    const Instrument& instrument = outcome.job->instrument;
    json.set("placement", instrument.id)
        .set("proposed", outcome.proposed)
        .set("key_layout", instrument.layout_id)
        .set("revision", instrument.revision)
        .set("draft", !instrument.sign.signed_off())
        .set("sign", sign_json(instrument.sign))
        .set("folder", outcome.folder);
  }
  return json.set("state", outcome.state)
      .set("templates", outcome.templates)
      .set("guides", outcome.guides)
      .set("cups", outcome.cups)
      .set("reasons", std::move(reasons));
}

JsonValue summary_json(const std::vector<Outcome>& outcomes) {
  JsonValue list = JsonValue::array();
  for (const Outcome& outcome : outcomes) list.push(outcome_json(outcome));
  return JsonValue::object()
      .set("format", "culmwright summary")
      .set("version", 1)
      .set("program", CULMWRIGHT_VERSION)
      .set("jobs", std::move(list));
}

void print(const std::vector<Outcome>& outcomes) {
  TextTable table({"tube", "instrument", "key layout", "revision", "templates", "guides", "cups", "state"});
  for (const Outcome& outcome : outcomes) {
    if (outcome.job == nullptr) {
      table.row({outcome.tube_id, "", "", "", "0", "0", "0", outcome.state});
      continue;
    }
    const Instrument& instrument = outcome.job->instrument;
    table.row({outcome.tube_id, instrument.id, instrument.layout_id,
               std::to_string(instrument.revision) + (instrument.sign.signed_off() ? "" : " DRAFT"),
               std::to_string(outcome.templates), std::to_string(outcome.guides),
               std::to_string(outcome.cups), outcome.state + (outcome.proposed ? ", as proposed" : "")});
  }
  std::cout << table.text();
  for (const Outcome& outcome : outcomes) {
    for (const std::string& reason : outcome.reasons) {
      std::cout << wrapped(outcome.tube_id + ", " + outcome.state + ": " + reason, 2);
    }
  }
}

int exit_code(const std::vector<Outcome>& outcomes) {
  int code = done;
  for (const Outcome& outcome : outcomes) {
    if (outcome.state == "breaks a rule" || outcome.state == "no placement")
      code = std::max<int>(code, rule_failed);
    if (outcome.state == "refused") code = solid_refused;
  }
  return code;
}

/// A tube without a placement gets the best that any key layout of the workshop proposes.
struct ProposedJobs {
  std::deque<Loaded<Placement>> placements;  ///< that the jobs point to
  std::vector<Job> jobs;
  std::vector<Outcome> without;  ///< tubes that got none
};

bool has_placement(const Documents& documents, const std::string& tube_id) {
  return std::any_of(documents.placements.begin(), documents.placements.end(),
                     [&](const Loaded<Placement>& placement) { return placement.value.tube_id == tube_id; });
}

void propose_for(const Documents& documents, const Loaded<Survey>& tube, ProposedJobs& proposed) {
  Outcome none;
  none.tube_id = tube.value.id;
  if (tube.value.verdict == Verdict::aside) {
    none.state = "put aside";
    if (!tube.value.verdict_note.empty()) none.reasons.push_back(tube.value.verdict_note);
    proposed.without.push_back(std::move(none));
    return;
  }
  const TubeFit fit = fit_of(tube);
  std::optional<Proposal> best;
  const Loaded<KeyLayout>* layout_of_best = nullptr;
  for (const Loaded<KeyLayout>& layout : documents.key_layouts) {
    ProposeOptions how;
    how.count = 1;
    const auto result = propose(fit, layout.value, how);
    if (const auto* refusal = std::get_if<Refusal>(&result)) {
      none.reasons.push_back(layout.value.id + ": " + refusal->sentence);
      continue;
    }
    const Proposal& proposal = std::get<std::vector<Proposal>>(result).front();
    if (best && best->score <= proposal.score) continue;
    best = proposal;
    layout_of_best = &layout;
  }
  if (!best) {
    none.state = "no placement";
    proposed.without.push_back(std::move(none));
    return;
  }
  proposed.placements.push_back({best->placement, {}});
  proposed.jobs.push_back({&tube, layout_of_best, &proposed.placements.back(), fit, best->instrument,
                           best->findings, true, documents.shop_given()});
}

/// Before anything is made: what was signed off and is made as a draft.
void say_no_longer_signed(const Job& job) {
  if (job.instrument.sign.state != SignState::no_longer_signed) return;
  std::cerr << job.instrument.id << ", revision " << job.instrument.revision << ": "
            << sign_words(job.instrument.sign) << "\n"
            << changed_text(job.instrument.sign);
}

int run(const Options& options) {
  const Documents documents = gather(options.files);
  std::vector<Job> jobs = jobs_of(documents, options.tube);
  ProposedJobs proposed;
  for (const Loaded<Survey>& tube : documents.tubes) {
    if (!options.tube.empty() && tube.value.id != options.tube) continue;
    if (!has_placement(documents, tube.value.id)) propose_for(documents, tube, proposed);
  }
  jobs.insert(jobs.end(), proposed.jobs.begin(), proposed.jobs.end());
  if (jobs.empty() && proposed.without.empty()) {
    throw InputError({{"nothing-to-make",
                       {},
                       "no tube and no placement among the files",
                       "a tube, a key layout and a placement, or a workshop",
                       "Start from templates/workshop.json"}});
  }
  for (const Job& job : jobs) say_no_longer_signed(job);
  const Shop shop = documents.shop_or_default();
  std::vector<Outcome> outcomes;
  {
    Progress progress;
    for (const Job& job : jobs) outcomes.push_back(make_job(job, jobs, shop, options.out, progress));
  }
  outcomes.insert(outcomes.end(), proposed.without.begin(), proposed.without.end());
  write_output_file(fs::path(options.out) / "summary.json", to_text(summary_json(outcomes)));
  const std::optional<std::string> workshop = workshop_among(options.files);
  if (workshop && options.tube.empty()) write_index(documents, *workshop, outcomes, options.out);
  print(outcomes);
  return exit_code(outcomes);
}

}  // namespace

Command make_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* make =
      add_command(app, *options, "make", "Templates, guides, cups, tube and record for every placement",
                  "culmwright make examples/workshop/workshop.json --out examples/out");
  make->add_option("--tube", options->tube, "only this tube");
  make->get_option("--out")->required();
  return {make, [options] { return run(*options); }};
}

}  // namespace culmwright::command
