// The most the sun can give on a day: what a reading is compared with.
#pragma once

#include <array>
#include <cstddef>

#include "wiltline/base/date.hpp"
#include "wiltline/sun/sun.hpp"

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

/// What the sun of a day gives.
[[nodiscard]] inline SkyLimit sky_limit(const SunOfDay& sun) {
  return {.radiation_mj_m2 = sun.extraterrestrial_mj_m2, .daylight_h = sun.daylight_h};
}
/// `latitude_deg` in [-90, 90], `day_of_year` in [1, 366].
[[nodiscard]] SkyLimit sky_limit(double latitude_deg, int day_of_year);

/// The same for many days of one latitude: each day of the year is worked out once.
class SkyLimits {
 public:
  explicit SkyLimits(double latitude_deg) : sun_(radians(latitude_deg)) {}

  [[nodiscard]] const SkyLimit& on(int day_of_year) {
    const auto at = static_cast<std::size_t>(day_of_year - 1);
    if (!known_[at]) {
      days_[at] = sky_limit(sun_.on(day_of_year));
      known_[at] = true;
    }
    return days_[at];
  }
  /// Quickest for one day of a year after the other.
  [[nodiscard]] const SkyLimit& on(Date date) {
    if (date < year_begins_ || date >= year_ends_) {
      year_begins_ = make_date(year_of(date), 1, 1);
      year_ends_ = make_date(year_of(date) + 1, 1, 1);
    }
    return on(static_cast<int>((date - year_begins_).count()) + 1);
  }

 private:
  static constexpr std::size_t days_in_leap_year = 366;

  SunAtLatitude sun_;
  Date year_begins_{};
  Date year_ends_{};
  std::array<bool, days_in_leap_year> known_{};
  std::array<SkyLimit, days_in_leap_year> days_;
};

}  // namespace wiltline
