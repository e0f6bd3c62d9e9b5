#include "tube/reading_set.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "tube/fit_readings.hpp"
#include "tube/reading_candidates.hpp"
#include "tube/sampled_tube.hpp"

namespace culmwright {

namespace {

/// A further reading that betters the worst hole by less than this share is left out.
constexpr double worth_adding = 0.03;
constexpr std::size_t tried_all = 3;
constexpr int flats = 16;

/// A station that is not there yet, by heights.
CandidateReading heights_at_new_station(const TubeFit& fit, double at) {
  CandidateReading heights{"heights on survey plates at a new station at " + fixed_text(at, 0),
                           {},
                           at,
                           true,
                           {ReadingWish::Kind::heights, at, {}},
                           at,
                           2};
  for (int i = 0; i < flats; ++i) {
    const Angle theta = Angle::from_degrees(360.0 * i / flats);
    heights.rows.push_back({fit.support_gradient(at, theta), fit.survey().errors.height});
  }
  return heights;
}

std::vector<CandidateReading> candidates_of(const TubeFit& fit, bool plates) {
  std::vector<CandidateReading> list;
  std::vector<double> new_stations;
  for (CandidateReading& candidate : candidate_readings(fit)) {
    if (candidate.new_station) new_stations.push_back(*candidate.new_station);
    if (plates || !candidate.on_plates) list.push_back(std::move(candidate));
  }
  if (!plates) return list;
  for (const double at : new_stations) list.push_back(heights_at_new_station(fit, at));
  return list;
}

using Set = std::vector<int>;  ///< of candidates, ascending

class SetSearch {
 public:
  SetSearch(const TubeFit& fit, const std::vector<HoleOutlook>& holes, double wanted, bool plates)
      : fit_(fit), holes_(holes), wanted_(wanted), candidates_(candidates_of(fit, plates)) {
    gather_rows();
  }

  ReadingSet run() {
    const double now = worst_after({});
    if (now <= wanted_ || candidates_.empty()) return {};
    Set best;
    double least = now;
    for (std::size_t size = 1; size <= std::min(tried_all, candidates_.size()); ++size) {
      const auto [set, worst] = best_of_size(size, least);
      if (!set.empty() && worst < (1.0 - worth_adding) * least) {
        best = set;
        least = worst;
      }
      if (least <= wanted_) return named(best, least);
    }
    while (!best.empty() && static_cast<int>(best.size()) < most_in_set) {
      const auto [set, worst] = one_more(best);
      if (set.empty() || worst >= (1.0 - worth_adding) * least) break;
      best = set;
      least = worst;
      if (least <= wanted_) break;
    }
    return best.empty() ? ReadingSet{} : named(best, least);
  }

 private:
  using Matrix = Eigen::MatrixXd;
  using Vector = Eigen::VectorXd;

  /// The same knowledge in as few rows as it takes, each with an error of one.
  static Matrix fewest_rows(const CandidateReading& candidate, Eigen::Index unknowns) {
    Matrix all(static_cast<Eigen::Index>(candidate.rows.size()), unknowns);
    Eigen::Index r = 0;
    for (const auto& [gradient, sigma] : candidate.rows) {
      all.row(r++) = Eigen::Map<const Eigen::RowVectorXd>(gradient.data(), unknowns) / sigma;
    }
    const Eigen::ColPivHouseholderQR<Matrix> qr(all);
    return (qr.householderQ().transpose() * all).topRows(qr.rank());
  }

  void gather_rows() {
    const auto unknowns = static_cast<Eigen::Index>(fit_.values().size());
    std::vector<Matrix> parts;
    Eigen::Index rows = 0;
    for (const CandidateReading& candidate : candidates_) {
      parts.push_back(fewest_rows(candidate, unknowns));
      first_row_.push_back(rows);
      rows += parts.back().rows();
    }
    first_row_.push_back(rows);
    Matrix g(rows, unknowns);
    for (std::size_t i = 0; i < parts.size(); ++i) g.middleRows(first_row_[i], parts[i].rows()) = parts[i];
    const Eigen::Map<const Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>> covariance(
        fit_.covariance().data(), unknowns, unknowns);
    among_.noalias() = (g * covariance) * g.transpose();
    among_.diagonal().array() += 1.0;
    for (const HoleOutlook& hole : holes_) {
      for (const std::vector<double>& c : hole.error.with_unknowns) {
        components_.push_back(g * Eigen::Map<const Vector>(c.data(), unknowns));
      }
    }
  }

  /// Calls `look` with each set of that many candidates, in a fixed order.
  template <class Look>
  void each_set(std::size_t size, const Look& look) const {
    Set set(size);
    for (std::size_t i = 0; i < size; ++i) set[i] = static_cast<int>(i);
    const int count = static_cast<int>(candidates_.size());
    while (true) {
      look(set);
      int i = static_cast<int>(size) - 1;
      while (i >= 0 && set[i] == count - static_cast<int>(size) + i) --i;
      if (i < 0) return;
      ++set[i];
      for (std::size_t k = static_cast<std::size_t>(i) + 1; k < size; ++k) set[k] = set[k - 1] + 1;
    }
  }

