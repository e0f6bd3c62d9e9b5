#include "tube/survey_questions.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "tube/survey_report.hpp"

namespace culmwright {

namespace {

using Kind = Question::Kind;

constexpr double same_place = 1e-9;
/// A station within this of a suggested place stands for it.
constexpr double stands_for = 15.0;

std::string mm(double at) {
  return number_text(at);
}
std::string place_key(const char* list, double at) {
  return std::string(list) + "@" + number_text(at, 17);
}
bool same(double a, double b) {
  return std::abs(a - b) < same_place;
}

Station& station_at(Survey& survey, double at) {
  for (Station& station : survey.stations) {
    if (same(station.at, at)) return station;
  }
  Station fresh;
  fresh.at = at;
  const auto after = std::find_if(survey.stations.begin(), survey.stations.end(),
                                  [&](const Station& station) { return station.at > at; });
  return *survey.stations.insert(after, fresh);
}

Node& node_at(Survey& survey, double at) {
  const auto it = std::find_if(survey.nodes.begin(), survey.nodes.end(),
                               [&](const Node& node) { return same(node.at_line, at); });
  require(it != survey.nodes.end(), "a node is asked about that the survey holds");
  return *it;
}

bool faces(const Direction& direction, double degrees) {
  return direction.facing && std::abs(direction.facing->degrees() - degrees) < 1e-6;
}

const Width* width_facing(const Station& station, double degrees) {
  const auto it = std::find_if(station.widths.begin(), station.widths.end(),
                               [&](const Width& width) { return faces(width.direction, degrees); });
  return it == station.widths.end() ? nullptr : &*it;
}

void put_width(Survey& survey, double at, double degrees, double across) {
  std::vector<Width>& widths = station_at(survey, at).widths;
  Width width;
  width.direction.facing = Angle::from_degrees(degrees);
  width.across = across;
  const auto old =
      std::find_if(widths.begin(), widths.end(), [&](const Width& w) { return faces(w.direction, degrees); });
  if (old != widths.end()) {
    *old = width;
    return;
  }
  const auto after = std::find_if(widths.begin(), widths.end(), [&](const Width& w) {
    return w.direction.facing && w.direction.facing->degrees() > degrees;
  });
  widths.insert(after, width);
}

const WallReading* wall_facing(const Survey& survey, double at, double degrees) {
  const auto it = std::find_if(survey.walls.begin(), survey.walls.end(), [&](const WallReading& wall) {
    return same(wall.at, at) && faces(wall.direction, degrees);
  });
  return it == survey.walls.end() ? nullptr : &*it;
}

const BowReading* bow_facing(const Survey& survey, double degrees, const double* at) {
  const auto it = std::find_if(survey.bow.begin(), survey.bow.end(), [&](const BowReading& bow) {
    return std::abs(bow.facing.degrees() - degrees) < 1e-6 && (at == nullptr || same(bow.at, *at));
  });
  return it == survey.bow.end() ? nullptr : &*it;
}

class QuestionList {
 public:
  QuestionList(const Survey& survey, const std::set<std::string>& passed)
      : survey_(survey), passed_(passed) {}

  std::vector<Question> take() {
    piece();
    quick_nodes();
    quick_girths();
    quick_walls();
    weight();
    Question& more = add(more_question, "Go on with the full survey", "", Kind::yes_or_no);
    more.help =
        "The quick survey is enough to compare pieces, with honest wide errors. Holes want the full one.";
    more.enter = "stops here";
    more.put = [](Survey&, const Entry&) {};
    if (passed_.count(more_question) == 0) return std::move(list_);
    full_piece();
    tools();
    full_nodes();
    plates();
    stations();
    full_walls();
    if (!survey_.plates) bow();
    patches();
    wished();
    closing();
    return std::move(list_);
  }

 private:
  Question& add(std::string key, std::string asked, std::string named, Kind kind) {
    list_.emplace_back();
    Question& question = list_.back();
    question.key = std::move(key);
    question.asked = std::move(asked);
    question.named = std::move(named);
    question.kind = kind;
    return question;
  }

