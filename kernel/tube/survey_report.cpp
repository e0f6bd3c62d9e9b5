#include "tube/survey_report.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "tube/fit_readings.hpp"
#include "tube/mass.hpp"

namespace culmwright {

namespace {

/// A reading farther off than this many of its standard deviations looks wrong.
constexpr double off_in_sigmas = 3.0;

double bridge_volume_variance(const std::vector<double>& knots, double half_way, double girth) {
  // A random walk pinned at both ends of a gap g has an integral of variance q g³/12.
  const double q = 4.0 * half_way * half_way / 100.0;
  double sum = 0.0;
  for (std::size_t i = 0; i + 1 < knots.size(); ++i) {
    const double gap = knots[i + 1] - knots[i];
    sum += girth * girth * q * gap * gap * gap / 12.0;
  }
  return sum;
}

std::vector<double> level_knots(const TubeFit& fit, FitParameter::Field field) {
  std::vector<double> at;
  for (const FitParameter& parameter : fit.parameters()) {
    if (parameter.field == field && parameter.order == 0) at.push_back(parameter.at);
  }
  return at;
}

/// First variation of the wall's volume: dV = ∫∫ (h + h″) δh − (g + g″) δg, with g = h − w.
Figure volume_figure(const TubeFit& fit) {
  const Tube& tube = fit.tube();
  constexpr int along = 60, around = 24;
  std::vector<double> gradient(fit.values().size(), 0.0);
  double mean_girth = 0.0;
  for (int i = 0; i < along; ++i) {
    const double at = tube.end_a_at() + tube.length() * (i + 0.5) / along;
    const Section section = tube.section(at);
    mean_girth += section.girth() / along;
    for (int k = 0; k < around; ++k) {
      const Angle theta = Angle::from_degrees(360.0 * k / around);
      const SurfaceJet h = section.base_support(theta);
      const SurfaceJet g = section.bore_support(theta);
      const double cell = tube.length() / along * 2.0 * pi / around;
      const std::vector<double> skin = fit.support_gradient(at, theta);
      const std::vector<double> wall = fit.wall_gradient(at, theta);
      const double of_skin = cell * (h.f + h.f_tt - g.f - g.f_tt);
      const double of_wall = cell * (g.f + g.f_tt);
      for (std::size_t p = 0; p < gradient.size(); ++p) gradient[p] += of_skin * skin[p] + of_wall * wall[p];
    }
  }
  const double variance =
      fit.variance(gradient) + bridge_volume_variance(level_knots(fit, FitParameter::Field::wall),
                                                      fit.priors().wall_wander, mean_girth);
  return {wall_moments(tube).volume, std::sqrt(variance)};
}

void find_bow(const TubeFit& fit, SurveyReport& report) {
  const Tube& tube = fit.tube();
  const auto centre = [&](double at) {
    const FourierTerm bow = tube.shape().skin.section(at).terms()[1];
    return Vec2{bow.cosine.value, bow.sine.value};
  };
  const Vec2 a = centre(tube.end_a_at());
  const Vec2 b = centre(tube.end_b_at());
  double greatest = -1.0;
  for (int i = 0; i <= 400; ++i) {
    const double share = i / 400.0;
    const double at = tube.end_a_at() + tube.length() * share;
    const Vec2 offset = centre(at) - (a + (b - a) * share);
    if (length(offset) <= greatest) continue;
    greatest = length(offset);
    report.bow_at = at;
    report.bow_facing = Angle::from_radians(std::atan2(offset.y, offset.x));
  }
  std::vector<double> gradient = fit.support_gradient(report.bow_at, report.bow_facing);
  for (std::size_t i = 0; i < gradient.size(); ++i) {
    if (fit.parameters()[i].order != 1) gradient[i] = 0.0;
  }
  report.bow_offset = {greatest, std::sqrt(fit.variance(gradient))};
  report.bow = greatest / tube.length();
}

void find_internodes(const Tube& tube, SurveyReport& report) {
  double from = tube.end_a_at();
  for (const Node& node : tube.nodes()) {
    report.internodes.push_back({from, node.at()});
    from = node.at();
  }
  report.internodes.push_back({from, tube.end_b_at()});
}

void weigh(const TubeFit& fit, SurveyReport& report) {
  const Survey& survey = fit.survey();
  report.volume = volume_figure(fit);
  if (!survey.mass_g) return;
  report.mass_g = survey.mass_g;
  const double density = 1000.0 * *survey.mass_g / report.volume.value;
  const double relative =
      std::hypot(report.volume.sigma / report.volume.value, survey.errors.scale_g / *survey.mass_g);
  report.density = Figure{density, density * relative};
  const auto mass = mass_of(fit.tube(), fit.tube().end_a_at(), fit.tube().end_b_at());
  // Without a balance point the centre follows the shape alone; the density may drift by a tenth along the
  // piece.
  const double unbalanced = 0.1 / 12.0 * survey.length;
  report.centre_of_gravity = Figure{-mass->centre.z, survey.balance_at ? survey.errors.balance : unbalanced};
}

void remark_readings(const TubeFit& fit, SurveyReport& report) {
  for (const Residual& residual : fit.residuals()) {
    if (std::abs(residual.in_sigmas()) < off_in_sigmas) continue;
    report.remarks.push_back({"reading-off", residual.pointer,
                              "The " + residual.what + " reads " + fixed_text(residual.read, 2) +
                                  "; the other readings together say " + fixed_text(residual.fitted, 2) +
                                  " (" + fixed_text(std::abs(residual.in_sigmas()), 1) +
                                  " times its error). Measure it again."});
  }
}

void remark_stations(const TubeFit& fit, SurveyReport& report) {
  const Survey& survey = fit.survey();
  for (std::size_t i = 0; i < survey.stations.size(); ++i) {
    if (!in_node_band(survey, survey.stations[i].at)) continue;
    report.remarks.push_back(
        {"station-on-node", "/stations/" + std::to_string(i),
         "The station at " + fixed_text(survey.stations[i].at, 1) +
             " lies on a node's ridge and was not used for the skin. Measure clear of the "
             "ridge."});
  }
  const std::vector<double> knots = level_knots(fit, FitParameter::Field::skin);
  for (std::size_t i = 1; i + 1 < report.internodes.size(); ++i) {
    const Internode& internode = report.internodes[i];
    const bool measured = std::any_of(knots.begin(), knots.end(), [&](double at) {
      return at > internode.from_at && at < internode.to_at;
    });
    if (measured) continue;
    report.remarks.push_back(
        {"no-station-between-nodes", "/stations",
         "Nothing was measured between the nodes at " + fixed_text(internode.from_at, 0) + " and " +
             fixed_text(internode.to_at, 0) + ": the skin there is a guess across a node."});
  }
}

/// The second term of each station that was measured in two directions or more: which way it is wide.
struct Ovality {
  std::size_t station;
  Vec2 term;
};

std::vector<Ovality> ovalities(const TubeFit& fit) {
  std::vector<Ovality> found;
  const auto& stations = fit.survey().stations;
  for (std::size_t i = 0; i < stations.size(); ++i) {
    if (stations[i].widths.size() < 2 || in_node_band(fit.survey(), stations[i].at)) continue;
    const FourierSection section = fit.tube().shape().skin.section(stations[i].at);
    if (section.terms().size() < 3) continue;
    found.push_back({i, {section.terms()[2].cosine.value, section.terms()[2].sine.value}});
  }
  return found;
}

/// Two widths taken for each other agree with every girth; only the neighbours show it.
void remark_ovality(const TubeFit& fit, SurveyReport& report) {
  const std::vector<Ovality> all = ovalities(fit);
  if (all.size() < 3) return;
  // A difference of two widths is four times the term.
  const double least = off_in_sigmas * std::sqrt(2.0) / 4.0 * fit.survey().errors.caliper;
  Vec2 sum{};
  for (const Ovality& one : all) sum = sum + one.term;
  for (const Ovality& one : all) {
    const Vec2 others = (sum - one.term) * (1.0 / (static_cast<double>(all.size()) - 1.0));
    const double lengths = length(one.term) * length(others);
    if (length(one.term) < least || length(others) < least || dot(one.term, others) > -0.8 * lengths)
      continue;
    report.remarks.push_back({"ovality-turns", "/stations/" + std::to_string(one.station) + "/widths",
                              "At " + fixed_text(fit.survey().stations[one.station].at, 1) +
                                  " the piece is widest where the other stations are narrowest. Look whether "
                                  "two widths were taken for each other."});
  }
}

void remark_density(const Survey& survey, SurveyReport& report) {
  if (!report.density) {
    report.remarks.push_back(
        {"not-weighed", "/mass_g", "The piece was not weighed: density and balance stay unknown."});
    return;
  }
  const DensityRange range = plausible_density(survey.material);
  const double density = report.density->value;
  if (density > range.least && density < range.greatest) return;
  report.remarks.push_back({"density", "/mass_g",
                            "Mass and shape together give " + fixed_text(density, 2) +
                                " g/cm³; such material has " + fixed_text(range.least, 2) + " to " +
                                fixed_text(range.greatest, 2) +
                                ". Look at the mass and the wall readings again."});
}

}  // namespace

DensityRange plausible_density(Material material) {
  switch (material) {
    case Material::bamboo:
      return {0.45, 1.10};
    case Material::elder:
      return {0.40, 0.85};
    case Material::wood:
      return {0.30, 1.35};
    case Material::pipe:
      return {0.85, 1.60};
    case Material::other:
      break;
  }
  return {0.10, 3.0};
}

StationFigures figures_at(const TubeFit& fit, double at) {
  const Section section = fit.tube().section(at);
  StationFigures figures;
  figures.at = at;
  figures.greatest = 0.0;
  figures.least = 1e300;
  const auto width = [&](double degrees) {
    const Angle theta = Angle::from_degrees(degrees);
    return section.base_support(theta).f + section.base_support(theta + Angle::from_degrees(180)).f;
  };
  double girth = 0.0;
  double wall = 0.0;
  for (int i = 0; i < 180; ++i) {
    figures.greatest = std::max(figures.greatest, width(i));
    figures.least = std::min(figures.least, width(i));
    girth += width(i) * pi / 180.0;
    if (i % 15 != 0) continue;
    const Angle theta = Angle::from_degrees(2 * i);
    wall += (section.base_support(theta).f - section.bore_support(theta).f) / 12.0;
  }
  figures.girth = {girth, fit.girth_sigma(at)};
  figures.wall = {wall, fit.wall_sigma(at, Angle())};
  return figures;
}

SurveyReport report_on(const TubeFit& fit) {
  SurveyReport report;
  const Tube& tube = fit.tube();
  for (double at : level_knots(fit, FitParameter::Field::skin))
    report.stations.push_back(figures_at(fit, at));
  const StationFigures a = figures_at(fit, tube.end_a_at());
  const StationFigures b = figures_at(fit, tube.end_b_at());
  report.taper = {(a.girth.value - b.girth.value) / pi / tube.length(),
                  std::hypot(a.girth.sigma, b.girth.sigma) / pi / tube.length()};
  find_bow(fit, report);
  find_internodes(tube, report);
  weigh(fit, report);
  remark_readings(fit, report);
  remark_stations(fit, report);
  remark_ovality(fit, report);
  remark_density(fit.survey(), report);
  report.next = next_reading(fit);
  return report;
}

}  // namespace culmwright
