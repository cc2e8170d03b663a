// Daily weather: one day as it was observed, and a checked, gap-free run of days.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "wiltline/base/date.hpp"
#include "wiltline/weather/site.hpp"

namespace wiltline {

class SkyLimits;

/// One day as observed. What was not observed is empty, never zero.
struct WeatherDay {
  double tmin_c = 0.0;
  double tmax_c = 0.0;
  std::optional<double> dew_point_c;
  std::optional<double> vapour_pressure_kpa;
  std::optional<double> rh_max_pct;
  std::optional<double> rh_min_pct;
  std::optional<double> rh_mean_pct;
  std::optional<double> wind_m_s;     // at the site's sensor height
  std::optional<double> solar_mj_m2;  // on the level, MJ m-2 d-1
  std::optional<double> sunshine_h;
  std::optional<double> rain_mm;
  bool filled = false;  // the temperatures were filled in from the days around

  bool operator==(const WeatherDay&) const = default;
};

/// A run of days without gaps at one site. Checked when it is made; every later user may rely on
/// finite numbers, tmin <= tmax, humidity within 0 to 100 %, no negative rain, wind, vapour
/// pressure or radiation; days filled in excepted, also on no radiation or sunshine above what the
/// sun can give on that day, and readings of a day that do not contradict each other
/// (plausible.hpp). A
/// value: copies are independent, reading one from several threads is safe.
class WeatherRecord {
 public:
  /// Throws InputError, which names dates and what was found, if a day is not as above; also for no
  /// day at all and for a site out of its ranges.
  WeatherRecord(std::string name, const Site& site, Date first, std::vector<WeatherDay> days,
                bool rain_observed);

  /// For the reader of files alone: its days have passed these checks, and stricter ones, row by
  /// row.
  class CheckedRows {
    friend class WeatherRecord;
    friend class WeatherReader;
    CheckedRows() = default;
  };
  /// `skies`: over its site.
  WeatherRecord(CheckedRows checked, const SkyLimits& skies, std::string name, const Site& site,
                Date first, std::vector<WeatherDay> days, bool rain_observed);

  [[nodiscard]] const std::string& name() const { return name_; }
  [[nodiscard]] const Site& site() const { return site_; }
  [[nodiscard]] Date first() const { return first_; }
  [[nodiscard]] Date last() const {
    return first_ + std::chrono::days(size()) - std::chrono::days(1);
  }
  [[nodiscard]] std::size_t size() const { return days_.size(); }
  [[nodiscard]] bool contains(Date date) const { return date >= first_ && date <= last(); }
  /// `index` in [0, size()).
  [[nodiscard]] const WeatherDay& day(std::size_t index) const { return days_[index]; }
  [[nodiscard]] Date date(std::size_t index) const {
    return first_ + std::chrono::days(static_cast<int>(index));
  }
  /// Throws RequestError for a date that is not contained.
  [[nodiscard]] std::size_t index_of(Date date) const {
    if (!contains(date)) refuse(date);
    return static_cast<std::size_t>((date - first_).count());
  }
  /// The sky over the site, as its days were checked: most of their days of the year are worked
  /// out. A copy goes on from there.
  [[nodiscard]] const SkyLimits& skies() const { return *skies_; }
  /// True if wind was measured on any day.
  [[nodiscard]] bool has_wind() const;
  /// False if the source has no rain column at all: rain is then taken as none.
  [[nodiscard]] bool rain_observed() const { return rain_observed_; }
  /// True if the days, or some of them, were drawn by chance from means of months, not measured
  /// (typical.hpp).
  [[nodiscard]] bool generated() const { return generated_; }
  /// The same record, said to be generated or not.
  [[nodiscard]] WeatherRecord as_generated(bool generated = true) && {
    generated_ = generated;
    return std::move(*this);
  }

  /// The days from `from` to `to`, both included. Throws RequestError if one of them is not
  /// contained or they are not in order.
  [[nodiscard]] WeatherRecord between(Date from, Date to) const;
  /// This record and the days of `next` beyond it; its own days win where both have one. `next`
  /// must begin at the latest on the day after last(): RequestError. It must be of the same place,
  /// latitude and longitude to half a degree, elevation to 500 m, clock to an hour, and wind, if
  /// `next` has any, at the same height (with_wind_height): InputError.
  [[nodiscard]] WeatherRecord followed_by(const WeatherRecord& next) const;

 private:
  [[noreturn]] void refuse(Date date) const;
  void refuse_other_place(const WeatherRecord& next) const;

  std::string name_;
  Site site_;
  Date first_;
  std::vector<WeatherDay> days_;
  bool rain_observed_;
  bool generated_ = false;
  std::shared_ptr<const SkyLimits> skies_;
};

/// Throws RequestError if both hold the same days of the same latitude: an answer from both would
/// count that weather twice.
void refuse_repeated(const WeatherRecord& one, const WeatherRecord& other);

}  // namespace wiltline
