#pragma once
/// What a shop asks of its drill guides beyond bores, straps and sighting windows.
namespace culmwright {

struct GuideWishes {
  double joint_fit = 0.1;  ///< of a tongue in its notch, per side; press to slide fit (common practice)
};

}  // namespace culmwright