  /// A question for a field of the order. `where`: " at 30", or nothing.
  Question& field(const std::string& key, const char* list, const char* name, const std::string& where,
                  Kind kind) {
    const SurveyList& of = survey_list(list);
    const SurveyField& field = survey_field(list, name);
    const std::string in_list = of.list;
    Question& question =
        add(key, field.words + where, (in_list.empty() ? "" : in_list + ", ") + field.key, kind);
    question.help = field.help;
    return question;
  }

  void words(const char* list, const char* name, std::string Survey::*member) {
    Question& question = field(name, list, name, "", Kind::words);
    question.answered = !(survey_.*member).empty();
    question.put = [member](Survey& survey, const Entry& entry) { survey.*member = entry.text; };
  }

  template <class Get>
  Question& optional_number(const char* list, const char* name, Kind kind, const char* unit, Get get) {
    Question& question = field(name, list, name, "", kind);
    question.unit = unit;
    question.answered = get(survey_).has_value();
    question.put = [get](Survey& survey, const Entry& entry) { get(survey) = entry.numbers[0]; };
    return question;
  }

  void piece() {
    words("piece", "id", &Survey::id);
    list_.back().needed = true;
    Question& material = field("material", "piece", "material", "", Kind::choice);
    material.choices = {"bamboo", "elder", "wood", "pipe", "other"};
    material.needed = true;
    material.answered = survey_.material != Material::other || survey_.length > 0.0;
    material.put = [](Survey& survey, const Entry& entry) {
      survey.material = entry.text == "bamboo"  ? Material::bamboo
                        : entry.text == "elder" ? Material::elder
                        : entry.text == "wood"  ? Material::wood
                        : entry.text == "pipe"  ? Material::pipe
                                                : Material::other;
    };
    words("piece", "date", &Survey::date);
    Question& length = field("length", "piece", "length", "", Kind::lengths);
    length.needed = true;
    length.answered = survey_.length > 0.0;
    length.put = [](Survey& survey, const Entry& entry) { survey.length = entry.numbers[0]; };
    Question& datum = field("datum_from_end_a", "piece", "datum_from_end_a", "", Kind::lengths);
    datum.enter = "takes end A itself";
    datum.answered = survey_.datum_from_end_a > 0.0;
    datum.put = [](Survey& survey, const Entry& entry) { survey.datum_from_end_a = entry.numbers[0]; };
    Question& butt = field("butt", "piece", "butt", "", Kind::choice);
    butt.choices = {"A", "B"};
    butt.answered = survey_.butt.has_value();
    butt.put = [](Survey& survey, const Entry& entry) { survey.butt = entry.text == "A" ? End::a : End::b; };
  }

  void quick_nodes() {
    for (const Node& node : survey_.nodes) {
      const double at = node.at_line;
      Question& ridge = field(place_key("nodes", at) + "/ridge_height", "nodes", "ridge_height",
                              ", node at " + mm(at), Kind::lengths);
      ridge.enter = "for sanded";
      ridge.answered = node.ridge_height > 0.0;
      ridge.put = [at](Survey& survey, const Entry& entry) {
        node_at(survey, at).ridge_height = entry.numbers[0];
      };
    }
    const std::size_t next = survey_.nodes.size() + 1;
    Question& node = field("nodes/" + std::to_string(next), "nodes", "at_line", "", Kind::lengths);
    node.asked = "node " + std::to_string(next) + " from end A, at, on the line";
    node.enter = "for no more nodes";
    node.put = [](Survey& survey, const Entry& entry) {
      Node fresh;
      fresh.at_line = fresh.at_far = entry.numbers[0];
      const auto after = std::find_if(survey.nodes.begin(), survey.nodes.end(),
                                      [&](const Node& n) { return n.at_line > fresh.at_line; });
      survey.nodes.insert(after, fresh);
    };
  }

  void place_of_station(const std::string& key, double proposal, const std::string& asked) {
    Question& place = field(key, "stations", "at", "", Kind::lengths);
    place.asked = asked;
    place.proposal = std::round(proposal);
    place.put = [](Survey& survey, const Entry& entry) { station_at(survey, entry.numbers[0]); };
  }

