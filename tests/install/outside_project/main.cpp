/// Reads a tube and prints its girth in the middle: what anyone who builds on the kernel does first. Then a
/// survey plate as a solid, so that the B-rep part is linked too.
#include <cstdio>
#include <files/documents.hpp>
#include <plan/plate_plan.hpp>
#include <solid/plate_solid.hpp>
#include <tube/survey_fit.hpp>

int main(int count, char** words) {
  using namespace culmwright;
  if (count != 2) return 2;
  const TubeFit fit = fit_survey(read_tube(words[1]).value);
  GateLog log;
  const Solid plate = plate_solid(plan_plates(fit.tube()).front(), log);
  std::printf("%.4f\n", fit.tube().girth(100.0));
}
