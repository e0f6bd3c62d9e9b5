#include "command/ranking.hpp"

#include <optional>

#include "command/parallel.hpp"

namespace culmwright::command {

Batch batch_of(const Documents& documents) {
  const int count = static_cast<int>(documents.tubes.size());
  std::vector<std::optional<TubeFit>> fits(documents.tubes.size());
  std::vector<Problems> problems(documents.tubes.size());
  parallel_for(count, [&](int i) {
    try {
      fits[i] = fit_of(documents.tubes[i]);
    } catch (const InputError& error) {
      problems[i] = error.problems();
    }
  });
  Problems all;
  for (const Problems& of_tube : problems) all.insert(all.end(), of_tube.begin(), of_tube.end());
  if (!all.empty()) throw InputError(std::move(all));
  Batch batch;
  for (auto& fit : fits) batch.tubes.push_back(std::move(*fit));
  for (const Loaded<KeyLayout>& layout : documents.key_layouts) batch.layouts.push_back(layout.value);
  return batch;
}

Ranking ranked(const Batch& batch) {
  std::vector<PieceFigures> pieces(batch.tubes.size());
  parallel_for(static_cast<int>(pieces.size()), [&](int i) { pieces[i] = figures_of(batch.tubes[i]); });
  const std::size_t layouts = batch.layouts.size();
  std::vector<RankRow> rows(batch.tubes.size() * layouts);
  parallel_for(static_cast<int>(rows.size()), [&](int i) {
    const std::size_t tube = static_cast<std::size_t>(i) / layouts;
    const std::size_t layout = static_cast<std::size_t>(i) % layouts;
    ProposeOptions how;
    how.count = 1;
    rows[i] = judge(batch.tubes[tube], pieces[tube], batch.layouts[layout], how);
    rows[i].tube = tube;
    rows[i].layout = layout;
  });
  return ranking_of(std::move(pieces), std::move(rows), layouts, std::vector<int>(layouts, 1));
}

}  // namespace culmwright::command