  std::pair<Set, double> best_of_size(std::size_t size, double least) const {
    std::pair<Set, double> best{{}, least};
    each_set(size, [&](const Set& set) {
      const double worst = worst_after(set);
      if (worst < best.second - 1e-12) best = {set, worst};
    });
    return best;
  }

  std::pair<Set, double> one_more(const Set& have) const {
    std::pair<Set, double> best{{}, 1e300};
    for (int i = 0; i < static_cast<int>(candidates_.size()); ++i) {
      if (std::binary_search(have.begin(), have.end(), i)) continue;
      Set set = have;
      set.insert(std::upper_bound(set.begin(), set.end(), i), i);
      const double worst = worst_after(set);
      if (worst < best.second - 1e-12) best = {set, worst};
    }
    return best;
  }

  std::vector<Eigen::Index> rows_of(const Set& set) const {
    std::vector<Eigen::Index> rows;
    for (const int candidate : set) {
      for (Eigen::Index r = first_row_[candidate]; r < first_row_[candidate + 1]; ++r) rows.push_back(r);
    }
    return rows;
  }

  double worst_after(const Set& set) const {
    const std::vector<Eigen::Index> rows = rows_of(set);
    const auto size = static_cast<Eigen::Index>(rows.size());
    Matrix k(size, size);
    Matrix b(size, static_cast<Eigen::Index>(components_.size()));
    for (Eigen::Index i = 0; i < size; ++i) {
      for (Eigen::Index j = 0; j < size; ++j) k(i, j) = among_(rows[i], rows[j]);
      for (Eigen::Index p = 0; p < b.cols(); ++p) b(i, p) = components_[p](rows[i]);
    }
    double chance = 0.0;  // of what readings of an error without any covariance seem to take away
    Matrix half(size, b.cols());
    if (size > 0) {
      const Eigen::LLT<Matrix> cholesky(k);
      half = cholesky.matrixL().solve(b);
      const Matrix inverse = cholesky.solve(Matrix::Identity(size, size));
      chance = static_cast<double>(size);
      chance -= inverse.trace();
    }
    double worst = 0.0;
    Eigen::Index p = 0;
    for (const HoleOutlook& hole : holes_) {
      double taken = -chance * hole.error.by_chance;
      for (std::size_t c = 0; c < hole.error.with_unknowns.size(); ++c) taken += half.col(p++).squaredNorm();
      taken = std::max(0.0, taken);
      for (const PlaceError::Wander& wander : hole.error.wander) taken += taken_of_wander(wander, set);
      const double left = std::max(0.0, 1.0 - taken / hole.error.mean_square);
      worst = std::max(worst, hole.within_95 * std::sqrt(left));
    }
    return worst;
  }

  double taken_of_wander(const PlaceError::Wander& wander, const Set& set) const {
    double nearest = 1e300;
    std::vector<double> bow[2];  // by the direction that is told: toward the line, a quarter turn from it
    for (const int i : set) {
      const CandidateReading& candidate = candidates_[i];
      if (candidate.new_station) nearest = std::min(nearest, std::abs(wander.at - *candidate.new_station));
      if (!candidate.bow_at) continue;
      const bool sideways = std::abs(candidate.wish.facing.sin()) > 0.5;
      if (candidate.bow_directions == 2 || !sideways) bow[0].push_back(*candidate.bow_at);
      if (candidate.bow_directions == 2 || sideways) bow[1].push_back(*candidate.bow_at);
    }
    double taken = 0.0;
    const double now = fit_.skin_wander_sigma(wander.at);
    if (nearest < 1e300 && now > 0.0) {
      const double then = 4.0 * fit_.priors().skin_wander * fit_.priors().skin_wander / 100.0 * nearest;
      taken += wander.of_skin * std::max(0.0, 1.0 - then / (now * now));
    }
    const double bow_now = bow_wander_sigma(fit_, wander.at);
    for (const std::vector<double>& places : bow) {
      if (places.empty() || bow_now <= 0.0) continue;
      const double share = bow_wander_sigma(fit_, wander.at, places) / bow_now;
      taken += 0.5 * wander.of_bow * std::max(0.0, 1.0 - share * share);
    }
    return taken;
  }

  ReadingSet named(Set set, double worst) const {
    std::stable_sort(set.begin(), set.end(),
                     [&](int a, int b) { return candidates_[a].wish.at < candidates_[b].wish.at; });
    ReadingSet result;
    for (const int i : set) {
      result.readings.push_back(candidates_[i].text);
      result.wishes.push_back(candidates_[i].wish);
      result.on_plates = result.on_plates || candidates_[i].on_plates;
    }
    result.worst = worst;
    result.enough = worst <= wanted_;
    return result;
  }

  const TubeFit& fit_;
  const std::vector<HoleOutlook>& holes_;
  double wanted_;
  std::vector<CandidateReading> candidates_;
  std::vector<Eigen::Index> first_row_;
  Matrix among_;                    ///< G C Gᵀ + Σ of all candidates' rows, Σ = 1
  std::vector<Vector> components_;  ///< G c, hole by hole
};

}  // namespace

ReadingSet smallest_set(const TubeFit& fit, const std::vector<HoleOutlook>& holes, double wanted,
                        bool plates) {
  return SetSearch(fit, holes, wanted, plates).run();
}

}  // namespace culmwright
