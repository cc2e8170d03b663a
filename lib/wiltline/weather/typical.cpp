#include "wiltline/weather/typical.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/random/gamma_distribution.hpp>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/normal_distribution.hpp>
#include <boost/random/uniform_01.hpp>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include "wiltline/base/errors.hpp"
#include "wiltline/base/fields.hpp"
#include "wiltline/sun/sky_limit.hpp"
#include "wiltline/weather/reading_limits.hpp"
#include "wiltline/weather/saturation.hpp"

namespace wiltline {
namespace {

constexpr std::size_t months = 12;
constexpr int common_year = 2001;

double days_in_month(std::size_t month, int year = common_year) {
  const std::chrono::month of_year(static_cast<unsigned>(month) + 1);
  return static_cast<unsigned>((std::chrono::year(year) / of_year / std::chrono::last).day());
}

struct Row {
  int month = 0;
  MonthlyMeans means;
};

/// A function to a member of the month's means.
template <typename Member>
auto of_means(Member member) {
  return [member](Row & row) -> auto& {
    return row.means.*member;
  };
}

Fields<Row> climate_fields() {
  using M = MonthlyMeans;
  const Bounds temperature{reading_limits::coldest_c, reading_limits::hottest_c, {}};
  Fields<Row> fields;
  fields
      .field(
          "month", Need::value,
          [](const Cell& cell, Row& row) {
            if (const auto month = cell.whole_number(1, static_cast<int>(months))) {
              row.month = *month;
            }
          },
          "1 to 12")
      .number("tmax", unit_options::temperature, Need::value, of_means(&M::tmax_c), temperature)
      .number("tmin", unit_options::temperature, Need::value, of_means(&M::tmin_c), temperature)
      .number("rain", unit_options::depth_mm, Need::value, of_means(&M::rain_mm), {0.0, 5000.0, {}})
      .number("rain_days", unit_options::none, Need::value, of_means(&M::rain_days),
              {0.0, 31.0, {}})
      .number("wind", unit_options::wind, Need::nothing, of_means(&M::wind_m_s), {0.0, 40.0, {}})
      .number("dewpoint", unit_options::temperature, Need::nothing, of_means(&M::dew_point_c),
              temperature)
      .number("rh_mean_pct", unit_options::none, Need::nothing, of_means(&M::rh_mean_pct),
              {1.0, 100.0, {}})
      .number("sunshine_h", unit_options::none, Need::nothing, of_means(&M::sunshine_h),
              {0.0, 24.0, {}})
      .check({"month"},
             [](const Row& row) -> std::optional<Fault> {
               const double most = days_in_month(static_cast<std::size_t>(row.month) - 1);
               if (row.means.rain_days <= most + 0.5) return std::nullopt;
               return Fault{
                   fmt::format("{:g} rain days in month {}", row.means.rain_days, row.month),
                   fmt::format("at most its {:g} days", most)};
             })
      .check({"month"}, [](const Row& row) -> std::optional<Fault> {
        const MonthlyMeans& m = row.means;
        if (m.tmin_c > m.tmax_c) {
          return Fault{fmt::format("mean tmin {:g} above mean tmax {:g} °C", m.tmin_c, m.tmax_c),
                       "tmin at or below tmax"};
        }
        if ((m.rain_mm > 0.0) != (m.rain_days > 0.0)) {
          return Fault{fmt::format("{:g} mm of rain on {:g} days", m.rain_mm, m.rain_days),
                       "both above 0 or both 0"};
        }
        // More than anywhere on Earth (common knowledge, no source).
        constexpr double most_mm_a_rain_day = 300.0;
        if (m.rain_mm > most_mm_a_rain_day * m.rain_days) {
          return Fault{fmt::format("{:g} mm of rain on {:g} days", m.rain_mm, m.rain_days),
                       fmt::format("at most {:g} mm a rain day", most_mm_a_rain_day)};
        }
        if (m.dew_point_c && *m.dew_point_c > m.tmax_c) {
          return Fault{
              fmt::format("mean dew point {:g} above mean tmax {:g} °C", *m.dew_point_c, m.tmax_c),
              "a dew point below it"};
        }
        return std::nullopt;
      });
  return fields;
}

/// Daylight of the middle of a month, h.
double daylight_h(const Site& site, std::size_t month) {
  return sky_limit(site.latitude_deg,
                   day_of_year(make_date(common_year, static_cast<unsigned>(month) + 1, 15)))
      .daylight_h;
}

// ---- the seasonal course ----

/// One value for each month, spread over its days so that their mean is that value: straight lines
/// between the middles of months, whose heights are moved until every month's mean is met.
class SeasonalCourse {
 public:
  explicit SeasonalCourse(const std::array<double, months>& means) : middles_(means) {
    constexpr int rounds = 30;
    for (int round = 0; round < rounds; ++round) {
      for (std::size_t m = 0; m < months; ++m) {
        const double days = days_in_month(m);
        double sum = 0.0;
        for (double day = 0.5; day < days; day += 1.0) sum += at(m, day / days);
        middles_[m] += means[m] - sum / days;
      }
    }
  }
  /// `through`: share of the month that has passed, [0, 1].
  [[nodiscard]] double at(std::size_t month, double through) const {
    const double from_middle = through - 0.5;
    const std::size_t other =
        from_middle < 0.0 ? (month + months - 1) % months : (month + 1) % months;
    const double weight = std::abs(from_middle);
    return middles_[month] * (1.0 - weight) + middles_[other] * weight;
  }

