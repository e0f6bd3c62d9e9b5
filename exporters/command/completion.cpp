#include "command/program.hpp"

namespace culmwright::command {

namespace {

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;
  return text;
}

std::vector<std::string> long_names(const CLI::App& command) {
  std::vector<std::string> names;
  for (const CLI::Option* option : command.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
  }
  return names;
}

/// What may follow an option that takes a value.
std::string after_option(const CLI::Option& option) {
  if (option.get_lnames().empty() || value_name(option).empty()) return "";
  const std::string name = "--" + option.get_lnames().front();
  const std::vector<std::string> words = words_of(option);
  const std::string head = "        " + name + ") ";
  if (name == "--out") return head + "COMPREPLY=($(compgen -d -- \"$word\")); return;;\n";
  if (words.empty()) return head + "return;;\n";
  return head + "COMPREPLY=($(compgen -W '" + joined(words) + "' -- \"$word\")); return;;\n";
}

std::string command_case(const CLI::App& command) {
  std::string values;
  for (const CLI::Option* option : command.get_options()) values += after_option(*option);
  std::string text = "    " + command.get_name() + ")\n";
  if (!values.empty()) text += "      case $before in\n" + values + "      esac\n";
  return text + "      options='" + joined(long_names(command)) + "';;\n";
}

}  // namespace

std::string bash_completion(const CLI::App& app) {
  std::vector<std::string> commands;
  std::string cases;
  for (const CLI::App* command : app.get_subcommands({})) {
    commands.push_back(command->get_name());
    cases += command_case(*command);
  }
  return "# Completion of culmwright for bash.\n"
         "_culmwright() {\n"
         "  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} options=\n"
         "  COMPREPLY=()\n"
         "  if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
         "    COMPREPLY=($(compgen -W '" +
         joined(commands) + " " + joined(long_names(app)) +
         "' -- \"$word\"))\n"
         "    return\n"
         "  fi\n"
         "  case ${COMP_WORDS[1]} in\n" +
         cases +
         "  esac\n"
         "  case $word in\n"
         "    -*) COMPREPLY=($(compgen -W \"$options\" -- \"$word\"));;\n"
         "    *) compopt -o filenames 2>/dev/null\n"
         "       COMPREPLY=($(compgen -d -- \"$word\") $(compgen -f -X '!*.@(json|csv)' -- \"$word\"));;\n"
         "  esac\n"
         "}\n"
         "complete -F _culmwright culmwright\n";
}

}  // namespace culmwright::command
