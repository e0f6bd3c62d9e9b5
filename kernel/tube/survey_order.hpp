#pragma once
/// What a survey asks for, in the order of the bench: mark, measure length and nodes, go around with tape and
/// caliper, look into the ends, weigh, then straightedge and blemishes. The printed form and the prompting
/// survey both follow it; each field names the key of the tube document that it becomes.
#include <string>
#include <vector>

#include "tube/survey.hpp"

namespace culmwright {

struct SurveyField {
  const char* key;    ///< in the document, below its list
  const char* words;  ///< short, for a form's head and a prompt
  const char* help;   ///< a sentence or two for the one who measures
  bool quick;         ///< asked for in a quick survey as well
};

/// Fields that are asked for together; one row each time where `list` is not empty.
struct SurveyList {
  const char* id;     ///< "nodes"; unique
  const char* list;   ///< key of the list or object in the document; empty for the piece itself
  const char* title;  ///< "Nodes, from end A to end B"
  std::vector<SurveyField> fields;
};

/// What the field is called in the document: its key, or for one of several directions "facing_deg 45".
std::string document_key(const SurveyField& field);

const std::vector<SurveyList>& survey_order();
/// Precondition: both exist.
const SurveyList& survey_list(const std::string& id);
const SurveyField& survey_field(const std::string& list_id, const std::string& key);

/// The directions in which widths are taken, four at 45°, and walls at an end, four at 90°.
constexpr double width_directions[] = {0.0, 45.0, 90.0, 135.0};
constexpr double wall_directions[] = {0.0, 90.0, 180.0, 270.0};

/// Places for stations, from end A to end B, in whole millimetres: near both ends, and in every internode,
/// clear of the nodes' bands. Those already measured are among them; no two are nearer than 15 mm to each
/// other. Empty when the length is not known.
std::vector<double> suggested_stations(const Survey& survey);

}  // namespace culmwright
