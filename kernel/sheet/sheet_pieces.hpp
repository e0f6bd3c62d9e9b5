#pragma once
/// A sheet's blocks measured and set, each a piece that no page cuts; and their way onto pages. Internal to
/// sheet/sheet_pages.hpp.
#include <memory>
#include <string>
#include <vector>

#include "sheet/sheet_document.hpp"

namespace culmwright {

namespace sheet_sizes {
constexpr double lettering = 2.5;
constexpr double line_pitch = 4.0;
constexpr double box = 7.4;  ///< height of a box to write in
constexpr double tick = 4.5;
constexpr double gap = 5.0;  ///< between pictures, and around them
constexpr double cell_inset = 1.2;
}  // namespace sheet_sizes

struct Piece {
  Block block;
  double before = 0.0;     ///< room above it, except at the top of a page
  bool with_next = false;  ///< never the last on a page
  bool with_step = false;  ///< nor this, unless what stands together is higher than a page
  bool new_page = false;
  bool whole_page = false;                ///< drawn as it is, as a page of its own
  std::shared_ptr<const Block> repeated;  ///< stands above it again where a page begins with it
  std::vector<Group> page_groups;         ///< of a whole page
  std::string page_title;
};

/// A block's pieces, for a column of that width.
std::vector<Piece> pieces_of(const SheetBlock& block, double width);
/// The caption and the heads stay with the first row.
std::vector<Piece> table_pieces(const SheetTable& table, double width);
/// A box to tick, its upper left corner at a place.
std::vector<Item> tick_box(Vec2 corner, bool ticked);
/// Facts as one block: names in a narrow column, words beside them.
Block facts_block(const SheetFacts& facts, double width);
/// A paragraph.
Block words_block(const std::string& words, double width, Weight weight = Weight::regular);
/// Level 2: a section's title; 3: a part's.
Piece heading_piece(const std::string& words, int level, double width);

/// Text on its baseline.
Text set_text(Vec2 at, const std::string& words, double height = sheet_sizes::lettering,
              Weight weight = Weight::regular, Anchor anchor = Anchor::start);

}  // namespace culmwright
