#include "wiltline/account/planting_end.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace wiltline {
namespace {

Date told_end(const PlantingDay& ends, Date planted) {
  if (const auto* date = std::get_if<Date>(&ends)) return std::max(*date, planted);
  const MonthDay day = std::get<MonthDay>(ends);
  const Date same_year = day.nearest_in_year(year_of(planted));
  return same_year > planted ? same_year : day.nearest_in_year(year_of(planted) + 1);
}

}  // namespace

std::string_view to_string(EndedBy reason) {
  constexpr std::array<std::string_view, 5> words{"record ends", "mature", "frost", "as told",
                                                  "a year old"};
  return words[static_cast<std::size_t>(reason)];
}

FrostLimits frost_limits(const ModelParameters& model) {
  return {model.frost_tender_c, model.frost_light_c, model.frost_hard_c};
}

namespace {

std::optional<Date> latest_day_of(const Crop& crop, const Planting& planting, Date planted,
                                  GrowthClock growth) {
  constexpr int year_days = 365;
  if (planting.ends) return told_end(*planting.ends, planted);
  if (crop.life != LifeSpan::matures) return planted + std::chrono::days(year_days - 1);
  if (growth == GrowthClock::degree_days) return std::nullopt;
  const int days = static_cast<int>(std::lround(crop.season_days()));
  return planted + std::chrono::days(std::max(days, 1) - 1);
}

}  // namespace

std::optional<Date> latest_day(const Planting& planting, Date planted, GrowthClock growth) {
  auto latest = latest_day_of(planting.crop, planting, planted, growth);
  for (const CropPlants& other : planting.beside) {
    const auto day = latest_day_of(other.crop, planting, planted, growth);
    latest = latest && day ? std::optional(std::max(*latest, *day)) : std::nullopt;
  }
  return latest;
}

PlantingEnd::PlantingEnd(const Planting& planting, const Crop& crop, Date planted,
                         const ModelParameters& model, GrowthClock growth)
    : planted_(planted), latest_(latest_day_of(crop, planting, planted, growth)) {
  if (planting.ends) {
    latest_reason_ = EndedBy::by_garden_row;
  } else if (crop.life != LifeSpan::matures) {
    latest_reason_ = EndedBy::year;
    frost_limit_c_ = lowest_borne_c(crop, frost_limits(model));
  }
}

std::optional<EndedBy> PlantingEnd::on(Date date, const SpotDay& day,
                                       const Development& development) const {
  // Frost is autumn's once a midsummer has passed that lies after planting, or less than half a
  // year before it.
  constexpr int half_year_days = 183;
  const bool autumn = day.days_after_midsummer < (date - planted_).count() + half_year_days;
  if (autumn && day.frost_tmin_c < frost_limit_c_) return EndedBy::frost;
  if (latest_ && date >= *latest_) return latest_reason_;
  if (latest_reason_ == EndedBy::mature && development.finished()) return EndedBy::mature;
  return std::nullopt;
}

}  // namespace wiltline
