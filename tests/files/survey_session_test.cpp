/// A survey that is asked for must be the one that is typed by hand.
#include "tube/survey_session.hpp"

#include <catch2/catch.hpp>
#include <sstream>

#include "files/survey_draft.hpp"
#include "shared.hpp"

using namespace culmwright;
using namespace culmwright::tests;

namespace {

struct Talk {
  Survey survey;
  std::vector<std::string> said;
  std::vector<std::string> prompts;
  bool finished = false;
};

Talk talk(const std::vector<std::string>& lines, Survey start = {}, LengthUnit unit = LengthUnit::mm) {
  SurveySession session(std::move(start), unit, check_tube_draft);
  Talk talk;
  for (const std::string& line : lines) {
    talk.prompts.push_back(session.prompt());
    const SurveySession::Reply reply = session.answer(line);
    talk.said.insert(talk.said.end(), reply.said.begin(), reply.said.end());
  }
  talk.prompts.push_back(session.prompt());
  talk.survey = session.survey();
  talk.finished = session.finished();
  return talk;
}

bool says(const std::vector<std::string>& lines, const std::string& words) {
  return std::any_of(lines.begin(), lines.end(),
                     [&](const std::string& line) { return line.find(words) != std::string::npos; });
}

/// id, material, date, length, datum, root end, two nodes with a ridge each, no more nodes, the place and
/// girth near A and B, a wall at each end, mass, balance.
const std::vector<std::string> quick{"K1",    "bamboo", "2026-03-01", "400",   "10", "B",    "120",
                                     "1.1",   "260",    "1,2",        "",      "",   "94,0", "375",
                                     "100.2", "4",      "4.4",        "118 g", "190"};

const char* const quick_by_hand = R"({
  "format": "culmwright tube", "version": 1,
  "id": "K1", "material": "bamboo", "date": "2026-03-01", "length": 400, "datum_from_end_a": 10, "butt": "B",
  "stations": [ { "at": 5, "girth": 94 }, { "at": 375, "girth": 100.2 } ],
  "walls": [ { "at": -10, "facing_deg": 0, "thickness": 4 }, { "at": 390, "facing_deg": 0, "thickness": 4.4 } ],
  "nodes": [ { "at_line": 120, "ridge_height": 1.1 }, { "at_line": 260, "ridge_height": 1.2 } ],
  "mass_g": 118, "balance_at": 190 })";

Survey typed(const std::string& text) {
  return read_tube_text(text, "typed.json").value;
}

std::vector<std::string> operator+(std::vector<std::string> a, const std::vector<std::string>& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

}  // namespace

TEST_CASE("a quick survey that is asked for equals the one typed by hand") {
  const Talk asked = talk(quick + std::vector<std::string>{""});
  CAPTURE(asked.said, asked.prompts);
  CHECK(asked.finished);
  CHECK(tube_to_json(asked.survey) == tube_to_json(typed(quick_by_hand)));
}

TEST_CASE("the same survey in inches gives the same document as one with units inch") {
  const Talk asked = talk(
      {"K2", "pipe", "", "15.75", "", "", "", "", "3.7", "", "3.71 in", "0.16", "4.1 mm", "160", "7.5", "n"},
      {}, LengthUnit::inch);
  CAPTURE(asked.said, asked.prompts);
  const Survey by_hand = typed(R"({
    "format": "culmwright tube", "version": 1, "units": "inch", "id": "K2", "material": "pipe", "length": 15.75,
    "stations": [ { "at": 0.5905511811023623, "girth": 3.7 }, { "at": 15.15748031496063, "girth": 3.71 } ],
    "walls": [ { "at": 0, "facing_deg": 0, "thickness": 0.16 },
               { "at": 15.75, "facing_deg": 0, "thickness": 0.16141732283464566 } ],
    "mass_g": 160, "balance_at": 7.5 })");
  CHECK(asked.survey.length == by_hand.length);
  CHECK(asked.survey.stations[0].girth == by_hand.stations[0].girth);
  CHECK(asked.survey.stations[1].girth == by_hand.stations[1].girth);
  CHECK(asked.survey.stations[1].at == Approx(by_hand.stations[1].at).margin(0.51));
  CHECK(asked.survey.walls[0].thickness == by_hand.walls[0].thickness);
  CHECK(asked.survey.walls[1].thickness == Approx(4.1).epsilon(1e-12));
  CHECK(asked.survey.balance_at == by_hand.balance_at);
}

