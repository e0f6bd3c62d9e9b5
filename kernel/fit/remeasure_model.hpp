#pragma once
/// The numbers that a mock-up's readings are about, and what each reading should say of them.
///
/// Numbers stand in one list, in tube coordinates and millimetres: of thing t its `at` and its `around`, then
/// the mouth cut, the foot cut, and the facing as an arc of `facing_radius`.
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "fit/frame.hpp"
#include "fit/remeasure.hpp"
#include "fit/remeasure_settle.hpp"
#include "layout/instrument.hpp"
#include "paper/development.hpp"

namespace culmwright {

/// From one place straight to another, along the tube and around it at once.
constexpr bool is_straight(Way way) {
  return way == Way::skin || way == Way::straight;
}

/// What a reading is of, or counts from.
struct ReadingEnd {
  enum class Kind { thing, end_a, end_b, mouth_cut, foot_cut, datum, reference_line, key_line };
  Kind kind = Kind::thing;
  int thing = -1;
};

struct ModelReading {
  int number = 0;
  std::string pointer;
  MockUpReading said;
  double error = 0.0;
  bool on_paper = false;  ///< measured on the unrolled wrap
  ReadingEnd what;
  ReadingEnd from;
};

/// A key or part as it stood before.
struct Thing {
  std::string id;
  const Key* key = nullptr;
  const Part* part = nullptr;
};

struct Number {
  double value = 0.0;
  bool fact = false;  ///< locked or drilled
  bool locked_alone =
      false;  ///< locked by itself: it holds its value in the tube, wherever the key line runs
  std::optional<double> error;
};

class MockUpModel {
 public:
  using Values = std::vector<double>;

  /// `before` lists every key and part; `instrument` is made of it. All must outlive the model.
  MockUpModel(const Tube& tube, const KeyLayout& layout, const Placement& before,
              const RemeasureOptions& options, double paper_thickness);

  const std::vector<Thing>& things() const { return things_; }
  const std::vector<Number>& numbers() const { return numbers_; }
  Values values() const;
  int at_of(int thing) const { return 2 * thing; }
  int around_of(int thing) const { return 2 * thing + 1; }
  int mouth_cut() const { return 2 * static_cast<int>(things_.size()); }
  int foot_cut() const { return mouth_cut() + 1; }
  int facing() const { return mouth_cut() + 2; }
  double facing_radius() const { return facing_radius_; }
  /// "R2 along", "the mouth cut".
  std::string name_of(int number) const;

  std::optional<int> thing_called(const std::string& id) const;
  /// The numbers that a reading is about, and those it depends on, its own first.
  std::vector<int> about(const ModelReading& reading) const;
  std::vector<int> depends_on(const ModelReading& reading) const;

  /// `around` in the tube of a thing whose number may follow the key line (`follows`: no reading says it).
  double around(int thing, const Values& values, const std::vector<bool>& unknown) const;
  SkinPlace place(int thing, const Values& values, const std::vector<bool>& unknown) const;

  /// What the reading should say, and the readings at `values` with their slopes.
  double predicted(const ModelReading& reading, const Values& values, const std::vector<bool>& unknown) const;
  LinearReading linear(const ModelReading& reading, const Values& values,
                       const std::vector<bool>& unknown) const;

  /// The nearest place to `at` that has a section.
  double inside(double at) const;
  const PlayedFrame& frame() const { return frame_; }
  double sense() const { return sense_; }
  const Tube& tube() const { return tube_; }

 private:
  void add(const std::vector<PlacedId>& listed, const std::vector<Key>& keys, const std::vector<Part>& parts);
  double key_line(double at, const Values& values) const;
  double sign_of(const ModelReading& reading) const;
  double along(const ReadingEnd& end, const ReadingEnd& other, const Values& values,
               const std::vector<bool>& unknown) const;
  double from_key_line(int thing, const Values& values, const std::vector<bool>& unknown) const;
  double said_around(const ModelReading& reading, const Values& values,
                     const std::vector<bool>& unknown) const;
  double edges(const ModelReading& reading, const Values& values, const std::vector<bool>& unknown) const;
  double reach(int thing, ReadingPoint point, Way way, double sign, SkinPlace place) const;
  const Development* net(const ModelReading& reading, const Values& values,
                         const std::vector<bool>& unknown) const;
  double predicted(const ModelReading& reading, const Values& values, const std::vector<bool>& unknown,
                   const Development* net) const;
  double girth_at(const ModelReading& reading, const Values& values) const;
  double miss(const ModelReading& reading, double predicted, const Values& values) const;

  const Tube& tube_;
  const RemeasureOptions& options_;
  double paper_thickness_;
  double sense_;
  PlayedFrame frame_;
  double facing_radius_;
  std::vector<Thing> things_;
  std::vector<Number> numbers_;
  /// Runs of the skin unrolled already: each costs more than all else of a settlement.
  mutable std::map<std::pair<double, double>, Development> nets_;
};

/// The document's readings with what they name found. Adds a problem for each that names nothing, or cannot
/// be: pointers are those of the document.
std::vector<ModelReading> model_readings(const MockUpModel& model, const MeasuredMockUp& mock_up,
                                         Problems& problems);

/// "R2 24 mm toward foot from R1".
std::string words_of(const MockUpReading& reading);

}  // namespace culmwright
