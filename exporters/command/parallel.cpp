#include "command/parallel.hpp"

#include <algorithm>
#include <atomic>
#include <thread>
#include <vector>

namespace culmwright::command {

void parallel_for(int count, const std::function<void(int)>& work) {
  std::atomic<int> next{0};
  const auto worker = [&] {
    for (int i = next++; i < count; i = next++) work(i);
  };
  const int others = std::min(count, static_cast<int>(std::max(1U, std::thread::hardware_concurrency()))) - 1;
  std::vector<std::thread> threads;
  for (int i = 0; i < others; ++i) threads.emplace_back(worker);
  worker();
  for (std::thread& thread : threads) thread.join();
}

}  // namespace culmwright::command
