/// Moves in words: parsing, and saying them.
#include <algorithm>
#include <cstdlib>
#include <sstream>

#include "base/words.hpp"
#include "fit/shift.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

constexpr const char* directions[] = {"toward foot", "toward mouth", "to player's left", "to player's right"};

std::string plain(std::string text) {
  // A typographic apostrophe says the same.
  const std::string curly = "’";
  for (std::size_t i = text.find(curly); i != std::string::npos; i = text.find(curly)) {
    text.replace(i, curly.size(), "'");
  }
  return text;
}

std::vector<std::string> split(const std::string& text, char at) {
  std::vector<std::string> pieces;
  std::string piece;
  std::istringstream stream(text);
  while (std::getline(stream, piece, at)) pieces.push_back(piece);
  return pieces;
}

std::vector<std::string> words_in(const std::string& text) {
  std::istringstream stream(text);
  std::vector<std::string> words;
  for (std::string word; stream >> word;) words.push_back(word);
  return words;
}

std::string joined(const std::vector<std::string>& words, std::size_t from) {
  std::string text;
  for (std::size_t i = from; i < words.size(); ++i) text += (i > from ? " " : "") + words[i];
  return text;
}

bool starts_number(const std::string& word) {
  return !word.empty() &&
         ((word[0] >= '0' && word[0] <= '9') || word[0] == '+' || word[0] == '-' || word[0] == '.');
}

class Parser {
 public:
  Parser(const std::string& words, const KeyLayout& layout) : layout_(layout) {
    for (const std::string& part : split(plain(words), ';')) order(part);
    if (orders_.empty() && problems_.empty()) {
      add("shift-empty", "no move", "such as \"R2 2 toward foot, 1 to player's left\"", "");
    }
    if (!problems_.empty()) throw InputError(std::move(problems_));
  }
  std::vector<ShiftOrder> take() && { return std::move(orders_); }

 private:
  void add(const char* code, std::string found, std::string allowed, std::string advice) {
    Place where;
    where.file = "shift";
    problems_.push_back({code, where, std::move(found), std::move(allowed), std::move(advice)});
  }

  void order(const std::string& text) {
    if (words_in(text).empty()) {
      add("shift-empty", "an empty order", "SUBJECT NUMBER DIRECTION between semicolons", "");
      return;
    }
    const std::vector<std::string> moves = split(text, ',');
    std::vector<std::string> words = words_in(moves.front());
    std::size_t number = 0;
    while (number < words.size() && (number == 0 || !starts_number(words[number]))) ++number;
    ShiftOrder order;
    bool sound = subject({words.begin(), words.begin() + static_cast<std::ptrdiff_t>(number)}, order);
    sound = move({words.begin() + static_cast<std::ptrdiff_t>(number), words.end()}, order) && sound;
    for (std::size_t i = 1; i < moves.size(); ++i) sound = move(words_in(moves[i]), order) && sound;
    if (sound) orders_.push_back(order);
  }

  bool subject(const std::vector<std::string>& words, ShiftOrder& order) {
    const std::string name = joined(words, 0);
    if (name == "left hand" || name == "right hand") {
      order.what = ShiftOrder::What::hand;
      order.hand = name == "left hand" ? Hand::left : Hand::right;
      return true;
    }
    order.id = name;
    const auto same = [&](const auto& known) { return known.id == name; };
    if (std::any_of(layout_.keys.begin(), layout_.keys.end(), same)) return true;
    order.what = ShiftOrder::What::part;
    if (std::any_of(layout_.parts.begin(), layout_.parts.end(), same)) return true;
    std::vector<std::string> known{"left hand", "right hand"};
    for (const Key& key : layout_.keys) known.push_back(key.id);
    for (const Part& part : layout_.parts) known.push_back(part.id);
    const auto near = nearest_word(name, known);
    add("shift-subject", quoted(name), "a key, a part, \"left hand\" or \"right hand\"",
        near ? "Perhaps " + quoted(*near) + " is meant" : "The key layout has " + listing(known));
    return false;
  }

  bool move(const std::vector<std::string>& words, ShiftOrder& order) {
    if (words.empty()) {
      add("shift-move", "no move", "NUMBER DIRECTION, such as \"2 toward foot\"", "");
      return false;
    }
    const auto distance = number(words.front());
    std::size_t next = 1;
    if (next < words.size() && words[next] == "mm") ++next;
    std::vector<std::string> rest(words.begin() + static_cast<std::ptrdiff_t>(next), words.end());
    rest.erase(std::remove(rest.begin(), rest.end(), "the"), rest.end());
    const std::string direction = joined(rest, 0);
    const auto found = std::find(std::begin(directions), std::end(directions), direction);
    if (found == std::end(directions)) {
      const auto near = nearest_word(direction, {std::begin(directions), std::end(directions)});
      add("shift-direction",
          direction.empty() ? "no direction after " + quoted(words.front()) : quoted(direction),
          listed({std::begin(directions), std::end(directions)}),
          near ? "Perhaps " + quoted(*near) + " is meant"
               : "A decimal point, not a comma, stands in numbers");
      return false;
    }
    if (!distance) return false;
    const auto which = found - std::begin(directions);
    double& axis = which < 2 ? order.along : order.around;
    if (axis != 0.0) {
      add("shift-twice", quoted(direction) + " a second time", "one move along and one around in an order",
          "Add the two up");
      return false;
    }
    axis = which % 2 == 0 ? *distance : -*distance;
    return true;
  }

  std::optional<double> number(const std::string& word) {
    const bool digits = word.find_first_not_of("0123456789.") == std::string::npos &&
                        std::count(word.begin(), word.end(), '.') <= 1 && word != ".";
    const double value = digits ? std::strtod(word.c_str(), nullptr) : 0.0;
    if (digits && word.size() < 12 && value > 0.0 && value <= farthest_shift) return value;
    const bool has_sign = !word.empty() && (word[0] == '-' || word[0] == '+');
    add("shift-number", quoted(word), "a number greater than 0 and at most " + number_text(farthest_shift),
        has_sign ? "No signs: the direction says it in words" : "");
    return std::nullopt;
  }

  const KeyLayout& layout_;
  std::vector<ShiftOrder> orders_;
  Problems problems_;
};

}  // namespace

std::vector<ShiftOrder> parse_shift(const std::string& words, const KeyLayout& layout) {
  return Parser(words, layout).take();
}

std::string words_of(const ShiftOrder& order) {
  std::string text = order.what != ShiftOrder::What::hand ? order.id
                     : order.hand == Hand::left           ? "left hand"
                                                          : "right hand";
  const char* joint = " ";
  for (const auto& [value, more, less] : {std::tuple{order.along, directions[0], directions[1]},
                                          std::tuple{order.around, directions[2], directions[3]}}) {
    if (value == 0.0) continue;
    text += joint + number_text(value > 0.0 ? value : -value) + " mm " + (value > 0.0 ? more : less);
    joint = ", ";
  }
  return text;
}

}  // namespace culmwright
