#include <algorithm>
#include <array>
#include <cmath>

#include "measures.hpp"
#include "support/fixtures.hpp"

namespace wiltline::test {
namespace {

/// Mean over the ledger days that `wanted` picks; 0 if it picks none.
template <typename Wanted, typename Value>
double mean_over(const std::vector<SeasonResult>& results, const Wanted& wanted,
                 const Value& value) {
  double sum = 0.0;
  int days = 0;
  for (const SeasonResult& result : results) {
    for (const LedgerLine& line : result.ledger) {
      if (!wanted(line)) continue;
      sum += value(line);
      ++days;
    }
  }
  return days > 0 ? sum / days : 0.0;
}

/// Waterings of a day: one a watering of the deficit at the threshold, where there are several.
double waterings_of(const LedgerLine& line) {
  const double each = line.refill_at_l / (1.0 - catalogue().parameters.drained_share);
  return line.watered_l > 0.0 ? std::max(1.0, std::round(line.watered_l / each)) : 0.0;
}

double waterings_a_week(const Setting& setting) {
  const std::vector<SeasonResult> results = setting.seasons(setting.planting());
  const auto month = setting.number("month");
  const auto above_c = setting.number("above_c");
  if (month || above_c) {
    const WeatherRecord& record = setting.record();
    const double canopy_m2 = setting.number("canopy_from_m2").value_or(0.0);
    const auto wanted = [&](const LedgerLine& line) {
      return (!month || month_of(line.date) == *month) && line.canopy_m2 >= canopy_m2 &&
             (!above_c || record.day(record.index_of(line.date)).tmax_c > *above_c);
    };
    return 7.0 * mean_over(results, wanted, waterings_of);
  }
  double sum = 0.0;
  for (const SeasonResult& result : results) sum += result.summary.waterings_week_peak;
  return sum / static_cast<double>(results.size());
}

/// The smallest pot in which no rooted plant has a day with `at_h` reached.
double smallest_pot(const Setting& setting, std::optional<double> LedgerLine::*at_h) {
  constexpr std::array sizes_l{2.0,  3.0,  4.0,  5.0,  7.0,  10.0, 15.0, 20.0, 25.0,  30.0,
                               35.0, 40.0, 45.0, 50.0, 55.0, 60.0, 70.0, 80.0, 100.0, 150.0};
  constexpr double none_l = 1000.0;
  for (const double size_l : sizes_l) {
    Setting sized = setting;
    sized.set("volume_l", std::to_string(size_l));
    bool short_of_water = false;
    for (const SeasonResult& season : sized.seasons(sized.planting())) {
      for (const LedgerLine& line : season.ledger) {
        const bool rooted = static_cast<double>((line.date - season.first).count()) >=
                            catalogue().parameters.root_fill_days;
        short_of_water = short_of_water || (rooted && (line.*at_h).has_value());
      }
    }
    if (!short_of_water) return size_l;
  }
  return none_l;
}

double mornings_agreeing(const Setting& setting) {
  int agree = 0;
  int all = 0;
  for (const SeasonResult& season : setting.seasons(setting.planting())) {
    double missing_l = 0.0;
    for (const LedgerLine& line : season.ledger) {
      const double morning_l = std::max(missing_l - line.rain_l, 0.0);
      const bool short_by_now = morning_l >= line.refill_at_l;
      const bool feels_dry =
          line.care.finger_only > 0 || (short_by_now && line.care.root_only == 0);
      const bool short_by_next_morning =
          morning_l + line.transpired_l + line.evaporated_l >= line.refill_at_l;
      agree += feels_dry == short_by_next_morning ? 1 : 0;
      ++all;
      missing_l = line.depletion_l;
    }
  }
  return static_cast<double>(agree) / all;
}

double days_to_dry(const Setting& setting) {
  const MonthDay from = parse_month_day(setting.text("from").value()).value();
  double fewest = 1e9;
  for (const SeasonResult& season : setting.seasons(setting.planting())) {
    double days = 0.0;
    for (const LedgerLine& line : season.ledger) {
      if (line.date <= from.nearest_in_year(year_of(season.first))) continue;
      if (line.dry_at_h) break;
      days += 1.0;
    }
    fewest = std::min(fewest, days);
  }
  return fewest;
}

/// Litres a day of the first season.
template <typename Value>
double a_day(const Setting& setting, const Value& value) {
  const std::vector<SeasonResult> first{setting.seasons(setting.planting()).front()};
  const auto month = setting.number("month");
  return mean_over(
      first, [&](const LedgerLine& line) { return !month || month_of(line.date) == *month; },
      value);
}

double transpired(const Setting& setting) {
  return a_day(setting, [](const LedgerLine& line) { return line.transpired_l; });
}

double evaporated(const Setting& setting) {
  return a_day(setting, [](const LedgerLine& line) { return line.evaporated_l; });
}

double used(const Setting& setting) {
  return transpired(setting) + evaporated(setting);
}

double used_in_all(const Setting& setting) {
  return setting.seasons(setting.planting()).front().summary.used_l;
}

}  // namespace

const std::map<std::string, Measure>& season_measures() {
  static const std::map<std::string, Measure> all{
      {"waterings a week", waterings_a_week},
      {"smallest pot without wilting",
       [](const Setting& s) { return smallest_pot(s, &LedgerLine::wilting_at_h); }},
      {"smallest pot without stress",
       [](const Setting& s) { return smallest_pot(s, &LedgerLine::stressed_at_h); }},
      {"mornings agreeing", mornings_agreeing},
      {"days to dry", days_to_dry},
      {"transpired a day", transpired},
      {"evaporated a day", evaporated},
      {"used a day", used},
      {"used in all", used_in_all},
      {"evaporated share", [](const Setting& s) { return 100.0 * evaporated(s) / used(s); }},
  };
  return all;
}

}  // namespace wiltline::test