TEST_CASE("a full station with four widths, the bow and patches become what the table reads") {
  const std::vector<std::string> more{
      "y",    "a grass", "15",         "",     "",     "0.3",                // caliper, tape, wall
      "123",  "9",       "y",          "",     "",     "",     "",    "17",  // two nodes
      "",                                                                    // no plates
      "29.9", "29.7",    "29.8",       "30.0",                               // station 5
      "no",                                                                  // none in the first internode
      "200",  "97.0",    "31",         "30.8", "30.7", "30.9", "no",  "31.9", "31.8", "31.7",
      "31.9", "3.9",     "4",          "4.1",  "4.3",  "4.4",  "4.5", "0.8",  "-0.4", "300 -22 18 6 0,9",
      "",     "",        "210 12 5 5", ""};
  const Talk asked = talk(quick + more + std::vector<std::string>{"done"});
  CAPTURE(asked.said, asked.prompts);
  const Survey& survey = asked.survey;
  CHECK(survey.species == "a grass");
  CHECK(survey.handsome->degrees() == Approx(15.0));
  CHECK(survey.errors.wall == 0.3);
  CHECK(survey.nodes[0].at_far == 123.0);
  CHECK(survey.nodes[0].kink);
  CHECK(survey.nodes[1].pierced_diameter == 17.0);
  REQUIRE(survey.stations.size() == 3);
  CHECK(survey.stations[1].at == 200.0);
  REQUIRE(survey.stations[1].widths.size() == 4);
  CHECK(survey.stations[1].widths[3].across == 30.9);
  CHECK(survey.stations[1].widths[3].direction.facing->degrees() == Approx(135.0));
  CHECK(survey.walls.size() == 8);
  REQUIRE(survey.bow.size() == 2);
  CHECK(survey.bow[1].convex);
  CHECK(survey.bow[1].gap == 0.4);
  REQUIRE(survey.grooves.size() == 1);
  CHECK(survey.grooves[0].depth == 0.9);
  REQUIRE(survey.blemishes.size() == 1);
  CHECK(survey.blemishes[0].use == BlemishUse::hide);
  // What was asked for reads back as it was given.
  CHECK(tube_to_json(typed(tube_to_json(survey))) == tube_to_json(survey));
}

TEST_CASE("after any answer the survey can be put down and taken up again, and nothing is lost") {
  const std::vector<std::string> whole =
      quick + std::vector<std::string>{"y", "a grass", "15", "", "", "0.3",  "123",  "9",    "",    "",
                                       "",  "",        "",   "", "", "29.9", "29.7", "29.8", "30.0"};
  const Survey at_once = talk(whole + std::vector<std::string>{"done"}).survey;
  SurveySession session({}, LengthUnit::mm, check_tube_draft);
  for (const std::string& line : whole) {
    session.answer(line);
    // Through the document and back, as after a power cut; what was skipped last is asked again.
    if (line.empty() || line == "y") continue;
    const std::string draft = tube_draft_to_json(session.survey());
    const Survey back = read_tube_draft_text(draft, "draft.json").value;
    CHECK(tube_draft_to_json(back) == draft);
    SurveySession resumed(back, LengthUnit::mm, check_tube_draft);
    INFO(line);
    CHECK(resumed.prompt() == session.prompt());
  }
  CHECK(tube_draft_to_json(session.survey()) == tube_draft_to_json(at_once));
}

TEST_CASE("a draft that lacks its length is no document for other commands, and says what it lacks") {
  const Talk started = talk({"K1", "bamboo"});
  const std::string draft = tube_draft_to_json(started.survey);
  const Problems problems = problems_of([&] { read_tube_text(draft, "K1.json"); });
  REQUIRE(with_code(problems, "missing-key") != nullptr);
  CHECK(to_line(*with_code(problems, "missing-key")).find("length") != std::string::npos);
  CHECK(check_tube_draft(started.survey).empty());
}

