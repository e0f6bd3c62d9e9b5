/// The views of a survey picture.
#include "paper/survey_sheet.hpp"

#include <algorithm>
#include <cmath>

#include "paper/sketch.hpp"
#include "paper/skin_curve.hpp"
#include "paper/words.hpp"
#include "tube/bow_seen.hpp"

namespace culmwright {

namespace {

constexpr double arrow_length = 2.5;

/// Places apart by at least `pitch`, as near to the wanted ones (ascending) as that allows, all within [low,
/// high].
std::vector<double> spread(std::vector<double> wanted, double pitch, double low, double high) {
  std::vector<double> found = wanted;
  for (std::size_t i = 0; i < found.size(); ++i) {
    found[i] = std::max(found[i], i == 0 ? low : found[i - 1] + pitch);
  }
  for (std::size_t i = found.size(); i-- > 0;) {
    found[i] = std::min(found[i], i + 1 == found.size() ? high : found[i + 1] - pitch);
  }
  return found;
}

}  // namespace

Vec2 section_centre(const Tube& tube, double at) {
  const FourierSection section = tube.shape().skin.section(at);
  for (const FourierTerm& term : section.terms()) {
    if (term.order == 1) return {term.cosine.value, term.sine.value};
  }
  return {};
}

void SurveySheet::draw_view(View view, double axis_x) {
  // From the front y lies to the right; from the onlooker's left side x does, and the line is the right edge.
  const bool front = view == View::front;
  const std::string id = front ? "front-view" : "side-view";
  page_.group(id, front ? "Seen with the reference line in front"
                        : "Seen from the left, the reference line at the right");
  const Angle right = front ? Angle::from_degrees(90.0) : Angle();
  const auto x_of = [&](const Section& section, Angle theta) {
    const Vec2 p = section.point(theta);
    return axis_x + (front ? p.y : p.x) / scale_;
  };
  Polyline outline;
  Polyline back;
  const int count = std::max(100, static_cast<int>(tube_.length()));
  for (int i = 0; i <= count; ++i) {
    const double at = tube_.end_a_at() + tube_.length() * i / count;
    const Section section = tube_.section(at);
    outline.push_back({axis_x + section.support(right).f / scale_, y_of(at)});
    back.push_back({axis_x - section.support(right + Angle::from_degrees(180.0)).f / scale_, y_of(at)});
  }
  outline.insert(outline.end(), back.rbegin(), back.rend());
  line(id, outline, LineType::continuous_thick, true);
  line(id, {{axis_x, y_of(tube_.end_a_at()) - 2.0}, {axis_x, y_of(tube_.end_b_at()) + 2.0}},
       LineType::long_dashed_dotted_thin);
  for (const Node& node : tube_.nodes()) {
    Polyline ridge;
    for (int k = -18; k <= 18; ++k) {
      // The half that faces the onlooker, who stands a quarter turn before `right`.
      const Angle theta = right - Angle::from_degrees(90.0) + Angle::from_degrees(5.0 * k);
      const double at = std::clamp(node.at() + 0.5 * (node.at_line - node.at_far) * theta.cos(),
                                   tube_.end_a_at(), tube_.end_b_at());
      ridge.push_back({x_of(tube_.section(at), theta), y_of(at)});
    }
    line(id, ridge, LineType::continuous_thin);
  }
  if (front && tube_.end_a_at() <= 0.0) {
    page_.group(id).items.push_back(
        Shape{Circle{{x_of(tube_.section(0.0), tube_.section(0.0).line()), y_of(0.0)}, 0.6},
              {},
              Ink::black,
              Ink::black});
  }
  heading(axis_x, front ? "line" : "from left", front ? "facing" : "line at right");
  text("headings", {axis_x + 1.0, y_of(tube_.end_a_at()) - 1.5}, "A", 2.5, Anchor::start, Weight::bold);
  text("headings", {axis_x + 1.0, y_of(tube_.end_b_at()) + 4.0}, "B", 2.5, Anchor::start, Weight::bold);
}

void SurveySheet::draw_bow(double axis_x, bool sideways) {
  const std::string id = sideways ? "bow-sideways" : "bow-to-line";
  page_.group(id, sideways ? "Bow to the right of the onlooker, enlarged"
                           : "Bow toward the reference line, enlarged");
  text("headings", {axis_x, printable_.top + 8.0}, sideways ? "right" : "to line", 2.5, Anchor::middle);
  const BowSeen seen = bow_seen(survey_);
  if (!(sideways ? seen.sideways : seen.to_line)) return draw_unknown_bow(axis_x, id);
  Polyline curve;
  double greatest = 0.0;
  double where = tube_.end_a_at();
  for (int i = 0; i <= 200; ++i) {
    const double at = tube_.end_a_at() + tube_.length() * i / 200;
    const Vec2 c = section_centre(tube_, at);
    const double offset = sideways ? c.y : c.x;
    curve.push_back({axis_x + offset * bow_factor_, y_of(at)});
    if (std::abs(offset) > std::abs(greatest)) {
      greatest = offset;
      where = at;
    }
  }
  line(id, {{axis_x, y_of(tube_.end_a_at())}, {axis_x, y_of(tube_.end_b_at())}},
       LineType::long_dashed_dotted_thin);
  line(id, curve, LineType::continuous_thick);
  if (std::abs(greatest) < 0.05) return;
  const double side = greatest >= 0.0 ? -1.0 : 1.0;
  text(id, {axis_x + side * 1.0 + (side > 0.0 ? 2.5 : 0.0), y_of(where)}, decimals(std::abs(greatest), 1),
       2.5, Anchor::middle, Weight::regular, Angle::from_degrees(-90.0));
}

/// A plane in which nobody measured the bow: no axis is claimed to be straight.
void SurveySheet::draw_unknown_bow(double axis_x, const std::string& id) {
  line(id, {{axis_x, y_of(tube_.end_a_at())}, {axis_x, y_of(tube_.end_b_at())}},
       LineType::long_dashed_double_dotted_thin);
  text(id, {axis_x - 1.5, y_of(0.5 * (tube_.end_a_at() + tube_.end_b_at()))}, "bow not measured", 2.5,
       Anchor::middle, Weight::regular, Angle::from_degrees(-90.0));
}

void SurveySheet::draw_skin(double axis_x) {
  page_.group("skin", "The skin unrolled from the reference line");
  const auto place = [&](Vec2 theta_at) {
    const Section section = tube_.section(theta_at.y);
    return Vec2{axis_x + section.arc(section.line(), Angle::from_radians(theta_at.x)) / scale_,
                y_of(theta_at.y)};
  };
  const auto edge = [&](double side, double at) {
    return Vec2{axis_x + side * 0.5 * tube_.girth(at) / scale_, y_of(at)};
  };
  Polyline outline;
  for (int i = 0; i <= 500; ++i) outline.push_back(edge(1.0, tube_.end_a_at() + tube_.length() * i / 500));
  for (int i = 500; i >= 0; --i) outline.push_back(edge(-1.0, tube_.end_a_at() + tube_.length() * i / 500));
  for (const Node& node : tube_.nodes()) {
    const Angle line_at = tube_.section(node.at()).line();
    const Angle half = Angle::from_degrees(180.0);
    Polyline band;
    Polyline lower;
    for (Vec2 p : ridge_curve(node, -0.5 * node.band, line_at - half, line_at + half).points) {
      p.y = std::clamp(p.y, tube_.end_a_at(), tube_.end_b_at());
      band.push_back(place(p));
    }
    for (Vec2 p : ridge_curve(node, 0.5 * node.band, line_at - half, line_at + half).points) {
      p.y = std::clamp(p.y, tube_.end_a_at(), tube_.end_b_at());
      lower.push_back(place(p));
    }
    band.insert(band.end(), lower.rbegin(), lower.rend());
    line("skin", band, LineType::continuous_thin, true);
    page_.group("skin").items.push_back(hatch_shape(hatched({band}, Angle::from_degrees(45.0), 1.2)));
    signs_.insert(Sign::node);
  }
  for (const Blemish& blemish : tube_.blemishes()) {
    const double middle = std::clamp(blemish.place.at, tube_.end_a_at(), tube_.end_b_at());
    const Box room{edge(-1.0, middle).x, y_of(tube_.end_a_at()), edge(1.0, middle).x, y_of(tube_.end_b_at())};
    for (const double turns : {-1.0, 0.0, 1.0}) {
      Polyline oval;
      for (Vec2 p : oval_curve(tube_, blemish.place, blemish.length, blemish.width).points) {
        oval.push_back(place({p.x + 2.0 * pi * turns, std::clamp(p.y, tube_.end_a_at(), tube_.end_b_at())}));
      }
      // What crosses the back appears at both edges.
      oval = clipped_polygon(oval, room);
      if (oval.size() < 3) continue;
      line("skin", oval, LineType::dashed_thin, true);
      signs_.insert(Sign::blemish);
      if (blemish.use != BlemishUse::avoid) continue;
      page_.group("skin").items.push_back(hatch_shape(hatched({oval}, Angle::from_degrees(-45.0), 1.2)));
      signs_.insert(Sign::keep_off);
    }
  }
  line("skin", {{axis_x, y_of(tube_.end_a_at())}, {axis_x, y_of(tube_.end_b_at())}},
       LineType::long_dashed_dotted_thin);
  line("skin", outline, LineType::continuous_thick, true);
  signs_.insert(Sign::reference_line);
  if (tube_.end_a_at() <= 0.0 && tube_.end_b_at() >= 0.0) {
    page_.group("skin").items.push_back(Shape{Circle{{axis_x, y_of(0.0)}, 0.6}, {}, Ink::black, Ink::black});
    page_.group("skin").items.push_back(
        Shape{Circle{{axis_x, y_of(0.0)}, 1.6}, LineType::continuous_thin, {}, Ink::black});
    signs_.insert(Sign::datum);
  }
  heading(axis_x, "skin unrolled", "line in the middle");
}

void SurveySheet::draw_internodes(double x) {
  page_.group("internodes", "Lengths between the nodes");
  std::vector<double> places{tube_.end_a_at()};
  for (const Node& node : tube_.nodes()) places.push_back(node.at());
  places.push_back(tube_.end_b_at());
  Group& group = page_.group("internodes");
  for (std::size_t i = 0; i < places.size(); ++i) {
    group.items.push_back(
        line_between({x - 1.5, y_of(places[i])}, {x + 4.0, y_of(places[i])}, LineType::continuous_thin));
    if (i == 0) continue;
    const Vec2 from{x, y_of(places[i - 1])};
    const Vec2 to{x, y_of(places[i])};
    if (to.y - from.y < 2.0 * arrow_length + 0.5) continue;
    group.items.push_back(line_between(from, to, LineType::continuous_thin));
    group.items.push_back(arrowhead(from, {0.0, -1.0}));
    group.items.push_back(arrowhead(to, {0.0, 1.0}));
    const std::string words = decimals(places[i] - places[i - 1], 1);
    const double width = text_extent(words, 2.5, Weight::regular).width;
    double middle = 0.5 * (from.y + to.y);
    if (width > to.y - from.y - 1.0) {
      // Too short for its figure: beyond the end of the piece, if that is where it lies.
      if (i != 1 && i + 1 != places.size()) continue;
      middle = i == 1 ? from.y - 1.5 - 0.5 * width : to.y + 1.5 + 0.5 * width;
    }
    text("internodes", {x - 0.9, middle}, words, 2.5, Anchor::middle, Weight::regular,
         Angle::from_degrees(-90.0));
  }
}

void SurveySheet::draw_stations(double skin_x, double x) {
  page_.group("stations", "Girths and widths at the stations");
  std::vector<double> stations;
  for (const Station& station : survey_.stations) stations.push_back(station.at);
  if (stations.empty()) stations = {tube_.end_a_at(), tube_.end_b_at()};
  std::sort(stations.begin(), stations.end());
  constexpr double pitch = 4.2;
  // More stations than rows have room: every second, third … is shown.
  const double high = y_of(tube_.end_b_at());
  std::size_t every = 1;
  while (static_cast<double>(stations.size() / every + 1) * pitch > high - top_ + 2.0 * pitch) ++every;
  std::vector<double> shown;
  std::vector<double> wanted;
  for (std::size_t i = 0; i < stations.size(); i += every) {
    shown.push_back(std::clamp(stations[i], tube_.end_a_at(), tube_.end_b_at()));
    wanted.push_back(y_of(shown.back()) + 1.25);
  }
  const std::vector<double> rows = spread(wanted, pitch, top_ + 1.25, high + 1.25);
  const double at_x = x - 27.0;
  const double girth_x = x - 14.5;
  for (std::size_t i = 0; i < shown.size(); ++i) {
    const Section section = tube_.section(shown[i]);
    double greatest = 0.0;
    double least = 1e300;
    for (int k = 0; k < 90; ++k) {
      const double width = section.width(Angle::from_degrees(2.0 * k));
      greatest = std::max(greatest, width);
      least = std::min(least, width);
    }
    const double edge = skin_x - 0.5 * (girth_ - section.girth()) / scale_;
    line("stations",
         {{edge + 0.6, y_of(shown[i])}, {skin_x + 2.0, y_of(shown[i])}, {at_x - 9.0, rows[i] - 1.25}},
         LineType::continuous_thin);
    text("stations", {at_x, rows[i]}, decimals(shown[i], 0), 2.5, Anchor::end);
    text("stations", {girth_x, rows[i]}, decimals(section.girth(), 1), 2.5, Anchor::end);
    text("stations", {x, rows[i]}, decimals(0.5 * (greatest + least), 1), 2.5, Anchor::end);
  }
  text("headings", {at_x, printable_.top + 8.0}, "at", 2.5, Anchor::end, Weight::bold);
  text("headings", {girth_x, printable_.top + 8.0}, "girth", 2.5, Anchor::end, Weight::bold);
  text("headings", {x, printable_.top + 8.0}, "across", 2.5, Anchor::end, Weight::bold);
}

void SurveySheet::draw_end(double at, const std::string& name, Vec2 middle) {
  const std::string id = at == tube_.end_a_at() ? "end-a" : "end-b";
  page_.group(id, "End " + name + " with its wall");
  const Section section = tube_.section(at);
  Polyline skin;
  Polyline bore;
  double least = 1e300;
  double greatest = 0.0;
  for (int i = 0; i < 180; ++i) {
    const Angle theta = Angle::from_degrees(2.0 * i);
    const Vec2 p = section.point(theta);
    const Vec2 q = section.bore_point(theta);
    // Seen from end A: x to the right, y up.
    skin.push_back(middle + Vec2{p.x, -p.y} * (1.0 / end_scale_));
    bore.push_back(middle + Vec2{q.x, -q.y} * (1.0 / end_scale_));
    const double wall = section.wall(theta);
    least = std::min(least, wall);
    greatest = std::max(greatest, wall);
  }
  page_.group(id).items.push_back(hatch_shape(hatched({skin, bore}, Angle::from_degrees(45.0), 1.5)));
  line(id, skin, LineType::continuous_thick, true);
  line(id, bore, LineType::continuous_thick, true);
  const Vec2 on_line = section.point(section.line());
  const double tip = middle.x + on_line.x / end_scale_;
  line(id, {{tip + 0.6, middle.y}, {tip + 3.0, middle.y}}, LineType::continuous_thick);
  text(id, {middle.x, middle.y + 1.75}, name, 3.5, Anchor::middle, Weight::bold);
  const double foot = middle.y + 0.5 * widest_ / end_scale_;
  text(id, {middle.x, foot + 5.0}, "wall " + decimals(least, 1) + " to " + decimals(greatest, 1), 2.5,
       Anchor::middle);
  text(id, {middle.x, foot + 9.0}, "girth " + decimals(section.girth(), 1), 2.5, Anchor::middle);
}

void SurveySheet::draw_ends() {
  const double half = 0.5 * widest_ / end_scale_;
  const double y = band_top_ + 10.0 + half;
  draw_end(tube_.end_a_at(), "A", {printable_.left + half + 1.0, y});
  draw_end(tube_.end_b_at(), "B", {printable_.left + 3.0 * half + 6.0, y});
  text("headings", {printable_.left, band_top_ + 5.0},
       "ends 1:" + decimals(end_scale_, 0) + ", seen from A, dash at line", 2.5);
}

}  // namespace culmwright
