// Humidity, and what a whole day makes of it: properties that hold for every input, next to the
// printed numbers of fao56_examples_test.cpp.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <string>
#include <tuple>
#include <vector>

#include "support/near.hpp"
#include "wiltline/evapotranspiration/daily.hpp"
#include "wiltline/evapotranspiration/psychrometrics.hpp"
#include "wiltline/evapotranspiration/radiation.hpp"
#include "wiltline/evapotranspiration/reference_et.hpp"
#include "wiltline/evapotranspiration/sun.hpp"

namespace wiltline::test {
namespace {

/// Equal but for the last bits.
Near same(double actual, double expected) {
  return near(actual, expected, 1e-12 * std::max(1.0, std::abs(expected)));
}

/// The numbers from `first` to `last` in steps, both included.
std::vector<double> steps(double first, double last, double step) {
  std::vector<double> result(static_cast<std::size_t>(std::lround((last - first) / step)) + 1);
  for (std::size_t i = 0; i < result.size(); ++i) {
    result[i] = first + static_cast<double>(i) * step;
  }
  return result;
}

Site a_site() {
  Site site;
  site.latitude_deg = 45.0;
  site.elevation_m = 200.0;
  return site;
}

const Date a_summer_day = make_date(2023, 7, 15);

/// A mild summer day of which everything was observed. The humidities contradict each other on
/// purpose, so that each route gives another vapour pressure.
WeatherDay fully_observed() {
  WeatherDay day;
  day.tmin_c = 14.0;
  day.tmax_c = 27.0;
  day.dew_point_c = 13.0;
  day.vapour_pressure_kpa = 1.4;
  day.rh_max_pct = 90.0;
  day.rh_min_pct = 45.0;
  day.rh_mean_pct = 60.0;
  day.wind_m_s = 2.5;
  day.solar_mj_m2 = 24.0;
  day.sunshine_h = 10.0;
  day.rain_mm = 0.0;
  return day;
}

/// Days from frost to heat, dark to clear, calm to stormy, damp to dry, at places up to the pole.
template <typename Check>
void for_many_days(Check check) {
  for (const double latitude_deg : {-60.0, -20.0, 0.0, 35.0, 52.0, 90.0}) {
    for (const Date date : {make_date(2023, 1, 10), make_date(2023, 4, 20), a_summer_day}) {
      for (const double tmin_c : {-8.0, 5.0, 22.0}) {
        for (const double range_c : {0.0, 6.0, 18.0}) {
          for (const double dew_point_below_c : {-4.0, 0.0, 12.0}) {
            for (const double wind_m_s : {0.0, 1.5, 9.0}) {
              for (const double clearness : {0.05, 0.3, 0.75}) {
                Site site = a_site();
                site.latitude_deg = latitude_deg;
                WeatherDay day;
                day.tmin_c = tmin_c;
                day.tmax_c = tmin_c + range_c;
                day.dew_point_c = tmin_c - dew_point_below_c;
                day.wind_m_s = wind_m_s;
                day.solar_mj_m2 = clearness * extraterrestrial_radiation_mj_m2(
                                                  radians(latitude_deg), day_of_year(date));
                CAPTURE(latitude_deg);
                CAPTURE(to_string(date));
                CAPTURE(tmin_c);
                CAPTURE(range_c);
                CAPTURE(dew_point_below_c);
                CAPTURE(wind_m_s);
                CAPTURE(clearness);
                check(reference_day(site, date, day));
              }
            }
          }
        }
      }
    }
  }
}

// Saturation pressure of pure water by the IAPWS Industrial Formulation 1997 (IAPWS-IF97), kPa,
// computed from the published formula. FAO-56's eq. 11 stays within 0.13 % of it from 0 to 50
// degrees.
TEST_CASE("saturation vapour pressure against IAPWS-IF97") {
  struct Steam {
    double temperature_c;
    double pressure_kpa;
  };
  constexpr std::array<Steam, 10> table{{{0.01, 0.61166},
                                         {5.0, 0.87257},
                                         {10.0, 1.22818},
                                         {15.0, 1.70574},
                                         {20.0, 2.33921},
                                         {25.0, 3.16975},
                                         {30.0, 4.24669},
                                         {35.0, 5.62862},
                                         {40.0, 7.38443},
                                         {45.0, 9.59439}}};
  for (const Steam& steam : table) {
    CAPTURE(steam.temperature_c);
    CHECK(near(saturation_vapour_pressure_kpa(steam.temperature_c), steam.pressure_kpa,
               0.0015 * steam.pressure_kpa));
  }
}

// Eq. 13's 4098 is 17.27 x 237.3 = 4098.17, rounded: 4e-5 of the slope.
TEST_CASE("slope of the saturation curve against the curve itself") {
  constexpr double step_c = 1e-3;
  for (const double temperature_c : steps(-30.0, 55.0, 0.5)) {
    CAPTURE(temperature_c);
    const double numeric = (saturation_vapour_pressure_kpa(temperature_c + step_c) -
                            saturation_vapour_pressure_kpa(temperature_c - step_c)) /
                           (2.0 * step_c);
    CHECK(near(saturation_slope_kpa_c(temperature_c), numeric, 1e-4 * numeric));
  }
}

TEST_CASE("more heat, more vapour; more height, less pressure") {
  for (const double temperature_c : steps(-40.0, 59.5, 0.5)) {
    CAPTURE(temperature_c);
    CHECK(saturation_vapour_pressure_kpa(temperature_c + 0.5) >
          saturation_vapour_pressure_kpa(temperature_c));
    CHECK(saturation_slope_kpa_c(temperature_c + 0.5) > saturation_slope_kpa_c(temperature_c));
    // The curve is hollow, so the mean at the extremes lies above the value at the mean (eq. 12).
    CHECK(mean_saturation_vapour_pressure_kpa(temperature_c + 10.0, temperature_c) >
          saturation_vapour_pressure_kpa(mean_temperature_c(temperature_c + 10.0, temperature_c)));
    CHECK(same(mean_saturation_vapour_pressure_kpa(temperature_c, temperature_c),
               saturation_vapour_pressure_kpa(temperature_c)));
  }
  CHECK(same(atmospheric_pressure_kpa(0.0), 101.3));
  for (const double elevation_m : steps(-500.0, 8900.0, 100.0)) {
    CAPTURE(elevation_m);
    const double pressure = atmospheric_pressure_kpa(elevation_m);
    const double higher_up = atmospheric_pressure_kpa(elevation_m + 100.0);
    CHECK(higher_up < pressure);
    CHECK(higher_up > 0.0);
    CHECK(psychrometric_constant_kpa_c(higher_up) < psychrometric_constant_kpa_c(pressure));
  }
}

TEST_CASE("humidity there and back") {
  for (const double temperature_c : steps(-20.0, 50.0, 5.0)) {
    for (const double rh_pct : steps(0.0, 100.0, 12.5)) {
      CAPTURE(temperature_c);
      CAPTURE(rh_pct);
      const double vapour_pressure = hourly_vapour_pressure_kpa(temperature_c, rh_pct);
      CHECK(same(relative_humidity_pct(vapour_pressure, temperature_c), rh_pct));
      CHECK(same(vapour_pressure_from_rh_max_kpa(temperature_c, rh_pct), vapour_pressure));
    }
    CHECK(same(
        relative_humidity_pct(vapour_pressure_from_dew_point_kpa(temperature_c), temperature_c),
        100.0));
  }
}

TEST_CASE("routes to the vapour pressure agree where they mean the same air") {
  for (const double tmin_c : {-5.0, 8.0, 22.0}) {
    for (const double range_c : {0.0, 5.0, 20.0}) {
      for (const double rh_pct : {0.0, 35.0, 100.0}) {
        CAPTURE(tmin_c);
        CAPTURE(range_c);
        CAPTURE(rh_pct);
        const double tmax_c = tmin_c + range_c;
        CHECK(same(vapour_pressure_from_rh_max_min_kpa(tmax_c, tmin_c, rh_pct, rh_pct),
                   vapour_pressure_from_rh_mean_kpa(tmax_c, tmin_c, rh_pct)));
      }
      // One vapour pressure all day long, saturated at the lowest temperature: the dew point.
      const double tmax_c = tmin_c + range_c;
      const double vapour_pressure = vapour_pressure_from_dew_point_kpa(tmin_c);
      const double rh_min_pct = rh_min_from_dew_point_pct(tmin_c, tmax_c);
      CHECK(same(vapour_pressure_from_rh_max_kpa(tmin_c, 100.0), vapour_pressure));
      CHECK(same(vapour_pressure_from_rh_max_min_kpa(tmax_c, tmin_c, 100.0, rh_min_pct),
                 vapour_pressure));
      CHECK(rh_min_pct == rh_min_from_extremes_pct(tmin_c, tmax_c));
      CHECK(rh_min_pct <= 100.0 + 1e-12);
    }
  }
  CHECK(rh_min_from_dew_point_pct(10.0, 25.0) < rh_min_from_dew_point_pct(12.0, 25.0));
}

TEST_CASE("psychrometer: no depression is saturation, still air reads drier") {
  const double pressure = atmospheric_pressure_kpa(300.0);
  CHECK(vapour_pressure_from_psychrometer_kpa(21.0, 21.0, pressure, psychrometer_natural_per_c) ==
        saturation_vapour_pressure_kpa(21.0));
  const auto of = [&](double wet_bulb_c, double per_c) {
    return vapour_pressure_from_psychrometer_kpa(25.0, wet_bulb_c, pressure, per_c);
  };
  CHECK(of(18.0, psychrometer_ventilated_per_c) > of(18.0, psychrometer_natural_per_c));
  CHECK(of(18.0, psychrometer_natural_per_c) > of(18.0, psychrometer_indoor_per_c));
  CHECK(of(18.0, psychrometer_ventilated_per_c) > of(16.0, psychrometer_ventilated_per_c));
}

TEST_CASE("psychrometrics: NaN in gives NaN out") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  for (const double value : {atmospheric_pressure_kpa(nan),
                             psychrometric_constant_kpa_c(nan),
                             mean_temperature_c(nan, 1.0),
                             mean_temperature_c(1.0, nan),
                             saturation_vapour_pressure_kpa(nan),
                             mean_saturation_vapour_pressure_kpa(nan, 1.0),
                             mean_saturation_vapour_pressure_kpa(1.0, nan),
                             saturation_slope_kpa_c(nan),
                             relative_humidity_pct(nan, 1.0),
                             relative_humidity_pct(1.0, nan),
                             vapour_pressure_from_dew_point_kpa(nan),
                             vapour_pressure_from_psychrometer_kpa(nan, 1.0, 100.0, 0.0008),
                             vapour_pressure_from_psychrometer_kpa(1.0, nan, 100.0, 0.0008),
                             vapour_pressure_from_psychrometer_kpa(2.0, 1.0, nan, 0.0008),
                             vapour_pressure_from_rh_max_min_kpa(nan, 1.0, 90.0, 40.0),
                             vapour_pressure_from_rh_max_min_kpa(9.0, nan, 90.0, 40.0),
                             vapour_pressure_from_rh_max_min_kpa(9.0, 1.0, nan, 40.0),
                             vapour_pressure_from_rh_max_min_kpa(9.0, 1.0, 90.0, nan),
                             vapour_pressure_from_rh_max_kpa(nan, 90.0),
                             vapour_pressure_from_rh_max_kpa(1.0, nan),
                             vapour_pressure_from_rh_mean_kpa(nan, 1.0, 60.0),
                             vapour_pressure_from_rh_mean_kpa(9.0, nan, 60.0),
                             vapour_pressure_from_rh_mean_kpa(9.0, 1.0, nan),
                             hourly_vapour_pressure_kpa(nan, 60.0),
                             hourly_vapour_pressure_kpa(9.0, nan),
                             rh_min_from_dew_point_pct(nan, 9.0),
                             rh_min_from_dew_point_pct(1.0, nan),
                             rh_min_from_extremes_pct(nan, 9.0),
                             rh_min_from_extremes_pct(1.0, nan)}) {
    CHECK(std::isnan(value));
  }
}

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
  CHECK(daily_soil_heat_flux_mj_m2 == 0.0);
  // Two metres of such soil are the 0.14 of eq. 44, and half of that over two months eq. 43's 0.07.
  CHECK(same(soil_heat_flux_mj_m2(2.1, 17.0, 14.0, 30.0, 2.0),
             monthly_soil_heat_flux_so_far_mj_m2(14.0, 17.0)));
  CHECK(same(soil_heat_flux_mj_m2(2.1, 17.0, 14.0, 60.0, 2.0),
             monthly_soil_heat_flux_mj_m2(14.0, 17.0)));
}

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

