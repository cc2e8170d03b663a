#include "wiltline/crop/comfort.hpp"

namespace wiltline {

double lowest_borne_c(const Crop& crop, const FrostLimits& limits) {
  return crop.frost == Frost::tender  ? limits.tender_c
         : crop.frost == Frost::light ? limits.light_c
                                      : limits.hard_c;
}

DayComfort day_comfort(const Crop& crop, const FrostLimits& limits, const DayTemperatures& day,
                       bool flowering) {
  const auto above = [](double value, const std::optional<double>& limit) {
    return limit && value > *limit;
  };
  const auto below = [](double value, const std::optional<double>& limit) {
    return limit && value < *limit;
  };
  return {.frost = day.frost_tmin_c < lowest_borne_c(crop, limits),
          .too_warm = above(day.week_mean_c, crop.heat_limit_c),
          .poor_fruit_set = flowering && (above(day.tmax_c, crop.fruit_set_day_limit_c) ||
                                          above(day.tmin_c, crop.fruit_set_night_high_c) ||
                                          below(day.tmin_c, crop.fruit_set_night_low_c))};
}

bool is_flowering(const Crop& crop, double progress, double first_flowers) {
  return crop.harvest == Harvest::fruit && progress >= first_flowers;
}

}  // namespace wiltline
