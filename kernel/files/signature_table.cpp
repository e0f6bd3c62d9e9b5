/// A signature in a placement's list of revisions.
#include <algorithm>

#include "files/canonical.hpp"
#include "files/sha256.hpp"
#include "files/tables.hpp"

namespace culmwright::files {

namespace {

constexpr std::size_t digest_digits = 64;

Codec<std::string> digest() {
  Codec<std::string> codec;
  codec.read = [](const JsonNode& node, const std::string& pointer, Reading& reading, std::string& value) {
    const bool fits = node.kind == JsonNode::Kind::string && node.text.size() == digest_digits &&
                      node.text.find_first_not_of("0123456789abcdef") == std::string::npos;
    if (fits) {
      value = node.text;
    } else {
      reading.refuse("text", node, pointer, "a SHA-256: 64 digits of 0 to 9 and a to f");
    }
  };
  codec.write = [](const std::string& value) { return JsonValue(value); };
  codec.schema = [](double) {
    return JsonValue::object().set("type", "string").set("pattern", "^[0-9a-f]{64}$");
  };
  codec.spoil = [](std::string& value) { value.clear(); };
  return codec;
}

/// A key that stands twice would have no one meaning.
bool has_twins(const JsonNode& node) {
  std::vector<std::string> keys;
  for (const JsonMember& member : node.members) {
    if (has_twins(member.value)) return true;
    keys.push_back(member.key);
  }
  std::sort(keys.begin(), keys.end());
  if (std::adjacent_find(keys.begin(), keys.end()) != keys.end()) return true;
  return std::any_of(node.items.begin(), node.items.end(), has_twins);
}

/// The values of another document as they stood: held against their digest, not against its rules.
Codec<std::string> kept_values() {
  Codec<std::string> codec;
  codec.read = [](const JsonNode& node, const std::string& pointer, Reading& reading, std::string& value) {
    if (node.kind == JsonNode::Kind::object && !has_twins(node)) {
      value = canonical_text(to_value(node));
    } else {
      reading.refuse("type", node, pointer, "the document's values: an object in { }, each key once");
    }
  };
  codec.write = [](const std::string& value) {
    Problems problems;
    const std::optional<JsonNode> node = parse_json(value, "", false, problems);
    require(node.has_value(), "kept values are JSON");
    return to_value(*node);
  };
  codec.schema = [](double) { return JsonValue::object().set("type", "object"); };
  codec.spoil = [](std::string& value) { value.clear(); };
  return codec;
}

Codec<SignedDocument> signed_document() {
  const Codec<SignedDocument> whole = object(
      Table<SignedDocument>("a document as it was signed for")
          .required("sha256", &SignedDocument::digest, digest(), "Of the values, one line, keys in order")
          .required("values", &SignedDocument::values, kept_values(), "As they stood then"));
  Codec<SignedDocument> codec = whole;
  codec.read = [=](const JsonNode& node, const std::string& pointer, Reading& reading, SignedDocument& kept) {
    whole.read(node, pointer, reading, kept);
    if (kept.digest.empty() || kept.values.empty() || sha256(kept.values) == kept.digest) return;
    reading.refuse(
        "digest", node, pointer,
        "the values that were signed for, as their SHA-256 (" + kept.digest.substr(0, 8) + "…) tells",
        "They have been changed by hand: put them back, or take out the whole signature");
  };
  return codec;
}

Codec<Accepted> accepted() {
  return object(Table<Accepted>("an accepted rule")
                    .required("rule", &Accepted::rule, identifier(), "The rule's short name")
                    .with_default("concerns", &Accepted::ids, list(identifier(), 0, most_keys + 100, "ids"),
                                  "The keys and parts that it was about")
                    .required("why", &Accepted::why, line_of_text(500), "The signer's reason"));
}

}  // namespace

Table<Signature> signature_table() {
  using S = Signature;
  return Table<S>("a signature")
      .required("by", &S::by, line_of_text(60), "Who signed it off for drilling")
      .with_default("date", &S::date, day(), "The day it was signed")
      .with_default("accepted", &S::accepted, list(accepted(), 0, 10000, "rules"),
                    "Rules that were accepted although broken or asking for a look")
      .required("tube", &S::tube, signed_document(), "The tube as it was then")
      .required("key_layout", &S::key_layout, signed_document(), "The key layout as it was then")
      .optional("shop", &S::shop, signed_document(), "The shop as it was then, where one was given")
      .required("placement", &S::placement, signed_document(), "The placement's own numbers");
}

}  // namespace culmwright::files
