#include "plan/collar_plan.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "base/words.hpp"
#include "plan/stroke_letters.hpp"

namespace culmwright {

namespace {

using namespace collar_sizes;

constexpr double between_words = 4.0;

struct Ridge {
  Span at;
  double height = 0.0;
};

std::vector<Ridge> ridges_of(const Tube& tube) {
  std::vector<Ridge> ridges;
  for (const Node& node : tube.nodes()) {
    if (node.ridge_height <= 0.0) continue;
    const double half = 0.5 * (node.band + std::abs(node.at_line - node.at_far));
    ridges.push_back({{node.at() - half, node.at() + half}, node.ridge_height});
  }
  return ridges;
}

/// How much of a stretch bears on smooth skin.
double bearing(const std::vector<Ridge>& ridges, const Span& at) {
  double free = at.length();
  for (const Ridge& ridge : ridges) {
    const double reach = ridge_room + ridge_step;
    free -= std::max(0.0, std::min(at.to, ridge.at.to + reach) - std::max(at.from, ridge.at.from - reach));
  }
  return free;
}

class Planner {
 public:
  Planner(const Tube& tube, double cut_at, End kept)
      : tube_(tube),
        base_(smooth_tube(tube)),
        ridges_(ridges_of(tube)),
        cut_at_(cut_at),
        toward_(kept == End::b ? 1 : -1),
        kept_(kept) {}

  CollarPlan plan() {
    find_length();
    const double middle = base_.section(cut_at_).line().radians();
    CollarPlan plan{tube_.id(),
                    cut_at_,
                    toward_,
                    GuideFace(base_, middle, inner_field()),
                    GuideFace(base_, middle, outer_field()),
                    at_,
                    {},
                    {},
                    {},
                    {},
                    {}};
    const double half_split = 0.5 * split / least_radius(plan.inner, middle + pi);
    plan.theta = {middle - pi + half_split, middle + pi - half_split};
    check_curvature(plan);
    add_window(plan);
    add_words(plan);
    add_notes(plan);
    return plan;
  }

 private:
  /// Places counted from the fence.
  double at(double from_fence) const { return cut_at_ + toward_ * from_fence; }
  Span span(double from, double to) const { return {std::min(at(from), at(to)), std::max(at(from), at(to))}; }
  double usual_length() const {
    return rim_length + flank + word_zone + 2.0 * groove_step + groove_width + lip;
  }

  [[noreturn]] void refuse(const std::string& why) const {
    throw GeometryError("saw collar at " + fixed_text(cut_at_, 1), "plan", why);
  }

  void find_length() {
    const double room = kept_ == End::b ? tube_.end_b_at() - cut_at_ : cut_at_ - tube_.end_a_at();
    for (double length = usual_length(); length <= longest; length += 1.0) {
      if (length > room) break;
      at_ = span(0.0, length);
      if (bearing(ridges_, at_) >= least_bearing) return;
    }
    refuse("no " + fixed_text(least_bearing, 0) + " mm of smooth skin within " +
           fixed_text(std::min(room, longest), 0) + " mm of the cut on the side that stays");
  }

  double relief() const {
    double most = 0.0;
    for (const Ridge& ridge : ridges_) {
      const double reach = ridge_room + ridge_step;
      if (ridge.at.to + reach < at_.from || ridge.at.from - reach > at_.to) continue;
      most = std::max(most, ridge.height + ridge_clearance - fit);
    }
    return most;
  }

  OffsetField inner_field() const {
    OffsetField field;
    field.level = fit;
    for (const Ridge& ridge : ridges_) {
      field.patches.push_back({ridge.height + ridge_clearance - fit,
                               {ridge.at.from - ridge_room, ridge.at.to + ridge_room},
                               ridge_step,
                               {},
                               1.0});
    }
    return field;
  }

  OffsetField outer_field() const {
    OffsetField field;
    field.level = fit + relief() + wall;
    // The rim runs on before the fence, so that its face is as thick as it is.
    field.patches.push_back({rim_thick - wall, span(-2.0 * flank, rim_length), flank, {}, 1.0});
    const double groove = rim_length + flank + word_zone + groove_step;
    field.patches.push_back({-groove_depth, span(groove, groove + groove_width), groove_step, {}, 1.0});
    return field;
  }

  double least_radius(const GuideFace& face, double theta) const {
    double least = 1e300;
    for (int i = 0; i <= 10; ++i)
      least = std::min(least, face.radius(theta, at_.from + at_.length() * i / 10));
    return least;
  }

  void check_curvature(const CollarPlan& plan) const {
    for (int k = 0; k < 72; ++k) {
      if (least_radius(plan.inner, plan.inner.middle() + k * pi / 36.0) > 2.0) continue;
      refuse("the skin is curved too sharply for a printed bore");
    }
    if (plan.theta.length() < pi)
      refuse("the piece is too thin for a ring with a split of " + fixed_text(split, 0));
  }

  double word_middle() const { return at(rim_length + flank + 0.5 * word_zone); }

