#include "command/job_parts.hpp"

#include "command/bench_parts.hpp"
#include "command/parts.hpp"

namespace culmwright::command {

std::vector<MadePart> job_parts(const Job& job, const Shop& shop,
                                const std::function<void(const std::string&)>& say,
                                std::vector<std::string>& left_out) {
  std::vector<MadePart> parts = make_parts(job, shop, say);
  std::vector<PartTask> tasks = mock_up_tasks(job, shop, left_out);
  for (PartTask& task : cradle_tasks(job, shop, left_out)) tasks.push_back(std::move(task));
  for (MadePart& part : make_all(std::move(tasks), say)) parts.push_back(std::move(part));
  return parts;
}

}  // namespace culmwright::command
