// Radiation and heat in the soil: what holds beside the printed numbers of fao56_examples_test.cpp.
#include <doctest/doctest.h>

#include "evapotranspiration/days.hpp"
#include "support/near.hpp"
#include "wiltline/evapotranspiration/daily.hpp"
#include "wiltline/evapotranspiration/radiation.hpp"
#include "wiltline/evapotranspiration/reference_et.hpp"

namespace wiltline::test {
namespace {

TEST_CASE("radiation from a neighbour (eq. 49) and on an island (eq. 51)") {
  CHECK(same(solar_radiation_from_neighbour_mj_m2(18.0, 30.0, 30.0), 18.0));
  CHECK(same(solar_radiation_from_neighbour_mj_m2(18.0, 30.0, 40.0), 24.0));
  CHECK(same(solar_radiation_on_island_mj_m2(30.0), 17.0));
}

TEST_CASE("brighter than a clear sky counts as clear for long-wave") {
  CHECK(same(long_wave_cloud_factor(1.0), 1.0));
  CHECK(long_wave_cloud_factor(1.2) == long_wave_cloud_factor(1.0));
  WeatherDay day = fully_observed();
  day.solar_mj_m2 = 1.1 * reference_day(a_site(), a_summer_day, day).rso_mj_m2;
  const ReferenceDay result = reference_day(a_site(), a_summer_day, day);
  CHECK(result.rs_mj_m2 == *day.solar_mj_m2);
  CHECK(same(result.rnl_mj_m2,
             net_long_wave_mj_m2(day.tmax_c, day.tmin_c, result.vapour_pressure_kpa, 1.0)));
}

TEST_CASE("soil heat: a layer that warms takes heat up (eq. 41)") {
  CHECK(same(soil_heat_flux_mj_m2(2.1, 16.0, 14.0, 30.0, 1.0), 0.14));
  CHECK(soil_heat_flux_mj_m2(2.1, 14.0, 14.0, 30.0, 1.0) == 0.0);
  CHECK(soil_heat_flux_mj_m2(2.1, 12.0, 14.0, 30.0, 1.0) < 0.0);
  // Two metres of such soil are the 0.14 of eq. 44, and half of that over two months eq. 43's 0.07.
  CHECK(same(soil_heat_flux_mj_m2(2.1, 17.0, 14.0, 30.0, 2.0),
             monthly_soil_heat_flux_so_far_mj_m2(14.0, 17.0)));
  CHECK(same(soil_heat_flux_mj_m2(2.1, 17.0, 14.0, 60.0, 2.0),
             monthly_soil_heat_flux_mj_m2(14.0, 17.0)));
}

}  // namespace
}  // namespace wiltline::test
