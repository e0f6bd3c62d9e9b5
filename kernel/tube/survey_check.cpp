#include "tube/survey_check.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"

namespace culmwright {

namespace {

std::string mm(double value) {
  return number_text(value) + " mm";
}
std::string item(const char* list, std::size_t i, const char* key = nullptr) {
  return std::string("/") + list + "/" + std::to_string(i) + (key == nullptr ? "" : std::string("/") + key);
}

/// The survey with the problems found in it. Comparisons are written so that NaN never raises one.
class Check {
 public:
  explicit Check(const Survey& survey) : survey_(survey) {
    for (const Station& station : survey.stations) {
      if (const std::optional<double> width = mean_width(station)) widths_.push_back({station.at, *width});
    }
    const auto unknown = [](const Place& p) { return std::isnan(p.at) || std::isnan(p.width); };
    widths_.erase(std::remove_if(widths_.begin(), widths_.end(), unknown), widths_.end());
    std::stable_sort(widths_.begin(), widths_.end(),
                     [](const Place& a, const Place& b) { return a.at < b.at; });
  }

  Problems take() { return std::move(problems_); }

  void piece() {
    if (survey_.datum_from_end_a > survey_.length) {
      add("outside", "/datum_from_end_a", "a datum mark " + mm(survey_.datum_from_end_a) + " from end A",
          "a place on the tube, which is " + mm(survey_.length) + " long");
    }
    if (survey_.balance_at) inside(*survey_.balance_at, "/balance_at", "the balance point");
  }

  void stations() {
    bool measured = survey_.stations.empty();
    bool unknown = false;
    const Station* before = nullptr;
    for (std::size_t i = 0; i < survey_.stations.size(); ++i) {
      const Station& station = survey_.stations[i];
      inside(station.at, item("stations", i, "at"), "the station at " + mm(station.at));
      if (before != nullptr && station.at <= before->at) {
        add("order", item("stations", i, "at"),
            "the station at " + mm(station.at) + " after the one at " + mm(before->at),
            "stations from end A to end B, each at its own place",
            "Sort them, or look for a slip in one of the two");
      }
      before = &station;
      const std::optional<double> width = mean_width(station);
      measured = measured || width.has_value();
      unknown = unknown || station.at != station.at;
      readings(station, i);
    }
    if (survey_.stations.empty() || (!measured && !unknown)) {
      add("missing", "/stations", "no station with a girth, a width or a height", "at least one",
          "Measure the girth near each end");
    }
  }

  void bow() {
    for (std::size_t i = 0; i < survey_.bow.size(); ++i) {
      inside(survey_.bow[i].at, item("bow", i, "at"), "the straightedge reading at " + mm(survey_.bow[i].at));
    }
  }

  void check_girths() {
    for (std::size_t i = 0; i < survey_.check_girths.size(); ++i) {
      const double at = survey_.check_girths[i].at;
      inside(at, item("check_girths", i, "at"), "the check girth at " + mm(at));
    }
  }

  void walls() {
    for (std::size_t i = 0; i < survey_.walls.size(); ++i) {
      const WallReading& wall = survey_.walls[i];
      inside(wall.at, item("walls", i, "at"), "the wall reading at " + mm(wall.at));
      side(wall.direction, wall.at, item("walls", i));
      const std::optional<double> width = width_near(wall.at);
      if (width && wall.thickness >= 0.5 * *width) {
        add("wall", item("walls", i, "thickness"),
            "a wall of " + mm(wall.thickness) + " at " + mm(wall.at) + ", where the tube's radius is " +
                mm(0.5 * *width),
            "a wall thinner than the radius",
            "Look for a slip in the wall, or in the girth and widths there");
      }
    }
  }

  void nodes() {
    const Node* before = nullptr;
    for (std::size_t i = 0; i < survey_.nodes.size(); ++i) {
      const Node& node = survey_.nodes[i];
      const bool line_inside =
          inside(node.at_line, item("nodes", i, "at_line"), "the node at " + mm(node.at_line));
      if (line_inside && inside(node.at_far, item("nodes", i, "at_far"), "the node at " + mm(node.at_far))) {
        sizes_of(node, i);
      }
      if (before != nullptr) node_after(*before, node, i);
      before = &node;
    }
  }

  template <class Patch>
  void patches(const std::vector<Patch>& patches, const char* list, const char* what) {
    for (std::size_t i = 0; i < patches.size(); ++i) {
      const SkinPlace place = patches[i].place;
      const std::string name = std::string(what) + " at " + mm(place.at);
      inside(place.at, item(list, i, "at"), name);
      around(place.around, place.at, item(list, i, "around"));
      const std::optional<double> width = width_near(place.at);
      if (width && patches[i].width > pi * *width * around_slack) {
        add("wide", item(list, i, "width"), name + ", " + mm(patches[i].width) + " wide around",
            "at most the girth there, about " + mm(pi * *width));
      }
    }
  }

 private:
  struct Place {
    double at;
    double width;
  };
  /// The girth between stations is only estimated here.
  static constexpr double around_slack = 1.1;

  void add(const char* code, std::string pointer, std::string found, std::string allowed,
           std::string advice = "") {
    problems_.push_back(
        {code, {"", 0, 0, std::move(pointer)}, std::move(found), std::move(allowed), std::move(advice)});
  }

  bool inside(double at, const std::string& pointer, const std::string& what) {
    if (at >= survey_.end_a_at() && at <= survey_.end_b_at()) return true;
    if (std::isnan(at) || std::isnan(survey_.end_a_at()) || std::isnan(survey_.end_b_at())) return true;
    const bool beyond_a = at < survey_.end_a_at();
    add("outside", pointer,
        what + (beyond_a ? ", beyond end A at " : ", beyond end B at ") +
            mm(beyond_a ? survey_.end_a_at() : survey_.end_b_at()),
        "a place on the tube, from " + number_text(survey_.end_a_at()) + " to " + mm(survey_.end_b_at()),
        "Places along the tube count from the datum mark toward end B");
    return false;
  }

