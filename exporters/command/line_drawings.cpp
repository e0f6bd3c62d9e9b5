#include "command/line_drawings.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "command/parallel.hpp"
#include "solid/guide_solid.hpp"
#include "solid/line_views.hpp"

namespace culmwright::command {

namespace {

constexpr double beyond = 18.0;  ///< of the tube beside a guide that is drawn
constexpr int section_points = 240;
// Of pictures in a bench sheet: room for one.
constexpr double oblique_height = 80.0;
constexpr double side_height = 45.0;
constexpr double guide_width = 56.0;
constexpr double guide_height = 78.0;
constexpr double cup_width = 42.0;
constexpr double cup_height = 30.0;

std::map<View, LineView> views_of(const std::vector<SeenSolid>& solids, const Instrument& instrument) {
  std::vector<ViewFrame> frames;
  for (const View view : all_views) frames.push_back(view_frame(instrument, view));
  std::vector<LineView> seen = line_views(solids, frames);
  std::map<View, LineView> views;
  for (std::size_t i = 0; i < seen.size(); ++i) views[all_views[i]] = std::move(seen[i]);
  return views;
}

/// What of a line lies between two heights of a view.
std::vector<SeenLine> between(const std::vector<SeenLine>& lines, double from, double to) {
  std::vector<SeenLine> kept;
  for (const SeenLine& line : lines) {
    SeenLine piece;
    const auto end_piece = [&] {
      if (piece.size() > 1) kept.push_back(piece);
      piece.clear();
    };
    for (std::size_t i = 1; i < line.size(); ++i) {
      const Vec2 a = line[i - 1], d = line[i] - line[i - 1];
      double low = 0.0, high = 1.0;
      if (d.y != 0.0) {
        low = std::max(0.0, std::min((from - a.y) / d.y, (to - a.y) / d.y));
        high = std::min(1.0, std::max((from - a.y) / d.y, (to - a.y) / d.y));
      } else if (a.y < from || a.y > to) {
        low = 1.0;
        high = 0.0;
      }
      if (low >= high) {
        end_piece();
        continue;
      }
      if (low > 0.0) end_piece();
      if (piece.empty()) piece.push_back(a + d * low);
      piece.push_back(a + d * high);
      if (high < 1.0) end_piece();
    }
    end_piece();
  }
  return kept;
}

/// The tube's own hidden edges would only blur the guide.
LineView guide_view(const std::vector<SeenSolid>& solids, const ViewFrame& frame, double from, double to) {
  LineView view = line_view(solids, frame);
  for (SeenThing& thing : view.things) {
    if (thing.name == "tube") thing.hidden.clear();
    thing.visible = between(thing.visible, from, to);
    thing.hidden = between(thing.hidden, from, to);
  }
  return view;
}

/// Skin and bore where the tube is cut beside the guide.
SeenThing cut_tube(const Tube& tube, double at, const ViewFrame& frame) {
  SeenThing cut{"tube", {}, {}};
  const Section section = tube.section(std::clamp(at, tube.end_a_at(), tube.end_b_at()));
  for (const bool bore : {false, true}) {
    SeenLine line;
    for (int i = 0; i <= section_points; ++i) {
      const Angle theta = Angle::from_degrees(360.0 * i / section_points);
      const Vec2 p = bore ? section.bore_point(theta) : section.point(theta);
      line.push_back(frame.seen({p.x, p.y, -section.at()}));
    }
    cut.visible.push_back(std::move(line));
  }
  return cut;
}

GuideLines guide_lines(const GuidePlan& plan, const SeenSolid& body, const Job& job) {
  GuidePlan plain = plan;
  plain.texts.clear();
  const SeenSolid guide{plan.name, build_guide(plain, 0.0), {}, picture_accuracy};
  const Instrument& instrument = job.instrument;
  const bool from_a = instrument.mouth_end == End::a;
  const double a = from_a ? plan.at.from : -plan.at.to, b = from_a ? plan.at.to : -plan.at.from;
  const ViewFrame above = view_toward(instrument, Angle::from_radians(plan.middle()));
  // Drawn at the right of the other view: seen from the onlooker's left (first-angle projection).
  const Vec3 left = -above.right;
  const ViewFrame side = view_toward(instrument, Angle::from_radians(std::atan2(left.y, left.x)));
  const ViewFrame end{above.right, above.toward, -above.down};
  GuideLines lines;
  lines.name = plan.name;
  lines.above = guide_view({body, guide}, above, a - beyond, b + beyond);
  lines.side = guide_view({body, guide}, side, a - beyond, b + beyond);
  lines.end = line_view({guide}, end);
  lines.end.things.push_back(cut_tube(job.fit.tube(), from_a ? plan.at.from : plan.at.to, end));
  return lines;
}

CupLines cup_lines(const std::string& id, const SeenSolid& cup, const Instrument& instrument) {
  const Vec3 axis = cup.to_tube.z;
  const ViewFrame above = view_toward(instrument, Angle::from_radians(std::atan2(axis.y, axis.x)));
  const Vec3 left = -above.right;
  const ViewFrame side = view_toward(instrument, Angle::from_radians(std::atan2(left.y, left.x)));
  std::vector<LineView> views = line_views({cup}, {above, side});
  return {id, std::move(views[0]), std::move(views[1])};
}

struct Standing {
  SeenSolid solid;
  std::string cup_of;  ///< the key's id, where it is a cup
};

JobLines all_lines(const std::vector<Standing>& standing, const Job& job,
                   const std::vector<GuidePlan>& guides) {
  JobLines lines;
  std::vector<SeenSolid> solids;
  for (const Standing& one : standing) solids.push_back(one.solid);
  require(!solids.empty() && solids.front().name == "tube", "the tube's body stands first");
  lines.instrument.bare = views_of({solids.front()}, job.instrument);
  lines.instrument.views = views_of(solids, job.instrument);
  for (const Standing& one : standing) {
    if (!one.cup_of.empty()) lines.cups.push_back(cup_lines(one.cup_of, one.solid, job.instrument));
  }
  std::vector<GuideLines> made(guides.size());
  std::vector<std::string> failed(guides.size());
  // Meshed once before it is looked at from many threads.
  const SeenSolid& body = solids.front();
  body.solid.mesh(body.accuracy);
  parallel_for(static_cast<int>(guides.size()), [&](int i) {
    try {
      made[i] = guide_lines(guides[i], body, job);
    } catch (const std::exception& error) {
      failed[i] = error.what();
    }
  });
  for (std::size_t i = 0; i < guides.size(); ++i) {
    if (!failed[i].empty()) {
      lines.left_out.push_back("drawing of " + guides[i].name + ": " + failed[i]);
      continue;
    }
    lines.plans.push_back(guides[i]);
    lines.guides.push_back(std::move(made[i]));
  }
  return lines;
}

}  // namespace

JobLines lines_of(const std::vector<MadePart>& parts, const Job& job, const std::vector<GuidePlan>& guides) {
  std::vector<Standing> standing;
  for (const MadePart& part : parts) {
    if (!part.in_place) continue;
    const PlacedSolid& placed = *part.in_place;
    std::string cup;
    for (const PlacedKey& key : job.instrument.keys) {
      if (part.stem == "cups/" + file_name(key.key.id)) cup = key.key.id;
    }
    Standing one{{part.stem == "tube" ? "tube" : part.name, placed.solid, placed.to_tube, placed.accuracy},
                 cup};
    standing.insert(part.stem == "tube" ? standing.begin() : standing.end(), std::move(one));
  }
  return all_lines(standing, job, guides);
}

std::vector<JobDrawing> drawings_of(const Job& job, const Shop& shop, const JobLines& lines,
                                    std::vector<std::string>& left_out) {
  const Tube& tube = job.fit.tube();
  std::vector<JobDrawing> drawings;
  const auto add = [&](const std::string& stem, const std::function<Drawing(const DrawingOptions&)>& draw) {
    std::string reason;
    for (const PaperSize size : {shop.paper.size, PaperSize::a3}) {
      try {
        Drawing drawing = draw({size, true});
        if (!drawing.pages.empty()) drawings.push_back({stem, std::move(drawing)});
        return;
      } catch (const InputError& error) {
        reason = to_line(error.problems().front());
      }
    }
    left_out.push_back(stem + ": " + reason);
  };
  add("drawings/instrument", [&](const DrawingOptions& options) {
    return instrument_sheets(tube, job.instrument, lines.instrument, options);
  });
  add("drawings/guides", [&](const DrawingOptions& options) {
    return guide_sheets(tube, job.instrument, lines.plans, lines.guides, options);
  });
  add("drawings/cups",
      [&](const DrawingOptions& options) { return cup_sheets(job.instrument, lines.cups, options); });
  return drawings;
}

std::vector<SheetPicture> pictures_of(const Job& job, const JobLines& lines, double width) {
  std::vector<SheetPicture> pictures;
  const auto add = [&](Page page, const std::string& title, const std::string& description) {
    page.title = title;
    page.description = description;
    pictures.push_back({std::move(page), title + "."});
  };
  const std::string& tube = job.instrument.tube_id;
  for (const View view : {View::axonometric, View::front, View::players_left}) {
    const auto seen = lines.instrument.views.find(view);
    if (seen == lines.instrument.views.end()) continue;
    const double height = view == View::axonometric ? oblique_height : side_height;
    const std::string from = view == View::axonometric ? std::string("seen obliquely")
                                                       : std::string("seen from the ") + view_words(view);
    add(view_picture(seen->second, width, height, true, false), "The instrument " + from,
        "Line drawing of " + tube +
            " with its key cups in place, mouth end at the left, hidden edges left out.");
  }
  for (const GuideLines& guide : lines.guides) {
    add(view_picture(guide.above, guide_width, guide_height, false, false), guide.name + " in place",
        "Line drawing of " + guide.name + " on its stretch of tube, from above its middle, mouth end up.");
  }
  for (const CupLines& cup : lines.cups) {
    add(view_picture(cup.above, cup_width, cup_height, false, false), "Key cup " + cup.id,
        "Line drawing of the cup of " + cup.id + " from its touch, mouth end up.");
  }
  return pictures;
}

}  // namespace culmwright::command
