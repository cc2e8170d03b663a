#include "wiltline/budget/place.hpp"

#include <algorithm>
#include <utility>

#include "wiltline/base/errors.hpp"

namespace wiltline {

Place::Place(WeatherRecord record, const ModelParameters& model, const MissingDataOptions& missing)
    : record_(std::make_shared<const WeatherRecord>(std::move(record))),
      seen_(std::make_shared<Seen>(model)) {
  if (record_->size() == 0) {
    throw RequestError(record_->name() + ": found no days; expected one at least");
  }
  auto weather = std::make_shared<Weather>();
  weather->missing = missing;
  weather->reference = reference_days(*record_, missing);
  for (const ReferenceDay& day : weather->reference) weather->sources.count(day);
  for (std::size_t i = 0; i < record_->size(); ++i) {
    if (!record_->day(i).rain_mm) ++weather->days_without_rain_reading;
  }
  weather_ = std::move(weather);
}

Place::Place(const Place& other, const ModelParameters& model)
    : record_(other.record_), weather_(other.weather_), seen_(std::make_shared<Seen>(model)) {}

Place Place::with_model(const ModelParameters& model) const {
  return model == seen_->model ? *this : Place(*this, model);
}

const std::vector<SpotDay>& Place::at(const Spot& spot) const& {
  const std::lock_guard lock(seen_->mutex);
  auto& spots = seen_->spots;
  const auto found = std::find_if(spots.begin(), spots.end(),
                                  [&](const auto& known) { return known.first == spot; });
  if (found != spots.end()) return found->second;
  spots.emplace_back(spot, spot_days(*record_, weather_->reference, spot, seen_->model));
  return spots.back().second;
}

}  // namespace wiltline
