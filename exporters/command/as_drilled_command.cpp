#include <algorithm>
#include <filesystem>
#include <iostream>

#include "command/as_drilled_text.hpp"
#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/placement_file.hpp"
#include "command/terminal.hpp"
#include "fit/sign.hpp"

namespace culmwright::command {

namespace {

struct Options : FileOptions {
  std::string tube;
  std::string date;
  std::string units = "mm";
  int revision = 0;
  bool json = false;
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

/// A table by itself belongs to the one placement among the files.
AsDrilled heading_of(const Documents& documents, const Options& options) {
  std::vector<const Placement*> placements;
  for (const Loaded<Placement>& placement : documents.placements) {
    if (options.tube.empty() || placement.value.tube_id == options.tube)
      placements.push_back(&placement.value);
  }
  if (placements.size() != 1) {
    refuse("one-placement", std::to_string(placements.size()) + " placements beside a table of holes",
           "the one that was drilled",
           "Name its file alone, or write an as-drilled document (templates/as_drilled.json)");
  }
  AsDrilled heading;
  heading.tube_id = placements.front()->tube_id;
  heading.placement_id = placements.front()->id;
  heading.revision = options.revision > 0 ? options.revision : placements.front()->revision();
  return heading;
}

Documents gather_all(const Options& options) {
  std::vector<std::string> documents;
  std::vector<std::string> tables;
  for (const std::string& file : options.files) (is_table(file) ? tables : documents).push_back(file);
  Documents all = gather(documents);
  for (const std::string& table : tables) {
    all.as_drilled.push_back(read_as_drilled_table(table, heading_of(all, options), options.units == "inch"));
  }
  return all;
}

/// The one job that something is drilled of.
const Job& drilled_job(const std::vector<Job>& jobs) {
  std::vector<const Job*> drilled;
  for (const Job& job : jobs) {
    if (job.as_drilled != nullptr) drilled.push_back(&job);
  }
  if (drilled.size() == 1) return *drilled.front();
  refuse("one-as-drilled", std::to_string(drilled.size()) + " placements with drilled holes among the files",
         "one, with its tube, key layout, placement and as-drilled document",
         drilled.empty() ? "Start from templates/as_drilled.json or templates/as_drilled.csv"
                         : "Name the files of one, or say --tube");
}

/// What is written, in words; empty where nothing is.
std::string write_facts(const Job& job, const Options& options) {
  if (options.out.empty()) return "";
  const Placement& before = job.placement->value;
  const Placement after =
      with_facts_written(job.fit.tube(), job.key_layout->value, before, job.as_drilled->value, options.date);
  if (after.revision() == before.revision()) {
    return wrapped("Nothing to write: the placement holds all of it already.", 2);
  }
  const std::string file = write_changed(*job.placement, after, options.out);
  std::string text = wrapped("Written: " + file + ", revision " + std::to_string(after.revision()) +
                                 ", with what is drilled listed and locked.",
                             2);
  if (before.signature() != nullptr) {
    text +=
        wrapped("Revision " + std::to_string(after.revision()) + " is a draft until it is signed; revision " +
                    std::to_string(before.revision()) + " keeps its signature as it was given.",
                2);
  }
  return text;
}

int run(const Options& options) {
  const Documents documents = gather_all(options);
  const std::vector<Job> jobs = jobs_of(documents, options.tube);
  const Job& job = drilled_job(jobs);
  const WhatIsNext next = what_is_next(job, documents.shop_or_default());
  const std::string written = write_facts(job, options);
  std::cout << (options.json ? to_text(as_drilled_json(job, next)) : as_drilled_text(job, next) + written);
  return acceptable(job.findings, job.instrument.sign) ? done : rule_failed;
}

}  // namespace

Command as_drilled_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* drilled = add_command(
      app, *options, "as-drilled", "Holes as they came out, what follows, and what is next",
      "culmwright as-drilled tube.json layout.json placement.json shop.json as_drilled.json\n"
      "  culmwright as-drilled tube.json layout.json placement.json shop.json holes.csv --out drilled");
  drilled->add_flag("--json", options->json, "for programs");
  drilled->add_option("--tube", options->tube, "only this tube");
  drilled->add_option("--date", options->date, "of the new revision, year-month-day");
  drilled->add_option("--units", options->units, "of a table by itself: mm or inch")
      ->check(CLI::IsMember({"mm", "inch"}));
  drilled
      ->add_option("--revision", options->revision,
                   "of a table by itself: the placement's revision that was drilled; else the latest")
      ->check(CLI::Range(1, 100'000));
  return {drilled, [options] { return run(*options); }};
}

}  // namespace culmwright::command
