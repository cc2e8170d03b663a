#include "planting_options.hpp"

#include <algorithm>

#include "in_order.hpp"
#include "refuse.hpp"
#include "shared_options.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/garden/pot_names.hpp"
#include "wiltline/garden/root_balls.hpp"

namespace wiltline::cli {
namespace {

constexpr int most_plants = 1000;

}  // namespace

int plants_number(std::string_view text) {
  return whole_number("plants", text, 1, most_plants);
}

void keep_roomy(const Arguments& arguments, std::vector<Planting>& plantings) {
  if (!arguments.flag("plants") || plantings.empty()) return;
  const auto refuse_crowd = [](const Planting& planting, const Fault& fault) {
    refuse("--plants: found {} of {}; expected {}", fault.found, planting.pot.name, fault.expected);
  };
  const auto crowded = [&](const Planting& planting) {
    const auto fault = crowding(planting);
    if (fault && arguments.flag("pots")) refuse_crowd(planting, *fault);
    return fault.has_value();
  };
  const Planting last = plantings.back();
  std::erase_if(plantings, crowded);
  if (plantings.empty()) refuse_crowd(last, *crowding(last));
}

PlantingDay known_planting_day(const char* option, std::string_view text) {
  if (const auto date = parse_date(text)) return *date;
  if (const auto day = parse_month_day(text)) return *day;
  refuse("--{}: found {}; expected a date that exists, as 2024-05-10, or 05-10 for every year",
         option, in_quotes(text));
}

std::optional<PlantingDay> planted_option(const Arguments& arguments) {
  const auto text = arguments.text("planted");
  return text ? std::optional(known_planting_day("planted", *text)) : std::nullopt;
}

Mix known_mix(const char* option, std::string_view text, const Catalogue& catalogue) {
  return accepted(option, catalogue.mix(text));
}

Planting planting_of_crop(const Arguments& arguments, const Catalogue& catalogue, bool south,
                          Mix mix, const Spot& spot) {
  const auto crop_name = arguments.text("crop");
  if (!crop_name) refuse("no planting; expected --crop NAME or --garden FILE");
  return planting_of(known("crop", "crop", *crop_name, catalogue.crops),
                     planted_option(arguments).value_or(usual_planting_day(south)), std::move(mix),
                     spot, catalogue);
}

Planting planting_of(const Crop& crop, PlantingDay planted, Mix mix, const Spot& spot,
                     const Catalogue& catalogue) {
  return {.name = crop.name,
          .crop = crop,
          .pot = catalogue.pots.entries().front().value,
          .mix = std::move(mix),
          .plants = usual_plants(crop),
          .planted = planted,
          .ends = {},
          .spot = spot,
          .routine = {},
          .pruned = {},
          .threshold_fraction = {},
          .tare_kg = {}};
}

Planting planting_from_options(const Arguments& arguments, const Catalogue& catalogue, bool south) {
  const std::string spot = arguments.text("spot", usual_spot);
  const std::string mix = arguments.text("mix", usual_mix);
  Planting planting =
      planting_of_crop(arguments, catalogue, south, known_mix("mix", mix, catalogue),
                       known("spot", "spot", spot, catalogue.spots));
  if (const auto plants = arguments.text("plants")) planting.plants = plants_number(*plants);
  return planting;
}

void check_planted(const Planting& planting, Places places, const char* option) {
  for (const Place& place : places) {
    if (!planting_dates(planting, place.record()).empty()) return;
  }
  const WeatherRecord& record = places.front().record();
  refuse("--{}: found {}; expected a day within the weather, {} to {}", option,
         written(planting.planted), to_string(record.first()), to_string(record.last()));
}

std::vector<Pot> known_pots(const char* option, std::string_view list, const Catalogue& catalogue) {
  if (folded(list) == all_word) return values_of(option, "pot", list, catalogue.pots);
  std::vector<Pot> pots;
  for (const std::string_view name : listed(option, list)) {
    pots.push_back(accepted(option, known_pot(name, catalogue)));
  }
  return pots;
}

std::vector<Pot> pots_from_options(const Arguments& arguments, const Catalogue& catalogue,
                                   std::string_view usual_kind) {
  refuse_together(arguments, "pots", "kind");
  if (const auto names = arguments.text("pots")) return known_pots("pots", *names, catalogue);
  std::vector<std::string> kinds;
  for (const auto& entry : catalogue.pots.entries()) {
    add_once(kinds, entry.value.kind);
  }
  std::vector<std::string> wanted;
  if (const auto names = arguments.text("kind")) {
    for (const std::string_view name : listed("kind", *names)) {
      const bool is_known = std::ranges::any_of(
          kinds, [&](const std::string& kind) { return folded(kind) == folded(name); });
      if (!is_known) {
        refuse("--kind: found unknown kind {}; expected a kind of wiltline list pots{}",
               in_quotes(name), nearest_hint(name, kinds));
      }
      wanted.push_back(folded(name));
    }
  } else if (std::ranges::find(kinds, usual_kind) != kinds.end()) {
    wanted.push_back(folded(usual_kind));
  }
  std::vector<Pot> pots;
  for (const auto& entry : catalogue.pots.entries()) {
    const std::string kind = folded(entry.value.kind);
    if (wanted.empty() || std::ranges::find(wanted, kind) != wanted.end()) {
      pots.push_back(entry.value);
    }
  }
  return pots;
}

void refuse_together(const Arguments& arguments, const char* one, const char* other) {
  if (!arguments.flag(one) || !arguments.flag(other)) return;
  refuse("found both --{} and --{}; expected one of them", one, other);
}

}  // namespace wiltline::cli
