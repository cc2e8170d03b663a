#include "wiltline/evapotranspiration/daily.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "wiltline/base/errors.hpp"
#include "wiltline/evapotranspiration/psychrometrics.hpp"
#include "wiltline/evapotranspiration/radiation.hpp"
#include "wiltline/sun/sky_limit.hpp"
#include "wiltline/sun/sun.hpp"

namespace wiltline {
namespace {

struct VapourPressure {
  double kpa;
  HumiditySource source;
};

/// FAO-56 chapter 3's order of preference. A measured vapour pressure ranks with the dew point, of
/// which it is the direct equivalent.
VapourPressure best_vapour_pressure(const WeatherDay& day, double dew_point_offset_c) {
  if (day.dew_point_c) {
    return {vapour_pressure_from_dew_point_kpa(*day.dew_point_c), HumiditySource::dew_point};
  }
  if (day.vapour_pressure_kpa) return {*day.vapour_pressure_kpa, HumiditySource::vapour_pressure};
  if (day.rh_max_pct && day.rh_min_pct) {
    return {vapour_pressure_from_rh_max_min_kpa(day.tmax_c, day.tmin_c, *day.rh_max_pct,
                                                *day.rh_min_pct),
            HumiditySource::rh_max_min};
  }
  if (day.rh_max_pct) {
    return {vapour_pressure_from_rh_max_kpa(day.tmin_c, *day.rh_max_pct), HumiditySource::rh_max};
  }
  if (day.rh_mean_pct) {
    return {vapour_pressure_from_rh_mean_kpa(day.tmax_c, day.tmin_c, *day.rh_mean_pct),
            HumiditySource::rh_mean};
  }
  return {saturation_vapour_pressure_kpa(day.tmin_c - dew_point_offset_c), HumiditySource::tmin};
}

struct SolarRadiation {
  double mj_m2;
  RadiationSource source;
};

SolarRadiation best_solar_radiation(const WeatherDay& day, double ra_mj_m2, double daylight,
                                    double rso_mj_m2, double range_coefficient) {
  if (day.solar_mj_m2) return {*day.solar_mj_m2, RadiationSource::measured};
  if (day.sunshine_h) {
    const double sunshine_h = std::min(*day.sunshine_h, daylight);
    return {solar_radiation_from_sunshine_mj_m2(sunshine_h, daylight, ra_mj_m2),
            RadiationSource::sunshine};
  }
  // Temperatures are often whole degrees: a range of nothing is one of less than a degree, not a
  // day without sun.
  constexpr double rounding_c = 1.0;
  const double tmax_c = std::max(day.tmax_c, day.tmin_c + rounding_c);
  return {
      std::min(solar_radiation_from_range_mj_m2(tmax_c, day.tmin_c, ra_mj_m2, range_coefficient),
               rso_mj_m2),
      RadiationSource::temperature_range};
}

/// Rs/Rso for the cloud factor.
double relative_short_wave(double rs_mj_m2, double rso_mj_m2) {
  constexpr double no_sun_mj_m2 = 1e-9;
  // While nothing shines, in the polar night: half-clouded (judged, 0.3 to 0.8).
  constexpr double polar_night_clearness = 0.5;
  return rso_mj_m2 > no_sun_mj_m2 ? std::min(rs_mj_m2 / rso_mj_m2, 1.0) : polar_night_clearness;
}

}  // namespace

std::string_view describe(HumiditySource source) {
  static constexpr std::array<std::string_view, 6> words{
      "from dew point",
      "from vapour pressure",
      "from highest and lowest relative humidity",
      "from highest relative humidity",
      "from mean relative humidity",
      "estimated from the lowest temperature"};
  return words[static_cast<std::size_t>(source)];
}

std::string_view describe(RadiationSource source) {
  static constexpr std::array<std::string_view, 3> words{"measured", "from hours of sunshine",
                                                         "estimated from the temperature range"};
  return words[static_cast<std::size_t>(source)];
}

std::string_view describe(WindSource source) {
  return source == WindSource::measured ? "measured" : "estimated at 2 m/s";
}

std::string ReferenceDay::estimated() const {
  std::string result;
  const auto add = [&](bool estimated, std::string_view name) {
    if (!estimated) return;
    if (!result.empty()) result += '+';
    result += name;
  };
  add(humidity_estimated(), "humidity");
  add(radiation_estimated(), "radiation");
  add(wind_estimated(), "wind");
  add(day_filled, "day");
  return result.empty() ? "-" : result;
}

double ReferenceDay::vapour_pressure_deficit_kpa() const {
  return std::max(es_kpa - vapour_pressure_kpa, 0.0);
}

namespace {

/// What all days of a site have in common.
struct SiteTerms {
  double pressure_kpa;
  double gamma_kpa_c;
  double wind_factor;  // from the sensor's height to 2 m
};

SiteTerms terms_of(const Site& site) {
  const double pressure_kpa = atmospheric_pressure_kpa(site.elevation_m);
  return {.pressure_kpa = pressure_kpa,
          .gamma_kpa_c = psychrometric_constant_kpa_c(pressure_kpa),
          .wind_factor = wind_height_factor(site.wind_height_m)};
}

ReferenceDay reference_day(const Site& site, const SiteTerms& terms, const SkyLimit& sky,
                           const WeatherDay& day, const MissingDataOptions& options) {
  ReferenceDay result;
  result.day_filled = day.filled;
  result.temperature_c = mean_temperature_c(day.tmax_c, day.tmin_c);
  result.pressure_kpa = terms.pressure_kpa;
  result.gamma_kpa_c = terms.gamma_kpa_c;
  result.es_kpa = mean_saturation_vapour_pressure_kpa(day.tmax_c, day.tmin_c);
  const VapourPressure humidity = best_vapour_pressure(day, options.dew_point_offset_c);
  result.vapour_pressure_kpa = humidity.kpa;
  result.humidity_source = humidity.source;
  result.slope_kpa_c = saturation_slope_kpa_c(result.temperature_c);

  result.ra_mj_m2 = sky.radiation_mj_m2;
  result.daylight_h = sky.daylight_h;
  result.rso_mj_m2 = clear_sky_radiation_mj_m2(result.ra_mj_m2, site.elevation_m);
  const SolarRadiation solar = best_solar_radiation(day, result.ra_mj_m2, result.daylight_h,
                                                    result.rso_mj_m2, options.range_coefficient);
  result.rs_mj_m2 = solar.mj_m2;
  result.radiation_source = solar.source;
  result.rns_mj_m2 = net_short_wave_mj_m2(result.rs_mj_m2);
  result.rnl_mj_m2 = net_long_wave_mj_m2(day.tmax_c, day.tmin_c, result.vapour_pressure_kpa,
                                         relative_short_wave(result.rs_mj_m2, result.rso_mj_m2));
  result.rn_mj_m2 = net_radiation_mj_m2(result.rns_mj_m2, result.rnl_mj_m2);

  result.wind_source = day.wind_m_s ? WindSource::measured : WindSource::assumed;
  result.wind_2m_m_s = day.wind_m_s ? *day.wind_m_s * terms.wind_factor : missing_wind_m_s;

  result.et0 =
      daily_reference_terms({.temperature_c = result.temperature_c,
                             .net_radiation_mj_m2 = result.rn_mj_m2,
                             .soil_heat_mj_m2 = daily_soil_heat_flux_mj_m2,
                             .wind_2m_m_s = result.wind_2m_m_s,
                             .vapour_pressure_deficit_kpa = result.vapour_pressure_deficit_kpa(),
                             .slope_kpa_c = result.slope_kpa_c,
                             .gamma_kpa_c = result.gamma_kpa_c});
  return result;
}

}  // namespace

ReferenceDay reference_day(const Site& site, Date date, const WeatherDay& day,
                           const MissingDataOptions& options) {
  return reference_day(site, terms_of(site), sky_limit(site.latitude_deg, day_of_year(date)), day,
                       options);
}

std::vector<ReferenceDay> reference_days(const WeatherRecord& record,
                                         const MissingDataOptions& options) {
  const Site& site = record.site();
  const SiteTerms terms = terms_of(site);
  SkyLimits skies = record.skies();
  constexpr double least_mm = -1.5;
  constexpr int most_even_days = 2;  // (judged)
  constexpr double polar_night_mj_m2 = 1.0;
  int even_days = 0;
  ProblemList problems;
  std::vector<ReferenceDay> result;
  result.reserve(record.size());
  for (std::size_t i = 0; i < record.size(); ++i) {
    const SkyLimit& sky = skies.on(record.date(i));
    result.push_back(reference_day(site, terms, sky, record.day(i), options));
    const ReferenceDay& day = result.back();
    const bool even = record.day(i).tmin_c == record.day(i).tmax_c && day.radiation_estimated() &&
                      !day.day_filled && sky.radiation_mj_m2 > polar_night_mj_m2;
    even_days = even ? even_days + 1 : 0;
    if (even_days == most_even_days + 1) {
      problems.add({record.name(), 0, 0,
                    fmt::format("tmin equal to tmax on {} days running up to {}", even_days,
                                to_string(record.date(i))),
                    "the lowest and the highest temperature, from which radiation is estimated, or "
                    "radiation or sunshine itself (a mean in both columns?)"});
    }
    if (!(day.et0.total_mm() >= least_mm)) {
      problems.add(
          {record.name(), 0, 0,
           fmt::format("a reference evapotranspiration of {:.1f} mm on {}, from {:.1f} °C, "
                       "{:.2f} kPa of vapour and {:.1f} MJ/m2 of sun",
                       day.et0.total_mm(), to_string(record.date(i)), day.temperature_c,
                       day.vapour_pressure_kpa, day.rs_mj_m2),
           "weather of one place and day (latitude, elevation, units and dates together)"});
    }
  }
  problems.throw_if_any();
  return result;
}

WeatherRecord with_wind_height(const WeatherRecord& record, double height_m) {
  Site site = record.site();
  if (site.wind_height_m == height_m) return record;
  // Times this the wind at the old height is the wind at 2 m, and over the new one's that at it.
  const double factor = wind_height_factor(site.wind_height_m) / wind_height_factor(height_m);
  site.wind_height_m = height_m;
  std::vector<WeatherDay> days;
  days.reserve(record.size());
  for (std::size_t i = 0; i < record.size(); ++i) {
    days.push_back(record.day(i));
    if (days.back().wind_m_s) *days.back().wind_m_s *= factor;
  }
  return WeatherRecord(record.name(), site, record.first(), std::move(days), record.rain_observed())
      .as_generated(record.generated());
}

void SourceCounts::count(const ReferenceDay& day) {
  ++days;
  ++humidity[static_cast<std::size_t>(day.humidity_source)];
  ++radiation[static_cast<std::size_t>(day.radiation_source)];
  ++wind[static_cast<std::size_t>(day.wind_source)];
  if (day.day_filled) ++days_filled;
}

std::vector<std::string> SourceCounts::lines() const {
  const auto line = [this]<typename Source, std::size_t N>(
                        std::string_view what, const std::array<std::size_t, N>& counts, Source) {
    std::string text = fmt::format("{} ", what);
    bool first = true;
    for (std::size_t i = 0; i < N; ++i) {
      if (counts[i] == 0) continue;
      if (!first) text += ", ";
      first = false;
      text += describe(static_cast<Source>(i));
      if (counts[i] != days) text += fmt::format(" on {} of {} days", counts[i], days);
    }
    return text;
  };
  std::vector<std::string> result{line("humidity", humidity, HumiditySource{}),
                                  line("radiation", radiation, RadiationSource{}),
                                  line("wind", wind, WindSource{})};
  if (days_filled > 0) {
    result.push_back(
        fmt::format("{} of {} days filled in from the days around them", days_filled, days));
  }
  return result;
}

ReferenceTerms reference_terms_at(const ReferenceDay& open, const SpotExposure& spot) {
  return daily_reference_terms(
      {.temperature_c = open.temperature_c,
       .net_radiation_mj_m2 = net_radiation_mj_m2(open.rns_mj_m2 * spot.radiation_share,
                                                  open.rnl_mj_m2 * spot.sky_view) +
                              open.rs_mj_m2 * spot.warm_share,
       .soil_heat_mj_m2 = daily_soil_heat_flux_mj_m2,
       .wind_2m_m_s = open.wind_2m_m_s * spot.wind_share,
       .vapour_pressure_deficit_kpa = open.vapour_pressure_deficit_kpa(),
       .slope_kpa_c = open.slope_kpa_c,
       .gamma_kpa_c = open.gamma_kpa_c});
}

double diffuse_share(double clearness, const DiffuseLine& line) {
  const double clear_part = std::clamp(
      (clearness - line.overcast_clearness) / (line.clear_clearness - line.overcast_clearness), 0.0,
      1.0);
  return 1.0 - (1.0 - line.clear_share) * clear_part;
}

}  // namespace wiltline