  /// What the station says of the tube's mean width: by girth (Cauchy), heights or widths.
  std::optional<double> mean_width(const Station& station) const {
    if (station.girth) return *station.girth / pi - survey_.tape_thickness;
    double sum = 0.0;
    int count = 0;
    for (const std::optional<double>& height : station.heights) {
      if (!height || !survey_.plates) continue;
      sum += 2.0 * *height - survey_.plates->across_flats;
      ++count;
    }
    for (const Width& width : station.widths) {
      sum += width.across;
      ++count;
    }
    return count > 0 ? std::optional<double>(sum / count) : std::nullopt;
  }

  /// The mean width at a place, straight between the stations, held beyond them.
  std::optional<double> width_near(double at) const {
    if (widths_.empty() || std::isnan(at)) return std::nullopt;
    if (at <= widths_.front().at) return widths_.front().width;
    for (std::size_t i = 1; i < widths_.size(); ++i) {
      const Place& a = widths_[i - 1];
      const Place& b = widths_[i];
      if (at <= b.at)
        return b.at > a.at ? a.width + (b.width - a.width) * (at - a.at) / (b.at - a.at) : b.width;
    }
    return widths_.back().width;
  }

  void around(double value, double at, const std::string& pointer) {
    const std::optional<double> width = width_near(at);
    if (!width || !(std::abs(value) > pi * *width * around_slack)) return;
    add("around", pointer, "a place " + mm(value) + " around a tube of girth " + mm(pi * *width),
        "at most once around, either way",
        "Count from the reference line to the right; to the left is negative");
  }

  void side(const Direction& direction, double at, const std::string& pointer) {
    if (direction.around) around(*direction.around, at, pointer + "/around");
  }

  void readings(const Station& station, std::size_t i) {
    for (std::size_t k = 0; k < station.widths.size(); ++k) {
      const Width& width = station.widths[k];
      const std::string pointer = item("stations", i, "widths") + "/" + std::to_string(k);
      side(width.direction, station.at, pointer);
      // The girth of a convex section is at least twice its greatest width: a flat strip has just that.
      if (station.girth && 2.0 * width.across > *station.girth) {
        add("width", pointer + "/across",
            "a width of " + mm(width.across) + " in a girth of " + mm(*station.girth) + " at " +
                mm(station.at),
            "a width of less than half the girth", "Look for a slip in one of the two");
      }
    }
    heights(station, i);
  }

  void heights(const Station& station, std::size_t i) {
    if (station.heights.empty()) return;
    if (!survey_.plates) {
      add("missing", item("stations", i, "heights"),
          "heights over the board at " + mm(station.at) + " without survey plates",
          "heights only with \"plates\"", "Give the plates' number of flats and their distance across flats");
      return;
    }
    const std::size_t flats = static_cast<std::size_t>(std::max(0, survey_.plates->flats));
    if (flats > 0 && station.heights.size() != flats) {
      add("count", item("stations", i, "heights"),
          std::to_string(station.heights.size()) + " heights at " + mm(station.at),
          "one height for each of the " + std::to_string(flats) + " flats",
          "Write null for one that was skipped");
    }
    const double axis = 0.5 * survey_.plates->across_flats;
    for (std::size_t k = 0; k < station.heights.size(); ++k) {
      const double height = station.heights[k].value_or(1.5 * axis);
      if (height <= axis || height >= 2.0 * axis) {
        add("height", item("stations", i, "heights") + "/" + std::to_string(k),
            "a height of " + mm(height) + " at " + mm(station.at),
            "between " + number_text(axis) + " (the plates' own axis) and " + mm(2.0 * axis) +
                ", where the tube would touch the board");
      }
    }
  }

  void sizes_of(const Node& node, std::size_t i) {
    const std::optional<double> width = width_near(node.at());
    if (!width) return;
    const double slant = std::abs(node.at_far - node.at_line);
    if (slant > *width) {
      add("slant", item("nodes", i, "at_far"),
          "a node slanted by " + mm(slant) + " across a tube " + mm(*width) + " wide",
          "a slant of at most the tube's width");
    }
    if (node.pierced_diameter && *node.pierced_diameter >= *width) {
      add("wide", item("nodes", i, "pierced_diameter"),
          "a node pierced " + mm(*node.pierced_diameter) + " wide in a tube " + mm(*width) + " wide",
          "a hole narrower than the tube");
    }
  }

  void node_after(const Node& before, const Node& node, std::size_t i) {
    if (node.at() <= before.at()) {
      add("order", item("nodes", i, "at_line"),
          "the node at " + mm(node.at()) + " after the one at " + mm(before.at()),
          "nodes from end A to end B");
      return;
    }
    const double room = 0.5 * (before.band + node.band);
    if (node.at_line - before.at_line < room || node.at_far - before.at_far < room) {
      add("overlap", item("nodes", i),
          "the nodes at " + mm(before.at()) + " and " + mm(node.at()) + " running into each other",
          "ridges that do not overlap", "Check their places and their bands");
    }
  }

  const Survey& survey_;
  std::vector<Place> widths_;
  Problems problems_;
};

}  // namespace

Problems check_survey(const Survey& survey) {
  Check check(survey);
  check.piece();
  check.stations();
  check.bow();
  check.walls();
  check.check_girths();
  check.nodes();
  check.patches(survey.grooves, "grooves", "the groove");
  check.patches(survey.blemishes, "blemishes", "the blemish");
  return check.take();
}

}  // namespace culmwright
