#include "pdf.hpp"

#include <cairo-ft.h>
#include <cairo-pdf.h>

#include <cmath>
#include <cstdlib>
#include <memory>
#include <mutex>
#include <stdexcept>

#include "base/problem.hpp"
#include "drawing/true_type.hpp"

namespace culmwright {

namespace {

constexpr double points_per_mm = 72.0 / 25.4;
/// Cairo replaces arcs by cubics within this many millimetres.
constexpr double curve_tolerance = 0.001;

void check(cairo_status_t status, const char* stage) {
  if (status != CAIRO_STATUS_SUCCESS) {
    throw std::runtime_error(std::string("PDF, ") + stage + ": " + cairo_status_to_string(status));
  }
}

/// The two faces, read from the program's own font. Cairo keeps fonts in a cache of its own beyond any one
/// file, so they live as long as the program.
class Typefaces {
 public:
  Typefaces() {
    if (FT_Init_FreeType(&library_) != 0) throw std::runtime_error("PDF, fonts: FreeType does not start");
    for (Weight weight : {Weight::regular, Weight::bold}) {
      const FontFile file = embedded_font(weight);
      FT_Face& face = faces_[index(weight)];
      if (FT_New_Memory_Face(library_, file.data, static_cast<FT_Long>(file.size), 0, &face) != 0) {
        throw std::runtime_error("PDF, fonts: FreeType cannot read the program's font");
      }
      fonts_[index(weight)] = cairo_ft_font_face_create_for_ft_face(face, FT_LOAD_NO_HINTING);
    }
  }
  cairo_font_face_t* font(Weight weight) const { return fonts_[index(weight)]; }

