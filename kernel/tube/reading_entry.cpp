#include "tube/reading_entry.hpp"

#include <algorithm>
#include <charconv>
#include <cstdlib>

namespace culmwright {

namespace {

constexpr double millimetres_of_an_inch = 25.4;  // exactly

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// Digits with at most one decimal point or comma; none for anything else.
std::optional<double> plain_number(std::string text) {
  const auto marks = std::count_if(text.begin(), text.end(), [](char c) { return c == '.' || c == ','; });
  const bool known =
      std::all_of(text.begin(), text.end(), [](char c) { return is_digit(c) || c == '.' || c == ','; });
  if (!known || marks > 1 || std::none_of(text.begin(), text.end(), is_digit)) return std::nullopt;
  std::replace(text.begin(), text.end(), ',', '.');
  if (text.front() == '.') text.insert(text.begin(), '0');
  double value = 0.0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  if (read.ec != std::errc()) return std::nullopt;
  return value;
}

/// "3/16".
std::optional<double> fraction(const std::string& text) {
  const std::size_t bar = text.find('/');
  if (bar == std::string::npos) return std::nullopt;
  const auto over = plain_number(text.substr(0, bar));
  const auto under = plain_number(text.substr(bar + 1));
  if (!over || !under || *under == 0.0) return std::nullopt;
  return *over / *under;
}

/// Cuts a line into words: signs and units stand apart from digits.
class Words {
 public:
  explicit Words(std::string_view line) {
    for (char c : line) {
      if (c == ' ' || c == '\t' || c == ';' || c == '|' || (c >= 0 && c < 0x20) || c == 0x7f) {
        close();
      } else if (c == '+' || c == '-') {
        close();
        words_.emplace_back(1, c);
      } else {
        const bool number = is_digit(c) || c == '.' || c == ',' || c == '/';
        if (!open_.empty() && number != number_) close();
        number_ = number;
        open_ += c;
      }
    }
    close();
  }
  const std::vector<std::string>& list() const { return words_; }

 private:
  void close() {
    if (!open_.empty()) words_.push_back(open_);
    open_.clear();
  }
  std::vector<std::string> words_;
  std::string open_;
  bool number_ = false;
};

std::string lower(std::string text) {
  for (char& c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return text;
}

/// What a unit's word makes of a number, as a factor; none for an unknown word.
std::optional<double> length_factor(const std::string& word) {
  const std::string unit = lower(word);
  if (unit == "mm") return 1.0;
  if (unit == "cm") return 10.0;
  if (unit == "in" || unit == "inch" || unit == "inches" || unit == "\"" || unit == "''" || unit == "\u2033")
    return millimetres_of_an_inch;
  return std::nullopt;
}

std::optional<double> plain_factor(const std::string& word) {
  const std::string unit = lower(word);
  if (unit == "g" || unit == "%" || unit == "\u00B0" || unit == "deg") return 1.0;
  return std::nullopt;
}

using FactorOf = std::optional<double> (*)(const std::string& unit);

/// The numbers of a line, word by word.
class Numbers {
 public:
  explicit Numbers(FactorOf factor_of) : factor_of_(factor_of) {}

  bool take(const std::string& word) {
    if (word == "+" || word == "-") return take_sign(word == "-" ? -1.0 : 1.0);
    if (const auto number = plain_number(word)) {
      return take_number(*number, word.find_first_of(".,") == std::string::npos);
    }
    if (const auto part = fraction(word)) return take_fraction(*part);
    return take_unit(word);
  }

  std::optional<std::vector<double>> done(double factor_without) const {
    if (sign_ != 0.0 || found_.empty()) return std::nullopt;
    std::vector<double> values;
    for (const Typed& typed : found_) {
      values.push_back(typed.sign * typed.value * (typed.unit ? 1.0 : factor_without));
    }
    return values;
  }

 private:
  struct Typed {
    double value = 0.0;
    double sign = 1.0;
    bool unit = false;
    bool whole = false;  ///< a fraction may follow
  };

  bool take_sign(double sign) {
    const bool first = sign_ == 0.0;
    sign_ = sign;
    return first;
  }
  bool take_number(double value, bool whole) {
    found_.push_back({value, sign_ < 0.0 ? -1.0 : 1.0, false, whole});
    sign_ = 0.0;
    return true;
  }
  bool take_fraction(double value) {
    const bool joins = !found_.empty() && found_.back().whole && !found_.back().unit && sign_ == 0.0;
    if (!joins) return take_number(value, false);
    found_.back().value += value;
    found_.back().whole = false;
    return true;
  }
  bool take_unit(const std::string& word) {
    const auto factor = factor_of_(word);
    if (!factor || found_.empty() || found_.back().unit || sign_ != 0.0) return false;
    found_.back().value *= *factor;
    found_.back().unit = true;
    return true;
  }

  FactorOf factor_of_;
  std::vector<Typed> found_;
  double sign_ = 0.0;  ///< of the number to come; 0: none was typed
};

std::optional<std::vector<double>> numbers_of(std::string_view line, double factor_without,
                                              FactorOf factor_of) {
  Numbers numbers(factor_of);
  const Words words(line);
  for (const std::string& word : words.list()) {
    if (!numbers.take(word)) return std::nullopt;
  }
  return numbers.done(factor_without);
}

}  // namespace

std::optional<std::vector<double>> typed_lengths(std::string_view line, LengthUnit unit) {
  return numbers_of(line, unit == LengthUnit::inch ? millimetres_of_an_inch : 1.0, length_factor);
}

std::optional<std::vector<double>> typed_numbers(std::string_view line) {
  return numbers_of(line, 1.0, plain_factor);
}

std::string typed_text(std::string_view line) {
  std::string text;
  for (char c : line) {
    if (c == '\t') c = ' ';
    if ((c >= 0 && c < 0x20) || c == 0x7f) continue;
    text += c;
  }
  const std::size_t first = text.find_first_not_of(' ');
  if (first == std::string::npos) return "";
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

}  // namespace culmwright
