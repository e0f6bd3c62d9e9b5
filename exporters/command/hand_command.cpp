#include <algorithm>
#include <filesystem>
#include <iostream>

#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/hand_text.hpp"
#include "command/pages.hpp"
#include "command/player_option.hpp"
#include "command/terminal.hpp"
#include "fit/words.hpp"
#include "paper/hand_picture.hpp"

namespace culmwright::command {

namespace {

struct Options : FileOptions {
  bool json = false;
  std::string tube;
  std::string hand;
};

namespace fs = std::filesystem;

/// How far from a key its reach is looked for, for the picture: farther would cover the neighbours.
constexpr double shown_reach = 12.0;

struct Laid {
  PlayedHand hand;
  HandComfort comfort;
};

std::vector<Laid> laid_on(const Job& job) {
  std::vector<Laid> laid;
  for (PlayedHand& hand : played_hands(job.fit.tube(), job.key_layout->value, job.instrument)) {
    HandComfort comfort = hand_comfort(hand.model, hand.task);
    laid.push_back({std::move(hand), std::move(comfort)});
  }
  return laid;
}

SkinPlace place_of(const Instrument& instrument, const ReachedPlace& reached) {
  for (const PlacedPart& part : instrument.parts) {
    if (reached.is_rest && part.part.id == reached.id) return part.place;
  }
  for (const PlacedKey& key : instrument.keys) {
    if (key.key.id == reached.id) return key.place;
  }
  return {};
}

/// Offsets of the played frame on the tube.
std::vector<SkinPlace> on_tube(const std::vector<Offset>& outline, SkinPlace middle,
                               const Instrument& instrument) {
  const double sense = instrument.mouth_end == End::a ? 1.0 : -1.0;
  std::vector<SkinPlace> places;
  for (const Offset& offset : outline) {
    places.push_back({middle.at + sense * offset.along, middle.around + sense * offset.around});
  }
  return places;
}

PicturedHand pictured(const Laid& laid, const Instrument& instrument) {
  const HandTask& task = laid.hand.task;
  const HandModel& model = laid.hand.model;
  PicturedHand picture;
  picture.title = task.hand == Hand::left ? "Left hand" : "Right hand";
  for (std::size_t i = 0; i < laid.comfort.places.size(); ++i) {
    const ReachedPlace& place = laid.comfort.places[i].place;
    const ChainInSpace chain = chain_in_space(model, task, laid.comfort.laid, place.finger, place.turns);
    const SkinPlace middle = place_of(instrument, place);
    PicturedFinger finger{place.id, chain.joints, chain.radius, middle, place.reached, {}};
    if (place.reached) {
      finger.reach = on_tube(reach_area(model, task, laid.comfort.laid, i, shown_reach), middle, instrument);
    }
    picture.fingers.push_back(std::move(finger));
  }
  picture.palm.push_back(in_space(task, laid.comfort.laid, model.finger(Finger::thumb).base));
  for (const Finger finger : {Finger::index, Finger::middle, Finger::ring, Finger::little}) {
    picture.palm.push_back(in_space(task, laid.comfort.laid, model.finger(finger).base));
  }
  picture.palm.push_back(in_space(task, laid.comfort.laid, {0.15 * model.size.breadth, 0.0, 0.0}));
  picture.words = hand_words(laid.hand, laid.comfort);
  picture.words.insert(picture.words.begin(), "For a hand of " + millimetres(model.size.length) + " by " +
                                                  millimetres(model.size.breadth) + ".");
  return picture;
}

void write_picture(const Job& job, const std::vector<Laid>& hands, const Options& options) {
  std::vector<PicturedHand> pictures;
  for (const Laid& laid : hands) pictures.push_back(pictured(laid, job.instrument));
  const PaperSize paper = job.shop != nullptr ? job.shop->paper.size : Shop{}.paper.size;
  const Drawing drawing = hand_pictures(job.fit.tube(), job.instrument, pictures, comfort_caution(), paper);
  for (const std::string& name : write_pages(options.out, drawing, job.instrument.id + "-hands")) {
    (options.json ? std::cerr : std::cout)
        << "  The hands as a picture: " << (fs::path(options.out) / name).string() << "\n";
  }
}

[[noreturn]] void refuse_unknown(const Job& job) {
  throw InputError({{"no-hand",
                     {},
                     "key layout " + job.key_layout->value.id + " without \"hand_size\"",
                     "a hand's size in the key layout, or --hand",
                     "Say --hand 184x82 (length by breadth in mm), or --hand women:50"}});
}

int run(const Options& options) {
  const Documents documents = gather_for(options.hand, options.files);
  const std::vector<Job> jobs = jobs_of(documents, options.tube);
  if (jobs.empty()) {
    throw InputError({{"no-placement",
                       {},
                       "no placement among the files",
                       "a tube, a key layout and a placement, or a workshop",
                       "Start from templates/placement.json"}});
  }
  JsonValue list = JsonValue::array();
  bool reached = true;
  for (const Job& job : jobs) {
    if (!job.key_layout->value.hand_size) refuse_unknown(job);
    const std::vector<Laid> hands = laid_on(job);
    JsonValue json = JsonValue::array();
    if (!options.json)
      std::cout << job.instrument.id << ": " << job.instrument.layout_id << " on " << job.instrument.tube_id
                << "\n";
    for (const Laid& laid : hands) {
      reached = reached && laid.comfort.laid.fingers_reach();
      if (options.json)
        json.push(hand_json(laid.hand, laid.comfort));
      else
        std::cout << hand_text(laid.hand, laid.comfort);
    }
    list.push(JsonValue::object()
                  .set("placement", job.instrument.id)
                  .set("tube", job.instrument.tube_id)
                  .set("key_layout", job.instrument.layout_id)
                  .set("hands", std::move(json))
                  .set("caution", comfort_caution()));
    if (!options.json) std::cout << wrapped(comfort_caution(), 2);
    if (!options.out.empty()) write_picture(job, hands, options);
  }
  if (options.json) std::cout << to_text(list);
  return reached ? done : rule_failed;
}

}  // namespace

Command hand_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* hand =
      add_command(app, *options, "hand", "Reach and comfort of the player's hands",
                  "culmwright hand tube.json layout.json placement.json --hand women:50 --out hands");
  add_hand_option(hand, options->hand);
  hand->add_flag("--json", options->json, "for programs");
  hand->add_option("--tube", options->tube, "only this tube");
  return {hand, [options] { return run(*options); }};
}

}  // namespace culmwright::command