  void girth(const std::string& key, double at) {
    Question& girth = field(key, "stations", "girth", " at " + mm(at), Kind::lengths);
    const auto it = std::find_if(survey_.stations.begin(), survey_.stations.end(),
                                 [&](const Station& s) { return same(s.at, at); });
    girth.answered = it != survey_.stations.end() && it->girth;
    girth.put = [at](Survey& survey, const Entry& entry) { station_at(survey, at).girth = entry.numbers[0]; };
    girth.expected = [at](const Survey& survey) {
      Survey others = survey;
      station_at(others, at).girth.reset();
      return expected_girth(others, at);
    };
  }

  void width(const std::string& key, double at, double degrees) {
    const std::string name = "across_" + number_text(degrees);
    Question& width = field(key, "stations", name.c_str(), " at " + mm(at), Kind::lengths);
    width.named = "stations, widths, facing_deg " + number_text(degrees) + ", across";
    const auto it = std::find_if(survey_.stations.begin(), survey_.stations.end(),
                                 [&](const Station& s) { return same(s.at, at); });
    width.answered = it != survey_.stations.end() && width_facing(*it, degrees) != nullptr;
    width.put = [at, degrees](Survey& survey, const Entry& entry) {
      put_width(survey, at, degrees, entry.numbers[0]);
    };
    width.expected = [at, degrees](const Survey& survey) {
      Survey others = survey;
      std::vector<Width>& widths = station_at(others, at).widths;
      widths.erase(std::remove_if(widths.begin(), widths.end(),
                                  [&](const Width& w) { return faces(w.direction, degrees); }),
                   widths.end());
      return expected_width(others, at, Angle::from_degrees(degrees));
    };
  }

  void quick_girths() {
    const std::vector<double> places = suggested_stations(survey_);
    if (places.size() < 2) return;
    const double middle = 0.5 * (survey_.end_a_at() + survey_.end_b_at());
    const auto near_a = [&](const Station& station) { return station.at < middle; };
    for (const bool a : {true, false}) {
      const std::string end = a ? "A" : "B";
      place_of_station("stations/" + end, a ? places.front() : places.back(),
                       "where the girth near end " + end + " is taken");
      const auto found = std::find_if(survey_.stations.begin(), survey_.stations.end(),
                                      [&](const Station& station) { return near_a(station) == a; });
      if (found == survey_.stations.end()) continue;
      const Station& station = a ? survey_.stations.front() : survey_.stations.back();
      list_.back().answered = true;
      girth(place_key("stations", station.at) + "/girth", station.at);
    }
  }

  void wall(double at, const std::string& where, double degrees) {
    const std::string name = "facing_" + number_text(degrees);
    Question& wall = field(place_key("walls", at) + "/" + name, "walls", name.c_str(), "", Kind::lengths);
    wall.asked = "wall at " + where + ", facing " + number_text(degrees) + "\u00B0";
    wall.named = "walls, facing_deg " + number_text(degrees) + ", thickness";
    wall.answered = wall_facing(survey_, at, degrees) != nullptr;
    wall.put = [at, degrees](Survey& survey, const Entry& entry) {
      for (WallReading& old : survey.walls) {
        if (!same(old.at, at) || !faces(old.direction, degrees)) continue;
        old.thickness = entry.numbers[0];
        return;
      }
      WallReading reading;
      reading.at = at;
      reading.direction.facing = Angle::from_degrees(degrees);
      reading.thickness = entry.numbers[0];
      survey.walls.push_back(reading);
      std::stable_sort(survey.walls.begin(), survey.walls.end(),
                       [](const WallReading& x, const WallReading& y) { return x.at < y.at; });
    };
    wall.expected = [at](const Survey& survey) { return expected_wall(survey, at); };
  }

