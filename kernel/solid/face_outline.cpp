#include "solid/face_outline.hpp"

#include <BRep_Tool.hxx>
#include <Geom2d_Curve.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <map>

#include "solid/triangulate.hpp"

namespace culmwright {

namespace {

/// Two ends of edges at one corner of the solid are one place where they are nearer than this share of the
/// face's box; at a seam or a pole they are a whole box apart.
constexpr double same_corner = 0.02;

class OutlineMaker {
 public:
  FaceOutline make(const TopoDS_Face& face, const EdgeNodes& edges) {
    // Seams and poles need the edges as they stand in the face turned forward.
    const TopoDS_Face forward = TopoDS::Face(face.Oriented(TopAbs_FORWARD));
    for (TopExp_Explorer at(forward, TopAbs_EDGE); at.More(); at.Next()) {
      add(forward, TopoDS::Edge(at.Current()), edges);
    }
    if (outline_.sides.empty()) throw TriangulationFault("the face has no border");
    join_corners();
    return std::move(outline_);
  }

 private:
  void add(const TopoDS_Face& face, const TopoDS_Edge& edge, const EdgeNodes& edges) {
    if (edge.Orientation() != TopAbs_FORWARD && edge.Orientation() != TopAbs_REVERSED) {
      throw TriangulationFault("an edge lies inside the face");
    }
    const EdgeDivision& division = edges.of(edge);
    double from = 0.0;
    double to = 0.0;
    const Handle(Geom2d_Curve) curve = BRep_Tool::CurveOnSurface(edge, face, from, to);
    if (curve.IsNull() || division.nodes.empty()) {
      throw TriangulationFault("an edge has no curve in the face's parameters");
    }
    const int count = static_cast<int>(division.nodes.size());
    const bool forward = edge.Orientation() == TopAbs_FORWARD;
    for (int i = 0; i < count; ++i) {
      const gp_Pnt2d uv = curve->Value(division.parameters[i]);
      const int place = static_cast<int>(outline_.places.size());
      outline_.places.push_back({uv.X(), uv.Y()});
      outline_.nodes.push_back(division.nodes[i]);
      if (i > 0)
        outline_.sides.push_back(forward ? std::array<int, 2>{place - 1, place}
                                         : std::array<int, 2>{place, place - 1});
      if (i == 0 || i == count - 1) ends_.push_back(place);
    }
  }

  /// Ends of edges that are one corner in the parameter plane become one place.
  void join_corners() {
    const ParameterBox box = outline_.box();
    const Vec2 near = (box.high - box.low) * same_corner;
    std::vector<int> stands_for(outline_.places.size());
    for (std::size_t i = 0; i < stands_for.size(); ++i) stands_for[i] = static_cast<int>(i);
    std::map<int, std::vector<int>> places_of_node;
    for (const int end : ends_) {
      std::vector<int>& known = places_of_node[outline_.nodes[end]];
      const auto same = std::find_if(known.begin(), known.end(), [&](int other) {
        const Vec2 off = outline_.places[end] - outline_.places[other];
        return std::abs(off.x) <= near.x && std::abs(off.y) <= near.y;
      });
      if (same == known.end()) {
        known.push_back(end);
      } else {
        stands_for[end] = *same;
      }
    }
    compact(stands_for);
  }

  void compact(const std::vector<int>& stands_for) {
    FaceOutline compacted;
    std::vector<int> number(stands_for.size(), -1);
    for (std::size_t i = 0; i < stands_for.size(); ++i) {
      if (stands_for[i] != static_cast<int>(i)) continue;
      number[i] = static_cast<int>(compacted.places.size());
      compacted.places.push_back(outline_.places[i]);
      compacted.nodes.push_back(outline_.nodes[i]);
    }
    for (const auto& [a, b] : outline_.sides) {
      compacted.sides.push_back({number[stands_for[a]], number[stands_for[b]]});
    }
    outline_ = std::move(compacted);
    std::vector<int> uses(outline_.places.size(), 0);
    for (const auto& [a, b] : outline_.sides) {
      ++uses[a];
      ++uses[b];
    }
    if (std::any_of(uses.begin(), uses.end(), [](int count) { return count % 2 != 0; })) {
      throw TriangulationFault("the border is not closed in the face's parameters");
    }
  }

  FaceOutline outline_;
  std::vector<int> ends_;
};

}  // namespace

ParameterBox FaceOutline::box() const {
  ParameterBox box{places.front(), places.front()};
  for (const Vec2& p : places) {
    box.low = {std::min(box.low.x, p.x), std::min(box.low.y, p.y)};
    box.high = {std::max(box.high.x, p.x), std::max(box.high.y, p.y)};
  }
  return box;
}

FaceOutline face_outline(const TopoDS_Face& face, const EdgeNodes& edges) {
  return OutlineMaker().make(face, edges);
}

}  // namespace culmwright
