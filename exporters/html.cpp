#include "html.hpp"

#include "base/problem.hpp"
#include "svg.hpp"

namespace culmwright {

namespace {

constexpr HtmlColours colours{"#111111", "#3a3a3a", "#ffffff", "#e4ecf2"};
constexpr double wide_picture = 96.0;  ///< wider ones scroll on a narrow screen instead of becoming too small

/// Everything that hangs on colours stands in the first rule.
const char* const style = R"css(
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0 auto;max-width:56rem;padding:1rem;font-size:1rem;line-height:1.45}
h1{font-size:2.6rem;line-height:1.1;margin:0}
h2{font-size:1.5rem;border-top:3px solid;padding-top:.5rem;margin:2.5rem 0 .75rem}
h3{font-size:1.15rem;margin:1.75rem 0 .5rem}
h4{font-size:1rem;margin:1.25rem 0 .5rem}
p{margin:.5rem 0}
ul{padding-left:1.25rem;margin:.5rem 0}
header .state{font-size:1.6rem;font-weight:bold;margin:.25rem 0}
header .instrument{font-size:1.35rem;font-weight:bold;margin:.25rem 0}
.front{display:flex;flex-wrap:wrap;gap:1.5rem}
.front>div{flex:1 1 18rem}
.front figure{flex:0 1 auto;max-width:94mm}
nav ul{display:flex;flex-wrap:wrap;gap:.25rem 1.25rem;list-style:none;padding:0}
a{color:inherit}
nav a{display:inline-block;padding:.35rem 0}
dl{display:grid;grid-template-columns:minmax(8rem,30%) 1fr;gap:.3rem 1rem;margin:.75rem 0}
dd{margin:0;font-weight:bold;overflow-wrap:anywhere}
.scroll{overflow-x:auto;margin:1rem 0}
table{border-collapse:collapse;width:100%;border-bottom:2px solid}
caption{text-align:left;padding-bottom:.35rem}
th,td{text-align:left;vertical-align:top;padding:.3rem .5rem;border-top:1px solid}
thead th{vertical-align:bottom;border-top:2px solid}
.figures{text-align:right}
td.write{border-left:1px solid;border-right:1px solid;min-width:5.5rem}
input{font:inherit;color:inherit;background:transparent;border:1px solid;border-radius:0;min-height:2.75rem}
td input{width:100%;min-height:2.25rem;padding:.1rem .3rem}
input[type=checkbox]{appearance:none;-webkit-appearance:none;width:1.75rem;height:1.75rem;min-height:0;flex:none;
display:inline-grid;place-content:center;vertical-align:middle;margin:0}
input[type=checkbox]:checked::before{content:"";width:1.1rem;height:.6rem;border-left:3px solid;
border-bottom:3px solid;transform:translateY(-.15rem) rotate(-45deg)}
:focus-visible{outline:3px solid;outline-offset:2px}
figure{margin:1rem 0}
figcaption{margin-top:.35rem}
svg{display:block;max-width:100%;height:auto}
.pictures{display:flex;flex-wrap:wrap;gap:1.25rem;align-items:flex-end}
.pictures figure{margin:0}
.caution{border-left:6px solid;padding:.35rem .75rem;margin:.75rem 0}
.caution strong{display:block}
.caution p{margin:0}
.fields{display:flex;flex-wrap:wrap;gap:.75rem 1.25rem;margin:.75rem 0}
.field label{display:block}
.field input{padding:.1rem .4rem;max-width:100%}
.steps{list-style:none;padding:0;margin:1rem 0}
.step{margin:0 0 2rem}
.step .heading{display:flex;gap:.75rem;align-items:center}
.step .heading h3,.step .heading h4{margin:0}
.step .body{display:flex;flex-wrap:wrap;gap:1rem}
.step .body>div{flex:1 1 16rem}
.room div{border:1px solid}
.ruled div{background-size:100% 7.4mm}
@media (max-width:40rem){body{padding:.75rem}h1{font-size:2.1rem}.wide svg{max-width:none}dl{grid-template-columns:1fr}
dl dd{margin-bottom:.4rem}}
@media print{
@page{margin:13mm}
body{max-width:none;padding:0;font-size:9.5pt;line-height:1.3}
nav{display:none}
h1{font-size:26pt}h2{font-size:14pt;margin-top:7mm}h3{font-size:11pt;margin-top:5mm}
h2,h3,h4,caption{break-after:avoid}
.new-page{break-before:page}
.scroll{overflow:visible}
table{font-size:8.5pt}
th,td{padding:1mm 1.2mm}
thead{display:table-header-group}
tr,figure,.caution,.fields,.room,.heading,.whole{break-inside:avoid}
.heading,.body{break-after:avoid}
td.write{min-width:13mm}
td input{border:0;min-height:6mm;padding:0}
.field input{min-height:7.4mm}
input[type=checkbox]{width:4.5mm;height:4.5mm}
figure svg{max-height:222mm}
.wide svg{max-width:100%}
dl{gap:.6mm 4mm}
}
)css";

