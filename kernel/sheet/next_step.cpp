#include "sheet/next_step.hpp"

#include <algorithm>

#include "base/words.hpp"
#include "fit/sign.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

Next of_the_piece(const PieceFigures& figures) {
  if (!figures.good_enough) {
    return {NextStep::measure_more, "The survey knows a hole's place to " +
                                        fixed_text(figures.hole_error, 2) + " mm; fingers accept " +
                                        fixed_text(accepted_by_fingers, 1) +
                                        ". The command survey names the reading that helps most."};
  }
  return {NextStep::propose, "Nothing is placed on it yet."};
}

std::size_t finished_holes(const Instrument& instrument) {
  return static_cast<std::size_t>(std::count_if(
      instrument.keys.begin(), instrument.keys.end(),
      [](const PlacedKey& key) { return key.drilled && key.drilled->state == DrilledState::finished; }));
}

bool touched(const Instrument& instrument) {
  return std::any_of(instrument.keys.begin(), instrument.keys.end(), [](const PlacedKey& key) {
    return key.origin == Origin::measured || key.origin == Origin::shifted;
  });
}

Next of_what_is_broken(const std::vector<Finding>& broken) {
  std::string why = broken.front().sentence;
  if (broken.size() > 1) why += " And " + std::to_string(broken.size() - 1) + " more.";
  return {NextStep::mend, why};
}

Next of_the_signed(const Instrument& instrument) {
  const std::size_t finished = finished_holes(instrument);
  const std::size_t all = instrument.keys.size();
  if (finished == all)
    return {NextStep::fit, "Every hole is measured as drilled: cups to size, then the record."};
  return {NextStep::drill, std::to_string(finished) + " of " + std::to_string(all) +
                               " holes are measured as finished. Measure two girths again before drilling."};
}

}  // namespace

const char* step_words(NextStep step) {
  switch (step) {
    case NextStep::put_aside:
      return "put aside";
    case NextStep::measure_more:
      return "measure more";
    case NextStep::propose:
      return "propose";
    case NextStep::mend:
      return "mend the placement";
    case NextStep::mock_up:
      return "mock up";
    case NextStep::sign:
      return "sign";
    case NextStep::drill:
      return "drill";
    case NextStep::fit:
      break;
  }
  return "fit";
}

Next next_for(const PieceFigures& figures, const Instrument* instrument,
              const std::vector<Finding>& findings) {
  if (figures.verdict == Verdict::aside) {
    return {NextStep::put_aside,
            figures.verdict_note.empty() ? "By the maker's verdict." : figures.verdict_note};
  }
  if (instrument == nullptr) return of_the_piece(figures);
  const bool holds = instrument->sign.signed_off();
  std::vector<Finding> broken;
  for (const Finding& finding :
       not_accepted(findings, holds ? instrument->sign.accepted : std::vector<Accepted>{})) {
    if (finding.severity == Severity::hard) broken.push_back(finding);
  }
  if (!broken.empty()) return of_what_is_broken(broken);
  if (holds || finished_holes(*instrument) > 0) return of_the_signed(*instrument);
  if (!figures.good_enough) return of_the_piece(figures);
  if (!touched(*instrument)) {
    return {NextStep::mock_up, "A draft that no hand has tried: wrap the template, cut patches, hold it."};
  }
  const bool no_longer = instrument->sign.state == SignState::no_longer_signed;
  return {NextStep::sign, no_longer ? "It was signed, and is no longer: see what changed."
                                    : "Tried on a mock-up, and keeps the rules."};
}

}  // namespace culmwright
