#include "plan/drilling_words.hpp"

#include "base/words.hpp"

namespace culmwright {

const char* stage_words(Stage stage) {
  switch (stage) {
    case Stage::pierce:
      return "Pierce the nodes";
    case Stage::bind:
      return "Bind the tube";
    case Stage::back:
      return "Back the bore";
    case Stage::pilot:
      return "Pilot holes";
    case Stage::read_wall:
      return "First wall reading";
    case Stage::open_up:
      return "Open the holes up";
    case Stage::cut_openings:
      return "Cut the openings out";
    case Stage::deburr:
      return "Deburr";
    case Stage::seal:
      return "Seal";
    case Stage::measure:
      return "Measure the holes";
    case Stage::fit_cups:
      return "Fit the key cups";
  }
  return "";
}

namespace schedule_words {

namespace {

const char* const clamp = "Clamp the tube in cradles or V-blocks; never hold it by hand.";
const char* const eyes = "Eye protection; extraction and a dust mask against bamboo and wood dust.";
const char* const sleeves = "No gloves, loose sleeves or loose hair near the chuck.";
const char* const peck = "Sharp bit; peck, lift, clear; go through slowly.";
const char* const cell = "Never drill with a cell fitted.";

}  // namespace

std::vector<std::string> cautions(Stage stage) {
  switch (stage) {
    case Stage::pierce:
      return {"No hand at the far end of a node rod.",
              "Burning nodes through makes smoke: outdoors, or under extraction.", clamp, eyes};
    case Stage::bind:
      return {"A culm that creaks or shows a crack is not drilled."};
    case Stage::back:
      return {"Backing stays where it is until the drill is out again; no finger in the bore."};
    case Stage::pilot:
      return {clamp,
              "A printed guide locates; it does not clamp or guard. Throw a cracked one away.",
              peck,
              eyes,
              sleeves,
              cell,
              "Local rules come first."};
    case Stage::read_wall:
      return {"The drill is out of the chuck or the machine unplugged while a hand is at the hole."};
    case Stage::open_up:
      return {clamp, peck, eyes, sleeves, cell};
    case Stage::cut_openings:
      return {clamp, "Saw away from the hand that steadies the tube.", eyes};
    case Stage::deburr:
      return {"Splinters: wipe the rims with a rag, never with a finger.", eyes};
    case Stage::seal:
      return {"Lacquer and glue make fumes: fresh air, no flame.",
              "Treated culms have no place at the mouth."};
    case Stage::measure:
      return {"Splinters: the caliper goes in, no finger."};
    case Stage::fit_cups:
      return {"Never force a spigot: bamboo splits. Glue makes fumes.",
              "Printed parts have no place at the mouth.",
              "Wiring and cells by the rules of the place and by those licensed for them."};
  }
  return {};
}

std::vector<std::string> setting(const GuidePlan& guide) {
  std::vector<std::string> words;
  std::vector<std::string> pegs;
  for (const GuidePeg& peg : guide.pegs) pegs.push_back(peg.id);
  switch (guide.stop) {
    case StopKind::end_on_line:
      words.push_back("Push " + guide.name + "'s stop against end " +
                      (guide.post && guide.post->end == End::b ? "B" : "A") + ", on the reference line.");
      break;
    case StopKind::end_on_middle:
      words.push_back("Push " + guide.name + "'s stop against end " +
                      (guide.post && guide.post->end == End::b ? "B" : "A") + ".");
      break;
    case StopKind::pegs:
      words.push_back("Put the pilot bit or a rod of its size through " + guide.name + " into " +
                      listed(pegs, " and ") + ".");
      break;
    case StopKind::joint:
      words.push_back("Leave " + guide.tongue()->with + " strapped on. Put " + guide.name +
                      "'s tongue into its notch and push the two ends together.");
      break;
    case StopKind::sighting_only:
      words.push_back("Set " + guide.name + " to its pencil mark: it has neither stop nor peg.");
      break;
  }
  if (guide.sighting_line && !guide.sights.empty()) {
    words.push_back("Turn it until the " + guide.sighting_line->name +
                    " runs through the sharp corners of its windows, then strap it home.");
  } else {
    words.push_back("Strap it home; it bears on its four pads and must not rock.");
  }
  return words;
}

std::vector<std::string> how(Stage stage) {
  switch (stage) {
    case Stage::pierce:
      return {
          "Before any hole is drilled, while the wall is whole. From the nearer end, along the middle of "
          "the bore."};
    case Stage::bind:
      return {
          "Waxed thread or a hose clamp over a strip of leather, tight, on both sides of each row; it "
          "stays until the holes are sealed."};
    case Stage::back:
      return {
          "Slide it under the holes, flat side inward, and wedge it with the stick so that it bears "
          "against the wall that is drilled."};
    case Stage::read_wall:
      return {
          "Hook gauge through each pilot, along its axis. Write the wall into the as-drilled document and "
          "run culmwright as-drilled: the depths of all that follows change."};
    case Stage::open_up:
      return {};
    case Stage::cut_openings:
      return {"From corner hole to corner hole with a fine saw, inside the line; then file to it."};
    case Stage::deburr:
      return {"Inside first, with a bent file or a rag over a stick; outside only break the edge."};
    case Stage::seal:
      return {
          "Thin lacquer or oil on every rim and on the bore where it was cut; let it dry before you "
          "measure."};
    case Stage::measure:
      return {
          "Two diameters of each hole at the skin, along the tube and around it, the wall where it was not "
          "read, and what chipped. These numbers size the cups."};
    case Stage::fit_cups:
      return {
          "Print the cups from the measured holes. Each goes back to its own hole, its notch toward the "
          "mouth end."};
    case Stage::pilot:
      break;
  }
  return {};
}

}  // namespace schedule_words

}  // namespace culmwright