std::string attribute(const char* name, const std::string& value) {
  return std::string(" ") + name + "=\"" + escaped_xml(value) + "\"";
}

std::string element(const char* name, const std::string& words) {
  return std::string("<") + name + ">" + escaped_xml(words) + "</" + name + ">\n";
}

/// Words as they were used, for the font; pictures' are added with the pictures.
class Writer {
 public:
  std::string document(const SheetDocument& document) {
    std::string body = front(document);
    body += "<main>\n";
    for (const SheetSection& section : document.sections) body += section_element(section);
    body += "</main>\n";
    const std::string title = document.title.kind + ": " + document.title.piece +
                              (document.title.instrument.empty() ? "" : ", " + document.title.instrument);
    return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
           "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n" +
           element("title", title) + "<style>\n" + font_faces(letters_) + "body{font-family:'" +
           font_family() + "','DejaVu Sans Condensed','DejaVu Sans',sans-serif;color:" + colours.ink +
           ";background:" + colours.paper + "}\nthead th{background:" + colours.tint +
           "}\nfigcaption,caption,dt{color:" + colours.quiet +
           "}\n.ruled div{background-image:linear-gradient(to bottom,transparent calc(100% - .25mm)," +
           colours.quiet + " 0)}" + style + "</style>\n</head>\n<body>\n" + body + "</body>\n</html>\n";
  }

 private:
  /// Words of the body: remembered, since the font is cut down to them.
  std::string say(const std::string& words) {
    letters_.add(words, Weight::regular);
    letters_.add(words, Weight::bold);
    return escaped_xml(words);
  }
  std::string tagged(const std::string& name, const std::string& words) {
    return "<" + name + ">" + say(words) + "</" + name.substr(0, name.find(' ')) + ">\n";
  }
  std::string next_id(const char* what) { return std::string(what) + "-" + std::to_string(++ids_); }

  std::string front(const SheetDocument& document) {
    const TitleBlock& title = document.title;
    std::string out = "<header>\n<div class=\"front\">\n";
    if (document.front.picture) out += figure(*document.front.picture);
    out += "<div>\n" + tagged("h1", document.heading.empty() ? title.piece : document.heading);
    if (!title.instrument.empty()) out += tagged("p class=\"instrument\"", title.instrument);
    if (!title.state.empty()) out += tagged("p class=\"state\"", title.state);
    if (!title.detail.empty()) out += tagged("p", title.detail);
    std::string kind = title.kind;
    if (!title.revision.empty()) kind += ", revision " + title.revision;
    out += tagged("p", kind);
    for (const std::string& words : document.front.words) out += tagged("p", words);
    out += block(SheetFacts{document.front.facts}, 2) + "</div>\n</div>\n";
    out += "<nav aria-label=\"Contents\">\n<ul>\n";
    for (const SheetSection& section : document.sections) {
      out += "<li><a" + attribute("href", "#" + section.id) + ">" + say(section.title) + "</a></li>\n";
    }
    return out + "</ul>\n</nav>\n</header>\n";
  }

