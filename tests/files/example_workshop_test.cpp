/// The worked workshop in examples/ must stay what its notes say it is.
#include <catch2/catch.hpp>

#include "files/documents.hpp"
#include "fit/assemble.hpp"
#include "fit/rules.hpp"
#include "tube/survey_fit.hpp"

using namespace culmwright;

namespace {

const std::string folder = std::string(CULMWRIGHT_SOURCE_DIR) + "/examples/workshop/";

std::vector<Finding> findings_of(const LoadedWorkshop& workshop, const LoadedWorkshop::Job& job) {
  const Tube tube = fit_survey(workshop.tubes[job.tube].value).tube();
  const KeyLayout& layout = workshop.key_layouts[job.key_layout].value;
  return check(tube, layout, assemble(tube, layout, job.placement.value));
}

}  // namespace

TEST_CASE("every placement of the example workshop keeps every hard rule") {
  const LoadedWorkshop workshop = read_whole_workshop(folder + "workshop.json");
  CHECK(workshop.tubes.size() == 6);
  CHECK(workshop.jobs.size() == 5);
  for (const LoadedWorkshop::Job& job : workshop.jobs) {
    INFO(job.placement.value.id);
    for (const Finding& finding : findings_of(workshop, job)) {
      INFO(finding.sentence);
      CHECK((finding.passes || finding.severity == Severity::warning));
    }
  }
}

TEST_CASE("the example's readings agree with the shape fitted to them") {
  // Independent readings scatter about the fit by no more than their stated errors: rms near or below one,
  // and of a few hundred none beyond four standard deviations.
  const LoadedWorkshop workshop = read_whole_workshop(folder + "workshop.json");
  for (const auto& tube : workshop.tubes) {
    INFO(tube.value.id);
    double squares = 0.0;
    const TubeFit fit = fit_survey(tube.value);
    for (const Residual& residual : fit.residuals()) {
      CHECK(std::abs(residual.in_sigmas()) < 4.0);
      squares += residual.in_sigmas() * residual.in_sigmas();
    }
    CHECK(std::sqrt(squares / static_cast<double>(fit.residuals().size())) < 1.1);
  }
}

TEST_CASE("the refused placement of the example is refused for its nodes") {
  const LoadedWorkshop workshop = read_whole_workshop(folder + "refused/workshop.json");
  REQUIRE(workshop.jobs.size() == 1);
  const std::vector<Finding> findings = findings_of(workshop, workshop.jobs[0]);
  CHECK_FALSE(acceptable(findings));
  const std::optional<Finding> node = tightest(findings, "node-distance");
  REQUIRE(node.has_value());
  CHECK_FALSE(node->passes);
}
