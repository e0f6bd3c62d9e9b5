#pragma once
/// A hand on an instrument in words: tables for the terminal, JSON, sentences for its picture.
#include <string>
#include <vector>

#include "files/json_writer.hpp"
#include "fit/played_hands.hpp"

namespace culmwright::command {

/// Reach and comfort advise, no more.
const std::string& comfort_caution();

std::string hand_text(const PlayedHand& hand, const HandComfort& comfort);
std::vector<std::string> hand_words(const PlayedHand& hand, const HandComfort& comfort);
JsonValue hand_json(const PlayedHand& hand, const HandComfort& comfort);

}  // namespace culmwright::command
