#pragma once
/// How things are looked at, and the lines that are then seen: plain values. They are made from solids by
/// solid/line_views.hpp and laid out on paper by paper/instrument_drawing.hpp.
#include <array>
#include <string>
#include <vector>

#include "layout/instrument.hpp"

namespace culmwright {

/// The instrument is held with its mouth end up. Front: the key line faces the onlooker; from the player's
/// left: the onlooker stands at the side that the player calls left. Mouth end and foot end: along the tube,
/// the front toward the lower edge of the page from the mouth end, toward its upper edge from the foot end
/// (first-angle projection under and over the front view). Axonometric: the front turned by 35° toward the
/// player's right, seen from 25° above.
enum class View { front, back, players_left, players_right, mouth_end, foot_end, axonometric };
constexpr std::array<View, 7> all_views = {View::front,         View::back,      View::players_left,
                                           View::players_right, View::mouth_end, View::foot_end,
                                           View::axonometric};
/// "front", "player's left".
const char* view_words(View view);

/// An orthographic view: unit vectors of space, right × up = toward.
struct ViewFrame {
  Vec3 right;   ///< to the right on the page
  Vec3 down;    ///< down the page
  Vec3 toward;  ///< toward the onlooker

  Vec2 seen(Vec3 p) const { return {dot(p, right), dot(p, down)}; }
};

/// In the tube's frame. A point of the axis keeps its height in the four views from the sides: seen(p).y =
/// ±z.
ViewFrame view_frame(const Instrument& instrument, View view);
/// The side views' frame about another direction: `facing` toward the onlooker, mouth end up.
ViewFrame view_toward(const Instrument& instrument, Angle facing);

/// A line as long as it runs without a corner that belongs to another edge; open unless its last point is its
/// first.
using SeenLine = std::vector<Vec2>;

/// What is seen of one thing in one view, in millimetres of the view's frame (ViewFrame::seen). Every piece
/// of an edge is in one of the lists only; longest lines first, then by place.
struct SeenThing {
  std::string name;  ///< "tube", "cup L1", "guide 2"
  std::vector<SeenLine> visible;
  std::vector<SeenLine> hidden;
};
struct LineView {
  ViewFrame frame;
  std::vector<SeenThing> things;  ///< in the order in which they were given
};

/// Least and greatest coordinates, hidden lines included; precondition: there is a line.
struct SeenBounds {
  Vec2 least;
  Vec2 greatest;
};
SeenBounds bounds_of(const LineView& view);

}  // namespace culmwright
