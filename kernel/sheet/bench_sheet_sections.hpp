#pragma once
/// The sections of a bench sheet. Internal to sheet/bench_sheet.hpp.
#include "sheet/bench_sheet.hpp"

namespace culmwright::bench {

SheetSection the_piece(const BenchSheetInput& input);
SheetSection the_placement(const BenchSheetInput& input);
SheetSection how_true(const BenchSheetInput& input);
SheetSection the_pictures(const BenchSheetInput& input);
SheetSection parts_to_print(const BenchSheetInput& input);
SheetPart the_wires(const WireList& list);
SheetPart the_clearances(const std::vector<Clearance>& near);
SheetSection drilling(const BenchSheetInput& input);
SheetSection as_drilled(const BenchSheetInput& input);
SheetSection sign_off(const BenchSheetInput& input);
SheetSection the_record(const BenchSheetInput& input);

/// "12.3 ± 0.4".
std::string with_error(double value, double sigma, int decimals);
/// "2.4 right": of the player; in the middle "0.0".
std::string around_words(double around);

}  // namespace culmwright::bench
