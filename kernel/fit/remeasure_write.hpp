#pragma once
/// What was settled goes into the placement: a new revision, and what moved in words.
#include "fit/remeasure_settler.hpp"

namespace culmwright {

class MockUpWriter {
 public:
  /// `full`: `before` with every key and part listed. All must outlive the writer.
  MockUpWriter(const Tube& tube, const KeyLayout& layout, const Placement& before, const Placement& full,
               const MockUpModel& model, const Settlement& settlement, const std::vector<bool>& unknown)
      : tube_(tube),
        layout_(layout),
        before_(before),
        full_(full),
        model_(model),
        settlement_(settlement),
        unknown_(unknown) {}

  /// Fills in placement and places, and adds a remark.
  void write(const std::string& date, Remeasured& result);

 private:
  struct Moved {
    int thing = 0;
    SkinPlace was;
    PlacedId now;
  };

  bool is_unknown(int number) const { return unknown_[static_cast<std::size_t>(number)]; }
  double value(int number) const { return settlement_.values[static_cast<std::size_t>(number)]; }
  double error(int number) const { return settlement_.errors[static_cast<std::size_t>(number)]; }
  void set(Tracked<double>& number, double value, double error) const;
  void list_everything(Remeasured& result) const;
  PlacedId& entry(int thing, Placement& placement) const;
  void write_thing(int thing, Placement& placement);
  PlayedFrame frame_now(const Placement& placement) const;
  void list_places(const PlayedFrame& now, Remeasured& result) const;
  void write_cut(int number, const char* name, Tracked<double>& cut, Remeasured& result) const;
  void write_facing(Remeasured& result) const;
  void carry_marks(const PlayedFrame& now, Placement& placement) const;

  const Tube& tube_;
  const KeyLayout& layout_;
  const Placement& before_;
  const Placement& full_;
  const MockUpModel& model_;
  const Settlement& settlement_;
  const std::vector<bool>& unknown_;
  std::vector<Moved> moved_;
  int revision_ = 1;
};

}  // namespace culmwright
