#include "wiltline/weather/weather_record.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "wiltline/base/errors.hpp"
#include "wiltline/sun/sky_limit.hpp"
#include "wiltline/weather/plausible.hpp"
#include "wiltline/weather/reading_limits.hpp"

namespace wiltline {
namespace {

/// Collects what is wrong with the days of a record.
class DayCheck {
 public:
  DayCheck(const std::string& name, const SkyLimits& skies) : name_(name), skies_(skies) {}

  void check(Date date, const WeatherDay& day) {
    date_ = date;
    number("tmin", day.tmin_c, coldest_c, hottest_c, "a temperature in °C");
    number("tmax", day.tmax_c, day.tmin_c, hottest_c, "a temperature in °C at or above tmin");
    number("dew point", day.dew_point_c, coldest_c, hottest_c, "a temperature in °C");
    number("vapour pressure", day.vapour_pressure_kpa, 0.0, largest, "0 kPa or more");
    number("highest humidity", day.rh_max_pct, 0.0, 100.0, "0 to 100 %");
    number("lowest humidity", day.rh_min_pct, 0.0, 100.0, "0 to 100 %");
    number("mean humidity", day.rh_mean_pct, 0.0, 100.0, "0 to 100 %");
    number("wind", day.wind_m_s, 0.0, windiest_m_s, "0 to 250 m/s");
    number("radiation", day.solar_mj_m2, 0.0, largest, "0 MJ/m2 or more");
    number("sunshine", day.sunshine_h, 0.0, 24.0, "0 to 24 hours");
    number("rain", day.rain_mm, 0.0, reading_limits::wettest_mm, "0 to 2000 mm");
    check_sky(day, skies_.on(date));
    if (day.filled) return;
    if (day.dew_point_c && *day.dew_point_c > day.tmax_c + dew_point_slack_c) {
      add("dew point", *day.dew_point_c,
          fmt::format("at most the highest temperature, {:g} °C", day.tmax_c));
    }
    for (DayFault& one : contradictions(day, skies_.on(date))) {
      problems_.add({name_, 0, 0, fmt::format("{} on {}", one.fault.found, to_string(date)),
                     std::move(one.fault.expected)});
    }
  }
  void throw_if_any() const { problems_.throw_if_any(); }
  [[nodiscard]] const SkyLimits& skies() const { return skies_; }

 private:
  // Wider than reading_limits: a record can be brought to warmer days or to another wind height.
  static constexpr double coldest_c = -90.0;
  static constexpr double hottest_c = 80.0;
  static constexpr double windiest_m_s = 250.0;  // 80 m/s at 0.5 m are 227 at 200 m
  static constexpr double largest = 1e6;

  void check_sky(const WeatherDay& day, const SkyLimit& limit) {
    if (day.solar_mj_m2 && !limit.allows_radiation(*day.solar_mj_m2)) {
      add("radiation", *day.solar_mj_m2,
          fmt::format("at most the extraterrestrial {:.1f} MJ/m2 of that day and latitude",
                      limit.radiation_mj_m2));
    }
    if (day.sunshine_h && !limit.allows_sunshine(*day.sunshine_h)) {
      add("sunshine", *day.sunshine_h,
          fmt::format("at most the {:.1f} daylight hours of that day and latitude",
                      limit.daylight_h));
    }
  }

  // always_inline: eleven comparisons a day, where calls would take longer.
  [[gnu::always_inline]] void number(const char* what, const std::optional<double>& value,
                                     double low, double high, const char* expected) {
    if (!value || (*value >= low && *value <= high)) return;  // not a number is refused
    add(what, *value, expected);
  }
  [[gnu::noinline]] void add(const char* what, double value, std::string expected) {
    problems_.add({name_, 0, 0, fmt::format("{} {:g} on {}", what, value, to_string(date_)),
                   std::move(expected)});
  }

