/// Build tool: reads two font files (regular and bold) and writes a C++ source that holds those parts of them
/// that the drawings may need, so that the program carries its letters with it.
///     embed_font REGULAR.ttf BOLD.ttf OUT.cpp
#include <exception>
#include <fstream>
#include <iostream>
#include <iterator>

#include "drawing/true_type.hpp"

namespace {

std::vector<unsigned char> read_file(const char* name) {
  std::ifstream in(name, std::ios::binary);
  if (!in) throw std::runtime_error(std::string("cannot read ") + name);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// Latin, Greek and Cyrillic, punctuation, arrows, mathematical and geometric signs: what a maker writes into
/// a note or an id.
bool useful(char32_t c) {
  return (c >= 0x20 && c <= 0x52F) || (c >= 0x1E00 && c <= 0x23FF) || (c >= 0x2500 && c <= 0x25FF) ||
         c == 0xFFFD;
}

void write_array(std::ostream& out, const char* name, const std::vector<std::uint8_t>& bytes) {
  out << "extern const unsigned char " << name << "[];\n";
  out << "extern const std::size_t " << name << "_size;\n";
  out << "const unsigned char " << name << "[] = {";
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    if (i % 40 == 0) out << '\n';
    out << static_cast<unsigned>(bytes[i]) << ',';
  }
  out << "\n};\nconst std::size_t " << name << "_size = " << bytes.size() << ";\n";
}

std::vector<std::uint8_t> useful_part(const char* name) {
  const std::vector<unsigned char> file = read_file(name);
  const culmwright::TrueType font(file.data(), file.size());
  std::set<char32_t> kept;
  for (char32_t c : font.characters()) {
    if (useful(c)) kept.insert(c);
  }
  return font.subset(kept);
}

}  // namespace

int main(int count, char** arguments) {
  try {
    if (count != 4) throw std::runtime_error("use: embed_font REGULAR.ttf BOLD.ttf OUT.cpp");
    std::ofstream out(arguments[3]);
    out << "#include <cstddef>\nnamespace culmwright::embedded {\n";
    write_array(out, "regular_font", useful_part(arguments[1]));
    write_array(out, "bold_font", useful_part(arguments[2]));
    out << "}\n";
    out.close();
    if (!out) throw std::runtime_error("cannot write the output");
    return 0;
  } catch (const std::exception& error) {
    std::cerr << error.what() << '\n';
    return 1;
  }
}
