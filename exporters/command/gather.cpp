#include "command/gather.hpp"

#include <algorithm>
#include <functional>
#include <map>

#include "base/words.hpp"
#include "files/sign_state.hpp"
#include "fit/assemble.hpp"
#include "fit/propose.hpp"

namespace culmwright::command {

namespace {

void append(Problems& all, const Problems& more) {
  all.insert(all.end(), more.begin(), more.end());
}

/// Runs `work`; its problems are added to `all` instead of thrown.
void collecting(Problems& all, const std::function<void()>& work) {
  try {
    work();
  } catch (const InputError& error) {
    append(all, error.problems());
  }
}

void add_workshop(Documents& documents, const std::string& file) {
  LoadedWorkshop workshop = read_whole_workshop(file);
  for (auto& tube : workshop.tubes) documents.tubes.push_back(std::move(tube));
  for (auto& layout : workshop.key_layouts) documents.key_layouts.push_back(std::move(layout));
  documents.shop = std::move(workshop.shop);
  for (auto& job : workshop.jobs) documents.placements.push_back(std::move(job.placement));
  for (auto& one : workshop.as_drilled) documents.as_drilled.push_back(std::move(one));
}

void add_document(Documents& documents, const std::string& file) {
  switch (kind_of_file(file)) {
    case DocumentKind::tube:
      documents.tubes.push_back(read_tube(file));
      break;
    case DocumentKind::key_layout:
      documents.key_layouts.push_back(read_key_layout(file));
      break;
    case DocumentKind::shop:
      documents.shop = read_shop(file);
      break;
    case DocumentKind::placement:
      documents.placements.push_back(read_placement(file));
      break;
    case DocumentKind::workshop:
      add_workshop(documents, file);
      break;
    case DocumentKind::mock_up:
      documents.mock_ups.push_back(read_mock_up(file));
      break;
    case DocumentKind::as_drilled:
      documents.as_drilled.push_back(read_as_drilled(file));
      break;
  }
}

template <class T>
const Loaded<T>* find_by_id(const std::vector<Loaded<T>>& list, const std::string& id) {
  const auto it =
      std::find_if(list.begin(), list.end(), [&](const auto& loaded) { return loaded.value.id == id; });
  return it == list.end() ? nullptr : &*it;
}

/// Two documents of a kind with one id: nothing can tell them apart later.
template <class T>
void refuse_twins(const std::vector<Loaded<T>>& list, const char* kind, Problems& problems) {
  for (std::size_t i = 0; i < list.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      if (list[k].value.id != list[i].value.id) continue;
      const Problem problem{"same-id",
                            {"", 0, 0, "/id"},
                            std::string("the ") + kind + " " + list[i].value.id + ", which " +
                                list[k].locations.file + " is called too",
                            "an id of its own for every " + std::string(kind),
                            "Give one of them another id"};
      append(problems, located({problem}, list[i].locations));
      break;
    }
  }
}

template <class T>
const Loaded<T>* named(const std::vector<Loaded<T>>& list, const std::string& id, const std::string& key,
                       const char* kind, const Loaded<Placement>& placement, Problems& problems) {
  const Loaded<T>* found = find_by_id(list, id);
  if (found != nullptr) return found;
  std::string known;
  for (const auto& loaded : list) known += (known.empty() ? "" : ", ") + loaded.value.id;
  Problem problem{
      "not-given",
      {"", 0, 0, "/" + key},
      "the " + std::string(kind) + " " + id + ", which is not among the files given",
      known.empty() ? "a " + std::string(kind) + " document beside the placement" : "one of " + known,
      "Name the file of that " + std::string(kind) + " too"};
  append(problems, located({problem}, placement.locations));
  return nullptr;
}

/// Gives each problem of an assembly its line in the document that it concerns.
Problems placed(const Problems& problems, const Loaded<Placement>& placement, const Loaded<KeyLayout>& layout,
                const Loaded<AsDrilled>* drilled) {
  Problems all;
  for (Problem problem : problems) {
    const std::string document = problem.where.file;
    problem.where.file.clear();
    const bool of_drilled = drilled != nullptr && document == as_drilled_document;
    append(all, located({problem}, of_drilled                        ? drilled->locations
                                   : document == key_layout_document ? layout.locations
                                                                     : placement.locations));
  }
  return all;
}

void refuse_drilled_twice(const std::vector<Loaded<AsDrilled>>& list, Problems& problems) {
  for (std::size_t i = 0; i < list.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      if (list[k].value.placement_id != list[i].value.placement_id) continue;
      append(problems, located({twice_drilled(list[i].value, list[k].locations.file)}, list[i].locations));
      break;
    }
  }
}

