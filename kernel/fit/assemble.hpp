#pragma once
/// Brings a tube, a key layout and a placement together: every key and part gets its place on the skin.
///
/// A key or part that the placement lists stands where it says, in tube coordinates. One that it does not
/// list stands at its key layout offset: keys from their hand's mark (the placement's, or else the key
/// layout's own), parts from what their `from` names. Offsets add up in the played frame (fit/frame.hpp).
#include "layout/instrument.hpp"

namespace culmwright {

/// Keys and parts in the order of the key layout. Throws InputError with every problem found: documents that
/// do not belong together, unknown or doubled ids, cuts outside the tube or in the wrong order, places
/// outside the tube, a hole wider than the tube. Place::file of a problem says which document its pointer
/// belongs to, by its kind (`placement_document` or `key_layout_document`).
Instrument assemble(const Tube& tube, const KeyLayout& layout, const Placement& placement);

/// The same placement with every key and part of the key layout listed in tube coordinates, in the order of
/// the key layout; what was listed keeps its numbers and their history. Throws as `assemble` does.
Placement explicit_placement(const Tube& tube, const KeyLayout& layout, const Placement& placement);

constexpr const char* placement_document = "placement";
constexpr const char* key_layout_document = "key layout";

/// The middle of a mouthpiece may lie at most so far beyond an end of the piece.
constexpr double farthest_mouthpiece = 300.0;

/// A hole may take this share of the bore's half width beside its axis. A wider one would cut into the side
/// walls, and its rim would not close on the bore.
constexpr double widest_hole = 0.95;

}  // namespace culmwright
