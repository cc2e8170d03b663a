#include "wiltline/garden/planting.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "wiltline/base/errors.hpp"
#include "wiltline/garden/model_checks.hpp"

namespace wiltline {

bool falls_on(const PlantingDay& day, Date date) {
  if (const auto* exact = std::get_if<Date>(&day)) return *exact == date;
  return std::get<MonthDay>(day).in_year(year_of(date)) == date;
}

std::string written(const PlantingDay& day) {
  return std::visit([](const auto& one) { return to_string(one); }, day);
}

MonthDay usual_planting_day(bool south) {
  return south ? MonthDay{11, 15} : MonthDay{5, 15};
}

int plants_in_pot(const Planting& planting) {
  int plants = planting.plants;
  for (const CropPlants& other : planting.beside) plants += other.plants;
  return plants;
}

bool too_dark_for_fruit(const Planting& planting) {
  return planting.spot.sun_to_h - planting.spot.sun_from_h < least_sun_for_fruit_h &&
         any_crop(planting, [](const Crop& crop) { return crop.harvest == Harvest::fruit; });
}

std::string crop_text(const Planting& planting) {
  if (planting.beside.empty()) return planting.crop.name;
  std::string text = fmt::format("{} {}", planting.crop.name, planting.plants);
  for (const CropPlants& other : planting.beside) {
    text += fmt::format(" + {} {}", other.crop.name, other.plants);
  }
  return text;
}

void forget_pot(Planting& planting) {
  planting.learned.usable_l.reset();
  planting.learned.usable_sd_l = 0.0;
  planting.learned.use_usable_correlation = 0.0;
  planting.learned.wall_factor = 1.0;
}

bool same_crops(const Planting& a, const Planting& b) {
  return a.crop == b.crop && a.beside == b.beside && (a.beside.empty() || a.plants == b.plants);
}

std::optional<Fault> end_fault(const PlantingDay& planted, const std::optional<PlantingDay>& ends) {
  const Date* const last = ends ? std::get_if<Date>(&*ends) : nullptr;
  if (last == nullptr) return std::nullopt;
  const Date* const first = std::get_if<Date>(&planted);
  if (first == nullptr) {
    return Fault{fmt::format("ends {} for a planting of every year", to_string(*last)),
                 fmt::format("a day of every year, as {}, or planted as a date",
                             to_string(month_day_of(*last)))};
  }
  if (*last >= *first) return std::nullopt;
  return Fault{fmt::format("{} before {}", to_string(*last), to_string(*first)),
               "an end on or after the planting day"};
}

namespace {

std::optional<Fault> day_fault(const PlantingDay& day) {
  constexpr int leap_year = 2024;
  const auto* const every_year = std::get_if<MonthDay>(&day);
  if (every_year == nullptr || every_year->in_year(leap_year)) return std::nullopt;
  return Fault{fmt::format("month {} and day {}", every_year->month, every_year->day),
               "a day that exists"};
}

std::optional<Fault> pot_fault(const Pot& pot) {
  if (auto fault = wall_fault(pot.wall)) return fault;
  const double depth_cm = pot.mix_depth_cm();
  const bool sound = depth_cm > 0.0 && depth_cm <= pot.shape.height_cm() &&
                     pot.drain_level_cm >= 0.0 && pot.drain_level_cm < depth_cm &&
                     pot.mix_l() > 0.0 && std::isfinite(pot.mix_l()) && pot.reservoir_l >= 0.0 &&
                     std::isfinite(pot.reservoir_l);
  if (sound) return std::nullopt;
  return Fault{fmt::format("a pot {:g} cm high with {:g} cm headspace, drained from {:g} cm on",
                           pot.shape.height_cm(), pot.headspace_cm, pot.drain_level_cm),
               "room for mix above the drain holes"};
}

std::optional<Fault> routine_fault(const Routine& routine) {
  const auto& hours = routine.visit_hours;
  constexpr double day_h = 24.0;
  double before_h = -1.0;
  for (const double hour : hours) {
    if (!(hour >= 0.0 && hour < day_h && hour > before_h)) {
      return Fault{fmt::format("a visit at {:g} h", hour), "hours from 0 to below 24, in order"};
    }
    before_h = hour;
  }
  if (routine.every_n_days < 1) {
    return Fault{fmt::format("visits every {} days", routine.every_n_days), "1 or more"};
  }
  const std::optional<double>& give_l = routine.give_l;
  if (give_l && !(*give_l > 0.0 && *give_l <= most_given_l)) {
    return Fault{fmt::format("give {:g} l", *give_l),
                 fmt::format("an amount above nothing and up to {} l", most_given_l)};
  }
  for (const Helper& helper : routine.helpers) {
    if (auto fault = routine_fault(helper.routine)) return fault;
  }
  return std::nullopt;
}

/// Of what was learned only that it can be meant at all: draws go beyond what a garden may say.
std::optional<Fault> learned_fault(const Learned& learned) {
  for (const double number :
       {learned.use_factor, learned.wall_factor, learned.usable_l.value_or(1.0),
        1.0 + learned.use_factor_sd, 1.0 + learned.usable_sd_l}) {
    if (number > 0.0 && std::isfinite(number)) continue;
    return Fault{fmt::format("{:g} as a factor or an amount learned", number), "above 0"};
  }
  if (std::abs(learned.use_usable_correlation) <= 1.0) return std::nullopt;
  return Fault{fmt::format("use_usable_correlation {:g}", learned.use_usable_correlation),
               "-1 to 1"};
}

std::optional<Fault> planting_fault(const Planting& planting) {
  using namespace planting_limits;
  const struct {
    std::string_view what;
    double value;
    double least;
    double most;
  } numbers[]{
      {"plants", 1.0 * planting.plants, 1.0, most_plants},
      {"plants in all", 1.0 * plants_in_pot(planting), 1.0, most_plants},
      {"count", 1.0 * planting.count, 1.0, most_pots},
      {"saucer_l", planting.saucer_l, 0.0, most_saucer_l},
      {"tare_kg", planting.tare_kg.value_or(0.0), 0.0, most_tare_kg},
      {"threshold_fraction", planting.threshold_fraction.value_or(least_threshold_fraction),
       least_threshold_fraction, most_threshold_fraction},
  };
  for (const auto& number : numbers) {
    if (number.value >= number.least && number.value <= number.most) continue;
    return Fault{fmt::format("{} {:g}", number.what, number.value),
                 fmt::format("{:g} to {:g}", number.least, number.most)};
  }
  if (auto fault = crop_fault(planting.crop)) return fault;
  for (const CropPlants& other : planting.beside) {
    if (auto fault = crop_fault(other.crop)) return fault;
    if (other.plants < 1) return Fault{fmt::format("plants {}", other.plants), "1 or more"};
  }
  if (auto fault = day_fault(planting.planted)) return fault;
  if (planting.ends) {
    if (auto fault = day_fault(*planting.ends)) return fault;
  }
  for (const PlantingDay& day : planting.pruned) {
    if (auto fault = day_fault(day)) return fault;
  }
  if (auto fault = end_fault(planting.planted, planting.ends)) return fault;
  if (auto fault = pot_fault(planting.pot)) return fault;
  if (auto fault = spot_fault(planting.spot)) return fault;
  if (auto fault = routine_fault(planting.routine)) return fault;
  return learned_fault(planting.learned);
}

}  // namespace

void check_planting(const Planting& planting) {
  if (const auto fault = planting_fault(planting)) {
    throw RequestError(fmt::format("{}: {}", planting.name, fault->text()));
  }
}

int usual_plants(const Crop& crop) {
  return std::max(1, static_cast<int>(std::lround(crop.plants_per_pot)));
}

}  // namespace wiltline
