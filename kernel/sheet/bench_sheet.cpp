#include "sheet/bench_sheet.hpp"

#include "base/words.hpp"
#include "drawing/paper_sheet.hpp"
#include "fit/check_words.hpp"
#include "sheet/bench_sheet_sections.hpp"
#include "sheet/map_picture.hpp"

namespace culmwright {

namespace bench {

std::string with_error(double value, double sigma, int decimals) {
  return fixed_text(value, decimals) + " ± " + fixed_text(sigma, decimals);
}

std::string around_words(double around) {
  const std::string size = fixed_text(around < 0.0 ? -around : around, 1);
  if (size == "0.0") return size;
  return size + (around > 0.0 ? " left" : " right");
}

}  // namespace bench

namespace {

constexpr double front_foot_room = 26.0;  ///< under the front's picture: caption and the page's foot

TitleBlock title_of(const BenchSheetInput& input) {
  const Instrument& instrument = input.instrument;
  TitleBlock title;
  title.piece = instrument.tube_id;
  title.instrument = instrument.layout_id;
  title.revision = std::to_string(instrument.revision);
  title.state = sign_heading(instrument.sign);
  title.detail = sign_detail(instrument.sign);
  title.kind = "bench sheet";
  title.scale = "none";
  return title;
}

std::string end_words(End end) {
  return end == End::a ? "end A" : "end B";
}

SheetFront front_of(const BenchSheetInput& input) {
  const Tube& tube = input.fit.tube();
  const Instrument& instrument = input.instrument;
  const SheetSize paper = sheet_size(input.shop.paper.size, Orientation::portrait);
  const double margin = std::max(input.shop.paper.margin, 10.0);
  const double scale = map_scale(tube, front_picture_width, paper.height - 2.0 * margin - front_foot_room);
  SheetFront front;
  front.picture = SheetPicture{map_picture(tube, instrument, scale),
                               "The skin unrolled at " + reduction_words(scale) +
                                   ", seen from outside: the player's left is on the right. Tinted: holes. "
                                   "Thin: touches. Hatched: nodes, no hole there."};
  const Next next = next_for(figures_of(input.fit), &instrument, input.findings);
  front.facts = {{"Next", step_words(next.step)},
                 {"Why", next.why},
                 {"Mouth end", end_words(instrument.mouth_end)},
                 {"Length between cuts", fixed_text(instrument.length(), 1) + " mm"},
                 {"Front faces", fixed_text(instrument.facing.degrees(), 0) + "° from the reference line"},
                 {"Keys", std::to_string(instrument.keys.size())}};
  if (input.balance) {
    front.facts.push_back(
        {"Mass, finished",
         bench::with_error(input.balance->mass_g.value, input.balance->mass_g.sigma, 0) + " g"});
  }
  if (!input.fit.survey().date.empty()) front.facts.push_back({"Surveyed", input.fit.survey().date});
  if (input.proposed) {
    front.words.push_back("Placed by the program's own proposal: nobody has decided for it yet.");
  }
  front.words.push_back("Lengths in millimetres. Along counts from the mouth cut, around from the key line.");
  return front;
}

}  // namespace

SheetDocument bench_sheet(const BenchSheetInput& input) {
  SheetDocument document;
  document.title = title_of(input);
  document.front = front_of(input);
  document.sections = {bench::the_piece(input), bench::the_placement(input), bench::how_true(input)};
  if (!input.views.empty()) document.sections.push_back(bench::the_pictures(input));
  document.sections.push_back(bench::parts_to_print(input));
  document.sections.push_back(bench::drilling(input));
  document.sections.push_back(bench::as_drilled(input));
  document.sections.push_back(bench::sign_off(input));
  document.sections.push_back(bench::the_record(input));
  return document;
}

}  // namespace culmwright
