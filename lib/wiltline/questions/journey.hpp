// One planting's way from where its account stands to now, and on into a future.
#pragma once

#include <functional>
#include <optional>

#include "wiltline/questions/forecast.hpp"

namespace wiltline {

/// The weather as a planting's spot sees it, day by day of the record.
class SpotWeather {
 public:
  /// Seen once and kept: for the tables' own spots and model.
  SpotWeather(const Place& place, const Planting& planting)
      : place_(place), spot_(planting.spot), model_(place.model()), kept_(&place.at(spot_)) {}
  /// Looked at anew each time: for a draw of one planting, which needs few days.
  SpotWeather(const Place& place, const DrawnGarden& draw)
      : place_(place), spot_(draw.plantings.front().spot), model_(draw.model) {}

  [[nodiscard]] SpotDay at(std::size_t index) const {
    if (kept_ != nullptr) return (*kept_)[index];
    const WeatherRecord& record = place_.record();
    return spot_day(record.site(), record.date(index), record.day(index), place_.reference()[index],
                    spot_, model_);
  }

 private:
  const Place& place_;
  const Spot& spot_;
  const ModelParameters& model_;
  const std::vector<SpotDay>* kept_ = nullptr;
};

/// One planting on its way to now and beyond, with what its gardener did.
class Journey {
 public:
  /// `run` stands at planting or at a saved state.
  Journey(const ForecastPlanting& input, const PlantingRun& run, const SpotWeather& weather,
          const WeatherRecord& record)
      : input_(input), run_(run), weather_(weather), record_(record) {}

  [[nodiscard]] const PlantingRun& run() const { return run_; }

  /// Whole known days, up to 00:00 of `date`.
  void go_to(Date date);

  /// How the pot stands now, and when lines are passed; empty: not before the end.
  struct Outcome {
    double depletion_l = 0.0;
    double refill_at_l = 0.0;
    double give_now_l = 0.0;
    bool feed_due = false;
    std::optional<Instant> refill;
    std::optional<Instant> dry;
  };

  /// From 00:00 of now's day over the days that `index_of_day` names in the record, until the pot
  /// is dry, the planting ends or `end` is passed.
  [[nodiscard]] Outcome go_on(const Instant& now, const Instant& end,
                              const std::function<std::size_t(Date)>& index_of_day) const;

 private:
  [[nodiscard]] Pouring pouring() const;
  void apply(DayInProgress& day, const Doing& doing) const;
  /// What is known of a day up to an hour: rain, the routine as long as it is assumed, and what the
  /// gardener did. `outcome`: the pot as it stands then; what is passed later counts from there.
  void live(DayInProgress& day, const DemandCurve& curve, double until_h, Outcome* outcome) const;
  void report(const DayInProgress& day, Outcome& outcome) const;

  const ForecastPlanting& input_;
  PlantingRun run_;
  const SpotWeather& weather_;
  const WeatherRecord& record_;
};

}  // namespace wiltline
