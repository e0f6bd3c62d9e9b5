#include "files/output_folder.hpp"

#include <algorithm>
#include <fstream>

#include "files/manifest.hpp"
#include "files/sha256.hpp"

namespace culmwright {

namespace fs = std::filesystem;
using files::Manifest;

namespace {

Problem output_problem(const char* code, const fs::path& file, std::string found, std::string allowed,
                       std::string advice) {
  return {code, {file.string(), 0, 0, ""}, std::move(found), std::move(allowed), std::move(advice)};
}

[[noreturn]] void disk_refused(const fs::path& file, const std::error_code& error) {
  throw InputError(
      {output_problem("disk", file, "the disk's refusal (" + error.message() + ")",
                      "a folder that may be written to", "Check the place, its rights and its free space")});
}

void check(const std::error_code& error, const fs::path& file) {
  if (error) disk_refused(file, error);
}

void write_bytes(const fs::path& file, std::string_view bytes) {
  std::ofstream stream(file, std::ios::binary | std::ios::trunc);
  stream.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  stream.close();
  if (!stream) disk_refused(file, std::make_error_code(std::errc::io_error));
}

/// A name beside `target` that nothing has yet.
fs::path free_name(const fs::path& target, const char* suffix) {
  for (int i = 0;; ++i) {
    fs::path name = target;
    name.replace_filename("." + target.filename().string() + suffix +
                          (i == 0 ? "" : "." + std::to_string(i)));
    if (!fs::exists(fs::symlink_status(name))) return name;
  }
}

bool stays_inside(const std::string& name) {
  const fs::path path(name);
  if (name.empty() || path.is_absolute()) return false;
  return std::none_of(path.begin(), path.end(),
                      [](const fs::path& part) { return part == ".." || part == "."; });
}

/// Everything in a folder that is no folder, by its name relative to it.
std::vector<std::string> files_in(const fs::path& folder) {
  std::vector<std::string> names;
  for (const fs::directory_entry& entry : fs::recursive_directory_iterator(folder)) {
    if (entry.is_symlink() || !entry.is_directory()) {
      names.push_back(entry.path().lexically_relative(folder).generic_string());
    }
  }
  std::sort(names.begin(), names.end());
  return names;
}

/// Whether the file there may be replaced by, or removed for, new output; otherwise the reason.
std::optional<Problem> keeps(const fs::path& file, const std::string& name, const Manifest& manifest) {
  const auto written = manifest.find(name);
  if (written == manifest.end()) {
    return output_problem("not-ours", file, "a file that the program did not write",
                          "no other file of that name", "Move or rename it, or choose another folder");
  }
  if (fs::is_symlink(file) || files::digest_of(file) != written->second) {
    return output_problem("changed", file, "a file that was changed after the program wrote it",
                          "the file as it was written",
                          "Move or rename it if you want to keep it, or delete it");
  }
  return std::nullopt;
}

/// Brings a file of the maker's into the new folder; the old one keeps its own until that one is in place.
void carry_over(const fs::path& from, const fs::path& to) {
  std::error_code error;
  fs::create_directories(to.parent_path(), error);
  check(error, to.parent_path());
  if (!fs::is_symlink(from)) {
    fs::create_hard_link(from, to, error);
    if (!error) return;
  }
  fs::copy(from, to, fs::copy_options::copy_symlinks, error);
  check(error, to);
}

/// What stands in `target` beside the new files: problems where it is in their way, otherwise the names to
/// carry over.
std::vector<std::string> foreign_files(const fs::path& target, const Manifest& fresh) {
  Problems problems;
  const Manifest manifest = files::read_manifest(target, problems);
  std::vector<std::string> foreign;
  if (problems.empty()) {
    for (const std::string& name : files_in(target)) {
      if (name == manifest_name) continue;
      const bool wanted = fresh.count(name) > 0;
      if (manifest.count(name) == 0 && !wanted) {
        foreign.push_back(name);
        continue;
      }
      // The same bytes again replace nothing.
      if (wanted && !fs::is_symlink(target / name) && files::digest_of(target / name) == fresh.at(name))
        continue;
      if (std::optional<Problem> problem = keeps(target / name, name, manifest)) problems.push_back(*problem);
    }
  }
  if (!problems.empty()) throw InputError(std::move(problems));
  return foreign;
}

/// A folder of the maker's stands where a new file goes, or the other way round.
void check_kinds(const fs::path& temporary, const std::vector<std::string>& foreign, const fs::path& target) {
  Problems problems;
  for (const std::string& name : foreign) {
    fs::path way = temporary / name;
    bool blocked = fs::exists(fs::symlink_status(way));
    for (way = way.parent_path(); way != temporary && !blocked; way = way.parent_path()) {
      blocked = fs::exists(way) && !fs::is_directory(way);
    }
    if (blocked) {
      problems.push_back(output_problem("not-ours", target / name, "a file in the place of new output",
                                        "no other file of that name",
                                        "Move or rename it, or choose another folder"));
    }
  }
  if (!problems.empty()) throw InputError(std::move(problems));
}

void swap_in(const fs::path& temporary, const fs::path& target) {
  std::error_code error;
  const fs::path before = free_name(target, ".before");
  fs::rename(target, before, error);
  check(error, target);
  fs::rename(temporary, target, error);
  if (error) {
    std::error_code back;
    fs::rename(before, target, back);
    disk_refused(target, error);
  }
  fs::remove_all(before, error);  // a rest left behind under its hidden name harms nobody
}

}  // namespace

OutputFolder::OutputFolder(fs::path target) {
  std::error_code error;
  target_ = fs::absolute(target.lexically_normal(), error);
  check(error, target);
  if (!target_.has_filename()) target_ = target_.parent_path();
  // A link to a folder stands for that folder: it is what is replaced, not the link.
  if (fs::is_symlink(target_)) target_ = fs::canonical(target_, error);
  check(error, target);
  fs::create_directories(target_.parent_path(), error);
  check(error, target_.parent_path());
  temporary_ = free_name(target_, ".new");
  fs::create_directory(temporary_, error);
  check(error, temporary_);
}

OutputFolder::~OutputFolder() {
  std::error_code error;
  if (!committed_) fs::remove_all(temporary_, error);
}

void OutputFolder::add(const std::string& name, std::string_view bytes) {
  write_bytes(path_for(name), bytes);
}

fs::path OutputFolder::path_for(const std::string& name) {
  require(stays_inside(name) && name != manifest_name, "an output file lies inside its folder");
  require(std::find(names_.begin(), names_.end(), name) == names_.end(), "an output file is written once");
  names_.push_back(name);
  const fs::path file = temporary_ / name;
  std::error_code error;
  fs::create_directories(file.parent_path(), error);
  check(error, file.parent_path());
  return file;
}

Manifest OutputFolder::digests() const {
  Manifest digests;
  for (const std::string& name : names_) {
    const std::optional<std::string> digest = files::digest_of(temporary_ / name);
    require(digest.has_value(), "an output file was written before its digest is asked for");
    digests[name] = *digest;
  }
  return digests;
}

void OutputFolder::commit() {
  require(!committed_, "a folder is committed once");
  try {
    put_in_place();
  } catch (const fs::filesystem_error& error) {  // from walking through the folder
    disk_refused(target_, error.code());
  }
  committed_ = true;
}

void OutputFolder::put_in_place() {
  const Manifest fresh = digests();
  write_bytes(temporary_ / manifest_name, files::manifest_to_json(fresh));
  std::error_code error;
  if (!fs::exists(fs::symlink_status(target_))) {
    fs::rename(temporary_, target_, error);
    check(error, target_);
  } else {
    if (!fs::is_directory(target_)) {
      throw InputError({output_problem("not-ours", target_, "a file where the output folder goes", "a folder",
                                       "Move or rename it, or choose another folder")});
    }
    const std::vector<std::string> foreign = foreign_files(target_, fresh);
    check_kinds(temporary_, foreign, target_);
    for (const std::string& name : foreign) carry_over(target_ / name, temporary_ / name);
    swap_in(temporary_, target_);
  }
}

void write_output_file(const fs::path& file, std::string_view bytes) {
  const fs::path folder = fs::absolute(file).parent_path();
  const std::string name = file.filename().string();
  require(stays_inside(name) && name != manifest_name, "an output file has a name of its own");
  std::error_code error;
  fs::create_directories(folder, error);
  check(error, folder);
  Problems problems;
  Manifest manifest = files::read_manifest(folder, problems);
  if (!problems.empty()) throw InputError(std::move(problems));
  const fs::path target = folder / name;
  const std::string digest = sha256(bytes);
  const bool same = !fs::is_symlink(target) && files::digest_of(target) == digest;
  if (fs::exists(fs::symlink_status(target)) && !same) {
    if (std::optional<Problem> problem = keeps(target, name, manifest))
      throw InputError({std::move(*problem)});
  }
  const fs::path fresh = free_name(target, ".new");
  write_bytes(fresh, bytes);
  fs::rename(fresh, target, error);
  check(error, target);
  // Were the program to stop here, the same bytes would be accepted next time as they are.
  manifest[name] = digest;
  const fs::path listed = free_name(folder / manifest_name, ".new");
  write_bytes(listed, files::manifest_to_json(manifest));
  fs::rename(listed, folder / manifest_name, error);
  check(error, folder / manifest_name);
}

}  // namespace culmwright
