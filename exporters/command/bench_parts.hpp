#pragma once
/// What the bench needs beside guides and cups, on its way to files: mock-up patches, cradles with their
/// wedges, backing for the bore.
#include <vector>

#include "command/gather.hpp"
#include "command/printed.hpp"

namespace culmwright::command {

/// One printed patch for every touch, slider and thumb rest, under "mock-up/". Those that cannot be printed
/// (too small, wrapping too far) are left out: foam serves, and `left_out` names them with the reason.
std::vector<PartTask> mock_up_tasks(const Job& job, const Shop& shop, std::vector<std::string>& left_out);

/// Cradles and wedges under "cradles/", backing shoes under "backing/"; nothing unless the shop asks for
/// them. A set that cannot stand is left out by name. The tasks hold what they need; `job` and `shop` must
/// outlive them.
std::vector<PartTask> cradle_tasks(const Job& job, const Shop& shop, std::vector<std::string>& left_out);

/// The bore at every hole, the way in, and what backs it, for the record.
JsonValue backing_json(const Job& job, const Shop& shop);

}  // namespace culmwright::command
