#include "command/program.hpp"

namespace culmwright::command {

namespace {

/// Text for man(7): a hyphen that is typed, a backslash that is one, a dot that is no request.
std::string plain(const std::string& words) {
  std::string text;
  for (const char c : words) {
    if (c == '-') {
      text += "\\-";
    } else if (c == '\\') {
      text += "\\e";
    } else if ((c == '.' || c == '\'') && (text.empty() || text.back() == '\n')) {
      text += "\\&";
      text += c;
    } else {
      text += c;
    }
  }
  return text;
}

std::string bold(const std::string& words) {
  return "\\fB" + plain(words) + "\\fR";
}
std::string slanted(const std::string& words) {
  return "\\fI" + plain(words) + "\\fR";
}

std::string entry(const std::string& head, const std::string& words) {
  return ".TP\n" + head + "\n" + plain(words) + ".\n";
}

std::string option_entry(const CLI::Option& option) {
  const std::string value = value_name(option);
  std::string head = bold(option.get_name(false, true));
  if (!value.empty()) head += " " + slanted(value);
  return entry(head, option.get_description() + (option.get_required() ? " (needed)" : ""));
}

/// "Example:\n  culmwright …" without its heading.
std::string example_of(const CLI::App& command) {
  const std::string footer = command.get_footer();
  const std::size_t start = footer.find("culmwright");
  return start == std::string::npos ? "" : footer.substr(start);
}

std::string command_text(const CLI::App& command) {
  std::string text = ".SS " + command.get_name() + "\n" + plain(command.get_description()) + ".\n";
  for (const CLI::Option* option : command.get_options()) {
    if (option->get_positional()) {
      text += entry(slanted(option->get_name(true)), option->get_description());
    } else if (option->get_name() != "--help") {
      text += option_entry(*option);
    }
  }
  const std::string example = example_of(command);
  if (!example.empty()) text += ".PP\nExample:\n.PP\n.nf\n.RS 4\n" + plain(example) + "\n.RE\n.fi\n";
  return text;
}

constexpr const char* last_sections =
    ".SH EXIT STATUS\n"
    ".TP\n0\ndone\n.TP\n1\na rule is broken\n.TP\n2\nthe input is wrong\n.TP\n3\ninternal error\n"
    ".TP\n4\na solid was refused\n"
    ".SH ENVIRONMENT\n"
    "The program writes no colour, so that \\fBNO_COLOR\\fR is kept whatever it says. Progress is shown on "
    "a\n"
    "terminal only.\n"
    ".SH FILES\n"
    "Documents are JSON; stations, keys, readings and drilled holes may be CSV tables. The starter documents "
    "and\n"
    "their JSON Schemas are installed beside the program, in \\fIshare/culmwright/templates\\fR.\n"
    "A file is overwritten only if the program wrote it and nobody changed it since.\n"
    ".SH CAUTIONS\n"
    "Clamp round stock in cradles or V\\-blocks, never hold it by hand. Eye protection; extraction and a "
    "dust mask.\n"
    "A printed guide locates, it does not clamp or guard: try it on the tube and measure before drilling. "
    "Never\n"
    "drill with a cell fitted. Reach and comfort figures are no medical advice. Local codes come first.\n";

}  // namespace

std::string manual_page(const CLI::App& app) {
  std::string text = ".TH CULMWRIGHT 1 \"\" \"culmwright " CULMWRIGHT_VERSION "\" \"User Commands\"\n";
  text +=
      ".SH NAME\nculmwright \\- placements, drill guides and key cups for keyed instruments on natural "
      "tubes\n";
  text += ".SH SYNOPSIS\n" + bold("culmwright") + " " + slanted("COMMAND FILES") + " ... [" +
          slanted("options") + "]\n";
  text += ".SH DESCRIPTION\n" + plain(app.get_description()) + "\n.SH OPTIONS\n";
  for (const CLI::Option* option : app.get_options()) text += option_entry(*option);
  text += ".SH COMMANDS\n";
  for (const CLI::App* command : app.get_subcommands({})) text += command_text(*command);
  return text + last_sections;
}

}  // namespace culmwright::command
