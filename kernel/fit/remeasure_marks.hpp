#pragma once
/// A first key layout from the hands alone: finger marks on a paper wrap, with no key layout or placement
/// before.
///
/// A hand's mark is where its index finger lies along the tube, on the key line: the maker finds it again on
/// every piece, and a key added later does not move it. Of two keys of the index finger the one nearer to the
/// mouth counts; a hand without one has its mark in the middle of its keys. What the marks do not say is
/// common practice: hole 9 mm, touch 16 mm round, leeway 4 mm along and 2 mm around.
#include "fit/remeasure.hpp"
#include "layout/key_layout.hpp"

namespace culmwright {

struct FirstLayoutOptions {
  std::string layout_id;
  std::string placement_id;  ///< empty: the key layout's on the tube's
  std::string date;          ///< empty: the mock-up's
  End mouth_end = End::a;    ///< where the marks' `along` begins: the end of the piece itself
  Angle facing;              ///< of the key line, from the reference line; 0: it is the reference line
  RemeasureOptions remeasure;
};

struct FirstLayout {
  KeyLayout layout;
  Remeasured measured;  ///< the placement has one revision; every key is listed as measured
};

constexpr double usual_hole = 9.0;
constexpr Leeway usual_leeway{4.0, 2.0};

/// Every mark names hand and finger and has both numbers; further readings may refer to them. Throws
/// InputError with every problem, with pointers of the mock-up document.
FirstLayout layout_from_marks(const Tube& tube, const MeasuredMockUp& mock_up,
                              const FirstLayoutOptions& options);

}  // namespace culmwright
