#pragma once
/// The words of a sheet, set in columns: what the sheet is, how to check its scale, how to wrap it, what its
/// signs mean, how true it is.
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "drawing/drawing.hpp"
#include "paper/sheet_plan.hpp"

namespace culmwright {

/// Items about an origin at the upper left corner, panel_width wide.
struct Block {
  std::string id;
  std::string title;
  double height = 0.0;
  std::vector<Item> items;
};

/// Sets lines one under the other.
class BlockWriter {
 public:
  BlockWriter(std::string id, std::string title, double width = panel_width);
  BlockWriter& heading(const std::string& words);
  /// Words of 2.5 mm, wrapped.
  BlockWriter& words(const std::string& words, double indent = 0.0);
  BlockWriter& item(Item item);
  BlockWriter& down(double by);
  double y() const { return block_.height; }
  Block done() const { return block_; }

 private:
  Block block_;
  double width_;
};

/// The signs that a sheet can carry, in the order of the legend.
enum class Sign {
  outline,
  tab,
  rim,
  bits,
  drilled,
  touch,
  opening,
  footprint,
  slider,
  hand,
  node,
  relief,
  limit,
  blemish,
  keep_off,
  reference_line,
  key_line,
  cut,
  end,
  datum,
  joint,
  toward_mouth,
  middle
};
Block legend_block(const std::set<Sign>& signs);

/// A title block after ISO 7200: caption and entry of each field, in rows.
struct TitleBlock {
  std::string piece;       ///< the largest
  std::string instrument;  ///< may be empty: then only the piece is named
  std::string revision;
  std::string state;  ///< "DRAFT", "SIGNED OFF"; large
  std::string kind;   ///< of document
  std::string scale;
  std::string paper;
  int sheet = 1;
  int sheets = 1;
  /// Of the state: who signed and when, or what changed since; shortened to the width.
  std::string detail = {};
};
Block title_block(const TitleBlock& title);

/// Cut off with an ellipsis where it would be wider, set bold at 2.5.
std::string shortened(std::string words, double width);

/// The two bars of 100 mm from their common corner: to the right, and up.
std::vector<Item> scale_bars(Vec2 corner);
Block scale_check_block();

}  // namespace culmwright
