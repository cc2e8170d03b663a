#include "wiltline/weather/plausible.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "wiltline/weather/saturation.hpp"

namespace wiltline {
namespace {

// Room left on either side (judged).
constexpr double vapour_rounding_kpa = 0.05;
constexpr double vapour_share = 0.03;      // above saturation at the highest temperature
constexpr double humidity_rounding = 1.0;  // percentage points, of a mean between its extremes
constexpr double humidity_share = 0.10;    // of vapour pressure; below zero: over ice or over water
constexpr double mean_humidity_room = 20.0;  // percentage points: a front can change the air
constexpr double two_sensors_share = 0.25;   // dew point and vapour pressure measured apart
constexpr double low_sun_mj_m2 = 3.0;        // of Ra: below, twilight and sensor offsets matter
// Share of Ra under bright cloud without a sunny hour, and what a sunny hour adds to at most all of
// it; half as bright a sky as FAO-56's 0.25 (eq. 35) is as dark as a sunny day can be.
constexpr double brightest_cloud = 0.55;
constexpr double dimmest_sun = 0.12;

std::string kpa(double value) {
  return fmt::format("{:.2f} kPa", value);
}

class Contradictions {
 public:
  Contradictions(const WeatherDay& day, const SkyLimit& limit) : day_(day), limit_(limit) {}

  std::vector<DayFault> found() {
    check_vapour_pressure();
    check_mean_humidity();
    if (day_.rh_max_pct || day_.rh_min_pct || day_.rh_mean_pct) {
      if (const auto vapour = measured_vapour()) check_humidity(*vapour);
    }
    check_sunshine();
    return std::move(faults_);
  }

 private:
  struct Vapour {
    WeatherQuantity from;
    double kpa;
  };

  [[nodiscard]] std::optional<Vapour> measured_vapour() const {
    if (day_.dew_point_c) {
      return Vapour{WeatherQuantity::dew_point, saturation_vapour_pressure_kpa(*day_.dew_point_c)};
    }
    if (day_.vapour_pressure_kpa) {
      return Vapour{WeatherQuantity::vapour_pressure, *day_.vapour_pressure_kpa};
    }
    return std::nullopt;
  }
  [[nodiscard]] std::string words(const Vapour& vapour) const {
    return vapour.from == WeatherQuantity::dew_point
               ? fmt::format("a dew point of {:.1f} °C", *day_.dew_point_c)
               : fmt::format("a vapour pressure of {}", kpa(vapour.kpa));
  }

  void check_vapour_pressure() {
    if (!day_.vapour_pressure_kpa) return;
    const double vapour = *day_.vapour_pressure_kpa;
    const double most = saturation_vapour_pressure_kpa(day_.tmax_c);
    if (vapour > most * (1.0 + vapour_share) + vapour_rounding_kpa) {
      const bool hectopascals = vapour / 10.0 <= most;
      add(WeatherQuantity::vapour_pressure, fmt::format("vapour pressure {:g} kPa", vapour),
          fmt::format("at most the {} that air of {:.1f} °C can hold{}", kpa(most), day_.tmax_c,
                      hectopascals
                          ? fmt::format(" ({:g} hPa would be {:g} kPa)", vapour, vapour / 10.0)
                          : ""));
      return;
    }
    if (!day_.dew_point_c) return;
    const double by_dew_point = saturation_vapour_pressure_kpa(*day_.dew_point_c);
    if (std::abs(by_dew_point - vapour) >
        two_sensors_share * std::max(by_dew_point, vapour) + 2.0 * vapour_rounding_kpa) {
      add(WeatherQuantity::vapour_pressure, fmt::format("vapour pressure {:g} kPa", vapour),
          fmt::format("about the {} of the dew point {:.1f} °C", kpa(by_dew_point),
                      *day_.dew_point_c));
    }
  }

