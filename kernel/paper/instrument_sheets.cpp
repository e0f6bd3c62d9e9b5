/// The sheets of the whole instrument: its views, and the places of its holes.
#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "base/words.hpp"
#include "paper/line_sheet.hpp"
#include "paper/sketch.hpp"

namespace culmwright {

namespace {

constexpr std::array<View, 4> sides = {View::players_left, View::front, View::players_right, View::back};
constexpr double heading_room = 9.0;
constexpr double beside = 2.5;  ///< of a label's leader from the view
constexpr double foot_room = 6.0;
constexpr double column_gap = 3.0;

double along_of(const Instrument& instrument, double at) {
  return std::abs(at - instrument.mouth_cut_at);
}
/// Coordinate down a side view of a place along the tube.
double down_of(const Instrument& instrument, double at) {
  return instrument.mouth_end == End::a ? at : -at;
}
double mouth_down(const Instrument& instrument) {
  return down_of(instrument, instrument.mouth_cut_at);
}

/// "2.4 right", of the player; "on the key line".
std::string around_words(double around) {
  if (std::abs(around) < 0.05) return "on the key line";
  return fixed_text(std::abs(around), 1) + (around > 0.0 ? " left" : " right");
}

std::string size_words(const PlacedKey& key) {
  return "\u00D8" + number_text(key.key.hole_diameter);
}

struct SideColumn {
  View view;
  const LineView* lines;
  SeenBounds bounds;
  std::vector<const PlacedKey*> keys;
  std::vector<const PlacedPart*> parts;
};

/// Keys and openings by the side that shows them best.
std::vector<SideColumn> columns_of(const Instrument& instrument, const std::map<View, LineView>& views) {
  std::vector<SideColumn> columns;
  for (const View view : sides) {
    const auto it = views.find(view);
    if (it == views.end() || it->second.things.empty()) continue;
    SideColumn column{view, &it->second, bounds_of(it->second), {}, {}};
    for (const PlacedKey& key : instrument.keys) {
      if (best_side(instrument, key) == view) column.keys.push_back(&key);
    }
    const ViewFrame frame = view_frame(instrument, view);
    for (const PlacedPart& part : instrument.parts) {
      if (part.part.kind != PartKind::opening) continue;
      const Vec3 n{part.theta.cos(), part.theta.sin(), 0.0};
      if (dot(n, frame.toward) > std::sqrt(0.5) - 1e-9) column.parts.push_back(&part);
    }
    columns.push_back(std::move(column));
  }
  return columns;
}

Vec2 seen_middle(const LineView& view, const PlacedKey& key) {
  return view.frame.seen(key.drilling.point);
}

void heading(Page& page, const std::string& group, Vec2 at, const std::string& words,
             const std::string& below = "") {
  Sketch sketch(page, group, words);
  sketch.words(at, words, Anchor::middle, 3.5, Weight::bold);
  if (!below.empty()) sketch.words(at + Vec2{0.0, 4.2}, below);
}

void draw_axis(Page& page, const std::string& group, const ViewPlace& place, double from, double to) {
  const Vec2 beyond{0.0, 3.0};
  Sketch(page, group, "Axis").axis(place.on_page({0.0, from}) - beyond, place.on_page({0.0, to}) + beyond);
}

std::string group_name(const char* what, View view) {
  std::string name = std::string(what) + "-" + view_words(view);
  std::replace_if(
      name.begin(), name.end(), [](char c) { return c == ' ' || c == '\''; }, '-');
  return name;
}

// ---- the sheets of views ---------------------------------------------------------------------------------

/// Columns of one sheet side by side.
struct Row {
  std::vector<SideColumn> columns;
  std::vector<double> lefts;  ///< page x of the left edge of each view
};

double heading_width(View view) {
  return text_extent(view_words(view), 3.5, Weight::bold).width + 2.0;
}
std::vector<SideLabel> names_of(const SideColumn& column) {
  std::vector<SideLabel> names;
  for (const PlacedKey* key : column.keys) names.push_back({{}, 0.0, key->key.id, {}});
  for (const PlacedPart* part : column.parts) names.push_back({{}, 0.0, part->part.id, {}});
  return names;
}

constexpr double length_room = 9.0;

/// Each view with room for its heading and names. None when they are too wide.
std::optional<Row> row_of(const std::vector<SideColumn>& columns, double scale, const Box& room) {
  Row row{columns, {}};
  double x = room.left + running_room;
  for (const SideColumn& column : columns) {
    const double view = (column.bounds.greatest.x - column.bounds.least.x) * scale;
    const double aside = std::max(0.0, 0.5 * (heading_width(column.view) - view));
    const bool first = row.lefts.empty();
    x += first ? std::max(0.0, aside - running_room) : aside;
    row.lefts.push_back(x);
    const std::vector<SideLabel> names = names_of(column);
    const double beside_it = names.empty() ? 0.0 : beside + side_label_room(names);
    x += view + std::max(aside, beside_it) + column_gap;
  }
  const double spare = room.right - length_room - x;
  if (spare < 0.0) return std::nullopt;
  // What is left over goes between the views.
  for (std::size_t i = 0; i < row.lefts.size(); ++i)
    row.lefts[i] +=
        std::min(spare / static_cast<double>(columns.size()), 14.0) * (static_cast<double>(i) + 0.5);
  return row;
}

SeenBounds joined_bounds(const std::vector<SideColumn>& columns) {
  SeenBounds all = columns.front().bounds;
  for (const SideColumn& column : columns) {
    all.least.y = std::min(all.least.y, column.bounds.least.y);
    all.greatest.y = std::max(all.greatest.y, column.bounds.greatest.y);
  }
  return all;
}

class ViewsSheets {
 public:
  ViewsSheets(const Tube& tube, const Instrument& instrument, const InstrumentLines& lines,
              const DrawingOptions& options)
      : tube_(tube), instrument_(instrument), lines_(lines), options_(options) {
    arrange();
  }
  int count() const { return static_cast<int>(rows_.size()); }

