/// How long laying a hand on a tube takes, processor time of one run.
#include <cstdio>
#include <ctime>

#include "hand/hand_solve.hpp"
#include "hand_samples.hpp"

namespace {

using namespace culmwright;

double milliseconds_for(const HandModel& hand, const HandTask& task) {
  const std::clock_t begin = std::clock();
  int calls = 0;
  double passed = 0.0;
  do {
    const HandOnTube laid = lay_hand(hand, task);
    calls += laid.places.empty() ? 0 : 1;
    passed = static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
  } while (passed < 0.3);
  return 1000.0 * passed / calls;
}

}  // namespace

int main() {
  const HandModel hand = hand_model({184, 82});
  std::printf("three fingers  %.3f ms\n", milliseconds_for(hand, test::right_hand_of_three()));
  std::printf("six places     %.3f ms\n", milliseconds_for(hand, test::right_hand_of_six()));
  return 0;
}
