// The season: a planting's account, day by day, over a weather record.
#pragma once

#include <list>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "wiltline/account/season_result.hpp"
#include "wiltline/budget/batch/instruction_set.hpp"
#include "wiltline/budget/forcing.hpp"
#include "wiltline/garden/catalogue.hpp"

namespace wiltline {

/// A weather record prepared once for all plantings: reference ET by day, and the days at each
/// spot.
class PreparedWeather {
 public:
  PreparedWeather(const WeatherRecord& record, const MissingDataOptions& options);

  [[nodiscard]] const WeatherRecord& record() const { return *record_; }
  [[nodiscard]] const std::vector<ReferenceDay>& reference() const { return *reference_; }
  [[nodiscard]] const SourceCounts& sources() const { return sources_; }
  /// Days on which rain was unknown and taken as none.
  [[nodiscard]] std::size_t days_without_rain_reading() const { return days_without_rain_reading_; }
  /// The same record with no spot computed yet: for a model other than the one at() was called
  /// with.
  [[nodiscard]] PreparedWeather afresh() const;
  /// Computed when a spot is first asked for, then kept; with one model only. Not for use by
  /// several threads at once.
  [[nodiscard]] const std::vector<SpotDay>& at(const Spot& spot, const ModelParameters& model);

 private:
  const WeatherRecord* record_;
  std::shared_ptr<const std::vector<ReferenceDay>> reference_;
  SourceCounts sources_;
  std::size_t days_without_rain_reading_ = 0;
  std::list<std::pair<Spot, std::vector<SpotDay>>> spots_;  // a list: what at() returns stays put
};

/// What to do besides the account.
struct SeasonOptions {
  GrowthClock growth = GrowthClock::stage_days;
  bool ledger = false;
  std::size_t threads = 1;  // 0: one for each core
  InstructionSet instructions = widest_instruction_set();
};

/// The dates on which a planting starts within a record: one, or every year's.
/// Empty if none lies in it.
[[nodiscard]] std::vector<Date> planting_dates(const Planting& planting,
                                               const WeatherRecord& record);

/// Runs one planting from `planted` (which must be in the record) to its end or the record's.
[[nodiscard]] SeasonResult run_season(const Planting& planting, Date planted,
                                      PreparedWeather& weather, const ModelParameters& model,
                                      const SeasonOptions& options);

/// A planting and the day it starts, which must be in the record.
struct SeasonStart {
  const Planting* planting = nullptr;
  Date planted{};
};

/// Runs many plantings, each as run_season would, to the last bit, but together and on several
/// threads; results in the order of the starts.
[[nodiscard]] std::vector<SeasonResult> run_seasons(std::span<const SeasonStart> starts,
                                                    PreparedWeather& weather,
                                                    const ModelParameters& model,
                                                    const SeasonOptions& options);

}  // namespace wiltline
