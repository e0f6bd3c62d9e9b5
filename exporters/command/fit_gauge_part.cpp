#include "command/fit_gauge_part.hpp"

#include "command/terminal.hpp"
#include "solid/fit_gauge_solid.hpp"

namespace culmwright::command {

std::string gauge_words(const FitGauge& gauge) {
  std::string text = "How to read the fit gauge. What it gives goes into the shop's document.\n\n";
  int number = 0;
  for (const std::string& step : reading_steps(gauge)) {
    text += wrapped(std::to_string(++number) + ". " + step, 2) + "\n";
  }
  return text;
}

MadePart gauge_part(const FitGauge& gauge) {
  MadePart part;
  part.name = gauge.part();
  part.stem = file_name(gauge.part());
  guard_part(part, [&](MadePart& made) {
    const Solid solid = fit_gauge_solid(gauge, made.gate);
    write_printed(made, solid, gauge_accuracy, RigidMotion{}, RigidMotion{}, gauge.part());
  });
  return part;
}

}  // namespace culmwright::command
