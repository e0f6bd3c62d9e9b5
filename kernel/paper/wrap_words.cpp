#include "paper/wrap_words.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "drawing/plane.hpp"
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

constexpr double guided_text = 2.5;
constexpr double guided_row = 4.0;
constexpr std::array<double, 3> guided_ends{25.0, 38.0, 49.0};  ///< of the columns of figures
constexpr double guided_id = 15.0;                              ///< widest id beside figures

/// A row of the table of holes: the id from the left, figures at their columns' ends, then `mark`. An id that
/// does not fit stands over its figures.
void add_guided_row(const std::string& id, const std::array<std::string, 3>& figures, const char* mark,
                    Weight weight, BlockWriter& writer) {
  const auto put = [&](double x, const std::string& words, Anchor anchor, Weight how) {
    writer.item(Text{{x, writer.y()}, words, guided_text, anchor, {}, how, Ink::black});
  };
  writer.down(guided_text);
  put(0.0, shortened(id, panel_width), Anchor::start, weight);
  if (text_extent(id, guided_text, weight).width > guided_id) writer.down(guided_row);
  for (std::size_t i = 0; i < figures.size(); ++i)
    put(guided_ends[i], figures[i], Anchor::end, Weight::regular);
  if (*mark != '\0') put(guided_ends.back() + 1.2, mark, Anchor::start, Weight::bold);
  writer.down(guided_row - guided_text);
}

void add_guided_header(BlockWriter& writer) {
  add_guided_row("hole", {"along", "around", "in all"}, "", Weight::regular, writer);
}

/// Upward to a tenth, so that the words beside it stay true.
std::string tenths_at_most(double value) {
  return decimals(std::ceil(10.0 * value - 1e-9) / 10.0, 1);
}

BlockWriter guided_heading(const std::vector<HoleTolerance>& holes) {
  const bool wide = std::any_of(holes.begin(), holes.end(), too_wide);
  BlockWriter writer("through-guides", "How true holes come out of the printed guides");
  writer.heading("Through the guides");
  writer.words(
      "Of 100 holes drilled through the printed guides 95 come out within so many mm of their "
      "places; fingers accept " +
      decimals(accepted_by_fingers, 1) + " in all" + (wide ? ", ! is more" : "") +
      ". It does not hold for holes pricked through this paper.");
  writer.down(1.0);
  add_guided_header(writer);
  return writer;
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

std::vector<Block> guided_blocks(const std::vector<HoleTolerance>& holes, double column_height) {
  std::vector<Block> blocks;
  if (holes.empty()) return blocks;
  BlockWriter writer = guided_heading(holes);
  for (const HoleTolerance& hole : holes) {
    if (writer.y() + 2.0 * guided_row > column_height) {
      blocks.push_back(writer.done());
      writer = BlockWriter("through-guides-" + std::to_string(blocks.size() + 1), "Holes, continued");
      add_guided_header(writer);
    }
    add_guided_row(hole.id,
                   {tenths_at_most(hole.along), tenths_at_most(hole.around), tenths_at_most(hole.radial)},
                   too_wide(hole) ? "!" : "", Weight::bold, writer);
  }
  blocks.push_back(writer.done());
  return blocks;
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
        signs.insert(feature.drilled ? Sign::drilled : Sign::rim);
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
