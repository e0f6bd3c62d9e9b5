#include "paper/survey_form.hpp"

#include <algorithm>

#include "base/words.hpp"
#include "paper/bench_pictures.hpp"
#include "paper/form_sheet.hpp"
#include "paper/sheet_plan.hpp"
#include "tube/survey_order.hpp"

namespace culmwright {

namespace {

constexpr double box_height = 8.5;
constexpr double box_pitch = 13.6;  ///< of boxes under each other, with their captions
constexpr double box_space = 3.5;   ///< between boxes side by side
constexpr double picture_width = 60.0;
constexpr double picture_height = 132.0;
constexpr double heading_room = 15.5;
constexpr double band_height = 46.0;  ///< of a row of pictures

FormColumn column_of(const SurveyField& field, double share = 1.0) {
  return {field.words, document_key(field), field.quick, share};
}

std::vector<FormColumn> columns_of(const std::string& list) {
  std::vector<FormColumn> columns;
  for (const SurveyField& field : survey_list(list).fields) columns.push_back(column_of(field));
  return columns;
}

FormTable table_of(const std::string& list, std::string path, std::size_t rows) {
  FormTable table{"list-" + list, survey_list(list).title, std::move(path), columns_of(list), {}, {}};
  for (std::size_t i = 0; i < rows; ++i) table.row_names.push_back(std::to_string(i + 1));
  return table;
}

std::string mm(double value) {
  return number_text(value);
}

const char* material_word(Material material) {
  switch (material) {
    case Material::bamboo:
      return "bamboo";
    case Material::elder:
      return "elder";
    case Material::wood:
      return "wood";
    case Material::pipe:
      return "pipe";
    case Material::other:
      break;
  }
  return "other";
}

/// A part of the rows of a table, on a sheet of its own kind.
struct Rows {
  std::size_t from = 0;
  std::size_t to = 0;
};

class SurveyForm {
 public:
  SurveyForm(PaperSize paper, const Survey* piece) : paper_(paper), piece_(piece) {}

  Drawing make() {
    // How many rows a sheet holds is known once it was laid out; the sheets' count stands on each of them.
    const std::size_t node_rows = rows_on_first_sheet();
    const std::size_t station_rows = rows_on_second_sheet();
    const std::size_t height_rows = 6;
    const std::size_t nodes = piece_ == nullptr ? 0 : piece_->nodes.size();
    const std::size_t stations = places().size();
    sheets_ = static_cast<int>(count(nodes, node_rows) + count(stations, station_rows) + 1 +
                               count(stations, height_rows));
    for (std::size_t i = 0; i < count(nodes, node_rows); ++i)
      first_sheet({i * node_rows, (i + 1) * node_rows});
    for (std::size_t i = 0; i < count(stations, station_rows); ++i) {
      second_sheet({i * station_rows, (i + 1) * station_rows});
    }
    third_sheet();
    for (std::size_t i = 0; i < count(stations, height_rows); ++i) {
      plates_sheet({i * height_rows, (i + 1) * height_rows});
    }
    return std::move(drawing_);
  }

 private:
  static std::size_t count(std::size_t rows, std::size_t on_sheet) {
    return std::max<std::size_t>(1, (rows + on_sheet - 1) / on_sheet);
  }

  std::string id() const { return piece_ == nullptr ? "" : piece_->id; }

  /// Where stations are or should be; none for a blank form.
  std::vector<double> places() const {
    return piece_ == nullptr ? std::vector<double>{} : suggested_stations(*piece_);
  }

  Box finish(FormSheet& sheet) {
    return sheet.title(id(), "survey form", static_cast<int>(drawing_.pages.size()) + 1, sheets_);
  }
  void keep(FormSheet& sheet) { drawing_.pages.push_back(sheet.page()); }

