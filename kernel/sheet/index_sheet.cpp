#include "sheet/index_sheet.hpp"

#include <algorithm>
#include <map>

#include "base/words.hpp"
#include "sheet/map_picture.hpp"

namespace culmwright {

namespace {

constexpr double picture_width = 60.0;
constexpr double picture_height = 128.0;

Next next_of(const IndexPiece& piece) {
  return next_for(piece.figures, piece.instrument, piece.findings);
}

std::string state_of(const IndexPiece& piece) {
  if (piece.instrument == nullptr) return "";
  std::string words =
      "revision " + std::to_string(piece.instrument->revision) + ", " + sign_words(piece.instrument->sign);
  return piece.proposed ? words + ", as proposed" : words;
}

SheetTable next_table(const IndexInput& input) {
  SheetTable table{"What is next for each piece, from its documents",
                   {{"Piece"}, {"Becomes"}, {"State"}, {"Next"}, {"Why"}},
                   {}};
  for (const IndexPiece& piece : input.pieces) {
    const Next next = next_of(piece);
    SheetCell name(piece.figures.tube_id);
    name.link = piece.sheet;
    table.rows.push_back({name, piece.instrument == nullptr ? std::string() : piece.instrument->layout_id,
                          state_of(piece), step_words(next.step), next.why});
  }
  return table;
}

SheetTable figures_table(const IndexInput& input) {
  SheetTable table{"The pieces by themselves: a hole's place by the survey as one standard deviation",
                   {{"Piece"},
                    {"Length", true},
                    {"Even wall", true},
                    {"Ovality", true},
                    {"Taper", true},
                    {"Bow", true},
                    {"Hole's place", true},
                    {"Good enough to drill"}},
                   {}};
  std::string last;
  for (const IndexPiece& piece : input.pieces) {
    const PieceFigures& figures = piece.figures;
    if (figures.tube_id == last) continue;
    last = figures.tube_id;
    table.rows.push_back({figures.tube_id, fixed_text(figures.length, 0),
                          fixed_text(figures.wall_uniformity, 2), fixed_text(figures.ovality, 3),
                          fixed_text(figures.taper, 4), fixed_text(figures.bow, 4),
                          fixed_text(figures.hole_error, 2), figures.good_enough ? "yes" : "measure more"});
  }
  return table;
}

SheetSection pictures_of(const IndexInput& input) {
  double scale = 1.0;
  for (const IndexPiece& piece : input.pieces) {
    scale = std::max(scale, map_scale(piece.fit->tube(), picture_width, picture_height));
  }
  SheetPictures pictures;
  for (const IndexPiece& piece : input.pieces) {
    const Tube& tube = piece.fit->tube();
    const Instrument bare = bare_piece(tube);
    const Instrument& instrument = piece.instrument == nullptr ? bare : *piece.instrument;
    std::string caption = tube.id();
    if (piece.instrument != nullptr) caption += ", " + piece.instrument->layout_id;
    caption += ": " + std::string(step_words(next_of(piece).step));
    pictures.pictures.push_back({map_picture(tube, instrument, scale), caption});
  }
  SheetSection section{"pieces", "All pieces at one scale, " + reduction_words(scale), {}, {}, true};
  section.blocks.push_back(
      SheetWords{"Skins unrolled, seen from outside, mouth end up; a piece that nothing is placed on stands "
                 "with end A up. "
                 "Tinted: holes. Hatched: nodes."});
  section.blocks.push_back(std::move(pictures));
  return section;
}

SheetTable ranking_table(const IndexInput& input, std::size_t layout) {
  SheetTable table{input.layouts[layout] + ": the best place of every piece, fewer points are better",
                   {{"Piece"}, {"Points", true}, {"How"}},
                   {}};
  for (const RankRow& row : input.ranking->rows) {
    if (row.layout != layout) continue;
    const std::string& tube = input.tubes[row.tube];
    if (row.best) {
      table.rows.push_back({tube, fixed_text(row.best->score, 1) + " ± " + fixed_text(row.score_sigma, 1),
                            row.best->character + ". " + row.how_sure});
    } else {
      table.rows.push_back({tube, "none", row.refusal.sentence});
    }
  }
  return table;
}

SheetSection ranking_of_pieces(const IndexInput& input) {
  SheetSection section{"ranking", "Ranking", {}, {}, false};
  section.blocks.push_back(figures_table(input));
  if (input.ranking == nullptr) return section;
  for (std::size_t layout = 0; layout < input.layouts.size(); ++layout) {
    section.blocks.push_back(ranking_table(input, layout));
  }
  SheetList assigned;
  for (std::size_t tube = 0; tube < input.tubes.size(); ++tube) {
    const auto& layout = input.ranking->assignment.layout_of_tube[tube];
    if (layout) assigned.items.push_back(input.layouts[*layout] + " from " + input.tubes[tube]);
  }
  if (!assigned.items.empty()) {
    section.blocks.push_back(SheetWords{"One of each, most instruments first, then least points:"});
    section.blocks.push_back(assigned);
  }
  return section;
}

std::size_t count_tubes(const IndexInput& input) {
  std::vector<std::string> ids;
  for (const IndexPiece& piece : input.pieces) ids.push_back(piece.figures.tube_id);
  std::sort(ids.begin(), ids.end());
  return static_cast<std::size_t>(std::unique(ids.begin(), ids.end()) - ids.begin());
}

/// "2 to measure more", in the order of the work.
std::vector<SheetFact> counts_of(const IndexInput& input) {
  std::map<NextStep, std::vector<std::string>> by_step;
  for (const IndexPiece& piece : input.pieces) by_step[next_of(piece).step].push_back(piece.figures.tube_id);
  std::vector<SheetFact> facts;
  for (const auto& [step, ids] : by_step) facts.push_back({step_words(step), listed(ids, ", ")});
  return facts;
}

}  // namespace

SheetDocument index_sheet(const IndexInput& input) {
  SheetDocument document;
  document.heading = input.workshop;
  const std::size_t tubes = count_tubes(input);
  document.title.piece = std::to_string(tubes) + (tubes == 1 ? " piece" : " pieces");
  document.title.kind = "index sheet of " + input.workshop;
  document.title.scale = "none";
  document.front.facts = counts_of(input);
  document.sections.push_back({"next", "What is next", {next_table(input)}, {}, false});
  document.sections.push_back(pictures_of(input));
  document.sections.push_back(ranking_of_pieces(input));
  return document;
}

}  // namespace culmwright
