#include "paper/wrap_template.hpp"

#include <algorithm>
#include <cmath>

#include "paper/words.hpp"
#include "paper/wrap_sheet.hpp"

namespace culmwright {

namespace {

constexpr double glue_tab = 8.0;
constexpr double beyond_cut = 5.0;

Box bounds_of(const std::vector<Polyline>& lines) {
  Box box{lines.front().front().x, lines.front().front().y, lines.front().front().x, lines.front().front().y};
  for (const Polyline& line : lines) {
    for (Vec2 p : line) box = box.joined({p.x, p.y, p.x, p.y});
  }
  return box;
}

/// What a joint should not run through, in the plane of the net.
std::vector<Box> uncut_boxes(const Net& net, const std::vector<Feature>& features) {
  std::vector<Box> boxes;
  for (const Feature& feature : features) {
    if (feature.kind == Feature::Kind::blemish) continue;
    for (const Polyline& line : net.flat(feature.outline)) boxes.push_back(bounds_of({line}));
  }
  const Angle from = Angle::from_radians(net.window().left);
  const Angle to = Angle::from_radians(net.window().right);
  for (const Node& node : net.development().tube().nodes()) {
    std::vector<Polyline> edges = net.flat(ridge_curve(node, -0.5 * node.band, from, to));
    for (const Polyline& line : net.flat(ridge_curve(node, 0.5 * node.band, from, to))) edges.push_back(line);
    if (!edges.empty()) boxes.push_back(bounds_of(edges));
  }
  return boxes;
}

/// The first of from, from + step, … within [from, to] whose surroundings are free; else the first.
template <class Place>
Vec2 first_free(double from, double to, double step, const std::vector<Box>& taken, const Place& place) {
  constexpr double room = 8.0;
  for (double t = from; step > 0.0 ? t <= to : t >= to; t += step) {
    const Vec2 p = place(t);
    const Box box = Box{p.x, p.y, p.x, p.y}.grown(room);
    if (std::none_of(taken.begin(), taken.end(), [&](const Box& other) { return other.overlaps(box); }))
      return p;
  }
  return place(from);
}

std::string letter_of(std::size_t index) {
  const std::string letter(1, static_cast<char>('A' + index % 26));
  return index < 26 ? letter : letter + std::to_string(index / 26 + 1);
}

/// Two crosses on every edge that two sheets share, well apart.
std::vector<JointMark> joint_marks(const SheetPlan& plan, const Net& net, std::vector<Box> taken) {
  const Box all = bounds_of({net.outline()});
  std::vector<JointMark> marks;
  const auto add = [&](Vec2 place) {
    marks.push_back({place, letter_of(marks.size())});
    taken.push_back(Box{place.x, place.y, place.x, place.y}.grown(4.0));
  };
  constexpr double inset = 12.0;
  for (int column = 0; column < plan.across(); ++column) {
    for (int row = 0; row + 1 < plan.down(); ++row) {
      const Box core = plan.core(column, row);
      const auto on_joint = [&](double x) { return Vec2{x, core.bottom}; };
      const double left = std::max(core.left, all.left) + inset;
      const double right = std::min(core.right, all.right) - inset;
      add(first_free(left, right, 1.0, taken, on_joint));
      add(first_free(right, left, -1.0, taken, on_joint));
    }
  }
  for (int row = 0; row < plan.down(); ++row) {
    for (int column = 0; column + 1 < plan.across(); ++column) {
      const Box core = plan.core(column, row);
      const auto on_joint = [&](double y) { return Vec2{core.right, y}; };
      add(first_free(core.top + inset, core.bottom - inset, 1.0, taken, on_joint));
      add(first_free(core.bottom - inset, core.top + inset, -1.0, taken, on_joint));
    }
  }
  return marks;
}

std::string statement(const Development& net, double greatest_ridge) {
  const DevelopmentError& error = net.error();
  std::string words =
      "The paper is the nearest surface to the skin that lies flat without stretching. The skin leaves it "
      "by " +
      error_words(error.shape) + "; a place on it is true to " + error_words(error.along) +
      " along the piece and " + error_words(error.around) + " around.";
  if (error.bow >= 0.01) words += " The paper follows a bow of " + error_words(error.bow) + ".";
  if (greatest_ridge > 0.0) {
    words += " Over a ridge it stands off by up to " + error_words(greatest_ridge) +
             ": press it down on both sides.";
  }
  return words;
}

double greatest_ridge(const Tube& tube, Run run) {
  double greatest = 0.0;
  for (const Node& node : tube.nodes()) {
    if (node.at() > run.at_from && node.at() < run.at_to) greatest = std::max(greatest, node.ridge_height);
  }
  return greatest;
}

std::vector<Block> words_of(const Tube& tube, const Shop& shop, Run run, const Development& development,
                            bool several) {
  std::vector<Block> blocks;
  blocks.push_back(scale_check_block());
  BlockWriter wrap("how-to-wrap", "How to wrap it");
  wrap.heading("Wrap it");
  if (several) {
    wrap.words("Join the sheets first: cut one along the joint, lay equal letters on each other, tape.");
  }
  blocks.push_back(
      wrap.words("Cut along the thick edge; leave the tab on. Wrap it tight, print outside, end A up, its "
                 "reference line on the line of the piece. Glue the tab under the other edge.")
          .done());
  blocks.push_back(BlockWriter("error", "How true the template is")
                       .heading("How true it is")
                       .words(statement(development, greatest_ridge(tube, run)))
                       .words("Made for paper " + decimals(shop.paper.thickness, 2) + " mm thick.")
                       .done());
  return blocks;
}

/// The signs that any sheet of the template may carry, for the room the legend needs.
std::set<Sign> all_signs(const std::vector<Feature>& features, const Tube& tube,
                         const Instrument& instrument) {
  std::set<Sign> signs{Sign::outline, Sign::tab, Sign::reference_line, Sign::datum, Sign::joint, Sign::cut};
  if (!tube.nodes().empty()) signs.insert(Sign::node);
  if (tube.shape().tilt_a || tube.shape().tilt_b) signs.insert(Sign::end);
  if (std::abs(instrument.facing.normalized().degrees()) >= 0.05) signs.insert(Sign::key_line);
  for (const Feature& feature : features) {
    switch (feature.kind) {
      case Feature::Kind::hole:
        signs.insert(Sign::rim);
        break;
      case Feature::Kind::touch:
        signs.insert(Sign::touch);
        break;
      case Feature::Kind::opening:
        signs.insert(Sign::opening);
        break;
      case Feature::Kind::footprint:
        signs.insert(feature.axis ? Sign::slider : Sign::footprint);
        signs.insert(Sign::footprint);
        break;
      case Feature::Kind::blemish:
        signs.insert(feature.use == BlemishUse::avoid ? Sign::keep_off : Sign::blemish);
        signs.insert(Sign::blemish);
        break;
    }
  }
  return signs;
}

}  // namespace

Run whole_run(const Tube& tube, const Instrument& instrument) {
  const double first = std::min(instrument.mouth_cut_at, instrument.foot_cut_at);
  const double last = std::max(instrument.mouth_cut_at, instrument.foot_cut_at);
  return {std::max(tube.end_a_at(), first - beyond_cut), std::min(tube.end_b_at(), last + beyond_cut)};
}

std::vector<Run> internode_runs(const Tube& tube, const Instrument& instrument) {
  const double first = std::min(instrument.mouth_cut_at, instrument.foot_cut_at);
  const double last = std::max(instrument.mouth_cut_at, instrument.foot_cut_at);
  std::vector<double> edges{first};
  for (const Node& node : tube.nodes()) {
    if (node.at() > first + 1.0 && node.at() < last - 1.0) edges.push_back(node.at());
  }
  edges.push_back(last);
  std::vector<Run> runs;
  for (std::size_t i = 0; i + 1 < edges.size(); ++i) {
    const auto within = [&](double at) { return at >= edges[i] && at <= edges[i + 1]; };
    const bool used = std::any_of(instrument.keys.begin(), instrument.keys.end(),
                                  [&](const PlacedKey& key) { return within(key.place.at); }) ||
                      std::any_of(instrument.parts.begin(), instrument.parts.end(),
                                  [&](const PlacedPart& part) { return within(part.place.at); });
    if (used) runs.push_back({edges[i], edges[i + 1]});
  }
  return runs;
}

Drawing wrap_template(const Tube& tube, const Instrument& instrument, const Shop& shop, Run run) {
  const Development development = Development::fit(tube, run.at_from, run.at_to, shop.paper.thickness);
  std::vector<Feature> features = features_of(tube, instrument, run.at_from, run.at_to);
  const Angle front = development.line(0.5 * (run.at_from + run.at_to), instrument.facing);
  const Net net(development, choose_seam(development, features, front), glue_tab);
  const std::vector<Box> uncut = uncut_boxes(net, features);
  const double legend = legend_block(all_signs(features, tube, instrument)).height;
  const double title = title_block({"", "x", "", "", "", "", "", 1, 1}).height;
  std::vector<Block> words;
  SheetPlan plan;
  for (const bool several : {false, true}) {
    words = words_of(tube, shop, run, development, several);
    std::vector<double> heights;
    for (const Block& block : words) heights.push_back(block.height);
    heights.push_back(legend);
    heights.push_back(title);
    plan = plan_sheets(net.bounds().grown(0.5), heights, shop.paper, uncut);
    if (plan.sheets() == 1) break;
  }
  const std::string paper = std::string(paper_name(plan.paper)) +
                            (plan.orientation == Orientation::portrait ? " upright" : " across");
  const WrapContent content{net, instrument, features, plan, joint_marks(plan, net, uncut), words, paper};
  Drawing drawing;
  for (int row = 0; row < plan.down(); ++row) {
    for (int column = 0; column < plan.across(); ++column) {
      drawing.pages.push_back(WrapSheet(content, column, row).draw());
    }
  }
  return drawing;
}

std::string error_statement(const Tube& tube, Run run, double paper_thickness) {
  return statement(Development::fit(tube, run.at_from, run.at_to, paper_thickness),
                   greatest_ridge(tube, run));
}

}  // namespace culmwright