TEST_CASE("a day's two terms are FAO-56 eq. 6, and add up to it") {
  for_many_days([](const ReferenceDay& day) {
    const double deficit = day.vapour_pressure_deficit_kpa();
    const double whole =
        (0.408 * day.slope_kpa_c * day.rn_mj_m2 +
         day.gamma_kpa_c * 900.0 / (day.temperature_c + 273.0) * day.wind_2m_m_s * deficit) /
        (day.slope_kpa_c + day.gamma_kpa_c * (1.0 + 0.34 * day.wind_2m_m_s));
    CHECK(same(day.et0.total_mm(), whole));
    CHECK(day.et0.radiation_mm + day.et0.air_mm == day.et0.total_mm());
    CHECK(std::isfinite(whole));
    CHECK(day.et0.air_mm >= 0.0);
    CHECK(same(day.rn_mj_m2, day.rns_mj_m2 - day.rnl_mj_m2));
    CHECK(day.wind_2m_m_s >= 0.0);
  });
}

TEST_CASE("humidity: the best of what was observed, in FAO-56's order") {
  WeatherDay day = fully_observed();
  const auto takes = [&day](HumiditySource source, double vapour_pressure_kpa) {
    const ReferenceDay result = reference_day(a_site(), a_summer_day, day);
    CAPTURE(std::string(describe(result.humidity_source)));
    CHECK(result.humidity_source == source);
    CHECK(same(result.vapour_pressure_kpa, vapour_pressure_kpa));
    CHECK(result.humidity_estimated() == (source == HumiditySource::tmin));
    CHECK(result.estimated() == (source == HumiditySource::tmin ? "humidity" : "-"));
  };
  const double at_tmin = saturation_vapour_pressure_kpa(day.tmin_c);
  const double at_tmax = saturation_vapour_pressure_kpa(day.tmax_c);
  takes(HumiditySource::dew_point, saturation_vapour_pressure_kpa(13.0));
  day.dew_point_c.reset();
  takes(HumiditySource::vapour_pressure, 1.4);
  day.vapour_pressure_kpa.reset();
  takes(HumiditySource::rh_max_min, (0.90 * at_tmin + 0.45 * at_tmax) / 2.0);
  day.rh_min_pct.reset();
  takes(HumiditySource::rh_max, 0.90 * at_tmin);
  day.rh_max_pct.reset();
  takes(HumiditySource::rh_mean, 0.60 * (at_tmin + at_tmax) / 2.0);
  day.rh_min_pct = 45.0;  // without the highest, the lowest says nothing
  takes(HumiditySource::rh_mean, 0.60 * (at_tmin + at_tmax) / 2.0);
  day.rh_mean_pct.reset();
  takes(HumiditySource::tmin, at_tmin);
  day.rh_min_pct.reset();
  takes(HumiditySource::tmin, at_tmin);

  MissingDataOptions dry_site;
  dry_site.dew_point_offset_c = 2.5;
  CHECK(same(reference_day(a_site(), a_summer_day, day, dry_site).vapour_pressure_kpa,
             saturation_vapour_pressure_kpa(day.tmin_c - 2.5)));
  // The offset is for what is missing, not for what was observed.
  CHECK(reference_day(a_site(), a_summer_day, fully_observed(), dry_site).vapour_pressure_kpa ==
        reference_day(a_site(), a_summer_day, fully_observed()).vapour_pressure_kpa);
}

