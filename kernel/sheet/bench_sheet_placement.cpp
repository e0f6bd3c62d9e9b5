#include "base/words.hpp"
#include "fit/check_words.hpp"
#include "fit/placement_score.hpp"
#include "fit/words.hpp"
#include "paper/survey_picture.hpp"
#include "sheet/bench_sheet_sections.hpp"
#include "tube/check_girth.hpp"

namespace culmwright::bench {

namespace {

SheetTable station_table(const SurveyReport& report) {
  SheetTable table{
      "The piece at its stations, with one standard deviation; at: from the datum mark toward end B",
      {{"At", true}, {"Girth", true}, {"Diameter", true}, {"Ovality", true}, {"Wall", true}},
      {}};
  for (const StationFigures& station : report.stations) {
    table.rows.push_back({fixed_text(station.at, 1), with_error(station.girth.value, station.girth.sigma, 1),
                          fixed_text(station.diameter(), 2), fixed_text(station.ovality(), 4),
                          with_error(station.wall.value, station.wall.sigma, 1)});
  }
  return table;
}

SheetFacts piece_facts(const TubeFit& fit, const SurveyReport& report) {
  const Survey& survey = fit.survey();
  SheetFacts facts;
  const auto fact = [&](const std::string& name, const std::string& words) {
    if (!words.empty()) facts.facts.push_back({name, words});
  };
  fact("Species", survey.species);
  fact("Length", fixed_text(survey.length, 1) + " mm");
  fact("Bow", with_error(report.bow_offset.value, report.bow_offset.sigma, 2) + " mm");
  fact("Taper", with_error(report.taper.value, report.taper.sigma, 4));
  if (report.mass_g) fact("Mass", fixed_text(*report.mass_g, 1) + " g");
  if (report.density) fact("Density", with_error(report.density->value, report.density->sigma, 2) + " g/cm³");
  fact("A hole's place is known to", fixed_text(report.next.hole_error_now, 2) + " mm (fingers accept " +
                                         fixed_text(accepted_by_fingers, 1) + ")");
  fact("Note", survey.note);
  return facts;
}

std::vector<std::string> piece_remarks(const TubeFit& fit, const SurveyReport& report) {
  std::vector<std::string> remarks;
  for (const SurveyRemark& remark : report.remarks) remarks.push_back("Look: " + remark.text);
  for (const GirthMovement& movement : girth_movements(fit)) remarks.push_back(movement_sentence(movement));
  if (!report.next.text.empty()) {
    remarks.push_back("The reading that would help most: " + report.next.text + " (to " +
                      fixed_text(report.next.hole_error_after, 2) + " mm).");
  }
  return remarks;
}

const char* finger_words(Finger finger) {
  constexpr const char* words[] = {"thumb", "index", "middle", "ring", "little", "side"};
  return words[static_cast<int>(finger)];
}

SheetTable key_table(const Instrument& instrument) {
  SheetTable table{
      "Keys as played: along from the mouth cut, around from the key line to the player's left or right",
      {{"Key"},
       {"Finger"},
       {"Along", true},
       {"Around", true},
       {"Hole", true},
       {"Wall", true},
       {"Tilt", true},
       {"Its place was"}},
      {}};
  for (const PlacedKey& key : instrument.keys) {
    const std::string hand = key.key.hand == Hand::left ? "left " : "right ";
    table.rows.push_back({key.key.id, hand + finger_words(key.key.finger), fixed_text(key.along, 1),
                          around_words(key.around), fixed_text(key.key.hole_diameter, 1),
                          fixed_text(key.wall, 1), fixed_text(key.tilt.degrees(), 1) + "°",
                          std::string(origin_words(key.origin)) + (key.locked ? ", locked" : "")});
  }
  return table;
}

SheetTable part_table(const Instrument& instrument) {
  SheetTable table{"Openings and parts as played",
                   {{"Part"}, {"What"}, {"Along", true}, {"Around", true}, {"Long", true}, {"Wide", true}},
                   {}};
  for (const PlacedPart& part : instrument.parts) {
    table.rows.push_back({part.part.id, words_of(part.part.kind), fixed_text(part.along, 1),
                          around_words(part.around), fixed_text(part.part.length, 1),
                          fixed_text(part.part.width, 1)});
  }
  return table;
}

/// To the right of the one who looks with end A up, whichever end the player blows.
std::string around_on_the_piece(double around) {
  const std::string size = fixed_text(around < 0.0 ? -around : around, 1);
  return size == "0.0" ? size : size + (around > 0.0 ? " to the right" : " to the left");
}

SheetTable mark_table(const Instrument& instrument) {
  SheetTable table{
      "The same on the piece: end A up, reference line facing you; at from the datum mark, around along the "
      "skin",
      {{"Key or part"}, {"At", true}, {"Around", true}},
      {}};
  for (const PlacedKey& key : instrument.keys) {
    table.rows.push_back({key.key.id, fixed_text(key.place.at, 1), around_on_the_piece(key.place.around)});
  }
  for (const PlacedPart& part : instrument.parts) {
    table.rows.push_back(
        {part.part.id, fixed_text(part.place.at, 1), around_on_the_piece(part.place.around)});
  }
  return table;
}

SheetPart the_rules(const BenchSheetInput& input) {
  SheetTable table{"Every rule that applies, at its tightest place",
                   {{"Rule"}, {"Value", true}, {"Limit", true}, {"Margin", true}, {"Verdict"}},
                   {}};
  SheetList sentences;
  for (const Finding& finding : input.findings) {
    const Rule& rule = rule_of(finding);
    table.rows.push_back({rule.title, in_unit(finding.value, rule.unit), in_unit(finding.limit, rule.unit),
                          in_unit(finding.margin, rule.unit), verdict_words(finding, input.instrument.sign)});
    if (!finding.passes) sentences.items.push_back(sentence_of(finding, input.instrument.sign));
  }
  SheetPart part{"Rules and margins", {table}};
  if (!sentences.items.empty()) part.blocks.push_back(sentences);
  return part;
}

SheetPart the_reasons(const BenchSheetInput& input) {
  const std::vector<ScoreTerm> terms =
      placement_score(input.fit, input.layout, input.placement, input.instrument, input.balance);
  SheetTable table{"What this placement costs, in points: fewer are better",
                   {{"For"}, {"So much", true}, {"Points", true}},
                   {}};
  for (const ScoreTerm& term : terms) {
    table.rows.push_back({term.name, number_text(term.value, 3) + (term.unit.empty() ? "" : " " + term.unit),
                          fixed_text(term.points(), 1)});
  }
  table.rows.push_back({"in all", "", fixed_text(total_points(terms), 1)});
  SheetPart part{"Why it is so", {table}};
  SheetList rivals;
  for (const RivalScore& rival : input.rivals) {
    rivals.items.push_back(fixed_text(rival.score, 1) + " points: " + rival.character + ".");
  }
  if (!rivals.items.empty()) {
    part.blocks.push_back(SheetWords{"What the program would propose beside it, by the same points:"});
    part.blocks.push_back(rivals);
  }
  if (!input.placement.note.empty()) part.blocks.push_back(SheetWords{"Note: " + input.placement.note});
  return part;
}

SheetPart the_balance(const BenchSheetInput& input) {
  SheetPart part{"Balance", {}};
  if (!input.balance) {
    part.blocks.push_back(SheetWords{"The piece was not weighed: mass and balance are unknown."});
    return part;
  }
  part.blocks.push_back(SheetWords{balance_words(*input.balance, input.instrument) + "."});
  return part;
}

}  // namespace

SheetSection the_piece(const BenchSheetInput& input) {
  const SurveyReport report = report_on(input.fit);
  SheetSection section{"piece", "The piece as measured", {piece_facts(input.fit, report)}, {}, true};
  section.blocks.push_back(station_table(report));
  const std::vector<std::string> remarks = piece_remarks(input.fit, report);
  if (!remarks.empty()) section.blocks.push_back(SheetList{remarks});
  Drawing picture = survey_picture(input.fit.tube(), input.fit.survey(), input.shop.paper.size);
  section.blocks.push_back(SheetPictures{{{std::move(picture.pages.front()), "The piece as measured."}}});
  return section;
}

SheetSection the_placement(const BenchSheetInput& input) {
  const Instrument& instrument = input.instrument;
  SheetSection section{"placement", "Where everything goes", {}, {}, false};
  section.blocks.push_back(key_table(instrument));
  if (!instrument.parts.empty()) section.blocks.push_back(part_table(instrument));
  section.blocks.push_back(mark_table(instrument));
  section.parts = {the_rules(input), the_balance(input), the_reasons(input)};
  return section;
}

SheetSection how_true(const BenchSheetInput& input) {
  SheetSection section{"truth", "How true the holes will come out", {}, {}, false};
  if (!input.no_tolerance.empty()) {
    section.blocks.push_back(SheetWords{"Not known: " + input.no_tolerance});
    return section;
  }
  SheetTable table{"Through their guides, 95 of 100 holes come out within this. Fingers accept " +
                       fixed_text(accepted_by_fingers, 1) + " in all",
                   {{"Hole"},
                    {"Guide", true},
                    {"Along", true},
                    {"Around", true},
                    {"In all", true},
                    {"Out of square", true},
                    {"Verdict"}},
                   {}};
  for (const HoleTolerance& hole : input.tolerance.holes) {
    table.rows.push_back({hole.id, std::to_string(hole.guide), "± " + fixed_text(hole.along, 1),
                          "± " + fixed_text(hole.around, 1), fixed_text(hole.radial, 1),
                          fixed_text(hole.tilt.degrees(), 1) + "°", too_wide(hole) ? "look" : "ok"});
  }
  section.blocks.push_back(table);
  if (!input.tolerance.next.text.empty()) {
    section.blocks.push_back(SheetWords{"What would help most: " + input.tolerance.next.text + "."});
  }
  return section;
}

SheetSection the_pictures(const BenchSheetInput& input) {
  return {"pictures", "Tube, keys, guides and cups", {SheetPictures{input.views}}, {}, false};
}

}  // namespace culmwright::bench
