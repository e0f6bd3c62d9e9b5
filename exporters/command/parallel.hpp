#pragma once
/// Independent pieces of work on all cores.
#include <functional>

namespace culmwright::command {

/// Runs work(0) … work(count − 1), each once, in any order. `work` must not throw.
void parallel_for(int count, const std::function<void(int)>& work);

}  // namespace culmwright::command
