#pragma once
/// The option --hand: the same key layout for another player.
#include <string>
#include <vector>

#include "command/command.hpp"
#include "command/gather.hpp"

namespace culmwright::command {

/// "184x82" (length by breadth, mm), "184" (breadth from it), "50" with a set as in "women:50".
void add_hand_option(CLI::App* command, std::string& hand);

/// The player named; throws InputError where the words are none of these or out of range.
PlayerHand player_of(const std::string& hand);

/// The documents, every key layout for that player; as they are where `hand` is empty.
Documents gather_for(const std::string& hand, const std::vector<std::string>& files);

}  // namespace culmwright::command
