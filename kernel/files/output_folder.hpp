#pragma once
/// Output that never costs the maker anything of his own.
///
/// A folder is filled beside its place under a temporary name and put in place by renaming: whole, or not at
/// all. It holds "manifest.json" with the SHA-256 digest of every file that the program wrote. Next time, a
/// file is replaced or removed only if the manifest says that the program wrote it and its digest still is
/// what it was; what the program did not write is carried over. Where that cannot be done the problem names
/// the file, and the folder stays as it was.
#include <filesystem>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.hpp"

namespace culmwright {

/// The manifest's own name, which no output may take.
constexpr const char* manifest_name = "manifest.json";

/// One folder of output, to be filled and then committed.
class OutputFolder {
 public:
  /// Makes the temporary folder beside `target`, and the folders above it. Throws InputError when that cannot
  /// be done.
  explicit OutputFolder(std::filesystem::path target);
  /// Takes the temporary folder away again when nothing was committed.
  ~OutputFolder();
  OutputFolder(const OutputFolder&) = delete;
  OutputFolder& operator=(const OutputFolder&) = delete;

  /// Writes one file. `name`: relative, with / between folders ("guides/front.stl"). Throws InputError when
  /// the disk refuses. Precondition: the name stays inside the folder and was not added before.
  void add(const std::string& name, std::string_view bytes);
  /// For a writer that wants a path: where to write the file of that name before commit(). Its folder exists.
  std::filesystem::path path_for(const std::string& name);

  /// Digests of the files written so far, by name.
  std::map<std::string, std::string> digests() const;

  /// Puts the folder in place. Throws InputError with all files that stand in the way; the target is then
  /// untouched.
  void commit();

 private:
  void put_in_place();

  std::filesystem::path target_;
  std::filesystem::path temporary_;
  std::vector<std::string> names_;
  bool committed_ = false;
};

/// Writes a single file into a folder that keeps a manifest, under the same rules: by temporary name and
/// renaming, and over an existing file only if the program wrote it as it stands. Throws InputError.
void write_output_file(const std::filesystem::path& file, std::string_view bytes);

}  // namespace culmwright
