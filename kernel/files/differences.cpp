/// What changed between two canonical texts, in words.
#include <algorithm>

#include "base/words.hpp"
#include "files/json_tree.hpp"
#include "files/signed_values.hpp"

namespace culmwright {

namespace {

using files::JsonMember;
using files::JsonNode;

constexpr const char* not_given = "not given";

/// What one item of a list is called, where cutting off the s would not do, and how it is counted.
struct ItemName {
  const char* list;
  const char* one;
  std::size_t first = 1;
};
constexpr ItemName item_names[] = {{"bow", "straightedge reading"},
                                   {"walls", "wall reading"},
                                   {"heights", "height on flat", 0},
                                   {"bushes", "bush"}};

struct Suffix {
  const char* ending;
  const char* unit;
};
constexpr Suffix suffixes[] = {{"_deg", "°"}, {"_percent", " %"}, {"_n_mm", " N·mm"}, {"_g", " g"}};

bool ends_with(const std::string& text, const std::string& ending) {
  return text.size() > ending.size() && text.compare(text.size() - ending.size(), ending.size(), ending) == 0;
}

/// The key in words: "mass" of "mass_g".
std::string key_words(std::string key) {
  for (const Suffix& suffix : suffixes) {
    if (!ends_with(key, suffix.ending)) continue;
    key.resize(key.size() - std::string(suffix.ending).size());
    break;
  }
  std::replace(key.begin(), key.end(), '_', ' ');
  return key;
}

const char* unit_of(const std::string& key) {
  for (const Suffix& suffix : suffixes) {
    if (ends_with(key, suffix.ending)) return suffix.unit;
  }
  return "";
}

std::string value_words(const JsonNode& node, const char* unit) {
  switch (node.kind) {
    case JsonNode::Kind::boolean:
      return node.boolean ? "yes" : "no";
    case JsonNode::Kind::number:
      return node.text + unit;
    case JsonNode::Kind::string:
      return "“" + node.text + "”";
    default:
      return not_given;
  }
}

std::string text_of(const JsonNode& node) {
  return to_one_line(files::to_value(node));
}

const JsonNode* member(const JsonNode& node, const char* key) {
  const JsonMember* found = node.kind == JsonNode::Kind::object ? node.find(key) : nullptr;
  return found == nullptr ? nullptr : &found->value;
}

bool all_have_ids(const JsonNode& list) {
  return std::all_of(list.items.begin(), list.items.end(),
                     [](const JsonNode& item) { return member(item, "id") != nullptr; });
}

std::string item_words(const std::string& list, std::size_t index, const JsonNode& item) {
  std::string one = ends_with(list, "s") ? list.substr(0, list.size() - 1) : list;
  std::size_t first = 1;
  for (const ItemName& name : item_names) {
    if (list != name.list) continue;
    one = name.one;
    first = name.first;
  }
  one = key_words(one);
  if (const JsonNode* id = member(item, "id")) return one + " " + id->text;
  if (const JsonNode* at = member(item, "at")) return one + " at " + at->text;
  return one + " " + std::to_string(index + first);
}

/// A bare number of a placement, as its writer means it (files/tracked.hpp).
JsonNode as_tracked(const JsonNode& bare) {
  JsonNode origin;
  origin.kind = JsonNode::Kind::string;
  origin.text = "given";
  JsonNode revision;
  revision.kind = JsonNode::Kind::number;
  revision.number = 1.0;
  revision.text = "1";
  JsonNode locked;
  locked.kind = JsonNode::Kind::boolean;
  JsonNode whole;
  whole.kind = JsonNode::Kind::object;
  whole.members = {
      {"locked", {}, locked}, {"origin", {}, origin}, {"revision", {}, revision}, {"value", {}, bare}};
  return whole;
}

class Comparison {
 public:
  std::vector<std::string> run(const JsonNode& was, const JsonNode& now) {
    objects("", was, now);
    return std::move(sentences_);
  }

 private:
  static std::string inside(const std::string& where, const std::string& what) {
    return where.empty() ? what : where + ", " + what;
  }

  void values(const std::string& where, const std::string& key, const JsonNode& was, const JsonNode& now) {
    if (was.kind == JsonNode::Kind::number && member(now, "value") != nullptr) {
      objects(where, as_tracked(was), now, unit_of(key));
    } else if (now.kind == JsonNode::Kind::number && member(was, "value") != nullptr) {
      objects(where, was, as_tracked(now), unit_of(key));
    } else if (was.kind == JsonNode::Kind::object && now.kind == JsonNode::Kind::object) {
      objects(where, was, now, unit_of(key));
    } else if (was.kind == JsonNode::Kind::array && now.kind == JsonNode::Kind::array) {
      lists(where, key, was, now);
    } else if (text_of(was) != text_of(now)) {
      leaf(where, key, &was, &now);
    }
  }