 private:
  static std::size_t index(Weight weight) { return weight == Weight::bold ? 1 : 0; }
  FT_Library library_ = nullptr;
  FT_Face faces_[2] = {};
  cairo_font_face_t* fonts_[2] = {};
};

struct Release {
  void operator()(cairo_t* context) const { cairo_destroy(context); }
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_font_options_t* options) const { cairo_font_options_destroy(options); }
};
template <class T>
using Owned = std::unique_ptr<T, Release>;

cairo_status_t append(void* out, const unsigned char* bytes, unsigned size) {
  static_cast<std::string*>(out)->append(bytes, bytes + size);
  return CAIRO_STATUS_SUCCESS;
}

std::string clean(const std::string& words) {
  return encode_utf8(decode_utf8(words));
}

void set_ink(cairo_t* to, Ink ink) {
  const Colour colour = colour_of(ink);
  cairo_set_source_rgb(to, colour.red / 255.0, colour.green / 255.0, colour.blue / 255.0);
}

void trace(cairo_t* to, const Path& path) {
  for (const Contour& contour : path.contours) {
    cairo_move_to(to, contour.start.x, contour.start.y);
    for (const PathStep& step : contour.steps) {
      if (step.controls) {
        const auto& [first, second] = *step.controls;
        cairo_curve_to(to, first.x, first.y, second.x, second.y, step.to.x, step.to.y);
      } else {
        cairo_line_to(to, step.to.x, step.to.y);
      }
    }
    if (contour.closed) cairo_close_path(to);
  }
}

void trace(cairo_t* to, const Circle& circle) {
  cairo_arc(to, circle.centre.x, circle.centre.y, circle.radius, 0.0, 2.0 * pi);
  cairo_close_path(to);
}

void trace(cairo_t* to, const Arc& arc) {
  const auto draw = arc.to.radians() >= arc.from.radians() ? cairo_arc : cairo_arc_negative;
  draw(to, arc.centre.x, arc.centre.y, arc.radius, arc.from.radians(), arc.to.radians());
}

void draw(cairo_t* to, const Shape& shape) {
  cairo_new_path(to);
  std::visit([&](const auto& geometry) { trace(to, geometry); }, shape.geometry);
  if (shape.fill) {
    set_ink(to, *shape.fill);
    cairo_fill_preserve(to);
  }
  if (shape.line) {
    const std::vector<double> lengths = dashes(*shape.line);
    cairo_set_dash(to, lengths.data(), static_cast<int>(lengths.size()), 0.0);
    cairo_set_line_width(to, line_width(*shape.line));
    set_ink(to, shape.ink);
    cairo_stroke_preserve(to);
  }
  cairo_new_path(to);
}

/// Glyphs at their measured advances, with the characters that they stand for. The words are written anew
/// from what was decoded, since cairo takes nothing but UTF-8.
struct Setting {
  std::string words;
  std::vector<cairo_glyph_t> glyphs;
  std::vector<cairo_text_cluster_t> clusters;
};

Setting set_in_type(const Text& text) {
  Setting set;
  double x = 0.0;
  for (const SetGlyph& glyph : glyphs_of(text.words, text.height, text.weight)) {
    const std::string character = encode_utf8({&glyph.character, 1});
    set.words += character;
    set.glyphs.push_back({static_cast<unsigned long>(glyph.glyph), x, 0.0});
    set.clusters.push_back({static_cast<int>(character.size()), 1});
    x += glyph.advance;
  }
  const double share = text.anchor == Anchor::start ? 0.0 : text.anchor == Anchor::middle ? 0.5 : 1.0;
  for (cairo_glyph_t& glyph : set.glyphs) glyph.x -= share * x;
  return set;
}

void draw(cairo_t* to, const Text& text, const Typefaces& typefaces) {
  const Setting set = set_in_type(text);
  cairo_save(to);
  cairo_translate(to, text.at.x, text.at.y);
  cairo_rotate(to, text.rotation.radians());
  cairo_set_font_face(to, typefaces.font(text.weight));
  cairo_set_font_size(to, font_size(text.height));
  set_ink(to, text.ink);
  cairo_show_text_glyphs(to, set.words.data(), static_cast<int>(set.words.size()), set.glyphs.data(),
                         static_cast<int>(set.glyphs.size()), set.clusters.data(),
                         static_cast<int>(set.clusters.size()), {});
  cairo_restore(to);
}

void draw(cairo_surface_t* surface, const Page& page, const Typefaces& typefaces) {
  cairo_pdf_surface_set_size(surface, page.width * points_per_mm, page.height * points_per_mm);
  const Owned<cairo_t> context(cairo_create(surface));
  cairo_t* to = context.get();
  cairo_scale(to, points_per_mm, points_per_mm);
  cairo_set_tolerance(to, curve_tolerance);
  cairo_set_line_join(to, CAIRO_LINE_JOIN_ROUND);
  cairo_set_fill_rule(to, CAIRO_FILL_RULE_EVEN_ODD);
  const Owned<cairo_font_options_t> options(cairo_font_options_create());
  cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
  cairo_set_font_options(to, options.get());
  for (const Group& group : page.groups) {
    for (const Item& item : group.items) {
      if (const Text* text = std::get_if<Text>(&item)) {
        draw(to, *text, typefaces);
      } else {
        draw(to, std::get<Shape>(item));
      }
    }
  }
  cairo_show_page(to);
  check(cairo_status(to), "a page");
}

}  // namespace

std::string to_pdf(const Drawing& drawing) {
  require(!drawing.pages.empty(), "a PDF needs a page");
  static std::mutex one_at_a_time;
  const std::lock_guard<std::mutex> lock(one_at_a_time);
  static const Typefaces typefaces;
  std::string bytes;
  {
    const Page& first = drawing.pages.front();
    const Owned<cairo_surface_t> surface(cairo_pdf_surface_create_for_stream(
        append, &bytes, first.width * points_per_mm, first.height * points_per_mm));
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, clean(first.title).c_str());
    // No clock: an empty date leaves the entry out.
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, "");
    int number = 0;
    for (const Page& page : drawing.pages) {
      draw(surface.get(), page, typefaces);
      cairo_pdf_surface_add_outline(surface.get(), CAIRO_PDF_OUTLINE_ROOT, clean(page.title).c_str(),
                                    ("page=" + std::to_string(++number)).c_str(),
                                    static_cast<cairo_pdf_outline_flags_t>(0));
    }
    cairo_surface_finish(surface.get());
    check(cairo_surface_status(surface.get()), "the file");
  }
  return bytes;
}

}  // namespace culmwright
