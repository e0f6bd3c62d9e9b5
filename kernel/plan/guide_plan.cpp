#include "plan/guide_plan.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "base/words.hpp"
#include "plan/guide_parts.hpp"

namespace culmwright {

using namespace guide_sizes;
using namespace guide_parts;

RigidMotion side_frame(const RigidMotion& boss, const SideBore& side) {
  const Vec2 aim = direction(side.toward);
  const Vec3 z = boss.turn({aim.x, aim.y, 0.0});
  return {boss.z, cross(z, boss.z), z, boss.apply({0.0, 0.0, side.height})};
}

std::vector<const GuideBoss*> GuidePlan::bosses() const {
  std::vector<const GuideBoss*> all;
  for (const GuideHole& hole : holes) all.push_back(&hole);
  for (const GuidePeg& peg : pegs) all.push_back(&peg);
  return all;
}

const GuideJoint* GuidePlan::tongue() const {
  const auto found =
      std::find_if(joints.begin(), joints.end(), [](const GuideJoint& joint) { return joint.tongue; });
  return found == joints.end() ? nullptr : &*found;
}

Vec3 GuidePlan::tongue_point() const {
  const GuideJoint* joint = tongue();
  require(joint != nullptr, "a guide without a tongue has no point of it");
  const Vec2 p = inner.base().section(joint->at).point(Angle::from_radians(joint->theta.middle()));
  return {p.x, p.y, -joint->at};
}

Span GuidePlan::reach() const {
  Span whole = at;
  for (const GuideJoint& joint : joints) {
    if (!joint.tongue) continue;
    whole = {std::min(whole.from, joint.along().from), std::max(whole.to, joint.along().to)};
  }
  return whole;
}

double GuidePlan::sighting_arm() const {
  if (sights.empty()) return 0.0;
  return sights.back().far_corner.at - sights.front().near_corner.at;
}

double GuidePlan::foot_theta(const GuideFace& face, int side, double place) const {
  const Section section = face.base().section(place);
  double theta = middle() + side * greatest_normal_deg * pi / 180.0;
  for (int i = 0; i < 40; ++i) {
    const GuideFace::Jet jet = face.jet(section, theta);
    const double off = dot(jet.point - foot.point, foot.up);
    const double step = std::clamp(off / dot(jet.by_theta, foot.up), -0.1, 0.1);
    theta -= step;
    if (std::abs(step) < 1e-13) break;
  }
  return theta;
}

namespace guide_parts {

namespace {

/// Makes room for sighting windows outside the straps, where they alone set the guide.
void lengthen_for_sights(const Job& job, const Stop& stop, Span& at) {
  if (!job.pegs.empty() || job.locked()) return;
  const double more = sight_length + 2.5;
  const bool stop_a = stop.post && stop.post->end == End::a;
  const bool stop_b = stop.post && stop.post->end == End::b;
  if (!stop_a && job.joint(End::a) == nullptr && at.length() + more <= job.longest())
    at.from = std::max(at.from - more, std::min(at.from, job.ends().from));
  if (!stop_b && job.joint(End::b) == nullptr && at.length() + more <= job.longest())
    at.to = std::min(at.to + more, std::max(at.to, job.ends().to));
}

std::vector<std::string> names_of(const std::vector<GuidePeg>& pegs) {
  std::vector<std::string> names;
  for (const GuidePeg& peg : pegs) names.push_back(peg.id);
  return names;
}

std::vector<std::string> drilled_by(const std::vector<GuidePeg>& pegs) {
  std::vector<std::string> guides;
  for (const GuidePeg& peg : pegs) {
    if (!peg.drilled_by.empty()) guides.push_back(peg.drilled_by);
  }
  std::sort(guides.begin(), guides.end());
  guides.erase(std::unique(guides.begin(), guides.end()), guides.end());
  return guides;
}

std::string tongue_note(const Job& job) {
  for (const GuideJoint& joint : job.joints) {
    if (!joint.tongue) continue;
    return joint.with + " is set first and stays strapped on: put the tongue at the end toward " +
           (joint.toward == End::a ? "A" : "B") +
           " into its notch, push the two ends together until they touch all round, then strap this guide "
           "down; check the turn at the sighting windows";
  }
  return {};
}

void note_notches(const Job& job, std::vector<std::string>& notes) {
  for (const GuideJoint& joint : job.joints) {
    if (!joint.tongue) notes.push_back("leave it strapped on until " + joint.with + " has drilled");
  }
}

void note_index(const Job& job, const Stop& stop, std::vector<std::string>& notes) {
  if (!job.pegs.empty()) {
    const std::vector<std::string> before = drilled_by(job.pegs);
    std::string rods;
    for (const GuidePeg& peg : job.pegs) {
      rods += (rods.empty() ? "" : ", ") + number_text(peg.diameter) + " into " + peg.id;
    }
    notes.push_back(
        (before.empty() ? "" : "drill the pilot holes of " + listed(before, " and ") + " first; ") +
        std::string("open none of ") + listed(names_of(job.pegs), " and ") +
        " before this guide has drilled: put the pilot bit or a rod (" + rods +
        ") through each peg's boss into its hole, then strap the guide down");
    if (job.pegs.size() == 1) notes.push_back("one peg only: check the turn at the sighting windows");
  } else if (job.locked()) {
    notes.push_back(tongue_note(job));
  } else if (!stop.post) {
    notes.push_back(
        "no end and no drilled hole within reach on this bed: it is set along the tube by eye, at "
        "the places of its sighting windows in the record; all its holes together, and those of "
        "guides pegged to it, may then lie " +
        number_text(sighting_error) + " along from where they should");
  } else if (stop.kind == StopKind::end_on_middle) {
    notes.push_back("the stop touches the end away from the reference line: true for an end sawn square");
  }
  if (!stop.post) return;
  const bool end_a = stop.post->end == End::a;
  const double cut = end_a ? job.ends().from : job.ends().to;
  const double own = end_a ? job.tube.end_a_at() : job.tube.end_b_at();
  if (std::abs(cut - own) > 0.05) notes.push_back("the stop touches the tube as cut: cut it to length first");
}

/// The openings of which it drills corners.
std::vector<OpeningCut> cuts_of(const Job& job) {
  std::vector<OpeningCut> cuts;
  for (const PlacedPart& part : job.instrument.parts) {
    const bool has_corner = std::any_of(job.holes.begin(), job.holes.end(), [&](const GuideHole& hole) {
      return hole.corner_of == part.part.id;
    });
    if (has_corner) cuts.push_back(opening_cut(part.part, job.shop));
  }
  return cuts;
}

void note_straps(const Arrangement& arranged, std::vector<std::string>& notes) {
  for (const int side : arranged.without_strap) {
    notes.push_back("no room for a strap's groove near at " +
                    number_text(side < 0 ? arranged.at.from : arranged.at.to, 4) +
                    ": lead the strap between the bosses");
  }
}

std::vector<std::string> comes_after(const Job& job) {
  std::vector<std::string> guides = drilled_by(job.pegs);
  for (const GuideJoint& joint : job.joints) {
    if (joint.tongue) guides.push_back(joint.with);
  }
  return guides;
}

StopKind stop_of(const Job& job, const Stop& stop) {
  if (!job.pegs.empty()) return StopKind::pegs;
  return job.locked() ? StopKind::joint : stop.kind;
}

/// Where tongue or notch stand on the outer face, for nothing else to be put there.
void keep_clear(const GuidePlan& plan, FlatMap& map) {
  for (const GuideJoint& joint : plan.joints) {
    const Span along = joint.along();
    map.occupy({map.flat(joint.theta.from, along.from), map.flat(joint.theta.to, along.to)});
  }
}

/// The post ends flat just above the plane on which the guide stands.
void settle_foot(StopPost& post, const FootPlane& foot) {
  const double lean = length(cross(post.up, foot.up)) / dot(post.up, foot.up);
  post.foot = dot(foot.point - post.axis_point, foot.up) / dot(post.up, foot.up) + lean * post.radius;
}

}  // namespace

GuidePlan lay_out(const Job& job) {
  const Arrangement arranged = arrange(job);
  std::vector<std::string> notes;
  note_straps(arranged, notes);
  note_index(job, arranged.stop, notes);
  note_notches(job, notes);
  const std::vector<OpeningCut> cuts = cuts_of(job);
  for (const OpeningCut& cut : cuts) notes.push_back(cut_words(cut));
  Span at = arranged.at;
  lengthen_for_sights(job, arranged.stop, at);
  const GuideFace inner(job.base, job.middle, inner_field(job, arranged.pads));
  const GuideFace outer(job.base, job.middle, outer_field(job, arranged.straps));
  GuidePlan plan{job.name(),
                 job.tube.id(),
                 job.number,
                 inner,
                 outer,
                 at,
                 foot_plane(job, inner, at),
                 job.holes,
                 {},
                 {},
                 stop_of(job, arranged.stop),
                 arranged.stop.post,
                 {},
                 arranged.straps,
                 arranged.pads,
                 notes,
                 job.pegs,
                 comes_after(job),
                 job.joints,
                 cuts};
  settle_tops(plan);
  check_saddle(plan, job.longest());
  check_bosses(plan);
  check_bearing(plan);
  check_high_spots(plan, job.tube);
  add_side_bores(job.shop, plan);
  if (plan.post) settle_foot(*plan.post, plan.foot);
  FlatMap map(plan);
  keep_clear(plan, map);
  add_sights(job, plan, map);
  add_lettering(job, plan, map);
  return plan;
}

}  // namespace guide_parts

}  // namespace culmwright
