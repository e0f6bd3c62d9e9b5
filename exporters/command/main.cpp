/// The program: parse, call, write.
#include <CLI/CLI.hpp>
#include <cstdio>
#include <exception>
#include <iostream>

#include "base/problem.hpp"
#include "command/program.hpp"

namespace {

int run(int count, char** words) {
  using namespace culmwright::command;
  const Program culmwright = program();
  try {
    culmwright.app->parse(count, words);
  } catch (const CLI::ParseError& error) {
    return culmwright.app->exit(error) == 0 ? done : input_wrong;
  }
  for (const Command& command : culmwright.commands) {
    if (command.app->parsed()) return command.run();
  }
  if (*culmwright.manual || *culmwright.completion) {
    if (*culmwright.manual) std::cout << manual_page(*culmwright.app);
    if (*culmwright.completion) std::cout << bash_completion(*culmwright.app);
    return done;
  }
  std::cerr << culmwright.app->help();
  return input_wrong;
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
