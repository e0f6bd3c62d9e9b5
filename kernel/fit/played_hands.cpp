#include "fit/played_hands.hpp"

#include "hand/hand_sizes.hpp"

namespace culmwright {

std::vector<PlayedHand> played_hands(const Tube& tube, const KeyLayout& layout,
                                     const Instrument& instrument) {
  std::vector<PlayedHand> hands;
  if (!layout.hand_size) return hands;
  const HandModel model = hand_model(in_millimetres(*layout.hand_size));
  for (const Hand hand : {Hand::left, Hand::right}) {
    if (auto task = hand_task(tube, instrument, hand, layout.playing_angle)) {
      hands.push_back({model, std::move(*task)});
    }
  }
  return hands;
}

std::string words_of(Hand hand, Finger finger) {
  constexpr const char* fingers[] = {"thumb",       "index finger",  "middle finger",
                                     "ring finger", "little finger", "side of the index finger"};
  return std::string("the ") + (hand == Hand::left ? "left" : "right") + " hand's " +
         fingers[static_cast<int>(finger)];
}

}  // namespace culmwright
