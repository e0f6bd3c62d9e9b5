#include "fit/frame.hpp"

#include <cmath>

namespace culmwright {

double wrapped(double around, double girth) {
  const double reduced = std::remainder(around, girth) + 0.0;  // no minus zero
  return reduced <= -0.5 * girth ? reduced + girth : reduced;
}

PlayedFrame::PlayedFrame(Tube tube, End mouth_end, double mouth_cut_at, double foot_cut_at, Angle facing)
    : tube_(std::move(tube)),
      mouth_end_(mouth_end),
      sense_(mouth_end == End::a ? 1.0 : -1.0),
      mouth_cut_at_(mouth_cut_at),
      foot_cut_at_(foot_cut_at),
      facing_(facing) {
  require(sense_ * (foot_cut_at - mouth_cut_at) > 0.0, "the mouth cut must lie toward the mouth end");
}

Angle PlayedFrame::key_line_theta(double at) const {
  return tube_.section(at).theta_on_half_plane(facing_);
}

double PlayedFrame::key_line_around(double at) const {
  const Section section = tube_.section(at);
  return section.around(section.theta_on_half_plane(facing_));
}

PlayedPlace PlayedFrame::played(SkinPlace place) const {
  const double from_key_line = sense_ * (place.around - key_line_around(place.at));
  return {along(place.at), wrapped(from_key_line, tube_.girth(place.at))};
}

SkinPlace PlayedFrame::on_tube(PlayedPlace place) const {
  const double at = this->at(place.along);
  return {at, wrapped(key_line_around(at) + sense_ * place.around, tube_.girth(at))};
}

}  // namespace culmwright
