#include "fit/hands.hpp"

namespace culmwright {

bool is_under_hand(const Key& key) {
  return key.finger != Finger::thumb && key.finger != Finger::side;
}

Hand upper_hand(const KeyLayout& layout) {
  double sum[2] = {0.0, 0.0};
  int count[2] = {0, 0};
  for (const Key& key : layout.keys) {
    if (!is_under_hand(key)) continue;
    const bool right = key.hand == Hand::right;
    sum[right] += (right ? layout.right : layout.left).along + key.along;
    ++count[right];
  }
  return sum[0] * count[1] <= sum[1] * count[0] ? Hand::left : Hand::right;
}

}  // namespace culmwright
