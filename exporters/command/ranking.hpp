#pragma once
/// Every tube against every key layout, on all cores.
#include <vector>

#include "command/gather.hpp"
#include "fit/rank.hpp"

namespace culmwright::command {

struct Batch {
  std::vector<TubeFit> tubes;
  std::vector<KeyLayout> layouts;
};
/// The tubes as fitted. Throws InputError with the problems of all of them together.
Batch batch_of(const Documents& documents);

/// The same whatever the number of cores.
Ranking ranked(const Batch& batch);

}  // namespace culmwright::command