  std::vector<Page> draw(int sheets) {
    std::vector<Page> pages;
    std::set<LineSign> signs{LineSign::visible, LineSign::axis, LineSign::first_angle};
    if (options_.hidden) signs.insert(LineSign::hidden);
    for (const Row& row : rows_) {
      LineSheet sheet(instrument_, options_, kind);
      draw_row(sheet, row);
      if (&row == &rows_.front()) draw_axonometric(sheet, signs);
      if (&row == &rows_.back()) draw_ends(sheet, signs);
      pages.push_back(sheet.done(signs, scale_words(scale_), static_cast<int>(pages.size()) + 1, sheets));
    }
    return pages;
  }

 private:
  /// The largest scale at which the views stand side by side, or two by two on two sheets.
  void arrange() {
    const std::vector<SideColumn> columns = columns_of(instrument_, lines_.views);
    all_ = joined_bounds(columns);
    const Box room = LineSheet(instrument_, options_, kind).room();
    const double high = room.height() - heading_room - foot_room;
    for (scale_ = standard_scale(high / (all_.greatest.y - all_.least.y)); scale_ > 0.03;
         scale_ = standard_scale(0.9 * scale_)) {
      for (const std::size_t per_sheet : {columns.size(), (columns.size() + 1) / 2}) {
        rows_.clear();
        for (std::size_t i = 0; i < columns.size(); i += per_sheet) {
          const auto from = columns.begin() + static_cast<std::ptrdiff_t>(i);
          const auto to =
              columns.begin() + static_cast<std::ptrdiff_t>(std::min(columns.size(), i + per_sheet));
          const std::optional<Row> row = row_of({from, to}, scale_, room);
          if (!row) break;
          rows_.push_back(*row);
        }
        if (rows_.size() * per_sheet >= columns.size()) return;
      }
    }
    throw InputError({{"paper-too-small",
                       {"", 0, 0, "/paper/size"},
                       "views of " + instrument_.tube_id + " side by side",
                       "a paper with room for them",
                       "Choose a larger paper"}});
  }

