// The most the sun can give on a day: what a reading is compared with.
#pragma once

namespace wiltline {

/// Of a latitude and a day of the year.
struct SkyLimit {
  double radiation_mj_m2 = 0.0;  // extraterrestrial (eq. 21), MJ m-2 d-1
  double daylight_h = 0.0;       // eq. 34

  /// False for a reading that no sky can give. Twilight and sensor offset are let pass: 0.1 MJ m-2.
  [[nodiscard]] bool allows_radiation(double solar_mj_m2) const;
  /// The same of hours of sunshine; half an hour is let pass, since daylight is of the sun's centre
  /// and without refraction.
  [[nodiscard]] bool allows_sunshine(double sunshine_h) const;
};

/// `latitude_deg` in [-90, 90], `day_of_year` in [1, 366].
[[nodiscard]] SkyLimit sky_limit(double latitude_deg, int day_of_year);

}  // namespace wiltline