TEST_CASE("radiation: the best of what was observed, in FAO-56's order") {
  WeatherDay day = fully_observed();
  const auto result = [&day](const MissingDataOptions& options = {}) {
    return reference_day(a_site(), a_summer_day, day, options);
  };
  CHECK(result().radiation_source == RadiationSource::measured);
  CHECK(result().rs_mj_m2 == 24.0);
  CHECK(result().estimated() == "-");

  day.solar_mj_m2.reset();
  CHECK(result().radiation_source == RadiationSource::sunshine);
  CHECK(same(result().rs_mj_m2, (0.25 + 0.50 * 10.0 / result().daylight_h) * result().ra_mj_m2));
  CHECK(result().estimated() == "-");
  day.sunshine_h = 24.0;  // more than there is daylight: held at the daylight
  CHECK(same(result().rs_mj_m2, 0.75 * result().ra_mj_m2));

  day.sunshine_h.reset();
  CHECK(result().radiation_source == RadiationSource::temperature_range);
  CHECK(result().radiation_estimated());
  CHECK(result().estimated() == "radiation");
  const double root_of_range = std::sqrt(day.tmax_c - day.tmin_c);
  CHECK(same(result().rs_mj_m2, 0.16 * root_of_range * result().ra_mj_m2));
  MissingDataOptions coast;
  coast.range_coefficient = 0.19;
  CHECK(same(result(coast).rs_mj_m2, 0.19 * root_of_range * result().ra_mj_m2));
  day.tmax_c = day.tmin_c + 40.0;  // would be brighter than a clear sky: held there
  CHECK(result().rs_mj_m2 == result().rso_mj_m2);
}