/// Facts of a placement that was not given cannot be used: told, rather than passed over.
void refuse_drilled_alone(const Documents& documents, Problems& problems) {
  for (const Loaded<AsDrilled>& drilled : documents.as_drilled) {
    if (find_by_id(documents.placements, drilled.value.placement_id) != nullptr) continue;
    std::vector<std::string> known;
    for (const auto& placement : documents.placements) known.push_back(placement.value.id);
    const Problem problem{
        "not-given",
        {"", 0, 0, "/placement"},
        "the placement " + drilled.value.placement_id + ", which is not among the files given",
        known.empty() ? "a placement document beside the as-drilled one" : listed(known),
        "Name the file of that placement too"};
    append(problems, located({problem}, drilled.locations));
  }
}

const Loaded<AsDrilled>* drilled_of(const Documents& documents, const Placement& placement) {
  for (const Loaded<AsDrilled>& drilled : documents.as_drilled) {
    if (drilled.value.placement_id == placement.id) return &drilled;
  }
  return nullptr;
}

Job job_of(const Loaded<Survey>& tube, const Loaded<KeyLayout>& layout, const Loaded<Placement>& placement,
           const TubeFit& fit, const Loaded<AsDrilled>* drilled, const Shop* shop) {
  Job job{&tube, &layout, &placement, fit, {}, {}, false, shop, drilled};
  if (drilled != nullptr) {
    DrilledJob facts = with_drilled_facts(fit, layout.value, placement.value, drilled->value,
                                          (shop != nullptr ? *shop : Shop{}).pilot_diameter);
    job.fit = std::move(facts.fit);
    job.instrument = std::move(facts.instrument);
    job.drilled = std::move(facts.holes);
    job.with_facts = std::move(facts.placement);
  } else {
    job.instrument = assemble(fit.tube(), layout.value, placement.value);
  }
  job.findings = check(job.fit, layout.value, job.instrument);
  job.instrument.sign = sign_mark(placement.value, tube.value, layout.value, shop);
  if (drilled != nullptr) judge_drilled(job.drilled, job.instrument, job.findings, job.instrument.sign);
  return job;
}

}  // namespace

Documents gather(const std::vector<std::string>& files) {
  Documents documents;
  Problems problems;
  for (const std::string& file : files) {
    collecting(problems, [&] { add_document(documents, file); });
  }
  refuse_twins(documents.tubes, "tube", problems);
  refuse_twins(documents.key_layouts, "key layout", problems);
  refuse_twins(documents.placements, "placement", problems);
  refuse_drilled_twice(documents.as_drilled, problems);
  if (!problems.empty()) throw InputError(std::move(problems));
  return documents;
}

TubeFit fit_of(const Loaded<Survey>& tube) {
  try {
    return fit_survey(tube.value);
  } catch (const InputError& error) {
    throw InputError(located(error.problems(), tube.locations));
  }
}

std::optional<Balance> balance_of(const Job& job) {
  return balance_of(job.fit, job.key_layout->value, job.instrument);
}

std::optional<Balance> balance_of(const TubeFit& fit, const KeyLayout& layout, const Instrument& instrument) {
  const PieceFacts facts = facts_of(fit.survey());
  return culmwright::balance_of(fit.tube(), instrument, layout.playing_angle, facts.mass_sigma_g,
                                facts.centre_sigma);
}

Instrument instrument_of(const Job& job, const Placement& placement) {
  const KeyLayout& layout = job.key_layout->value;
  if (job.as_drilled == nullptr) return assemble(job.fit.tube(), layout, placement);
  return assemble_as_drilled(job.fit.tube(), layout, placement, job.as_drilled->value,
                             (job.shop != nullptr ? *job.shop : Shop{}).pilot_diameter);
}

std::vector<Job> jobs_of(const Documents& documents, const std::string& only_tube) {
  std::vector<Job> jobs;
  Problems problems;
  std::map<std::string, TubeFit> fits;
  if (!only_tube.empty() && find_by_id(documents.tubes, only_tube) == nullptr) {
    std::string known;
    for (const auto& tube : documents.tubes) known += (known.empty() ? "" : ", ") + tube.value.id;
    throw InputError({{"unknown-tube", {}, "no tube called " + only_tube, "one of " + known, ""}});
  }
  refuse_drilled_alone(documents, problems);
  for (const Loaded<Placement>& placement : documents.placements) {
    if (!only_tube.empty() && placement.value.tube_id != only_tube) continue;
    const auto* tube = named(documents.tubes, placement.value.tube_id, "tube", "tube", placement, problems);
    const auto* layout = named(documents.key_layouts, placement.value.layout_id, "key_layout", "key layout",
                               placement, problems);
    if (tube == nullptr || layout == nullptr) continue;
    const Loaded<AsDrilled>* drilled = drilled_of(documents, placement.value);
    collecting(problems, [&] {
      auto it = fits.find(tube->value.id);
      if (it == fits.end()) it = fits.emplace(tube->value.id, fit_of(*tube)).first;
      try {
        jobs.push_back(job_of(*tube, *layout, placement, it->second, drilled, documents.shop_given()));
      } catch (const InputError& error) {
        throw InputError(placed(error.problems(), placement, *layout, drilled));
      }
    });
  }
  if (!problems.empty()) throw InputError(std::move(problems));
  return jobs;
}

}  // namespace culmwright::command
