// The season: a planting's account, day by day, over a weather record.
#pragma once

#include <span>
#include <vector>

#include "wiltline/account/season_result.hpp"
#include "wiltline/base/instruction_set.hpp"
#include "wiltline/budget/place.hpp"
#include "wiltline/garden/catalogue.hpp"

namespace wiltline {

/// What to do besides the account.
struct SeasonOptions {
  GrowthClock growth = GrowthClock::stage_days;
  bool ledger = false;
  bool hours = false;       // in the ledger: what is left through each day
  std::size_t threads = 1;  // 0: one for each core
  InstructionSet instructions = widest_instruction_set();
};

/// The dates on which a planting starts within a record: one, or every year's.
/// Empty if none lies in it. Throws RequestError for what check_planting refuses.
[[nodiscard]] std::vector<Date> planting_dates(const Planting& planting,
                                               const WeatherRecord& record);

/// Every season of every planting of a garden: planting by planting, in order, and within it year
/// by year. A planting that the record does not hold has none. Throws InputError if rain is unknown
/// on some days (Place::require_rain). Results point to `garden`.
[[nodiscard]] std::vector<SeasonResult> season(Plantings garden, const Place& place,
                                               const SeasonOptions& options = {});

/// Runs one planting from `planted` to its end or the record's. Throws RequestError if `planted` is
/// not a day of the record, InputError as season does. The result points to `planting`.
[[nodiscard]] SeasonResult run_season(const Planting& planting, Date planted, const Place& place,
                                      const SeasonOptions& options = {});
SeasonResult run_season(const Planting&& planting, Date planted, const Place& place,
                        const SeasonOptions& options = {}) = delete;

/// Days on which somebody looked at a settled plant and left it unwatered, and it was short of
/// water (Line::stressed) at some time from then to the next visit. Runs the season again, where
/// its routine has such visits and it was short at all. Throws RequestError for a season without a
/// planting, and as run_season does.
[[nodiscard]] int days_left_short(const SeasonResult& season, const Place& place,
                                  GrowthClock growth);

/// A planting, not null, and the day it starts.
struct SeasonStart {
  const Planting* planting = nullptr;
  Date planted{};
};

/// Every start of every planting within a record, planting by planting. They point to `plantings`.
[[nodiscard]] std::vector<SeasonStart> season_starts(Plantings plantings,
                                                     const WeatherRecord& record);

/// Throws RequestError for a start without a planting or on a day outside the record.
void check_starts(std::span<const SeasonStart> starts, const Place& place);

/// Runs many plantings, each as run_season would, to the last bit, but together and on several
/// threads; results in the order of the starts. Throws as run_season does.
[[nodiscard]] std::vector<SeasonResult> run_seasons(std::span<const SeasonStart> starts,
                                                    const Place& place,
                                                    const SeasonOptions& options = {});

}  // namespace wiltline
