/// How long proposing takes: a made-up culm of 900 mm with four nodes and a key layout of 17 keys; both ends
/// as mouth end, 72 facings, hand marks in steps of 1 mm. Processor time of one run.
#include <cstdio>
#include <ctime>

#include "fit/propose.hpp"
#include "propose_cases.hpp"

namespace {

using namespace culmwright;

double seconds() {
  return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

void run(const char* what, const Tube& tube, const KeyLayout& layout, const ProposeOptions& wanted) {
  ProposeFigures figures;
  ProposeOptions options = wanted;
  options.figures = &figures;
  const double begin = seconds();
  const auto result = propose(tube, test::facts_of_culm(), layout, options);
  const double passed = seconds() - begin;
  std::printf("%s: %.3f s\n", what, passed);
  std::printf("  hand marks bounded  %10lld, %.2f million a second\n", figures.marks_judged,
              1e-6 * static_cast<double>(figures.marks_judged) / passed);
  std::printf("  pairs of hands      %10lld, %.2f million a second\n", figures.pairs_judged,
              1e-6 * static_cast<double>(figures.pairs_judged) / passed);
  std::printf("  settled %d, checked %d\n", figures.settled, figures.checked);
  if (const auto* proposals = std::get_if<std::vector<Proposal>>(&result)) {
    for (const Proposal& p : *proposals) std::printf("  %6.2f  %s\n", p.score, p.character.c_str());
  } else {
    std::printf("  %s\n", std::get<Refusal>(result).sentence.c_str());
  }
}

}  // namespace

int main() {
  const Tube tube = test::long_culm(900.0, 4);
  const KeyLayout layout = test::tenor_of_17();
  run("17 keys, 900 mm, 4 nodes", tube, layout, {});
  ProposeOptions one;
  one.count = 1;
  run("the best only", tube, layout, one);
}
