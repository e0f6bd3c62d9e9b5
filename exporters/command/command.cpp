#include "command/command.hpp"

namespace culmwright::command {

CLI::App* add_command(CLI::App& app, FileOptions& options, const char* name, const char* what,
                      const char* example) {
  CLI::App* command = app.add_subcommand(name, what);
  command->add_option("FILES", options.files, "documents, in any order; a workshop stands for all it names")
      ->required()
      ->check(CLI::ExistingFile);
  command->add_option("--out", options.out, "folder for what is written");
  command->footer(std::string("Example:\n  ") + example);
  return command;
}

}  // namespace culmwright::command
