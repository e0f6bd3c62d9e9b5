#pragma once
/// Shared by the tests of the documents.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "base/problem.hpp"
#include "files/documents.hpp"

namespace culmwright::tests {

/// The problems that a call throws; none when it returns.
template <class Call>
Problems problems_of(Call&& call) {
  try {
    call();
  } catch (const InputError& error) {
    return error.problems();
  }
  return {};
}

inline const Problem* with_code(const Problems& problems, const std::string& code) {
  const auto found =
      std::find_if(problems.begin(), problems.end(), [&](const Problem& p) { return p.code == code; });
  return found == problems.end() ? nullptr : &*found;
}

inline std::string all_lines(const Problems& problems) {
  std::string text;
  for (const Problem& problem : problems) text += "[" + problem.code + "] " + to_line(problem) + "\n";
  return text;
}

inline std::filesystem::path templates_folder() {
  return std::filesystem::path(CULMWRIGHT_SOURCE_DIR) / "templates";
}

inline std::string bytes_of(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

inline void write(const std::filesystem::path& file, const std::string& text) {
  std::filesystem::create_directories(file.parent_path());
  std::ofstream(file, std::ios::binary) << text;
}

/// `text` with the first `from` replaced; the test fails to make sense when it is not there.
inline std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t found = text.find(from);
  require(found != std::string::npos, "the text to be replaced is in the document");
  return text.replace(found, from.size(), to);
}

/// A folder of its own that goes away again.
class TemporaryFolder {
 public:
  TemporaryFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "culmwright_test_XXXXXX").string();
    require(mkdtemp(name.data()) != nullptr, "a temporary folder can be made");
    path_ = name;
  }
  ~TemporaryFolder() {
    std::error_code error;
    std::filesystem::remove_all(path_, error);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

/// The smallest useful tube.
inline const char* small_tube() {
  return R"({
  "format": "culmwright tube",
  "version": 1,
  "id": "K1",
  "material": "bamboo",
  "length": 400,
  "datum_from_end_a": 10,
  "stations": [
    {"at": 20, "girth": 94},
    {"at": 350, "girth": 100}
  ],
  "walls": [{"at": 0, "facing_deg": 0, "thickness": 4}],
  "nodes": [{"at_line": 180}]
}
)";
}

}  // namespace culmwright::tests
