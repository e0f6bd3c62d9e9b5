#include "command/program.hpp"

#include <sstream>

#include "base/words.hpp"
#include "command/commands.hpp"
#include "command/terminal.hpp"

namespace culmwright::command {

namespace {

constexpr const char* about =
    "From the measured tube and the key layout: placements, checks, paper templates, drill guides, key cups "
    "and "
    "the record. It calculates no tuning. A printed guide locates; it does not clamp, guard or judge.";

constexpr int description_column = 28;

/// Help of 80 columns: what is said of an option stands beside it, wrapped.
class Help : public CLI::Formatter {
 public:
  std::string make_description(const CLI::App* app) const override {
    const std::string words = app->get_description();
    return words.empty() ? "" : wrapped(words + (words.back() == '.' ? "" : "."), 0);
  }

  std::string make_usage(const CLI::App* app, std::string name) const override {
    return "\nUsage: " + std::string(app->get_parent() != nullptr ? "culmwright " + app->get_name() : name) +
           (app->get_parent() == nullptr ? " COMMAND FILES… [options]\n" : " FILES… [options]\n");
  }

  std::string make_positionals(const CLI::App* app) const override {
    std::string text;
    for (const CLI::Option* option :
         app->get_options([](const CLI::Option* o) { return o->get_positional(); })) {
      text += beside(option->get_name(true), option->get_description());
    }
    return text.empty() ? "" : "\n" + text;
  }

  std::string make_option(const CLI::Option* option, bool positional) const override {
    const std::string value = value_name(*option);
    const std::string required = option->get_required() ? " (needed)" : "";
    return beside(option->get_name(positional, true) + (value.empty() ? "" : " " + value),
                  option->get_description() + required);
  }

  std::string make_subcommand(const CLI::App* command) const override {
    return beside(command->get_name(), command->get_description(), 14);
  }

 private:
  static std::string beside(const std::string& name, const std::string& words,
                            int column = description_column) {
    std::string text = wrapped(words, column);
    const std::string head = "  " + name;
    if (static_cast<int>(columns(head)) + 2 > column) return head + "\n" + text;
    return head + text.substr(columns(head));
  }
};

/// The last word of "The following argument was not expected: WORD".
std::string unexpected_word(const CLI::Error& error) {
  const std::string words = error.what();
  const std::size_t colon = words.rfind(": ");
  const bool unexpected = dynamic_cast<const CLI::ExtrasError*>(&error) != nullptr;
  return unexpected && colon != std::string::npos ? words.substr(colon + 2) : "";
}

/// What was wrong with the command line, the nearest word that is known, and where to look.
std::string failure(const CLI::App* app, const CLI::Error& error) {
  const std::vector<CLI::App*> parsed = app->get_subcommands();
  const CLI::App& at = parsed.empty() ? *app : *parsed.front();
  std::vector<std::string> known;
  for (const CLI::Option* option : at.get_options()) {
    for (const std::string& name : option->get_lnames()) known.push_back("--" + name);
  }
  for (const CLI::App* command : at.get_subcommands({})) known.push_back(command->get_name());
  const auto nearest = nearest_word(unexpected_word(error), known);
  return std::string(error.what()) + "." + (nearest ? " Did you mean " + *nearest + "?" : "") +
         "\n`culmwright " + (parsed.empty() ? "" : at.get_name() + " ") + "--help` tells what is allowed.\n";
}

/// CLI11's own names of types say nothing to a maker.
bool is_type(const std::string& name) {
  return name.empty() || name == "TEXT" || name.rfind("TEXT:", 0) == 0;
}

}  // namespace

std::vector<std::string> words_of(const CLI::Option& option) {
  const std::string type = option.get_type_name();
  const std::size_t open = type.find('{');
  const std::size_t close = type.rfind('}');
  std::vector<std::string> words;
  if (open == std::string::npos || close == std::string::npos) return words;
  std::istringstream list(type.substr(open + 1, close - open - 1));
  for (std::string word; std::getline(list, word, ',');) words.push_back(word);
  return words;
}

std::string value_name(const CLI::Option& option) {
  if (option.get_items_expected_max() == 0) return "";  // a flag
  const std::vector<std::string> words = words_of(option);
  if (!words.empty()) {
    std::string name;
    for (const std::string& word : words) name += (name.empty() ? "" : "|") + word;
    return name;
  }
  const std::string& type = option.get_type_name();
  if (!is_type(type)) return type.substr(0, type.find(':'));
  std::string name = option.get_name();
  name.erase(0, name.find_first_not_of('-'));
  if (name == "out") return "FOLDER";
  if (name == "date") return "DAY";
  for (char& c : name) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  return name;
}

Program program() {
  Program program;
  program.app = std::make_unique<CLI::App>(about, "culmwright");
  CLI::App& app = *program.app;
  app.formatter(std::make_shared<Help>());
  app.set_version_flag("--version", CULMWRIGHT_VERSION, "the version, and nothing else");
  app.set_help_flag("-h,--help", "this; after a command, of that command");
  app.require_subcommand(0, 1);
  app.footer(
      wrapped(
          "`culmwright COMMAND --help` tells of one command, with an example. Start with `culmwright new`.",
          0) +
      wrapped("Exit codes: 0 done, 1 a rule is broken, 2 the input is wrong, 3 internal error, 4 a solid was "
              "refused.",
              0));
  app.failure_message(failure);
  program.manual = std::make_shared<bool>(false);
  program.completion = std::make_shared<bool>(false);
  app.add_flag("--manual", *program.manual, "the page for man(1), from the same source as this help");
  app.add_flag("--completion", *program.completion, "completion for bash");
  for (const auto add : all_commands) {
    program.commands.push_back(add(app));
    program.commands.back().app->group("Commands");
  }
  return program;
}

}  // namespace culmwright::command
