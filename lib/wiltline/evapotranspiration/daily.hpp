// From a day's weather to its reference evapotranspiration, whatever was measured: FAO-56 chapters
// 3 and 4, with the order of preference for humidity, radiation and wind that chapter 3 gives.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "wiltline/evapotranspiration/reference_et.hpp"
#include "wiltline/weather/weather_record.hpp"

namespace wiltline {

/// Where a day's vapour pressure came from, best first.
enum class HumiditySource {
  dew_point,        // eq. 14
  vapour_pressure,  // measured as such
  rh_max_min,       // eq. 17
  rh_max,           // eq. 18
  rh_mean,          // eq. 19
  tmin,             // eq. 48: estimated
};
/// Where a day's solar radiation came from, best first.
enum class RadiationSource {
  measured,
  sunshine,           // eq. 35
  temperature_range,  // eq. 50 of a range of 1 °C or more, held at clear-sky: estimated
};
/// Where a day's wind came from.
enum class WindSource {
  measured,  // brought to 2 m by eq. 47
  assumed,   // 2 m/s: estimated
};

/// In words, for counting and showing.
[[nodiscard]] std::string_view describe(HumiditySource source);
[[nodiscard]] std::string_view describe(RadiationSource source);
[[nodiscard]] std::string_view describe(WindSource source);

/// Choices where something was not measured.
struct MissingDataOptions {
  /// Degrees below tmin at which the dew point is taken when humidity is missing: 0, or 2 to 3 at a
  /// dry site (eq. 48).
  double dew_point_offset_c = 0.0;
  /// Eq. 50: 0.16 inland, 0.19 on a coast.
  double range_coefficient = 0.16;
  /// Rain that is unknown on some days of a record is taken as none there; else a question that
  /// needs rain refuses the record. A record without any rain column is taken as dry either way.
  bool unknown_rain_is_none = false;
};

/// Reference ET of a day with every intermediate. Radiation in MJ m-2 d-1.
struct ReferenceDay {
  double pressure_kpa = 0.0;
  double gamma_kpa_c = 0.0;
  double es_kpa = 0.0;
  double vapour_pressure_kpa = 0.0;
  double slope_kpa_c = 0.0;
  double ra_mj_m2 = 0.0;
  double daylight_h = 0.0;
  double rso_mj_m2 = 0.0;
  double rs_mj_m2 = 0.0;
  double rns_mj_m2 = 0.0;
  double rnl_mj_m2 = 0.0;
  double rn_mj_m2 = 0.0;
  double wind_2m_m_s = 0.0;
  ReferenceTerms et0;
  double temperature_c = 0.0;

  HumiditySource humidity_source = HumiditySource::tmin;
  RadiationSource radiation_source = RadiationSource::temperature_range;
  WindSource wind_source = WindSource::assumed;
  bool day_filled = false;

  [[nodiscard]] bool humidity_estimated() const { return humidity_source == HumiditySource::tmin; }
  [[nodiscard]] bool radiation_estimated() const {
    return radiation_source == RadiationSource::temperature_range;
  }
  [[nodiscard]] bool wind_estimated() const { return wind_source == WindSource::assumed; }
  /// `-`, or what was estimated joined by `+`: humidity, radiation, wind, day.
  [[nodiscard]] std::string estimated() const;
  /// Vapour pressure deficit es - ea, kPa, never below zero (a dew point above the day's mean would
  /// make it so).
  [[nodiscard]] double vapour_pressure_deficit_kpa() const;
};

/// Daily FAO-56 eq. 6 of one day at a site. Measured wind is used as measured: the 0.5 m/s that
/// chapter 3 advises as a least wind is not applied, since agencies that publish ET0 do not (with
/// it, calm days at one of them are up to 0.13 mm off instead of within rounding).
[[nodiscard]] ReferenceDay reference_day(const Site& site, Date date, const WeatherDay& day,
                                         const MissingDataOptions& options = {});

/// A record as a wind sensor at another height over the same grass would have read it (eq. 47).
[[nodiscard]] WeatherRecord with_wind_height(const WeatherRecord& record, double height_m);

/// Every day of a record, in order. Throws InputError for a day of less than -1.5 mm: the longest
/// clear night of a polar winter gives some -1 mm (judged), and readings that give less are not of
/// one place and day. Also for three days running whose lowest temperature is their highest and
/// whose radiation would be estimated from that range: one or two can be rounding, more are a mean
/// in both columns.
[[nodiscard]] std::vector<ReferenceDay> reference_days(const WeatherRecord& record,
                                                       const MissingDataOptions& options = {});

/// How often each source was used: what is shown with every answer.
struct SourceCounts {
  std::size_t days = 0;
  std::array<std::size_t, 6> humidity{};
  std::array<std::size_t, 3> radiation{};
  std::array<std::size_t, 2> wind{};
  std::size_t days_filled = 0;

  void count(const ReferenceDay& day);
  /// One line for each of humidity, radiation, wind and filled days, in words.
  [[nodiscard]] std::vector<std::string> lines() const;
};

/// How a spot changes what a pot receives; plain numbers, so that this room knows nothing of
/// gardens.
struct SpotExposure {
  double radiation_share = 1.0;  // of the open site's short-wave radiation, what is reflected too
  double sky_view = 1.0;         // [0, 1], on net long-wave
  double wind_share = 1.0;       // of the open site's wind
  double warm_share = 0.0;       // of the same radiation, that warm surfaces around give as heat
};

/// ET0's two terms recomputed at a spot: short-wave times its share; net long-wave with the OPEN
/// site's cloudiness times sky view, a loss never turned into a gain (shade is not cloud), and what
/// warm paving or a wall radiates; both terms in the spot's wind.
[[nodiscard]] ReferenceTerms reference_terms_at(const ReferenceDay& open, const SpotExposure& spot);

/// The straight line from wholly diffuse radiation on an overcast day to that of a clear one.
struct DiffuseLine {
  double overcast_clearness = 0.0;  // Rs / Ra at and below which all is diffuse
  double clear_clearness = 0.0;     // and at and above which clear_share is
  double clear_share = 0.0;
};
/// Share of a day's radiation that is diffuse, from its clearness Rs / Ra (form judged; the shape
/// of the published daily correlations, from memory).
[[nodiscard]] double diffuse_share(double clearness, const DiffuseLine& line);

}  // namespace wiltline
