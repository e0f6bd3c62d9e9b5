#pragma once
/// A hand on an instrument in words: tables for the terminal, JSON, sentences for its picture.
#include <string>
#include <vector>

#include "files/json_writer.hpp"
#include "fit/played_hands.hpp"

namespace culmwright::command {

/// Reach and comfort advise, no more.
const std::string& comfort_caution();

/// One line for both hands; empty where their size is not known.
std::string comfort_text(const Tube& tube, const KeyLayout& layout, const Instrument& instrument);
/// The same, an array of one object for each hand; empty where their size is not known.
JsonValue comfort_json(const Tube& tube, const KeyLayout& layout, const Instrument& instrument);

std::string hand_text(const PlayedHand& hand, const HandComfort& comfort);
std::vector<std::string> hand_words(const PlayedHand& hand, const HandComfort& comfort);
JsonValue hand_json(const PlayedHand& hand, const HandComfort& comfort);

}  // namespace culmwright::command