  ViewPlace place_of(const SideColumn& column, double left, const Box& room) const {
    const double top = room.top + heading_room + 3.0 - all_.least.y * scale_;
    return {{left - column.bounds.least.x * scale_, top}, scale_, false};
  }

  void draw_row(LineSheet& sheet, const Row& row) {
    for (std::size_t i = 0; i < row.columns.size(); ++i) draw_side(sheet, row.columns[i], row.lefts[i]);
    draw_nodes(sheet, row.columns.front(), row.lefts.front());
    draw_length(sheet, row.columns.back(), row.lefts.back());
  }

  void draw_side(LineSheet& sheet, const SideColumn& column, double left) {
    const Box room = sheet.room();
    const ViewPlace place = place_of(column, left, room);
    const std::string id = group_name("view", column.view);
    draw_view(sheet.page(), id, std::string("Seen from: ") + view_words(column.view), *column.lines, place,
              options_.hidden);
    draw_axis(sheet.page(), id + "-axis", place, column.bounds.least.y, column.bounds.greatest.y);
    const double right = place.on_page(column.bounds.greatest).x;
    heading(sheet.page(), id + "-heading", {0.5 * (left + right), room.top + 3.5}, view_words(column.view));
    std::vector<SideLabel> names;
    for (const PlacedKey* key : column.keys) {
      const Vec2 middle = place.on_page(seen_middle(*column.lines, *key));
      names.push_back({middle, 0.5 * key->key.touch.width * scale_ + 0.6, key->key.id, {}});
    }
    for (const PlacedPart* part : column.parts) {
      const Vec2 middle = place.on_page(column.lines->frame.seen(tube_.skin_point(part->place).point));
      names.push_back({middle, 0.5 * part->part.width * scale_ + 0.6, part->part.id, {}});
    }
    draw_side_labels(sheet.page(), id + "-names", "Names", right + beside, names, room.top + heading_room,
                     room.bottom);
  }

  /// Places of the nodes, from the mouth cut.
  void draw_nodes(LineSheet& sheet, const SideColumn& column, double left) {
    const Box room = sheet.room();
    std::vector<RunningDimension> nodes;
    const ViewPlace place = place_of(column, left, room);
    const auto cuts = std::minmax(instrument_.mouth_cut_at, instrument_.foot_cut_at);
    for (const Node& node : tube_.nodes()) {
      if (node.at() < cuts.first || node.at() > cuts.second) continue;
      const double y = place.on_page({0.0, down_of(instrument_, node.at())}).y;
      nodes.push_back({y, left - 1.0, "node " + fixed_text(along_of(instrument_, node.at()), 0)});
    }
    draw_running(sheet.page(), "nodes", "Nodes, from the mouth cut", left - 3.0,
                 place.on_page({0.0, mouth_down(instrument_)}).y, nodes, room.top + heading_room,
                 room.bottom);
  }

  void draw_length(LineSheet& sheet, const SideColumn& column, double left) {
    const Box room = sheet.room();
    const ViewPlace place = place_of(column, left, room);
    const double from = place.on_page({0.0, mouth_down(instrument_)}).y;
    const double to = place.on_page({0.0, down_of(instrument_, instrument_.foot_cut_at)}).y;
    const double x = room.right - 2.0;
    const double right = place.on_page(column.bounds.greatest).x;
    Sketch sketch(sheet.page(), "length", "Length between the cuts");
    sketch.thin({{right + 1.0, from}, {x + 1.5, from}}).thin({{right + 1.0, to}, {x + 1.5, to}});
    sketch.measure({x, from}, {x, to});
    sketch.words({x - 1.0, 0.5 * (from + to)}, fixed_text(instrument_.length(), 1), Anchor::middle, 3.5,
                 Weight::regular, Angle::from_degrees(-90.0));
  }

