#pragma once
/// The commands. Each returns the program's exit code: 0 done, 1 a tube or placement fails a rule, 4 a solid
/// was refused. Wrong input is thrown as InputError (exit code 2). Results go to standard output.
#include <string>
#include <vector>

namespace culmwright::command {

struct Options {
  std::vector<std::string> files;
  std::string out;
  std::string tube;
  std::string layout;
  std::string to;    ///< the tube to transfer to
  std::string move;  ///< in words
  std::string date;
  int count = 5;
  bool json = false;
  bool plates = false;
  bool mirrored = false;
  bool undo = false;
  bool history = false;
};

enum ExitCode { done = 0, rule_failed = 1, input_wrong = 2, internal_error = 3, solid_refused = 4 };

int run_survey(const Options& options);
int run_check(const Options& options);
int run_propose(const Options& options);
int run_shift(const Options& options);
int run_transfer(const Options& options);
int run_rank(const Options& options);
int run_make(const Options& options);

}  // namespace culmwright::command
