#pragma once
/// The drawing of a survey picture, part by part.
#include <set>
#include <string>
#include <vector>

#include "drawing/label_placer.hpp"
#include "paper/sheet_words.hpp"
#include "tube/tube.hpp"

namespace culmwright {

/// Order 1 of the skin: where the section's centre lies.
Vec2 section_centre(const Tube& tube, double at);

class SurveySheet {
 public:
  SurveySheet(const Tube& tube, const Survey& survey, PaperSize paper);
  Page draw();

 private:
  /// One curve of the skin at a place along the tube, drawn in a view: θ → x on the page, from the view's
  /// axis.
  enum class View { front, from_left };

  void choose_scale();
  std::string scale_words() const;
  Block facts() const;
  double y_of(double at) const { return top_ + (at - tube_.end_a_at()) / scale_; }
  void draw_view(View view, double axis_x);
  void draw_bow(double axis_x, bool sideways);
  void draw_unknown_bow(double axis_x, const std::string& id);
  void draw_skin(double axis_x);
  void draw_internodes(double x);
  void draw_stations(double skin_x, double x);
  void draw_end(double at, const std::string& name, Vec2 middle);
  void draw_ends();
  void draw_words();

  void line(const std::string& group, const Polyline& points, LineType type, bool closed = false);
  void text(const std::string& group, Vec2 at, const std::string& words, double height = 2.5,
            Anchor anchor = Anchor::start, Weight weight = Weight::regular, Angle rotation = {});
  void heading(double x, const std::string& first, const std::string& second);

  const Tube& tube_;
  const Survey& survey_;
  PaperSize paper_;
  Page page_;
  Box printable_;
  double scale_ = 1.0;      ///< the views stand at 1:scale
  double end_scale_ = 1.0;  ///< the ends at 1:end_scale
  double top_ = 0.0;        ///< page y of end A
  double band_top_ = 0.0;   ///< page y of the band of ends and words below the views
  double widest_ = 0.0;     ///< greatest width of the piece
  double girth_ = 0.0;      ///< its greatest girth
  double bow_factor_ = 1.0;
  std::set<Sign> signs_;  ///< that are drawn
};

}  // namespace culmwright
