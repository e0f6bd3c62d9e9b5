#include <filesystem>
#include <iostream>

#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/pages.hpp"
#include "command/player_option.hpp"
#include "command/propose_text.hpp"
#include "command/ranking.hpp"
#include "command/terminal.hpp"
#include "files/output_folder.hpp"
#include "paper/placement_strips.hpp"

namespace culmwright::command {

namespace {

struct Options : FileOptions {
  bool json = false;
  std::string hand;
};

namespace fs = std::filesystem;

const char* word(Verdict verdict) {
  switch (verdict) {
    case Verdict::keep:
      return "keep";
    case Verdict::aside:
      return "aside";
    case Verdict::undecided:
      break;
  }
  return "undecided";
}

std::string pieces_text(const Ranking& ranking) {
  TextTable table({"piece", "length", "even wall", "ovality", "taper", "bow", "hole error", "verdict"});
  for (const PieceFigures& piece : ranking.pieces) {
    table.row({piece.tube_id, number(piece.length, 0), number(piece.wall_uniformity, 2),
               number(piece.ovality, 3), number(piece.taper, 4), number(piece.bow, 4),
               number(piece.hole_error, 2), word(piece.verdict)});
  }
  return table.text();
}

std::string rows_text(const Batch& batch, const Ranking& ranking) {
  std::string text;
  for (std::size_t layout = 0; layout < batch.layouts.size(); ++layout) {
    text += "\n" + batch.layouts[layout].id + "\n";
    for (const RankRow& row : ranking.rows) {
      if (row.layout != layout) continue;
      const std::string& id = batch.tubes[row.tube].tube().id();
      if (row.best) {
        text += wrapped(id + ": " + with_error(row.best->score, row.score_sigma, 1) + " points; " +
                            row.best->character + ". " + row.how_sure,
                        2);
      } else {
        text += wrapped(id + ": none. " + row.refusal.sentence, 2);
      }
    }
  }
  return text;
}

std::string assignment_text(const Batch& batch, const Ranking& ranking) {
  std::string text = "\nOne of each, most instruments first:\n";
  for (std::size_t tube = 0; tube < batch.tubes.size(); ++tube) {
    const auto& layout = ranking.assignment.layout_of_tube[tube];
    if (layout) text += "  " + batch.layouts[*layout].id + " from " + batch.tubes[tube].tube().id() + "\n";
  }
  return text;
}

JsonValue ranking_json(const Batch& batch, const Ranking& ranking) {
  JsonValue pieces = JsonValue::array();
  for (const PieceFigures& piece : ranking.pieces) {
    pieces.push(JsonValue::object()
                    .set("tube", piece.tube_id)
                    .set("length", piece.length)
                    .set("wall_uniformity", piece.wall_uniformity)
                    .set("ovality", piece.ovality)
                    .set("taper", piece.taper)
                    .set("bow", piece.bow)
                    .set("hole_error", piece.hole_error)
                    .set("good_enough", piece.good_enough)
                    .set("verdict", word(piece.verdict))
                    .set("verdict_note", piece.verdict_note));
  }
  JsonValue rows = JsonValue::array();
  for (const RankRow& row : ranking.rows) {
    JsonValue json = JsonValue::object();
    json.set("tube", batch.tubes[row.tube].tube().id()).set("key_layout", batch.layouts[row.layout].id);
    if (row.best) {
      json.set("score", row.best->score)
          .set("score_sigma", row.score_sigma)
          .set("character", row.best->character)
          .set("sure", row.sure)
          .set("how_sure", row.how_sure);
    } else {
      json.set("refused", row.refusal.sentence);
    }
    rows.push(std::move(json));
  }
  JsonValue assigned = JsonValue::array();
  for (std::size_t tube = 0; tube < batch.tubes.size(); ++tube) {
    const auto& layout = ranking.assignment.layout_of_tube[tube];
    if (!layout) continue;
    assigned.push(JsonValue::object()
                      .set("tube", batch.tubes[tube].tube().id())
                      .set("key_layout", batch.layouts[*layout].id));
  }
  return JsonValue::object()
      .set("pieces", std::move(pieces))
      .set("rows", std::move(rows))
      .set("assignment", std::move(assigned));
}

void write_strips(const Batch& batch, const Ranking& ranking, const fs::path& out) {
  for (std::size_t layout = 0; layout < batch.layouts.size(); ++layout) {
    std::vector<PlacementStrip> strips;
    for (const RankRow& row : ranking.rows) {
      if (row.layout != layout || !row.best) continue;
      const Tube& tube = batch.tubes[row.tube].tube();
      strips.push_back(
          {tube, row.best->instrument, tube.id() + "  " + number(row.best->score, 1), {row.best->character}});
    }
    if (strips.empty()) continue;
    const std::string& id = batch.layouts[layout].id;
    const Drawing drawing = placement_strips(strips, id + " on every piece that takes it, best first");
    write_pages(out, drawing, "rank-" + id);
  }
}

int run(const Options& options) {
  const Documents documents = gather_for(options.hand, options.files);
  if (documents.tubes.empty() || documents.key_layouts.empty()) {
    throw InputError({{"nothing-to-rank",
                       {},
                       "no tube or no key layout among the files",
                       "tubes and key layouts, or a workshop",
                       ""}});
  }
  const Batch batch = batch_of(documents);
  const Ranking ranking = ranked(batch);
  if (options.json) {
    std::cout << to_text(ranking_json(batch, ranking));
  } else {
    std::cout << pieces_text(ranking) << rows_text(batch, ranking) << assignment_text(batch, ranking);
  }
  if (!options.out.empty()) write_strips(batch, ranking, options.out);
  return done;
}

}  // namespace

Command rank_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* rank =
      add_command(app, *options, "rank", "Every tube against every key layout; which becomes which",
                  "culmwright rank examples/workshop/workshop.json --out ranking");
  add_hand_option(rank, options->hand);
  rank->add_flag("--json", options->json, "for programs");
  return {rank, [options] { return run(*options); }};
}

}  // namespace culmwright::command