  void leaf(const std::string& where, const std::string& key, const JsonNode* was, const JsonNode* now,
            const char* unit = "") {
    if (*unit == '\0') unit = unit_of(key);
    sentences_.push_back(where + " was " + (was == nullptr ? not_given : value_words(*was, unit)) + ", now " +
                         (now == nullptr ? not_given : value_words(*now, unit)));
  }

  /// `unit`: of the member "value", whose unit the name of the object tells.
  void objects(const std::string& where, const JsonNode& was, const JsonNode& now, const char* unit = "") {
    for (const JsonMember& before : was.members) {
      const JsonMember* after = now.find(before.key);
      if (before.key == "value" && after != nullptr) {
        if (text_of(before.value) != text_of(after->value)) {
          leaf(where, before.key, &before.value, &after->value, unit);
        }
      } else if (after != nullptr) {
        values(place_of(where, before), before.key, before.value, after->value);
      } else {
        lone(where, before, "was taken out");
      }
    }
    for (const JsonMember& after : now.members) {
      if (was.find(after.key) == nullptr) lone(where, after, "was added");
    }
  }

  /// Items say by themselves what list they are of.
  static std::string place_of(const std::string& where, const JsonMember& member) {
    return member.value.kind == JsonNode::Kind::array ? where : inside(where, key_words(member.key));
  }

  void lone(const std::string& where, const JsonMember& member, const std::string& what) {
    const bool before = what == "was taken out";
    if (member.value.kind == JsonNode::Kind::array) {
      for (std::size_t i = 0; i < member.value.items.size(); ++i) {
        lone_item(where, member.key, i, member.value.items[i], what);
      }
    } else if (member.value.kind == JsonNode::Kind::object) {
      sentences_.push_back(inside(where, key_words(member.key)) + " " + what);
    } else {
      leaf(inside(where, key_words(member.key)), member.key, before ? &member.value : nullptr,
           before ? nullptr : &member.value);
    }
  }

  void lone_item(const std::string& where, const std::string& list, std::size_t index, const JsonNode& item,
                 const std::string& what) {
    sentences_.push_back(inside(where, item_words(list, index, item)) + " " + what);
  }

  void lists(const std::string& where, const std::string& list, const JsonNode& was, const JsonNode& now) {
    if (all_have_ids(was) && all_have_ids(now)) {
      by_id(where, list, was, now);
    } else if (was.items.size() == now.items.size()) {
      for (std::size_t i = 0; i < was.items.size(); ++i) {
        values(inside(where, item_words(list, i, was.items[i])), list, was.items[i], now.items[i]);
      }
    } else {
      by_what_stayed(where, list, was, now);
    }
  }

  void by_id(const std::string& where, const std::string& list, const JsonNode& was, const JsonNode& now) {
    const auto find = [](const JsonNode& in, const std::string& id) {
      return std::find_if(in.items.begin(), in.items.end(),
                          [&](const JsonNode& item) { return member(item, "id")->text == id; });
    };
    const std::size_t said = sentences_.size();
    for (std::size_t i = 0; i < was.items.size(); ++i) {
      const auto after = find(now, member(was.items[i], "id")->text);
      if (after == now.items.end()) {
        lone_item(where, list, i, was.items[i], "was taken out");
      } else {
        values(inside(where, item_words(list, i, was.items[i])), list, was.items[i], *after);
      }
    }
    for (std::size_t i = 0; i < now.items.size(); ++i) {
      const bool there = find(was, member(now.items[i], "id")->text) != was.items.end();
      if (!there) lone_item(where, list, i, now.items[i], "was added");
    }
    if (sentences_.size() == said && text_of(was) != text_of(now)) {
      sentences_.push_back(inside(where, "the " + key_words(list)) + " stand in another order");
    }
  }

  /// Lists of other lengths: what is the same at their beginning and at their end has stayed.
  void by_what_stayed(const std::string& where, const std::string& list, const JsonNode& was,
                      const JsonNode& now) {
    const std::size_t shorter = std::min(was.items.size(), now.items.size());
    std::size_t head = 0;
    while (head < shorter && text_of(was.items[head]) == text_of(now.items[head])) ++head;
    std::size_t tail = 0;
    const auto from_end = [&](const JsonNode& in) { return text_of(in.items[in.items.size() - 1 - tail]); };
    while (tail < shorter - head && from_end(was) == from_end(now)) ++tail;
    for (std::size_t i = head; i < was.items.size() - tail; ++i) {
      lone_item(where, list, i, was.items[i], "was taken out");
    }
    for (std::size_t i = head; i < now.items.size() - tail; ++i) {
      lone_item(where, list, i, now.items[i], "was added");
    }
  }

  std::vector<std::string> sentences_;
};

JsonNode tree_of(const std::string& values) {
  Problems problems;
  const std::optional<JsonNode> node = files::parse_json(values, "", false, problems);
  require(node.has_value(), "kept values are JSON");
  return *node;
}

}  // namespace

std::vector<std::string> differences(const std::string& was, const std::string& now) {
  return Comparison().run(tree_of(was), tree_of(now));
}

}  // namespace culmwright
