#include <iostream>

#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/survey_text.hpp"

namespace culmwright::command {

int run_survey(const Options& options) {
  const Documents documents = gather(options.files);
  if (documents.tubes.empty()) {
    throw InputError(
        {{"nothing-to-survey", {}, "no tube document", "at least one", "Start from templates/tube.json"}});
  }
  JsonValue list = JsonValue::array();
  for (const Loaded<Survey>& tube : documents.tubes) {
    const TubeFit fit = fit_of(tube);
    const SurveyReport report = report_on(fit);
    if (options.json) {
      list.push(survey_json(fit, report));
    } else {
      std::cout << survey_text(fit, report) << "\n";
    }
  }
  if (options.json) std::cout << to_text(list);
  return done;
}

}  // namespace culmwright::command
