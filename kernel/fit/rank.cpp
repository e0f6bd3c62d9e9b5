#include "fit/rank.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "fit/words.hpp"

namespace culmwright {

namespace {

double wall_uniformity(const Tube& tube) {
  double least = 1e300;
  double sum = 0.0;
  int count = 0;
  const int pieces = std::max(1, static_cast<int>(std::lround(tube.length() / 20.0)));
  for (int i = 0; i <= pieces; ++i) {
    const Section section = tube.section(tube.end_a_at() + tube.length() * i / pieces);
    for (int k = 0; k < 8; ++k) {
      const Angle theta = Angle::from_degrees(45.0 * k);
      const double wall = section.base_support(theta).f - section.bore_support(theta).f;
      least = std::min(least, wall);
      sum += wall;
      ++count;
    }
  }
  return least * count / sum;
}

template <class Id>
void check_unique(const char* what, std::size_t count, const Id& id_of) {
  std::set<std::string> seen;
  Problems problems;
  for (std::size_t i = 0; i < count; ++i) {
    if (seen.insert(id_of(i)).second) continue;
    Place where;
    problems.push_back({"duplicate-id", where,
                        std::string("two ") + what + " with the id " + quoted(id_of(i)), "each id once",
                        "Rename one of them, and mark the piece with its new name"});
  }
  if (!problems.empty()) throw InputError(std::move(problems));
}

/// The least margin among the hard rules that are measured in millimetres.
std::optional<Finding> nearest_rule(const std::vector<Finding>& findings) {
  std::optional<Finding> least;
  for (const Finding& finding : findings) {
    const auto rule =
        std::find_if(rules().begin(), rules().end(), [&](const Rule& r) { return r.id == finding.rule; });
    // The lengths between the cuts are sawn to measure; no survey error enters them.
    const bool sawn = finding.rule == "least-length" || finding.rule == "greatest-length";
    // Within reach or not: no error of a place makes it otherwise by itself.
    const bool reach = finding.rule == "reach";
    if (rule == rules().end() || rule->unit != Unit::millimetre || rule->severity != Severity::hard || sawn ||
        reach)
      continue;
    if (!least || finding.margin < least->margin) least = finding;
  }
  return least;
}

std::string sureness_words(const RankRow& row, const PieceFigures& figures) {
  if (!row.nearest) return "no rule comes near";
  const std::string margin = millimetres(std::max(row.nearest->margin, 0.0), true);
  const std::string error = millimetres(figures.hole_error, true);
  // A demand that is settled to its limit has no margin by design: it is re-settled when the piece is
  // measured better, and says nothing about whether the piece will do.
  if (row.sure)
    return "holds within the survey's error (" + margin + " of margin, places known to " + error + ")";
  return "margin " + margin + " where places are known to " + error +
         (figures.good_enough ? ": keys may shift by as much" : ": measure more before it is decided");
}

/// Tubes on one side, key layouts with so many places on the other; one more matched on each round, along the
/// cheapest way.
class Matching {
 public:
  Matching(const std::vector<std::vector<std::optional<double>>>& scores, const std::vector<int>& wanted)
      : scores_(scores), wanted_(wanted), layout_of_(scores.size()) {
    taken_.assign(wanted.size(), 0);
    while (augment()) {
    }
  }
  const std::vector<std::optional<std::size_t>>& layout_of() const { return layout_of_; }

 private:
  static constexpr double never = std::numeric_limits<double>::infinity();

  /// Bellman–Ford from all free tubes: least cost to reach each key layout, taking tubes off their layouts on
  /// the way.
  bool augment() {
    const std::size_t tubes = scores_.size();
    const std::size_t layouts = wanted_.size();
    std::vector<double> to_tube(tubes, never);
    std::vector<double> to_layout(layouts, never);
    std::vector<std::size_t> by_tube(layouts, 0);
    std::vector<std::size_t> by_layout(tubes, layouts);
    for (std::size_t t = 0; t < tubes; ++t) {
      if (!layout_of_[t]) to_tube[t] = 0.0;
    }
    // Gains of rounding alone would go round for ever.
    constexpr double grain = 1e-12;
    bool changed = true;
    for (std::size_t round = 0; changed && round <= tubes + layouts; ++round) {
      changed = false;
      for (std::size_t t = 0; t < tubes; ++t) {
        if (to_tube[t] == never) continue;
        for (std::size_t l = 0; l < layouts; ++l) {
          if (!scores_[t][l] || layout_of_[t] == l) continue;
          const double cost = to_tube[t] + *scores_[t][l];
          if (cost >= to_layout[l] - grain) continue;
          to_layout[l] = cost;
          by_tube[l] = t;
          changed = true;
        }
      }
      for (std::size_t t = 0; t < tubes; ++t) {
        if (!layout_of_[t] || to_layout[*layout_of_[t]] == never) continue;
        const std::size_t l = *layout_of_[t];
        const double cost = to_layout[l] - *scores_[t][l];
        if (cost >= to_tube[t] - grain) continue;
        to_tube[t] = cost;
        by_layout[t] = l;
        changed = true;
      }
    }
    std::size_t end = layouts;
    for (std::size_t l = 0; l < layouts; ++l) {
      if (taken_[l] >= wanted_[l] || to_layout[l] == never) continue;
      if (end == layouts || to_layout[l] < to_layout[end]) end = l;
    }
    if (end == layouts) return false;
    ++taken_[end];
    for (std::size_t l = end; l != layouts;) {
      const std::size_t t = by_tube[l];
      const std::size_t before = layout_of_[t] ? by_layout[t] : layouts;
      layout_of_[t] = l;
      l = before;
    }
    return true;
  }

