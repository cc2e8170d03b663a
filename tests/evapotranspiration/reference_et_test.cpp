// The combination equation and what wind does to it.
#include <doctest/doctest.h>

#include "evapotranspiration/days.hpp"
#include "support/near.hpp"
#include "wiltline/evapotranspiration/daily.hpp"
#include "wiltline/evapotranspiration/psychrometrics.hpp"
#include "wiltline/evapotranspiration/reference_et.hpp"

namespace wiltline::test {
namespace {

// Eq. 6 is eq. 3 for clipped grass: resistances 208/u2 and 70 s/m, air density from the gas law at
// a virtual temperature of 1.01 (T + 273), specific heat from the psychrometric constant (chapter
// 2). On the way the paper rounds 891 to 900 and 0.337 to 0.34, so the two agree to a percent and a
// half.
TEST_CASE("the combination equation (eq. 3) leads to eq. 6") {
  constexpr double vapour_to_air_mass = 0.622;
  constexpr double gas_constant_kj_kg_k = 0.287;
  for (const double temperature_c : {5.0, 18.0, 32.0}) {
    for (const double wind_m_s : {0.5, 2.0, 6.0}) {
      for (const double deficit_kpa : {0.1, 0.8, 2.5}) {
        PenmanMonteithInput in;
        in.temperature_c = temperature_c;
        in.net_radiation_mj_m2 = 12.0;
        in.soil_heat_mj_m2 = 0.5;
        in.wind_2m_m_s = wind_m_s;
        in.vapour_pressure_deficit_kpa = deficit_kpa;
        in.slope_kpa_c = saturation_slope_kpa_c(temperature_c);
        const double pressure_kpa = atmospheric_pressure_kpa(300.0);
        in.gamma_kpa_c = psychrometric_constant_kpa_c(pressure_kpa);
        const double kelvin = temperature_c + 273.0;
        const double latent_heat = penman_monteith_mj_m2(
            in.slope_kpa_c, in.net_radiation_mj_m2, in.soil_heat_mj_m2,
            pressure_kpa / (1.01 * kelvin * gas_constant_kj_kg_k),
            in.gamma_kpa_c * vapour_to_air_mass * latent_heat_mj_kg / pressure_kpa, deficit_kpa,
            208.0 / wind_m_s, 70.0, in.gamma_kpa_c);
        const double unrounded_900 =
            86400.0 * vapour_to_air_mass / (1.01 * gas_constant_kj_kg_k * 208.0);
        const double expected = (in.slope_kpa_c * 11.5 / latent_heat_mj_kg +
                                 in.gamma_kpa_c * unrounded_900 / kelvin * wind_m_s * deficit_kpa) /
                                (in.slope_kpa_c + in.gamma_kpa_c * (1.0 + 70.0 / 208.0 * wind_m_s));
        const double et0_mm = daily_reference_terms(in).total_mm();
        CHECK(same(latent_heat / latent_heat_mj_kg, expected));
        CHECK(near(latent_heat / latent_heat_mj_kg, et0_mm, 0.015 * et0_mm));
      }
    }
  }
}

TEST_CASE("evaporation pan (eq. 55)") {
  CHECK(same(pan_et0_mm(0.85, 8.0), 6.8));
}

/// By how much wind raises ET0 (eq. 6): its sign is that of dET0/du at every wind.
double worth_of_wind(const PenmanMonteithInput& in) {
  return 900.0 / (in.temperature_c + 273.0) * in.vapour_pressure_deficit_kpa *
             (in.slope_kpa_c + in.gamma_kpa_c) -
         0.34 * equivalent_evaporation_mm(1.0) * in.slope_kpa_c *
             (in.net_radiation_mj_m2 - in.soil_heat_mj_m2);
}

TEST_CASE("more wind raises ET0 exactly where the air is dry enough for its net radiation") {
  int raised = 0;
  int lowered = 0;
  for (const double temperature_c : steps(0.0, 40.0, 5.0)) {
    for (const double elevation_m : {0.0, 2500.0}) {
      for (const double net_radiation : {-3.0, 0.0, 4.0, 9.0, 14.0, 19.0}) {
        for (const double soil_heat : {0.0, 1.0}) {
          for (const double deficit : {0.0, 0.05, 0.2, 0.5, 1.0, 2.0, 4.0}) {
            PenmanMonteithInput in;
            in.temperature_c = temperature_c;
            in.net_radiation_mj_m2 = net_radiation;
            in.soil_heat_mj_m2 = soil_heat;
            in.vapour_pressure_deficit_kpa = deficit;
            in.slope_kpa_c = saturation_slope_kpa_c(temperature_c);
            in.gamma_kpa_c = psychrometric_constant_kpa_c(atmospheric_pressure_kpa(elevation_m));
            const double worth = worth_of_wind(in);
            double before = 0.0;
            for (const double wind_m_s : {0.5, 1.0, 2.0, 4.0, 8.0, 16.0}) {
              in.wind_2m_m_s = wind_m_s;
              const double et0 = daily_reference_terms(in).total_mm();
              if (wind_m_s > 0.5) {
                CAPTURE(temperature_c);
                CAPTURE(net_radiation);
                CAPTURE(deficit);
                CAPTURE(wind_m_s);
                if (worth >= 0.0) CHECK(et0 >= before - 1e-12);
                if (worth > 1e-6) CHECK(et0 > before);
                if (worth < -1e-6) CHECK(et0 < before);
                (worth >= 0.0 ? raised : lowered) += 1;
              }
              before = et0;
            }
          }
        }
      }
    }
  }
  CHECK(raised > 1000);
  CHECK(lowered > 1000);
}

TEST_CASE("at the edge between the two, wind changes nothing") {
  PenmanMonteithInput in;
  in.temperature_c = 22.0;
  in.net_radiation_mj_m2 = 12.0;
  in.slope_kpa_c = saturation_slope_kpa_c(22.0);
  in.gamma_kpa_c = 0.066;
  in.vapour_pressure_deficit_kpa =
      0.34 * 0.408 * in.slope_kpa_c * 12.0 / (900.0 / 295.0 * (in.slope_kpa_c + in.gamma_kpa_c));
  CHECK(near(worth_of_wind(in), 0.0, 1e-12));
  in.wind_2m_m_s = 0.5;
  const double in_a_breeze = daily_reference_terms(in).total_mm();
  in.wind_2m_m_s = 12.0;
  CHECK(same(daily_reference_terms(in).total_mm(), in_a_breeze));
}

}  // namespace
}  // namespace wiltline::test