  std::string section_element(const SheetSection& section) {
    std::string out = "<section" + attribute("id", section.id) +
                      attribute("aria-labelledby", section.id + "-title") +
                      (section.new_page ? " class=\"new-page\"" : "") + ">\n<h2" +
                      attribute("id", section.id + "-title") + ">" + say(section.title) + "</h2>\n";
    for (const SheetBlock& one : section.blocks) out += block_element(one, 3);
    for (const SheetPart& part : section.parts) {
      out += tagged("h3", part.title);
      for (const SheetBlock& one : part.blocks) out += block_element(one, 4);
    }
    return out + "</section>\n";
  }

  /// `level`: of a heading inside it.
  std::string block_element(const SheetBlock& one, int level) {
    return std::visit([&](const auto& value) { return block(value, level); }, one);
  }

  std::string block(const SheetWords& words, int) { return tagged("p", words.words); }
  std::string block(const SheetCaution& caution, int) { return caution_element(caution.words); }
  std::string block(const SheetList& list, int) {
    std::string out = "<ul>\n";
    for (const std::string& item : list.items) out += tagged("li", item);
    return out + "</ul>\n";
  }
  std::string block(const SheetFacts& facts, int) {
    if (facts.facts.empty()) return "";
    std::string out = "<dl>\n";
    for (const SheetFact& fact : facts.facts) out += tagged("dt", fact.name) + tagged("dd", fact.words);
    return out + "</dl>\n";
  }
  std::string block(const SheetFields& fields, int) { return fields_element(fields.fields); }
  std::string block(const SheetTable& table, int) { return table_element(table); }
  std::string block(const SheetPictures& pictures, int) {
    std::string out = "<div class=\"pictures\">\n";
    for (const SheetPicture& picture : pictures.pictures) out += figure(picture);
    return out + "</div>\n";
  }
  std::string block(const SheetRoom& room, int) {
    const std::string id = next_id("room");
    return "<div class=\"room" + std::string(room.ruled ? " ruled" : "") + "\" role=\"group\"" +
           attribute("aria-labelledby", id) + ">\n<p" + attribute("id", id) + ">" + say(room.label) +
           "</p>\n<div style=\"height:" + svg_number(room.height) + "mm\"></div>\n</div>\n";
  }
  std::string block(const SheetSteps& steps, int level) {
    std::string out = "<ol class=\"steps\">\n";
    int number = steps.first;
    for (const SheetStep& step : steps.steps) out += step_element(step, number++, level);
    return out + "</ol>\n";
  }

  std::string caution_element(const std::string& words) {
    return "<div class=\"caution\" role=\"note\">\n<strong>" + say("Caution") + "</strong>\n" +
           tagged("p", words) + "</div>\n";
  }

  std::string fields_element(const std::vector<SheetField>& fields) {
    std::string out = "<div class=\"fields\">\n";
    for (const SheetField& field : fields) {
      const std::string id = next_id("field");
      out += "<div class=\"field\"><label" + attribute("for", id) + ">" + say(field.label) +
             "</label><input type=\"text\" autocomplete=\"off\"" + attribute("id", id) +
             " style=\"width:" + svg_number(field.width) + "mm\">" +
             (field.unit.empty() ? "" : " " + say(field.unit)) + "</div>\n";
    }
    return out + "</div>\n";
  }

  std::string picture_element(const Page& page) {
    letters_.add(page);
    return to_inline_svg(page, next_id("picture") + "-");
  }