  // Heights of the fixed parts of a sheet, from the top of its room.
  double first_fixed() const { return heading_room + picture_height + form_gap; }
  std::size_t rows_in(double height) const {
    const double rows = (height - form_table_height(0)) / form_row_height;
    return static_cast<std::size_t>(std::max(3.0, rows));
  }
  double sheet_height() const { return FormSheet(paper_, "").room().height(); }
  std::size_t rows_on_first_sheet() const { return rows_in(sheet_height() - first_fixed() - foot_height); }
  double second_fixed() const {
    return heading_room + band_height + form_gap + form_table_height(3) + form_gap + weight_height + form_gap;
  }
  std::size_t rows_on_second_sheet() const { return rows_in(sheet_height() - second_fixed() - foot_height); }

  // ---- the piece, its marks and nodes

  std::string filled_in(const std::string& key) const {
    if (piece_ == nullptr) return "";
    if (key == "id") return piece_->id;
    if (key == "material") return piece_->length > 0.0 ? material_word(piece_->material) : "";
    if (key == "species") return piece_->species;
    if (key == "length") return piece_->length > 0.0 ? mm(piece_->length) : "";
    if (key == "datum_from_end_a") return piece_->length > 0.0 ? mm(piece_->datum_from_end_a) : "";
    if (key == "butt" && piece_->butt) return *piece_->butt == End::a ? "A" : "B";
    if (key == "handsome_deg" && piece_->handsome) return number_text(piece_->handsome->degrees(), 4);
    return "";
  }

  /// Two boxes side by side, row by row. Returns the y below.
  double piece_boxes(FormSheet& sheet, double left, double top) {
    const double width = 0.5 * (sheet.room().right - left - box_space);
    double y = top;
    int i = 0;
    for (const SurveyField& field : survey_list("piece").fields) {
      const double x = left + (i % 2) * (width + box_space);
      sheet.box(std::string("piece-") + field.key, column_of(field),
                {x, y + 4.2, x + width, y + 4.2 + box_height}, fitting(filled_in(field.key), width));
      if (i++ % 2 == 1) y += box_pitch;
    }
    return y;
  }

  /// Shortened where a box cannot hold it.
  static std::string fitting(std::string words, double width) {
    while (!words.empty() && text_extent(words, 3.5, Weight::regular).width > width - 3.0) words.pop_back();
    return words;
  }

  double tool_boxes(FormSheet& sheet, double left, double top) {
    const SurveyList& tools = survey_list("tools");
    Group& group = sheet.page().group("tool-words", tools.title);
    group.items.push_back(
        Text{{left, top + 3.5}, tools.title, 2.5, Anchor::start, {}, Weight::bold, Ink::black});
    group.items.push_back(Text{
        {sheet.room().right, top + 3.5}, "\"errors\"", 2.5, Anchor::end, {}, Weight::regular, Ink::black});
    const InstrumentErrors usual;
    const double values[] = {usual.caliper, usual.tape, usual.height, usual.straightedge, usual.wall};
    std::vector<FormColumn> boxes;
    for (const SurveyField& field : tools.fields) boxes.push_back({field.key, field.key, false, 1.0});
    boxes.push_back({"tape_thickness", "tape_thickness", false, 1.0});
    const double width = (sheet.room().right - left - 2.0 * box_space) / 3.0;
    for (std::size_t i = 0; i < boxes.size(); ++i) {
      const double x = left + static_cast<double>(i % 3) * (width + box_space);
      const double y = top + 9.2 + static_cast<double>(i / 3) * box_pitch;
      const std::string id = "tool-" + boxes[i].key;
      sheet.box(id, boxes[i], {x, y, x + width, y + box_height});
      const std::string usually = i < tools.fields.size() ? number_text(values[i]) : "0";
      sheet.page().group(id).items.push_back(Text{{x + width - 1.2, y + box_height - 1.5},
                                                  "else " + usually,
                                                  2.5,
                                                  Anchor::end,
                                                  {},
                                                  Weight::regular,
                                                  Ink::black});
    }
    return top + 5.0 + 2.0 * box_pitch;
  }