TEST_CASE("wind: measured and brought to 2 m, calm stays calm, else 2 m/s") {
  WeatherDay day = fully_observed();
  Site site = a_site();
  const auto result = [&] { return reference_day(site, a_summer_day, day); };
  // FAO-56's table of eq. 47 prints 1.000 for a sensor at 2 m.
  CHECK(near(wind_height_factor(2.0), 1.0, 0.0005));
  CHECK(result().wind_source == WindSource::measured);
  CHECK(near(result().wind_2m_m_s, 2.5, 0.0005 * 2.5));
  site.wind_height_m = 10.0;
  CHECK(same(result().wind_2m_m_s, wind_at_2m_m_s(2.5, 10.0)));
  CHECK(result().wind_2m_m_s < 2.5);

  // What was measured is used as measured: the paper's advice to count at least 0.5 m/s is not
  // taken.
  for (const double calm_m_s : {0.0, 0.1, 0.4}) {
    CAPTURE(calm_m_s);
    day.wind_m_s = calm_m_s;
    CHECK(same(result().wind_2m_m_s, wind_at_2m_m_s(calm_m_s, 10.0)));
    CHECK(result().wind_source == WindSource::measured);
    CHECK(result().estimated() == "-");
    CHECK((result().et0.air_mm == 0.0) == (calm_m_s == 0.0));
  }
  day.wind_m_s.reset();
  CHECK(result().wind_2m_m_s == 2.0);  // of the height of a sensor that is not there
  CHECK(result().wind_source == WindSource::assumed);
  CHECK(result().wind_estimated());
  CHECK(result().estimated() == "wind");
}

