#pragma once
/// Line drawings of an instrument, of its guides in place and of its cups: views in first-angle projection
/// with the dimensions a maker needs, on sheets with a title block; and the same views as small pictures for
/// other pages. ISO 128 line types, ISO 129 dimensions, ISO 5455 scales (1:1, 1:2, 1:5, 1:10; from memory).
///
/// Along counts from the mouth cut, around from the key line along the skin.
#include <map>
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "layout/shop.hpp"
#include "plan/guide_plan.hpp"
#include "plan/line_view.hpp"

namespace culmwright {

/// What is seen of the instrument.
struct InstrumentLines {
  std::map<View, LineView> views;  ///< tube, cups and parts in place
  std::map<View, LineView> bare;   ///< the tube alone, cut, drilled, its openings out
};
/// A guide on its stretch of tube: seen from above its middle, from its side, and from the tube's end.
struct GuideLines {
  std::string name;  ///< "guide 1"
  LineView above;
  LineView side;
  LineView end;
};
/// A cup where it stands, mouth end up the page: from the touch, and from the side.
struct CupLines {
  std::string id;  ///< of its key
  LineView above;
  LineView side;
};

struct DrawingOptions {
  PaperSize paper = PaperSize::a4;
  bool hidden = true;  ///< whether hidden edges are drawn
};

/// The whole instrument in its views; then the places of the holes at a larger scale, over as many sheets as
/// the tube takes. Throws InputError when the paper is too small.
Drawing instrument_sheets(const Tube& tube, const Instrument& instrument, const InstrumentLines& lines,
                          const DrawingOptions& options);
/// Each guide in place, with what it is set by. `plans` and `lines` side by side, in the same order.
Drawing guide_sheets(const Tube& tube, const Instrument& instrument, const std::vector<GuidePlan>& plans,
                     const std::vector<GuideLines>& lines, const DrawingOptions& options);
/// All cups beside each other, at one scale.
Drawing cup_sheets(const Instrument& instrument, const std::vector<CupLines>& lines,
                   const DrawingOptions& options);

/// The view in which a hole is seen most squarely: front, back, player's left or right.
View best_side(const Instrument& instrument, const PlacedKey& key);

/// One view as a small picture: a page as large as what it shows, at most `width` by `height`, at whatever
/// scale fills it; nothing but lines. `lying`: the mouth end to the left instead of up.
Page view_picture(const LineView& view, double width, double height, bool lying, bool hidden);

}  // namespace culmwright