 private:
  std::array<double, months> middles_;
};

// ---- what is judged ----

/// Standard deviation of a day's highest temperature about its season's mean, °C (judged): more
/// the further from the equator and the larger the difference between summer and winter; 2 in the
/// tropics, 4 to 5 in middle latitudes.
double tmax_deviation_c(const Climate& climate) {
  double warmest = climate.months[0].tmax_c;
  double coldest = warmest;
  for (const MonthlyMeans& m : climate.months) {
    warmest = std::max(warmest, m.tmax_c);
    coldest = std::min(coldest, m.tmax_c);
  }
  return 1.2 + 0.04 * std::abs(climate.site.latitude_deg) + 0.06 * (warmest - coldest);
}
constexpr double tmin_deviation_share = 0.8;  // of tmax's (judged, 0.7 to 0.9)
// A wet day's highest temperature lies below a dry one's, in deviations (judged, 0.4 to 1.0).
constexpr double wet_day_cooler = 0.7;
// A wet day's sunshine as a share of a dry one's (judged, 0.3 to 0.6).
constexpr double wet_day_sunshine = 0.45;
constexpr double sunshine_share_deviation = 0.28;  // of daylight (judged, 0.2 to 0.35)
constexpr double most_sunshine_share = 0.97;       // of daylight: a burning recorder's day
// Daily wind: lognormal, coefficient of variation and day-to-day correlation (judged).
constexpr double wind_variation = 0.4;
constexpr double wind_persistence = 0.4;
// The dew point follows the lowest temperature (judged, 0.6 to 1).
constexpr double dew_point_follows_tmin = 0.8;
constexpr double least_range_c = 0.5;

// ---- a day's deviations ----

/// Deviations of tmax, tmin and sunshine, each with mean 0 and variance 1. Matrices A and B of
/// Richardson and Wright (1984), from memory.
struct Deviations {
  double tmax = 0.0;
  double tmin = 0.0;
  double sunshine = 0.0;
  double wind = 0.0;
};

Deviations next(const Deviations& last, const std::array<double, 4>& chance) {
  return {.tmax = 0.567 * last.tmax + 0.086 * last.tmin - 0.002 * last.sunshine + 0.781 * chance[0],
          .tmin = 0.253 * last.tmax + 0.504 * last.tmin - 0.050 * last.sunshine +
                  0.328 * chance[0] + 0.637 * chance[1],
          .sunshine = -0.006 * last.tmax - 0.039 * last.tmin + 0.244 * last.sunshine +
                      0.238 * chance[0] - 0.341 * chance[1] + 0.873 * chance[2],
          .wind = wind_persistence * last.wind +
                  std::sqrt(1.0 - wind_persistence * wind_persistence) * chance[3]};
}

/// Mean of a normal variable of mean `centre` and deviation `spread` that is held within [0, most].
double held_mean(double centre, double spread, double most) {
  const auto below = [](double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); };
  const auto density = [](double z) {
    return std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi);
  };
  const double low = (0.0 - centre) / spread;
  const double high = (most - centre) / spread;
  return centre * (below(high) - below(low)) + spread * (density(low) - density(high)) +
         most * (1.0 - below(high));
}

