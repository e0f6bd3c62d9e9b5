#include <ctime>
#include <filesystem>
#include <iostream>

#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/pages.hpp"
#include "command/player_option.hpp"
#include "command/propose_text.hpp"
#include "command/terminal.hpp"
#include "files/output_folder.hpp"
#include "fit/played_hands.hpp"
#include "fit/propose_drilled.hpp"
#include "fit/transfer.hpp"
#include "paper/placement_strips.hpp"

namespace culmwright::command {

namespace {

struct Options : FileOptions {
  bool json = false;
  std::string tube;
  std::string layout;
  std::string hand;
  int count = 5;
  std::string date;
  bool mirrored = false;
};

namespace fs = std::filesystem;

/// The placement already made of this key layout on this tube, whose locked and drilled numbers stay.
const Loaded<Placement>* placement_of(const Documents& documents, const Survey& tube,
                                      const KeyLayout& layout) {
  for (const Loaded<Placement>& placement : documents.placements) {
    if (placement.value.tube_id == tube.id && placement.value.layout_id == layout.id) return &placement;
  }
  return nullptr;
}

/// The placement with its facts, where something of it is drilled already.
const Job* drilled_job(const std::vector<Job>& jobs, const Survey& tube, const KeyLayout& layout) {
  for (const Job& job : jobs) {
    if (job.as_drilled != nullptr && job.tube->value.id == tube.id && job.key_layout->value.id == layout.id)
      return &job;
  }
  return nullptr;
}

Proposed proposed_around(const Job& job, const ProposeOptions& how, const Shop& shop) {
  const DrilledJob facts{job.fit, job.placement_now(), job.instrument, job.drilled};
  return propose_as_drilled(facts, job.key_layout->value, job.placement->value, job.as_drilled->value,
                            shop.pilot_diameter, how);
}

/// For a player who holds the other hand uppermost; a document of its own, since placements name it.
KeyLayout mirrored_layout(const KeyLayout& layout, const Options& options) {
  KeyLayout other = mirrored(layout);
  if (other.id == layout.id) other.id += "-mirrored";
  if (!options.out.empty()) {
    write_output_file(fs::path(options.out) / (other.id + ".json"), key_layout_to_json(other));
  }
  return other;
}

/// How often comfort was judged and what that takes, timed on the best proposal; empty where no hand is
/// known. A message, for times are not the same twice.
std::string hands_figures(const ProposeFigures& figures, const Tube& tube, const KeyLayout& layout,
                          const Proposed& proposed) {
  const auto* proposals = std::get_if<std::vector<Proposal>>(&proposed);
  if (figures.hands_judged == 0 || proposals == nullptr) return "";
  const std::clock_t begin = std::clock();
  const std::vector<PlayedHand> hands = played_hands(tube, layout, proposals->front().instrument);
  for (const PlayedHand& hand : hands) lay_hand(hand.model, hand.task);
  const double laid = static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
  for (const PlayedHand& hand : hands) hand_comfort(hand.model, hand.task);
  const double judged = static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC - laid;
  const double each = 1000.0 / static_cast<double>(hands.size());
  return wrapped("Comfort judged for " + std::to_string(figures.hands_judged) + " hands; one takes " +
                     number(each * judged, 1) + " ms, of which " + number(each * laid, 1) +
                     " to lay it on the tube. " + std::to_string(figures.checked) +
                     " placements were held against the rules, their hands laid on each.",
                 2);
}

/// Several placements of one key layout on one tube need names of their own.
void number_proposals(Proposed& proposed) {
  auto* proposals = std::get_if<std::vector<Proposal>>(&proposed);
  if (proposals == nullptr || proposals->size() < 2) return;
  for (std::size_t i = 0; i < proposals->size(); ++i) {
    Proposal& proposal = (*proposals)[i];
    proposal.placement.id += "-" + std::to_string(i + 1);
    proposal.instrument.id = proposal.placement.id;
  }
}

std::vector<PlacementStrip> strips_of(const Tube& tube, const std::vector<Proposal>& proposals) {
  std::vector<PlacementStrip> strips;
  for (const Proposal& proposal : proposals) {
    strips.push_back({tube,
                      proposal.instrument,
                      std::to_string(strips.size() + 1) + "  " + number(proposal.score, 1) + " points",
                      {proposal.character}});
  }
  return strips;
}

void write_proposals(const Tube& tube, const std::vector<Proposal>& proposals, const fs::path& out) {
  for (std::size_t i = 0; i < proposals.size(); ++i) {
    const std::string name = proposals[i].placement.id + ".json";
    write_output_file(out / name, placement_to_json(proposals[i].placement));
  }
  const Drawing drawing = placement_strips(strips_of(tube, proposals),
                                           proposals.front().instrument.layout_id + " on " + tube.id());
  write_pages(out, drawing, proposals.front().instrument.layout_id + "-on-" + tube.id() + "-strips");
}

int run(const Options& options) {
  const Documents documents = gather_for(options.hand, options.files);
  if (documents.tubes.empty() || documents.key_layouts.empty()) {
    throw InputError({{"nothing-to-propose",
                       {},
                       "no tube or no key layout among the files",
                       "at least one tube and one key layout, or a workshop",
                       "Start from templates/tube.json and templates/key_layout.json"}});
  }
  const std::vector<Job> drilled = documents.as_drilled.empty() ? std::vector<Job>{} : jobs_of(documents);
  JsonValue list = JsonValue::array();
  bool all = true;
  for (const Loaded<Survey>& tube : documents.tubes) {
    if (!options.tube.empty() && tube.value.id != options.tube) continue;
    const TubeFit fit = fit_of(tube);
    for (const Loaded<KeyLayout>& layout : documents.key_layouts) {
      if (!options.layout.empty() && layout.value.id != options.layout) continue;
      const KeyLayout wanted = options.mirrored ? mirrored_layout(layout.value, options) : layout.value;
      ProposeOptions how;
      how.count = options.count;
      how.date = options.date;
      ProposeFigures figures;
      how.figures = &figures;
      if (const auto* placement = placement_of(documents, tube.value, wanted))
        how.placement = placement->value;
      const Job* job = drilled_job(drilled, tube.value, wanted);
      Proposed proposed = job != nullptr ? proposed_around(*job, how, documents.shop_or_default())
                                         : propose(fit, wanted, how);
      if (!options.json) std::cerr << hands_figures(figures, fit.tube(), wanted, proposed);
      number_proposals(proposed);
      const auto* proposals = std::get_if<std::vector<Proposal>>(&proposed);
      all = all && proposals != nullptr;
      if (options.json) {
        list.push(propose_json(tube.value.id, wanted.id, proposed));
      } else {
        std::cout << propose_text(wanted.id + " on " + tube.value.id, proposed);
      }
      if (proposals != nullptr && !options.out.empty()) write_proposals(fit.tube(), *proposals, options.out);
    }
  }
  if (options.json) std::cout << to_text(list);
  return all ? done : rule_failed;
}

}  // namespace

Command propose_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* propose =
      add_command(app, *options, "propose", "Placements of a key layout on a tube, the best different ones",
                  "culmwright propose tube.json layout.json --out proposals");
  add_hand_option(propose, options->hand);
  propose->add_flag("--json", options->json, "for programs");
  propose->add_option("--tube", options->tube, "only this tube");
  propose->add_option("--layout", options->layout, "only this key layout");
  propose->add_option("--count", options->count, "how many, at most")->check(CLI::Range(1, 50));
  propose->add_option("--date", options->date, "of the new revision, year-month-day");
  propose->add_flag("--mirrored", options->mirrored, "for a player who holds the other hand uppermost");
  return {propose, [options] { return run(*options); }};
}

}  // namespace culmwright::command