  void draw_axonometric(LineSheet& sheet, const std::set<LineSign>& signs) {
    const auto it = lines_.views.find(View::axonometric);
    if (it == lines_.views.end() || it->second.things.empty()) return;
    const SeenBounds bounds = bounds_of(it->second);
    const double ends = rows_.size() > 1 ? 0.0 : 66.0;
    const double high = sheet.column().height() - LineSheet::foot_height(signs) - ends;
    const Vec2 size = bounds.greatest - bounds.least;
    const double scale = standard_scale(std::min((high - 10.0) / size.y, sheet.column().width() / size.x));
    const Box box = sheet.take(size.y * scale + 8.0);
    heading(sheet.page(), "axonometric-heading", {box.middle().x, box.top + 3.5},
            "axonometric " + scale_words(scale));
    const ViewPlace place{{box.middle().x - 0.5 * (bounds.least.x + bounds.greatest.x) * scale,
                           box.top + 7.0 - bounds.least.y * scale},
                          scale,
                          false};
    draw_view(sheet.page(), "view-axonometric", "Axonometric view", it->second, place, false);
  }

  /// The ends of the bare tube with what it measures across.
  void draw_ends(LineSheet& sheet, const std::set<LineSign>& signs) {
    struct EndView {
      View view;
      double at;
    };
    const std::array<EndView, 2> ends{EndView{View::mouth_end, instrument_.mouth_cut_at},
                                      EndView{View::foot_end, instrument_.foot_cut_at}};
    double widest = 0.0, high = 0.0;
    for (const EndView& end : ends) {
      const auto it = lines_.bare.find(end.view);
      if (it == lines_.bare.end() || it->second.things.empty()) return;
      const SeenBounds bounds = bounds_of(it->second);
      widest = std::max(widest, bounds.greatest.x - bounds.least.x);
      high += bounds.greatest.y - bounds.least.y;
    }
    constexpr double around = 17.0;  // heading, dimension, gap, of each
    const double room = sheet.column().height() - LineSheet::foot_height(signs) - 2.0 * around;
    const double scale = standard_scale(std::min((sheet.column().width() - 12.0) / widest, room / high));
    if (high * scale > room) return;
    for (const EndView& end : ends) draw_end(sheet, end.view, end.at, lines_.bare.at(end.view), scale);
  }

  void draw_end(LineSheet& sheet, View view, double at, const LineView& lines, double scale) {
    const SeenBounds bounds = bounds_of(lines);
    const Vec2 size = bounds.greatest - bounds.least;
    const Box box = sheet.take(size.y * scale + 12.5);
    const std::string id = group_name("view", view);
    heading(sheet.page(), id + "-heading", {box.left + 0.5 * box.width(), box.top + 3.5},
            std::string(view_words(view)) + " " + scale_words(scale));
    const double left = box.middle().x - 0.5 * (size.x * scale + 6.0);
    const ViewPlace place{
        {left - bounds.least.x * scale, box.top + 6.5 - bounds.least.y * scale}, scale, false};
    draw_view(sheet.page(), id, std::string("Seen from: ") + view_words(view), lines, place, false);
    draw_across(sheet.page(), id, at, lines, place);
  }

  /// Widths between parallel jaws at the end, sideways and front to back.
  void draw_across(Page& page, const std::string& id, double at, const LineView& lines,
                   const ViewPlace& place) {
    const ViewFrame& frame = lines.frame;
    const Section section = tube_.section(at);
    const auto touched = [&](Vec3 way) {
      const Vec2 p = section.point(Angle::from_radians(std::atan2(way.y, way.x)));
      return place.on_page(frame.seen({p.x, p.y, -at}));
    };
    const Vec2 left = touched(-frame.right), right = touched(frame.right);
    const Vec2 up = touched(-frame.down), down = touched(frame.down);
    const SeenBounds bounds = bounds_of(lines);
    const Vec2 corner = place.on_page(bounds.greatest);
    const double y = corner.y + 2.5, x = corner.x + 2.5;
    Sketch sketch(page, id + "-across", "Widths across");
    sketch.thin({left, {left.x, y + 1.0}})
        .thin({right, {right.x, y + 1.0}})
        .measure({left.x, y}, {right.x, y});
    sketch.words({0.5 * (left.x + right.x), y + 3.6}, fixed_text((right.x - left.x) / place.scale, 1));
    sketch.thin({up, {x + 1.0, up.y}}).thin({down, {x + 1.0, down.y}}).measure({x, up.y}, {x, down.y});
    sketch.words({x + 3.6, 0.5 * (up.y + down.y)}, fixed_text((down.y - up.y) / place.scale, 1),
                 Anchor::middle, 2.5, Weight::regular, Angle::from_degrees(-90.0));
  }