WeatherDay without_humidity(WeatherDay day) {
  day.dew_point_c.reset();
  day.vapour_pressure_kpa.reset();
  day.rh_max_pct.reset();
  day.rh_min_pct.reset();
  day.rh_mean_pct.reset();
  return day;
}

WeatherDay without_radiation(WeatherDay day) {
  day.solar_mj_m2.reset();
  day.sunshine_h.reset();
  return day;
}

WeatherDay without_wind(WeatherDay day) {
  day.wind_m_s.reset();
  return day;
}

WeatherDay filled(WeatherDay day) {
  day.filled = true;
  return day;
}

TEST_CASE("what was estimated, in words") {
  const auto estimated = [](const WeatherDay& day) {
    return reference_day(a_site(), a_summer_day, day).estimated();
  };
  const WeatherDay all = fully_observed();
  const WeatherDay no_humidity = without_humidity(all);
  const WeatherDay no_radiation = without_radiation(all);
  const WeatherDay neither = without_radiation(no_humidity);
  CHECK(estimated(all) == "-");
  CHECK(estimated(no_humidity) == "humidity");
  CHECK(estimated(no_radiation) == "radiation");
  CHECK(estimated(neither) == "humidity+radiation");
  CHECK(estimated(without_wind(all)) == "wind");
  CHECK(estimated(without_wind(no_humidity)) == "humidity+wind");
  CHECK(estimated(without_wind(no_radiation)) == "radiation+wind");
  CHECK(estimated(without_wind(neither)) == "humidity+radiation+wind");
  CHECK(estimated(filled(all)) == "day");
  CHECK(estimated(filled(no_humidity)) == "humidity+day");
  CHECK(estimated(filled(no_radiation)) == "radiation+day");
  CHECK(estimated(filled(neither)) == "humidity+radiation+day");
  CHECK(estimated(filled(without_wind(all))) == "wind+day");
  CHECK(estimated(filled(without_wind(no_humidity))) == "humidity+wind+day");
  CHECK(estimated(filled(without_wind(no_radiation))) == "radiation+wind+day");
  CHECK(estimated(filled(without_wind(neither))) == "humidity+radiation+wind+day");
}

