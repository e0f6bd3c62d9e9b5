/// The program: parse, call, write.
#include <CLI/CLI.hpp>
#include <cstdio>
#include <exception>
#include <iostream>

#include "base/problem.hpp"
#include "command/commands.hpp"

namespace {

constexpr const char* about =
    "From the measured tube and the key layout: checks, paper templates, drill guides, key cups and the "
    "record.\n"
    "It calculates no tuning. A printed guide locates; it does not clamp, guard or judge.";

int run(int count, char** words) {
  CLI::App app(about, "culmwright");
  app.set_version_flag("--version", CULMWRIGHT_VERSION);
  app.require_subcommand(1);
  app.footer(
      "Exit codes: 0 done, 1 a rule is broken, 2 the input is wrong, 3 internal error, 4 a solid was "
      "refused.");
  std::vector<culmwright::command::Command> commands;
  for (const auto add : culmwright::command::all_commands) commands.push_back(add(app));
  try {
    app.parse(count, words);
  } catch (const CLI::ParseError& error) {
    const int code = app.exit(error);
    return code == 0 ? culmwright::command::done : culmwright::command::input_wrong;
  }
  for (const auto& command : commands) {
    if (command.app->parsed()) return command.run();
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
