#pragma once
/// Cradles for the drill table: flat-footed half shells that hold the tube with a bore upright. They come in
/// sets of two, one near each end of the work; a set serves the bores that point within 40° of its middle.
///
///                 bore, upright                 v: toward the set's middle direction
///               ,---.                           u: growing θ;  w: along the tube toward end B
///     land     /tube \     land  v = land       origin on the tube's straight axis
///    |---.    (       )    ,---|
///    |    \ pad`-.-´pad   /    |                bears on two pads along the skin at ±42°, at zero offset;
///    |     `--. crown .--´     |                the crown between is relieved by 0.5, ridges and holes too
///    |========= strap =========|  tunnel for the strap, which goes over the tube
///     `.                     .´
///       `-. facet, facet, .-´     every facet H from the axis, square to its bores
///          `-------------´
///
/// On a facet the body stands safely only while its neighbours are about 20° away (two facets' feet are
/// H · angle apart); a bore between them stands upright on the nearest facet with a wedge under each of the
/// two cradles. Bores are square to the tube's straight axis (drilling_at), so no facet leans along it.
#include <string>
#include <vector>

#include "layout/instrument.hpp"
#include "layout/shop.hpp"
#include "plan/expectation.hpp"
#include "plan/guide_face.hpp"
#include "plan/stroke_letters.hpp"

namespace culmwright {

/// Sizes of cradles. Common practice of printed parts and drill jigs.
namespace cradle_sizes {
constexpr double reach_deg = 40.0;     ///< of a bore from the set's middle, at most: inside the pads
constexpr double hug_deg = 58.0;       ///< of the skin's normal from the cradle's middle, each way
constexpr double pad_from_deg = 31.0;  ///< full contact, each way from the middle
constexpr double pad_to_deg = 53.0;
constexpr double pad_step_deg = 9.0;
constexpr double crown_relief = 0.5;
constexpr double ridge_clearance = 0.8;
constexpr double same_facet_deg = 0.3;  ///< bores within this of each other share a facet: none prints truer
constexpr double facet_half = 6.0;      ///< least half width of a facet, each side of its foot
constexpr double stands_by = 1.5;       ///< least distance of weight and thrust from a facet's edge
constexpr double greatest_wedge_deg = 20.0;
constexpr double strap_room = 1.0;
constexpr double strap_wall = 5.0;  ///< beside the tunnel
constexpr double tunnel_height = 3.5;
constexpr double tunnel_roof = 2.5;  ///< between tunnel and channel
constexpr double floor = 4.0;        ///< under the tunnel
constexpr double side_wall = 6.0;    ///< beside the tube
constexpr double engraving = 0.5;
constexpr double wedge_width = 36.0;
constexpr double wedge_length = 20.0;
constexpr double wedge_least = 1.6;  ///< its thin edge
}  // namespace cradle_sizes

/// A line of engraving in a plane: z out of the material, strokes in x and y.
struct PlaneText {
  std::string text;
  RigidMotion frame;
  std::vector<StrokeOutline> strokes;
};

/// Bores that stand upright together.
struct BoreAngle {
  Angle axis;                    ///< direction θ of the bores, the middle of their range
  std::vector<std::string> ids;  ///< in the instrument's order
  Angle off;                     ///< greatest difference of one of them from `axis`
};

struct CradleFacet {
  BoreAngle bores;
  Vec2 from;  ///< edge in (u, v), to `to` with the material at its left
  Vec2 to;
};

/// A plate under a facet: its upper face takes the facet, its lower face is square to its bores.
struct CradleWedge {
  int set = 1;
  BoreAngle bores;
  int facet = 0;       ///< of the set
  Angle lean;          ///< of the bores beyond the facet's, toward growing θ
  double mouth = 1.0;  ///< +1: the mouth end lies toward B
  std::vector<PlaneText>
      texts;  ///< in the wedge's frame: x along the facet toward growing u, y out of the table, z toward B
  std::string part() const;
};

/// One half shell.
struct CradleBody {
  std::string name;  ///< "cradle 1A": A stands nearer end A
  GuideFace inner;
  Span at;
  double land = 0.0;  ///< v of the lands
  std::vector<PlaneText> texts;
  std::vector<std::string> notes;
};

struct CradleSet {
  int number = 1;
  std::string tube_id;
  Angle middle;       ///< direction v
  double foot = 0.0;  ///< H
  double half_width = 0.0;
  Span tunnel;                      ///< in v
  double tunnel_half = 0.0;         ///< along w, from the body's middle
  std::vector<CradleFacet> facets;  ///< from u < 0 to u > 0
  std::vector<CradleWedge> wedges;
  std::vector<CradleBody> bodies;  ///< two
  /// The profile below the lands, counter-clockwise in (u, v) from the left land's outer edge to the right's,
  /// for a body.
  std::vector<Vec2> profile(const CradleBody& body) const;
  /// Origin on the axis at the section of that `at`; x = u, y = v, z toward B.
  RigidMotion frame(double at) const;
};

/// Sets for all holes of an instrument, fewest first. Throws GeometryError naming the set that finds no two
/// places on the tube or would not stand.
std::vector<CradleSet> plan_cradles(const Tube& tube, const Instrument& instrument, const Shop& shop);

/// How a set stands for one of its bore angles: the lateral place of weight (tube, cradles as if solid) and
/// of the drill's thrust against the edges of what it stands on; all positive when it stands.
struct Standing {
  double weight_margin = 0.0;
  double thrust_margin = 0.0;
};
Standing standing(const CradleSet& set, const Tube& tube, const Instrument& instrument, const Shop& shop,
                  const BoreAngle& bores);

Expectation expectation_of(const CradleSet& set, const CradleBody& body);
Expectation expectation_of(const CradleWedge& wedge);

/// The wedge's profile in its x, y, counter-clockwise.
std::vector<Vec2> profile(const CradleWedge& wedge);

/// Both are printed standing on the end toward B: profiles lie in the layers, nothing overhangs but the
/// tunnel's narrow roof.
RigidMotion printing_position(const CradleSet& set, const CradleBody& body);

}  // namespace culmwright
