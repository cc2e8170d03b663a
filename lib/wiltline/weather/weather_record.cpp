#include "wiltline/weather/weather_record.hpp"

#include <utility>

namespace wiltline {

WeatherRecord::WeatherRecord(std::string name, const Site& site, Date first,
                             std::vector<WeatherDay> days, bool rain_observed)
    : name_(std::move(name)),
      site_(site),
      first_(first),
      days_(std::move(days)),
      rain_observed_(rain_observed) {}

WeatherRecord WeatherRecord::between(Date from, Date to) const {
  const auto begin = days_.begin() + static_cast<std::ptrdiff_t>(index_of(from));
  const auto end = days_.begin() + static_cast<std::ptrdiff_t>(index_of(to)) + 1;
  return {name_, site_, from, {begin, end}, rain_observed_};
}

WeatherRecord WeatherRecord::followed_by(const WeatherRecord& next) const {
  std::vector<WeatherDay> days = days_;
  for (std::size_t i = 0; i < next.size(); ++i) {
    if (next.date(i) > last()) days.push_back(next.day(i));
  }
  return {name_, site_, first_, std::move(days), rain_observed_};
}

}  // namespace wiltline