  static constexpr const char* kind = "instrument, views";
  const Tube& tube_;
  const Instrument& instrument_;
  const InstrumentLines& lines_;
  DrawingOptions options_;
  SeenBounds all_;
  std::vector<Row> rows_;
  double scale_ = 1.0;
};

// ---- the sheets of places --------------------------------------------------------------------------------

/// A stretch of the tube on one sheet, with the sides that have holes there.
struct Stretch {
  double from = 0.0;  ///< along, from the mouth cut
  double to = 0.0;
};

class PlacesSheets {
 public:
  PlacesSheets(const Tube& tube, const Instrument& instrument, const InstrumentLines& lines,
               const DrawingOptions& options)
      : tube_(tube),
        instrument_(instrument),
        options_(options),
        columns_(columns_of(instrument, lines.bare)) {
    columns_.erase(std::remove_if(columns_.begin(), columns_.end(),
                                  [](const SideColumn& c) { return c.keys.empty() && c.parts.empty(); }),
                   columns_.end());
    plan();
  }

  int count() const { return static_cast<int>(sheets_.size()); }

  std::vector<Page> draw(int before) {
    std::vector<Page> pages;
    const int sheets = before + count();
    for (const Sheet& sheet : sheets_)
      pages.push_back(draw_sheet(sheet, before + static_cast<int>(pages.size()) + 1, sheets));
    return pages;
  }

 private:
  struct Sheet {
    Stretch stretch;
    std::vector<std::size_t> columns;
  };

  /// At 1:1 on two sheets at most, else at 1:2; as many sides beside each other as there is room for.
  void plan() {
    if (columns_.empty()) return;
    for (scale_ = 1.0; scale_ > 0.03; scale_ = standard_scale(0.9 * scale_)) {
      if (arrange() && (scale_ < 1.0 || count() <= 2)) return;
    }
  }
  bool arrange() {
    const Box room = LineSheet(instrument_, options_, kind).room();
    const double high = room.height() - heading_room - foot_room - 4.0;
    const double length = instrument_.length();
    pieces_ = std::max(1, static_cast<int>(std::ceil(length * scale_ / high)));
    sheets_.clear();
    if (!group_up(room)) return false;
    for (int i = 0; i < pieces_; ++i) {
      const Stretch stretch{length * i / pieces_, length * (i + 1) / pieces_};
      for (const std::vector<std::size_t>& group : groups_) {
        const bool used = std::any_of(group.begin(), group.end(), [&](std::size_t k) {
          return !labels_of(columns_[k], {{0, 0}, scale_, false}, stretch).empty();
        });
        if (used) sheets_.push_back({stretch, group});
      }
    }
    return true;
  }
  double width_of(const SideColumn& column) const {
    return running_room + (column.bounds.greatest.x - column.bounds.least.x) * scale_ + beside +
           side_label_room(labels_of(column, {{0, 0}, scale_, false}, {-1.0, 1e9})) + column_gap;
  }
  bool group_up(const Box& room) {
    groups_.clear();
    double used = 0.0;
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      const double width = width_of(columns_[i]);
      if (width > room.width()) return false;
      if (groups_.empty() || used + width > room.width()) {
        groups_.emplace_back();
        used = 0.0;
      }
      groups_.back().push_back(i);
      used += width;
    }
    return true;
  }

