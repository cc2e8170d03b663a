// Where the weather was measured.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "wiltline/base/csv.hpp"
#include "wiltline/base/result.hpp"

namespace wiltline {

/// What the account needs to know of the place of a weather record.
struct Site {
  double latitude_deg = 0.0;  // [-90, 90], south negative
  double elevation_m = 0.0;   // [-500, 9000] above sea level
  /// Height of the wind sensor above the ground, m, [0.5, 200].
  double wind_height_m = 2.0;
  /// Both or neither: without them clock time is taken as solar time.
  std::optional<double> longitude_deg;  // [-180, 180], east positive
  std::optional<double> utc_offset_h;   // [-14, 14]

  [[nodiscard]] bool clock_is_solar() const { return !longitude_deg || !utc_offset_h; }
  bool operator==(const Site&) const = default;
};

/// What is wrong with a longitude and a UTC offset together: clocks follow the sun, and none in use
/// is more than some three hours from it, summer time included.
[[nodiscard]] std::optional<Fault> clock_fault(const std::optional<double>& longitude_deg,
                                               const std::optional<double>& utc_offset_h);

/// Throws InputError, under a name, for a value outside the range above or not finite, and for a
/// clock that does not go with the longitude.
void check_site(const Site& site, const std::string& name);

/// Site values as far as they are known yet: from options, a site file or a weather file's
/// comments.
struct SiteValues {
  std::optional<double> latitude_deg;
  std::optional<double> elevation_m;
  std::optional<double> wind_height_m;
  std::optional<double> longitude_deg;
  std::optional<double> utc_offset_h;

  /// Values of `this` where known, else those of `fallback`.
  [[nodiscard]] SiteValues or_else(const SiteValues& fallback) const;
};

/// Sets the value a key names. Returns what is expected of it if the number is outside its range,
/// an empty text if all is well. `key` must be one of site_keys().
[[nodiscard]] std::string set_site_value(SiteValues& values, std::string_view key, double number);
[[nodiscard]] const std::vector<std::string>& site_keys();

/// The site that known values make. Adds a problem of `file` for latitude, elevation or, where wind
/// was measured, its height that is not known, and for a clock far from its longitude.
[[nodiscard]] Site complete_site(const SiteValues& known, bool has_wind, const std::string& file,
                                 ProblemList& problems);

/// True if a comment line says `generated_days = yes`: typical_weather drew them.
[[nodiscard]] bool says_generated(const CsvTable& table);

/// Site values from `# latitude_deg = 44.2` comment lines. Adds a problem for a value that is no
/// number or out of range; comments that name no site key are just comments.
[[nodiscard]] SiteValues site_from_comments(const CsvTable& table, ProblemList& problems);

/// Site values from an INI file: `latitude_deg = 44.2` lines, `#` or `;` comments, an optional
/// `[site]` line. Throws InputError: unknown or repeated key, bad value, anything else.
[[nodiscard]] SiteValues read_site(const FileBytes& file);

}  // namespace wiltline
