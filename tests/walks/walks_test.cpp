/// The walks of examples/walks: every command in them is run in a copy of its folder, and what it prints is
/// held against what the walk says. CULMWRIGHT_WRITE_WALKS=1 writes what was printed into the walk instead.
#include <unistd.h>

#include <array>
#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace fs = std::filesystem;

namespace {

const fs::path walks = fs::path(CULMWRIGHT_SOURCE_DIR) / "examples" / "walks";

std::vector<std::string> lines_of(const fs::path& file) {
  std::ifstream stream(file);
  std::vector<std::string> lines;
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

/// Standard output and messages together, as a terminal shows them, line by line.
std::vector<std::string> printed_by(const std::string& command, const fs::path& folder) {
  const std::string path = fs::path(CULMWRIGHT_PROGRAM).parent_path().string();
  const std::string whole =
      "cd '" + folder.string() + "' && export PATH='" + path + "':$PATH && { " + command + "\n} 2>&1";
  FILE* pipe = popen(whole.c_str(), "r");
  REQUIRE(pipe != nullptr);
  std::string text;
  std::array<char, 4096> part{};
  while (const std::size_t got = std::fread(part.data(), 1, part.size(), pipe)) text.append(part.data(), got);
  pclose(pipe);
  std::istringstream stream(text);
  std::vector<std::string> lines;
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

/// A line "…" stands for any number of lines that are not shown.
bool agrees(const std::vector<std::string>& said, const std::vector<std::string>& printed, std::size_t i = 0,
            std::size_t j = 0) {
  for (; i < said.size(); ++i, ++j) {
    if (said[i] == "…") {
      for (std::size_t next = j; next <= printed.size(); ++next) {
        if (agrees(said, printed, i + 1, next)) return true;
      }
      return false;
    }
    if (j >= printed.size() || said[i] != printed[j]) return false;
  }
  return j == printed.size();
}

std::string joined(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

struct Walk {
  std::vector<std::string> written;  ///< the walk with what was printed now
  int commands = 0;
};

/// Runs the walk in `folder`, a copy; `look` sees each command with what the walk says and what was printed.
template <class Look>
Walk walked(const fs::path& walk, const fs::path& folder, const Look& look) {
  const std::vector<std::string> lines = lines_of(walk / "README.md");
  Walk result;
  bool console = false;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    result.written.push_back(lines[i]);
    if (lines[i].rfind("```", 0) == 0) console = lines[i] == "```console";
    if (!console || lines[i].rfind("$ ", 0) != 0) continue;
    std::vector<std::string> said;
    while (i + 1 < lines.size() && lines[i + 1].rfind("$ ", 0) != 0 && lines[i + 1] != "```") {
      said.push_back(lines[++i]);
    }
    const std::string command = result.written.back().substr(2);
    const std::vector<std::string> printed = printed_by(command, folder);
    look(command, said, printed);
    const std::vector<std::string>& kept = agrees(said, printed) ? said : printed;
    result.written.insert(result.written.end(), kept.begin(), kept.end());
    ++result.commands;
  }
  return result;
}

void run_walk(const std::string& name) {
  const fs::path copy =
      fs::temp_directory_path() / ("culmwright-walk-" + name + "-" + std::to_string(getpid()));
  fs::remove_all(copy);
  fs::copy(walks, copy, fs::copy_options::recursive);  // a walk may use another's documents
  const bool write = std::getenv("CULMWRIGHT_WRITE_WALKS") != nullptr;
  const Walk walk = walked(
      walks / name, copy / name,
      [&](const std::string& command, const std::vector<std::string>& said,
          const std::vector<std::string>& printed) {
        INFO("$ " << command << "\nprints\n" << joined(printed) << "\nwhere the walk says\n" << joined(said));
        CHECK((write || agrees(said, printed)));
      });
  CHECK(walk.commands > 0);
  if (write) std::ofstream(walks / name / "README.md") << joined(walk.written);
  fs::remove_all(copy);
}

}  // namespace

TEST_CASE("a straight pipe, every number of which can be checked by hand") {
  run_walk("straight-pipe");
}
TEST_CASE("a bent oval culm on survey plates") {
  run_walk("bent-culm");
}
TEST_CASE("a refused piece") {
  run_walk("refused-piece");
}
TEST_CASE("a change of mind") {
  run_walk("change-of-mind");
}
TEST_CASE("a slip with the drill") {
  run_walk("slip");
}
