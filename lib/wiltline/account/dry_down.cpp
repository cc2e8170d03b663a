#include "wiltline/account/dry_down.hpp"

#include <fmt/format.h>

#include "wiltline/base/errors.hpp"
#include "wiltline/budget/watering.hpp"

namespace wiltline {

std::vector<RainlessDay> rainless_days(const PlantingSetting& setting,
                                       std::span<const CropDay> crop, std::span<const SpotDay> spot,
                                       double age_days, const ModelParameters& model) {
  if (spot.size() < crop.size()) {
    throw RequestError(fmt::format("found {} days at a spot for {} of a crop; expected as many",
                                   spot.size(), crop.size()));
  }
  std::vector<RainlessDay> days;
  days.reserve(crop.size());
  for (std::size_t i = 0; i < crop.size(); ++i) {
    CropDay day = crop[i];
    day.rain_mm = 0.0;
    days.push_back(
        {planting_day(setting, day, age_days + static_cast<double>(i), model).day, spot[i].curve});
  }
  return days;
}

PotState just_watered(const PotParameters& pot, double age_days) {
  const PotState state{.rooted_share = rooted_share(pot, age_days)};
  return water(pot, state, litres_until_drained(pot, state)).state;
}

std::optional<Passing> dry_down(const PotParameters& pot, std::span<const RainlessDay> days,
                                double age_days, double clock_h, Line line) {
  if (days.empty()) throw RequestError("found no day to dry through; expected one at least");
  const auto which = static_cast<std::size_t>(line);
  PotState state = just_watered(pot, age_days);
  double x = days.front().curve.share_by(clock_h);
  for (std::size_t i = 0; i < days.size(); ++i) {
    const DayForcing& forcing = days[i].forcing;
    if (i > 0 && forcing.roots_grow) {
      state = grow_roots(pot, state, forcing.roots_filled);
    }
    const IntervalLimits limits =
        interval_limits(pot, forcing.depletion_fraction, state.rooted_share);
    const LineDepletions lines = line_depletions(pot, limits);
    // A new p or new roots may put a pot past the line at 00:00.
    if (state.rooted_depletion_l > lines[which]) return Passing{i, 0.0};
    const IntervalResult rest = flow(forcing.full_rates, limits, lines, state, 1.0 - x);
    if (rest.crossed_at[which] >= 0.0) {
      return Passing{i, days[i].curve.hours_at(x + rest.crossed_at[which])};
    }
    state = rest.state;
    x = 0.0;
  }
  return std::nullopt;
}

}  // namespace wiltline
