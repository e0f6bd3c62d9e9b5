#include "paper/words.hpp"

#include <cmath>

namespace culmwright {

std::string decimals(double value, int count) {
  long long unit = 1;
  for (int i = 0; i < count; ++i) unit *= 10;
  const long long scaled = std::llround(std::abs(value) * static_cast<double>(unit));
  std::string text = std::to_string(scaled / unit);
  if (count > 0) text += "." + std::to_string(unit + scaled % unit).substr(1);
  return (value < 0.0 && scaled != 0 ? "\u2212" : "") + text;
}

std::string error_words(double value) {
  if (value < 0.01) return "less than 0.01 mm";
  // A hair is taken off first so that 0.1 is not printed as 0.11.
  return decimals(std::ceil(value * 100.0 - 1e-6) / 100.0, 2) + " mm";
}

}  // namespace culmwright