  void units_box(FormSheet& sheet, double left, double top) {
    Group& group = sheet.page().group("units", "Unit of all lengths");
    const auto words = [&](double x, const std::string& text, Weight weight) {
      group.items.push_back(Text{{x, top + 3.4}, text, 2.5, Anchor::start, {}, weight, Ink::black});
    };
    words(left, "All lengths in", Weight::bold);
    double x = left + 24.0;
    for (const char* unit : {"mm", "inch (add \"units\": \"inch\")"}) {
      group.items.push_back(stroked(box_path({x, top, x + 4.2, top + 4.2}), LineType::continuous_thin));
      words(x + 6.0, unit, Weight::regular);
      x += 18.0;
    }
  }

  void first_sheet(Rows rows) {
    FormSheet sheet(paper_, "Survey form: the piece, its marks and nodes");
    const Box& room = sheet.room();
    const double top = sheet.heading("Survey: the piece, its marks and nodes", true);
    picture_of_marks(sheet.page(), {room.left, top, room.left + picture_width, top + picture_height});
    const double left = room.left + picture_width + 6.0;
    double y = piece_boxes(sheet, left, top);
    units_box(sheet, left, y + 1.0);
    y = tool_boxes(sheet, left, y + 9.0);
    sheet.block(marks_words(room.right - left), {left, y + 3.0});
    FormTable table = table_of("nodes", "\"nodes\"", rows.to - rows.from);
    name_rows(table, rows);
    if (piece_ != nullptr) {
      for (std::size_t i = rows.from; i < std::min(rows.to, piece_->nodes.size()); ++i) {
        table.filled.push_back(node_row(piece_->nodes[i]));
      }
    }
    sheet.table(table, room.left, room.right, top + picture_height + form_gap);
    const Box title = finish(sheet);
    sheet.block(node_words(title.left - room.left - form_gap), {room.left, title.top});
    keep(sheet);
  }

  static void name_rows(FormTable& table, Rows rows) {
    for (std::size_t i = 0; i < table.row_names.size(); ++i)
      table.row_names[i] = std::to_string(rows.from + i + 1);
  }

  static std::vector<std::string> node_row(const Node& node) {
    return {mm(node.at_line),        node.ridge_height > 0.0 ? mm(node.ridge_height) : "",
            mm(node.at_far),         mm(node.band),
            node.kink ? "true" : "", node.pierced_diameter ? mm(*node.pierced_diameter) : ""};
  }

  static Block marks_words(double width) {
    return BlockWriter("marks-words", "How to mark the piece", width)
        .heading("Mark it first")
        .words(
            "Call one end A, the other B, and write it on. Bind the piece into its survey plates, or lay it "
            "in "
            "V-blocks.")
        .words(
            "Draw the reference line straight from A to B: on a bowed piece with a scribing block at the "
            "height "
            "of the axis, on a straight one along an angle iron. Prick the datum mark on it near A, where no "
            "saw will come.")
        .words(
            "Hold the piece with A up and the line facing you: around counts to the right, along from the "
            "datum "
            "mark toward B; before it and to the left with a minus.")
        .done();
  }

  static Block node_words(double width) {
    return BlockWriter("node-words", "How to measure nodes", width)
        .heading("Nodes")
        .words(
            "Steel rule along the line, zero on the datum mark. Far side: the same rule on the back. How far "
            "a "
            "ridge stands out: caliper over the ridge less the caliper beside it, halved.")
        .done();
  }

  // ---- around and inside

  static constexpr double foot_height = 41.0;  ///< of the title block
  static constexpr double weight_height = 28.0;

