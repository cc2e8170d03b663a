// How sure an answer is: the question asked again for many draws of what the model tables give only
// as ranges.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "wiltline/questions/absence.hpp"
#include "wiltline/questions/compare.hpp"
#include "wiltline/questions/draws.hpp"
#include "wiltline/questions/heatwave.hpp"

namespace wiltline {

/// Which draws: the same seed gives the same ones. Fewer than one is a RequestError.
struct DrawOptions {
  std::size_t draws = 100;
  std::uint64_t seed = 1;
  std::size_t threads = 0;  // 0: one for each core; the answers are the same with any number
  /// Called after each draw with the number of those done, by one thread at a time.
  std::function<void(std::size_t)> done{};
};

// Every spread is over the draws in which the pot holds water that plants can use;
// `waterless_draws` counts the others. If there is no draw of the former kind: RequestError, also
// for a planting of which nothing would be said; so it is for places of different models
// (common_model) and a model that is not the catalogue's where it is drawn (check_drawn). Else
// errors are those of the question itself, of rain that is not known too.

/// A planting's season over all draws.
struct SeasonSpread {
  std::size_t waterless_draws = 0;
  Spread watered_l;
  Spread wilting_days;
  Spread dry_days;
  double unwilted_share = 0.0;  // of draws without a wilting day
  /// What moves the wilting days most or, if nothing stands out there, the litres given.
  std::optional<Influence> moves_most;
};
/// One for each start, in their order.
[[nodiscard]] std::vector<SeasonSpread> season_spreads(std::span<const SeasonStart> starts,
                                                       const Place& place,
                                                       const Catalogue& catalogue,
                                                       const SeasonOptions& options,
                                                       const DrawOptions& draws);

/// A choice over all its summers and draws.
struct ChoiceSpread {
  std::size_t waterless_draws = 0;
  Spread wilting_days;                  // of the worst summer
  Spread watered_l;                     // mean of the summers
  double enough_share = 0.0;            // of draws in which no summer has a wilting day
  std::optional<Influence> moves_most;  // as in SeasonSpread
};
/// One for each planting, in the order given; empty for those no record holds.
[[nodiscard]] std::vector<std::optional<ChoiceSpread>> choice_spreads(Plantings plantings,
                                                                      Places places,
                                                                      const Catalogue& catalogue,
                                                                      const SeasonOptions& options,
                                                                      const DrawOptions& draws);

/// A pot's windows of an absence over all draws.
struct AbsenceSpread {
  std::size_t waterless_draws = 0;
  Spread share;                         // of windows passed
  double enough_share = 0.0;            // of draws in which the share asked is reached
  std::optional<Influence> moves_most;  // the share of windows
};
/// One for each candidate, in their order; empty for those without a window.
[[nodiscard]] std::vector<std::optional<AbsenceSpread>> absence_spreads(
    Plantings candidates, Places places, const Catalogue& catalogue, const AbsenceOptions& options,
    const DrawOptions& draws);

/// A pot in a hot spell over all draws.
struct HeatwaveSpread {
  std::size_t waterless_draws = 0;
  Spread peak_use_l_day;
  Spread waterings_per_day;
  double once_a_day_share = 0.0;  // of draws in which 07:00 is enough
  double twice_a_day_share = 0.0;
  std::optional<Influence> moves_most;  // the peak use
};
/// One for each planting, in the order given; empty for those not in the ground.
[[nodiscard]] std::vector<std::optional<HeatwaveSpread>> heatwave_spreads(
    Plantings plantings, const Place& place, const HotSpell& spell, const Catalogue& catalogue,
    const HeatwaveOptions& options, const DrawOptions& draws);

}  // namespace wiltline
