#include "files/table.hpp"

#include <map>

#include "base/words.hpp"

namespace culmwright::files {

namespace {

void check_rule(const JsonNode& node, const std::string& pointer, Reading& reading, const KeyRule& rule,
                const std::string& of_what) {
  std::vector<std::string> found, shown;
  for (const std::string& key : rule.keys) {
    shown.push_back(in_quotes(key));
    if (node.find(key) != nullptr) found.push_back(in_quotes(key));
  }
  const std::string allowed = (rule.at_least_one ? "exactly one of " : "at most one of ") + listed(shown);
  if (found.size() > 1) {
    reading.add("conflict", node.spot, pointer, "both " + listed(found, " and ") + " in " + of_what, allowed,
                "Keep the one that was really measured");
  } else if (found.empty() && rule.at_least_one) {
    reading.add("missing-key", node.spot, pointer, of_what + " with none of " + listed(shown), allowed);
  }
}

}  // namespace

std::vector<std::string> check_keys(const JsonNode& node, const std::string& pointer, Reading& reading,
                                    const std::vector<std::string>& known, const std::vector<KeyRule>& rules,
                                    const std::string& of_what) {
  std::vector<std::string> meant;
  std::map<std::string_view, int> first_line;
  for (const JsonMember& member : node.members) {
    if (reading.full()) break;  // a hostile document must not cost more than an honest one
    const auto [before, is_new] = first_line.emplace(member.key, member.spot.line);
    if (!is_new) {
      reading.add("duplicate-key", member.spot, joined(pointer, member.key),
                  "the key " + in_quotes(member.key) + " a second time (first on line " +
                      std::to_string(before->second) + ")",
                  "each key once", "Remove one of the two");
    }
    if (std::find(known.begin(), known.end(), member.key) != known.end()) continue;
    const std::optional<std::string> nearest = nearest_word(member.key, known);
    std::vector<std::string> shown;
    for (const std::string& key : known) shown.push_back(in_quotes(key));
    reading.add("unknown-key", member.spot, joined(pointer, member.key),
                "the unknown key " + in_quotes(member.key) + " in " + of_what,
                nearest ? "a key that is known there" : "only " + listed(shown, " and "),
                nearest ? "Did you mean " + in_quotes(*nearest) + "?" : "");
    if (nearest) meant.push_back(*nearest);
  }
  for (const KeyRule& rule : rules) {
    const bool guessed = std::any_of(rule.keys.begin(), rule.keys.end(), [&](const std::string& key) {
      return std::find(meant.begin(), meant.end(), key) != meant.end();
    });
    if (!guessed) check_rule(node, pointer, reading, rule, of_what);
  }
  return meant;
}

void report_missing(const JsonNode& node, const std::string& pointer, Reading& reading,
                    const std::string& key, const std::string& of_what, const std::string& description) {
  reading.add("missing-key", node.spot, pointer, of_what + " without " + in_quotes(key),
              "the key " + in_quotes(key) + " (" + description + ")");
}

JsonValue described(const JsonValue& schema, const std::string& description, const JsonValue* default_value) {
  JsonValue result = JsonValue::object();
  std::string text = description;
  for (std::size_t i = 0; i < schema.keys().size(); ++i) {
    if (schema.keys()[i] == "description") text += " " + schema.items()[i].text();
  }
  result.set("description", text);
  for (std::size_t i = 0; i < schema.keys().size(); ++i) {
    if (schema.keys()[i] != "description") result.set(schema.keys()[i], schema.items()[i]);
  }
  if (default_value != nullptr) result.set("default", *default_value);
  return result;
}

JsonValue object_schema(const std::vector<std::pair<std::string, JsonValue>>& properties,
                        const std::vector<std::string>& required, const std::vector<KeyRule>& rules) {
  JsonValue by_key = JsonValue::object();
  for (const auto& [key, schema] : properties) by_key.set(key, schema);
  JsonValue schema = JsonValue::object();
  schema.set("type", "object").set("properties", by_key);
  JsonValue must = JsonValue::array();
  for (const std::string& key : required) must.push(key);
  if (!required.empty()) schema.set("required", must);
  JsonValue all = JsonValue::array();
  for (const KeyRule& rule : rules) {
    JsonValue alternatives = JsonValue::array();
    JsonValue any = JsonValue::array();
    for (const std::string& key : rule.keys) {
      JsonValue has = JsonValue::object();
      has.set("required", JsonValue::array({key}));
      alternatives.push(has);
      any.push(has);
    }
    if (!rule.at_least_one) {
      JsonValue none = JsonValue::object(), some = JsonValue::object();
      some.set("anyOf", any);
      none.set("not", some);
      alternatives.push(none);
    }
    JsonValue one = JsonValue::object();
    one.set("oneOf", alternatives);
    all.push(one);
  }
  if (!rules.empty()) schema.set("allOf", all);
  return schema.set("additionalProperties", false);
}

}  // namespace culmwright::files
