#include "plan/line_view.hpp"

#include <algorithm>

namespace culmwright {

namespace {

constexpr double axonometric_turn_deg = 35.0;
constexpr double axonometric_above_deg = 25.0;

ViewFrame frame_of(Vec3 toward, Vec3 up) {
  const Vec3 right = unit(cross(up, toward));
  return {right, -cross(toward, right), toward};
}

}  // namespace

const char* view_words(View view) {
  switch (view) {
    case View::front:
      return "front";
    case View::back:
      return "back";
    case View::players_left:
      return "player's left";
    case View::players_right:
      return "player's right";
    case View::mouth_end:
      return "mouth end";
    case View::foot_end:
      return "foot end";
    case View::axonometric:
      return "axonometric";
  }
  return "";
}

ViewFrame view_toward(const Instrument& instrument, Angle facing) {
  const Vec3 up{0.0, 0.0, instrument.mouth_end == End::a ? 1.0 : -1.0};
  return frame_of({facing.cos(), facing.sin(), 0.0}, up);
}

ViewFrame view_frame(const Instrument& instrument, View view) {
  const ViewFrame front = view_toward(instrument, instrument.facing);
  const Vec3 up = -front.down;
  switch (view) {
    case View::front:
      break;
    case View::back:
      return frame_of(-front.toward, up);
    case View::players_left:
      return frame_of(front.right, up);
    case View::players_right:
      return frame_of(-front.right, up);
    case View::mouth_end:
      return frame_of(up, -front.toward);
    case View::foot_end:
      return frame_of(-up, front.toward);
    case View::axonometric: {
      const Angle turn = Angle::from_degrees(axonometric_turn_deg);
      const Angle above = Angle::from_degrees(axonometric_above_deg);
      const Vec3 level = front.toward * turn.cos() + front.right * turn.sin();
      return frame_of(level * above.cos() + up * above.sin(), up);
    }
  }
  return front;
}

SeenBounds bounds_of(const LineView& view) {
  SeenBounds bounds{{1e300, 1e300}, {-1e300, -1e300}};
  const auto add = [&](const std::vector<SeenLine>& lines) {
    for (const SeenLine& line : lines) {
      for (const Vec2& p : line) {
        bounds.least = {std::min(bounds.least.x, p.x), std::min(bounds.least.y, p.y)};
        bounds.greatest = {std::max(bounds.greatest.x, p.x), std::max(bounds.greatest.y, p.y)};
      }
    }
  };
  for (const SeenThing& thing : view.things) {
    add(thing.visible);
    add(thing.hidden);
  }
  return bounds;
}

}  // namespace culmwright
