#include "wiltline/weather/sense.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <initializer_list>
#include <optional>

#include "wiltline/base/units.hpp"
#include "wiltline/sun/sky_limit.hpp"
#include "wiltline/sun/sun.hpp"
#include "wiltline/weather/reading_limits.hpp"

namespace wiltline {
namespace {

// Limits beyond which somebody should look (judged, from the extremes of the world's climates as
// known from memory; wide enough that places at the edge of where vegetables grow pass).
constexpr std::size_t fewest_days = 30;
constexpr double wettest_year_mm = 6000.0;
constexpr double driest_year_mm = 15.0;
constexpr double windiest_mean_m_s = 9.0;  // mountain tops and capes; farmland has 1 to 6
constexpr double calmest_mean_m_s = 0.2;
// Yearly means by latitude: at the equator at most 31 °C, beyond 12.5 degrees falling by 0.4 °C a
// degree, to 12 °C at 60; at the sea at least 33 °C less, and less by height.
constexpr double warmest_equator_mean_c = 31.0;
constexpr double warmest_mean_from_c = 36.0;
constexpr double warmest_mean_c_per_deg = 0.4;
constexpr double coldest_mean_below_c = 33.0;
constexpr double cooler_c_per_km = 6.5;
constexpr double hottest_c = 54.0;  // of a record shorter than a year
constexpr double widest_range_c = 22.0;
constexpr double narrowest_range_c = 2.0;
constexpr double damp_share = 0.25;  // of days with a dew point so far above the lowest temperature
constexpr double damp_by_c = 5.0;
constexpr double clear_low = 0.85;  // best days of the record against FAO-56 eq. 37
constexpr double clear_high = 1.12;
constexpr double best_share = 0.02;
constexpr double stuck_pct = 99.5;
constexpr double stuck_share = 0.5;

double mean_c(const WeatherDay& day) {
  return (day.tmin_c + day.tmax_c) / 2.0;
}

class Doubts {
 public:
  explicit Doubts(const WeatherRecord& record) : record_(record) {}

  std::vector<std::string> found() {
    if (record_.size() < fewest_days) return {};
    check_rain();
    check_wind();
    check_range();
    check_warmth();
    check_dew_point();
    check_radiation();
    check_humidity();
    return std::move(found_);
  }

 private:
  using Element = std::optional<double> WeatherDay::*;

  [[nodiscard]] bool a_year() const {
    return static_cast<double>(record_.size()) >= reading_limits::year_days;
  }

  struct Mean {
    double value = 0.0;
    std::size_t days = 0;
  };
  /// Of the days on which `of` says something, given a day and its date.
  template <typename Of>
  [[nodiscard]] Mean mean_of(const Of& of) const {
    Mean mean;
    for (std::size_t i = 0; i < record_.size(); ++i) {
      const std::optional<double> value = of(record_.day(i), record_.date(i));
      if (!value) continue;
      mean.value += *value;
      ++mean.days;
    }
    if (mean.days > 0) mean.value /= static_cast<double>(mean.days);
    return mean;
  }
  [[nodiscard]] Mean mean_of(Element element) const {
    return mean_of([element](const WeatherDay& day, Date) { return day.*element; });
  }

  template <typename... Values>
  void say(fmt::format_string<const Values&...> text, const Values&... values) {
    found_.push_back(fmt::format(text, values...));
  }

  void check_rain() {
    const Mean rain = mean_of(&WeatherDay::rain_mm);
    if (!a_year() || rain.days < fewest_days) return;
    const double year_mm = rain.value * units::days_per_year;
    if (year_mm > wettest_year_mm) {
      say("rain of {:.0f} mm a year: is it in tenths of a millimetre?", year_mm);
    } else if (year_mm < driest_year_mm) {
      say("rain of {:.0f} mm a year: is it in inches, or the gauge blocked?", year_mm);
    }
  }

  void check_wind() {
    const Mean wind = mean_of(&WeatherDay::wind_m_s);
    if (wind.days < fewest_days) return;
    if (wind.value > windiest_mean_m_s) {
      say("mean wind of {:.0f} m/s: is it km/h, or the strongest gust?", wind.value);
    } else if (wind.value < calmest_mean_m_s) {
      say("mean wind of {:.2f} m/s: is the sensor stuck, or the unit another?", wind.value);
    }
  }

  void check_range() {
    const Mean range = mean_of([](const WeatherDay& day, Date) { return day.tmax_c - day.tmin_c; });
    if (range.value > widest_range_c) {
      say("lowest and highest temperature are {:.0f} °C apart on average: is it °F, or a sensor in "
          "the sun?",
          range.value);
    } else if (range.value < narrowest_range_c) {
      say("lowest and highest temperature are {:.1f} °C apart on average: is one of them a mean, "
          "or the sensor indoors?",
          range.value);
    }
  }

