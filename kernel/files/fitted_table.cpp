#include "files/tables.hpp"

namespace culmwright::files {

namespace {

Codec<Fastening> fastening() {
  return choice<Fastening>({{"screws", Fastening::screws}, {"glue", Fastening::glue}});
}

}  // namespace

Codec<PartShape> part_shape() {
  using P = PartShape;
  return object(
      Table<P>("a part's shape")
          .optional("height", &P::height, length(2, 60),
                    "Above the skin: of a thumb rest's hook, a slider's bed, the middle of a ring's eye")
          .optional("adjust", &P::adjust, length(0, 40),
                    "How far it may be moved along the tube, each way; 0: round screw holes")
          .optional("fastening", &P::fastening, fastening(),
                    "Left out: screws where the wall holds them, else glue")
          .optional("ring", &P::ring, yes_or_no(), "Thumb rest: an eye for the strap stands on it")
          .optional("recess", &P::recess, recess(), "Slider: the recess for its control")
          .optional("wire_way", &P::wire_way, length(0, 20),
                    "Slider: diameter of the hole under its control; 0: none"));
}

Codec<FittedDefaults> fitted_defaults() {
  using F = FittedDefaults;
  return object(
      Table<F>("fitted parts")
          .with_default("adjust", &F::adjust, length(0, 40),
                        "How far they may be moved along the tube, each way")
          .with_default("hook_height", &F::hook_height, length(4, 60), "Of a thumb rest above the skin")
          .with_default("slider_height", &F::slider_height, length(2, 60), "Of a slider's bed above the skin")
          .with_default("eye", &F::eye, length(2, 30), "Diameter of a strap ring's eye")
          .with_default("screw", &F::screw, length(1, 6), "Diameter of the wood screws")
          .with_default("screw_head", &F::screw_head, length(1.5, 14), "Diameter of their countersunk heads")
          .with_default("screw_lengths", &F::screw_lengths, list(length(3, 60), 0, 30, "lengths"),
                        "Those in the drawer")
          .with_default("pilot_share", &F::pilot_share, number(0.4, 1, ""),
                        "Of the screw's diameter, for the hole it goes into"));
}

Codec<Wiring> wiring() {
  using W = Wiring;
  return object(
      Table<W>("the wires")
          .with_default("diameter", &W::diameter, length(0.1, 10), "Of one wire, over its insulation")
          .with_default("spare_at_key", &W::spare_at_key, length(0, 1000),
                        "So that the cup comes out with its wires on")
          .with_default("spare_at_opening", &W::spare_at_opening, length(0, 2000),
                        "From the opening to what the wires are joined to")
          .with_default("slack_percent", &W::slack, scaled(0, 100, "%", 0.01),
                        "Of the way: wires do not lie straight")
          .with_default("room", &W::room, number(1, 5, ""),
                        "A pierced node is at least so many times as wide as the wires in it")
          .with_default("piercing_reach", &W::piercing_reach, length(20, 5000),
                        "Of the rod or long drill that pierces nodes, from an end"));
}

}  // namespace culmwright::files
