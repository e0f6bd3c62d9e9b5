#pragma once
/// The option --hand: the same key layout for another player.
#include <string>

#include "command/command.hpp"
#include "command/gather.hpp"

namespace culmwright::command {

/// "184x82" (length by breadth, mm), "184" (breadth from it), "50" with a set as in "women:50".
void add_hand_option(CLI::App* command, std::string& hand);

/// The player named; throws InputError where the words are none of these or out of range.
PlayerHand player_of(const std::string& hand);

/// Every key layout for that player; nothing where `hand` is empty.
void play_with(const std::string& hand, Documents& documents);

}  // namespace culmwright::command
