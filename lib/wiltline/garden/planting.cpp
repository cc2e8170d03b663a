#include "wiltline/garden/planting.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "wiltline/base/errors.hpp"

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

void check_planting(const Planting& planting) {
  const auto refuse = [&](const Fault& fault) {
    throw RequestError(fmt::format("{}: {}", planting.name, fault.text()));
  };
  if (const auto fault = end_fault(planting.planted, planting.ends)) refuse(*fault);
  const auto check_amount = [&](const std::optional<double>& amount) {
    if (!amount || (*amount > 0.0 && *amount <= most_given_l)) return;
    refuse({fmt::format("give {:g} l", *amount),
            fmt::format("an amount above nothing and up to {} l", most_given_l)});
  };
  check_amount(planting.routine.give_l);
  for (const Helper& helper : planting.routine.helpers) check_amount(helper.routine.give_l);
}

int usual_plants(const Crop& crop) {
  return std::max(1, static_cast<int>(std::lround(crop.plants_per_pot)));
}

}  // namespace wiltline
