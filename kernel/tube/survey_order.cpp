#include "tube/survey_order.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>

#include "base/problem.hpp"

namespace culmwright {

namespace {

std::vector<SurveyList> piece_and_marks() {
  return {
      {"piece",
       "",
       "The piece",
       {{"id", "name",
         "Letters, digits and - . _ between them. Write it on the piece too: every guide and "
         "template carries it.",
         true},
        {"material", "material", "bamboo, elder, wood, pipe or other.", true},
        {"species", "species or grade", "If you know it.", false},
        {"date", "date", "The day it is measured, as year-month-day.", true},
        {"length", "length, A to B", "From end A to end B along the tube, by tape or rule.", true},
        {"datum_from_end_a", "datum from A",
         "A mark pricked on the reference line near end A. Every place along the tube counts from it toward "
         "end B. Without one, end A itself is the datum.",
         false},
        {"butt", "root end", "Bamboo: the end that was nearer to the root, where the walls are thicker.",
         true},
        {"handsome_deg", "side to show, \u00B0",
         "By protractor from the reference line to the right, looking at the line with end A up.", false}}},
      {"tools",
       "errors",
       "Your instruments: what a reading is off by",
       {{"caliper", "caliper", "One standard deviation of a width across.", false},
        {"tape", "tape", "One standard deviation of a girth.", false},
        {"height", "height gauge", "One standard deviation of a height over the board.", false},
        {"straightedge", "straightedge", "One standard deviation of a gap under the straightedge.", false},
        {"wall", "wall", "One standard deviation of a wall thickness.", false}}},
      {"nodes",
       "nodes",
       "Nodes, from end A to end B",
       {{"at_line", "at, on the line",
         "The middle of the ridge on the side of the reference line, from the datum mark toward end B.",
         true},
        {"ridge_height", "ridge height", "How far the ridge stands out of the skin; 0 when it was sanded.",
         true},
        {"at_far", "at, far side", "The middle of the ridge on the far side, when the node is slanted.",
         false},
        {"band", "ridge wide", "The full width of the ridge along the tube.", false},
        {"kink", "kink", "yes when the tube changes its direction at this node.", false},
        {"pierced_diameter", "pierced", "How wide the plate inside is pierced; nothing while it is whole.",
         false}}},
  };
}

std::vector<SurveyList> around_and_inside() {
  return {
      {"stations",
       "stations",
       "Stations, clear of the ridges",
       {{"at", "at", "Where along the tube, from the datum mark toward end B.", true},
        {"girth", "girth", "The length around, by tape or a pricked paper strip.", true},
        {"across_0", "across 0\u00B0", "Caliper width, one jaw on the reference line.", false},
        {"across_45", "across 45\u00B0",
         "Caliper width, the jaw an eighth of a turn to the right of the line.", false},
        {"across_90", "across 90\u00B0", "Caliper width, the jaw a quarter turn to the right of the line.",
         false},
        {"across_135", "across 135\u00B0", "Caliper width, the jaw three eighths of a turn to the right.",
         false}}},
      {"walls",
       "walls",
       "Wall, square to the skin",
       {{"at", "at", "Where along the tube: at an end, or in the first pilot hole by hook gauge.", true},
        {"facing_0", "facing 0\u00B0", "The wall on the side of the reference line.", true},
        {"facing_90", "facing 90\u00B0", "The wall a quarter turn to the right of the line.", false},
        {"facing_180", "facing 180\u00B0", "The wall opposite the line.", false},
        {"facing_270", "facing 270\u00B0", "The wall a quarter turn to the left of the line.", false}}},
      {"weight",
       "",
       "Mass and balance",
       {{"mass_g", "mass, g", "Weigh the bare piece.", true},
        {"balance_at", "balances at", "Where it balances on an edge, from the datum mark toward end B.",
         true},
        {"moisture_percent", "moisture, %", "By a moisture meter, if you have one.", false}}},
  };
}

std::vector<SurveyList> straightness_and_skin() {
  return {
      {"bow",
       "bow",
       "Straightedge on two sides",
       {{"at", "at", "Where the gap is widest; on a convex side, where the belly touches.", false},
        {"facing_deg", "facing, \u00B0",
         "The side on which the straightedge lies, from the line to the right.", false},
        {"gap", "gap",
         "Hollow side: the widest gap. Convex side: hold it so that both ends gape alike; the gap "
         "at an end.",
         false},
        {"convex", "convex", "yes when the belly touches and both ends gape alike.", false}}},
      {"plates",
       "plates",
       "Survey plates, instead of widths and straightedge",
       {{"across_flats", "across flats", "Between two opposite flats of the survey plates.", false},
        {"flats", "flats", "How many flats each plate has.", false}}},
      {"heights",
       "stations",
       "Heights over the board, the flat of that number facing up",
       {{"heights", "h0, h1 \u2026", "The height gauge on top of the tube, rolled from flat to flat.",
         false}}},
      {"grooves",
       "grooves",
       "Grooves above branches",
       {{"at", "at", "Its middle, from the datum mark toward end B.", false},
        {"around", "around",
         "Its middle along the skin, from the line to the right; to the left with a minus.", false},
        {"length", "length", "Along the tube.", false},
        {"width", "width", "Around the tube.", false},
        {"depth", "depth", "Under the skin beside it.", false}}},
      {"blemishes",
       "blemishes",
       "Blemishes of the skin",
       {{"at", "at", "Its middle, from the datum mark toward end B.", false},
        {"around", "around",
         "Its middle along the skin, from the line to the right; to the left with a minus.", false},
        {"length", "length", "Along the tube.", false},
        {"width", "width", "Around the tube.", false},
        {"use", "use",
         "avoid: no hole there; hide: out of sight or inside an opening; note: only to be known.", false}}},
      {"verdict",
       "",
       "What you think of it",
       {{"verdict", "verdict", "undecided, keep or aside.", false},
        {"verdict_note", "why", "In your own words.", false},
        {"note", "note", "Anything else about the piece, in your own words.", false}}},
      {"check_girths",
       "check_girths",
       "Check girths, on the day of drilling",
       {{"at", "at", "Clear of the ridges, one near each end.", false},
        {"girth", "girth", "By the same tape. More than half a percent of movement: measure the piece again.",
         false},
        {"date", "date", "The day, as year-month-day.", false}}},
  };
}

/// The bands in which no station should lie, with what keeps clear of them.
bool near_node(const Survey& survey, double at) {
  constexpr double clear = 3.0;
  return std::any_of(survey.nodes.begin(), survey.nodes.end(), [&](const Node& node) {
    return std::abs(at - node.at()) < 0.5 * node.band + 0.5 * std::abs(node.at_line - node.at_far) + clear;
  });
}

constexpr double apart = 15.0;  ///< two stations nearer than this tell nothing new

}  // namespace

const std::vector<SurveyList>& survey_order() {
  static const std::vector<SurveyList> order = [] {
    std::vector<SurveyList> all = piece_and_marks();
    for (auto part : {around_and_inside, straightness_and_skin}) {
      for (SurveyList& list : part()) all.push_back(std::move(list));
    }
    return all;
  }();
  return order;
}

std::string document_key(const SurveyField& field) {
  const std::string key = field.key;
  for (const char* direction : {"across_", "facing_"}) {
    const std::size_t length = std::strlen(direction);
    const bool numbered = key.compare(0, length, direction) == 0 && key[length] >= '0' && key[length] <= '9';
    if (numbered) return "facing_deg " + key.substr(length);
  }
  return key;
}

const SurveyList& survey_list(const std::string& id) {
  for (const SurveyList& list : survey_order()) {
    if (id == list.id) return list;
  }
  require(false, "a list of the survey is asked for by its id");
  return survey_order().front();
}

const SurveyField& survey_field(const std::string& list_id, const std::string& key) {
  const SurveyList& list = survey_list(list_id);
  for (const SurveyField& field : list.fields) {
    if (key == field.key) return field;
  }
  require(false, "a field of the survey is asked for by its key");
  return list.fields.front();
}

std::vector<double> suggested_stations(const Survey& survey) {
  if (!(survey.length > 0.0)) return {};
  constexpr double from_end = 15.0;
  constexpr double shortest = 50.0;  // an internode shorter than this is known by its neighbours
  constexpr double longest = 200.0;  // one longer gets two stations
  std::vector<double> wanted{survey.end_a_at() + std::min(from_end, 0.1 * survey.length)};
  std::vector<double> bounds{survey.end_a_at()};
  for (const Node& node : survey.nodes) bounds.push_back(node.at());
  bounds.push_back(survey.end_b_at());
  for (std::size_t i = 0; i + 1 < bounds.size(); ++i) {
    const double length = bounds[i + 1] - bounds[i];
    if (length < shortest) continue;
    const int count = length > longest ? 2 : 1;
    for (int k = 1; k <= count; ++k) wanted.push_back(bounds[i] + length * k / (count + 1));
  }
  wanted.push_back(survey.end_b_at() - std::min(from_end, 0.1 * survey.length));
  std::vector<double> places;
  for (const Station& station : survey.stations) places.push_back(station.at);
  const std::vector<double> measured = places;
  for (double at : wanted) {
    at = std::round(at);
    const bool taken =
        std::any_of(places.begin(), places.end(), [&](double p) { return std::abs(p - at) < apart; });
    if (!taken && !near_node(survey, at)) places.push_back(at);
  }
  std::sort(places.begin(), places.end());
  return places;
}

}  // namespace culmwright