  const std::vector<std::vector<std::optional<double>>>& scores_;
  const std::vector<int>& wanted_;
  std::vector<std::optional<std::size_t>> layout_of_;
  std::vector<int> taken_;
};

}  // namespace

PieceFigures figures_of(const TubeFit& fit) {
  const SurveyReport report = report_on(fit);
  PieceFigures figures;
  figures.tube_id = fit.tube().id();
  figures.length = fit.tube().length();
  figures.wall_uniformity = wall_uniformity(fit.tube());
  for (const StationFigures& station : report.stations) {
    figures.ovality = std::max(figures.ovality, station.ovality());
  }
  figures.taper = std::abs(report.taper.value);
  figures.bow = report.bow;
  figures.hole_error = report.next.hole_error_now;
  figures.good_enough = report.next.good_enough;
  figures.verdict = fit.survey().verdict;
  figures.verdict_note = fit.survey().verdict_note;
  return figures;
}

RankRow judge(const TubeFit& fit, const PieceFigures& figures, const KeyLayout& layout,
              const ProposeOptions& options) {
  ProposeOptions one = options;
  one.count = 1;
  RankRow row;
  auto result = propose(fit, layout, one);
  if (Refusal* refusal = std::get_if<Refusal>(&result)) {
    row.refusal = std::move(*refusal);
    row.how_sure = figures.good_enough ? "the survey is good enough to say so"
                                       : "by a survey that is not good enough for drilling";
    return row;
  }
  row.best = std::move(std::get<std::vector<Proposal>>(result).front());
  if (row.best->balance && row.best->balance->torque) {
    row.score_sigma = layout.weights.torque * row.best->balance->torque->sigma;
  }
  row.nearest = nearest_rule(row.best->findings);
  row.sure = !row.nearest || row.nearest->margin >= 2.0 * figures.hole_error;
  row.how_sure = sureness_words(row, figures);
  return row;
}

Assignment assign(const std::vector<std::vector<std::optional<double>>>& scores,
                  const std::vector<int>& wanted) {
  for (const auto& row : scores) require(row.size() == wanted.size(), "a score for each key layout");
  Assignment assignment;
  assignment.layout_of_tube = Matching(scores, wanted).layout_of();
  for (std::size_t t = 0; t < scores.size(); ++t) {
    if (!assignment.layout_of_tube[t]) continue;
    ++assignment.instruments;
    assignment.score += *scores[t][*assignment.layout_of_tube[t]];
  }
  return assignment;
}

Ranking ranking_of(std::vector<PieceFigures> pieces, std::vector<RankRow> rows, std::size_t layouts,
                   const std::vector<int>& wanted) {
  Ranking ranking;
  std::vector<std::vector<std::optional<double>>> scores(pieces.size(),
                                                         std::vector<std::optional<double>>(layouts));
  for (const RankRow& row : rows) {
    if (row.best && pieces[row.tube].verdict != Verdict::aside)
      scores[row.tube][row.layout] = row.best->score;
  }
  ranking.assignment = assign(scores, wanted.empty() ? std::vector<int>(layouts, 1) : wanted);
  std::sort(rows.begin(), rows.end(), [](const RankRow& a, const RankRow& b) {
    if (a.layout != b.layout) return a.layout < b.layout;
    if (a.best.has_value() != b.best.has_value()) return a.best.has_value();
    if (a.best && a.best->score != b.best->score) return a.best->score < b.best->score;
    return a.tube < b.tube;
  });
  ranking.pieces = std::move(pieces);
  ranking.rows = std::move(rows);
  return ranking;
}

Ranking rank(const std::vector<TubeFit>& tubes, const std::vector<KeyLayout>& layouts,
             const RankOptions& options) {
  check_unique("tubes", tubes.size(), [&](std::size_t i) { return tubes[i].tube().id(); });
  check_unique("key layouts", layouts.size(), [&](std::size_t i) { return layouts[i].id; });
  std::vector<PieceFigures> pieces;
  std::vector<RankRow> rows;
  for (std::size_t t = 0; t < tubes.size(); ++t) {
    pieces.push_back(figures_of(tubes[t]));
    for (std::size_t l = 0; l < layouts.size(); ++l) {
      RankRow row = judge(tubes[t], pieces.back(), layouts[l], options.propose);
      row.tube = t;
      row.layout = l;
      rows.push_back(std::move(row));
    }
  }
  return ranking_of(std::move(pieces), std::move(rows), layouts.size(), options.wanted);
}

}  // namespace culmwright
