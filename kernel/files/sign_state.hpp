#pragma once
/// Does a signature still hold? The one place where that is judged.
#include "layout/key_layout.hpp"
#include "layout/placement.hpp"
#include "layout/shop.hpp"
#include "tube/survey.hpp"

namespace culmwright {

/// A signature for these documents as they are now; who, when and what was accepted are still to be filled in
/// (fit/sign.hpp). `shop`: null where none is given.
Signature signature_for(const Placement& placement, const Survey& tube, const KeyLayout& layout,
                        const Shop* shop);

/// How the placement's last revision stands: a draft, signed off, or no longer signed since a document it was
/// signed for has changed, or the placement's own numbers were edited without a new revision. A shop that was
/// signed with and is not given, or is given and was not signed with, is a change: drill guides depend on it.
SignMark sign_mark(const Placement& placement, const Survey& tube, const KeyLayout& layout, const Shop* shop);

}  // namespace culmwright