  void walls_at_ends(bool quick) {
    if (!(survey_.length > 0.0)) return;
    for (const bool a : {true, false}) {
      const double at = a ? survey_.end_a_at() : survey_.end_b_at();
      for (const double degrees : wall_directions) {
        if ((degrees == 0.0) == quick) wall(at, a ? "end A" : "end B", degrees);
      }
    }
  }
  void quick_walls() { walls_at_ends(true); }
  void full_walls() { walls_at_ends(false); }

  void weight() {
    Question& mass = optional_number(
        "weight", "mass_g", Kind::numbers, "g", [](auto& survey) -> auto& { return survey.mass_g; });
    mass.expected = expected_mass_g;
    optional_number(
        "weight", "balance_at", Kind::lengths, "", [](auto& survey) -> auto& { return survey.balance_at; });
  }

  void full_piece() {
    words("piece", "species", &Survey::species);
    Question& handsome = field("handsome_deg", "piece", "handsome_deg", "", Kind::numbers);
    handsome.unit = "\u00B0";
    handsome.answered = survey_.handsome.has_value();
    handsome.put = [](Survey& survey, const Entry& entry) {
      survey.handsome = Angle::from_degrees(entry.numbers[0]);
    };
  }

  void tool(const char* name, double InstrumentErrors::*member) {
    Question& tool = field(std::string("errors/") + name, "tools", name, "", Kind::lengths);
    tool.asked = std::string("error of ") + survey_field("tools", name).words;
    tool.enter = "keeps " + number_text(survey_.errors.*member);
    tool.answered = survey_.errors.*member != InstrumentErrors{}.*member;
    tool.put = [member](Survey& survey, const Entry& entry) { survey.errors.*member = entry.numbers[0]; };
  }

  void tools() {
    tool("caliper", &InstrumentErrors::caliper);
    tool("tape", &InstrumentErrors::tape);
    tool("wall", &InstrumentErrors::wall);
  }

  template <class V>
  void node_length(double at, const char* name, const V& is_there, std::function<void(Node&, double)> set) {
    Question& question =
        field(place_key("nodes", at) + "/" + name, "nodes", name, ", node at " + mm(at), Kind::lengths);
    question.answered = is_there;
    question.put = [at, set](Survey& survey, const Entry& entry) {
      set(node_at(survey, at), entry.numbers[0]);
    };
  }

  void full_nodes() {
    for (const Node& node : survey_.nodes) {
      const double at = node.at_line;
      node_length(at, "at_far", node.at_far != at, [](Node& n, double value) { n.at_far = value; });
      list_.back().enter = "for square";
      node_length(at, "band", node.band != Node{}.band, [](Node& n, double value) { n.band = value; });
      list_.back().enter = "keeps " + number_text(node.band);
      Question& kink =
          field(place_key("nodes", at) + "/kink", "nodes", "kink", ", node at " + mm(at), Kind::yes_or_no);
      kink.answered = node.kink;
      kink.enter = "for no";
      kink.put = [at](Survey& survey, const Entry& entry) { node_at(survey, at).kink = entry.text == "yes"; };
      node_length(at, "pierced_diameter", node.pierced_diameter.has_value(),
                  [](Node& n, double value) { n.pierced_diameter = value; });
      list_.back().enter = "while it is whole";
    }
  }

  void plates() {
    Question& across =
        field("plates/across_flats", "plates", "across_flats", " of the survey plates", Kind::lengths);
    across.enter = "without plates";
    across.answered = survey_.plates.has_value();
    across.put = [](Survey& survey, const Entry& entry) {
      if (!survey.plates) survey.plates.emplace();
      survey.plates->across_flats = entry.numbers[0];
    };
    if (!survey_.plates) return;
    Question& flats = field("plates/flats", "plates", "flats", " of each plate", Kind::numbers);
    flats.enter = "keeps " + std::to_string(survey_.plates->flats);
    flats.answered = survey_.plates->flats != SurveyPlates{}.flats;
    flats.put = [](Survey& survey, const Entry& entry) {
      survey.plates->flats = static_cast<int>(std::lround(entry.numbers[0]));
    };
  }

