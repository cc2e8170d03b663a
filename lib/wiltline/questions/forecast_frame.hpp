// What all plantings of a forecast share: since when each grows, and the weather that may come.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "wiltline/questions/forecast.hpp"
#include "wiltline/questions/past_days.hpp"

namespace wiltline {

struct ForecastFrame {
  std::vector<std::optional<Date>> planted;  // empty: not growing
  PastDays past;
  Date last_day{};  // the last day that may be wanted and has weather
};

/// Throws as forecast does.
[[nodiscard]] ForecastFrame forecast_frame(std::span<const ForecastPlanting> plantings,
                                           const Place& place, const ForecastOptions& options);

/// The end of the days asked for.
[[nodiscard]] Instant horizon(const ForecastOptions& options);

/// The first visit after an instant, at most as far off as the longest horizon; empty if there is
/// none.
[[nodiscard]] std::optional<Instant> visit_after(const Planting& planting, Date planted,
                                                 const Instant& after);

}  // namespace wiltline
