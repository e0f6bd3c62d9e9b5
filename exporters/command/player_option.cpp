#include "command/player_option.hpp"

#include <charconv>
#include <optional>

namespace culmwright::command {

namespace {

constexpr double least_length = 100.0, greatest_length = 260.0;
constexpr double least_breadth = 45.0, greatest_breadth = 130.0;

[[noreturn]] void refuse(const std::string& hand) {
  throw InputError(
      {{"hand-option",
        {},
        "--hand " + hand,
        "184x82 (length by breadth in mm: 100 to 260 by 45 to 130), 184, women:50 or men:50 (percentile 1 "
        "to 99)",
        "Measure from the crease of the wrist to the tip of the middle finger, and across the four "
        "knuckles"}});
}

std::optional<double> number_in(const std::string& words, double least, double greatest) {
  double value = 0.0;
  const char* end = words.data() + words.size();
  const auto read = std::from_chars(words.data(), end, value);
  if (words.empty() || read.ec != std::errc() || read.ptr != end) return std::nullopt;
  if (!(value >= least && value <= greatest)) return std::nullopt;
  return value;
}

}  // namespace

void add_hand_option(CLI::App* command, std::string& hand) {
  command->add_option("--hand", hand, "another player's hand: 184x82 in mm, or a percentile as women:50");
}

PlayerHand player_of(const std::string& hand) {
  PlayerHand player;
  if (const std::size_t colon = hand.find(':'); colon != std::string::npos) {
    const std::string set = hand.substr(0, colon);
    if (set != "women" && set != "men") refuse(hand);
    player.set = set == "women" ? HandSet::women : HandSet::men;
    player.percentile = number_in(hand.substr(colon + 1), 1.0, 99.0);
    if (!player.percentile) refuse(hand);
    return player;
  }
  const std::size_t by = hand.find('x');
  player.length = number_in(hand.substr(0, by), least_length, greatest_length);
  if (!player.length) refuse(hand);
  if (by == std::string::npos) return player;
  player.breadth = number_in(hand.substr(by + 1), least_breadth, greatest_breadth);
  if (!player.breadth) refuse(hand);
  return player;
}

Documents gather_for(const std::string& hand, const std::vector<std::string>& files) {
  Documents documents = gather(files);
  if (hand.empty()) return documents;
  const PlayerHand player = player_of(hand);
  for (auto& layout : documents.key_layouts) layout.value.hand_size = player;
  return documents;
}

}  // namespace culmwright::command
