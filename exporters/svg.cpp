#include "svg.hpp"

#include <cmath>
#include <cstdint>
#include <set>
#include <string_view>

#include "drawing/true_type.hpp"

namespace culmwright {

namespace {

std::string base64(const std::vector<std::uint8_t>& bytes) {
  static constexpr char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const std::size_t have = std::min<std::size_t>(3, bytes.size() - i);
    std::uint32_t three = 0;
    for (std::size_t k = 0; k < 3; ++k) three = three << 8 | (k < have ? bytes[i + k] : 0U);
    for (std::size_t k = 0; k < 4; ++k) out += k <= have ? letters[three >> (18 - 6 * k) & 63] : '=';
  }
  return out;
}

std::string colour(Ink ink) {
  static constexpr char digits[] = "0123456789abcdef";
  const Colour colour = colour_of(ink);
  std::string out = "#";
  for (int part : {colour.red, colour.green, colour.blue}) {
    out += digits[part / 16];
    out += digits[part % 16];
  }
  return out;
}

std::string point(Vec2 p) {
  return svg_number(p.x) + " " + svg_number(p.y);
}

std::string attribute(const char* name, const std::string& value) {
  return std::string(" ") + name + "=\"" + value + "\"";
}

std::string path_data(const Path& path) {
  std::string out;
  for (const Contour& contour : path.contours) {
    out += "M" + point(contour.start);
    char command = 'M';
    for (const PathStep& step : contour.steps) {
      const char wanted = step.controls ? 'C' : 'L';
      out += wanted == command ? ' ' : wanted;
      command = wanted;
      if (step.controls) out += point((*step.controls)[0]) + " " + point((*step.controls)[1]) + " ";
      out += point(step.to);
    }
    if (contour.closed) out += "Z";
  }
  return out;
}

std::string opened(const Path& path) {
  return "<path" + attribute("d", path_data(path)) + attribute("fill-rule", "evenodd");
}

std::string opened(const Circle& circle) {
  return "<circle" + attribute("cx", svg_number(circle.centre.x)) +
         attribute("cy", svg_number(circle.centre.y)) + attribute("r", svg_number(circle.radius));
}

std::string opened(const Arc& arc) {
  const double turn = arc.to.radians() - arc.from.radians();
  if (std::abs(turn) >= 2.0 * pi - 1e-9) return opened(Circle{arc.centre, arc.radius});
  const Vec2 from = arc.centre + direction_on_page(arc.from) * arc.radius;
  const Vec2 to = arc.centre + direction_on_page(arc.to) * arc.radius;
  const std::string radius = svg_number(arc.radius);
  return "<path" +
         attribute("d", "M" + point(from) + "A" + radius + " " + radius + " 0 " +
                            (std::abs(turn) > pi ? "1 " : "0 ") + (turn > 0.0 ? "1 " : "0 ") + point(to));
}

std::string line_attributes(LineType type, Ink ink) {
  std::string out =
      attribute("stroke", colour(ink)) + attribute("stroke-width", svg_number(line_width(type)));
  std::string lengths;
  for (double length : dashes(type)) lengths += (lengths.empty() ? "" : " ") + svg_number(length);
  if (!lengths.empty()) out += attribute("stroke-dasharray", lengths);
  return out;
}

std::string element(const Shape& shape) {
  return std::visit([](const auto& geometry) { return opened(geometry); }, shape.geometry) +
         attribute("fill", shape.fill ? colour(*shape.fill) : "none") +
         (shape.line ? line_attributes(*shape.line, shape.ink) : std::string()) + "/>";
}

std::string element(const Text& text) {
  std::string out = "<text" + attribute("x", svg_number(text.at.x)) + attribute("y", svg_number(text.at.y)) +
                    attribute("font-size", svg_number(font_size(text.height)));
  if (text.weight == Weight::bold) out += attribute("font-weight", "bold");
  if (text.anchor != Anchor::start)
    out += attribute("text-anchor", text.anchor == Anchor::middle ? "middle" : "end");
  if (text.ink != Ink::black) out += attribute("fill", colour(text.ink));
  if (text.rotation.radians() != 0.0) {
    out +=
        attribute("transform", "rotate(" + svg_number(text.rotation.degrees()) + " " + point(text.at) + ")");
  }
  // A viewer that has to take another font still keeps to the measured box.
  out += attribute("textLength", svg_number(text_extent(text.words, text.height, text.weight).width));
  return out + attribute("lengthAdjust", "spacingAndGlyphs") + ">" + escaped_xml(text.words) + "</text>";
}

/// As a style element.
std::string fonts_of(const Page& page) {
  UsedLetters used;
  used.add(page);
  const std::string rules = font_faces(used);
  return rules.empty() ? rules : "<style type=\"text/css\">\n" + rules + "</style>\n";
}

std::string group_element(const Group& group, const std::string& prefix) {
  std::string out = "<g" + attribute("id", escaped_xml(prefix + group.id)) + ">\n";
  if (!group.title.empty()) out += "<title>" + escaped_xml(group.title) + "</title>\n";
  for (const Item& item : group.items) {
    out += std::visit([](const auto& one) { return element(one); }, item) + "\n";
  }
  return out + "</g>\n";
}

}  // namespace

