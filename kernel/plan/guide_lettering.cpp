/// What is engraved on a guide, and where it finds room.
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "plan/guide_parts.hpp"

namespace culmwright::guide_parts {

namespace {

constexpr double id_margin = 1.0;    ///< from a hole's id to anything else
constexpr double text_margin = 2.2;  ///< from other writing, so that nothing is read together with an id
constexpr double id_gap = 1.3;       ///< from a boss to its id
constexpr double word_space = 2.0;   ///< more, before and after
constexpr double scan_step = 1.0;

/// Writing runs from the mouth end toward the foot end, its top to the right of the onlooker who holds the
/// mouth end up. In the flat: x around, y along.
class Writer {
 public:
  Writer(const Job& job, GuidePlan& plan, FlatMap& map)
      : plan_(plan), map_(map), sense_(job.instrument.mouth_end == End::a ? 1.0 : -1.0) {}

  double sense() const { return sense_; }

  FlatMap::Box box(const Lettering& line, Vec2 middle) const {
    const Vec2 half{0.5 * line.height, 0.5 * line.width};
    return {middle - half, middle + half};
  }

  bool write(const std::string& text, const Lettering& line, Vec2 middle, double margin) {
    const FlatMap::Box box = this->box(line, middle);
    if (!map_.free(box, margin)) return false;
    EngravedText engraved{text, {}};
    for (const StrokeOutline& outline : line.strokes) {
      EngravedStroke stroke;
      for (const Vec2& p : outline) {
        const Vec2 off{p.y - 0.5 * line.height, p.x - 0.5 * line.width};
        stroke.corners.push_back(map_.on_face(middle + off * sense_));
      }
      // Along and up swap places, so the turn of the outline swaps too.
      std::reverse(stroke.corners.begin(), stroke.corners.end());
      engraved.strokes.push_back(std::move(stroke));
    }
    map_.occupy({box.low - Vec2{0.0, word_space}, box.high + Vec2{0.0, word_space}});
    plan_.texts.push_back(std::move(engraved));
    return true;
  }

 private:
  GuidePlan& plan_;
  FlatMap& map_;
  double sense_;
};

bool write_beside(Writer& writer, const std::string& id, const FlatMap::Disc& boss) {
  const Lettering line = lettering(id);
  const double aside = boss.radius + id_gap + 0.5 * line.height;
  const double ahead = boss.radius + id_gap + 0.5 * line.width;
  const double around = boss.middle.x > 0.0 ? -1.0 : 1.0;  // toward the crown first
  for (const double away : {0.0, 1.5, 3.0}) {
    for (const double slide : {0.0, 2.0, -2.0, 4.0, -4.0, 6.0, -6.0}) {
      for (const double side : {around, -around}) {
        if (writer.write(id, line, boss.middle + Vec2{side * (aside + away), slide}, id_margin)) return true;
      }
    }
  }
  for (const double slide : {0.0, 2.0, -2.0, 4.0, -4.0}) {
    for (const double side : {writer.sense(), -writer.sense()}) {
      if (writer.write(id, line, boss.middle + Vec2{slide, side * ahead}, id_margin)) return true;
    }
  }
  return false;
}

/// From the mouth end on, the rows nearest to the crown first.
bool write_anywhere(Writer& writer, const std::string& text, const Span& at, const Span& across,
                    double margin) {
  const Lettering line = lettering(text);
  const double half = 0.5 * line.width;
  const int rows = static_cast<int>(across.length() / (2.0 * scan_step));
  for (int row = 0; row <= 2 * rows; ++row) {
    const double x = (row % 2 == 0 ? 1.0 : -1.0) * scan_step * ((row + 1) / 2);
    for (double along = half; along <= at.length() - half; along += scan_step) {
      const double y = writer.sense() > 0.0 ? at.from + along : at.to - along;
      if (writer.write(text, line, {x, y}, margin)) return true;
    }
  }
  return false;
}

/// FRONT, BACK or the player's side, by where the guide's middle lies from the key line.
std::string side_name(const Job& job) {
  const double sense = job.instrument.mouth_end == End::a ? 1.0 : -1.0;
  const double from_front = sense * std::remainder(job.middle - job.instrument.facing.radians(), 2.0 * pi);
  if (std::abs(from_front) <= 0.25 * pi) return "FRONT";
  if (std::abs(from_front) >= 0.75 * pi) return "BACK";
  return from_front > 0.0 ? "PLAYER'S LEFT" : "PLAYER'S RIGHT";
}

}  // namespace

void add_lettering(const Job& job, GuidePlan& plan, FlatMap& map) {
  Writer writer(job, plan, map);
  const std::vector<FlatMap::Disc> bosses = map.bosses();
  std::vector<std::string> left_out;
  for (std::size_t i = 0; i < plan.bosses().size(); ++i) {
    const std::string id = (i < plan.holes.size() ? "" : "PEG ") + plan.bosses()[i]->id;
    if (!write_beside(writer, id, bosses[i])) left_out.push_back(id);
  }
  std::vector<std::string> texts;
  if (!job.instrument.sign.signed_off()) texts.push_back("DRAFT");
  if (plan.sighting_line) texts.push_back(plan.sighting_line->engraved);
  const std::string revision = "REV " + std::to_string(job.instrument.revision);
  texts.insert(texts.end(), {"< MOUTH", side_name(job), job.tube.id(), revision});
  texts.push_back(plan.name);
  for (const std::string& guide : plan.after) texts.push_back("AFTER " + guide);
  for (const std::string& text : texts) {
    if (write_anywhere(writer, text, plan.at, map.across(), text_margin)) continue;
    if (write_anywhere(writer, text, plan.at, map.across(), id_margin)) continue;
    left_out.push_back(text);
  }
  if (left_out.empty()) return;
  plan.notes.push_back("no room to engrave " + listed(left_out, " and ") + ": write it on with a pen");
}

}  // namespace culmwright::guide_parts
