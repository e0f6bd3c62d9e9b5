#include "paper/survey_form.hpp"

#include <catch2/catch.hpp>

#include "page_checks.hpp"
#include "programs.hpp"
#include "svg.hpp"
#include "tube/survey_order.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

Survey known_piece() {
  Survey survey;
  survey.id = "culm-with-a-rather-long-name-0123456789";
  survey.material = Material::bamboo;
  survey.species = "an invented species with a name that no box can hold, and a grade besides";
  survey.length = 482.0;
  survey.datum_from_end_a = 20.0;
  survey.butt = End::b;
  for (double at : {172.0, 401.0}) {
    Node node;
    node.at_line = at;
    node.at_far = at + 3.0;
    node.ridge_height = 1.1;
    survey.nodes.push_back(node);
  }
  survey.stations.emplace_back();
  survey.stations.back().at = 33.25;
  return survey;
}

bool has_words(const Drawing& drawing, const std::string& words) {
  return std::any_of(drawing.pages.begin(), drawing.pages.end(),
                     [&](const Page& page) { return count_words(page, words) > 0; });
}

}  // namespace

TEST_CASE("a survey form keeps its margin, and no word meets another or a line") {
  const Survey piece = known_piece();
  Survey many = piece;
  for (int i = 0; i < 14; ++i) {
    Node node;
    node.at_line = node.at_far = 1000.0 + 150.0 * i;
    many.nodes.push_back(node);
  }
  many.length = 3300.0;
  many.plates = SurveyPlates{12, 61.5};
  for (PaperSize paper : {PaperSize::a4, PaperSize::letter, PaperSize::a3}) {
    for (const Survey* survey :
         {static_cast<const Survey*>(nullptr), &piece, static_cast<const Survey*>(&many)}) {
      const Drawing form = survey_form(paper, survey);
      CHECK(form.pages.size() >= 4);
      for (const Page& page : form.pages) check_page(page, 10.0);
    }
  }
}

TEST_CASE("every reading of a survey has its box, with the key that it becomes") {
  const Drawing form = survey_form(PaperSize::a4);
  for (const SurveyList& list : survey_order()) {
    for (const SurveyField& field : list.fields) {
      const std::string key = document_key(field);
      INFO(list.id << " " << key);
      CHECK((has_words(form, key) || key == "heights"));
    }
    const std::string path = list.list;
    if (path.empty()) continue;
    const bool named = std::any_of(form.pages.begin(), form.pages.end(), [&](const Page& page) {
      const std::vector<Text> texts = texts_of(page);
      return std::any_of(texts.begin(), texts.end(), [&](const Text& text) {
        return text.words.find("\"" + path + "\"") != std::string::npos;
      });
    });
    INFO(path);
    CHECK(named);
  }
  for (int flat = 0; flat < 16; ++flat) CHECK(has_words(form, "h" + std::to_string(flat)));
  CHECK(has_words(form, "inch (add \"units\": \"inch\")"));
}

TEST_CASE("the boxes are large enough to write in") {
  for (PaperSize paper : {PaperSize::a4, PaperSize::letter}) {
    for (const Page& page : survey_form(paper).pages) {
      for (const Group& group : page.groups) {
        if (group.id.rfind("list-", 0) != 0) continue;
        std::vector<double> columns;
        std::vector<double> rows;
        for (const Item& item : group.items) {
          const Shape* shape = std::get_if<Shape>(&item);
          if (shape == nullptr || !shape->line) continue;
          const Segment line = segments_of(*shape).front();
          if (line.from.x == line.to.x) columns.push_back(line.from.x);
          if (line.from.y == line.to.y) rows.push_back(line.from.y);
        }
        std::sort(columns.begin(), columns.end());
        std::sort(rows.begin(), rows.end());
        INFO(group.id);
        REQUIRE(columns.size() >= 3);
        for (std::size_t i = 1; i < columns.size(); ++i) CHECK(columns[i] - columns[i - 1] >= 11.9);
        for (std::size_t i = 1; i < rows.size(); ++i) CHECK(rows[i] - rows[i - 1] >= 7.0);
      }
    }
  }
}

TEST_CASE("what is skipped in a quick survey has no mark, what is not has one") {
  const Page page = survey_form(PaperSize::a4).pages[1];
  const Group* stations = group_of(page, "list-stations");
  int marks = 0;
  for (const Item& item : stations->items) {
    const Shape* shape = std::get_if<Shape>(&item);
    marks += shape != nullptr && std::holds_alternative<Circle>(shape->geometry);
  }
  CHECK(marks == 2);  // at and girth; no width
}

TEST_CASE("a form for a known piece has its name, nodes and the places of its stations filled in") {
  const Survey piece = known_piece();
  const Drawing form = survey_form(PaperSize::a4, &piece);
  for (const char* words : {"482", "172", "175", "401", "404", "33.25", "1.1", "-20", "462"}) {
    INFO(words);
    CHECK(has_words(form, words));
  }
  const std::vector<double> places = suggested_stations(piece);
  CHECK(places.size() >= 5);
  for (double at : places) CHECK(std::abs(at - 173.5) > 8.0);
}

TEST_CASE("suggested stations stay clear of nodes and within reach of the ends") {
  for (double length : {60.0, 250.0, 482.0, 1200.0}) {
    Survey survey = known_piece();
    survey.stations.clear();
    survey.length = length;
    survey.nodes.resize(length > 450.0 ? 2 : length > 200.0 ? 1 : 0);
    const std::vector<double> places = suggested_stations(survey);
    REQUIRE(places.size() >= 2);
    // The fit asks for a station within 30 mm of each end (tube/survey_fit.hpp).
    CHECK(places.front() - survey.end_a_at() <= 30.0);
    CHECK(survey.end_b_at() - places.back() <= 30.0);
    for (std::size_t i = 0; i < places.size(); ++i) {
      for (const Node& node : survey.nodes) CHECK(std::abs(places[i] - node.at()) > 0.5 * node.band + 1.5);
      if (i > 0) CHECK(places[i] - places[i - 1] >= 15.0);
    }
  }
}

TEST_CASE("the form is well-formed, and the same bytes each time") {
  need_program("xmllint", "libxml2-utils");
  TemporaryFolder folder;
  const Drawing form = survey_form(PaperSize::letter);
  for (const Page& page : form.pages) {
    write_file(folder.file("form.svg"), to_svg(page));
    CHECK(run("xmllint --noout " + folder.file("form.svg")).code == 0);
  }
  CHECK(to_svg(form.pages[0]) == to_svg(survey_form(PaperSize::letter).pages[0]));
}
