#pragma once
/// Steps that settling and its refinement share. Internal to settling.
#include <vector>

#include "fit/settle_grid.hpp"
#include "fit/settle_lattice.hpp"

namespace culmwright {

/// The cost of any allowed place: of the value there, or between values as SettleVariable::cost_at says;
/// forbidden_place where there is none, also outside the leeway.
double cost_of_place(const SettleVariable& variable, double place);

/// One term for each two variables between which there is a demand, a reversible demand in a decided order,
/// or a pair cost.
std::vector<GapTerm> gap_terms(const SettleProblem& problem, const std::vector<Lattice::Order>& orders);

/// Valuation of positions that keep everything, as a result.
Settled settled_at(const SettleProblem& problem, std::vector<double> positions);

}  // namespace culmwright
