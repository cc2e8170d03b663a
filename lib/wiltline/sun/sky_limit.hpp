// The most the sun can give on a day: what a reading is compared with.
#pragma once

#include <array>
#include <optional>

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

/// The same for many days of one latitude: each day of the year is worked out once.
class SkyLimits {
 public:
  explicit SkyLimits(double latitude_deg) : latitude_deg_(latitude_deg) {}

  [[nodiscard]] const SkyLimit& on(int day_of_year) {
    std::optional<SkyLimit>& day = days_[static_cast<std::size_t>(day_of_year - 1)];
    if (!day) day = sky_limit(latitude_deg_, day_of_year);
    return *day;
  }

 private:
  static constexpr std::size_t days_in_leap_year = 366;

  double latitude_deg_;
  std::array<std::optional<SkyLimit>, days_in_leap_year> days_{};
};

}  // namespace wiltline
