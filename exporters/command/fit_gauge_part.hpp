#pragma once
/// The fit gauge on its way to its files, with the words by which it is read.
#include <string>

#include "command/printed.hpp"
#include "layout/shop.hpp"
#include "plan/fit_gauge.hpp"

namespace culmwright::command {

/// Numbered, a paragraph a step.
std::string gauge_words(const FitGauge& gauge);

/// "fit-gauge.stl" and so on; drawn true, whatever the shop says that its printer shrinks. A gauge that the
/// bed has no room for is refused by name.
MadePart gauge_part(const FitGauge& gauge);

}  // namespace culmwright::command
