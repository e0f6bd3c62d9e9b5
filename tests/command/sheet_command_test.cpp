#include <catch2/catch.hpp>
#include <filesystem>
#include <regex>

#include "programs.hpp"

using namespace culmwright::test;
namespace fs = std::filesystem;

namespace {

const std::string program = CULMWRIGHT_PROGRAM;
const std::string examples = std::string(CULMWRIGHT_SOURCE_DIR) + "/examples/workshop/";
const std::string checker = std::string(CULMWRIGHT_SOURCE_DIR) + "/tests/sheet/check_html.py";

/// White space between words made one space.
std::string even(const std::string& words) {
  return std::regex_replace(words, std::regex("\\s+"), " ");
}

std::string words_of_pdf(const std::string& file) {
  need_program("pdftotext", "poppler-utils");
  const Ran ran = run("pdftotext -layout " + file + " -");
  REQUIRE(ran.code == 0);
  return even(ran.output);
}

/// Titles of the steps, as the HTML has them: "3 Pilots through guide 1".
std::vector<std::string> steps_of(const std::string& html) {
  std::vector<std::string> steps;
  const std::regex title("id=\"step-[^\"]*-title\">[0-9]+ ([^<]*)<");
  for (std::sregex_iterator it(html.begin(), html.end(), title), end; it != end; ++it)
    steps.push_back((*it)[1]);
  return steps;
}

void check_html(const std::string& file) {
  const Ran found = run("python3 " + checker + " " + file);
  INFO(file << "\n" << found.output);
  CHECK(found.code == 0);
}

}  // namespace

TEST_CASE("sheet writes one HTML and one PDF that hold every hole and every step") {
  TemporaryFolder folder;
  const std::string out = folder.file("out");
  const Ran ran = run(program + " sheet " + examples + "workshop.json --tube culm-11 --out " + out);
  INFO(ran.output);
  REQUIRE(ran.code == 0);
  const std::string html = read_file(out + "/alto-11/sheet.html");
  check_html(out + "/alto-11/sheet.html");
  const std::string words = words_of_pdf(out + "/alto-11/sheet.pdf");
  const std::vector<std::string> steps = steps_of(html);
  CHECK(steps.size() >= 6);
  for (const std::string& step : steps) {
    INFO(step);
    CHECK(words.find(step) != std::string::npos);
  }
  // The keys of the layout.
  for (const char* id : {"LT", "LO", "L1", "L2", "L3", "L4", "L5", "R1", "R2", "R3", "R4", "R5"}) {
    INFO(id);
    CHECK(html.find(">" + std::string(id) + "</th>") != std::string::npos);
    CHECK(words.find(" " + std::string(id) + " ") != std::string::npos);
  }
  CHECK(html.find("DRAFT") != std::string::npos);
  // The columns of the table that is read back.
  const std::string head = read_file(std::string(CULMWRIGHT_SOURCE_DIR) + "/templates/as_drilled.csv");
  std::string columns = head.substr(0, head.find('\n'));
  std::string heads;
  for (std::size_t from = 0; from <= columns.size();) {
    const std::size_t to = std::min(columns.find(',', from), columns.size());
    heads += "<th scope=\"col\">" + columns.substr(from, to - from) + "</th>";
    from = to + 1;
  }
  CHECK(html.find(heads) != std::string::npos);
}

TEST_CASE("the pages of a sheet are as large as the shop's paper") {
  TemporaryFolder folder;
  need_program("pdfinfo", "poppler-utils");
  fs::copy(examples, folder.file("workshop"), fs::copy_options::recursive);
  const std::string shop = folder.file("workshop/shop.json");
  write_file(shop, std::regex_replace(read_file(shop), std::regex("\"size\": *\"[A-Za-z0-9]+\""),
                                      "\"size\": \"Letter\""));
  const std::string out = folder.file("out");
  // Without a placement the index alone is written.
  const Ran ran =
      run(program + " sheet " + folder.file("workshop/tubes/pipe-01.json") + " " + shop + " --out " + out);
  INFO(ran.output);
  REQUIRE(ran.code == 0);
  const Ran info = run("pdfinfo -f 1 -l 99 " + out + "/index.pdf");
  const std::regex size_line("Page +[0-9]+ size: +([0-9. x]+) pts");
  int pages = 0;
  for (std::sregex_iterator it(info.output.begin(), info.output.end(), size_line), end; it != end; ++it) {
    ++pages;
    CHECK((*it)[1].str() == "612 x 792");
  }
  CHECK(pages > 1);
}

TEST_CASE("sheet of a workshop adds an index with a way to each sheet, and says what is next") {
  TemporaryFolder folder;
  const std::string out = folder.file("out");
  // Two tubes without a placement: their index alone.
  const Ran ran = run(program + " sheet " + examples + "tubes/culm-07.json " + examples +
                      "tubes/elder-02.json " + examples + "key-layouts/alto-12.json --out " + out);
  INFO(ran.output);
  REQUIRE(ran.code == 0);
  check_html(out + "/index.html");
  const std::string words = words_of_pdf(out + "/index.pdf");
  for (const char* wanted : {"culm-07", "elder-02", "Nothing is placed on it yet", "Ranking", "sheet 1 of"}) {
    INFO(wanted);
    CHECK(words.find(wanted) != std::string::npos);
  }
}

TEST_CASE("sheet without a placement and without tubes says what it needs") {
  TemporaryFolder folder;
  const Ran ran =
      run(program + " sheet " + examples + "key-layouts/alto-12.json --out " + folder.file("out"));
  CHECK(ran.code == 2);
  CHECK(ran.output.find("no placement among the files") != std::string::npos);
}

TEST_CASE("sheet without --out says what is next and writes nothing") {
  const Ran ran = run(program + " sheet " + examples + "workshop.json --tube pipe-01");
  INFO(ran.output);
  CHECK(ran.code == 0);
  CHECK(ran.output.find("trial-pipe on pipe-01\n  next: mock up.") != std::string::npos);
  CHECK(ran.output.find("Nothing is written without --out.") != std::string::npos);
}
