#pragma once
/// Signing off: what was agreed to, by whom, and exactly for which documents.
///
/// A signature holds for the values it was given for and no others. It keeps them: a document's canonical
/// text (files/signed_values.hpp) and the SHA-256 of that text. So the program can tell later not only that
/// something changed, but what it was and what it is now.
#include <optional>
#include <string>
#include <vector>

namespace culmwright {

/// A rule that the signer let stand although it is broken or asks for a look.
struct Accepted {
  std::string rule;              ///< "web-along" (fit/rules.hpp)
  std::vector<std::string> ids;  ///< the keys and parts that it concerned
  std::string why;
};

/// A document as it stood when it was signed for.
struct SignedDocument {
  std::string digest;  ///< SHA-256 of `values`
  std::string values;  ///< canonical text: one line of JSON
};

struct Signature {
  std::string by;
  std::string date;
  std::vector<Accepted> accepted;
  SignedDocument tube;
  SignedDocument key_layout;
  std::optional<SignedDocument> shop;  ///< none: signed without a shop
  SignedDocument placement;            ///< its own numbers
};

enum class SignState { draft, signed_off, no_longer_signed };

/// How a revision stands, held against the documents at hand (files/sign_state.hpp).
struct SignMark {
  SignState state = SignState::draft;
  std::string by;                         ///< who signed, also where it no longer holds
  std::string date;                       ///< and when
  std::vector<Accepted> accepted;         ///< what the signer let stand
  std::vector<std::string> changed;       ///< documents: "tube", "key layout", "shop", "placement"
  std::vector<std::string> what_changed;  ///< sentences: which value was what, and is what now
  /// Sentences: what has been drilled of it and how true; what that means for the signature. Filled in where
  /// the facts are known (fit/drilled_facts.hpp).
  std::vector<std::string> drilled;

  bool signed_off() const { return state == SignState::signed_off; }
};

/// The mark itself, for large letters: "DRAFT" or "SIGNED OFF". What is no longer signed is a draft.
std::string sign_heading(const SignMark& mark);
/// What stands beside it: "by the bench, 2026-03-01", "no longer signed: tube and shop changed", or nothing.
std::string sign_detail(const SignMark& mark);
/// Both in one line.
std::string sign_words(const SignMark& mark);

}  // namespace culmwright