  std::string figure(const SheetPicture& picture) {
    const std::string drawn = picture_element(picture.page);
    const bool wide = picture.page.width > wide_picture;
    return "<figure>\n" + scrolling(drawn, picture.page.title, wide) +
           (picture.caption.empty() ? "" : tagged("figcaption", picture.caption)) + "</figure>\n";
  }
  std::string scrolling(const std::string& drawn, const std::string& name, bool wide) {
    if (!wide) return "<div>\n" + drawn + "</div>\n";
    return "<div class=\"scroll wide\" role=\"group\" tabindex=\"0\"" + attribute("aria-label", name) +
           ">\n" + drawn + "</div>\n";
  }

  std::string cell_element(const SheetCell& cell, const SheetColumn& column, bool heads) {
    const std::string figures = column.figures ? " class=\"figures\"" : "";
    std::string words = say(cell.words);
    if (!cell.link.empty()) words = "<a" + attribute("href", cell.link) + ">" + words + "</a>";
    if (heads) return "<th scope=\"row\"" + figures + ">" + words + "</th>";
    if (cell.field.empty()) return "<td" + figures + ">" + words + "</td>";
    if (cell.tick) {
      return "<td><input type=\"checkbox\" autocomplete=\"off\"" + attribute("aria-label", cell.field) +
             (cell.ticked ? " checked" : "") + "></td>";
    }
    return "<td class=\"write\"><input type=\"text\" autocomplete=\"off\"" +
           attribute("aria-label", cell.field) + (cell.words.empty() ? "" : attribute("value", cell.words)) +
           "></td>";
  }

  std::string table_element(const SheetTable& table) {
    const std::string id = next_id("table");
    std::string out = "<div class=\"scroll\" role=\"group\" tabindex=\"0\"" +
                      attribute("aria-labelledby", id) + ">\n<table>\n<caption" + attribute("id", id) + ">" +
                      say(table.caption) + "</caption>\n<thead>\n<tr>";
    for (const SheetColumn& column : table.columns) {
      out += std::string("<th scope=\"col\"") + (column.figures ? " class=\"figures\"" : "") + ">" +
             say(column.head) + "</th>";
    }
    out += "</tr>\n</thead>\n<tbody>\n";
    for (const auto& row : table.rows) {
      require(row.size() == table.columns.size(),
              "a row of a table has another number of cells than its heads");
      out += "<tr>";
      for (std::size_t i = 0; i < row.size(); ++i) out += cell_element(row[i], table.columns[i], i == 0);
      out += "</tr>\n";
    }
    return out + "</tbody>\n</table>\n</div>\n";
  }

  std::string step_element(const SheetStep& step, int number, int level) {
    const std::string heading = "h" + std::to_string(level);
    const std::string id = "step-" + step.id;
    std::string out = "<li class=\"step" + std::string(short_enough(step) ? " whole" : "") + "\"" +
                      attribute("id", id) +
                      ">\n<div class=\"heading\"><input type=\"checkbox\" autocomplete=\"off\"" +
                      attribute("aria-labelledby", id + "-title") + (step.done ? " checked" : "") + "><" +
                      heading + attribute("id", id + "-title") + ">" + std::to_string(number) + " " +
                      say(step.title) + "</" + heading + "></div>\n<div class=\"body\">\n";
    if (step.picture) out += "<div>\n" + picture_element(*step.picture) + "</div>\n";
    out += "<div>\n";
    for (const std::string& words : step.words) out += tagged("p", words);
    for (const std::string& words : step.cautions) out += caution_element(words);
    if (!step.fields.empty()) out += fields_element(step.fields);
    out += "</div>\n</div>\n";
    if (step.lines) out += table_element(*step.lines);
    return out + "</li>\n";
  }
  /// For a page of paper; browsers push what is longer to a new page and cut it there.
  static bool short_enough(const SheetStep& step) { return !step.lines || step.lines->rows.size() <= 18; }

  UsedLetters letters_;
  int ids_ = 0;
};

}  // namespace

std::string to_html(const SheetDocument& document) {
  return Writer().document(document);
}

HtmlColours html_colours() {
  return colours;
}

}  // namespace culmwright
