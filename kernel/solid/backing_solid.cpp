#include "solid/backing_solid.hpp"

#include "solid/guarded.hpp"
#include "solid/plane_texts.hpp"
#include "solid/sheet_band.hpp"

namespace culmwright {

namespace {

Solid build(const BackingShoe& shoe, double nudge) {
  DirectBuilder make(shoe.name);
  FlatFaces flat(make);
  const RigidMotion frame = shoe.frame();
  make.stage("face along the bore");
  const Sheet sheet = make_sheet(shoe.face, shoe.at, nudge);
  const Vec3 on_flat = frame.apply({0, shoe.flat, 0});
  const SheetBand band = add_band(make, flat, sheet, shoe.at, on_flat, frame.y, shoe.half, FaceSide::against);
  make.stage("flat and ends");
  const EdgeUse chord[2] = {flat.side(band.corner[0][0], band.corner[1][0]),
                            flat.side(band.corner[0][1], band.corner[1][1])};
  std::vector<WirePath> wires{
      {chord[0], {band.along[1], true}, {chord[1].edge, !chord[1].forward}, {band.along[0], false}}};
  for (WirePath& hole : texts_in(flat, shoe.texts, on_flat, -frame.y, backing_sizes::engraving))
    wires.push_back(std::move(hole));
  flat.face(on_flat, -frame.y, wires);
  for (int end = 0; end < 2; ++end) {
    const WirePath path{chord[end], {band.across[end], false}};
    const Vec3 on_end{0, 0, end == 0 ? -shoe.at.from : -shoe.at.to};
    flat.face(on_end, end == 0 ? -frame.z : frame.z, {end == 0 ? turned_round(path) : path});
  }
  return make.finish();
}

}  // namespace

Solid backing_solid(const BackingShoe& shoe, GateLog& log) {
  const auto guarded_build = [&](double nudge) {
    return guarded(shoe.name, "building face by face", [&] { return build(shoe, nudge); });
  };
  return build_sound(guarded_build, expectation_of(shoe), log, backing_accuracy);
}

}  // namespace culmwright
