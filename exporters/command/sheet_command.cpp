#include <algorithm>
#include <filesystem>
#include <iostream>

#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/in_place.hpp"
#include "command/job_parts.hpp"
#include "command/job_sheet.hpp"
#include "command/line_drawings.hpp"
#include "command/terminal.hpp"
#include "command/workshop_sheet.hpp"
#include "files/output_folder.hpp"
#include "fit/sign.hpp"
#include "sheet/next_step.hpp"

namespace culmwright::command {

namespace {

struct Options : FileOptions {
  std::string tube;
};

namespace fs = std::filesystem;

/// What is made of a job for its sheet: nothing of one that breaks a rule.
struct Made {
  std::vector<GuidePlan> guides;
  std::string no_guides;
  std::vector<MadePart> parts;
  std::string no_parts;
  std::vector<Clearance> near;
  std::vector<SheetPicture> views;
};

bool any_refused(const std::vector<MadePart>& parts) {
  return std::any_of(parts.begin(), parts.end(),
                     [](const MadePart& part) { return part.refused.has_value(); });
}

Made made_for(const Job& job, const Shop& shop, const std::function<void(const std::string&)>& say) {
  Made made;
  try {
    made.guides = plan_guides(job.fit.tube(), job.instrument, shop);
  } catch (const GeometryError& error) {
    made.no_guides = error.what();
  }
  if (!acceptable(job.findings, job.instrument.sign)) {
    made.no_parts = "the placement breaks a rule.";
    return made;
  }
  std::vector<std::string> left_out;
  made.parts = job_parts(job, shop, say, left_out);
  if (!any_refused(made.parts)) {
    made.near = clearances_of(made.parts, job, shop);
    say("pictures");
    made.views = pictures_of(job, lines_of(made.parts, job, made.guides), sheet_column(shop));
  }
  return made;
}

/// The folder of a job's sheet, from the index.
std::string folder_of(const Job& job) {
  return job.instrument.id;
}

/// False where a part was refused or comes too near to another.
bool write_sheet(const Job& job, const Shop& shop, const fs::path& out) {
  Progress progress;
  const auto say = [&](const std::string& what) { progress.say(job.instrument.id + ": " + what); };
  say("tolerance of the holes");
  const JobTolerance tolerance = tolerance_of(job, shop);
  const Made made = made_for(job, shop, say);
  say("sheet");
  const SheetFiles files = sheet_files(
      job_sheet(job, shop,
                {tolerance, made.guides, made.no_guides, made.parts, made.no_parts, made.near, made.views}),
      shop);
  OutputFolder folder(out / folder_of(job));
  folder.add("sheet.html", files.html);
  folder.add("sheet.pdf", files.pdf);
  folder.commit();
  return !any_refused(made.parts) &&
         std::none_of(made.near.begin(), made.near.end(), [](const Clearance& one) { return one.fails; });
}

void write_index(const Documents& documents, const std::string& name, const std::vector<Job>& jobs,
                 const Shop& shop, const fs::path& out) {
  std::vector<IndexedJob> indexed;
  for (const Job& job : jobs) indexed.push_back({&job, folder_of(job) + "/sheet.html"});
  const SheetFiles files = sheet_files(workshop_sheet(documents, name, indexed), shop);
  write_output_file(out / "index.html", files.html);
  write_output_file(out / "index.pdf", files.pdf);
}

void print_next(const std::vector<Job>& jobs) {
  for (const Job& job : jobs) {
    const Next next = next_for(figures_of(job.fit), &job.instrument, job.findings);
    std::cout << job.instrument.id << " on " << job.instrument.tube_id << "\n"
              << wrapped(std::string("next: ") + step_words(next.step) + ". " + next.why, 2);
  }
}

int write_all(const Documents& documents, const std::vector<Job>& jobs, const Options& options) {
  const Shop shop = documents.shop_or_default();
  int code = done;
  for (const Job& job : jobs) {
    if (!write_sheet(job, shop, options.out)) code = solid_refused;
    if (!acceptable(job.findings, job.instrument.sign)) code = std::max<int>(code, rule_failed);
    std::cout << "  " << (fs::path(options.out) / folder_of(job) / "sheet.html").string() << ", sheet.pdf\n";
  }
  // One piece and its instrument need no index.
  if (options.tube.empty() && (documents.tubes.size() > 1 || jobs.empty())) {
    write_index(documents, workshop_among(options.files).value_or("workshop"), jobs, shop, options.out);
    std::cout << "  " << (fs::path(options.out) / "index.html").string() << ", index.pdf\n";
  }
  return code;
}

int run(const Options& options) {
  const Documents documents = gather(options.files);
  const std::vector<Job> jobs = jobs_of(documents, options.tube);
  if (jobs.empty() && (documents.tubes.empty() || !options.tube.empty())) {
    throw InputError({{"nothing-to-tell",
                       {},
                       "no placement among the files",
                       "a tube, a key layout and a placement, or a workshop",
                       "Start from templates/placement.json"}});
  }
  print_next(jobs);
  if (options.out.empty()) {
    std::cout << "Nothing is written without --out.\n";
    return done;
  }
  return write_all(documents, jobs, options);
}

}  // namespace

Command sheet_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* sheet = add_command(
      app, *options, "sheet",
      "The bench sheet of every placement, for browser and printer; of several pieces also their index",
      "culmwright sheet tube.json layout.json placement.json shop.json --out sheets");
  sheet->add_option("--tube", options->tube, "only this tube");
  return {sheet, [options] { return run(*options); }};
}

}  // namespace culmwright::command
