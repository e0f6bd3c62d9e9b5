#pragma once
/// The field tables of the documents. See table.hpp.
#include "files/table.hpp"
#include "layout/as_drilled.hpp"
#include "layout/key_layout.hpp"
#include "layout/measured_mock_up.hpp"
#include "layout/placement.hpp"
#include "layout/shop.hpp"
#include "layout/workshop.hpp"
#include "tube/survey.hpp"

namespace culmwright::files {

const Table<Survey>& tube_table();
const Table<KeyLayout>& key_layout_table();
const Table<Shop>& shop_table();
const Table<Placement>& placement_table();
const Table<Workshop>& workshop_table();
const Table<MeasuredMockUp>& mock_up_table();
const Table<AsDrilled>& as_drilled_table();

/// Shared by several tables.
Codec<End> end_name();
Codec<Hand> hand_name();
Codec<Finger> finger_name();
Codec<TouchSurface> touch_surface();
Codec<PadLand> pad_land();
Codec<Recess> recess();
Codec<PartShape> part_shape();
Codec<FittedDefaults> fitted_defaults();
Codec<Wiring> wiring();
Table<HandMark> hand_mark_table();
Table<Signature> signature_table();

/// Lists longer than these are no instrument; sizes in mm.
constexpr double longest_tube = 6000.0;
constexpr double widest_tube = 300.0;
constexpr double greatest_girth = 1000.0;
constexpr std::size_t most_stations = 1000;
constexpr std::size_t most_keys = 200;

}  // namespace culmwright::files