TEST_CASE("how often each source was used") {
  const WeatherDay poor = filled(without_humidity(fully_observed()));
  SourceCounts counts;
  counts.count(reference_day(a_site(), a_summer_day, fully_observed()));
  CHECK(!counts.anything_estimated());
  CHECK(counts.lines() ==
        std::vector<std::string>{"humidity from dew point", "radiation measured", "wind measured"});
  counts.count(reference_day(a_site(), a_summer_day, poor));
  counts.count(reference_day(a_site(), a_summer_day, poor));
  CHECK(counts.anything_estimated());
  CHECK(counts.days == 3);
  CHECK(counts.days_filled == 2);
  const std::vector<std::string> lines = counts.lines();
  CHECK(lines.size() == 4);
  CHECK(lines[0] ==
        "humidity from dew point on 1 of 3 days, estimated from the lowest temperature on 2 of 3 "
        "days");
}

TEST_CASE("air damper than the day's mean saturation: no deficit, never a negative one") {
  WeatherDay day = fully_observed();
  day.dew_point_c = day.tmax_c + 1.0;
  const ReferenceDay result = reference_day(a_site(), a_summer_day, day);
  CHECK(result.vapour_pressure_kpa > result.es_kpa);
  CHECK(result.vapour_pressure_deficit_kpa() == 0.0);
  CHECK(result.et0.air_mm == 0.0);
  CHECK(result.et0.radiation_mm > 0.0);
}

