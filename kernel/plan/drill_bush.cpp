#include "plan/drill_bush.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"

namespace culmwright {

namespace {

struct BushRow {
  double bore_up_to;
  double outside;
  double lengths[3];
};

// DIN 179 / ISO 4247, from memory.
constexpr BushRow rows[] = {{3.3, 6, {8, 12, 16}},  {4, 7, {8, 12, 16}},    {5, 8, {8, 12, 16}},
                            {6, 10, {10, 16, 20}},  {8, 12, {10, 16, 20}},  {10, 15, {12, 20, 25}},
                            {12, 18, {12, 20, 25}}, {15, 22, {16, 28, 36}}, {18, 26, {16, 28, 36}},
                            {22, 30, {20, 36, 45}}};
constexpr double same_drill = 0.05;

}  // namespace

Bush standard_bush(double drill, double least_length) {
  const auto row = std::find_if(std::begin(rows), std::end(rows),
                                [&](const BushRow& r) { return drill <= r.bore_up_to + 1e-9; });
  require(drill > 0.0 && row != std::end(rows), "no standard drill bush is that wide");
  const auto length = std::find_if(std::begin(row->lengths), std::end(row->lengths),
                                   [&](double l) { return l >= least_length; });
  return {drill, row->outside, length != std::end(row->lengths) ? *length : row->lengths[2]};
}

Bush pilot_bush(const Shop& shop, double least_length) {
  const Bush* best = nullptr;
  for (const Bush& bush : shop.bushes) {
    if (std::abs(bush.bore - shop.pilot_diameter) > same_drill || bush.length < least_length) continue;
    if (best == nullptr || bush.length < best->length) best = &bush;
  }
  return best != nullptr ? *best : standard_bush(shop.pilot_diameter, least_length);
}

double bush_bore_radius(const Shop& shop, const Bush& bush) {
  return 0.5 * (bush.outside + shop.printer.hole_undersize) + shop.fits.bush;
}

double plain_bore_radius(const Shop& shop, double drill) {
  return 0.5 * (drill + shop.printer.hole_undersize) + shop.fits.drill;
}

double drill_h8(double diameter) {
  struct Row {
    double up_to;
    double below;
  };
  constexpr Row h8[] = {{3, 0.014}, {6, 0.018}, {10, 0.022}, {18, 0.027}, {30, 0.033}, {50, 0.039}};
  const auto row =
      std::find_if(std::begin(h8), std::end(h8), [&](const Row& r) { return diameter <= r.up_to; });
  require(diameter > 0.0 && row != std::end(h8), "no limits are known for a drill that wide");
  return row->below;
}

double peg_bore_radius(const Shop& shop) {
  return 0.5 * (shop.pilot_diameter + shop.printer.hole_undersize) + shop.fits.peg;
}

}  // namespace culmwright