  void heights(const Station& station) {
    const double at = station.at;
    const int flats = survey_.plates->flats;
    for (int flat = 0; flat < flats; ++flat) {
      const std::size_t index = static_cast<std::size_t>(flat);
      const std::string name = "h" + std::to_string(flat);
      Question& height =
          field(place_key("stations", at) + "/" + name, "heights", "heights", "", Kind::lengths);
      height.asked = "height " + name + " at " + mm(at);
      height.named = "stations, heights";
      height.answered = index < station.heights.size() && station.heights[index];
      height.put = [at, index, flats](Survey& survey, const Entry& entry) {
        std::vector<std::optional<double>>& heights = station_at(survey, at).heights;
        heights.resize(static_cast<std::size_t>(flats));
        heights[index] = entry.numbers[0];
      };
      height.expected = [at, flat](const Survey& survey) { return expected_height(survey, at, flat); };
    }
  }

  bool listed(const std::string& key) const {
    return std::any_of(list_.begin(), list_.end(), [&](const Question& q) { return q.key == key; });
  }

  void full_station(const Station& station) {
    const std::string key = place_key("stations", station.at);
    if (!listed(key + "/girth")) girth(key + "/girth", station.at);
    if (survey_.plates) return heights(station);
    for (const double degrees : width_directions) {
      width(key + "/" + number_text(degrees), station.at, degrees);
    }
  }

  void stations() {
    for (const double at : suggested_stations(survey_)) {
      const auto it = std::find_if(survey_.stations.begin(), survey_.stations.end(),
                                   [&](const Station& station) { return same(station.at, at); });
      if (it != survey_.stations.end()) {
        full_station(*it);
      } else {
        place_of_station(place_key("stations/near", at), at,
                         "a station near " + mm(at) + " (no leaves it out)");
      }
    }
  }

  void gap(const std::string& key, double degrees, double at) {
    const bool side = degrees != 0.0;
    Question& gap = field(key, "bow", "gap", "", Kind::lengths);
    gap.asked = std::string("straightedge on the ") +
                (side ? "side, a quarter turn right of the line" : "line's side") + ", gap at " + mm(at);
    gap.named = "bow, facing_deg " + number_text(degrees) + ", gap";
    gap.help = std::string(survey_field("bow", "gap").help) + " With a minus when the side is convex.";
    gap.answered = bow_facing(survey_, degrees, &at) != nullptr;
    gap.put = [at, degrees](Survey& survey, const Entry& entry) {
      BowReading reading;
      reading.at = at;
      reading.facing = Angle::from_degrees(degrees);
      reading.gap = std::abs(entry.numbers[0]);
      reading.convex = entry.numbers[0] < 0.0;
      for (BowReading& old : survey.bow) {
        if (same(old.at, at) && std::abs(old.facing.degrees() - degrees) < 1e-6) {
          old = reading;
          return;
        }
      }
      survey.bow.push_back(reading);
    };
    gap.expected = [at, degrees](const Survey& survey) {
      return expected_gap(survey, at, Angle::from_degrees(degrees));
    };
  }

  void bow() {
    const double middle = std::round(0.5 * (survey_.end_a_at() + survey_.end_b_at()));
    for (const double degrees : {0.0, 90.0}) {
      const BowReading* known = bow_facing(survey_, degrees, nullptr);
      gap("bow/" + number_text(degrees), degrees, known != nullptr ? known->at : middle);
    }
  }

  template <class Patch, class Put>
  void patch(const char* list, const char* one, const std::vector<Patch>& known, const char* order,
             std::size_t count, const Put& put) {
    Question& question =
        add(std::string(list) + "/" + std::to_string(known.size() + 1),
            std::string(one) + " " + std::to_string(known.size() + 1) + ": " + order, list, Kind::lengths);
    question.help = std::string(survey_field(list, "around").help) + " All on one line, with spaces between.";
    question.fewest = question.most = count;
    question.enter = "for no more";
    question.put = put;
  }

