#pragma once
/// What a signature holds for: the values of a document, in one canonical text.
///
/// The text is what the document's own writer gives, on one line, with the keys of every object in
/// alphabetical order. So white space, comments, the order of keys and whether a default was written out make
/// no difference, and any number does. Left out is what says nothing about what is drilled: notes, dates, a
/// tube's species and verdict, a placement's list of revisions; and check girths, which are taken after
/// signing and have a rule of their own (tube-moved).
#include "layout/key_layout.hpp"
#include "layout/placement.hpp"
#include "layout/shop.hpp"
#include "tube/survey.hpp"

namespace culmwright {

SignedDocument signed_values(const Survey& tube);
SignedDocument signed_values(const KeyLayout& layout);
SignedDocument signed_values(const Shop& shop);
/// Of the placement's own numbers, with where they came from.
SignedDocument signed_values(const Placement& placement);

/// What differs between two texts of one kind of document, in words, in the order of the text:
/// "station at 120, girth was 96.1, now 96.4"; "key R2 was taken out".
/// Precondition: both came from signed_values.
std::vector<std::string> differences(const std::string& was, const std::string& now);

}  // namespace culmwright
