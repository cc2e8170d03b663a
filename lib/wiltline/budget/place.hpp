// A place where pots stand: its weather, the reference ET of each day, and the model that says what
// pots make of them.
#pragma once

#include <array>
#include <list>
#include <memory>
#include <mutex>
#include <span>
#include <utility>
#include <vector>

#include "wiltline/base/one_or_many.hpp"
#include "wiltline/budget/forcing.hpp"
#include "wiltline/garden/model_parameters.hpp"

namespace wiltline {

/// Owns all it needs; a copy shares it and costs a few pointers. Answers may keep a copy.
/// Every use of a const Place, and of its copies, is safe from several threads at once.
class Place {
 public:
  /// Works out the reference ET of every day of `record`.
  Place(WeatherRecord record, const ModelParameters& model, const MissingDataOptions& missing = {});

  // References live as long as this place or a copy of it: not to be had of a temporary.
  [[nodiscard]] const WeatherRecord& record() const& { return *record_; }
  const WeatherRecord& record() const&& = delete;
  [[nodiscard]] const ModelParameters& model() const& { return seen_->model; }
  const ModelParameters& model() const&& = delete;
  /// A day for each of the record's.
  [[nodiscard]] const std::vector<ReferenceDay>& reference() const& { return weather_->reference; }
  const std::vector<ReferenceDay>& reference() const&& = delete;
  /// How often each source of humidity, radiation and wind was used.
  [[nodiscard]] const SourceCounts& sources() const& { return weather_->sources; }
  const SourceCounts& sources() const&& = delete;
  /// The record for whoever needs it longer than a place.
  [[nodiscard]] std::shared_ptr<const WeatherRecord> shared_record() const { return record_; }
  /// Choices where something was not measured, as given.
  [[nodiscard]] const MissingDataOptions& missing() const& { return weather_->missing; }
  const MissingDataOptions& missing() const&& = delete;
  /// Days on which rain was unknown and is taken as none.
  [[nodiscard]] std::size_t days_without_rain_reading() const {
    return weather_->days_without_rain_reading;
  }

  /// Throws InputError if rain is unknown on some days and nobody said that it is none: what every
  /// question does that keeps an account through rain.
  void require_rain() const;

  /// The same weather under another model; the reference ET is not worked out again. Under the same
  /// model it is this place.
  [[nodiscard]] Place with_model(const ModelParameters& model) const;

  /// The record seen from a spot, a day for each of its days. Worked out when a spot is first asked
  /// for, then kept. One thread works a spot out at a time: ask once a season, not once a day.
  [[nodiscard]] const std::vector<SpotDay>& at(const Spot& spot) const&;
  const std::vector<SpotDay>& at(const Spot& spot) const&& = delete;
  /// Some days of it, from the record's day `first` on: for whoever needs few of them under many
  /// models. Throws RequestError for days that the record does not have.
  [[nodiscard]] std::span<const SpotDay> at(const Spot& spot, std::size_t first,
                                            std::size_t count) const&;
  std::span<const SpotDay> at(const Spot& spot, std::size_t first,
                              std::size_t count) const&& = delete;

 private:
  /// What does not depend on the model.
  struct Weather {
    MissingDataOptions missing;
    std::vector<ReferenceDay> reference;
    std::vector<OpenDay> open;
    SourceCounts sources;
    std::size_t days_without_rain_reading = 0;
  };
  /// Hours of direct sun and the air's transmittance that were asked for, and what of the beam
  /// falls in them.
  struct Sun {
    std::mutex mutex{};
    std::list<std::pair<std::array<double, 3>, SunShares>> hours{};
  };
  /// Days from the record's day `first` on.
  struct SpotStretch {
    Spot spot;
    std::size_t first = 0;
    std::vector<SpotDay> days;
  };
  /// What depends on the model too.
  struct Seen {
    explicit Seen(const ModelParameters& the_model) : model(the_model) {}

    const ModelParameters model;
    std::mutex mutex;                    // of what follows
    std::list<SpotStretch> stretches{};  // a list: what at() returns stays put
  };

  Place(const Place& other, const ModelParameters& model);
  [[nodiscard]] const SunShares& sun_at(const Spot& spot) const;
  [[nodiscard]] const SpotStretch& stretch(const Spot& spot, std::size_t first,
                                           std::size_t count) const;

  std::shared_ptr<const WeatherRecord> record_;
  std::shared_ptr<const Weather> weather_;
  std::shared_ptr<Sun> sun_;
  std::shared_ptr<Seen> seen_;
};

/// The places a question is asked of.
using Places = OneOrMany<Place>;

/// Throws RequestError for no place, and if two of them have the same weather: answers would count
/// it twice.
void check_places(Places places);
/// The one model of all of them. Throws RequestError as check_places, and if their models differ.
[[nodiscard]] const ModelParameters& common_model(Places places);

}  // namespace wiltline