  std::vector<SideLabel> labels_of(const SideColumn& column, const ViewPlace& place,
                                   const Stretch& stretch) const {
    std::vector<SideLabel> labels;
    for (const PlacedKey* key : column.keys) {
      if (!within(key->place.at, stretch)) continue;
      labels.push_back({place.on_page(seen_middle(*column.lines, *key)),
                        0.5 * key->key.hole_diameter * place.scale + 0.8,
                        key->key.id,
                        {size_words(*key), around_words(key->around)}});
    }
    for (const PlacedPart* part : column.parts) {
      if (!within(part->place.at, stretch)) continue;
      const Vec2 middle = place.on_page(column.lines->frame.seen(tube_.skin_point(part->place).point));
      labels.push_back({middle,
                        0.5 * part->part.width * place.scale + 0.8,
                        part->part.id,
                        {number_text(part->part.length) + " \u00D7 " + number_text(part->part.width),
                         around_words(part->around)}});
    }
    return labels;
  }
  bool within(double at, const Stretch& stretch) const {
    const double along = along_of(instrument_, at);
    return along >= stretch.from - 1e-9 && along < stretch.to + 1e-9;
  }

  Page draw_sheet(const Sheet& planned, int number, int sheets) {
    const Stretch& stretch = planned.stretch;
    const std::vector<std::size_t>& together = planned.columns;
    LineSheet sheet(instrument_, options_, kind);
    const Box room = sheet.room();
    double x = room.left;
    double used = 0.0;
    for (const std::size_t i : together) used += width_of(columns_[i]);
    const double spare = std::min(15.0, (room.width() - used) / static_cast<double>(together.size()));
    for (const std::size_t i : together) {
      draw_column(sheet, columns_[i], x + 0.5 * spare, stretch);
      x += width_of(columns_[i]) + spare;
    }
    sheet.add(words_block(stretch));
    return sheet.done({LineSign::visible, LineSign::axis, LineSign::centre}, scale_words(scale_), number,
                      sheets);
  }

  Block words_block(const Stretch& stretch) const {
    BlockWriter writer("words", "How to read the places");
    writer.heading("Places of the holes")
        .words("Numbers at the left: along, from the mouth cut to the middle of the hole, in millimetres.")
        .words(
            "At each name: the hole, then how far around from the key line along the skin, to the player's "
            "left or right.")
        .words("The key line is the middle of the front.")
        .down(1.0);
    if (pieces_ > 1) {
      writer.words("This sheet: " + fixed_text(stretch.from, 0) + " to " + fixed_text(stretch.to, 0) +
                   " from the mouth cut.");
    }
    writer.words("Mark out by the paper template; do not measure off this drawing.");
    return writer.done();
  }

  void draw_column(LineSheet& sheet, const SideColumn& column, double left, const Stretch& stretch) {
    Page& page = sheet.page();
    const Box room = sheet.room();
    const double view_left = left + running_room;
    const double top = room.top + heading_room + 3.0;
    const double from_down = mouth_down(instrument_) + stretch.from;
    const ViewPlace place{
        {view_left - column.bounds.least.x * scale_, top - from_down * scale_}, scale_, false};
    const double right = place.on_page(column.bounds.greatest).x;
    const bool first = stretch.from <= 0.0, last = stretch.to >= instrument_.length() - 1e-9;
    const double bottom = top + (stretch.to - stretch.from) * scale_;
    const Box window{view_left - 30.0, first ? top - 2.5 : top, right + 30.0, last ? bottom + 2.5 : bottom};
    const std::string id = group_name("places", column.view);
    draw_view(page, id, std::string("Seen from: ") + view_words(column.view), *column.lines, place, false,
              window);
    draw_axis(page, id + "-axis", place, from_down, from_down + stretch.to - stretch.from);
    heading(page, id + "-heading", {0.5 * (view_left + right), room.top + 3.5}, view_words(column.view));
    draw_middles(page, id, column, place, stretch);
    draw_side_labels(page, id + "-names", "Names", right + beside, labels_of(column, place, stretch),
                     room.top + heading_room, room.bottom);
    draw_along(page, id, column, place, view_left - 3.0, stretch, room);
  }

  /// A cross at each hole's middle, beyond its rim.
  void draw_middles(Page& page, const std::string& id, const SideColumn& column, const ViewPlace& place,
                    const Stretch& stretch) {
    Sketch sketch(page, id + "-middles", "Middles of the holes");
    for (const PlacedKey* key : column.keys) {
      if (!within(key->place.at, stretch)) continue;
      const Vec2 p = place.on_page(seen_middle(*column.lines, *key));
      const double arm = 0.5 * key->key.hole_diameter * place.scale + 0.8;
      sketch.thin({p - Vec2{arm, 0.0}, p + Vec2{arm, 0.0}}).thin({p - Vec2{0.0, arm}, p + Vec2{0.0, arm}});
    }
  }

