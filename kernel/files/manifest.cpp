#include "files/manifest.hpp"

#include "files/file_text.hpp"
#include "files/output_folder.hpp"
#include "files/sha256.hpp"
#include "files/table.hpp"

namespace culmwright::files {

namespace {

constexpr std::size_t largest_output = std::size_t{2} << 30;

struct Entry {
  std::string file;
  std::string sha256;
};
struct Document {
  std::string format;
  int version = 1;
  std::vector<Entry> files;
};

const Table<Document>& manifest_table() {
  static const Table<Document> table =
      Table<Document>("a manifest")
          .required("format", &Document::format,
                    choice<std::string>({{"culmwright manifest", "culmwright manifest"}}),
                    "The kind of document")
          .required("version", &Document::version, whole_number(1, 1), "Version of the format")
          .required("files", &Document::files,
                    list(object(Table<Entry>("an entry")
                                    .required("file", &Entry::file, file_name(), "Name of the file")
                                    .required("sha256", &Entry::sha256, line_of_text(64), "Its digest")),
                         0, 20000, "files"),
                    "The files that the program wrote");
  return table;
}

}  // namespace

Manifest read_manifest(const std::filesystem::path& folder, Problems& problems) {
  const std::filesystem::path file = folder / manifest_name;
  Manifest manifest;
  std::error_code error;
  if (!std::filesystem::exists(std::filesystem::symlink_status(file, error))) return manifest;
  Problems found;
  Problem problem;
  Document document;
  const std::optional<std::string> text = file_bytes(file, largest_file, problem);
  const std::optional<JsonNode> node = text ? parse_json(*text, file.string(), false, found) : std::nullopt;
  if (node) {
    Reading reading(found, 1.0);
    manifest_table().read(*node, "", reading, document);
  }
  if (!node || !found.empty()) {
    problem.code = "manifest";
    problem.where.file = file.string();
    problem.found = "a manifest that cannot be read";
    problem.allowed = "the manifest as the program wrote it";
    problem.advice = "Move the folder away, or choose another one for the output";
    problems.push_back(problem);
    return manifest;
  }
  for (const Entry& entry : document.files) manifest[entry.file] = entry.sha256;
  return manifest;
}

std::string manifest_to_json(const Manifest& manifest) {
  Document document;
  document.format = "culmwright manifest";
  for (const auto& [file, digest] : manifest) document.files.push_back({file, digest});
  JsonValue out = JsonValue::object();
  manifest_table().write(document, out);
  if (manifest.empty()) out.set("files", JsonValue::array());
  return to_text(out);
}

std::optional<std::string> digest_of(const std::filesystem::path& file) {
  Problem problem;
  const std::optional<std::string> bytes = file_bytes(file, largest_output, problem);
  return bytes ? std::optional<std::string>(sha256(*bytes)) : std::nullopt;
}

}  // namespace culmwright::files
