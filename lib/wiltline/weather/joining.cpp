#include "wiltline/weather/joining.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <utility>

#include "wiltline/base/numbers.hpp"
#include "wiltline/weather/own_text.hpp"

namespace wiltline {
namespace {

/// `next` begins within `first` or on the day after it, and goes on beyond it.
bool follows(const WeatherRecord& first, const WeatherRecord& next) {
  return next.first() >= first.first() && next.first() <= first.last() + std::chrono::days(1) &&
         next.last() > first.last();
}

/// What a day says where two days differ: temperatures, else the first reading that does.
std::string reading_that_differs(const WeatherDay& day, const WeatherDay& other) {
  if (day.tmin_c != other.tmin_c || day.tmax_c != other.tmax_c) {
    return fmt::format("{:g} to {:g} °C", day.tmin_c, day.tmax_c);
  }
  for (const OwnColumn& column : own_columns) {
    if (column.element == nullptr || day.*column.element == other.*column.element) continue;
    const auto& value = day.*column.element;
    return value ? fmt::format("{} {}", column.name(), shortest(*value))
                 : fmt::format("no {}", column.name());
  }
  return day.filled ? "readings filled in" : "readings that were measured";
}

void refuse_disagreement(const WeatherRecord& first, const WeatherRecord& next) {
  for (Date date = next.first(); date <= first.last(); date += std::chrono::days(1)) {
    const WeatherDay& one = first.day(first.index_of(date));
    const WeatherDay& other = next.day(next.index_of(date));
    if (one == other) continue;
    throw InputError({{next.name(), 0, 0,
                       fmt::format("{} with {}", to_string(date), reading_that_differs(other, one)),
                       fmt::format("the day that {} has too, {}: all its readings the same",
                                   first.name(), reading_that_differs(one, other))}});
  }
}

std::string joined_name(const std::string& first, const std::string& next) {
  return first.find(" and ") == std::string::npos ? first + " and " + next : first + ", " + next;
}

/// Hours of both, those of the overlap once.
void append_hours(PlaceWeather& first, const PlaceWeather& next, Date after) {
  if (!first.hours || !next.hours || first.hours->step_h != next.hours->step_h) {
    first.hours.reset();
    return;
  }
  std::ranges::copy_if(next.hours->hours, std::back_inserter(first.hours->hours),
                       [&](const WeatherHour& hour) { return hour.begin.date > after; });
}

}  // namespace

std::vector<PlaceWeather> joined(std::vector<PlaceWeather> places) {
  std::vector<PlaceWeather> result;
  std::vector<bool> used(places.size(), false);
  for (std::size_t i = 0; i < places.size(); ++i) {
    if (used[i]) continue;
    // All of this place, earliest first; each is added to the run it goes on from.
    std::vector<std::size_t> same;
    for (std::size_t k = i; k < places.size(); ++k) {
      if (used[k] || places[i].record.site() != places[k].record.site()) continue;
      same.push_back(k);
      used[k] = true;
    }
    std::ranges::stable_sort(same, {}, [&](std::size_t at) { return places[at].record.first(); });
    const std::size_t begin = result.size();
    for (const std::size_t k : same) {
      PlaceWeather& next = places[k];
      if (result.size() == begin || !follows(result.back().record, next.record)) {
        result.push_back(std::move(next));
        continue;
      }
      PlaceWeather& run = result.back();
      refuse_disagreement(run.record, next.record);
      const WeatherRecord both = run.record.followed_by(next.record);
      append_hours(run, next, run.record.last());
      std::vector<WeatherDay> days;
      days.reserve(both.size());
      for (std::size_t d = 0; d < both.size(); ++d) days.push_back(both.day(d));
      WeatherRecord joined(joined_name(run.record.name(), next.record.name()), both.site(),
                           both.first(), std::move(days),
                           run.record.rain_observed() && next.record.rain_observed());
      run.record = std::move(joined).as_generated(both.generated());
    }
  }
  return result;
}

}  // namespace wiltline