  void add_window(CollarPlan& plan) const {
    const double middle = word_middle();
    const auto line = [&](double at) { return plan.inner.unwrapped(base_.section(at).line().radians()); };
    const double half = 0.5 * window_length;
    const double aside = 0.5 * window_width / plan.outer.radius(plan.inner.middle(), middle);
    plan.window = {{line(middle - half), middle - half},
                   {line(middle) + aside, middle},
                   {line(middle + half), middle + half},
                   {line(middle) - aside, middle}};
  }

  /// Letters stand upright for the onlooker who holds end A up. `from_line`: where they begin, along the
  /// outside, to the right of the line.
  void engrave(CollarPlan& plan, const Lettering& line, double from_line) const {
    const double middle = word_middle();
    const double radius = plan.outer.radius(plan.inner.middle() + from_line / 20.0, middle);
    const double start = plan.inner.middle() + from_line / radius;
    for (const StrokeOutline& outline : line.strokes) {
      std::vector<Vec2> corners;
      for (const Vec2& p : outline)
        corners.push_back({start + p.x / radius, middle - p.y + 0.5 * line.height});
      // Up the page is down the tube: the turn of the outline is the other way round.
      std::reverse(corners.begin(), corners.end());
      plan.strokes.push_back(std::move(corners));
    }
  }

  /// How far words may reach from the line, along the outside.
  double word_room(const CollarPlan& plan) const {
    double least = 1e300;
    for (int k = -3; k <= 3; ++k)
      least = std::min(least, plan.outer.radius(plan.inner.middle() + k, word_middle()));
    return 0.5 * plan.theta.length() * least - beside_split;
  }

  /// Beside what stands there already, at the right of the line (side 1) or the left (−1), or a note.
  void write(CollarPlan& plan, const std::string& words, int side, double& used) const {
    const Lettering line = lettering(words);
    if (used + line.width > word_room(plan)) {
      plan.notes.push_back("No room to engrave " + words + ": write it on");
      return;
    }
    engrave(plan, line, side > 0 ? used : -used - line.width);
    plan.words += (plan.words.empty() ? "" : " ") + words;
    used += line.width + between_words;
  }

  /// An arrow to the fence: that way the saw goes.
  void add_arrow(CollarPlan& plan, double& from_line) const {
    const Lettering line = lettering(toward_ > 0 ? ">" : "<");
    const double middle = word_middle();
    const double radius = plan.outer.radius(plan.inner.middle() - from_line / 20.0, middle);
    // Turned a quarter, so that what points right points to end A, up.
    const double centre = plan.inner.middle() + (from_line + 0.5 * line.height) / radius;
    for (const StrokeOutline& outline : line.strokes) {
      std::vector<Vec2> corners;
      for (const Vec2& p : outline) {
        corners.push_back({centre - (p.y - 0.5 * line.height) / radius, middle - (p.x - 0.5 * line.width)});
      }
      std::reverse(corners.begin(), corners.end());
      plan.strokes.push_back(std::move(corners));
    }
    from_line += line.height + 3.0;
  }

  void add_words(CollarPlan& plan) const {
    double right = 0.5 * window_width + between_words;
    double left = right;
    add_arrow(plan, right);
    write(plan, "CUT", 1, right);
    write(plan, fixed_text(cut_at_, 1), 1, right);
    write(plan, tube_.id(), -1, left);
  }

  void add_notes(CollarPlan& plan) const {
    const double waste = kept_ == End::b ? cut_at_ - tube_.end_a_at() : tube_.end_b_at() - cut_at_;
    const std::string end = kept_ == End::b ? "A" : "B";
    plan.notes.push_back("Slide it on from end " + end +
                         ", the thick rim toward that end, until the fence stands " + fixed_text(waste, 1) +
                         " from the end on the reference line and the line runs through both "
                         "corners of the window; draw the tie tight, measure again, saw along the fence");
    for (const Ridge& ridge : ridges_) {
      const bool on_the_way = kept_ == End::b ? ridge.at.middle() < at_.from : ridge.at.middle() > at_.to;
      if (!on_the_way) continue;
      plan.notes.push_back("The ridge at " + fixed_text(ridge.at.middle(), 0) +
                           " stands on its way: open the split over it, or sand it first");
    }
  }

  const Tube& tube_;
  Tube base_;
  std::vector<Ridge> ridges_;
  double cut_at_;
  int toward_;
  End kept_;
  Span at_;
};

}  // namespace

std::string CollarPlan::part() const {
  return "saw collar at " + fixed_text(cut_at, 1);
}

CollarPlan plan_collar(const Tube& tube, double cut_at, End kept) {
  require(cut_at >= tube.end_a_at() && cut_at <= tube.end_b_at(), "a saw collar's cut lies on the tube");
  return Planner(tube, cut_at, kept).plan();
}

RigidMotion printing_position(const CollarPlan& plan) {
  // The fence faces end A when the collar reaches toward B: up in the tube's frame, so it is turned over.
  if (plan.toward > 0) return {{1, 0, 0}, {0, -1, 0}, {0, 0, -1}, {}};
  return {};
}

}  // namespace culmwright
