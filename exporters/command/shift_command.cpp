#include <iostream>

#include "command/check_text.hpp"
#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/placement_file.hpp"
#include "command/terminal.hpp"
#include "fit/shift.hpp"

namespace culmwright::command {

namespace {

struct Options : FileOptions {
  std::string move;  ///< in words
  bool undo = false;
  bool history = false;
  std::string tube;
  std::string date;
};

int run(const Options& options) {
  const Documents documents = gather(options.files);
  const std::vector<Job> jobs = jobs_of(documents, options.tube);
  const Job& job = only_job(jobs);
  const Placement& before = job.placement_now();
  if (options.history) {
    for (const std::string& line : history(before)) std::cout << wrapped(line, 0);
    if (job.instrument.sign.state == SignState::no_longer_signed) {
      std::cout << "Now " << sign_words(job.instrument.sign) << ".\n" << changed_text(job.instrument.sign);
    }
    return done;
  }
  if (options.undo == !options.move.empty()) {
    throw InputError({{"what-to-shift",
                       {},
                       options.undo ? "both --move and --undo" : "neither --move nor --undo",
                       "one of them",
                       "For example --move \"R2 2 toward foot, 1 to player's left\""}});
  }
  const Tube& tube = job.fit.tube();
  Shifted shifted;
  if (options.undo) {
    shifted.placement = undone(before, options.date);
  } else {
    const KeyLayout& layout = job.key_layout->value;
    shifted = shift(tube, layout, before, parse_shift(options.move, layout), options.date);
  }
  // What stood before is what the document says, not what was drilled since.
  remember(job.placement->value, shifted.placement);
  const Instrument instrument = instrument_of(job, shifted.placement);
  const std::vector<Finding> findings = check(job.fit, job.key_layout->value, instrument);
  write_changed(*job.placement, shifted.placement, options.out);
  for (const std::string& stayed : shifted.stayed) std::cout << wrapped(stayed, 2);
  std::cout << check_text(instrument, findings, balance_of(job.fit, job.key_layout->value, instrument));
  return acceptable(findings) ? done : rule_failed;
}

}  // namespace

Command shift_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* shift =
      add_command(app, *options, "shift", "Move a key, a part or a hand; undo; history",
                  "culmwright shift tube.json layout.json placement.json --move \"R2 2 toward foot, "
                  "1 to player's left\"");
  shift->add_option("--move", options->move, "in words, several moves with semicolons between");
  shift->add_flag("--undo", options->undo, "take back the last revision that is not undone yet");
  shift->add_flag("--history", options->history, "only list the revisions");
  shift->add_option("--tube", options->tube, "only this tube");
  shift->add_option("--date", options->date, "of the new revision, year-month-day");
  return {shift, [options] { return run(*options); }};
}

}  // namespace culmwright::command
