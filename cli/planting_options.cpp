#include "planting_options.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "shared_options.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline::cli {
namespace {

constexpr int most_plants = 1000;

/// A name of a table, or a message with the nearest one.
template <typename Value>
const Value& known(const char* option, std::string_view what, std::string_view name,
                   const NamedTable<Value>& table) {
  const Value* const value = table.find(name);
  if (value == nullptr) {
    throw RequestError(
        fmt::format("--{}: found unknown {} {}; expected a known {} (wiltline list "
                    "{}s){}",
                    option, what, in_quotes(name), what, what, nearest_hint(name, table.names())));
  }
  return *value;
}

/// The parts of a list separated by commas.
std::vector<std::string_view> listed(const char* option, std::string_view text) {
  std::vector<std::string_view> parts;
  while (true) {
    const std::size_t comma = std::min(text.find(','), text.size());
    const std::string_view part = trim(text.substr(0, comma));
    if (part.empty()) {
      throw RequestError(
          fmt::format("--{}: found an empty name; expected names separated by commas", option));
    }
    parts.push_back(part);
    if (comma == text.size()) return parts;
    text.remove_prefix(comma + 1);
  }
}

int plants(const Arguments& arguments, const Crop& crop) {
  const int usual = std::max(1, static_cast<int>(std::lround(crop.plants_per_pot)));
  return whole_number(arguments, "plants", 1, most_plants).value_or(usual);
}

PlantingDay planted(const Arguments& arguments, bool south) {
  const auto text = arguments.text("planted");
  if (!text) return south ? MonthDay{11, 15} : MonthDay{5, 15};
  if (const auto date = parse_date(*text)) return *date;
  if (const auto day = parse_month_day(*text)) return *day;
  throw RequestError(
      fmt::format("--planted: found {}; expected a date that exists, as 2024-05-10, "
                  "or 05-10 for every year",
                  in_quotes(*text)));
}

}  // namespace

po::options_description planting_options() {
  po::options_description options("Planting");
  options.add_options()("crop", text_value("NAME"), "a known crop (wiltline list crops)")(
      "mix", text_value("MIX"), "a known mix, or names and percent by volume; else potting mix")(
      "spot", text_value("NAME"), "a known spot (wiltline list spots); else patio")(
      "plants", text_value("N"), "plants in each pot; else as many as the crop's litres are for")(
      "planted", text_value("DAY"),
      "05-15 for every year, or 2024-05-15; else 05-15, south of the equator 11-15");
  return options;
}

po::options_description pot_options() {
  po::options_description options("Pots");
  options.add_options()("pots", text_value("NAMES"),
                        "these pots only, separated by commas; else all known ones")(
      "kind", text_value("KINDS"), "pots of these kinds only, such as nursery or fabric");
  return options;
}

Planting planting_from_options(const Arguments& arguments, const Catalogue& catalogue, bool south) {
  const auto crop_name = arguments.text("crop");
  if (!crop_name) throw RequestError("no planting; expected --crop NAME or --garden FILE");
  const Crop& crop = known("crop", "crop", *crop_name, catalogue.crops);
  MixOrProblem mix = catalogue.mix(arguments.text("mix").value_or("potting mix"));
  if (!mix.mix) {
    throw RequestError(fmt::format("--mix: found {}; expected {}", mix.found, mix.expected));
  }
  const Spot& spot =
      known("spot", "spot", arguments.text("spot").value_or("patio"), catalogue.spots);
  return {.name = crop.name,
          .crop = crop,
          .pot = catalogue.pots.entries().front().value,
          .mix = std::move(*mix.mix),
          .plants = plants(arguments, crop),
          .planted = planted(arguments, south),
          .ends = {},
          .spot = spot,
          .routine = {},
          .pruned = {},
          .threshold_fraction = {},
          .tare_kg = {}};
}

std::vector<Pot> pots_from_options(const Arguments& arguments, const Catalogue& catalogue) {
  refuse_together(arguments, "pots", "kind");
  std::vector<Pot> pots;
  if (const auto names = arguments.text("pots")) {
    for (const std::string_view name : listed("pots", *names)) {
      pots.push_back(known("pots", "pot", name, catalogue.pots));
    }
    return pots;
  }
  std::vector<std::string> kinds;
  for (const auto& entry : catalogue.pots.entries()) {
    if (std::find(kinds.begin(), kinds.end(), entry.value.kind) == kinds.end()) {
      kinds.push_back(entry.value.kind);
    }
  }
  std::vector<std::string> wanted;
  if (const auto names = arguments.text("kind")) {
    for (const std::string_view name : listed("kind", *names)) {
      const bool is_known = std::any_of(kinds.begin(), kinds.end(), [&](const std::string& kind) {
        return folded(kind) == folded(name);
      });
      if (!is_known) {
        throw RequestError(fmt::format("--kind: found unknown kind {}; expected one of {}{}",
                                       in_quotes(name), fmt::join(kinds, ", "),
                                       nearest_hint(name, kinds)));
      }
      wanted.push_back(folded(name));
    }
  }
  for (const auto& entry : catalogue.pots.entries()) {
    const std::string kind = folded(entry.value.kind);
    if (wanted.empty() || std::find(wanted.begin(), wanted.end(), kind) != wanted.end()) {
      pots.push_back(entry.value);
    }
  }
  return pots;
}

void refuse_together(const Arguments& arguments, const char* one, const char* other) {
  if (!arguments.flag(one) || !arguments.flag(other)) return;
  throw RequestError(fmt::format("found both --{} and --{}; expected one of them", one, other));
}

}  // namespace wiltline::cli
