/// What is left of the wall: webs and girth.
#include <algorithm>
#include <cmath>

#include "base/numeric.hpp"
#include "fit/rule_checks.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

/// Something cut out of the wall: a hole or an opening.
struct Cut {
  const Outline* outline;
  std::string id;
  double across_grain;  ///< how wide it cuts the fibres: a hole's diameter, an opening's width
  bool is_opening;
};

std::vector<Cut> cuts_of(const LaidOut& laid) {
  std::vector<Cut> cuts;
  for (std::size_t i = 0; i < laid.holes.size(); ++i) {
    cuts.push_back({&laid.holes[i], laid.key_id(i), laid.instrument.keys[i].key.hole_diameter, false});
  }
  for (std::size_t i = 0; i < laid.parts.size(); ++i) {
    if (!laid.is(i, PartKind::opening)) continue;
    cuts.push_back({&laid.parts[i], laid.part_id(i), laid.instrument.parts[i].part.width, true});
  }
  return cuts;
}

double along_limit(const RuleLimits& limits, const Cut& a, const Cut& b) {
  return std::max(limits.web_along, limits.web_along_per_diameter * std::max(a.across_grain, b.across_grain));
}

std::string web_sentence(const Finding& finding, const Cut& a, const Cut& b, bool along) {
  const std::string pair = a.id + " and " + b.id;
  if (finding.value < 0.0) return pair + " run into each other by " + millimetres(-finding.value) + ".";
  return "The web between " + pair + " is " + millimetres(finding.value, true) + ", " +
         (along ? "along the grain" : "around the tube") + "; it needs " + millimetres(finding.limit, true) +
         ".";
}

/// The webs of all pairs that `wanted` picks whose shortest way runs in one direction.
template <class Wanted>
std::vector<Finding> webs(const LaidOut& laid, const char* rule, const Wanted& wanted, bool along,
                          bool around) {
  Tally tally(rule);
  const RuleLimits& limits = laid.layout.limits;
  const std::vector<Cut> cuts = cuts_of(laid);
  for (std::size_t i = 0; i < cuts.size(); ++i) {
    for (std::size_t j = i + 1; j < cuts.size(); ++j) {
      if (!wanted(cuts[i], cuts[j])) continue;
      const double highest = std::max(along_limit(limits, cuts[i], cuts[j]), limits.web_around);
      if (least_possible_gap(*cuts[i].outline, *cuts[j].outline) - highest > tally.margin_that_matters())
        continue;
      const Gap gap = gap_between(laid.tube, *cuts[i].outline, *cuts[j].outline);
      const bool runs_along = gap.along_the_grain();
      if (runs_along ? !along : !around) continue;
      Finding finding = tally.at_least(
          gap.distance, runs_along ? along_limit(limits, cuts[i], cuts[j]) : limits.web_around);
      finding.ids = {cuts[i].id, cuts[j].id};
      finding.place = gap.middle;
      finding.sentence = web_sentence(finding, cuts[i], cuts[j], runs_along);
      tally.add(std::move(finding));
    }
  }
  return std::move(tally).take();
}

/// A cut rolled out about its own middle, to read how much of a section it takes.
struct Footprint {
  ClosedCurve curve;
  double low;
  double high;

  double taken(double at) const {
    if (at <= low || at >= high) return 0.0;
    double least = 1e300;
    double most = -1e300;
    for (int i = 0; i < curve.size(); ++i) {
      const Vec2 p = curve.points()[i];
      const Vec2 q = curve.points()[(i + 1) % curve.size()];
      if ((p.x > at) == (q.x > at)) continue;
      const double t = find_root([&](double s) { return curve(s).x - at; }, i, i + 1.0, 1e-10);
      const double u = curve(t).y;
      least = std::min(least, u);
      most = std::max(most, u);
    }
    return most > least ? most - least : 0.0;
  }
};

/// Share of the girth that the cuts take at one section, front and back together.
struct Loss {
  std::vector<Footprint> prints;
  const Tube& tube;

  double share(double at) const {
    double taken = 0.0;
    for (const Footprint& print : prints) taken += print.taken(at);
    return taken > 0.0 ? taken / tube.girth(at) : 0.0;
  }
};

/// Where the share is greatest near `at`.
double settled(const Loss& loss, double at, double step, double low, double high) {
  for (; step > 1e-6; step *= 0.5) {
    for (const double there : {std::max(at - step, low), std::min(at + step, high)}) {
      if (loss.share(there) > loss.share(at)) at = there;
    }
  }
  return at;
}

/// The worst section of every stretch that loses more than is allowed, or else the worst of all.
std::vector<double> worst_sections(const Loss& loss, double limit) {
  constexpr double step = 0.25;  // millimetres; each maximum is then closed in on
  double low = 1e300;
  double high = -1e300;
  for (const Footprint& print : loss.prints) {
    low = std::min(low, print.low);
    high = std::max(high, print.high);
  }
  std::vector<double> found;
  double worst_at = low;
  double worst_of_stretch = limit;
  double worst = 0.0;
  bool in_stretch = false;
  for (double at = low; at < high + step; at += step) {
    const double share = loss.share(at);
    if (share > worst) {
      worst = share;
      worst_at = at;
    }
    if (share > limit && !in_stretch) {
      found.push_back(at);
      worst_of_stretch = limit;
    }
    in_stretch = share > limit;
    if (share > worst_of_stretch) {
      worst_of_stretch = share;
      found.back() = at;
    }
  }
  if (found.empty()) found.push_back(worst_at);
  for (double& at : found) at = settled(loss, at, step, low, high);
  return found;
}

}  // namespace

std::vector<Finding> webs_along(const LaidOut& laid) {
  const auto holes = [](const Cut& a, const Cut& b) { return !a.is_opening && !b.is_opening; };
  return webs(laid, "web-along", holes, true, false);
}

std::vector<Finding> webs_around(const LaidOut& laid) {
  const auto holes = [](const Cut& a, const Cut& b) { return !a.is_opening && !b.is_opening; };
  return webs(laid, "web-around", holes, false, true);
}

std::vector<Finding> opening_webs(const LaidOut& laid) {
  const auto opening = [](const Cut& a, const Cut& b) { return a.is_opening || b.is_opening; };
  return webs(laid, "opening-web", opening, true, true);
}

std::vector<Finding> girth_lost(const LaidOut& laid) {
  Tally tally("girth-lost");
  const std::vector<Cut> cuts = cuts_of(laid);
  if (cuts.empty()) return {};
  Loss loss{{}, laid.tube};
  for (const Cut& cut : cuts) {
    loss.prints.push_back({laid_out(laid.tube, *cut.outline, cut.outline->theta()), cut.outline->least_at(),
                           cut.outline->greatest_at()});
  }
  const double limit = laid.layout.limits.girth_lost;
  for (const double at : worst_sections(loss, limit)) {
    Finding finding = tally.at_most(loss.share(at), limit);
    double widest = 0.0;
    for (std::size_t i = 0; i < cuts.size(); ++i) {
      const double taken = loss.prints[i].taken(at);
      if (taken > 0.0) finding.ids.push_back(cuts[i].id);
      if (taken <= widest) continue;
      widest = taken;
      finding.place = {at, laid.tube.section(at).around(cuts[i].outline->theta())};
    }
    finding.sentence = listing(finding.ids) + (finding.ids.size() > 1 ? " together take " : " takes ") +
                       percent(finding.value) + " of the girth at one section; at most " + percent(limit) +
                       " may be lost.";
    tally.add(std::move(finding));
  }
  return std::move(tally).take();
}

}  // namespace culmwright
