#pragma once
/// The development of the skin into the plane: what a paper wrapped around a run of the tube shows, laid
/// flat.
///
/// A skin whose support function and section centres are linear along the tube is exactly developable, oval,
/// tapered, its ovality changing and all: along θ = const the normal is constant. With the support function
/// of such a skin h(θ, at) = h₀(θ) + κ(θ) (at − a₀), order 1 (the centres) included:
///
///     paper's middle surface     H = h + c w,   c half the paper's thickness, w = √(1 + κ²)      (exact
///     offset) ruling, per mm of at       D = (κ n + κ′ t, 1),   |D|² = 1 + κ² + κ′² its direction in the
///     plane  φ′ = −(κ + κ″) w / |D|² the net's edge at a₀        X′ = (H + H″) [ κ′ ê(φ) + w m̂(φ) ] / |D|,
///     ê = (−sin φ, cos φ), m̂ = (cos φ, sin φ) the net                     X(θ, at) = X(θ) + (at − a₀) |D| ê
///
/// (primes: d/dθ; from ê the direction of a ruling and m̂ square to it in the tangent plane, with the turning
/// rate e′·m of a developable's rulings.) Both integrals by five-point Gauss quadrature: 1e-11 mm.
///
/// The net lies as the outside is seen with end A up: x to the right grows around (the player's left), y
/// downward grows with at. Its origin is the reference line's place at `at_from`; the reference line's two
/// ends lie one above the other. On a cylinder the net is a rectangle, on a cone a sector of an annulus.
#include <optional>
#include <vector>

#include "tube/tube.hpp"

namespace culmwright {

/// How far the true skin (without ridges) is from the surface that was unrolled; greatest values over the
/// run.
struct DevelopmentError {
  /// Along the normal, all but the shift of whole sections.
  double shape = 0.0;
  /// Shift of whole sections (bow): the paper follows it, at the price stated as `along`.
  double bow = 0.0;
  /// Of a place along the tube, from the reference line to anywhere around: what true curvature does to a
  /// paper that cannot stretch.
  double along = 0.0;
  /// Of an arc from the reference line to anywhere around.
  double around = 0.0;
  /// Greatest departure of the skin from the developable, plus the effect of curvature.
  double total() const { return shape + bow + along; }
};

class Development {
 public:
  /// A direction of the section normal and a place along the tube; θ runs on past a whole turn.
  struct Ray {
    Angle theta;
    double at = 0.0;
  };

  /// The developable nearest to the skin (each Fourier coefficient, least squares over the run; ridges left
  /// out). Precondition: at_from < at_to within the tube's reach (Tube::section); thickness ≥ 0.
  static Development fit(const Tube& tube, double at_from, double at_to, double paper_thickness);

  /// Where a place of the true skin lies on the paper: along the normal. |around| ≤ girth; places past half a
  /// girth lie where they would on a paper that goes on around.
  Vec2 unroll(SkinPlace place) const;
  Vec2 unroll(Ray ray) const;
  /// The other way; undoes unroll to 1e-9 mm. Precondition: the point lies on the net or near it.
  SkinPlace roll(Vec2 point) const;
  Ray ray_at(Vec2 point) const;

  /// The point of the paper's middle surface in the tube's frame.
  Vec3 on_paper(Ray ray) const;
  /// The direction of the normal where the tube's reference line, or a line at that facing, crosses the
  /// section.
  /// Ridges are left out: the paper goes straight over them.
  Angle line(double at) const;
  Angle line(double at, Angle facing) const;
  /// Length around of the paper's middle surface.
  double girth(double at) const;

  double at_from() const { return at_from_; }
  double at_to() const { return at_to_; }
  const Tube& tube() const { return tube_; }
  const DevelopmentError& error() const { return error_; }
  double stated_error() const { return error_.total(); }

 private:
  /// One Fourier order of h at a₀ and of κ.
  struct Term {
    int order = 0;
    double cosine = 0.0, sine = 0.0;
    double cosine_slope = 0.0, sine_slope = 0.0;
  };
  /// H and κ with their derivatives by θ, at a₀.
  struct Jets {
    double H = 0.0, H_t = 0.0, H_tt = 0.0;
    double k = 0.0, k_t = 0.0, k_tt = 0.0;
    double w = 1.0, ruling = 1.0;
  };
  /// The net at θ along the edge at a₀, before it is laid straight.
  struct Edge {
    double phi = 0.0;
    Vec2 x;
  };

  explicit Development(Tube tube) : tube_(std::move(tube)) {}
  void fit_terms();
  void integrate_edge();
  void lay_straight();
  void measure_error();
  Jets jets(double theta) const;
  /// The fitted skin itself, without the paper's thickness.
  SurfaceJet fitted(Angle theta, double at) const;
  double turning(double theta) const;
  double turned(double theta, int cell) const;
  Edge edge(double theta) const;
  Vec2 before_laying(Ray ray) const;

  Tube tube_;
  double at_from_ = 0.0;
  double at_to_ = 0.0;
  double half_thickness_ = 0.0;
  std::vector<Term> terms_;
  double start_ = 0.0;       ///< θ of the first cell
  std::vector<Edge> edges_;  ///< at the cells' starts, one turn, and the end
  Angle laid_;               ///< the net is turned by this,
  Vec2 moved_;               ///< then moved by this
  DevelopmentError error_;
};

/// Where the half plane through the z axis at `facing` meets the section's skin without ridges; 1e-12 rad.
Angle smooth_line(const Section& section, Angle facing);

/// Gaussian curvature of the skin without ridges: −h_ss / [(h + h″)(1 + h_s²)²].
double gaussian_curvature(const Tube& tube, double at, Angle theta);

}  // namespace culmwright
