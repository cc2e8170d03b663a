#include "wiltline/questions/planting_times.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "wiltline/account/planting_end.hpp"
#include "wiltline/crop/comfort.hpp"

namespace wiltline {
namespace {

constexpr unsigned months_a_year = 12;
constexpr unsigned middle_of_month = 15;

double mean_temperature_c(const WeatherRecord& record, std::size_t first, int days) {
  double sum = 0.0;
  for (int i = 0; i < days; ++i) {
    const WeatherDay& day = record.day(first + static_cast<std::size_t>(i));
    sum += (day.tmin_c + day.tmax_c) / 2.0;
  }
  return sum / days;
}

/// True if the crop could have been planted on day `first` of the record, which holds it to
/// harvest.
bool would_have_grown(const Crop& crop, const WeatherRecord& record, std::size_t first,
                      const FrostLimits& frost) {
  constexpr int first_weeks_days = 28;
  constexpr double warm_enough_share = 1.0 / 3.0;
  const int days = days_to_harvest(crop);
  const double bears_c = lowest_borne_c(crop, frost);
  for (int i = 0; i < days; ++i) {
    if (record.day(first + static_cast<std::size_t>(i)).tmin_c < bears_c) return false;
  }
  const double base_c = crop.base_temperature_c;
  const double least_c = base_c + warm_enough_share * (crop.best_low_c.value_or(base_c) - base_c);
  const double mean_c = mean_temperature_c(record, first, days);
  return mean_c >= least_c && mean_c <= crop.heat_limit_c.value_or(mean_c) &&
         mean_temperature_c(record, first, std::min(days, first_weeks_days)) >= least_c;
}

std::array<bool, months_a_year> plantable_months(const Crop& crop, const Place& place) {
  constexpr double share_of_years = 0.75;
  const WeatherRecord& record = place.record();
  const FrostLimits frost = frost_limits(place.model());
  std::array<bool, months_a_year> plantable{};
  for (unsigned month = 1; month <= months_a_year; ++month) {
    int years = 0;
    int grown = 0;
    for (int year = year_of(record.first()); year <= year_of(record.last()); ++year) {
      const Date planted = make_date(year, month, middle_of_month);
      const Date harvest = planted + std::chrono::days(days_to_harvest(crop) - 1);
      if (!record.contains(planted) || !record.contains(harvest)) continue;
      ++years;
      if (would_have_grown(crop, record, record.index_of(planted), frost)) ++grown;
    }
    plantable[month - 1] = grown > 0 && grown >= share_of_years * years;
  }
  return plantable;
}

}  // namespace

int days_to_harvest(const Crop& crop) {
  constexpr double picked_days = 30.0;
  const double days =
      crop.life == LifeSpan::matures ? crop.season_days() : crop.days_to_full.value + picked_days;
  return std::max(1, static_cast<int>(std::lround(days)));
}

std::vector<MonthDay> plantable_days(const Crop& crop, const Place& place) {
  const auto plantable = plantable_months(crop, place);
  std::vector<MonthDay> days;
  for (unsigned month = 1; month <= months_a_year; ++month) {
    if (plantable[month - 1]) days.push_back({month, middle_of_month});
  }
  return days;
}

std::vector<MonthDay> planting_times(const Crop& crop, const Place& place) {
  constexpr std::size_t months_apart = 3;
  const auto plantable = plantable_months(crop, place);
  if (std::ranges::all_of(plantable, [](bool month) { return month; })) {
    return {{3, middle_of_month}, {9, middle_of_month}};
  }
  std::array<bool, months_a_year> taken{};
  for (std::size_t first = 0; first < months_a_year; ++first) {
    if (!plantable[first] || plantable[(first + months_a_year - 1) % months_a_year]) continue;
    std::size_t more = 0;  // months of the run after its first
    while (plantable[(first + more + 1) % months_a_year]) ++more;
    taken[first] = true;
    if (more >= months_apart) taken[(first + more) % months_a_year] = true;
  }
  std::vector<MonthDay> times;
  for (unsigned month = 1; month <= months_a_year; ++month) {
    if (taken[month - 1]) times.push_back({month, middle_of_month});
  }
  return times;
}

}  // namespace wiltline
