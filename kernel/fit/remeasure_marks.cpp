#include "fit/remeasure_marks.hpp"

#include <algorithm>
#include <cmath>

#include "fit/assemble.hpp"
#include "fit/frame.hpp"
#include "fit/transfer.hpp"
#include "fit/words.hpp"
#include "layout/check_values.hpp"

namespace culmwright {

namespace {

double thousandths(double value) {
  return std::round(value * 1000.0) / 1000.0 + 0.0;
}

/// Keys stand in the order of the marks: what is wrong with one is wrong with the other.
Problems of_marks(Problems problems) {
  const std::string keys = "/keys/";
  for (Problem& problem : problems) {
    std::string& pointer = problem.where.pointer;
    if (problem.where.file != mock_up_document) {
      pointer = pointer.compare(0, keys.size(), keys) == 0
                    ? "/marks/" + pointer.substr(keys.size(), pointer.find('/', keys.size()) - keys.size())
                    : "";
    }
    problem.where.file = mock_up_document;
  }
  return problems;
}

class FromMarks {
 public:
  FromMarks(const Tube& tube, const MeasuredMockUp& mock_up, const FirstLayoutOptions& options)
      : tube_(tube),
        mock_up_(mock_up),
        options_(options),
        frame_(tube, options.mouth_end, end_at(options.mouth_end), end_at(other(options.mouth_end)),
               options.facing) {}

  FirstLayout run() {
    check_marks();
    KeyLayout layout = rough_layout();
    const Placement placement = empty_placement();
    FirstLayout first;
    try {
      const Problems problems = check_key_layout(layout);
      if (!problems.empty()) throw InputError(problems);
      first.measured = remeasure(tube_, layout, placement, mock_up_, options_.remeasure);
    } catch (const InputError& error) {
      throw InputError(of_marks(error.problems()));
    }
    begin(first.measured.placement);
    first.layout = first.measured.contradictions.empty()
                       ? layout_as_placed(tube_, layout, first.measured.placement)
                       : layout;
    for (Key& key : first.layout.keys) {
      key.along = thousandths(key.along);
      key.around = thousandths(key.around);
    }
    return first;
  }

 private:
  double end_at(End end) const { return end == End::a ? tube_.end_a_at() : tube_.end_b_at(); }
  static End other(End end) { return end == End::a ? End::b : End::a; }

  void check_marks() const {
    Problems problems;
    const auto add = [&](std::size_t i, const char* code, const char* member, std::string found,
                         std::string allowed) {
      Problem problem;
      problem.code = code;
      problem.where.file = mock_up_document;
      problem.where.pointer = "/marks/" + std::to_string(i) + member;
      problem.found = std::move(found);
      problem.allowed = std::move(allowed);
      problems.push_back(std::move(problem));
    };
    if (mock_up_.marks.empty()) {
      Problem problem;
      problem.code = "nothing-measured";
      problem.where.file = mock_up_document;
      problem.found = "no marks";
      problem.allowed = "a mark for every key, with hand, finger, along and around";
      problems.push_back(std::move(problem));
    }
    for (std::size_t i = 0; i < mock_up_.marks.size(); ++i) {
      const WrapMark& mark = mock_up_.marks[i];
      const std::string name = "the mark of " + quoted(mark.key);
      if (!mark.hand) add(i, "missing", "", name + " without its hand", "\"left\" or \"right\"");
      if (!mark.finger) add(i, "missing", "", name + " without its finger", "the finger that plays the key");
      if (!mark.along || !mark.around) {
        add(i, "missing", "", name + " with one number only", "along and around");
        continue;
      }
      if (*mark.along > tube_.length()) {
        add(i, "place-outside", "/along", millimetres(*mark.along) + " from the mouth end",
            "at most the tube's length, " + millimetres(tube_.length()));
      } else if (const double girth = tube_.girth(frame_.at(*mark.along)); *mark.around > girth) {
        add(i, "range", "/around", millimetres(*mark.around) + " around",
            "no more than once around, " + millimetres(girth) + " there");
      }
    }
    if (!problems.empty()) throw InputError(std::move(problems));
  }

  /// From the key line, to the player's left, near enough to begin with.
  double around(const WrapMark& mark) const {
    const bool right = mark.direction == Toward::players_right;
    const double from_line = right ? -*mark.around : *mark.around;
    if (mark.line == WrapLine::key_line) return from_line;
    const double at = frame_.at(*mark.along);
    const double sense = options_.mouth_end == End::a ? 1.0 : -1.0;
    return wrapped(from_line - sense * frame_.key_line_around(at), tube_.girth(at));
  }

  HandMark hand_mark(Hand hand) const {
    std::optional<double> index;
    double sum = 0.0;
    int count = 0;
    for (const WrapMark& mark : mock_up_.marks) {
      if (*mark.hand != hand) continue;
      sum += *mark.along;
      ++count;
      if (*mark.finger == Finger::index) index = std::min(index.value_or(*mark.along), *mark.along);
    }
    if (index) return {*index, 0.0};
    return {count > 0 ? thousandths(sum / count) : 0.0, 0.0};
  }

  KeyLayout rough_layout() const {
    KeyLayout layout;
    layout.id = options_.layout_id;
    layout.note =
        "From finger marks on a paper wrap. A hand's mark is where its index finger lies along the tube. "
        "Holes, touches and leeway that nobody has said are common practice: look at them before drilling.";
    layout.left = hand_mark(Hand::left);
    layout.right = hand_mark(Hand::right);
    for (const WrapMark& mark : mock_up_.marks) {
      Key key;
      key.id = mark.key;
      key.hand = *mark.hand;
      key.finger = *mark.finger;
      const HandMark from = key.hand == Hand::left ? layout.left : layout.right;
      key.along = *mark.along - from.along;
      key.around = around(mark) - from.around;
      key.hole_diameter = mark.hole_diameter.value_or(usual_hole);
      key.leeway = usual_leeway;
      key.note = mark.note;
      layout.keys.push_back(std::move(key));
    }
    return layout;
  }

  Placement empty_placement() const {
    Placement placement;
    placement.id =
        options_.placement_id.empty() ? options_.layout_id + "-on-" + tube_.id() : options_.placement_id;
    placement.tube_id = tube_.id();
    placement.layout_id = options_.layout_id;
    placement.mouth_end = options_.mouth_end;
    placement.mouth_cut_at.value = end_at(options_.mouth_end);
    placement.foot_cut_at.value = end_at(other(options_.mouth_end));
    placement.facing.value = options_.facing;
    return placement;
  }

  /// There was nothing before: this is the first revision.
  void begin(Placement& placement) const {
    Revision first;
    first.date = options_.date.empty() ? mock_up_.date : options_.date;
    first.what = "First placement, from finger marks on a paper wrap";
    placement.revisions = {std::move(first)};
    for (PlacedId& key : placement.keys) key.at.revision = key.around.revision = 1;
  }

  const Tube& tube_;
  const MeasuredMockUp& mock_up_;
  const FirstLayoutOptions& options_;
  PlayedFrame frame_;
};

}  // namespace

FirstLayout layout_from_marks(const Tube& tube, const MeasuredMockUp& mock_up,
                              const FirstLayoutOptions& options) {
  return FromMarks(tube, mock_up, options).run();
}

}  // namespace culmwright
