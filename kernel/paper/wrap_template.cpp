#include "paper/fitted_marks.hpp"
#include "paper/wrap_template.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "paper/sheet_map.hpp"
#include "paper/wrap_relief.hpp"
#include "paper/wrap_sheet.hpp"
#include "paper/wrap_words.hpp"

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

/// Lines that no hole's edge may pass, for the greatest hole of the run: beside nodes, and from the saw cuts.
std::vector<SkinCurve> limit_lines(const Net& net, const Instrument& instrument, const RuleLimits& limits,
                                   const std::vector<Feature>& features) {
  double greatest = 0.0;
  for (const Feature& feature : features) greatest = std::max(greatest, feature.diameter);
  if (greatest == 0.0) return {};
  const Tube& tube = net.development().tube();
  const Angle from = Angle::from_radians(net.window().left);
  const Angle to = Angle::from_radians(net.window().right);
  std::vector<SkinCurve> lines;
  const double off_node = std::max(limits.node_clearance, limits.node_clearance_per_diameter * greatest);
  for (const Node& node : tube.nodes()) {
    for (const double side : {-1.0, 1.0}) {
      lines.push_back(ridge_curve(node, side * (0.5 * node.band + off_node), from, to));
    }
  }
  const double off_end = std::max(limits.end_clearance, limits.end_clearance_per_diameter * greatest);
  const double inward = instrument.mouth_cut_at < instrument.foot_cut_at ? 1.0 : -1.0;
  for (const double at :
       {instrument.mouth_cut_at + inward * off_end, instrument.foot_cut_at - inward * off_end}) {
    if (at > net.window().top + 1.0 && at < net.window().bottom - 1.0)
      lines.push_back(ring_curve(tube, at, from, to));
  }
  return lines;
}

std::vector<SkinCurve> all_relief(const Net& net, const Instrument& instrument,
                                  const std::vector<Feature>& features) {
  std::vector<SkinCurve> cuts;
  const Development& development = net.development();
  for (const Node& node : development.tube().nodes()) {
    const double at = std::clamp(node.at(), development.at_from(), development.at_to());
    const std::vector<Angle> upright{development.line(at), development.line(at, instrument.facing)};
    for (SkinCurve& cut : relief_cuts(net, node, features, upright)) cuts.push_back(std::move(cut));
  }
  return cuts;
}

/// The sheets, and which blocks of words stand on each of them and which on a sheet of their own.
struct Layout {
  SheetPlan plan;
  std::vector<Block> on_each;
  std::vector<Block> apart;
  int sheets() const { return plan.sheets() + (apart.empty() ? 0 : 1); }
};

class Layouter {
 public:
  Layouter(const Net& net, const Paper& paper, const std::vector<Box>& uncut, double legend, double title)
      : net_(net), paper_(paper), uncut_(uncut), legend_(legend), title_(title) {}

  /// None when the paper is too small for it.
  std::optional<Layout> laid(std::vector<Block> on_each, std::vector<Block> apart, bool map) const {
    std::vector<double> heights;
    for (const Block& block : on_each) heights.push_back(block.height);
    if (map) heights.push_back(map_height());
    heights.push_back(legend_);
    heights.push_back(title_);
    try {
      return Layout{plan_sheets(net_.bounds().grown(0.5), heights, paper_, uncut_), std::move(on_each),
                    std::move(apart)};
    } catch (const InputError&) {
      return {};
    }
  }
  /// Throws what laid() keeps to itself.
  void refuse() const { plan_sheets(net_.bounds().grown(0.5), {legend_, title_}, paper_, uncut_); }

 private:
  /// It does not depend on how the net is cut into sheets unless these are many.
  double map_height() const {
    SheetPlan plan;
    const Box net = net_.bounds();
    plan.x_joints = {net.left, net.right};
    for (int i = 0; i <= 6; ++i) plan.y_joints.push_back(net.top + net.height() * i / 6.0);
    return sheet_map(plan, net_.outline(), 1).height;
  }

  const Net& net_;
  const Paper& paper_;
  const std::vector<Box>& uncut_;
  double legend_;
  double title_;
};

std::vector<Block> joined(std::vector<Block> first, const std::vector<Block>& more) {
  first.insert(first.end(), more.begin(), more.end());
  return first;
}