  /// What a year's mean can be by latitude, and its warmest day; altitude cools only.
  void check_warmth() {
    const double latitude = std::abs(record_.site().latitude_deg);
    double warmest = -1e9;
    const double mean = mean_of([&](const WeatherDay& day, Date) {
                          warmest = std::max(warmest, day.tmax_c);
                          return mean_c(day);
                        }).value;
    const double high_km = std::max(0.0, record_.site().elevation_m) / 1000.0;
    if (a_year()) {
      const double warmest_mean =
          std::min(warmest_equator_mean_c, warmest_mean_from_c - warmest_mean_c_per_deg * latitude);
      const double cooler_c = cooler_c_per_km * high_km;
      const double coldest_mean = warmest_mean - coldest_mean_below_c - cooler_c;
      if (mean > warmest_mean) {
        say("a mean of {:.0f} °C over the record at latitude {:g}: is it °F?", mean,
            record_.site().latitude_deg);
      } else if (mean < coldest_mean) {
        say("a mean of {:.0f} °C over the record at latitude {:g}: is it °C taken for °F?", mean,
            record_.site().latitude_deg);
      } else if (latitude < reading_limits::middle_latitude_deg &&
                 warmest < reading_limits::warmest_at_least_c - cooler_c) {
        say("no day above {:.0f} °C at latitude {:g}: is it °C taken for °F?", warmest,
            record_.site().latitude_deg);
      }
      check_season();
    } else if (warmest > hottest_c) {
      say("{:.0f} °C as the highest temperature: is it °F?", warmest);
    }
  }

  /// The warmer half of the year is the one of the longer days.
  void check_season() {
    constexpr double tropics_deg = 30.0;
    const double latitude = record_.site().latitude_deg;
    if (std::abs(latitude) < tropics_deg) return;
    const auto of_months = [this](std::initializer_list<unsigned> months) {
      return mean_of([&](const WeatherDay& day, Date date) {
        const bool among = std::ranges::find(months, month_of(date)) != months.end();
        return among ? std::optional(mean_c(day)) : std::nullopt;
      });
    };
    const Mean summer = of_months({6, 7, 8});
    const Mean winter = of_months({12, 1, 2});
    if (summer.days < fewest_days || winter.days < fewest_days) return;
    const double warmer_by = (summer.value - winter.value) * (latitude > 0 ? 1 : -1);
    if (warmer_by < 0.0) {
      say("winter is warmer than summer at latitude {:g}: is the sign of the latitude right, and "
          "the order of day and month?",
          latitude);
    }
  }

  void check_dew_point() {
    const Mean damp = mean_of([](const WeatherDay& day, Date) -> std::optional<double> {
      if (!day.dew_point_c) return std::nullopt;
      return *day.dew_point_c > day.tmin_c + damp_by_c ? 1.0 : 0.0;
    });
    if (damp.days < fewest_days || damp.value <= damp_share) return;
    say("on {:.0f} % of days the dew point is over {:g} °C above the lowest temperature: is it a "
        "mean temperature, or another day's?",
        100.0 * damp.value, damp_by_c);
  }

  /// The best days of a record are clear ones: their radiation tells of the sensor.
  void check_radiation() {
    std::vector<double> shares;
    constexpr double dark_mj_m2 = 5.0;
    SkyLimits skies = record_.skies();
    for (std::size_t i = 0; i < record_.size(); ++i) {
      const WeatherDay& day = record_.day(i);
      if (!day.solar_mj_m2) continue;
      const SkyLimit& limit = skies.on(record_.date(i));
      if (limit.radiation_mj_m2 < dark_mj_m2) continue;
      shares.push_back(*day.solar_mj_m2 / clear_sky_radiation_mj_m2(limit.radiation_mj_m2,
                                                                    record_.site().elevation_m));
    }
    if (!a_year() || static_cast<double>(shares.size()) < reading_limits::year_days) return;
    const auto from_top =
        static_cast<std::ptrdiff_t>(best_share * static_cast<double>(shares.size()));
    std::nth_element(shares.begin(), shares.begin() + from_top, shares.end(), std::greater<>());
    const double best = shares[static_cast<std::size_t>(from_top)];
    if (best < clear_low) {
      say("radiation of the brightest days is {:.0f} % of a clear sky's: is the sensor dirty, "
          "shaded or drifting, or the unit another?",
          100.0 * best);
    } else if (best > clear_high) {
      say("radiation of the brightest days is {:.0f} % of a clear sky's: is the sensor's "
          "calibration off, or the elevation?",
          100.0 * best);
    }
  }

  void check_humidity() {
    for (const Element element : {&WeatherDay::rh_mean_pct, &WeatherDay::rh_min_pct}) {
      const Mean stuck = mean_of([&](const WeatherDay& day, Date) -> std::optional<double> {
        if (!(day.*element)) return std::nullopt;
        return *(day.*element) >= stuck_pct ? 1.0 : 0.0;
      });
      if (stuck.days < fewest_days || stuck.value < stuck_share) continue;
      say("humidity stands at 100 % on {:.0f} % of days: is the sensor wet or worn out?",
          100.0 * stuck.value);
      return;
    }
  }

  const WeatherRecord& record_;
  std::vector<std::string> found_;
};

}  // namespace

std::vector<std::string> doubts(const WeatherRecord& record) {
  return Doubts(record).found();
}

}  // namespace wiltline