  void check_mean_humidity() {
    if (!day_.rh_mean_pct) return;
    const double mean = *day_.rh_mean_pct;
    const std::string found = fmt::format("mean humidity {:g} %", mean);
    if (day_.rh_min_pct && mean < *day_.rh_min_pct - humidity_rounding) {
      add(WeatherQuantity::rh, found,
          fmt::format("no less than the lowest, {:g} %", *day_.rh_min_pct));
    } else if (day_.rh_max_pct && mean > *day_.rh_max_pct + humidity_rounding) {
      add(WeatherQuantity::rh, found,
          fmt::format("no more than the highest, {:g} %", *day_.rh_max_pct));
    }
  }

  /// The vapour pressure lies between what the air would hold at its driest and coldest and at its
  /// dampest and warmest, whenever in the day those were.
  void check_humidity(const Vapour& vapour) {
    const double coldest = saturation_vapour_pressure_kpa(day_.tmin_c);
    const double warmest = saturation_vapour_pressure_kpa(day_.tmax_c);
    const double room = humidity_share * vapour.kpa + vapour_rounding_kpa / 2.0;
    constexpr double percent = 100.0;
    if (day_.rh_max_pct &&
        vapour.kpa - room > warmest * (*day_.rh_max_pct + humidity_rounding) / percent) {
      add(vapour.from, words(vapour),
          fmt::format("one that a highest humidity of {:g} % allows: at most {} at {:.1f} °C",
                      *day_.rh_max_pct, kpa(warmest * *day_.rh_max_pct / percent), day_.tmax_c));
    } else if (day_.rh_min_pct &&
               vapour.kpa + room < coldest * (*day_.rh_min_pct - humidity_rounding) / percent) {
      add(vapour.from, words(vapour),
          fmt::format("one that a lowest humidity of {:g} % allows: at least {} at {:.1f} °C",
                      *day_.rh_min_pct, kpa(coldest * *day_.rh_min_pct / percent), day_.tmin_c));
    } else if (day_.rh_mean_pct) {
      const double driest = percent * vapour.kpa / warmest;
      const double dampest = std::min(percent * vapour.kpa / coldest, percent);
      if (*day_.rh_mean_pct < driest - mean_humidity_room ||
          *day_.rh_mean_pct > dampest + mean_humidity_room) {
        add(vapour.from, words(vapour),
            fmt::format("one that agrees with a mean humidity of {:g} %: it makes {:.0f} to {:.0f} "
                        "%",
                        *day_.rh_mean_pct, driest, dampest));
      }
    }
  }

  void check_sunshine() {
    if (!day_.solar_mj_m2 || !day_.sunshine_h || limit_.radiation_mj_m2 < low_sun_mj_m2) return;
    const double clearness = *day_.solar_mj_m2 / limit_.radiation_mj_m2;
    const double sunny = std::min(*day_.sunshine_h / std::max(limit_.daylight_h, 1.0), 1.0);
    const double most = brightest_cloud + (1.0 - brightest_cloud) * sunny;
    const double least = dimmest_sun * sunny;
    if (!(clearness < least) && !(clearness > most)) return;  // not a number is told of elsewhere
    const bool bright = clearness > most;
    add(WeatherQuantity::solar, fmt::format("radiation {:.1f} MJ/m2", *day_.solar_mj_m2),
        fmt::format("at {} {:.1f} MJ/m2 with {:g} hours of sunshine", bright ? "most" : "least",
                    (bright ? most : least) * limit_.radiation_mj_m2, *day_.sunshine_h));
  }

  void add(WeatherQuantity quantity, std::string what, std::string expected) {
    faults_.push_back({quantity, {std::move(what), std::move(expected)}});
  }

  const WeatherDay& day_;
  const SkyLimit& limit_;
  std::vector<DayFault> faults_;
};

}  // namespace

std::vector<DayFault> contradictions(const WeatherDay& day, const SkyLimit& limit) {
  return Contradictions(day, limit).found();
}

}  // namespace wiltline
