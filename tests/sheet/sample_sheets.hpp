#pragma once
/// Invented sheets for the tests of pages and HTML: every kind of block, and more of them than a page holds.
#include <string>

#include "sheet/sheet_document.hpp"

namespace culmwright::test {

inline Page square_picture(double width, double height, const std::string& title) {
  Page page;
  page.width = width;
  page.height = height;
  page.title = title;
  page.description = "A frame.";
  Group& group = page.group("frame", "Frame");
  group.items.push_back(stroked(box_path({1.0, 1.0, width - 1.0, height - 1.0}), LineType::continuous_thick));
  group.items.push_back(
      Text{{width / 2.0, height / 2.0}, "picture", 2.5, Anchor::middle, {}, Weight::regular, Ink::black});
  return page;
}

inline SheetTable long_table(int rows) {
  SheetTable table{"A table longer than a page", {{"Name"}, {"Words"}, {"Figure", true}, {"To write"}}, {}};
  for (int i = 1; i <= rows; ++i) {
    table.rows.push_back({"row" + std::to_string(i),
                          i % 7 == 0
                              ? "words that take more than one line, since there are so many of them that no "
                                "column of this table could hold all of them in one"
                              : "words",
                          std::to_string(i * 11), SheetCell::to_write("figure of row " + std::to_string(i))});
  }
  return table;
}

inline SheetStep step_with_lines(int number, int lines) {
  SheetStep step;
  step.id = "work-" + std::to_string(number);
  step.title = "Work number " + std::to_string(number);
  step.words = {"What is done in it, in a sentence that goes over more than one line beside its picture."};
  step.cautions = {"What goes wrong when it is done carelessly: R&D <splinters> \"fly\"."};
  step.picture = square_picture(60.0, 38.0, "Step " + std::to_string(number));
  step.fields = {{"depth read", "mm"}};
  step.lines = SheetTable{"Holes of work " + std::to_string(number), {{"Hole"}, {"Done"}, {"Across"}}, {}};
  for (int i = 1; i <= lines; ++i) {
    const std::string id = "H" + std::to_string(number) + "-" + std::to_string(i);
    step.lines->rows.push_back(
        {id, SheetCell::to_tick(id + " done", i == 1), SheetCell::to_write(id + " across")});
  }
  return step;
}

inline SheetDocument sample_sheet() {
  SheetDocument document;
  document.title.piece = "culm-99";
  document.title.instrument = "whistle & \"drone\"";
  document.title.revision = "4";
  document.title.state = "DRAFT";
  document.title.kind = "bench sheet";
  document.title.scale = "none";
  document.front.picture = SheetPicture{square_picture(80.0, 200.0, "The piece"), "The piece, unrolled."};
  document.front.facts = {{"Next", "mock up"}, {"Why", "A draft that no hand has tried."}};
  document.front.words = {"Lengths in millimetres."};
  SheetSection tables{"tables", "Tables", {SheetWords{"Words before it."}, long_table(70)}, {}, true};
  tables.parts.push_back({"A part", {SheetFacts{{{"Name", "Fact"}}}, SheetList{{"first", "second"}}}});
  SheetSection steps{"steps", "Steps", {SheetCaution{"Eye protection."}}, {}, true};
  SheetSteps work;
  for (int i = 1; i <= 6; ++i) work.steps.push_back(step_with_lines(i, 3 * i));
  steps.blocks.push_back(work);
  SheetSection rest{"rest", "Pictures and room", {}, {}, false};
  rest.blocks.push_back(
      SheetPictures{{{square_picture(50.0, 40.0, "One"), "First picture."},
                     {square_picture(60.0, 60.0, "Two"), "Second picture."},
                     {square_picture(90.0, 30.0, "Three"), "Third picture, in a row below."}}});
  rest.blocks.push_back(SheetFields{{{"girth", "mm"}, {"date", "", 40.0}}});
  rest.blocks.push_back(SheetRoom{"Notes", 40.0, true});
  document.sections = {tables, steps, rest};
  return document;
}

}  // namespace culmwright::test
