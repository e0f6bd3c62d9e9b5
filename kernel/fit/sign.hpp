#pragma once
/// Signing off a revision: what stands against it, what the signer accepts and why.
///
/// Every finding that does not pass, broken rule or warning, must be accepted with a reason of the signer's
/// own. A few things cannot be accepted, since they cannot be made or would be made on wrong numbers:
///   webs and distances from an end under `least_web_made`, openings' webs too: there the cuts run into each
///     other or out of the end, and neither guide nor cup can be made;
///   touches and parts that lie over each other: two things do not fit into one place;
///   a tube that has moved since its survey: its numbers are no longer those of the piece.
/// Each of them is mended in its document: another place, another size, a new survey.
#include <string>
#include <vector>

#include "fit/rules.hpp"
#include "layout/placement.hpp"

namespace culmwright {

/// A thinner web is no web: guides and meshes need it (plan/guide_plan.hpp), and so does wood.
constexpr double least_web_made = 0.4;

/// Why that finding cannot be accepted, as a sentence; empty where it can be.
std::string why_not_acceptable(const Finding& finding);

/// "web-along L1 L2: the wall is thick there". Of one rule all findings are meant where no ids are named.
/// Throws InputError: an unknown rule or id, no reason.
Accepted parse_accepted(const std::string& words, const KeyLayout& layout);
/// The same, as it can be parsed again, with `why` in the place of the reason.
std::string words_of(const Finding& finding, const std::string& why);

/// "web-along about L1 and L2 (the wall is thick there)".
std::string accepted_words(const Accepted& accepted);

/// The entry that accepts that finding, or none.
const Accepted* accepted_for(const Finding& finding, const std::vector<Accepted>& accepted);
/// What the signer still has to accept, or cannot.
std::vector<Finding> not_accepted(const std::vector<Finding>& findings,
                                  const std::vector<Accepted>& accepted);

/// `orders` spelt out: one entry for each finding, with its own ids, in the order of the findings. Throws
/// InputError for an order that meets no finding, and for a finding that cannot be accepted.
std::vector<Accepted> spelt_out(const std::vector<Accepted>& orders, const std::vector<Finding>& findings);

/// No hard rule is broken but those that a signature that still holds has accepted.
bool acceptable(const std::vector<Finding>& findings, const SignMark& mark);

/// The placement signed. A draft's last revision takes the signature (a placement without a list of revisions
/// gets its first). Where that revision was signed before and no longer is, it stays as it is, and a new
/// revision with the same numbers is signed. `now`: how it stands (files/sign_state.hpp). Throws InputError
/// when its signature still holds, and for a signature without a name.
Placement signed_off(const Placement& placement, const Signature& signature, const SignMark& now);

/// What stands in place of the reason in a line that is offered; no reason itself.
constexpr const char* reason_wanted = "…";

}  // namespace culmwright