  void draw_along(Page& page, const std::string& id, const SideColumn& column, const ViewPlace& place,
                  double x, const Stretch& stretch, const Box& room) {
    std::vector<RunningDimension> dimensions;
    const auto add = [&](Vec2 seen, double clear, double along, const std::string& prefix) {
      const Vec2 p = place.on_page(seen);
      dimensions.push_back({p.y, p.x - clear, prefix + fixed_text(along, 1)});
    };
    for (const PlacedKey* key : column.keys) {
      if (!within(key->place.at, stretch)) continue;
      add(seen_middle(*column.lines, *key), 0.5 * key->key.hole_diameter * place.scale + 0.8,
          along_of(instrument_, key->place.at), "");
    }
    for (const PlacedPart* part : column.parts) {
      if (!within(part->place.at, stretch)) continue;
      add(column.lines->frame.seen(tube_.skin_point(part->place).point),
          0.5 * part->part.width * place.scale + 0.8, along_of(instrument_, part->place.at), "");
    }
    for (const Node& node : tube_.nodes()) {
      if (!within(node.at(), stretch)) continue;
      add({column.bounds.least.x, down_of(instrument_, node.at())}, -0.5, along_of(instrument_, node.at()),
          "node ");
    }
    const std::optional<double> origin =
        stretch.from <= 0.0 ? std::optional<double>(place.on_page({0.0, mouth_down(instrument_)}).y)
                            : std::nullopt;
    draw_running(page, id + "-along", "Along, from the mouth cut", x, origin, dimensions,
                 room.top + heading_room, room.bottom);
  }

  static constexpr const char* kind = "instrument, places of the holes";
  const Tube& tube_;
  const Instrument& instrument_;
  DrawingOptions options_;
  std::vector<SideColumn> columns_;
  double scale_ = 1.0;
  int pieces_ = 1;
  std::vector<Sheet> sheets_;
  std::vector<std::vector<std::size_t>> groups_;
};

}  // namespace

View best_side(const Instrument& instrument, const PlacedKey& key) {
  View best = View::front;
  double most = -2.0;
  for (const View view : {View::front, View::players_left, View::players_right, View::back}) {
    const double facing = dot(key.drilling.axis, view_frame(instrument, view).toward);
    if (facing <= most + 1e-9) continue;
    most = facing;
    best = view;
  }
  return best;
}

Drawing instrument_sheets(const Tube& tube, const Instrument& instrument, const InstrumentLines& lines,
                          const DrawingOptions& options) {
  Drawing drawing;
  if (lines.views.empty()) return drawing;
  ViewsSheets views(tube, instrument, lines, options);
  PlacesSheets places(tube, instrument, lines, options);
  drawing.pages = views.draw(views.count() + places.count());
  for (Page& page : places.draw(views.count())) drawing.pages.push_back(std::move(page));
  return drawing;
}

Page view_picture(const LineView& view, double width, double height, bool lying, bool hidden) {
  Page page;
  const SeenBounds bounds = bounds_of(view);
  const Vec2 size = bounds.greatest - bounds.least;
  const double across = lying ? size.y : size.x, down = lying ? size.x : size.y;
  const double edge = 0.5 * thick_line + 0.05;
  const double scale = std::min((width - 2.0 * edge) / across, (height - 2.0 * edge) / down);
  page.width = across * scale + 2.0 * edge;
  page.height = down * scale + 2.0 * edge;
  ViewPlace place{{}, scale, lying};
  // The view's least corner to the page's; lying, the greatest x is uppermost.
  const Vec2 corner =
      lying ? place.on_page({bounds.greatest.x, bounds.least.y}) : place.on_page(bounds.least);
  place.origin = Vec2{edge, edge} - corner;
  draw_view(page, "view", "View", view, place, hidden);
  return page;
}

}  // namespace culmwright