/// The fewest sheets of paper; of equals the one with the fewest joints.
Layout laid_out(const Layouter& layouter, const std::vector<Block>& truth) {
  const std::optional<Layout> one =
      layouter.laid(joined({scale_check_block(), wrap_block(false)}, truth), {}, false);
  if (one && one->plan.sheets() == 1) return *one;
  std::optional<Layout> best =
      layouter.laid(joined({scale_check_block(), wrap_block(true)}, truth), {}, true);
  const std::optional<Layout> apart =
      layouter.laid({scale_check_block()}, joined({wrap_block(true)}, truth), true);
  const auto less = [](const Layout& a, const Layout& b) {
    return std::pair{a.sheets(), a.plan.sheets()} < std::pair{b.sheets(), b.plan.sheets()};
  };
  if (apart && (!best || less(*apart, *best))) best = apart;
  if (!best) layouter.refuse();
  require(best.has_value(), "a paper that holds a legend holds a template");
  return *best;
}

/// What the paper does, then what the guides do to the holes of the run.
std::vector<Block> truth_blocks(const Tube& tube, const Development& development, const Paper& paper,
                                const TemplateNotes& notes) {
  std::vector<HoleTolerance> holes;
  for (const HoleTolerance& hole : notes.through_guides) {
    if (hole.at >= development.at_from() && hole.at <= development.at_to()) holes.push_back(hole);
  }
  std::stable_sort(holes.begin(), holes.end(),
                   [](const HoleTolerance& a, const HoleTolerance& b) { return a.at < b.at; });
  constexpr double least_paper = 200.0;  // the lower side of A4 or Letter, less margins of 8
  return joined({truth_block(tube, development, paper.thickness, notes)},
                guided_blocks(holes, least_paper - 60.0));
}

/// A sheet of words alone, in columns.
Page words_sheet(const WrapContent& content, const std::vector<Block>& blocks) {
  const SheetPlan& plan = content.plan;
  Page page;
  page.width = plan.size.width;
  page.height = plan.size.height;
  page.title = sheet_title(content, content.sheets);
  page.description = "How to join and wrap the template, and how true it is.";
  const auto put = [&](const Block& block, Vec2 origin) {
    Group& group = page.group(block.id, block.title);
    for (const Item& item : block.items) group.items.push_back(moved(item, origin));
  };
  Vec2 place{plan.printable.left, plan.printable.top};
  for (const Block& block : blocks) {
    if (place.y > plan.printable.top && place.y + block.height > plan.printable.bottom) {
      place = {place.x + panel_width + panel_gap, plan.printable.top};
    }
    put(block, place);
    place.y += block.height + panel_gap;
  }
  const Block title = title_block(sheet_title_block(content, content.sheets));
  put(title, {plan.printable.right - panel_width, plan.printable.bottom - title.height});
  return page;
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

Drawing wrap_template(const Tube& tube, const Instrument& instrument, const Shop& shop, Run run,
                      const TemplateNotes& notes) {
  const Development development = Development::fit(tube, run.at_from, run.at_to, shop.paper.thickness);
  std::vector<Feature> features = features_of(tube, instrument, run.at_from, run.at_to, shop.pilot_diameter);
  add_fitted_marks(features, tube, fitted_holes(tube, instrument, shop));
  const Angle front = development.line(0.5 * (run.at_from + run.at_to), instrument.facing);
  const Net net(development, choose_seam(development, features, front), glue_tab);
  const std::vector<Box> uncut = uncut_boxes(net, features);
  const double legend = legend_block(all_signs(features, tube, instrument)).height;
  const Layouter layouter(net, shop.paper, uncut, legend,
                          title_block({"", "x", "", "", "", "", "", 1, 1}).height);
  const Layout layout = laid_out(layouter, truth_blocks(tube, development, shop.paper, notes));
  const SheetPlan& plan = layout.plan;
  const std::string paper = std::string(paper_name(plan.paper)) +
                            (plan.orientation == Orientation::portrait ? " upright" : " across");
  WrapContent content{net,
                      instrument,
                      features,
                      {},
                      {},
                      all_relief(net, instrument, features),
                      limit_lines(net, instrument, notes.limits, features),
                      plan,
                      joint_marks(plan, net, uncut),
                      layout.on_each,
                      paper,
                      layout.sheets()};
  for (const Feature& feature : content.features) {
    content.flat.push_back(net.flat(feature.outline));
    content.inside.push_back(net.flat_inside(feature.outline));
  }
  Drawing drawing;
  for (int row = 0; row < plan.down(); ++row) {
    for (int column = 0; column < plan.across(); ++column) {
      drawing.pages.push_back(WrapSheet(content, column, row).draw());
    }
  }
  if (!layout.apart.empty()) drawing.pages.push_back(words_sheet(content, layout.apart));
  return drawing;
}

}  // namespace culmwright
