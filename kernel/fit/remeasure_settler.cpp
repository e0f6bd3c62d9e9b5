#include "fit/remeasure_settler.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace culmwright {

namespace {

using Values = MockUpModel::Values;

/// Straight distances move a number only where they say it as well as this, mm. Fingers accept 0.7.
constexpr double worth_moving = 2.0;
constexpr int most_rounds = 100;
constexpr double settled_step = 1e-8;  // mm
constexpr double longest_step = 30.0;  // mm: the skin is another one farther away

double largest(const std::vector<double>& by) {
  double most = 0.0;
  for (const double part : by) most = std::max(most, std::abs(part));
  return most;
}

std::vector<double> limited(std::vector<double> by) {
  const double most = largest(by);
  if (most > longest_step) {
    for (double& part : by) part *= longest_step / most;
  }
  return by;
}

}  // namespace

MockUpSettler::MockUpSettler(const MockUpModel& model, std::vector<const ModelReading*> readings)
    : model_(model), readings_(std::move(readings)), unknown_(model.numbers().size(), false) {
  std::set<int> direct;
  for (const ModelReading* reading : readings_) {
    for (const int number : model.about(*reading)) {
      if (model.numbers()[static_cast<std::size_t>(number)].fact) continue;
      unknown_[static_cast<std::size_t>(number)] = true;
      if (!is_straight(reading->said.way)) direct.insert(number);
    }
  }
  keep_what_is_hardly_said(direct);
}

/// Gauss–Newton, with half the step where a whole one makes it worse.
Settlement MockUpSettler::settle(const std::vector<const ModelReading*>& readings) const {
  Settlement best;
  best.values = model_.values();
  Values values = best.values;
  std::vector<double> by;
  double cost = std::numeric_limits<double>::infinity();
  for (int round = 0; round < most_rounds && !best.settled; ++round) {
    LinearReadings here = linear(readings, values);
    const Step step = least_squares_step(here);
    if (step.cost > cost * (1.0 + 1e-9) + 1e-9) {
      for (double& part : by) part *= 0.5;
    } else {
      cost = step.cost;
      by = limited(step.by);
      best = {values, errors_of(step), numbers_of(step.loose), std::move(here), false};
    }
    best.settled = largest(by) < settled_step;
    values = moved(best.values, by);
  }
  return best;
}

std::vector<int> MockUpSettler::columns() const {
  std::vector<int> numbers;
  for (std::size_t n = 0; n < unknown_.size(); ++n) {
    if (unknown_[n]) numbers.push_back(static_cast<int>(n));
  }
  return numbers;
}

/// The model's numbers become columns: those unknown, and those that stay, with their errors.
LinearReadings MockUpSettler::linear(const std::vector<const ModelReading*>& readings,
                                     const Values& values) const {
  LinearReadings linear;
  std::vector<int> column;
  for (std::size_t n = 0; n < unknown_.size(); ++n) {
    if (unknown_[n]) {
      column.push_back(linear.unknowns++);
    } else {
      column.push_back(static_cast<int>(linear.base_errors.size()));
      linear.base_errors.push_back(model_.numbers()[n].error.value_or(0.0));
    }
  }
  for (const ModelReading* reading : readings) {
    LinearReading one = model_.linear(*reading, values, unknown_);
    for (auto& slope : one.by_unknown) slope.first = column[static_cast<std::size_t>(slope.first)];
    for (auto& slope : one.by_base) slope.first = column[static_cast<std::size_t>(slope.first)];
    linear.readings.push_back(std::move(one));
  }
  return linear;
}

Values MockUpSettler::moved(Values values, const std::vector<double>& by) const {
  const std::vector<int> numbers = columns();
  for (std::size_t i = 0; i < by.size(); ++i) values[static_cast<std::size_t>(numbers[i])] += by[i];
  return values;
}

std::vector<std::vector<int>> MockUpSettler::numbers_of(std::vector<std::vector<int>> loose) const {
  const std::vector<int> numbers = columns();
  for (auto& direction : loose) {
    for (int& which : direction) which = numbers[static_cast<std::size_t>(which)];
  }
  return loose;
}

std::vector<double> MockUpSettler::errors_of(const Step& step) const {
  std::vector<double> errors(unknown_.size(), 0.0);
  const std::vector<int> numbers = columns();
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    errors[static_cast<std::size_t>(numbers[i])] = step.errors[i];
  }
  return errors;
}

/// Where a thing is measured one way, straight distances move it the other way only if they say enough.
void MockUpSettler::keep_what_is_hardly_said(const std::set<int>& direct) {
  const std::vector<double> errors = errors_of(least_squares_step(linear(readings_, model_.values())));
  for (std::size_t n = 0; n < 2 * model_.things().size(); ++n) {
    const int number = static_cast<int>(n);
    const int other = number ^ 1;
    if (!unknown_[n] || direct.count(number) > 0 || direct.count(other) == 0) continue;
    if (errors[n] > worth_moving) kept_.push_back(number);
  }
  for (const int number : kept_) unknown_[static_cast<std::size_t>(number)] = false;
}

}  // namespace culmwright
