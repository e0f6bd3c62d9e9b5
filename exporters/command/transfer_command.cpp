#include <algorithm>
#include <filesystem>
#include <iostream>

#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/hand_text.hpp"
#include "command/pages.hpp"
#include "command/player_option.hpp"
#include "command/propose_text.hpp"
#include "command/terminal.hpp"
#include "files/output_folder.hpp"
#include "fit/transfer.hpp"
#include "paper/placement_strips.hpp"

namespace culmwright::command {

namespace {

struct Options : FileOptions {
  std::string tube;
  std::string to;
  std::string hand;
  std::string date;
};

namespace fs = std::filesystem;

const Loaded<Survey>& target_of(const Documents& documents, const Options& options) {
  for (const Loaded<Survey>& tube : documents.tubes) {
    if (tube.value.id == options.to) return tube;
  }
  std::string known;
  for (const auto& tube : documents.tubes) known += (known.empty() ? "" : ", ") + tube.value.id;
  throw InputError(
      {{"unknown-tube", {}, "no tube called " + options.to, "one of " + known, "Name the tube after --to"}});
}

std::string moved_text(const std::vector<Displacement>& moved) {
  if (moved.empty()) return "  Every key and part keeps its place in the hand.\n";
  TextTable table({"", "toward foot", "to player's left", "because"});
  for (const Displacement& one : moved) {
    table.row({one.id, number(one.along, 1), number(one.around, 1), one.forced_by});
  }
  return table.text();
}

void write(const Transferred& transferred, const Job& from, const Tube& to, const fs::path& out) {
  const Placement& placement = transferred.proposal.placement;
  write_output_file(out / (placement.id + ".json"), placement_to_json(placement));
  const Drawing drawing = placement_strips(
      {{from.fit.tube(), from.instrument, "from " + from.instrument.tube_id, {}},
       {to, transferred.proposal.instrument, "to " + to.id(), {transferred.proposal.character}}},
      from.instrument.layout_id + " from " + from.instrument.tube_id + " to " + to.id());
  write_pages(out, drawing, placement.id + "-strips");
}

int run(const Options& options) {
  const Documents documents = gather_for(options.hand, options.files);
  const std::vector<Job> jobs = jobs_of(documents, options.tube);
  if (jobs.size() != 1) {
    throw InputError({{"one-placement",
                       {},
                       std::to_string(jobs.size()) + " placements among the files",
                       "the one placement to transfer",
                       "Name the tube it stands on after --tube"}});
  }
  const Job& from = jobs.front();
  const TubeFit to = fit_of(target_of(documents, options));
  ProposeOptions how;
  how.date = options.date;
  const auto result = transfer(from.fit.tube(), from.key_layout->value, from.placement->value, to, how);
  std::cout << from.instrument.layout_id << " from " << from.instrument.tube_id << " to " << to.tube().id()
            << "\n";
  if (const auto* refusal = std::get_if<Refusal>(&result)) {
    std::cout << propose_text("", Proposed(*refusal));
    return rule_failed;
  }
  const Transferred& transferred = std::get<Transferred>(result);
  std::cout << wrapped(transferred.proposal.character, 2) << moved_text(transferred.moved);
  const KeyLayout& layout = from.key_layout->value;
  if (layout.hand_size) {
    std::cout << "  On " << from.instrument.tube_id << ":\n"
              << comfort_text(from.fit.tube(), layout, from.instrument) << "  On " << to.tube().id() << ":\n"
              << comfort_text(to.tube(), layout, transferred.proposal.instrument);
  }
  if (!options.out.empty()) write(transferred, from, to.tube(), options.out);
  return done;
}

}  // namespace

Command transfer_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* transfer =
      add_command(app, *options, "transfer", "A placement from one tube to another",
                  "culmwright transfer workshop.json --tube culm-11 --to culm-12 --out transferred");
  add_hand_option(transfer, options->hand);
  transfer->add_option("--tube", options->tube, "the tube that the placement stands on");
  transfer->add_option("--to", options->to, "the other tube")->required();
  transfer->add_option("--date", options->date, "of the new revision, year-month-day");
  return {transfer, [options] { return run(*options); }};
}

}  // namespace culmwright::command
