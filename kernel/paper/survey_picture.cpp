#include "paper/survey_picture.hpp"

#include <algorithm>
#include <cmath>

#include "drawing/paper_sheet.hpp"
#include "paper/sheet_plan.hpp"
#include "paper/survey_sheet.hpp"
#include "paper/words.hpp"

namespace culmwright {

namespace {

constexpr double margin = 10.0;
constexpr double band_height = 62.0;  ///< of ends, signs and title at the foot of the page, at least
constexpr double heading_room = 15.0;
constexpr double gap = 9.0;             ///< between the views
constexpr double bow_half = 7.0;        ///< half the room of a bow strip
constexpr double dimension_room = 9.0;  ///< left of the front view
constexpr double table_room = 39.0;
constexpr double words_gap = 2.5;
constexpr double words_room = 46.5;  ///< of the facts and signs, left of the title block

const char* material_words(Material material) {
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
  return "other material";
}

}  // namespace

SurveySheet::SurveySheet(const Tube& tube, const Survey& survey, PaperSize paper)
    : tube_(tube), survey_(survey), paper_(paper) {
  const SheetSize size = sheet_size(paper, Orientation::portrait);
  page_.width = size.width;
  page_.height = size.height;
  printable_ = printable(size, margin).grown(-0.6);
  for (int i = 0; i <= 40; ++i) {
    const Section section = tube.section(tube.end_a_at() + tube.length() * i / 40);
    girth_ = std::max(girth_, section.girth());
    for (int k = 0; k < 12; ++k) widest_ = std::max(widest_, section.width(Angle::from_degrees(15.0 * k)));
  }
  choose_scale();
}

void SurveySheet::choose_scale() {
  const Block legend =
      legend_block({Sign::node, Sign::blemish, Sign::keep_off, Sign::reference_line, Sign::datum});
  band_top_ = printable_.bottom - std::max(band_height, facts().height + words_gap + legend.height + 4.0);
  top_ = printable_.top + heading_room;
  const double room = band_top_ - 8.0 - top_;
  const double width = printable_.width() - dimension_room - 4.0 * gap - 4.0 * bow_half - table_room;
  for (double scale : {1.0, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 15.0, 20.0}) {
    scale_ = scale;
    if (tube_.length() / scale <= room && (2.0 * widest_ + girth_) / scale <= width) break;
  }
  end_scale_ = 1.0;
  while (widest_ / end_scale_ > 38.0) end_scale_ *= 2.0;
  double bow = 0.0;
  for (int i = 0; i <= 200; ++i) {
    const Vec2 centre = section_centre(tube_, tube_.end_a_at() + tube_.length() * i / 200);
    bow = std::max({bow, std::abs(centre.x), std::abs(centre.y)});
  }
  for (double factor : {1.0, 2.0, 3.0, 4.0, 5.0, 8.0, 10.0, 20.0, 50.0}) {
    if (bow * factor <= bow_half) bow_factor_ = factor;
  }
}

Page SurveySheet::draw() {
  page_.title = "Survey of piece " + tube_.id();
  page_.description = std::string(material_words(survey_.material)) + ", " + decimals(tube_.length(), 1) +
                      " mm long: two views at " + scale_words() +
                      ", bow enlarged, skin unrolled, girths, internodes, ends.";
  double x = printable_.left + dimension_room;
  draw_internodes(printable_.left + 3.5);
  const double half = 0.5 * widest_ / scale_;
  draw_view(View::front, x + half);
  x += 2.0 * half + gap;
  draw_view(View::from_left, x + half);
  x += 2.0 * half + gap;
  draw_bow(x + bow_half, true);
  draw_bow(x + 3.0 * bow_half, false);
  heading(x + 2.0 * bow_half, "bow \u00D7" + decimals(bow_factor_, 0), "");
  x += 4.0 * bow_half + gap;
  const double skin = x + 0.5 * girth_ / scale_;
  draw_skin(skin);
  draw_stations(skin + 0.5 * girth_ / scale_, printable_.right);
  draw_ends();
  draw_words();
  return page_;
}

void SurveySheet::line(const std::string& group, const Polyline& points, LineType type, bool closed) {
  page_.group(group).items.push_back(stroked(closed ? closed_path(points) : open_path(points), type));
}

void SurveySheet::text(const std::string& group, Vec2 at, const std::string& words, double height,
                       Anchor anchor, Weight weight, Angle rotation) {
  page_.group(group).items.push_back(Text{at, words, height, anchor, rotation, weight, Ink::black});
}

void SurveySheet::heading(double x, const std::string& first, const std::string& second) {
  text("headings", {x, printable_.top + 3.5}, first, 2.5, Anchor::middle, Weight::bold);
  if (!second.empty()) text("headings", {x, printable_.top + 8.0}, second, 2.5, Anchor::middle);
}

std::string SurveySheet::scale_words() const {
  return "1:" + decimals(scale_, scale_ == 2.5 ? 1 : 0);
}

Block SurveySheet::facts() const {
  BlockWriter facts("facts", "The piece in figures", words_room);
  std::string kind = material_words(survey_.material);
  if (!survey_.species.empty()) kind += ", " + survey_.species;
  facts.words(kind);
  facts.words("length " + decimals(tube_.length(), 1) + " mm");
  if (survey_.mass_g) facts.words("mass " + decimals(*survey_.mass_g, 1) + " g");
  if (survey_.balance_at) facts.words("balance point at " + decimals(*survey_.balance_at, 1));
  if (survey_.butt) facts.words(std::string("butt at end ") + (*survey_.butt == End::a ? "A" : "B"));
  if (survey_.handsome) {
    facts.words("handsome side at " + decimals(survey_.handsome->normalized().degrees(), 0) + "\u00B0");
  }
  if (!survey_.date.empty()) facts.words("measured " + survey_.date);
  return facts.words("millimetres; at from the datum mark").done();
}

void SurveySheet::draw_words() {
  TitleBlock title;
  title.piece = tube_.id();
  title.kind = "survey picture";
  title.scale = scale_words();
  title.paper = std::string(paper_name(paper_)) + " upright";
  const Block block = title_block(title);
  const Vec2 corner{printable_.right - panel_width, printable_.bottom - block.height};
  Group& group = page_.group(block.id, block.title);
  for (const Item& item : block.items) group.items.push_back(moved(item, corner));

  const Block fact_block = facts();
  const Block legend = legend_block(signs_);
  const double x = corner.x - panel_gap - words_room;
  double y = band_top_ + 4.0;
  for (const Block& part : {fact_block, legend}) {
    Group& words = page_.group(part.id, part.title);
    for (const Item& item : part.items) words.items.push_back(moved(item, {x, y}));
    y += part.height + words_gap;
  }
}

Drawing survey_picture(const Tube& tube, const Survey& survey, PaperSize paper) {
  return {{SurveySheet(tube, survey, paper).draw()}};
}

}  // namespace culmwright
