// When a planting's days end, and why. Nothing here throws.
#pragma once

#include <limits>
#include <optional>
#include <string_view>

#include "wiltline/budget/forcing.hpp"
#include "wiltline/crop/comfort.hpp"
#include "wiltline/crop/growth.hpp"
#include "wiltline/garden/model_parameters.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline {

/// Why a planting's last day is its last.
enum class EndedBy {
  record,         // the weather ends before the crop does
  mature,         // the end of its stages
  frost,          // the first of autumn that is colder than the crop survives
  by_garden_row,  // the row's own `ends`
  year            // picked for a whole year without frost: planted again
};
/// "record ends", "mature", "frost", "as told", "a year old".
[[nodiscard]] std::string_view to_string(EndedBy reason);

/// What the crops bear, by the model's parameters.
[[nodiscard]] FrostLimits frost_limits(const ModelParameters& model);

/// The rule by which a planting ends, fixed when it is planted. The day it ends on still counts.
class PlantingEnd {
 public:
  /// `crop`: the planting's own or one beside it.
  PlantingEnd(const Planting& planting, const Crop& crop, Date planted,
              const ModelParameters& model, GrowthClock growth);

  /// Why a planting saved at 00:00 of `date` has ended, as far as that follows from the date alone.
  [[nodiscard]] std::optional<EndedBy> over_before(Date date) const {
    return latest_ && date > *latest_ ? std::optional(latest_reason_) : std::nullopt;
  }
  /// Why `date` is the last day; empty if the planting goes on. `development`: at the day's end.
  [[nodiscard]] std::optional<EndedBy> on(Date date, const SpotDay& day,
                                          const Development& development) const;

 private:
  Date planted_;
  std::optional<Date> latest_;
  EndedBy latest_reason_ = EndedBy::mature;
  double frost_limit_c_ =
      -std::numeric_limits<double>::infinity();  // colder ends it; or nothing does
};

/// The last day of a planting whatever the weather, of a mixed pot that of its last crop; empty if
/// only growth ends it.
[[nodiscard]] std::optional<Date> latest_day(const Planting& planting, Date planted,
                                             GrowthClock growth);

}  // namespace wiltline
