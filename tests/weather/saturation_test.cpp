// Saturation of air, there and back.
#include "wiltline/weather/saturation.hpp"

#include <doctest/doctest.h>

#include "support/near.hpp"

namespace wiltline::test {

TEST_CASE("saturation vapour pressure and dew point are each other's inverse") {
  // FAO-56 (1998), Table 2.3: 2.338 kPa at 20 °C.
  CHECK(near(saturation_vapour_pressure_kpa(20.0), 2.338, 5e-4));
  CHECK(near(dew_point_c(2.338), 20.0, 5e-3));
  for (const double temperature_c : {-40.0, -5.0, 0.0, 14.5, 45.0}) {
    CAPTURE(temperature_c);
    CHECK(near(dew_point_c(saturation_vapour_pressure_kpa(temperature_c)), temperature_c, 1e-9));
  }
}

}  // namespace wiltline::test
