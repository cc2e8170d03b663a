// How the library gives what FAO Irrigation and Drainage Paper 56 prints in its worked examples 1
// to 20 and in the boxes of chapters 1 to 4.
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>
#include <string_view>

#include "handbook/chapters.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/evapotranspiration/daily.hpp"
#include "wiltline/evapotranspiration/psychrometrics.hpp"
#include "wiltline/evapotranspiration/radiation.hpp"
#include "wiltline/evapotranspiration/reference_et.hpp"
#include "wiltline/sun/sun.hpp"

namespace wiltline::test::printed {
namespace {

// Each of these takes a quantity as the row states it, or goes one step further back along the
// paper's chain. So the same line evaluates a row from printed, rounded operands and a row end to
// end.

double latitude_deg(const Inputs& in) {
  if (in.has("lat_deg")) return in["lat_deg"];
  const double degrees = in["deg"] + in["min"] / 60.0;
  return in.text("hemisphere") == "S" ? -degrees : degrees;
}

double latitude_rad(const Inputs& in) {
  return radians(latitude_deg(in));
}

/// The day of a row: month and day, or only its number J. Where both are stated they must agree.
Date date(const Inputs& in) {
  if (!in.has("month")) {
    return make_date(2023, 1, 1) + std::chrono::days(static_cast<int>(in["J"]) - 1);
  }
  const Date result = make_date(in["leap"] == 1.0 ? 2024 : 2023, static_cast<unsigned>(in["month"]),
                                static_cast<unsigned>(in["day"]));
  if (in.has("J") && day_of_year(result) != in["J"]) throw std::runtime_error("J is another day");
  return result;
}

int day_number(const Inputs& in) {
  return day_of_year(date(in));
}

double declination(const Inputs& in) {
  return solar_declination_rad(day_number(in));
}

double time_angle(const Inputs& in) {
  return solar_time_angle_rad(in["t_h"], day_number(in), in["Lz_degW"], in["Lm_degW"]);
}

/// Half the width of an hour's time angle (eq. 29, 30).
double half_period(const Inputs& in) {
  return std::numbers::pi * in["tl_h"] / 24.0;
}

double extraterrestrial(const Inputs& in) {
  if (in.has("Ra_MJ")) return in["Ra_MJ"];
  if (!in.has("tl_h")) return extraterrestrial_radiation_mj_m2(latitude_rad(in), day_number(in));
  return extraterrestrial_radiation_mj_m2_period(latitude_rad(in), day_number(in), time_angle(in),
                                                 in["tl_h"]);
}

double daylight(const Inputs& in) {
  return in.has("N_h") ? in["N_h"] : daylight_h(latitude_rad(in), day_number(in));
}

/// Hours of sunshine of a day, or of the mean day of a month.
double sunshine(const Inputs& in) {
  return in.has("n_h") ? in["n_h"] : in["sunshine_h"] / in["days"];
}

/// Solar radiation where extraterrestrial radiation is `ra`: by eq. 50 or 35.
double solar_of(const Inputs& in, double ra) {
  if (in.has("kRs")) {
    return solar_radiation_from_range_mj_m2(in["Tmax_C"], in["Tmin_C"], ra, in["kRs"]);
  }
  return solar_radiation_from_sunshine_mj_m2(sunshine(in), daylight(in), ra, in["as"], in["bs"]);
}

double solar(const Inputs& in) {
  return in.has("Rs_MJ") ? in["Rs_MJ"] : solar_of(in, extraterrestrial(in));
}

double clear_sky(const Inputs& in) {
  if (in.has("Rso_MJ")) return in["Rso_MJ"];
  if (in.has("z_m")) return clear_sky_radiation_mj_m2(extraterrestrial(in), in["z_m"]);
  return clear_sky_radiation_from_angstrom_mj_m2(extraterrestrial(in), in["as"], in["bs"]);
}

double relative_short_wave(const Inputs& in) {
  return in.has("Rs_Rso") ? in["Rs_Rso"] : solar(in) / clear_sky(in);
}

double pressure(const Inputs& in) {
  return in.has("P_kPa") ? in["P_kPa"] : atmospheric_pressure_kpa(in["z_m"]);
}

double gamma(const Inputs& in) {
  return in.has("gamma_kPa_C") ? in["gamma_kPa_C"] : psychrometric_constant_kpa_c(pressure(in));
}

double slope(const Inputs& in) {
  return in.has("Delta_kPa_C") ? in["Delta_kPa_C"] : saturation_slope_kpa_c(in["T_C"]);
}

/// Of an hour if the row has one temperature, of a day if it has two.
double saturation(const Inputs& in) {
  if (in.has("T_C")) return saturation_vapour_pressure_kpa(in["T_C"]);
  return mean_saturation_vapour_pressure_kpa(in["Tmax_C"], in["Tmin_C"]);
}

double vapour_pressure(const Inputs& in) {
  if (in.has("ea_kPa")) return in["ea_kPa"];
  if (in.has("RH_pct")) return hourly_vapour_pressure_kpa(in["T_C"], in["RH_pct"]);
  if (in.has("Twet_C")) {
    in.expect("apsy_per_C", psychrometer_ventilated_per_c);
    return vapour_pressure_from_psychrometer_kpa(in["Tdry_C"], in["Twet_C"], pressure(in),
                                                 psychrometer_ventilated_per_c);
  }
  if (in.has("RHmax_pct")) {
    return vapour_pressure_from_rh_max_min_kpa(in["Tmax_C"], in["Tmin_C"], in["RHmax_pct"],
                                               in["RHmin_pct"]);
  }
  if (in.has("RHmean_pct")) {
    return vapour_pressure_from_rh_mean_kpa(in["Tmax_C"], in["Tmin_C"], in["RHmean_pct"]);
  }
  return vapour_pressure_from_dew_point_kpa(in["Tmin_C"]);  // eq. 48
}

double net_short_wave(const Inputs& in) {
  return in.has("Rns_MJ") ? in["Rns_MJ"] : net_short_wave_mj_m2(solar(in), in["albedo"]);
}

/// Of an hour if the row has one temperature, of a day if it has two.
double net_long_wave(const Inputs& in) {
  if (in.has("Rnl_MJ")) return in["Rnl_MJ"];
  if (in.has("T_C")) {
    return hourly_net_long_wave_mj_m2(in["T_C"], vapour_pressure(in), relative_short_wave(in));
  }
  return net_long_wave_mj_m2(in["Tmax_C"], in["Tmin_C"], vapour_pressure(in),
                             relative_short_wave(in));
}

ReferenceDay day_of(const Inputs& in);

/// From its parts, or of the whole day where the row says how high the site lies.
double net_radiation(const Inputs& in) {
  if (in.has("Rn_MJ")) return in["Rn_MJ"];
  if (in.has("Tmax_C") && in.has("z_m")) return day_of(in).rn_mj_m2;
  return net_radiation_mj_m2(net_short_wave(in), net_long_wave(in));
}

double soil_heat(const Inputs& in) {
  if (in.has("G_MJ")) return in["G_MJ"];
  if (in.has("night")) return hourly_soil_heat_flux_mj_m2(net_radiation(in), in["night"] == 1.0);
  if (in.has("Tnext_C")) return monthly_soil_heat_flux_mj_m2(in["Tprev_C"], in["Tnext_C"]);
  return monthly_soil_heat_flux_so_far_mj_m2(in["Tprev_C"], in["Tmonth_C"]);
}

/// Rn - G.
double available(const Inputs& in) {
  return in.has("available_MJ") ? in["available_MJ"] : net_radiation(in) - soil_heat(in);
}

/// The day of a row through the library's whole chain. Wind stated as u2 is of a sensor at 2 m.
ReferenceDay day_of(const Inputs& in) {
  in.expect("albedo", grass_albedo);
  in.expect("as", angstrom_a);
  in.expect("bs", angstrom_b);
  Site site;
  site.latitude_deg = latitude_deg(in);
  site.elevation_m = in["z_m"];
  site.wind_height_m = in.if_stated("wind_height_m").value_or(2.0);
  WeatherDay day;
  day.tmin_c = in["Tmin_C"];
  day.tmax_c = in["Tmax_C"];
  day.vapour_pressure_kpa = in.if_stated("ea_kPa");
  day.rh_max_pct = in.if_stated("RHmax_pct");
  day.rh_min_pct = in.if_stated("RHmin_pct");
  day.sunshine_h = in.if_stated("n_h");
  day.wind_m_s = in.if_stated("u2_m_s");
  if (in.has("wind_km_h")) day.wind_m_s = in["wind_km_h"] * units::m_s_per_km_h;
  MissingDataOptions options;
  options.range_coefficient = in.if_stated("kRs").value_or(options.range_coefficient);
  options.dew_point_offset_c =
      in.if_stated("dew_point_offset_C").value_or(options.dew_point_offset_c);
  return reference_day(site, date(in), day, options);
}

/// ET0's terms of an hour, if the row has one temperature; of a day, or of a month's mean day with
/// its soil heat, if it has two.
ReferenceTerms reference_terms(const Inputs& in) {
  if (in.has("T_C")) {
    return hourly_reference_terms(
        {.temperature_c = in["T_C"],
         .net_radiation_mj_m2 = net_radiation_mj_m2(net_short_wave(in), net_long_wave(in)),
         .soil_heat_mj_m2 = soil_heat(in),
         .wind_2m_m_s = in["u2_m_s"],
         .vapour_pressure_deficit_kpa = saturation(in) - vapour_pressure(in),
         .slope_kpa_c = slope(in),
         .gamma_kpa_c = gamma(in)});
  }
  const ReferenceDay day = day_of(in);
  if (!in.has("Tmonth_C")) return day.et0;
  return daily_reference_terms({.temperature_c = day.temperature_c,
                                .net_radiation_mj_m2 = day.rn_mj_m2,
                                .soil_heat_mj_m2 = soil_heat(in),
                                .wind_2m_m_s = day.wind_2m_m_s,
                                .vapour_pressure_deficit_kpa = day.vapour_pressure_deficit_kpa(),
                                .slope_kpa_c = day.slope_kpa_c,
                                .gamma_kpa_c = day.gamma_kpa_c});
}

/// Eq. 33. The library keeps b to itself, so it is checked by what eq. 32 makes of it.
double season_angle(const Inputs& in) {
  const double b = 2.0 * std::numbers::pi * (day_number(in) - 81) / 364.0;
  const double correction = 0.1645 * std::sin(2.0 * b) - 0.1255 * std::cos(b) - 0.025 * std::sin(b);
  if (std::abs(seasonal_correction_h(day_number(in)) - correction) > 1e-12) {
    throw std::runtime_error("b does not lead to the seasonal correction");
  }
  return b;
}

/// Eq. 6's radiation term from printed factors: without wind, slope and gamma that add up to 1 are
/// the weights themselves.
double radiation_term_of_printed_factors(const Inputs& in) {
  const double weight = in["radiation_weight"];
  return daily_reference_terms(
             {.net_radiation_mj_m2 = in["depth_mm"] / equivalent_evaporation_mm(1.0),
              .slope_kpa_c = weight,
              .gamma_kpa_c = 1.0 - weight})
      .radiation_mm;
}

/// Eq. 6's air term from printed factors: at 627 degrees 900/(T + 273) is 1, so the wind is the
/// printed 900 u2/(T + 273); the slope is the one that gives the printed weight at a gamma of 1.
double air_term_of_printed_factors(const Inputs& in) {
  const double wind = in["wind_factor"];
  return daily_reference_terms({.temperature_c = 627.0,
                                .wind_2m_m_s = wind,
                                .vapour_pressure_deficit_kpa = in["deficit_kPa"],
                                .slope_kpa_c = 1.0 / in["air_weight"] - (1.0 + 0.34 * wind),
                                .gamma_kpa_c = 1.0})
      .air_mm;
}

}  // namespace

ReferenceTerms terms_of(const Inputs& in) {
  return reference_terms(in);
}

const Table& chapters_2_to_4() {
  static const Table once(WILTLINE_TEST_DATA "/reference/fao56-chapters-2-4.csv");
  return once;
}

const Evaluations& arithmetic_2_to_4() {
  static const Evaluations all{
      {"RHmean", [](const Inputs& in) { return (in["RHmax_pct"] + in["RHmin_pct"]) / 2.0; }},
      {"latitude", latitude_deg},
      {"sin(phi)*sin(delta)",
       [](const Inputs& in) { return std::sin(latitude_rad(in)) * std::sin(declination(in)); }},
      {"cos(phi)*cos(delta)",
       [](const Inputs& in) { return std::cos(latitude_rad(in)) * std::cos(declination(in)); }},
      {"b", season_angle},
  };
  return all;
}

const Evaluations& evaluations_2_to_4() {
  static const Evaluations all{
      // Air and humidity
      {"P", pressure},
      {"gamma", gamma},
      {"e0", [](const Inputs& in) { return saturation_vapour_pressure_kpa(in["T_C"]); }},
      {"es", saturation},
      {"ea", vapour_pressure},
      {"es-ea", [](const Inputs& in) { return saturation(in) - vapour_pressure(in); }},
      {"Tmean", [](const Inputs& in) { return mean_temperature_c(in["Tmax_C"], in["Tmin_C"]); }},
      {"Delta", slope},
      {"RHmax", [](const Inputs& in) { return relative_humidity_pct(in["ea_kPa"], in["Tmin_C"]); }},
      {"RHmin",
       [](const Inputs& in) { return rh_min_from_extremes_pct(in["Tmin_C"], in["Tmax_C"]); }},

      // Sun
      {"phi", latitude_rad},
      {"J", [](const Inputs& in) { return static_cast<double>(day_number(in)); }},
      {"dr", [](const Inputs& in) { return inverse_relative_distance(day_number(in)); }},
      {"delta", declination},
      {"ws",
       [](const Inputs& in) { return sunset_hour_angle_rad(latitude_rad(in), declination(in)); }},
      {"Sc", [](const Inputs& in) { return seasonal_correction_h(day_number(in)); }},
      {"omega", time_angle},
      {"omega1", [](const Inputs& in) { return time_angle(in) - half_period(in); }},
      {"omega2", [](const Inputs& in) { return time_angle(in) + half_period(in); }},
      {"N", daylight},
      {"24*60/pi*Gsc",  // eq. 21 at the equator, where the sunset hour angle is pi/2
       [](const Inputs& in) {
         in.expect("Gsc", solar_constant_mj_m2_min);
         constexpr int any_day = 100;
         return extraterrestrial_radiation_mj_m2(0.0, any_day) /
                (inverse_relative_distance(any_day) * std::cos(solar_declination_rad(any_day)));
       }},
      {"Ra", extraterrestrial},

      // Radiation
      {"n", sunshine},
      {"n/N", [](const Inputs& in) { return sunshine(in) / daylight(in); }},
      {"Rs/Ra", [](const Inputs& in) { return solar_of(in, 1.0); }},
      {"Rs", solar},
      {"Rso", clear_sky},
      {"Rs/Rso", relative_short_wave},
      {"Rns", net_short_wave},
      {"T in kelvin", [](const Inputs& in) { return in["T_C"] + long_wave_kelvin_offset; }},
      {"sigma*T^4", [](const Inputs& in) { return black_body_mj_m2(in["T_C"]); }},
      {"mean sigma*T^4",  // eq. 39 in dry air under a clear sky, but for its humidity factor
       [](const Inputs& in) {
         return net_long_wave_mj_m2(in["Tmax_C"], in["Tmin_C"], 0.0, 1.0) /
                long_wave_humidity_factor(0.0);
       }},
      {"hourly sigma*T^4",
       [](const Inputs& in) {
         return hourly_net_long_wave_mj_m2(in["T_C"], 0.0, 1.0) / long_wave_humidity_factor(0.0);
       }},
      {"humidity factor",
       [](const Inputs& in) { return long_wave_humidity_factor(vapour_pressure(in)); }},
      {"cloud factor",
       [](const Inputs& in) { return long_wave_cloud_factor(relative_short_wave(in)); }},
      {"Rnl", net_long_wave},
      {"Rn", net_radiation},
      {"G", soil_heat},
      {"Rn-G", available},
      {"equivalent evaporation",
       [](const Inputs& in) { return equivalent_evaporation_mm(in["radiation_MJ"]); }},
      {"evaporated depth",
       [](const Inputs& in) {
         return equivalent_evaporation_mm(in["share"] * in["radiation_MJ"]);
       }},
      {"0.408*(Rn-G)", [](const Inputs& in) { return equivalent_evaporation_mm(available(in)); }},

      // Wind and resistances
      {"wind in m/s", [](const Inputs& in) { return in["wind_km_h"] * units::m_s_per_km_h; }},
      {"wind factor", [](const Inputs& in) { return wind_height_factor(in["wind_height_m"]); }},
      {"u2", [](const Inputs& in) { return wind_at_2m_m_s(in["uz_m_s"], in["wind_height_m"]); }},
      {"ra*u2",
       [](const Inputs& in) {
         in.expect("k", von_karman);
         in.expect("h_m", grass_height_m);
         return aerodynamic_resistance_s_m(grass_height_m, in["wind_height_m"],
                                           in["humidity_height_m"], 1.0);
       }},
      {"rs",
       [](const Inputs& in) { return grass_surface_resistance_s_m(in["rl_s_m"], in["h_m"]); }},

      // Reference ET
      {"1+0.34*u2",  // what gamma's weight is divided by where the slope is nothing
       [](const Inputs& in) { return 1.0 / term_weights(0.0, 1.0, in["u2_m_s"]).air; }},
      {"radiation weight",
       [](const Inputs& in) { return term_weights(slope(in), gamma(in), in["u2_m_s"]).radiation; }},
      {"air weight",
       [](const Inputs& in) { return term_weights(slope(in), gamma(in), in["u2_m_s"]).air; }},
      {"900*u2/(T+273)",  // eq. 6's air term at a deficit of 1 kPa, but for its weight
       [](const Inputs& in) {
         const PenmanMonteithInput input{.temperature_c = in["Tmean_C"],
                                         .wind_2m_m_s = in["u2_m_s"],
                                         .vapour_pressure_deficit_kpa = 1.0,
                                         .slope_kpa_c = 1.0,
                                         .gamma_kpa_c = 1.0};
         return daily_reference_terms(input).air_mm / term_weights(1.0, 1.0, input.wind_2m_m_s).air;
       }},
      {"radiation term of printed factors", radiation_term_of_printed_factors},
      {"air term of printed factors", air_term_of_printed_factors},
      {"sum of terms",
       [](const Inputs& in) {
         return ReferenceTerms{.radiation_mm = in["radiation_mm"], .air_mm = in["air_mm"]}
             .total_mm();
       }},
      {"radiation term", [](const Inputs& in) { return reference_terms(in).radiation_mm; }},
      {"air term", [](const Inputs& in) { return reference_terms(in).air_mm; }},
      {"ET0", [](const Inputs& in) { return reference_terms(in).total_mm(); }},
      {"ET0 from temperature",
       [](const Inputs& in) {
         return hargreaves_et0_mm(in["Tmax_C"], in["Tmin_C"], extraterrestrial(in));
       }},
  };
  return all;
}

}  // namespace wiltline::test::printed
