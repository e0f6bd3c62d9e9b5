#include "fit/sign.hpp"

#include <algorithm>

#include "base/words.hpp"
#include "fit/shift.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

constexpr const char* webs[] = {"web-along", "web-around", "opening-web", "end-distance"};

bool is_web(const std::string& rule) {
  return std::any_of(std::begin(webs), std::end(webs), [&](const char* web) { return rule == web; });
}

[[noreturn]] void refuse(const char* code, std::string found, std::string allowed, std::string advice = {}) {
  throw InputError({{code, {}, std::move(found), std::move(allowed), std::move(advice)}});
}

std::vector<std::string> split(const std::string& words) {
  std::vector<std::string> parts(1);
  for (char c : words) {
    if (c == ' ' || c == ',') {
      if (!parts.back().empty()) parts.emplace_back();
    } else {
      parts.back() += c;
    }
  }
  if (parts.back().empty()) parts.pop_back();
  return parts;
}

std::string trimmed(const std::string& text) {
  const std::size_t first = text.find_first_not_of(' ');
  if (first == std::string::npos) return "";
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

void check_name(const char* code, const std::string& what, const std::string& name,
                const std::vector<std::string>& known) {
  if (std::find(known.begin(), known.end(), name) != known.end()) return;
  const std::optional<std::string> nearest = nearest_word(name, known);
  refuse(code, "the " + what + " " + quoted(name), listed(known),
         nearest ? "Did you mean " + quoted(*nearest) + "?" : "");
}

std::vector<std::string> ids_of(const KeyLayout& layout) {
  std::vector<std::string> ids;
  for (const Key& key : layout.keys) ids.push_back(key.id);
  for (const Part& part : layout.parts) ids.push_back(part.id);
  return ids;
}

bool same_ids(std::vector<std::string> a, std::vector<std::string> b) {
  std::sort(a.begin(), a.end());
  std::sort(b.begin(), b.end());
  return a == b;
}

bool meets(const Accepted& order, const Finding& finding) {
  return order.rule == finding.rule && (order.ids.empty() || same_ids(order.ids, finding.ids));
}

}  // namespace

std::string why_not_acceptable(const Finding& finding) {
  if (finding.rule == "tube-moved") {
    return "The survey no longer describes the piece: measure it again before anything is signed.";
  }
  if (finding.rule == "touches-apart") {
    return "Two things do not fit into one place: move one, or make it smaller in the key layout.";
  }
  if (is_web(finding.rule) && finding.value < least_web_made) {
    return "With less than " + millimetres(least_web_made) +
           " of material left neither guide nor cup can be made: move one of them.";
  }
  return "";
}

Accepted parse_accepted(const std::string& words, const KeyLayout& layout) {
  const std::string example = "a rule, the keys it is about, a colon and the reason";
  const std::size_t colon = words.find(':');
  if (colon == std::string::npos) refuse("accept-reason", quoted(words) + " without a colon", example);
  std::vector<std::string> head = split(words.substr(0, colon));
  if (head.empty()) refuse("accept-rule", quoted(words), example);
  std::vector<std::string> known;
  for (const Rule& rule : rules()) known.push_back(rule.id);
  check_name("accept-rule", "rule", head.front(), known);
  Accepted accepted;
  accepted.rule = head.front();
  accepted.ids.assign(head.begin() + 1, head.end());
  for (const std::string& id : accepted.ids) check_name("accept-id", "key or part", id, ids_of(layout));
  accepted.why = trimmed(words.substr(colon + 1));
  if (accepted.why.empty() || accepted.why == reason_wanted) {
    refuse("accept-reason", quoted(words) + " without a reason", example,
           "Say in a few words why it may stand");
  }
  return accepted;
}

std::string words_of(const Finding& finding, const std::string& why) {
  std::string words = finding.rule;
  for (const std::string& id : finding.ids) words += " " + id;
  return words + ": " + why;
}

std::string accepted_words(const Accepted& accepted) {
  return accepted.rule + (accepted.ids.empty() ? "" : " about " + listing(accepted.ids)) + " (" +
         accepted.why + ")";
}

const Accepted* accepted_for(const Finding& finding, const std::vector<Accepted>& accepted) {
  // The one that names the ids goes before the one that means them all.
  const Accepted* found = nullptr;
  for (const Accepted& order : accepted) {
    if (meets(order, finding) && (found == nullptr || found->ids.empty())) found = &order;
  }
  return found;
}

std::vector<Finding> not_accepted(const std::vector<Finding>& findings,
                                  const std::vector<Accepted>& accepted) {
  std::vector<Finding> left;
  for (const Finding& finding : findings) {
    if (!finding.passes && accepted_for(finding, accepted) == nullptr) left.push_back(finding);
  }
  return left;
}

std::vector<Accepted> spelt_out(const std::vector<Accepted>& orders, const std::vector<Finding>& findings) {
  Problems problems;
  std::vector<Accepted> all;
  for (const Finding& finding : findings) {
    const Accepted* order = finding.passes ? nullptr : accepted_for(finding, orders);
    if (order == nullptr) continue;
    all.push_back({finding.rule, finding.ids, order->why});
    const std::string why_not = why_not_acceptable(finding);
    if (why_not.empty()) continue;
    problems.push_back({"cannot-accept", {}, finding.sentence, "what can be made", why_not});
  }
  for (const Accepted& order : orders) {
    const bool met = std::any_of(findings.begin(), findings.end(), [&](const Finding& finding) {
      return !finding.passes && meets(order, finding);
    });
    if (met) continue;
    const std::string about = order.ids.empty() ? "" : " about " + listing(order.ids);
    problems.push_back({"accept-nothing",
                        {},
                        "rule " + quoted(order.rule) + about + " accepted, which stands against nothing",
                        "rules that are broken or ask for a look",
                        ""});
  }
  if (!problems.empty()) throw InputError(std::move(problems));
  return all;
}

bool acceptable(const std::vector<Finding>& findings, const SignMark& mark) {
  if (!mark.signed_off()) return acceptable(findings);
  return acceptable(not_accepted(findings, mark.accepted));
}

Placement signed_off(const Placement& placement, const Signature& signature, const SignMark& now) {
  if (trimmed(signature.by).empty()) refuse("no-name", "no name", "the name of the one who signs");
  const Signature* given = placement.signature();
  if (given != nullptr && now.signed_off()) {
    refuse("signed-already", "revision " + std::to_string(placement.revision()) + ", " + sign_detail(now),
           "a revision that is not signed yet",
           "It still holds; whatever is changed makes a new revision, which can be signed");
  }
  Placement result = placement;
  if (result.revisions.empty()) result.revisions.push_back({1, "", "First placement"});
  if (given != nullptr) {
    Revision again;
    again.number = placement.revision() + 1;
    again.date = signature.date;
    again.what = "Signed again: " + listed(now.changed, " and ") + " changed";
    result.revisions.push_back(again);
    remember(placement, result);
  }
  result.revisions.back().signature = signature;
  return result;
}

}  // namespace culmwright
