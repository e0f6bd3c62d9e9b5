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
