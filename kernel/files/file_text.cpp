#include "files/file_text.hpp"

#include <fstream>

namespace culmwright::files {

std::optional<std::string> file_bytes(const std::filesystem::path& file, std::size_t largest,
                                      Problem& problem) {
  std::error_code error;
  const auto refuse = [&](const char* code, std::string found, std::string allowed, std::string advice = "") {
    problem.code = code;
    problem.found = std::move(found);
    problem.allowed = std::move(allowed);
    problem.advice = std::move(advice);
    return std::nullopt;
  };
  const std::filesystem::file_status status = std::filesystem::status(file, error);
  if (!std::filesystem::exists(status)) {
    return refuse("no-file", "no file " + file.string(), "a file that exists",
                  "Check the name and the folder");
  }
  // Only a plain file has an end that can be waited for.
  if (!std::filesystem::is_regular_file(status))
    return refuse("no-file", "something other than a file", "a file");
  std::ifstream stream(file, std::ios::binary);
  if (!stream) return refuse("no-file", "a file that may not be read", "a file that you may read");
  std::string bytes;
  char block[1 << 16];
  while (stream.read(block, sizeof block) || stream.gcount() > 0) {
    bytes.append(block, static_cast<std::size_t>(stream.gcount()));
    if (bytes.size() > largest) {
      return refuse("too-large", "more than " + std::to_string(largest) + " bytes",
                    "at most " + std::to_string(largest) + " bytes", "This is not a document of a workshop");
    }
  }
  if (stream.bad()) return refuse("no-file", "a file that broke off while it was read", "a sound file");
  return bytes;
}

}  // namespace culmwright::files
