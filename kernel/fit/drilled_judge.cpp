/// What drilling facts mean for a signature, and how far off they are in words.
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "fit/drilled_facts.hpp"
#include "fit/sign.hpp"
#include "fit/words.hpp"
#include "tube/survey_report.hpp"

namespace culmwright {

namespace {

constexpr double least_told = 0.05;  ///< mm; rounds to a tenth

bool involves_what_is_to_come(const Finding& finding, const Instrument& instrument) {
  return std::any_of(finding.ids.begin(), finding.ids.end(),
                     [&](const std::string& id) { return !is_drilled(instrument, id); });
}

std::string count_words(const std::vector<DrilledDeparture>& holes, const Instrument& instrument) {
  int finished = 0;
  int pilots = 0;
  std::vector<std::string> extras;
  for (const DrilledDeparture& one : holes) {
    if (one.hole.state == DrilledState::finished && one.is_key) ++finished;
    if (one.hole.state == DrilledState::pilot) ++pilots;
    if (one.hole.state == DrilledState::extra) extras.push_back(one.hole.id);
  }
  std::string words = "Of " + std::to_string(instrument.keys.size()) + " holes " + std::to_string(finished) +
                      (finished == 1 ? " is" : " are") + " finished";
  if (pilots > 0) words += ", " + std::to_string(pilots) + (pilots == 1 ? " is" : " are") + " a pilot";
  if (!extras.empty()) words += "; drilled where none was wanted: " + listing(extras);
  return words + ".";
}

const DrilledDeparture* farthest(const std::vector<DrilledDeparture>& holes) {
  const DrilledDeparture* most = nullptr;
  for (const DrilledDeparture& one : holes) {
    if (one.wanted && one.hole.at && (most == nullptr || one.distance() > most->distance())) most = &one;
  }
  return most;
}

}  // namespace

std::string out_by_words(const DrilledDeparture& hole) {
  std::string words;
  if (std::abs(hole.along) >= least_told) {
    words = millimetres(std::abs(hole.along)) + (hole.along > 0.0 ? " toward foot" : " toward mouth");
  }
  if (std::abs(hole.around) >= least_told) {
    words += (words.empty() ? "" : ", ") + millimetres(std::abs(hole.around)) +
             (hole.around > 0.0 ? " to player's left" : " to player's right");
  }
  return words.empty() ? "as wanted" : words;
}

void judge_drilled(const std::vector<DrilledDeparture>& holes, const Instrument& instrument,
                   const std::vector<Finding>& findings, SignMark& mark) {
  mark.drilled.push_back(count_words(holes, instrument));
  if (const DrilledDeparture* most = farthest(holes); most != nullptr && most->distance() >= least_told) {
    mark.drilled.push_back(most->hole.id + " lies farthest from its place: " + out_by_words(*most) + ".");
  }
  if (!mark.signed_off()) return;
  std::vector<std::string> broken;
  for (const Finding& finding : not_accepted(findings, mark.accepted)) {
    // All held when it was signed: what is broken now, the facts have broken.
    if (finding.severity == Severity::hard && involves_what_is_to_come(finding, instrument)) {
      broken.push_back("As drilled: " + finding.sentence);
    }
  }
  if (broken.empty()) {
    mark.drilled.push_back("The signature holds for what is still to be drilled.");
    return;
  }
  mark.state = SignState::no_longer_signed;
  mark.changed.push_back("what is drilled");
  mark.what_changed.insert(mark.what_changed.end(), broken.begin(), broken.end());
}

}  // namespace culmwright
