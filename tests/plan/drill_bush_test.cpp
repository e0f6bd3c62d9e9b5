#include "plan/drill_bush.hpp"

#include <catch2/catch.hpp>

using namespace culmwright;

TEST_CASE("standard drill bushes have the sizes of DIN 179") {
  // DIN 179 / ISO 4247, from memory: bore to outside diameter and lengths.
  CHECK(standard_bush(3.0, 0.0).outside == 6.0);
  CHECK(standard_bush(3.3, 0.0).outside == 6.0);
  CHECK(standard_bush(3.4, 0.0).outside == 7.0);
  CHECK(standard_bush(6.0, 0.0).outside == 10.0);
  CHECK(standard_bush(10.0, 0.0).outside == 15.0);
  CHECK(standard_bush(3.0, 7.0).length == 8.0);
  CHECK(standard_bush(3.0, 8.5).length == 12.0);
  CHECK(standard_bush(3.0, 99.0).length == 16.0);
}

TEST_CASE("a bush from the drawer is taken before the standard's, and its bore allows for fit and printer") {
  Shop shop;
  CHECK(pilot_bush(shop, 7.0).length == 8.0);
  shop.bushes = {{3.0, 6.0, 12.0}, {3.0, 6.0, 10.0}, {4.0, 7.0, 8.0}, {3.0, 6.0, 5.0}};
  CHECK(pilot_bush(shop, 7.0).length == 10.0);
  shop.fits.bush = 0.05;
  shop.printer.hole_undersize = 0.2;
  CHECK(2.0 * bush_bore_radius(shop, shop.bushes[0]) == Approx(6.0 + 2.0 * 0.05 + 0.2));
}

TEST_CASE("drills are thinner than their name by ISO 286 h8 at most") {
  // Lower limits of h8 by a catalogue page citing DIN 1414; the upper one is nought.
  CHECK(drill_h8(3.0) == Approx(0.014));
  CHECK(drill_h8(3.1) == Approx(0.018));
  CHECK(drill_h8(6.0) == Approx(0.018));
  CHECK(drill_h8(8.0) == Approx(0.022));
  CHECK(drill_h8(10.0) == Approx(0.022));
  CHECK(drill_h8(12.0) == Approx(0.027));
  CHECK(drill_h8(25.0) == Approx(0.033));
  CHECK(drill_h8(40.0) == Approx(0.039));
}

TEST_CASE(
    "no drill of the name binds in a plain bore, and the thinnest of them shakes little more than the fit") {
  Shop shop;
  shop.fits.drill = 0.1;
  shop.printer.hole_undersize = 0.25;
  for (const double drill : {3.0, 6.5, 10.0}) {
    const double printed = 2.0 * plain_bore_radius(shop, drill) - shop.printer.hole_undersize;
    CHECK(printed - drill == Approx(0.2));
    CHECK(printed - (drill - drill_h8(drill)) < 0.2 + 0.0221);
  }
  shop.fits.peg = 0.05;
  CHECK(2.0 * peg_bore_radius(shop) == Approx(3.0 + 0.1 + 0.25));
}
