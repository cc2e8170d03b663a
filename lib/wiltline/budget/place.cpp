#include "wiltline/budget/place.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "wiltline/base/errors.hpp"
#include "wiltline/garden/model_checks.hpp"

namespace wiltline {
namespace {

void check_missing(const MissingDataOptions& missing) {
  constexpr double driest_offset_c = 10.0;
  if (!(missing.dew_point_offset_c >= 0.0 && missing.dew_point_offset_c <= driest_offset_c)) {
    throw RequestError(fmt::format("found a dew point {:g} degrees below tmin; expected 0 to {:g}",
                                   missing.dew_point_offset_c, driest_offset_c));
  }
  if (!(missing.range_coefficient > 0.0 && missing.range_coefficient < 1.0)) {
    throw RequestError(
        fmt::format("found {:g} as the coefficient of the temperature range; expected about 0.16 "
                    "inland, 0.19 on a coast",
                    missing.range_coefficient));
  }
}

}  // namespace

Place::Place(WeatherRecord record, const ModelParameters& model, const MissingDataOptions& missing)
    : record_(std::make_shared<const WeatherRecord>(std::move(record))),
      sun_(std::make_shared<Sun>()),
      seen_(std::make_shared<Seen>(model)) {
  check_model(model);
  check_missing(missing);
  auto weather = std::make_shared<Weather>();
  weather->missing = missing;
  weather->reference = reference_days(*record_, missing);
  weather->open = open_days(*record_, weather->reference);
  for (const ReferenceDay& day : weather->reference) weather->sources.count(day);
  for (std::size_t i = 0; i < record_->size(); ++i) {
    if (!record_->day(i).rain_mm) ++weather->days_without_rain_reading;
  }
  weather_ = std::move(weather);
}

Place::Place(const Place& other, const ModelParameters& model)
    : record_(other.record_),
      weather_(other.weather_),
      sun_(other.sun_),
      seen_(std::make_shared<Seen>(model)) {
  check_model(model);
}

void Place::require_rain() const {
  const std::size_t unknown = days_without_rain_reading();
  if (unknown == 0 || !record_->rain_observed() || weather_->missing.unknown_rain_is_none) return;
  std::size_t first = 0;
  while (record_->day(first).rain_mm) ++first;
  throw InputError({{record_->name(), 0, 0,
                     fmt::format("no rain on {} of {} days, first on {}", unknown, record_->size(),
                                 to_string(record_->date(first))),
                     "an amount: unknown rain cannot be kept in an account"}});
}

Place Place::with_model(const ModelParameters& model) const {
  return model == seen_->model ? *this : Place(*this, model);
}

const SunShares& Place::sun_at(const Spot& spot) const {
  const std::lock_guard lock(sun_->mutex);
  const std::array hours{spot.sun_from_h, spot.sun_to_h, seen_->model.beam_transmittance};
  auto& known = sun_->hours;
  const auto found =
      std::find_if(known.begin(), known.end(), [&](const auto& one) { return one.first == hours; });
  if (found != known.end()) return found->second;
  known.emplace_back(hours, sun_shares(spot, *record_, seen_->model));
  return known.back().second;
}

const Place::SpotStretch& Place::stretch(const Spot& spot, std::size_t first,
                                         std::size_t count) const {
  const std::lock_guard lock(seen_->mutex);
  auto& known = seen_->stretches;
  const auto found = std::find_if(known.begin(), known.end(), [&](const SpotStretch& one) {
    return one.first <= first && first + count <= one.first + one.days.size() && one.spot == spot;
  });
  if (found != known.end()) return *found;
  known.push_back({spot, first,
                   spot_days(*record_, weather_->reference, weather_->open, spot, sun_at(spot),
                             seen_->model, first, count)});
  return known.back();
}

const std::vector<SpotDay>& Place::at(const Spot& spot) const& {
  return stretch(spot, 0, record_->size()).days;
}

std::span<const SpotDay> Place::at(const Spot& spot, std::size_t first, std::size_t count) const& {
  if (first > record_->size() || count > record_->size() - first) {
    throw RequestError(fmt::format("{}: found {} days from day {} on; expected days of its {}",
                                   record_->name(), count, first, record_->size()));
  }
  const SpotStretch& known = stretch(spot, first, count);
  return std::span(known.days).subspan(first - known.first, count);
}

void check_places(Places places) {
  if (places.empty()) throw RequestError("found no place; expected one at least");
  for (std::size_t i = 1; i < places.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) refuse_repeated(places[k].record(), places[i].record());
  }
}

const ModelParameters& common_model(Places places) {
  check_places(places);
  const ModelParameters& model = places.front().model();
  for (const Place& place : places) {
    if (place.model() == model) continue;
    throw RequestError(fmt::format("{}: found another model than that of {}; expected one for all",
                                   place.record().name(), places.front().record().name()));
  }
  return model;
}

}  // namespace wiltline