  void second_sheet(Rows rows) {
    FormSheet sheet(paper_, "Survey form: stations, walls and weight");
    const Box& room = sheet.room();
    double y = sheet.heading("Survey: around, inside, weight", true);
    const double third = 0.25 * room.width();
    picture_of_widths(sheet.page(), {room.left, y, room.left + third, y + band_height});
    picture_of_girth(sheet.page(), {room.left + third + 6.0, y, room.left + 2.0 * third, y + band_height});
    picture_of_walls(sheet.page(), {room.left + 2.0 * third + 4.0, y, room.right, y + band_height});
    y += band_height + form_gap;
    FormTable stations =
        table_of("stations", "\"stations\": at, girth, \"widths\": facing_deg, across", rows.to - rows.from);
    name_rows(stations, rows);
    const std::vector<double> at = places();
    for (std::size_t i = rows.from; i < std::min(rows.to, at.size()); ++i)
      stations.filled.push_back({mm(at[i])});
    y = sheet.table(stations, room.left, room.right, y) + form_gap;
    FormTable walls = table_of("walls", "\"walls\": at, facing_deg, thickness", 3);
    walls.row_names = {"end A", "end B", "pilot"};
    if (piece_ != nullptr && piece_->length > 0.0) {
      walls.filled = {{mm(piece_->end_a_at())}, {mm(piece_->end_b_at())}};
    }
    y = sheet.table(walls, room.left, room.right, y) + form_gap;
    weight_boxes(sheet, y);
    const Box title = finish(sheet);
    sheet.block(station_words(title.left - room.left - form_gap), {room.left, title.top});
    keep(sheet);
  }

  void weight_boxes(FormSheet& sheet, double top) {
    const Box& room = sheet.room();
    const double half = 0.46 * room.width();
    picture_of_balance(sheet.page(), {room.left, top, room.left + half, top + weight_height - 3.0});
    const double left = room.left + half + 8.0;
    const std::vector<SurveyField>& fields = survey_list("weight").fields;
    const double width = (room.right - left - 2.0 * box_space) / 3.0;
    double x = left;
    for (const SurveyField& field : fields) {
      sheet.box(std::string("weight-") + field.key, column_of(field), {x, top + 6.0, x + width, top + 18.0});
      x += width + box_space;
    }
  }

  static Block station_words(double width) {
    return BlockWriter("station-words", "How to measure stations and walls", width)
        .heading("Stations and walls")
        .words(
            "Quick survey: one girth near each end, the wall once at each end, mass and balance. Full: also "
            "one "
            "station in every internode, four widths at each, four walls at each end.")
        .words(
            "Keep 3 mm clear of the ridges and within 30 mm of the ends. The jaws stand square to the piece. "
            "A "
            "tape that is t thick reads \u03C0\u00B7t too long: write its thickness down.")
        .done();
  }

  // ---- straightness, skin, verdict, check girths

  void third_sheet() {
    FormSheet sheet(paper_, "Survey form: straightness, skin, verdict, check girths");
    const Box& room = sheet.room();
    double y = sheet.heading("Survey: straight? clean? worth it?", false);
    picture_of_bow(sheet.page(), {room.left, y, room.right, y + band_height});
    y += band_height;
    const double half = 0.5 * (room.width() - form_gap);
    const double right_half = room.left + half + form_gap;
    const double low = sheet.table(table_of("bow", "\"bow\"", 4), room.left, room.left + half, y);
    sheet.table(table_of("grooves", "\"grooves\"", 4), right_half, room.right, y);
    y = low + form_gap;
    y = sheet.table(table_of("blemishes", "\"blemishes\"", 4), room.left, room.right, y) + form_gap;
    const std::vector<SurveyField>& verdict = survey_list("verdict").fields;
    sheet.box("verdict-verdict", column_of(verdict[0]),
              {room.left, y + 4.2, room.left + 45.0, y + 4.2 + box_height});
    sheet.box("verdict-why", column_of(verdict[1]),
              {room.left + 45.0 + box_space, y + 4.2, room.right, y + 4.2 + box_height});
    y += box_pitch + form_gap;
    const Box title = finish(sheet);
    const double left_width = title.left - room.left - form_gap;
    FormTable checks = table_of("check_girths", "\"check_girths\"", 2);
    if (piece_ != nullptr) fill_checks(checks);
    const double checks_top = room.bottom - form_table_height(2);
    sheet.table(checks, room.left, room.left + left_width, checks_top);
    const Block words = caution_words(room.width());
    sheet.block(words, {room.left, y});
    y += words.height + 6.0;
    sheet.box("verdict-note", column_of(verdict[2]),
              {room.left, y, room.right, std::min(checks_top, title.top) - form_gap});
    keep(sheet);
  }

