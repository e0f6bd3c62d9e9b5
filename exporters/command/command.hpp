#pragma once
/// What every command of the program is made of. A command lives in one file: its words at the terminal, its
/// options, and what it does. It returns the program's exit code; wrong input is thrown as InputError (exit
/// code 2). Results go to standard output, messages to standard error.
#include <CLI/CLI.hpp>
#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace culmwright::command {

enum ExitCode { done = 0, rule_failed = 1, input_wrong = 2, internal_error = 3, solid_refused = 4 };

struct Command {
  CLI::App* app = nullptr;
  std::function<int()> run;
};

/// What all commands take.
struct FileOptions {
  std::vector<std::string> files;
  std::string out;
};

/// Adds a command with its documents, its folder for output and its example. `options` must outlive `app`.
CLI::App* add_command(CLI::App& app, FileOptions& options, const char* name, const char* what,
                      const char* example);

}  // namespace culmwright::command
