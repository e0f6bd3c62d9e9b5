#include <catch2/catch.hpp>

#include "files/output_folder.hpp"
#include "files/sha256.hpp"
#include "shared.hpp"

using namespace culmwright;
using namespace culmwright::tests;
namespace fs = std::filesystem;

namespace {

using Contents = std::map<std::string, std::string>;

void make(const fs::path& target, const Contents& contents) {
  OutputFolder folder(target);
  for (const auto& [name, bytes] : contents) folder.add(name, bytes);
  folder.commit();
}

/// Every file below a folder, the manifest left out.
Contents contents_of(const fs::path& folder) {
  Contents contents;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (entry.is_directory() || entry.path().filename() == manifest_name) continue;
    contents[entry.path().lexically_relative(folder).generic_string()] = bytes_of(entry.path());
  }
  return contents;
}

/// What must not have been left behind beside the output.
std::size_t entries_in(const fs::path& folder) {
  return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder), fs::directory_iterator()));
}

const Contents first = {{"record.json", "{}\n"}, {"guides/front.stl", std::string("\0binary\xFF", 8)}};
const Contents second = {{"record.json", "{1}\n"}, {"cups/L1.stl", "cup"}};

}  // namespace

TEST_CASE("a folder appears whole, with a manifest of its digests") {
  TemporaryFolder at;
  OutputFolder folder(at.path() / "out" / "K1");
  for (const auto& [name, bytes] : first) folder.add(name, bytes);
  CHECK_FALSE(fs::exists(at.path() / "out" / "K1"));
  CHECK(folder.digests().at("record.json") == sha256("{}\n"));
  folder.commit();
  CHECK(contents_of(at.path() / "out" / "K1") == first);
  CHECK(entries_in(at.path() / "out") == 1);
  CHECK(
      bytes_of(at.path() / "out" / "K1" / manifest_name) ==
      "{\n  \"format\": \"culmwright manifest\",\n  \"version\": 1,\n  \"files\": [\n    {\n      \"file\": "
      "\"guides/front.stl\",\n      \"sha256\": \"" +
          sha256(first.at("guides/front.stl")) +
          "\"\n    },\n    {\n      \"file\": \"record.json\",\n      \"sha256\": \"" + sha256("{}\n") +
          "\"\n    }\n  ]\n}\n");
}

TEST_CASE("a folder that is not committed leaves nothing behind") {
  TemporaryFolder at;
  make(at.path() / "K1", first);
  {
    OutputFolder folder(at.path() / "K1");
    folder.add("record.json", "half");
  }
  CHECK(contents_of(at.path() / "K1") == first);
  CHECK(entries_in(at.path()) == 1);
}

TEST_CASE("the program's own files are replaced and those no longer made are removed") {
  TemporaryFolder at;
  make(at.path() / "K1", first);
  const std::string manifest = bytes_of(at.path() / "K1" / manifest_name);
  make(at.path() / "K1", first);
  CHECK(bytes_of(at.path() / "K1" / manifest_name) == manifest);
  make(at.path() / "K1/", second);
  CHECK(contents_of(at.path() / "K1") == second);
  CHECK(entries_in(at.path()) == 1);
}

TEST_CASE("a file that was changed by hand stops the whole folder and is named") {
  TemporaryFolder at;
  for (const char* name : {"record.json", "guides/front.stl"}) {  // one to be replaced, one to be removed
    const fs::path target = at.path() / ("K-" + fs::path(name).filename().string());
    make(target, first);
    write(target / name, "my own figures");
    const Contents before = contents_of(target);
    const Problems problems = problems_of([&] { make(target, second); });
    INFO(all_lines(problems));
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].code == "changed");
    CHECK(problems[0].where.file == (target / name).string());
    CHECK(contents_of(target) == before);
    fs::remove(target / name);
    make(target, second);
    CHECK(contents_of(target) == second);
  }
  CHECK(entries_in(at.path()) == 2);
}

