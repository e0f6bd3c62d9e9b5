#pragma once
/// The documents a command was given, brought together. A workshop stands for everything it names; other
/// documents are told apart by what they say they are, in any order.
#include <optional>
#include <string>
#include <vector>

#include "files/documents.hpp"
#include "fit/balance.hpp"
#include "fit/drilled_facts.hpp"
#include "fit/rules.hpp"
#include "tube/survey_fit.hpp"

namespace culmwright::command {

struct Documents {
  std::vector<Loaded<Survey>> tubes;
  std::vector<Loaded<KeyLayout>> key_layouts;
  std::optional<Loaded<Shop>> shop;
  std::vector<Loaded<Placement>> placements;
  std::vector<Loaded<MeasuredMockUp>> mock_ups;
  std::vector<Loaded<AsDrilled>> as_drilled;  ///< at most one for each placement

  const Shop* shop_given() const { return shop ? &shop->value : nullptr; }
  /// The shop, or one with the defaults where none was given.
  Shop shop_or_default() const { return shop ? shop->value : Shop{}; }
};

/// Throws InputError with the problems of all files together.
Documents gather(const std::vector<std::string>& files);

/// The tube as fitted. Throws InputError with every problem at its line.
TubeFit fit_of(const Loaded<Survey>& tube);

/// A placement with its tube and key layout, assembled, held against the rules and against its signature.
/// Where an as-drilled document names it, fit, instrument and findings are those with its facts.
struct Job {
  const Loaded<Survey>* tube = nullptr;
  const Loaded<KeyLayout>* key_layout = nullptr;
  const Loaded<Placement>* placement = nullptr;
  TubeFit fit;
  Instrument instrument;
  std::vector<Finding> findings;
  bool proposed = false;                          ///< the placement is the program's own proposal
  const Shop* shop = nullptr;                     ///< none where none was given
  const Loaded<AsDrilled>* as_drilled = nullptr;  ///< none where nothing is drilled yet
  std::vector<DrilledDeparture> drilled{};        ///< its holes, beside what was wanted
  std::optional<Placement> with_facts{};          ///< the placement with its facts listed and locked

  /// What is to be changed from here on: with the facts, where there are any.
  const Placement& placement_now() const { return with_facts ? *with_facts : placement->value; }
};

/// Mass and balance of the instrument as placed; none where the piece was not weighed.
std::optional<Balance> balance_of(const Job& job);
std::optional<Balance> balance_of(const TubeFit& fit, const KeyLayout& layout, const Instrument& instrument);

/// Another placement of the job's tube and key layout, with the job's facts, and how it stands.
Instrument instrument_of(const Job& job, const Placement& placement);

/// Every placement as a job, or only those of the tube named. Throws InputError with all problems together: a
/// placement whose tube or key layout was not given, an as-drilled document without its placement, what
/// fit_of, with_drilled_facts and assemble say. `documents` must outlive the result.
std::vector<Job> jobs_of(const Documents& documents, const std::string& only_tube = "");

}  // namespace culmwright::command
