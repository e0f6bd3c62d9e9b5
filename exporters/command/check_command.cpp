#include <algorithm>
#include <iostream>

#include "command/check_text.hpp"
#include "command/commands.hpp"
#include "command/gather.hpp"

namespace culmwright::command {

int run_check(const Options& options) {
  const Documents documents = gather(options.files);
  const std::vector<Job> jobs = jobs_of(documents, options.tube);
  if (jobs.empty()) {
    throw InputError({{"nothing-to-check",
                       {},
                       "no placement among the files",
                       "a tube, a key layout and a placement, or a workshop",
                       "Start from templates/placement.json"}});
  }
  JsonValue list = JsonValue::array();
  bool sound = true;
  for (const Job& job : jobs) {
    sound = sound && acceptable(job.findings);
    if (options.json) {
      list.push(check_json(job.instrument, job.findings));
    } else {
      std::cout << check_text(job.instrument, job.findings) << "\n";
    }
  }
  if (options.json) std::cout << to_text(list);
  return sound ? done : rule_failed;
}

}  // namespace culmwright::command
