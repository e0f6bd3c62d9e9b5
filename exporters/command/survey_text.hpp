#pragma once
/// What `survey` says of a piece, for people and for programs.
#include <string>

#include "files/json_writer.hpp"
#include "tube/survey_report.hpp"

namespace culmwright::command {

std::string survey_text(const TubeFit& fit, const SurveyReport& report);
JsonValue survey_json(const TubeFit& fit, const SurveyReport& report);

}  // namespace culmwright::command