TEST_CASE("polar night: nothing shines, everything is finite") {
  Site pole = a_site();
  pole.latitude_deg = 90.0;
  WeatherDay day = fully_observed();
  for (const bool observed : {true, false}) {
    day.tmin_c = -30.0;
    day.tmax_c = -22.0;
    day.dew_point_c = -33.0;
    day.solar_mj_m2.reset();
    day.sunshine_h.reset();
    if (observed) day.sunshine_h = 0.0;
    const ReferenceDay result = reference_day(pole, make_date(2023, 12, 21), day);
    CHECK(result.daylight_h == 0.0);
    CHECK(result.rs_mj_m2 == 0.0);
    CHECK(result.rn_mj_m2 < 0.0);
    CHECK(std::isfinite(result.et0.total_mm()));
  }
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

TEST_CASE("more wind through a whole day, damp and dry") {
  WeatherDay day = fully_observed();
  const auto et0_at = [&day](double wind_m_s) {
    day.wind_m_s = wind_m_s;
    return reference_day(a_site(), a_summer_day, day).et0.total_mm();
  };
  day.dew_point_c = 4.0;
  CHECK(et0_at(6.0) > et0_at(2.0));
  day.dew_point_c = 21.5;
  CHECK(et0_at(6.0) < et0_at(2.0));
}

/// A spot with nothing around it has exactly the open site's terms.
bool neutral_spot_is_open(const ReferenceDay& day) {
  const ReferenceTerms spot = reference_terms_at(day, SpotExposure{});
  return spot.radiation_mm == day.et0.radiation_mm && spot.air_mm == day.et0.air_mm;
}

TEST_CASE("a spot in the open has the open site's terms") {
  for_many_days([](const ReferenceDay& day) {
    if (day.rnl_mj_m2 >= 0.0) CHECK(neutral_spot_is_open(day));
  });
}

// Under very dark cloud (Rs/Rso below 0.26) eq. 39 turns net long-wave into a small gain.
TEST_CASE("a spot in the open has the open site's terms on the darkest days too") {
  int dark_days = 0;
  int different = 0;
  for_many_days([&](const ReferenceDay& day) {
    if (day.rnl_mj_m2 >= 0.0) return;
    ++dark_days;
    if (!neutral_spot_is_open(day)) ++different;
  });
  CHECK(dark_days > 100);
  CHECK(different == 0);
}

TEST_CASE("what shade, sky and shelter change at a spot") {
  for_many_days([](const ReferenceDay& day) {
    if (day.rnl_mj_m2 < 0.0) return;
    const double weight = term_weights(day.slope_kpa_c, day.gamma_kpa_c, day.wind_2m_m_s).radiation;
    const auto at = [&day](double radiation, double sky, double wind) {
      SpotExposure spot;
      spot.radiation_share = radiation;
      spot.sky_view = sky;
      spot.wind_share = wind;
      return reference_terms_at(day, spot);
    };
    // Short-wave by its share, long-wave by the sky seen: shade is not cloud.
    for (const auto& [radiation, sky] :
         {std::tuple(0.3, 1.0), std::tuple(1.0, 0.4), std::tuple(0.3, 0.4), std::tuple(0.0, 0.0)}) {
      const double net = radiation * day.rns_mj_m2 - sky * day.rnl_mj_m2;
      CHECK(same(at(radiation, sky, 1.0).radiation_mm, 0.408 * net * weight));
      CHECK(at(radiation, sky, 1.0).air_mm == day.et0.air_mm);
    }
    // Never a gain of long-wave: without sun there is nothing to evaporate with.
    for (const double sky : {0.0, 0.5, 1.0}) CHECK(at(0.0, sky, 1.0).radiation_mm <= 0.0);
    // The spot's wind in both terms: in still air the radiation term has all the energy.
    CHECK(at(1.0, 1.0, 0.0).air_mm == 0.0);
    const double calm_weight =
        term_weights(day.slope_kpa_c, day.gamma_kpa_c, 0.3 * day.wind_2m_m_s).radiation;
    CHECK(same(at(1.0, 1.0, 0.3).radiation_mm, 0.408 * day.rn_mj_m2 * calm_weight));
    // What warm surfaces give adds to net radiation, by the open site's sun.
    SpotExposure warm;
    warm.warm_share = 0.1;
    CHECK(same(reference_terms_at(day, warm).radiation_mm,
               0.408 * (day.rn_mj_m2 + 0.1 * day.rs_mj_m2) * weight));
    double before = 0.0;
    for (const double wind : {0.1, 0.4, 0.8, 1.0}) {
      const double air_mm = at(1.0, 1.0, wind).air_mm;
      CHECK(air_mm >= before);
      before = air_mm;
    }
    CHECK(before == day.et0.air_mm);
  });
}

TEST_CASE("diffuse share: all of it under full cloud, a little on a clear day") {
  for (const double overcast : {0.0, 0.1, 0.2}) CHECK(diffuse_share(overcast) == 1.0);
  for (const double clear : {0.75, 0.8, 1.0}) CHECK(same(diffuse_share(clear), 0.15));
  CHECK(same(diffuse_share(0.475), 0.575));  // half-way
  for (const double clearness : steps(0.0, 0.99, 0.01)) {
    CHECK(diffuse_share(clearness + 0.01) <= diffuse_share(clearness));
  }
}

}  // namespace
}  // namespace wiltline::test
