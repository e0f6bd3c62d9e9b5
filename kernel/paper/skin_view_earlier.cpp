/// What stood elsewhere before, laid under a view of the skin.
#include <algorithm>
#include <cmath>

#include "paper/sketch.hpp"
#include "paper/skin_view.hpp"

namespace culmwright {

namespace {

constexpr auto former = LineType::long_dashed_double_dotted_thin;
constexpr double least_arrow = 0.8;  ///< on the page; a shorter move shows in its outlines only
constexpr double least_cut_move = 0.05;

template <class List>
auto find_id(const List& list, const std::string& id) {
  return std::find_if(list.begin(), list.end(), [&](const auto& placed) {
    if constexpr (std::is_same_v<std::decay_t<decltype(placed)>, PlacedKey>) {
      return placed.key.id == id;
    } else {
      return placed.part.id == id;
    }
  });
}

}  // namespace

void SkinView::show_earlier(const Instrument& earlier, std::vector<std::string> ids) {
  earlier_ = &earlier;
  earlier_ids_ = std::move(ids);
}

bool SkinView::is_shown(const std::string& id) const {
  return std::find(earlier_ids_.begin(), earlier_ids_.end(), id) != earlier_ids_.end();
}

std::vector<SkinCurve> SkinView::earlier_curves() const {
  std::vector<SkinCurve> curves;
  for (const PlacedKey& key : earlier_->keys) {
    if (!is_shown(key.key.id)) continue;
    const Touch& touch = key.key.touch;
    curves.push_back(patch_curve(tube_, key.place, touch.length, touch.width, touch.corner_radius));
    curves.push_back(rim_curve(tube_, key.drilling, 48));
  }
  for (const PlacedPart& part : earlier_->parts) {
    const bool flat = part.part.length <= 0.0 || part.part.width <= 0.0;
    if (!is_shown(part.part.id) || flat || part.part.kind == PartKind::mouthpiece) continue;
    curves.push_back(
        patch_curve(tube_, part.place, part.part.length, part.part.width, part.part.corner_radius));
  }
  return curves;
}

std::vector<Segment> SkinView::earlier_moves() const {
  std::vector<Segment> moves;
  const auto add_move = [&](SkinPlace was, Angle theta_was, SkinPlace now, Angle theta_now) {
    const double reach = 0.5 * tube_.girth(now.at) / scale_;
    const Segment move{near_middle(theta_was, was.at), near_middle(theta_now, now.at)};
    const bool over_the_back = std::abs(move.to.x - move.from.x) > reach;
    if (length(move.to - move.from) >= least_arrow && !over_the_back) moves.push_back(move);
  };
  for (const PlacedKey& key : instrument_.keys) {
    const auto was = find_id(earlier_->keys, key.key.id);
    if (was == earlier_->keys.end() || !is_shown(key.key.id)) continue;
    add_move(was->place, was->theta, key.place, key.theta);
  }
  for (const PlacedPart& part : instrument_.parts) {
    const auto was = find_id(earlier_->parts, part.part.id);
    if (was == earlier_->parts.end() || !is_shown(part.part.id)) continue;
    if (part.part.kind != PartKind::mouthpiece) add_move(was->place, was->theta, part.place, part.theta);
  }
  return moves;
}

void SkinView::draw_earlier_cut(double at, double now_at) {
  if (std::abs(at - now_at) >= least_cut_move) line({edge(-1, at), edge(1, at)}, former);
}

void SkinView::draw_earlier() {
  for (const SkinCurve& was : earlier_curves()) curve(was, former);
  const bool turned = earlier_->mouth_end != instrument_.mouth_end;
  draw_earlier_cut(turned ? earlier_->foot_cut_at : earlier_->mouth_cut_at, instrument_.mouth_cut_at);
  draw_earlier_cut(turned ? earlier_->mouth_cut_at : earlier_->foot_cut_at, instrument_.foot_cut_at);
  if (!(earlier_->facing == instrument_.facing)) line(key_line(earlier_->facing), former);
}

void SkinView::draw_moves() {
  for (const Segment& move : earlier_moves()) {
    if (window_ && !(window_->contains(move.from) && window_->contains(move.to))) continue;
    line({move.from, move.to}, LineType::continuous_thin);
    add(arrowhead(move.to, (move.to - move.from) * (1.0 / length(move.to - move.from))));
  }
}

}  // namespace culmwright
