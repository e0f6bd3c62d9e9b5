#pragma once
/// The geometric rules that an instrument must keep before anything is drilled.
///
/// Limits come from the key layout (RuleLimits); its defaults are common practice. Every distance is measured
/// on the exact rims and outlines along the skin (fit/outline.hpp).
#include <optional>
#include <string>
#include <vector>

#include "layout/instrument.hpp"
#include "tube/survey_fit.hpp"

namespace culmwright {

enum class Severity {
  hard,    ///< must not be drilled so
  warning  ///< the maker decides
};

enum class Unit { millimetre, degree, share, count };

/// One of the rules, whether or not it applies to an instrument.
struct Rule {
  std::string id;     ///< short and stable: "web-along"
  std::string title;  ///< "web along the grain"
  Unit unit = Unit::millimetre;
  Severity severity = Severity::hard;
};

/// Every rule, in the order in which `check` reports.
const std::vector<Rule>& rules();

/// What one rule says about one place of an instrument.
struct Finding {
  std::string rule;
  Severity severity = Severity::hard;
  bool passes = true;
  double value = 0.0;            ///< in the rule's unit (a share between 0 and 1, an angle in degrees)
  double limit = 0.0;            ///< what applies here; it may grow with the hole
  double margin = 0.0;           ///< room left on the good side; negative where the rule is broken
  std::vector<std::string> ids;  ///< keys and parts concerned
  std::vector<int> nodes;        ///< and nodes, counted from end A, the first is 0
  SkinPlace place;               ///< where on the tube, for a mark in a picture
  std::string sentence;          ///< for the maker
};

/// What misses its limit by less is taken to meet it: rounding, not wood.
constexpr double limit_grain = 1e-6;

/// Of every rule all findings that fail, or else the one with the least margin; none where a rule has nothing
/// to look at (no node, a single hole). The order is that of rules(), then of keys and parts in the key
/// layout. Precondition: `instrument` was assembled from `tube` and `layout`.
std::vector<Finding> check(const Tube& tube, const KeyLayout& layout, const Instrument& instrument);

/// The same with what the survey tells beside the tube's shape: whether the check girths still agree with it.
std::vector<Finding> check(const TubeFit& fit, const KeyLayout& layout, const Instrument& instrument);

/// The finding with the least margin under that rule.
std::optional<Finding> tightest(const std::vector<Finding>& findings, const std::string& rule);

/// No hard rule is broken.
bool acceptable(const std::vector<Finding>& findings);

}  // namespace culmwright
