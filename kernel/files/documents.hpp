#pragma once
/// The documents of a workshop, read and written. Every document is a JSON object with "format" and
/// "version"; one field table for each gives reader, range checks, writer and schema (table.hpp).
///
/// Reading throws InputError with ALL problems of the document (of a text that is no JSON: the first), each
/// with file, line, column, JSON pointer, what was found, what is allowed and what to do. A value that is
/// returned has passed the checks that need no solved geometry (tube/survey_check.hpp,
/// layout/check_values.hpp) and holds finite numbers only. Lengths of a tube, mock-up or as-drilled
/// document with "units": "inch" arrive in millimetres.
///
/// Writing is deterministic; what is written reads back as the same value, and written again gives the same
/// bytes. Documents that the program writes (placements) hold no comments; the others may.
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "files/locations.hpp"
#include "layout/as_drilled.hpp"
#include "layout/key_layout.hpp"
#include "layout/measured_mock_up.hpp"
#include "layout/placement.hpp"
#include "layout/shop.hpp"
#include "layout/workshop.hpp"
#include "tube/survey.hpp"

namespace culmwright {

enum class DocumentKind { tube, key_layout, shop, placement, workshop, mock_up, as_drilled };
constexpr DocumentKind all_document_kinds[] = {
    DocumentKind::tube,     DocumentKind::key_layout, DocumentKind::shop,      DocumentKind::placement,
    DocumentKind::workshop, DocumentKind::mock_up,    DocumentKind::as_drilled};

/// As in a sentence: "key layout". The format's name is "culmwright " and this.
const char* name_of(DocumentKind kind);
/// As in a file's name: "key_layout".
const char* file_stem_of(DocumentKind kind);

/// A value with where each of its parts stands: hand later problems with a pointer to located()
/// (locations.hpp).
template <class T>
struct Loaded {
  T value;
  Locations locations;
};

Loaded<Survey> read_tube(const std::filesystem::path& file);
Loaded<KeyLayout> read_key_layout(const std::filesystem::path& file);
Loaded<Shop> read_shop(const std::filesystem::path& file);
Loaded<Placement> read_placement(const std::filesystem::path& file);
Loaded<Workshop> read_workshop(const std::filesystem::path& file);
Loaded<MeasuredMockUp> read_mock_up(const std::filesystem::path& file);
/// A table by itself: readings or marks, as its columns say, in inches where `inches`.
Loaded<MeasuredMockUp> read_mock_up_table(const std::filesystem::path& file, bool inches = false);
Loaded<AsDrilled> read_as_drilled(const std::filesystem::path& file);
/// Its table by itself, in inches where `inches`; tube, placement and revision are those of `of`.
Loaded<AsDrilled> read_as_drilled_table(const std::filesystem::path& file, const AsDrilled& of,
                                        bool inches = false);

/// The same from a text. `name`: what messages call it; the CSV tables it names are looked for in `folder`.
Loaded<Survey> read_tube_text(std::string_view text, const std::string& name,
                              const std::filesystem::path& folder = {});
Loaded<KeyLayout> read_key_layout_text(std::string_view text, const std::string& name,
                                       const std::filesystem::path& folder = {});
Loaded<Shop> read_shop_text(std::string_view text, const std::string& name);
Loaded<Placement> read_placement_text(std::string_view text, const std::string& name);
Loaded<Workshop> read_workshop_text(std::string_view text, const std::string& name);
Loaded<MeasuredMockUp> read_mock_up_text(std::string_view text, const std::string& name,
                                         const std::filesystem::path& folder = {});
Loaded<AsDrilled> read_as_drilled_text(std::string_view text, const std::string& name,
                                       const std::filesystem::path& folder = {});

std::string tube_to_json(const Survey& survey);
std::string key_layout_to_json(const KeyLayout& layout);
std::string shop_to_json(const Shop& shop);
std::string placement_to_json(const Placement& placement);
std::string workshop_to_json(const Workshop& workshop);
std::string mock_up_to_json(const MeasuredMockUp& mock_up);
std::string as_drilled_to_json(const AsDrilled& as_drilled);

/// What a file says it is. Throws InputError when it cannot be read or is none of the program's documents.
DocumentKind kind_of_file(const std::filesystem::path& file);

/// The JSON Schema (draft 2020-12) of a document.
std::string schema_text(DocumentKind kind);

/// A workshop with everything it names. Placements have been held against their tube and key layout, ids are
/// unique among documents of a kind, `tube` and `key_layout` are places in the lists, and every
/// as-drilled document names one of the placements and its tube, none the same as another.
struct LoadedWorkshop {
  struct Job {
    Loaded<Placement> placement;
    std::size_t tube = 0;
    std::size_t key_layout = 0;
  };
  Loaded<Workshop> workshop;
  std::vector<Loaded<Survey>> tubes;
  std::vector<Loaded<KeyLayout>> key_layouts;
  Loaded<Shop> shop;
  std::vector<Job> jobs;
  std::vector<Loaded<AsDrilled>> as_drilled;
};

/// Throws InputError with the problems of all the documents together.
LoadedWorkshop read_whole_workshop(const std::filesystem::path& file);

}  // namespace culmwright
