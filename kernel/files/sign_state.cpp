#include "files/sign_state.hpp"

#include "files/signed_values.hpp"

namespace culmwright {

namespace {

void compare(const char* document, const SignedDocument& was, const SignedDocument& now, SignMark& mark) {
  if (was.digest == now.digest) return;
  mark.changed.push_back(document);
  for (const std::string& difference : differences(was.values, now.values)) {
    mark.what_changed.push_back("The " + std::string(document) + " changed: " + difference + ".");
  }
}

void compare_shop(const std::optional<SignedDocument>& was, const std::optional<SignedDocument>& now,
                  SignMark& mark) {
  if (was && now) {
    compare("shop", *was, *now, mark);
  } else if (was || now) {
    mark.changed.push_back("shop");
    mark.what_changed.push_back(was ? "It was signed with a shop, which is not among the files given."
                                    : "It was signed without a shop; now there is one.");
  }
}

}  // namespace

Signature signature_for(const Placement& placement, const Survey& tube, const KeyLayout& layout,
                        const Shop* shop) {
  Signature signature;
  signature.tube = signed_values(tube);
  signature.key_layout = signed_values(layout);
  if (shop != nullptr) signature.shop = signed_values(*shop);
  signature.placement = signed_values(placement);
  return signature;
}

SignMark sign_mark(const Placement& placement, const Survey& tube, const KeyLayout& layout,
                   const Shop* shop) {
  SignMark mark;
  const Signature* given = placement.signature();
  if (given == nullptr) return mark;
  mark.by = given->by;
  mark.date = given->date;
  mark.accepted = given->accepted;
  const Signature now = signature_for(placement, tube, layout, shop);
  compare("tube", given->tube, now.tube, mark);
  compare("key layout", given->key_layout, now.key_layout, mark);
  compare_shop(given->shop, now.shop, mark);
  compare("placement", given->placement, now.placement, mark);
  mark.state = mark.changed.empty() ? SignState::signed_off : SignState::no_longer_signed;
  return mark;
}

}  // namespace culmwright