std::string svg_number(double value) {
  const auto scaled = static_cast<long long>(std::llround(value * 1e4));
  const unsigned long long size =
      scaled < 0 ? 0ULL - static_cast<unsigned long long>(scaled) : static_cast<unsigned long long>(scaled);
  std::string decimals = std::to_string(size % 10000ULL + 10000ULL).substr(1);
  while (!decimals.empty() && decimals.back() == '0') decimals.pop_back();
  return (scaled < 0 ? "-" : "") + std::to_string(size / 10000ULL) + (decimals.empty() ? "" : "." + decimals);
}

std::string escaped_xml(std::string_view words) {
  std::string out;
  for (char c : encode_utf8(decode_utf8(words))) {
    if (c == '&')
      out += "&amp;";
    else if (c == '<')
      out += "&lt;";
    else if (c == '>')
      out += "&gt;";
    else if (c == '"')
      out += "&quot;";
    else
      out += c;
  }
  return out;
}

void UsedLetters::add(std::string_view words, Weight weight) {
  for (char32_t c : decode_utf8(words)) (weight == Weight::bold ? bold : regular).insert(c);
}

void UsedLetters::add(const Page& page) {
  for (const Group& group : page.groups) {
    for (const Item& item : group.items) {
      if (const Text* text = std::get_if<Text>(&item)) add(text->words, text->weight);
    }
  }
}

std::string font_faces(const UsedLetters& letters) {
  std::string out;
  for (Weight weight : {Weight::regular, Weight::bold}) {
    const std::set<char32_t>& characters = weight == Weight::bold ? letters.bold : letters.regular;
    if (characters.empty()) continue;
    out += std::string("@font-face{font-family:\"") + font_family() +
           "\";font-weight:" + (weight == Weight::bold ? "bold" : "normal") +
           ";src:url(data:font/ttf;base64," + base64(font_file_for(characters, weight)) +
           ") format(\"truetype\")}\n";
  }
  return out;
}

namespace {

/// Size and what is drawn, without the tag that opens it.
std::string size_attributes(const Page& page) {
  return attribute("width", svg_number(page.width) + "mm") +
         attribute("height", svg_number(page.height) + "mm") +
         attribute("viewBox", "0 0 " + svg_number(page.width) + " " + svg_number(page.height));
}

std::string drawn(const Page& page, const std::string& prefix) {
  std::string out = std::string("<g font-family=\"'") + font_family() +
                    "', 'DejaVu Sans', sans-serif\" stroke-linejoin=\"round\">\n";
  for (const Group& group : page.groups) out += group_element(group, prefix);
  return out + "</g>\n</svg>\n";
}

}  // namespace

std::string to_svg(const Page& page) {
  std::string out =
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\"";
  out += size_attributes(page) + ">\n";
  out +=
      "<title>" + escaped_xml(page.title) + "</title>\n<desc>" + escaped_xml(page.description) + "</desc>\n";
  return out + fonts_of(page) + drawn(page, "");
}

std::string to_inline_svg(const Page& page, const std::string& prefix) {
  const std::string title = escaped_xml(prefix + "title");
  const std::string description = escaped_xml(prefix + "description");
  std::string out = "<svg role=\"img\"" + size_attributes(page);
  out += attribute("aria-labelledby", title);
  if (!page.description.empty()) out += attribute("aria-describedby", description);
  out += ">\n<title" + attribute("id", title) + ">" + escaped_xml(page.title) + "</title>\n";
  if (!page.description.empty()) {
    out += "<desc" + attribute("id", description) + ">" + escaped_xml(page.description) + "</desc>\n";
  }
  return out + drawn(page, prefix);
}

}  // namespace culmwright
