#pragma once
/// Running other people's programs on what was written.
#include <sys/wait.h>

#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

namespace culmwright::test {

struct Ran {
  int code = 0;
  std::string output;
};

inline Ran run(const std::string& command) {
  Ran ran;
  FILE* pipe = popen((command + " 2>&1").c_str(), "r");
  if (pipe == nullptr) return {127, "the shell could not be started"};
  char part[4096];
  while (std::size_t got = fread(part, 1, sizeof part, pipe)) ran.output.append(part, got);
  const int status = pclose(pipe);
  ran.code = WIFEXITED(status) ? WEXITSTATUS(status) : 128;
  return ran;
}

/// Fails the test with what to install when the program is not there.
inline void need_program(const std::string& name, const std::string& debian_package) {
  if (run("command -v " + name).code != 0) {
    FAIL("this test needs the program " << name << ": apt-get install " << debian_package);
  }
}

/// A fresh folder that goes away with the test.
class TemporaryFolder {
 public:
  TemporaryFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "culmwright-test-XXXXXX").string();
    REQUIRE(mkdtemp(name.data()) != nullptr);
    path_ = name;
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  std::string file(const std::string& name) const { return (path_ / name).string(); }

 private:
  std::filesystem::path path_;
};

inline void write_file(const std::string& name, const std::string& bytes) {
  std::ofstream out(name, std::ios::binary);
  out << bytes;
  REQUIRE(out.good());
}

inline std::string read_file(const std::string& name) {
  std::ifstream in(name, std::ios::binary);
  REQUIRE(in.good());
  std::ostringstream bytes;
  bytes << in.rdbuf();
  return bytes.str();
}

}  // namespace culmwright::test