  void patches() {
    patch("grooves", "groove", survey_.grooves, "at, around, length, width, depth", 5,
          [](Survey& survey, const Entry& entry) {
            const std::vector<double>& n = entry.numbers;
            survey.grooves.push_back({{n[0], n[1]}, n[2], n[3], n[4]});
          });
    for (const auto& [use, name] : {std::pair{BlemishUse::avoid, "avoid"}, {BlemishUse::hide, "hide"}}) {
      std::vector<Blemish> known;
      for (const Blemish& blemish : survey_.blemishes) {
        if (blemish.use == use) known.push_back(blemish);
      }
      patch("blemishes", "blemish", known, "at, around, length, width", 4,
            [use = use](Survey& survey, const Entry& entry) {
              const std::vector<double>& n = entry.numbers;
              survey.blemishes.push_back({{n[0], n[1]}, n[2], n[3], use, ""});
            });
      list_.back().key += std::string("/") + name;
      list_.back().asked = std::string("blemish to ") + name + ": at, around, length, width";
      list_.back().named = std::string("blemishes, use ") + name;
    }
  }

  /// What the fit so far would have most of, while it lasts: asked again even where it was skipped before.
  void wished() {
    const bool all_passed = std::all_of(list_.begin(), list_.end(), [&](const Question& question) {
      return question.answered || passed_.count(question.key) > 0;
    });
    if (!all_passed) return;
    try {
      const NextReading next = next_reading(fit_survey(survey_));
      if (!next.wish || next.good_enough) return;
      const std::size_t before = list_.size();
      ask_for(*next.wish);
      for (std::size_t i = before; i < list_.size(); ++i)
        list_[i].asked = "This would help most: " + list_[i].asked;
    } catch (const InputError&) {
      // The report that follows says what is missing.
    }
  }

  void ask_for(const ReadingWish& wish) {
    const double at = std::round(wish.at);
    switch (wish.kind) {
      case ReadingWish::Kind::girth:
        girth(place_key("again", wish.at) + "/girth", wish.at);
        break;
      case ReadingWish::Kind::widths:
        for (const double degrees : width_directions) {
          width(place_key("again", wish.at) + "/" + number_text(degrees), wish.at, degrees);
        }
        break;
      case ReadingWish::Kind::gap:
        gap(place_key("again", at) + "/gap" + number_text(wish.facing.degrees()), wish.facing.degrees(), at);
        break;
      case ReadingWish::Kind::station:
        place_of_station(place_key("again", at) + "/station", at,
                         "a new station near " + mm(at) + " (no leaves it out)");
        break;
      case ReadingWish::Kind::heights:
        break;
    }
  }

  void closing() {
    optional_number(
        "weight", "moisture_percent", Kind::numbers, "%",
        [](auto& survey) -> auto& { return survey.moisture_percent; });
    Question& verdict = field("verdict", "verdict", "verdict", "", Kind::choice);
    verdict.choices = {"undecided", "keep", "aside"};
    verdict.answered = survey_.verdict != Verdict::undecided;
    verdict.put = [](Survey& survey, const Entry& entry) {
      survey.verdict = entry.text == "keep"    ? Verdict::keep
                       : entry.text == "aside" ? Verdict::aside
                                               : Verdict::undecided;
    };
    words("verdict", "verdict_note", &Survey::verdict_note);
    words("verdict", "note", &Survey::note);
    const std::size_t next = survey_.check_girths.size() + 1;
    Question& check = add("check_girths/" + std::to_string(next),
                          "check girth " + std::to_string(next) + " on the day of drilling: at, girth",
                          "check_girths", Kind::lengths);
    check.help = survey_field("check_girths", "girth").help;
    check.fewest = check.most = 2;
    check.enter = "not today";
    check.put = [](Survey& survey, const Entry& entry) {
      survey.check_girths.push_back({entry.numbers[0], entry.numbers[1], ""});
    };
  }

  const Survey& survey_;
  const std::set<std::string>& passed_;
  std::vector<Question> list_;
};

}  // namespace

std::vector<Question> survey_questions(const Survey& so_far, const std::set<std::string>& passed) {
  return QuestionList(so_far, passed).take();
}

}  // namespace culmwright
