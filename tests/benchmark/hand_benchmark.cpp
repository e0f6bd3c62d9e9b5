/// How long laying a hand on a tube takes, processor time of one run, beside one solve of the same problem
/// from one start by a general least-squares library. The program's own solver makes four starts in that
/// time.
#include <cstdio>
#include <ctime>

#include "ceres_hand.hpp"
#include "hand/comfort.hpp"
#include "hand_samples.hpp"

namespace {

using namespace culmwright;

template <class F>
double milliseconds_for(const F& call) {
  const std::clock_t begin = std::clock();
  int calls = 0;
  double passed = 0.0;
  do {
    call();
    ++calls;
    passed = static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
  } while (passed < 0.5);
  return 1000.0 * passed / calls;
}

/// As the program starts: the palm pitched, every joint relaxed.
HandState plain_start(const HandModel& hand, const HandTask& task) {
  HandState state;
  const Vec3 foot = task.tube.toward_foot;
  Vector6 pitch = Vector6::Zero();
  pitch[3] = 1.0;
  state.palm =
      moved_palm({foot, cross(task.front, foot), task.front, task.tube.middle + Vec3{0, -90, 0}}, pitch);
  for (const ReachTask& place : task.places) state.turns.push_back(hand.finger(place.finger).relaxed);
  return state;
}

void report(const char* name, const HandModel& hand, const HandTask& task) {
  const double own = milliseconds_for([&] { lay_hand(hand, task); });
  const HandState start = plain_start(hand, task);
  int steps = 0;
  const double library = milliseconds_for([&] { steps = test::solve_by_ceres(hand, task, start).steps; });
  const double comfort = milliseconds_for([&] { hand_comfort(hand, task); });
  std::printf("%-14s own %.3f ms, library %.3f ms (one start, %d steps), ratio %.1f; comfort %.3f ms\n", name,
              own, library, steps, library / own, comfort);
}

/// Side keys are not in the library's twin.
void report_own(const char* name, const HandModel& hand, const HandTask& task) {
  const double own = milliseconds_for([&] { lay_hand(hand, task); });
  const double comfort = milliseconds_for([&] { hand_comfort(hand, task); });
  std::printf("%-14s own %.3f ms; comfort %.3f ms\n", name, own, comfort);
}

}  // namespace

int main() {
  const HandModel hand = hand_model({184, 82});
  report("three fingers", hand, test::right_hand_of_three());
  report("six places", hand, test::right_hand_of_six());
  HandTask with_sides = test::right_hand_of_six();
  for (const test::SamplePlace& side :
       {test::SamplePlace{"RA", Finger::side, 4, -27}, test::SamplePlace{"RB", Finger::side, 25, -26.5}}) {
    with_sides.places.push_back(test::task_on_round_tube(Hand::right, 17.0, {side}).places.front());
  }
  report_own("eight places", hand, with_sides);
  return 0;
}