  const std::string& name_;
  SkyLimits skies_;
  Date date_{};
  ProblemList problems_;
};

}  // namespace

WeatherRecord::WeatherRecord(CheckedRows, const SkyLimits& skies, std::string name,
                             const Site& site, Date first, std::vector<WeatherDay> days,
                             bool rain_observed)
    : name_(std::move(name)),
      site_(site),
      first_(first),
      days_(std::move(days)),
      rain_observed_(rain_observed),
      skies_(std::make_shared<const SkyLimits>(skies)) {
  if (days_.empty()) throw InputError({{name_, 0, 0, "no days", "one at least"}});
  check_site(site_, name_);
}

WeatherRecord::WeatherRecord(std::string name, const Site& site, Date first,
                             std::vector<WeatherDay> days, bool rain_observed)
    : WeatherRecord(CheckedRows(), SkyLimits(site.latitude_deg), std::move(name), site, first,
                    std::move(days), rain_observed) {
  DayCheck check(name_, *skies_);
  for (std::size_t i = 0; i < days_.size(); ++i) check.check(date(i), days_[i]);
  check.throw_if_any();
  skies_ = std::make_shared<const SkyLimits>(check.skies());
}

bool WeatherRecord::has_wind() const {
  return std::ranges::any_of(days_, [](const WeatherDay& day) { return day.wind_m_s.has_value(); });
}

void WeatherRecord::refuse(Date date) const {
  throw RequestError(fmt::format("{}: found {}; expected a day of the record, {} to {}", name_,
                                 to_string(date), to_string(first_), to_string(last())));
}

WeatherRecord WeatherRecord::between(Date from, Date to) const {
  const auto begin = days_.begin() + static_cast<std::ptrdiff_t>(index_of(from));
  const auto end = days_.begin() + static_cast<std::ptrdiff_t>(index_of(to)) + 1;
  if (from > to) {
    throw RequestError(fmt::format("{}: found {} to {}; expected days in order", name_,
                                   to_string(from), to_string(to)));
  }
  return WeatherRecord(name_, site_, from, {begin, end}, rain_observed_).as_generated(generated_);
}

void WeatherRecord::refuse_other_place(const WeatherRecord& next) const {
  // A forecast is for a cell of some kilometres that holds the place, not for the place itself
  // (judged).
  constexpr double near_deg = 0.5;
  constexpr double near_m = 500.0;
  constexpr double near_h = 1.0;  // summer time
  ProblemList problems;
  const auto same = [&](const char* what, std::optional<double> ours, std::optional<double> theirs,
                        double within) {
    if (!ours || !theirs || std::abs(*ours - *theirs) <= within) return;
    problems.add(
        {next.name(), 0, 0, fmt::format("{} = {:g}", what, *theirs),
         fmt::format("the place of {}, {} = {:g}, to within {:g}", name_, what, *ours, within)});
  };
  same("latitude_deg", site_.latitude_deg, next.site().latitude_deg, near_deg);
  same("longitude_deg", site_.longitude_deg, next.site().longitude_deg, near_deg);
  same("elevation_m", site_.elevation_m, next.site().elevation_m, near_m);
  same("utc_offset_h", site_.utc_offset_h, next.site().utc_offset_h, near_h);
  if (next.has_wind()) {
    same("wind_height_m", site_.wind_height_m, next.site().wind_height_m, 0.0);
  }
  problems.throw_if_any();
}

WeatherRecord WeatherRecord::followed_by(const WeatherRecord& next) const {
  refuse_other_place(next);
  if (next.first() > last() + std::chrono::days(1)) {
    throw RequestError(
        fmt::format("{}: found {} as its first day; expected at the latest the day "
                    "after {}, on which {} ends",
                    next.name(), to_string(next.first()), to_string(last()), name_));
  }
  std::vector<WeatherDay> days = days_;
  for (std::size_t i = 0; i < next.size(); ++i) {
    if (next.date(i) > last()) days.push_back(next.day(i));
  }
  return WeatherRecord(name_, site_, first_, std::move(days), rain_observed_)
      .as_generated(generated_ || next.generated_);
}

void refuse_repeated(const WeatherRecord& one, const WeatherRecord& other) {
  if (one.first() != other.first() || one.size() != other.size() ||
      one.site().latitude_deg != other.site().latitude_deg) {
    return;
  }
  for (std::size_t i = 0; i < one.size(); ++i) {
    if (!(one.day(i) == other.day(i))) return;
  }
  throw RequestError(
      fmt::format("{}: found the days of {} a second time; expected every weather record once",
                  other.name(), one.name()));
}

}  // namespace wiltline
