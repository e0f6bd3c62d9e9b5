#pragma once
/// The settlement of a mock-up's readings: which numbers they say, and what these come to.
#include <set>
#include <vector>

#include "fit/remeasure_model.hpp"

namespace culmwright {

struct Settlement {
  MockUpModel::Values values;
  std::vector<double> errors;  ///< of every number; 0 where it is not unknown
  /// Numbers that hang on one another and on nothing else, for each freedom left.
  std::vector<std::vector<int>> loose;
  LinearReadings linear;  ///< there
  bool settled = false;
};

class MockUpSettler {
 public:
  /// Unknown are the numbers that the readings are about and that are no facts. The model must outlive it.
  MockUpSettler(const MockUpModel& model, std::vector<const ModelReading*> readings);

  const std::vector<bool>& unknown() const { return unknown_; }
  /// Numbers that straight distances say too little of: they stay.
  const std::vector<int>& kept() const { return kept_; }
  const std::vector<const ModelReading*>& readings() const { return readings_; }

  /// By all readings, or by some of them with the same unknowns.
  Settlement settle() const { return settle(readings_); }
  Settlement settle(const std::vector<const ModelReading*>& readings) const;

 private:
  std::vector<int> columns() const;
  LinearReadings linear(const std::vector<const ModelReading*>& readings,
                        const MockUpModel::Values& values) const;
  MockUpModel::Values moved(MockUpModel::Values values, const std::vector<double>& by) const;
  std::vector<std::vector<int>> numbers_of(std::vector<std::vector<int>> loose) const;
  std::vector<double> errors_of(const Step& step) const;
  void keep_what_is_hardly_said(const std::set<int>& direct);

  const MockUpModel& model_;
  std::vector<const ModelReading*> readings_;
  std::vector<bool> unknown_;
  std::vector<int> kept_;
};

}  // namespace culmwright