/// The centre whose held mean is `mean`, which lies within (0, most).
double held_centre(double mean, double spread, double most) {
  double low = -4.0;
  double high = 5.0;
  constexpr int rounds = 60;
  for (int round = 0; round < rounds; ++round) {
    const double middle = 0.5 * (low + high);
    (held_mean(middle, spread, most) < mean ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

double one_decimal(double value) {
  constexpr double tenths = 10.0;
  return std::round(value * tenths) / tenths;
}

/// A temperature of a weather file.
double held_temperature_c(double drawn) {
  return one_decimal(std::clamp(drawn, reading_limits::coldest_c, reading_limits::hottest_c));
}

/// What is fixed of a month before any day is drawn.
struct MonthPlan {
  double wet_share = 0.0;
  double wet_after_dry = 0.0;
  double wet_after_wet = 0.0;
  double rain_shape = 1.0;
  double rain_scale_mm = 0.0;
  double sunshine_centre_dry = 0.0;  // share of daylight
  double sunshine_centre_wet = 0.0;
};

MonthPlan month_plan(const Climate& climate, std::size_t month) {
  const MonthlyMeans& means = climate.months[month];
  MonthPlan plan;
  plan.wet_share = std::min(means.rain_days / days_in_month(month), 1.0);
  constexpr double dry_to_wet = 0.75;  // Geng et al. 1986: of the share of wet days
  plan.wet_after_dry = dry_to_wet * plan.wet_share;
  plan.wet_after_wet = plan.wet_after_dry + (1.0 - dry_to_wet);
  if (plan.wet_share > 0.0) {
    const double mean_mm = means.rain_mm / means.rain_days;
    // Geng et al. 1986: scale -2.16 + 1.83 times a wet day's mean; below 3 mm it would fall to
    // nothing, and the spread of an exponential is kept.
    plan.rain_scale_mm = std::max(-2.16 + 1.83 * mean_mm, mean_mm);
    plan.rain_shape = mean_mm / plan.rain_scale_mm;
  }
  if (means.sunshine_h) {
    constexpr double least_share = 0.02;
    const double daylight = daylight_h(climate.site, month);
    const double most = most_sunshine_share;
    const double mean = daylight > 0.0 ? *means.sunshine_h / daylight : 0.0;
    const double dry = mean / (1.0 - plan.wet_share * (1.0 - wet_day_sunshine));
    const auto centre = [&](double share) {
      return held_centre(std::clamp(share, least_share, most - least_share),
                         sunshine_share_deviation, most);
    };
    plan.sunshine_centre_dry = centre(dry);
    plan.sunshine_centre_wet = centre(wet_day_sunshine * dry);
  }
  return plan;
}

/// A dew point of the same mean vapour pressure.
double mean_dew_point_c(const MonthlyMeans& means) {
  if (means.dew_point_c) return *means.dew_point_c;
  const double saturation_kpa = 0.5 * (saturation_vapour_pressure_kpa(means.tmax_c) +
                                       saturation_vapour_pressure_kpa(means.tmin_c));
  return dew_point_c(*means.rh_mean_pct / 100.0 * saturation_kpa);
}

class DayDraw {
 public:
  DayDraw(const Climate& climate, std::uint64_t seed)
      : climate_(climate),
        random_(seed),
        tmax_(course([](const MonthlyMeans& m) { return m.tmax_c; })),
        tmin_(course([](const MonthlyMeans& m) { return m.tmin_c; })),
        dew_point_(course([](const MonthlyMeans& m) {
          return m.dew_point_c || m.rh_mean_pct ? mean_dew_point_c(m) : 0.0;
        })),
        deviation_c_(tmax_deviation_c(climate)) {
    for (std::size_t m = 0; m < months; ++m) plans_[m] = month_plan(climate, m);
    // The first days would still know that the chain began somewhere.
    constexpr int run_in_days = 60;
    for (int day = 0; day < run_in_days; ++day) step(plans_[0]);
  }

  WeatherDay draw(Date date) {
    const std::size_t month = month_of(date) - 1;
    const MonthlyMeans& means = climate_.months[month];
    const MonthPlan& plan = plans_[month];
    const double days = days_in_month(month, year_of(date));
    const double through = (static_cast<double>(month_day_of(date).day) - 0.5) / days;
    step(plan);

    // A wet day is cooler, a dry one warmer by so much that the mean stays.
    const double apart_c = wet_day_cooler * deviation_c_;
    const double shift_c = wet_ ? -(1.0 - plan.wet_share) * apart_c : plan.wet_share * apart_c;
    // What wet and dry days differ by is part of the deviation.
    const double rest_c =
        deviation_c_ *
        std::sqrt(1.0 - wet_day_cooler * wet_day_cooler * plan.wet_share * (1.0 - plan.wet_share));
    WeatherDay day;
    double high = tmax_.at(month, through) + shift_c + rest_c * deviations_.tmax;
    double low = tmin_.at(month, through) + tmin_deviation_share * deviation_c_ * deviations_.tmin;
    const double tmin_beyond_c = low - tmin_.at(month, through);
    if (high - low < least_range_c) {
      const double middle = 0.5 * (high + low);
      high = middle + 0.5 * least_range_c;
      low = middle - 0.5 * least_range_c;
    }
    day.tmax_c = held_temperature_c(high);
    day.tmin_c = held_temperature_c(low);
    if (means.dew_point_c || means.rh_mean_pct) {
      const double drawn = dew_point_.at(month, through) + dew_point_follows_tmin * tmin_beyond_c;
      day.dew_point_c = held_temperature_c(std::min(drawn, 0.5 * (day.tmax_c + day.tmin_c)));
    }
    if (means.wind_m_s) {
      const double log_variance = std::log1p(wind_variation * wind_variation);
      const double drawn = *means.wind_m_s * std::exp(std::sqrt(log_variance) * deviations_.wind -
                                                      0.5 * log_variance);
      day.wind_m_s = one_decimal(std::min(drawn, reading_limits::windiest_m_s));
    }
    if (means.sunshine_h) {
      const double centre = wet_ ? plan.sunshine_centre_wet : plan.sunshine_centre_dry;
      const double share = std::clamp(centre + sunshine_share_deviation * deviations_.sunshine, 0.0,
                                      most_sunshine_share);
      const double most_h = sky_limit(climate_.site.latitude_deg, day_of_year(date)).daylight_h;
      day.sunshine_h = one_decimal(share * most_h);
    }
    day.rain_mm = 0.0;
    if (wet_) {
      constexpr double least_mm = 0.1;
      boost::random::gamma_distribution<double> rain(plan.rain_shape, plan.rain_scale_mm);
      day.rain_mm = std::clamp(one_decimal(rain(random_)), least_mm, reading_limits::wettest_mm);
    }
    return day;
  }

 private:
  template <typename Get>
  SeasonalCourse course(Get get) const {
    std::array<double, months> means{};
    for (std::size_t m = 0; m < months; ++m) means[m] = get(climate_.months[m]);
    return SeasonalCourse(means);
  }

  void step(const MonthPlan& plan) {
    wet_ = boost::random::uniform_01<double>()(random_) <
           (wet_ ? plan.wet_after_wet : plan.wet_after_dry);
    if (plan.wet_share <= 0.0) wet_ = false;
    std::array<double, 4> chance{};
    for (double& one : chance) one = normal_(random_);
    deviations_ = next(deviations_, chance);
  }

  const Climate& climate_;
  boost::random::mt19937_64 random_;
  boost::random::normal_distribution<double> normal_;
  SeasonalCourse tmax_;
  SeasonalCourse tmin_;
  SeasonalCourse dew_point_;
  double deviation_c_;
  std::array<MonthPlan, months> plans_{};
  bool wet_ = false;
  Deviations deviations_;
};

}  // namespace

Climate read_climate(FileBytes file, const SiteValues& site, const SiteValues& otherwise) {
  Climate climate{.name = file.name, .site = {}, .months = {}};
  TableRows rows(std::move(file));
  ProblemList& problems = rows.problems();
  const SiteValues known =
      site.or_else(site_from_comments(rows.table(), problems)).or_else(otherwise);
  const auto has = [&](std::string_view name) { return rows.table().column(name).has_value(); };
  climate.site = complete_site(known, has("wind_m_s") || has("wind_km_h") || has("wind_mph"),
                               climate.name, problems);
  problems.throw_if_any();
  std::array<bool, months> seen{};
  climate_fields().read(rows, [&](const Row& row) {
    if (row.month == 0) return;
    const std::size_t m = static_cast<std::size_t>(row.month) - 1;
    if (std::exchange(seen[m], true)) {
      rows.complain("month", fmt::format("month {} a second time", row.month), "it once");
    }
    climate.months[m] = row.means;
    if (const double daylight = daylight_h(climate.site, m);
        row.means.sunshine_h && *row.means.sunshine_h > daylight) {
      rows.complain("sunshine_h", fmt::format("{:g}", *row.means.sunshine_h),
                    fmt::format("hours a day, at most the {:.1f} of daylight", daylight));
    }
  });
  std::vector<std::size_t> missing;
  for (std::size_t m = 0; m < months; ++m) {
    if (!seen[m]) missing.push_back(m + 1);
  }
  if (!missing.empty()) {
    problems.add(
        {climate.name, 0, 0, fmt::format("no month {}", fmt::join(missing, ", ")), "all twelve"});
  }
  const auto all_or_none = [&](std::optional<double> MonthlyMeans::*element,
                               std::string_view what) {
    const auto count = std::ranges::count_if(
        climate.months, [&](const MonthlyMeans& m) { return (m.*element).has_value(); });
    if (count != 0 && count != static_cast<std::ptrdiff_t>(months)) {
      problems.add({climate.name, 0, 0, fmt::format("{} of {} months", what, count),
                    "it of all twelve, or of none"});
    }
  };
  all_or_none(&MonthlyMeans::wind_m_s, "wind");
  all_or_none(&MonthlyMeans::dew_point_c, "dew point");
  all_or_none(&MonthlyMeans::rh_mean_pct, "humidity");
  all_or_none(&MonthlyMeans::sunshine_h, "sunshine");
  problems.throw_if_any();
  return climate;
}

WeatherRecord typical_weather(const Climate& climate, int years, std::uint64_t seed,
                              int first_year) {
  if (years < 1 || years > most_typical_years) {
    throw RequestError(fmt::format("found {} years; expected 1 to {}", years, most_typical_years));
  }
  constexpr int last_year = 9999;
  if (first_year < 1 || first_year > last_year - years) {
    throw RequestError(
        fmt::format("found first year {}; expected 1 to {}", first_year, last_year - years));
  }
  DayDraw draw(climate, seed);
  std::vector<WeatherDay> days;
  const Date first = make_date(first_year, 1, 1);
  for (Date date = first; date < make_date(first_year + years, 1, 1);
       date += std::chrono::days(1)) {
    days.push_back(draw.draw(date));
  }
  return WeatherRecord(climate.name, climate.site, first, std::move(days), true).as_generated();
}

}  // namespace wiltline
