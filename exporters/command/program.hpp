#pragma once
/// The command line as one value, from which all that is said about it is written: help, the page for man,
/// completion.
#include <memory>
#include <string>
#include <vector>

#include "command/command.hpp"

namespace culmwright::command {

struct Program {
  std::unique_ptr<CLI::App> app;
  std::vector<Command> commands;  ///< in the order in which a maker meets them
  std::shared_ptr<bool> manual;   ///< asked for, once parsed
  std::shared_ptr<bool> completion;
};

/// Every command added; help laid out for 80 columns.
Program program();

/// What an option takes, in capitals: "DAY"; empty for a flag.
std::string value_name(const CLI::Option& option);
/// The words an option may take, where they are few and known.
std::vector<std::string> words_of(const CLI::Option& option);

/// A page in the language of man(7).
std::string manual_page(const CLI::App& app);

/// Completion of commands, options, their words and files, for bash.
std::string bash_completion(const CLI::App& app);

}  // namespace culmwright::command