TEST_CASE("back takes the answer before away, as often as wanted") {
  const Talk asked = talk({"K1", "bamboo", "", "400", "back", "410", "12", "back", "back", "405"});
  CAPTURE(asked.prompts);
  CHECK(asked.survey.length == 405.0);
  CHECK(asked.survey.datum_from_end_a == 0.0);
  CHECK(says(talk({"back"}).said, "first question"));
}

TEST_CASE("a width that the girth does not allow is read back, and kept, refused or replaced") {
  const std::vector<std::string> before =
      quick + std::vector<std::string>{"y", "", "", "", "", "", "", "", "", "", "", "", "", "", ""};
  const Talk doubted = talk(before + std::vector<std::string>{"35.2"});
  CAPTURE(doubted.prompts, doubted.said);
  CHECK(says(doubted.said, "Read 35.20, expected 29.9"));
  CHECK(doubted.prompts.back().find("Keep it?") != std::string::npos);
  CHECK(doubted.survey.stations[0].widths.empty());
  const auto width_after = [&](const std::vector<std::string>& lines) {
    const Survey survey = talk(before + lines).survey;
    return survey.stations[0].widths.empty() ? 0.0 : survey.stations[0].widths[0].across;
  };
  CHECK(width_after({"35.2", ""}) == 35.2);
  CHECK(width_after({"35.2", "y"}) == 35.2);
  CHECK(width_after({"35.2", "n"}) == 0.0);
  CHECK(width_after({"35.2", "n", "29.8"}) == 29.8);
  CHECK(width_after({"35.2", "29.8"}) == 29.8);
  CHECK(width_after({"35.2", "35.3"}) == 35.3);  // twice the same is no slip
  CHECK(width_after({"35.2", "38.9"}) == 0.0);   // another surprise is read back again
  CHECK(width_after({"35.2", "back", "29.9"}) == 29.9);
}

TEST_CASE("honest readings are not doubted") {
  CHECK_FALSE(says(talk(quick).said, "expected"));
}

TEST_CASE("what the field table does not allow is said at once in its own words, and asked again") {
  const Talk asked = talk({"K1", "bambo", "bamboo", "yesterday", "", "7", "400"});
  CAPTURE(asked.said);
  CHECK(says(asked.said, "Did you mean bamboo?"));
  CHECK(says(asked.said, "allowed: a number from 20 to 6000 mm"));
  CHECK(asked.survey.length == 400.0);
  CHECK(asked.survey.date.empty());
  CHECK(says(talk({"K1", "bamboo", "", "400", "", "", "500"}).said, "beyond end B"));
  CHECK(says(talk({""}).said, "needed"));
  CHECK(says(talk({"K1", "bamboo", "", "four"}).said, "no number"));
}

TEST_CASE("a question mark explains, and names the key of the document") {
  const Talk asked = talk({"K1", "bamboo", "", "400", "?"});
  CHECK(says(asked.said, "datum_from_end_a"));
  CHECK(says(asked.said, "back corrects"));
}

TEST_CASE("mass that no such material has is read back") {
  std::vector<std::string> lines = quick;
  lines[17] = "1180";
  CHECK(says(talk(lines).said, "Read 1180"));
}

TEST_CASE("with survey plates the heights are asked for, flat by flat, and no widths and gaps") {
  const Talk asked = talk(quick + std::vector<std::string>{"y", "", "", "", "", "", "", "", "", "", "", "",
                                                           "", "", "60", "8", "45.1", "", "45"});
  CAPTURE(asked.prompts, asked.said);
  REQUIRE(asked.survey.plates);
  CHECK(asked.survey.plates->flats == 8);
  REQUIRE(asked.survey.stations[0].heights.size() == 8);
  CHECK(asked.survey.stations[0].heights[0] == 45.1);
  CHECK_FALSE(asked.survey.stations[0].heights[1]);
  CHECK(asked.survey.stations[0].heights[2] == 45.0);
}
