#include "choices.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "garden_options.hpp"
#include "notes.hpp"
#include "planting_options.hpp"
#include "refuse.hpp"
#include "wiltline/base/text.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

Choices choices_from_options(const Arguments& arguments, const Catalogue& catalogue,
                             bool of_garden) {
  Choices choices;
  if (!of_garden || arguments.flag("pots") || arguments.flag("kind")) {
    choices.pots = pots_from_options(arguments, catalogue);
  }
  choices.mixes = each_listed(
      arguments, "mixes", [&](std::string_view mix) { return known_mix("mixes", mix, catalogue); });
  choices.walls = each_listed(arguments, "walls", [&](std::string_view wall) {
    return known("walls", "wall", wall, catalogue.walls);
  });
  choices.spots = each_listed(arguments, "spots", [&](std::string_view spot) {
    return known("spots", "spot", spot, catalogue.spots);
  });
  choices.plants = each_listed(arguments, "plants", plants_number);
  return choices;
}

/// A mix that holds nothing for plants in one of its pots leaves nothing to compare.
void check_water(std::span<const Planting> plantings, const ModelParameters& model) {
  for (const Planting& planting : plantings) {
    if (holds_water(planting, model)) continue;
    refuse(
        "found mix {} in pot {}, which holds no water there that plants can use; expected a mix "
        "that holds water",
        in_quotes(planting.mix.name), in_quotes(planting.pot.name));
  }
}

}  // namespace

ChosenPlantings chosen_plantings(const Arguments& arguments, const Catalogue& catalogue,
                                 const std::vector<Place>& places, bool days_matter,
                                 std::vector<std::string>& notes) {
  refuse_together(arguments, "garden", "crop");
  ChosenPlantings chosen{.plantings = {}, .of_garden = arguments.flag("garden")};
  Choices choices = choices_from_options(arguments, catalogue, chosen.of_garden);
  if (chosen.of_garden) {
    Garden garden = load_garden(arguments, catalogue);
    const auto planted = planted_option(arguments);
    for (Planting& planting : garden.plantings) {
      if (planted) planting.planted = *planted;
      if (planted && days_matter) check_planted(planting, places);
    }
    if (days_matter) check_planting_days(garden, places);
    chosen.plantings = crossed(garden.plantings, choices);
    if (auto note = saucers_note(garden.plantings); note && !choices.pots.empty()) {
      notes.push_back(*std::move(note));
    }
  } else {
    const Mix mix =
        choices.mixes.empty() ? known_mix("mixes", usual_mix, catalogue) : choices.mixes.front();
    const Spot& spot = choices.spots.empty() ? known("spots", "spot", usual_spot, catalogue.spots)
                                             : choices.spots.front();
    const bool south = places.front().record().site().latitude_deg < 0.0;
    const Planting planting = planting_of_crop(arguments, catalogue, south, mix, spot);
    if (days_matter) check_planted(planting, places);
    if (!arguments.flag("pots") && !arguments.flag("kind")) {
      const std::size_t all = choices.pots.size();
      choices.pots = usual_pots(planting.crop, choices.pots);
      notes.push_back(
          fmt::format("only the {} pots in which {} is usually grown; for all {} add "
                      "--pots all",
                      choices.pots.size(), crop_in_words(planting.crop.name), all));
    }
    chosen.plantings = crossed(std::span(&planting, 1), choices);
  }
  keep_roomy(arguments, chosen.plantings);
  check_water(chosen.plantings, catalogue.parameters);
  return chosen;
}

Differences differences(std::span<const Planting> plantings, bool of_garden) {
  Differences differ{.name = of_garden};
  for (const Planting& one : plantings) {
    for (const Planting& other : plantings) {
      if (one.name != other.name) continue;
      differ.plants = differ.plants || one.plants != other.plants;
      differ.mix = differ.mix || one.mix.name != other.mix.name;
      differ.spot = differ.spot || one.spot.name != other.spot.name;
      // A pot's own wall goes without saying.
      differ.wall = differ.wall ||
                    (one.pot.name == other.pot.name && one.pot.wall.name != other.pot.wall.name);
    }
  }
  return differ;
}

std::vector<TextColumn<Planting>> shown_choice_columns(const Differences& differ) {
  using enum Side;
  using P = const Planting&;
  std::vector<TextColumn<Planting>> columns;
  const auto add = [&columns](bool shown, TextColumn<Planting> column) {
    if (shown) columns.push_back(std::move(column));
  };
  add(differ.name, {"planting", left, [](P p) { return printable(p.name); }});
  add(true, {"pot", left, [](P p) { return printable(p.pot.name); }});
  add(differ.mix, {"mix", left, [](P p) { return printable(p.mix.name); }});
  add(differ.wall, {"wall", left, [](P p) { return printable(p.pot.wall.name); }});
  add(differ.spot, {"spot", left, [](P p) { return printable(p.spot.name); }});
  add(differ.plants, {"plants", right, [](P p) { return fmt::format("{}", p.plants); }});
  return columns;
}

std::string choice_text(const Planting& planting, const Differences& differ) {
  std::string text;
  const auto add = [&text](const std::string& part) {
    text += fmt::format("{}{}", text.empty() ? "" : ", ", printable(part));
  };
  if (differ.name) add(planting.name);
  add(planting.pot.name);
  if (differ.mix) add(planting.mix.name);
  if (differ.wall) add(fmt::format("{} wall", planting.pot.wall.name));
  if (differ.spot) add(planting.spot.name);
  if (differ.plants) add(counted(planting.plants, "plant"));
  return text;
}

std::string common_text(const Planting& planting, const Differences& differ, bool planted) {
  if (differ.name) return "";
  std::string text = crop_in_words(planting.crop.name);
  const auto add = [&text](const std::string& part) { text += ", " + printable(part); };
  if (!differ.plants) add(counted(planting.plants, "plant") + " a pot");
  if (!differ.mix) add(planting.mix.name);
  if (!differ.spot) add(planting.spot.name);
  if (planted) add("planted " + planted_in_words(planting.planted));
  return text;
}

}  // namespace wiltline::cli
