#pragma once
/// What a sheet for the bench says, before it is a page of paper or of a browser: headings, words, tables,
/// pictures, steps to tick off, places to write, cautions. Nothing of a page or a file format is known here;
/// `sheet_pages` (sheet/sheet_pages.hpp) makes pages of it, `to_html` (exporters/html.hpp) one HTML file.
///
/// Pictures are pages of the display list as small as what they show; lengths are millimetres on paper.
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "drawing/drawing.hpp"
#include "paper/sheet_words.hpp"

namespace culmwright {

struct SheetWords {
  std::string words;
};

/// Stands beside what it belongs to, and is named a caution: no colour carries it.
struct SheetCaution {
  std::string words;
};

struct SheetList {
  std::vector<std::string> items;
};

struct SheetFact {
  std::string name;
  std::string words;
};
struct SheetFacts {
  std::vector<SheetFact> facts;
};

/// A place to write one thing.
struct SheetField {
  std::string label;
  std::string unit;     ///< after the box; may be empty
  double width = 24.0;  ///< of the box
};
struct SheetFields {
  std::vector<SheetField> fields;
};

/// Words, a place to write or a box to tick; `field` says for those who do not see the page what belongs
/// there or what is ticked off.
struct SheetCell {
  std::string words;
  std::string field;
  bool tick = false;
  bool ticked = false;
  std::string link;  ///< another file, from where this one lies; a browser follows it

  SheetCell() = default;
  SheetCell(std::string shown) : words(std::move(shown)) {}
  SheetCell(const char* shown) : words(shown) {}
  static SheetCell to_write(std::string what) {
    SheetCell cell;
    cell.field = std::move(what);
    return cell;
  }
  static SheetCell to_tick(std::string what, bool ticked = false) {
    SheetCell cell = to_write(std::move(what));
    cell.tick = true;
    cell.ticked = ticked;
    return cell;
  }
};
struct SheetColumn {
  std::string head;
  bool figures = false;  ///< stands at the right edge
};
/// The first cell of a row names it. Rows are never cut; the heads are repeated where the table goes over to
/// another page. Precondition: as many cells in every row as there are columns.
struct SheetTable {
  std::string caption;
  std::vector<SheetColumn> columns;
  std::vector<std::vector<SheetCell>> rows;
};

/// `page.title` names it and `page.description` tells it to those who do not see it.
struct SheetPicture {
  Page page;
  std::string caption;
};
/// Side by side where there is room.
struct SheetPictures {
  std::vector<SheetPicture> pictures;
};

/// Empty room to write, draw or glue in.
struct SheetRoom {
  std::string label;
  double height = 40.0;
  bool ruled = false;  ///< with lines to write on
};

/// Something to do, with a box to tick; `lines`: its parts, each with a box of its own. Not cut by the end of
/// a page unless it is longer than a page.
struct SheetStep {
  std::string id;  ///< unique in its document: letters, digits, hyphens
  std::string title;
  std::vector<std::string> words;
  std::optional<Page> picture;  ///< at most step_picture_room wide
  std::vector<std::string> cautions;
  std::vector<SheetField> fields;
  std::optional<SheetTable> lines;
  bool done = false;
};
constexpr double step_picture_room = 80.0;
/// Numbered from `first`.
struct SheetSteps {
  int first = 1;
  std::vector<SheetStep> steps;
};

using SheetBlock = std::variant<SheetWords, SheetCaution, SheetList, SheetFacts, SheetFields, SheetTable,
                                SheetPictures, SheetRoom, SheetSteps>;

struct SheetPart {
  std::string title;
  std::vector<SheetBlock> blocks;
};
/// Parts follow the section's own blocks.
struct SheetSection {
  std::string id;  ///< unique in its document: letters, digits, hyphens
  std::string title;
  std::vector<SheetBlock> blocks;
  std::vector<SheetPart> parts;
  bool new_page = false;  ///< begins one
};

/// What the eye meets first: the piece, large, and in a few words what it becomes.
struct SheetFront {
  std::optional<SheetPicture> picture;  ///< at most `front_picture_width` wide
  std::vector<SheetFact> facts;
  std::vector<std::string> words;
};
constexpr double front_picture_width = 92.0;

struct SheetDocument {
  TitleBlock title;     ///< sheet and sheets are filled in when it is laid out
  std::string heading;  ///< where it is not the piece
  SheetFront front;
  std::vector<SheetSection> sections;
};

}  // namespace culmwright
