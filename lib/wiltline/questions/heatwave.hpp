// A hot spell: where it is in a record, and how often each pot must be watered in it.
//
// No rain falls in the spell, and each pot is full at 00:00 of its first day.
#pragma once

#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "wiltline/questions/season.hpp"

namespace wiltline {

/// A run of days of a record.
struct HotSpell {
  Date first{};
  int days = 0;
  double mean_tmax_c = 0.0;
  double mean_et0_mm = 0.0;  // of the open site

  [[nodiscard]] Date last() const { return first + std::chrono::days(days - 1); }
};

/// What makes a spell the hottest.
enum class Heat { tmax, et0 };

/// What is true of some spells; empty: of all.
using SpellIs = std::function<bool(const HotSpell&)>;

/// The run of `days` with the highest mean; the earliest of equals. Of those preferred, if there is
/// one, as in longest_spell. Empty if the record is shorter. Here and below: RequestError for less
/// than one day.
[[nodiscard]] std::optional<HotSpell> hottest_spell(const Place& place, int days, Heat by,
                                                    const SpellIs& preferred = {});

/// The longest run of days whose highest temperature is at or above `tmax_c`; of equally long ones
/// the one with the higher mean, then the earlier. Empty if none has `fewest_days`.
[[nodiscard]] std::optional<HotSpell> longest_spell(const Place& place, double tmax_c,
                                                    int fewest_days, const SpellIs& preferred = {});

/// The `days` from `first` on. Empty if they do not all lie in the record.
[[nodiscard]] std::optional<HotSpell> spell_from(const Place& place, Date first, int days);

/// The record with lowest and highest temperature raised alike by `degrees_c`, and the air as
/// moist as it was: relative humidities fall so that vapour pressure stays, and where humidity is
/// estimated from the lowest temperature, the estimate is that of the record as it was. Radiation
/// stays, also where it is estimated from the temperature range. Throws RequestError for less than
/// 0 degrees.
[[nodiscard]] WeatherRecord warmer(const WeatherRecord& record, double degrees_c,
                                   const MissingDataOptions& missing);

/// How plantings grow up to a spell, or that they stand full-grown in it.
struct HeatwaveOptions {
  GrowthClock growth = GrowthClock::stage_days;
  bool full_grown = false;  // every planting at mid-season, its roots all through the mix
};

/// A spell with visits at fixed hours, each watering until it drains.
struct VisitedSpell {
  int stressed_days = 0;
  int wilting_days = 0;

  /// No wilting day.
  [[nodiscard]] bool enough() const { return wilting_days == 0; }
};

/// One planting in a spell.
struct HeatwavePot {
  const Planting* planting = nullptr;
  std::optional<Date> planted;  // empty if full-grown by request
  double peak_use_l_day = 0.0;  // potential use of the spell's thirstiest day
  int waterings = 0;            // in the spell, watered as needed
  int most_waterings_a_day = 0;
  double waterings_per_day = 0.0;  // mean
  /// Clock hour at which the pot, watered until it drains at 07:00, reaches its refill threshold,
  /// on the day of the spell on which that is soonest; hours before 07:00 are of the night after.
  /// Empty if it never does before the next 07:00 (on the last day, before 24:00).
  std::optional<double> refill_at_h;
  std::optional<Date> refill_on;  // the day of that watering
  VisitedSpell once_a_day;        // 07:00
  VisitedSpell twice_a_day;       // 07:00 and 19:00
};

/// Plantings in a hot spell. Points to them; they must outlive it.
struct HeatwaveResult {
  HotSpell spell;
  std::vector<HeatwavePot> pots;        // in the order given
  std::vector<const Planting*> absent;  // not in the ground on all days of the spell
};

/// True of a spell all through which one of the plantings at least grows.
[[nodiscard]] SpellIs grown_through(Plantings plantings, const Place& place,
                                    const HeatwaveOptions& options);

/// Every planting in a spell. Throws RequestError if the spell does not lie in the record. Results
/// point to `plantings`.
[[nodiscard]] HeatwaveResult heatwave(Plantings plantings, const Place& place,
                                      const HotSpell& spell, const HeatwaveOptions& options);

/// The same in the hottest five days by highest temperature all through which one of the plantings
/// grows, or of all days if none ever does. Throws RequestError for a record of fewer days.
[[nodiscard]] HeatwaveResult heatwave(Plantings plantings, const Place& place,
                                      const HeatwaveOptions& options = {});

}  // namespace wiltline
