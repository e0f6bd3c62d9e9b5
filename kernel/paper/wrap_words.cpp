#include "paper/wrap_words.hpp"

#include <algorithm>
#include <cmath>

#include "paper/words.hpp"
#include "paper/wrap_relief.hpp"
#include "tube/survey_report.hpp"

namespace culmwright {

namespace {

bool inside_run(const Node& node, double at_from, double at_to) {
  return node.at() - 0.5 * node.band > at_from && node.at() + 0.5 * node.band < at_to;
}

/// How much all ridges that the run passes draw the paper together.
double shortening(const Tube& tube, double at_from, double at_to) {
  double sum = 0.0;
  for (const Node& node : tube.nodes()) {
    if (inside_run(node, at_from, at_to)) sum += ridge_shortening(tube, node, at_from, at_to);
  }
  return sum;
}

std::string statement(const Tube& tube, const Development& net) {
  const DevelopmentError& error = net.error();
  const double ridges = shortening(tube, net.at_from(), net.at_to());
  std::string words = "Wrapped, a place on it is true to " + error_words(error.along + ridges) +
                      " along the piece and " + error_words(error.around) + " around";
  if (ridges >= 0.01) {
    words += "; " + error_words(ridges) + " of it along, since strips between slits arch over the ridges";
  }
  words += ". The skin leaves the paper by " + error_words(error.shape);
  if (error.bow >= 0.01) words += "; the paper follows a bow of " + error_words(error.bow);
  words += ".";
  return words;
}

}  // namespace

Block wrap_block(bool several) {
  BlockWriter wrap("how-to-wrap", "How to wrap it");
  wrap.heading("Wrap it");
  if (several) {
    wrap.words(
        "First join the sheets: cut one along the joint; against a window lay equal letters' crosses on each "
        "other; tape.");
  }
  return wrap
      .words(
          "Cut along the thick edge, slit where it is marked; leave the tab on. Wrap it tight, print "
          "outside, end A "
          "up, reference line on the line of the piece. Glue the tab under the other edge.")
      .done();
}

Block truth_block(const Tube& tube, const Development& development, double paper_thickness,
                  const TemplateNotes& notes) {
  BlockWriter writer("error", "How true the template is");
  writer.heading("How true it is").words(statement(tube, development));
  if (notes.survey_error) {
    writer.words("The measurements of the piece place a hole to " + error_words(*notes.survey_error) +
                 (*notes.survey_error <= accepted_by_fingers ? ", within the " : ", not within the ") +
                 decimals(accepted_by_fingers, 1) + " mm that fingers accept.");
  }
  for (const std::string& words : notes.how_true) writer.words(words);
  return writer.words("For paper " + decimals(paper_thickness, 2) + " mm thick.").done();
}

std::set<Sign> all_signs(const std::vector<Feature>& features, const Tube& tube,
                         const Instrument& instrument) {
  std::set<Sign> signs{Sign::outline, Sign::tab, Sign::reference_line, Sign::datum,
                       Sign::joint,   Sign::cut, Sign::limit};
  if (!tube.nodes().empty()) signs.insert({Sign::node, Sign::relief});
  if (!instrument.keys.empty()) signs.insert(Sign::hand);
  if (tube.shape().tilt_a || tube.shape().tilt_b) signs.insert(Sign::end);
  if (std::abs(instrument.facing.normalized().degrees()) >= 0.05) signs.insert(Sign::key_line);
  for (const Feature& feature : features) {
    switch (feature.kind) {
      case Feature::Kind::hole:
        signs.insert(Sign::rim);
        if (!feature.pilot.points.empty()) signs.insert(Sign::bits);
        break;
      case Feature::Kind::touch:
        signs.insert(Sign::touch);
        break;
      case Feature::Kind::opening:
        signs.insert(Sign::opening);
        break;
      case Feature::Kind::footprint:
        if (feature.axis) signs.insert(Sign::slider);
        signs.insert(Sign::footprint);
        break;
      case Feature::Kind::blemish:
        if (feature.use == BlemishUse::avoid) signs.insert(Sign::keep_off);
        signs.insert(Sign::blemish);
        break;
    }
  }
  return signs;
}

std::string error_statement(const Tube& tube, Run run, double paper_thickness) {
  return statement(tube, Development::fit(tube, run.at_from, run.at_to, paper_thickness));
}

}  // namespace culmwright
