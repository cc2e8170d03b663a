// The forecast: from what is known today, when each pot reaches its refill threshold and when it
// goes dry if nobody waters, over weather that a forecast and past summers say may come.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "wiltline/account/saved_planting.hpp"
#include "wiltline/questions/draws.hpp"
#include "wiltline/questions/pot_learning.hpp"
#include "wiltline/questions/reading_errors.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline {

/// A planting and what is known of it besides the weather.
struct ForecastPlanting {
  const Planting* planting = nullptr;
  PotLog log;                          // in the order of time, nothing after now
  std::optional<SavedPlanting> saved;  // goes on from there; else from planting
  /// In the order of time, from planting or the saved state to now (merge_readings): use and water
  /// are learned from them, and from those that the saved state knew (PotLearning).
  std::vector<Reading> readings{};
};

/// The instant of a forecast, its horizon, how many futures it runs and what is drawn in them.
struct ForecastOptions {
  Instant now;
  /// Days of the record up to this one are taken as they stand: observed, or forecast by others.
  Date known_last{};
  /// The last of them that was observed: the state to save goes no further.
  Date observed_last{};
  int horizon_days = 14;
  std::size_t members = 200;
  bool uncertain = false;  // every member with inputs of its own, drawn from their ranges
  std::uint64_t seed = 1;
  GrowthClock growth = GrowthClock::stage_days;
  double scale_error_kg = reading_errors::scale_kg;  // of weighings, as CalibrationOptions has it
  bool visits = false;  // also what each visit of the horizon comes to, if the routine is kept
  /// Called before each planting and after the last, with how many are done, for progress display.
  std::function<void(std::size_t)> done{};
};

/// A forecast from the end of a record: now is 00:00 of the day after its last, all of it observed.
[[nodiscard]] ForecastOptions at_end_of(const WeatherRecord& record);

/// When something happens, over the members; empty: not within the horizon.
struct TimeSpread {
  std::optional<Instant> p10;
  std::optional<Instant> p50;
  std::optional<Instant> p90;
};

/// A visit to come, or a watering as needed, if the routine is kept from now on. Over the members
/// in which it takes place.
struct ComingVisit {
  Instant when;  // as needed: by the median
  Spread poured_l{};
  bool sheds = false;            // in most: so dry that water runs through
  bool feed_due = false;         // on its day or since the watering before; water is poured
  std::optional<Instant> wilts;  // by the median, before the next visit; empty: it lasts
};

/// One pot. Litres are medians over the members, all the same where nothing is drawn and the
/// weather until now is known.
struct PlantingForecast {
  const Planting* planting = nullptr;
  Date planted{};
  double depletion_l = 0.0;  // now, rooted mix
  double refill_at_l = 0.0;
  double give_now_l = 0.0;  // until it drains
  TimeSpread refill;        // at or past the threshold already: now
  TimeSpread dry;
  std::optional<Instant> next_visit;  // to come, at the very minute of now too (coming_visit)
  /// By the median, as-needed before water_at, or dry now; empty where nobody comes or the horizon
  /// ends before that is known.
  std::optional<bool> dry_before_visit;
  bool feed_due = false;
  /// Only if asked for: now, at which only a pot is watered that has wilted by the median and that
  /// nobody comes to this very minute; then the visits up to the horizon, those of most members.
  std::vector<ComingVisit> visits;
  std::optional<Influence> moves_most;  // the time of the threshold; only with drawn inputs
  /// Members whose drawn pot holds no water that plants can use: left out.
  std::size_t waterless_members = 0;
  SavedPlanting saved;
  /// Litres at the next visit (as-needed: at water_at), until it drains, if nobody waters before:
  /// tenth, half and nine tenths of the members. Empty where that is not within the horizon or the
  /// planting ends first.
  std::optional<Spread> give_at_visit_l;
  /// How far off its median may be by what is not known of use and water, litres (a standard
  /// error); only where readings tell.
  std::optional<double> give_error_l{};
  /// When it should be watered, by the median: the last visit before the threshold is reached; the
  /// next visit if none comes before that. As-needed: the moment itself, or 00:00 of the first
  /// day back. Empty: not within the horizon, or nobody comes.
  std::optional<Instant> water_at;
  std::optional<PotUpdate> update{};  // what readings, new or those of the saved state, made of it
};

/// A forecast of all plantings that grow now, and what holds for all of them. Points to the
/// plantings, which must outlive it.
struct ForecastResult {
  std::vector<PlantingForecast> pots;  // most urgent first: dry, then thirsty
  std::vector<const Planting*> not_growing;
  Date last_day{};         // the last day for which there is weather, within the horizon
  bool cut_short = false;  // it lies before the horizon: no other year has such days
  int pooled_years = 0;    // years whose days may come after the known ones
};

/// The day on which the planting that may stand on `date` was planted; empty if none can. A crop
/// picked until frost and planted every year is taken as gone if it was planted last year and
/// before `weather_first`, the first day of the record: nothing is known of its winter.
[[nodiscard]] std::optional<Date> growing_since(const Planting& planting, Date date,
                                                Date weather_first, GrowthClock growth);

/// Runs every planting to now and from there over `members` futures: the known days after now, then
/// past days drawn in blocks of five, each from another year within ten days of its calendar date.
/// A member has the same weather for all plantings. Nobody waters after now, except where visits
/// are asked for; rain falls. A pot with readings is what they make of it: in the middle, and with
/// drawn inputs drawn from what they leave unsure. Throws RequestError if `options.now` lies
/// neither in the record nor on the day after known_last, if known_last or observed_last is not a
/// day of it, if a planting that grows now was planted before the record and is not saved, for no
/// member or horizon, for a reading that is out of order, after now or before its planting or saved
/// state, for a log that is out of order, after now or of amounts outside (0, most_given_l], for a
/// saved state after now, and as check_saved, check_readings and, with drawn inputs, check_drawn;
/// InputError if rain is unknown on some days (Place::require_rain). Results point to the
/// plantings.
[[nodiscard]] ForecastResult forecast(std::span<const ForecastPlanting> plantings,
                                      const Place& place, const Catalogue& catalogue,
                                      const ForecastOptions& options);

/// One planting as drawn, in one course of the weather.
struct MemberForecast {
  // Hours from now until the refill threshold and until it is dry, at most up to the horizon.
  double refill_h = 0.0;
  double dry_h = 0.0;
  std::optional<double> give_at_visit_l;  // as in PlantingForecast
};
/// Which of the plantings, as drawn, under which model, in which course of the weather to come.
using ForecastMember =
    std::function<MemberForecast(std::size_t planting, const Planting& drawn,
                                 const ModelParameters& model, std::uint64_t number)>;
/// The members of a forecast one by one, for plantings that grow now and drawn inputs of one's own.
/// Throws as forecast does, and RequestError if now has no weather, and when asked for a planting
/// that is not among them or does not grow now. Plantings and catalogue must outlive it.
[[nodiscard]] ForecastMember forecast_member(std::span<const ForecastPlanting> plantings,
                                             const Place& place, const Catalogue& catalogue,
                                             const ForecastOptions& options);

/// A garden of which nothing is known besides its routines, which were kept.
[[nodiscard]] std::vector<ForecastPlanting> by_routine_alone(Plantings garden);
[[nodiscard]] ForecastResult forecast(Plantings garden, const Place& place,
                                      const Catalogue& catalogue, const ForecastOptions& options);

}  // namespace wiltline
