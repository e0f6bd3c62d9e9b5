#pragma once
/// The change of frame between the tube and the instrument as played; computed here and nowhere else.
///
///      mouth end A                      mouth end B: the same piece, turned upside down about the front
///
///     end A = mouth                         end B = mouth
///    ,------:-----.   - mouth cut          ,------:-----.   - mouth cut
///    |      :     |   |                    |      :     |   |
///    |   o  :---->|   | along              |      :---->|   | along      o  datum mark (at = 0)
///    |      :     |   v                    |      :   o |   v            :  key line
///    |      :     |                        |      :     |                -> around as played grows to the
///    `------:-----'   - foot cut           `------:-----'   - foot cut      right of the one who looks at
///    the
///     end B = foot                          end A = foot                    front: the player's left
///
///    along  = at − mouth cut                along  = mouth cut − at
///    around = tube's − key line's           around = key line's − tube's
///
/// The key line is the construction of the reference line at another angle: where the skin meets the half
/// plane through the z axis at `facing`. Its own arc length from the reference line is taken in each section,
/// so on a bent or oval piece it is as straight as the reference line.
#include "tube/tube.hpp"

namespace culmwright {

/// A place as the player sees it: `along` from the mouth cut toward the foot, `around` in millimetres of skin
/// from the key line, to the right of the onlooker with the mouth end up (the player's left).
struct PlayedPlace {
  double along = 0.0;
  double around = 0.0;
};

class PlayedFrame {
 public:
  /// Precondition: both cuts lie within the tube, the mouth cut nearer to `mouth_end` than the foot cut.
  PlayedFrame(Tube tube, End mouth_end, double mouth_cut_at, double foot_cut_at, Angle facing);

  /// Along the tube, no skin needed.
  double along(double at) const { return sense_ * (at - mouth_cut_at_) + 0.0; }  // no minus zero
  double at(double along) const { return mouth_cut_at_ + sense_ * along; }

  /// The key line's `around` in tube coordinates at a section; in (−girth/2, girth/2].
  double key_line_around(double at) const;
  /// The direction of the normal where the key line crosses the section.
  Angle key_line_theta(double at) const;

  /// Both ways; `around` of the result is in (−girth/2, girth/2], and each undoes the other to 1e-9 mm there.
  /// Precondition: the section exists (Tube::section).
  PlayedPlace played(SkinPlace place) const;
  SkinPlace on_tube(PlayedPlace place) const;

  double length() const { return along(foot_cut_at_); }
  End mouth_end() const { return mouth_end_; }
  Angle facing() const { return facing_; }
  const Tube& tube() const { return tube_; }

 private:
  Tube tube_;
  End mouth_end_;
  double sense_;  ///< +1 with mouth end A, −1 with mouth end B
  double mouth_cut_at_;
  double foot_cut_at_;
  Angle facing_;
};

/// `around` reduced to (−girth/2, girth/2].
double wrapped(double around, double girth);

}  // namespace culmwright