  /// Near both ends, where the survey measured.
  void fill_checks(FormTable& checks) const {
    const std::vector<double> at = places();
    if (at.size() < 2) return;
    checks.filled = {{mm(at.front())}, {mm(at.back())}};
  }

  static Block caution_words(double width) {
    return BlockWriter("cautions", "Cautions", width)
        .heading("With care")
        .words(
            "Clamp the piece in V-blocks or between its plates; never hold it in a loose hand while a blade, "
            "a "
            "drill or an awl is near. Splinters: gloves off at the drill, file the ends first. Burnt nodes, "
            "glue "
            "and dust want fresh air and a mask.")
        .words(
            "Check girths: on the day of drilling, with the same tape. More than half a percent of movement, "
            "and "
            "the piece is measured again before any hole.")
        .done();
  }

  // ---- survey plates

  void plates_sheet(Rows rows) {
    FormSheet sheet(paper_, "Survey form: heights on survey plates");
    const Box& room = sheet.room();
    const int flats = piece_ != nullptr && piece_->plates ? piece_->plates->flats : SurveyPlates{}.flats;
    double y = sheet.heading("Survey: on survey plates", false);
    picture_of_heights(sheet.page(), {room.left, y, room.right, y + 62.0}, flats);
    y += 62.0 + form_gap;
    const double width = 46.0;
    double x = room.left;
    for (const SurveyField& field : survey_list("plates").fields) {
      const bool is_flats = std::string(field.key) == "flats";
      std::string filled = is_flats ? std::to_string(flats) : "";
      if (!is_flats && piece_ != nullptr && piece_->plates) filled = mm(piece_->plates->across_flats);
      sheet.box(std::string("plates-") + field.key, column_of(field),
                {x, y + 4.2, x + width, y + 4.2 + box_height}, filled);
      x += width + box_space;
    }
    Group& path = sheet.page().group("plates-path", "Where it goes in the document");
    path.items.push_back(
        Text{{x, y + 9.0}, "\"plates\"", 2.5, Anchor::start, {}, Weight::regular, Ink::black});
    y += box_pitch + form_gap;
    const std::vector<double> at = places();
    for (int first = 0; first < flats; first += heights_across) {
      y = sheet.table(heights_table(rows, at, first, std::min(flats, first + heights_across)), room.left,
                      room.right, y) +
          form_gap - 1.5;
    }
    const Box title = finish(sheet);
    sheet.block(plate_words(title.left - room.left - form_gap), {room.left, title.top});
    keep(sheet);
  }

  static constexpr int heights_across = 8;

  FormTable heights_table(Rows rows, const std::vector<double>& at, int first, int last) const {
    FormTable table{"list-heights-" + std::to_string(first),
                    "Heights, flats " + std::to_string(first) + " to " + std::to_string(last - 1),
                    "\"stations\": at, \"heights\"",
                    {{"at", "at", false, 1.0}},
                    {},
                    {}};
    for (int flat = first; flat < last; ++flat) {
      table.columns.push_back({"h" + std::to_string(flat), "h" + std::to_string(flat), false, 1.0});
    }
    const std::size_t shown = rows.to - rows.from;
    for (std::size_t i = 0; i < shown; ++i) {
      table.row_names.push_back(std::to_string(rows.from + i + 1));
      if (rows.from + i < at.size()) table.filled.push_back({mm(at[rows.from + i])});
    }
    return table;
  }

  static Block plate_words(double width) {
    return BlockWriter("plate-words", "How to measure heights", width)
        .heading("Heights")
        .words(
            "Press both plates flat on the board together, flat 0 down means the opposite flat faces up: "
            "read the "
            "number that faces up. One row for a station, one box for a flat; leave a box empty that was "
            "skipped "
            "(null).")
        .done();
  }

  PaperSize paper_;
  const Survey* piece_;
  int sheets_ = 1;
  Drawing drawing_;
};

}  // namespace

Drawing survey_form(PaperSize paper, const Survey* piece) {
  return SurveyForm(paper, piece).make();
}

}  // namespace culmwright
