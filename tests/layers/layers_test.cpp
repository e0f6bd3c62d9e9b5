#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <sstream>
#include <string>

namespace fs = std::filesystem;

namespace {

const fs::path root = CULMWRIGHT_SOURCE_DIR;

std::string text_of(const fs::path& path) {
  std::ifstream file(path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

template <class Visit>
int for_each_source(const fs::path& folder, const Visit& visit) {
  int count = 0;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    const std::string extension = entry.path().extension().string();
    if (extension != ".cpp" && extension != ".hpp") continue;
    visit(entry.path(), fs::relative(entry.path(), root).generic_string(), text_of(entry.path()));
    ++count;
  }
  return count;
}

}  // namespace

TEST_CASE("nlohmann is seen in kernel/files alone, and there only in source files") {
  int seen = 0;
  for (const char* folder : {"kernel", "exporters"}) {
    for_each_source(root / folder, [&](const fs::path&, const std::string& name, const std::string& text) {
      if (text.find("nlohmann") == std::string::npos) return;
      INFO(name);
      ++seen;
      CHECK(std::regex_match(name, std::regex("kernel/files/.*\\.cpp")));
    });
  }
  CHECK(seen > 0);
}

TEST_CASE("the folders of the kernel include only what lies before them, and never an exporter") {
  // Data flows one way: each folder with those it may see.
  const std::vector<std::pair<std::string, std::string>> allowed = {
      {"base", "base"},
      {"tube", "base|tube"},
      {"layout", "base|tube|layout"},
      {"drawing", "base|tube|layout|drawing"},
      {"plan", "base|tube|layout|plan"},
      {"paper", "base|tube|layout|plan|drawing|paper"},
      {"hand", "base|tube|layout|hand"},
      {"fit", "base|tube|layout|paper|drawing|plan|hand|fit"},
      {"sheet", "base|tube|layout|drawing|paper|plan|hand|fit|sheet"},
      {"files", "base|tube|layout|files"},
      {"solid", "base|tube|layout|plan|solid"},
  };
  const std::regex include("#include \"([a-z_]+)/");
  for (const auto& [folder, seen] : allowed) {
    const std::regex may_see(seen);
    const int count = for_each_source(
        root / "kernel" / folder, [&](const fs::path&, const std::string& name, const std::string& text) {
          for (std::sregex_iterator it(text.begin(), text.end(), include), end; it != end; ++it) {
            INFO(name << " includes " << (*it)[1]);
            CHECK(std::regex_match((*it)[1].str(), may_see));
          }
        });
    INFO(folder);
    CHECK(count > 0);
  }
}

TEST_CASE("every public header of the kernel explains itself before its first declaration") {
  for_each_source(root / "kernel",
                  [](const fs::path& path, const std::string& name, const std::string& text) {
                    if (path.extension() != ".hpp") return;
                    INFO(name);
                    CHECK(std::regex_search(text.substr(0, 200), std::regex("^#pragma once\n///")));
                  });
}

TEST_CASE("no two headers define a class of one name: they would share what the linker takes for one") {
  std::map<std::string, std::string> where;
  const std::regex defined("(?:^|\n)(?:class|struct) (\\w+)(?: final)?(?: : [^{;]+)? \\{");
  const std::regex within("(?:^|\n)namespace ([\\w:]+) \\{");
  for (const char* folder : {"kernel", "exporters"}) {
    for_each_source(root / folder,
                    [&](const fs::path& path, const std::string& name, const std::string& text) {
                      if (path.extension() != ".hpp") return;
                      std::string space;
                      for (std::sregex_iterator it(text.begin(), text.end(), within), end; it != end; ++it)
                        space = (*it)[1];
                      for (std::sregex_iterator it(text.begin(), text.end(), defined), end; it != end; ++it) {
                        std::string& first = where[space + "::" + (*it)[1].str()];
                        INFO((*it)[1] << " in " << name << " and " << first);
                        CHECK(first.empty());
                        first = name;
                      }
                    });
  }
  CHECK(where.size() > 300);
}
