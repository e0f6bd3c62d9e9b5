/// The program: parse, call, write.
#include <CLI/CLI.hpp>
#include <cstdio>
#include <exception>
#include <iostream>

#include "base/problem.hpp"
#include "command/commands.hpp"

namespace {

using culmwright::command::Options;

constexpr const char* about =
    "From the measured tube and the key layout: checks, paper templates, drill guides, key cups and the "
    "record.\n"
    "It calculates no tuning. A printed guide locates; it does not clamp, guard or judge.";

CLI::App* add_command(CLI::App& app, Options& options, const char* name, const char* what,
                      const char* example) {
  CLI::App* command = app.add_subcommand(name, what);
  command->add_option("FILES", options.files, "documents, in any order; a workshop stands for all it names")
      ->required()
      ->check(CLI::ExistingFile);
  command->add_option("--out", options.out, "folder for what is written");
  command->footer(std::string("Example:\n  ") + example);
  return command;
}

/// A command with its options and what it runs.
struct Command {
  CLI::App* app = nullptr;
  int (*run)(const Options&) = nullptr;
};

Command survey_command(CLI::App& app, Options& options) {
  CLI::App* survey = add_command(app, options, "survey", "What the measurements of a tube say",
                                 "culmwright survey tube.json --out my-piece");
  survey->add_flag("--json", options.json, "for programs");
  survey->add_flag("--plates", options.plates, "with --out: also survey plates to print, sized to the tube");
  return {survey, culmwright::command::run_survey};
}

Command check_command(CLI::App& app, Options& options) {
  CLI::App* check = add_command(app, options, "check", "Hold placements against the rules",
                                "culmwright check tube.json layout.json placement.json");
  check->add_flag("--json", options.json, "for programs");
  check->add_option("--tube", options.tube, "only this tube");
  return {check, culmwright::command::run_check};
}

Command propose_command(CLI::App& app, Options& options) {
  CLI::App* propose =
      add_command(app, options, "propose", "Placements of a key layout on a tube, the best different ones",
                  "culmwright propose tube.json layout.json --out proposals");
  propose->add_flag("--json", options.json, "for programs");
  propose->add_option("--tube", options.tube, "only this tube");
  propose->add_option("--layout", options.layout, "only this key layout");
  propose->add_option("--count", options.count, "how many, at most")->check(CLI::Range(1, 50));
  propose->add_option("--date", options.date, "of the new revision, year-month-day");
  propose->add_flag("--mirrored", options.mirrored, "for a player who holds the other hand uppermost");
  return {propose, culmwright::command::run_propose};
}

Command shift_command(CLI::App& app, Options& options) {
  CLI::App* shift =
      add_command(app, options, "shift", "Move a key, a part or a hand; undo; history",
                  "culmwright shift tube.json layout.json placement.json --move \"R2 2 toward foot, "
                  "1 to player's left\"");
  shift->add_option("--move", options.move, "in words, several moves with semicolons between");
  shift->add_flag("--undo", options.undo, "take back the last revision that is not undone yet");
  shift->add_flag("--history", options.history, "only list the revisions");
  shift->add_option("--tube", options.tube, "only this tube");
  shift->add_option("--date", options.date, "of the new revision, year-month-day");
  return {shift, culmwright::command::run_shift};
}

Command transfer_command(CLI::App& app, Options& options) {
  CLI::App* transfer =
      add_command(app, options, "transfer", "A placement from one tube to another",
                  "culmwright transfer workshop.json --tube culm-11 --to culm-12 --out transferred");
  transfer->add_option("--tube", options.tube, "the tube that the placement stands on");
  transfer->add_option("--to", options.to, "the other tube")->required();
  transfer->add_option("--date", options.date, "of the new revision, year-month-day");
  return {transfer, culmwright::command::run_transfer};
}

Command rank_command(CLI::App& app, Options& options) {
  CLI::App* rank =
      add_command(app, options, "rank", "Every tube against every key layout; which becomes which",
                  "culmwright rank examples/workshop/workshop.json --out ranking");
  rank->add_flag("--json", options.json, "for programs");
  return {rank, culmwright::command::run_rank};
}

Command make_command(CLI::App& app, Options& options) {
  CLI::App* make =
      add_command(app, options, "make", "Templates, guides, cups, tube and record for every placement",
                  "culmwright make examples/workshop/workshop.json --out examples/out");
  make->add_option("--tube", options.tube, "only this tube");
  make->get_option("--out")->required();
  return {make, culmwright::command::run_make};
}

int run(int count, char** words) {
  CLI::App app(about, "culmwright");
  app.set_version_flag("--version", CULMWRIGHT_VERSION);
  app.require_subcommand(1);
  app.footer(
      "Exit codes: 0 done, 1 a rule is broken, 2 the input is wrong, 3 internal error, 4 a solid was "
      "refused.");
  Options options;
  const Command commands[] = {survey_command(app, options),   propose_command(app, options),
                              check_command(app, options),    shift_command(app, options),
                              transfer_command(app, options), rank_command(app, options),
                              make_command(app, options)};
  try {
    app.parse(count, words);
  } catch (const CLI::ParseError& error) {
    const int code = app.exit(error);
    return code == 0 ? culmwright::command::done : culmwright::command::input_wrong;
  }
  for (const Command& command : commands) {
    if (command.app->parsed()) return command.run(options);
  }
  return culmwright::command::internal_error;
}

}  // namespace

int main(int count, char** words) {
  using namespace culmwright;
  try {
    return run(count, words);
  } catch (const InputError& error) {
    for (const Problem& problem : error.problems()) std::cerr << to_line(problem) << "\n";
    return command::input_wrong;
  } catch (const GeometryError& error) {
    std::cerr << "refused: " << error.what() << "\n";
    return command::solid_refused;
  } catch (const std::exception& error) {
    std::cerr << "internal error: " << error.what() << "\n";
    return command::internal_error;
  }
}
