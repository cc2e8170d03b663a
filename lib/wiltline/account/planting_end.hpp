// When a planting's days end, and why.
#pragma once

#include <optional>
#include <string_view>

#include "wiltline/crop/comfort.hpp"
#include "wiltline/crop/growth.hpp"
#include "wiltline/garden/model_parameters.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline {

/// Why a planting's last day is its last.
enum class EndedBy {
  record,  // the weather ends before the crop does
  mature,  // the end of its stages
  frost,   // the first after midsummer that is colder than the crop bears
  told,    // the row's own `ends`
  year     // picked for a whole year without frost: planted anew
};
/// "record ends", "mature", "frost", "as told", "a year old".
[[nodiscard]] std::string_view to_string(EndedBy reason);

/// What the crops bear, by the model's parameters.
[[nodiscard]] FrostLimits frost_limits(const ModelParameters& model);

/// The midsummer from which on a frost is one of autumn: the last before planting if days have been
/// getting shorter since then, else the next. Midsummer is 21 June, south of the equator 21
/// December.
[[nodiscard]] Date midsummer_of(Date planted, bool south);

/// The rule by which a planting ends, fixed when it is planted. The day it ends on still counts.
class PlantingEnd {
 public:
  PlantingEnd(const Planting& planting, Date planted, bool south, const ModelParameters& model,
              GrowthClock growth);

  /// The last day whatever the weather; empty if only growth ends it.
  [[nodiscard]] std::optional<Date> latest() const { return latest_; }
  /// Why `date` is the last day; empty if the planting goes on. `tmin_c`: of that day, at the spot;
  /// `development`: at its end.
  [[nodiscard]] std::optional<EndedBy> on(Date date, double tmin_c,
                                          const Development& development) const;

 private:
  std::optional<Date> latest_;
  EndedBy latest_reason_ = EndedBy::mature;
  std::optional<Date> frost_from_;  // empty: frost does not end it
  double bears_c_ = 0.0;
};

/// The last day of a planting whatever the weather; empty if only growth ends it.
[[nodiscard]] std::optional<Date> latest_day(const Planting& planting, Date planted,
                                             GrowthClock growth);

}  // namespace wiltline