TEST_CASE("the maker's own files are carried over, and never overwritten") {
  TemporaryFolder at;
  make(at.path() / "K1", first);
  write(at.path() / "K1" / "photo.jpg", "a picture");
  write(at.path() / "K1" / "guides" / "notes.txt", "try the left one first");
  fs::create_symlink("photo.jpg", at.path() / "K1" / "best.jpg");
  make(at.path() / "K1", second);
  CHECK(bytes_of(at.path() / "K1" / "photo.jpg") == "a picture");
  CHECK(bytes_of(at.path() / "K1" / "guides" / "notes.txt") == "try the left one first");
  CHECK(fs::is_symlink(at.path() / "K1" / "best.jpg"));
  CHECK_FALSE(fs::exists(at.path() / "K1" / "guides" / "front.stl"));
  write(at.path() / "K1" / "tube.step", "drawn by hand");
  const Problems problems = problems_of([&] { make(at.path() / "K1", {{"tube.step", "made"}}); });
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].code == "not-ours");
  CHECK(problems[0].where.file == (at.path() / "K1" / "tube.step").string());
  CHECK(bytes_of(at.path() / "K1" / "tube.step") == "drawn by hand");
}

TEST_CASE("a folder that the program never wrote keeps all its files") {
  TemporaryFolder at;
  write(at.path() / "K1" / "record.json", "somebody else's");
  Problems problems = problems_of([&] { make(at.path() / "K1", first); });
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].code == "not-ours");
  make(at.path() / "K1", {{"other.json", "{}"}});
  CHECK(contents_of(at.path() / "K1") == Contents{{"record.json", "somebody else's"}, {"other.json", "{}"}});
}

TEST_CASE("a file in the place of a folder, or a folder in the place of a file, stops the output") {
  TemporaryFolder at;
  write(at.path() / "K1", "a file");
  CHECK(problems_of([&] { make(at.path() / "K1", first); }).at(0).code == "not-ours");
  CHECK(bytes_of(at.path() / "K1") == "a file");
  write(at.path() / "K2" / "guides", "a file");
  CHECK(problems_of([&] { make(at.path() / "K2", first); }).at(0).code == "not-ours");
  write(at.path() / "K3" / "record.json" / "inner", "a file");
  CHECK(problems_of([&] { make(at.path() / "K3", first); }).at(0).code == "not-ours");
  CHECK(bytes_of(at.path() / "K3" / "record.json" / "inner") == "a file");
  CHECK(problems_of([&] { make(at.path() / "K1" / "below", first); }).at(0).code == "disk");
}

TEST_CASE("a manifest that cannot be read makes no file the program's") {
  TemporaryFolder at;
  make(at.path() / "K1", first);
  for (const char* broken :
       {"", "{", "{\"format\": \"culmwright manifest\", \"version\": 1, \"files\": [{}]}"}) {
    write(at.path() / "K1" / manifest_name, broken);
    const Problems problems = problems_of([&] { make(at.path() / "K1", second); });
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].code == "manifest");
    CHECK(contents_of(at.path() / "K1") == first);
  }
}

TEST_CASE("a single file is guarded by the manifest of its folder") {
  TemporaryFolder at;
  const fs::path file = at.path() / "out" / "summary.json";
  write_output_file(file, "1");
  write_output_file(at.path() / "out" / "other.svg", "<svg/>");
  write_output_file(file, "2");
  CHECK(contents_of(at.path() / "out") == Contents{{"summary.json", "2"}, {"other.svg", "<svg/>"}});
  write(file, "3, by hand");
  CHECK(problems_of([&] { write_output_file(file, "4"); }).at(0).code == "changed");
  CHECK(bytes_of(file) == "3, by hand");
  write_output_file(file, "3, by hand");  // the same bytes replace nothing
  write_output_file(file, "5");
  CHECK(bytes_of(file) == "5");
  write(at.path() / "out" / "mine.txt", "mine");
  CHECK(problems_of([&] { write_output_file(at.path() / "out" / "mine.txt", "x"); }).at(0).code ==
        "not-ours");
  CHECK(entries_in(at.path() / "out") == 4);
}

TEST_CASE("a place that may not be written to is named") {
  const Problems problems = problems_of([] { make("/proc/culmwright", first); });
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].code == "disk");
}
