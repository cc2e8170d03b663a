// wiltline list: what is known, where from and how sure.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "command.hpp"
#include "delivery.hpp"
#include "described.hpp"
#include "garden_options.hpp"
#include "in_order.hpp"
#include "refuse.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/garden/pot_names.hpp"

namespace wiltline::cli {
namespace {

using enum Quantity;

template <typename Value>
constexpr Column<Entry<Value>> source_list[]{
    {"sureness", "how sure: read, recalled, computed or judged",
     [](const Entry<Value>& entry) { return entry.sureness; }},
    {"source", "where the numbers come from",
     [](const Entry<Value>& entry) { return entry.source; }},
};
template <typename Value>
constexpr Column<Entry<Value>> other_names_list[]{
    {"also_called", "other names that find it",
     [](const Entry<Value>& entry) {
       return fmt::format("{}", fmt::join(entry.also_called, "; "));
     }},
};

/// The entries of a table: their names under `heading`, its own columns, sureness and source; of
/// tables with columns that came later these and other names, so that those before stay.
template <typename Value, std::size_t count, typename... More>
void fill_from(const NamedTable<Value>& entries, std::string_view heading,
               const Column<Value> (&columns)[count], Report& report, const More&... later) {
  const Column<Entry<Value>> names[]{
      {heading, "", [](const Entry<Value>& entry) { return entry.name; }}};
  Table<Entry<Value>> table;
  table.add(names);
  table.add(columns, &Entry<Value>::value);
  table.add(source_list<Value>);
  (table.add(later, &Entry<Value>::value), ...);
  if constexpr (sizeof...(later) > 0) table.add(other_names_list<Value>);
  report.fill(table, entries.entries());
}

std::string composition_text(const Composition& composition) {
  std::string joined;
  for (const CompositionPart& part : composition) {
    if (!joined.empty()) joined += ' ';
    joined += fmt::format("{} {}", part.component, shortest(part.percent));
  }
  return joined;
}

constexpr Column<Crop> crop_list[]{
    {"season", "warm or cool", [](auto& crop) { return crop.warm_season ? "warm" : "cool"; }},
    {"plants_per_pot", number, 0, "plants the litres are for",
     [](auto& crop) { return crop.plants_per_pot; }},
    {"min_l", litres, 1, "smallest pot any bulletin accepts",
     [](auto& crop) { return crop.min_l; }},
    {"preferred_low_l", litres, 1, "preferred mix, low end",
     [](auto& crop) { return crop.preferred_l.low; }},
    {"preferred_high_l", litres, 1, "preferred mix, high end",
     [](auto& crop) { return crop.preferred_l.high; }},
    {"canopy_diameter_m", number, 2, "full size",
     [](auto& crop) { return crop.canopy_diameter_m.value; }},
    {"crown_height_m", number, 2, "full size",
     [](auto& crop) { return crop.crown_height_m.value; }},
    {"leaf_area_m2", number, 2, "full size", [](auto& crop) { return crop.leaf_area_m2.value; }},
    {"days_to_full", days, 0, "planting to full canopy",
     [](auto& crop) { return crop.days_to_full.value; }},
    {"depletion_fraction", number, 2, "p of FAO-56 Table 22",
     [](auto& crop) { return crop.depletion_fraction.value; }},
};

/// Behind the source.
constexpr Column<Crop> crop_life_list[]{
    {"harvest",
     "what is eaten; of a crop with leaf a garden row may say harvest leaf: picked leaf by leaf",
     [](auto& crop) { return harvest_words[static_cast<std::size_t>(crop.harvest)]; }},
    {"life", "matures: ends with its stages; lasts, declines: picked until frost",
     [](auto& crop) { return life_words[static_cast<std::size_t>(crop.life)]; }},
};

constexpr Column<Pot> pot_list[]{
    {"kind", "", [](auto& pot) { return pot.kind; }},
    {"mix_l", litres, 2, "mix it holds", [](auto& pot) { return pot.mix_l(); }},
    {"height_cm", length_cm, 1, "of the mix", [](auto& pot) { return pot.mix_depth_cm(); }},
    {"wall", "", [](auto& pot) { return pot.wall.name; }},
    {"reservoir_l", litres, 1, "water stored and wicked up",
     [](auto& pot) {
       return pot.reservoir_l > 0.0 ? std::optional(pot.reservoir_l) : std::nullopt;
     }},
};

/// Behind the source.
constexpr Column<Pot> pot_size_list[]{
    {"rim_l", litres, 2, "what it holds to the rim, as shops say",
     [](auto& pot) { return pot.shape.volume_l(); }},
    {"across_cm", length_cm, 1, "across the rim inside, the longer side",
     [](auto& pot) { return std::max(pot.shape.top_length_cm(), pot.shape.top_width_cm()); }},
};

constexpr Column<MixRecipe> mix_list[]{
    {"composition", "percent by volume before mixing",
     [](auto& mix) { return composition_text(mix.composition); }},
    {"use", "", [](auto& mix) { return mix.use; }},
};

constexpr Column<MixComponent> component_list[]{
    {"porosity", volume_share, 2, "total porosity",
     [](auto& part) { return part.curve.value.theta_s; }},
    {"at_1_kpa", volume_share, 2, "water content at 1 kPa",
     [](auto& part) { return part.curve.value.water_content(1.0); }},
    {"at_10_kpa", volume_share, 2, "water content at 10 kPa",
     [](auto& part) { return part.curve.value.water_content(10.0); }},
    {"at_100_kpa", volume_share, 2, "water content at 100 kPa",
     [](auto& part) { return part.curve.value.water_content(100.0); }},
    {"wilting_m3_m3", volume_share, 2, "water content at 1500 kPa",
     [](auto& part) { return part.wilting_m3_m3; }},
};

constexpr Column<Spot> spot_list[]{
    {"sun_from_h", hours, 0, "direct sun from, solar time",
     [](auto& spot) { return spot.sun_from_h; }},
    {"sun_to_h", hours, 0, "direct sun to, solar time", [](auto& spot) { return spot.sun_to_h; }},
    {"sky_view", number, 2, "share of the sky seen",
     [](auto& spot) { return spot.sky_view.value; }},
    {"wind_share", number, 2, "of the open site's wind",
     [](auto& spot) { return spot.wind_share.value; }},
    {"rain_share", number, 2, "of the open site's rain",
     [](auto& spot) { return spot.rain_share.value; }},
    {"advection", number, 1, "warm dry air drawn in",
     [](auto& spot) { return spot.advection.value; }},
    {"shade_cloth", number, 2, "share of sun and sky light taken out",
     [](auto& spot) { return spot.shade_cloth; }},
    {"reflected", number, 2, "of the direct sun, thrown back on the pot",
     [](auto& spot) { return spot.reflected.value; }},
    {"warm_surfaces", number, 2, "of the direct sun, radiated on it as heat",
     [](auto& spot) { return spot.warm_surfaces.value; }},
    {"closure", number, 2, "share of the ground covered",
     [](auto& spot) { return spot.closure.value; }},
    {"frost_kept_off_c", number, 0, "a frost outside is so much less cold here",
     [](auto& spot) { return spot.frost_kept_off_c.value; }},
};

constexpr Column<Wall> wall_list[]{
    {"evaporation_share", number, 2, "of ET0, per area of wet wall",
     [](auto& wall) { return wall.evaporation_share.value; }},
    {"evaporation_share_low", number, 2, "", [](auto& wall) { return wall.evaporation_share.low; }},
    {"evaporation_share_high", number, 2, "",
     [](auto& wall) { return wall.evaporation_share.high; }},
};

constexpr Column<ParameterRow> parameter_list[]{
    {"value", number, 2, "", [](auto& row) { return row.number.value; }},
    {"low", number, 2, "plausible range", [](auto& row) { return row.number.low; }},
    {"high", number, 2, "", [](auto& row) { return row.number.high; }},
    {"unit", "", [](auto& row) { return row.unit; }},
};

/// A list: its name, how it fills a report, and for the overview its names.
struct Topic {
  std::string_view name;
  void (*fill)(const Catalogue&, Report&);
  std::vector<std::string> (*names)(const Catalogue&);
};
using Known = const Catalogue&;
constexpr Topic topics[]{
    {"crops", [](Known c, Report& r) { fill_from(c.crops, "crop", crop_list, r, crop_life_list); },
     [](Known c) { return c.crops.names(); }},
    {"pots", [](Known c, Report& r) { fill_from(c.pots, "pot", pot_list, r, pot_size_list); },
     [](Known c) { return c.pots.names(); }},
    {"mixes", [](Known c, Report& r) { fill_from(c.mixes, "mix", mix_list, r); },
     [](Known c) { return c.mixes.names(); }},
    {"components",
     [](Known c, Report& r) { fill_from(c.components, "component", component_list, r); },
     [](Known c) { return c.components.names(); }},
    {"spots", [](Known c, Report& r) { fill_from(c.spots, "spot", spot_list, r); },
     [](Known c) { return c.spots.names(); }},
    {"walls", [](Known c, Report& r) { fill_from(c.walls, "wall", wall_list, r); },
     [](Known c) { return c.walls.names(); }},
    {"parameters",
     [](Known c, Report& r) { fill_from(c.parameter_rows, "parameter", parameter_list, r); },
     nullptr},
};

/// Names with commas between them, broken between names only.
std::string names_text(const std::vector<std::string>& names) {
  constexpr std::size_t width = 78;
  std::string out = "  ";
  std::size_t column = 2;
  for (std::size_t i = 0; i < names.size(); ++i) {
    const std::string item = names[i] + (i + 1 < names.size() ? "," : "");
    if (column > 2 && column + 1 + item.size() > width) {
      out += "\n  ";
      column = 2;
    } else if (column > 2) {
      out += ' ';
      ++column;
    }
    out += item;
    column += item.size();
  }
  return out;
}

/// All names of all lists, for someone who does not know what to ask for yet.
std::string overview(const Catalogue& catalogue) {
  std::string out;
  for (const Topic& topic : topics) {
    if (topic.names == nullptr) continue;
    out += fmt::format("{}\n{}\n\n", topic.name, names_text(topic.names(catalogue)));
  }
  return out +
         "wiltline list crops (pots, mixes, …) shows each with its numbers and their source.\n";
}

/// A list for people: sources, which are long, go below their row.
std::string table_text(const Report& report, bool us) {
  Report without_source = report;
  const auto source = std::ranges::find(report.columns, "source", &ColumnHead::name);
  const auto at = source - report.columns.begin();
  without_source.columns.erase(without_source.columns.begin() + at);
  for (auto& row : without_source.rows) row.erase(row.begin() + at);
  std::string out = to_plain_table(without_source, us);
  out += "\nWhere the numbers come from:\n";
  std::vector<std::pair<std::string, std::vector<std::string>>> sources;  // each with its rows
  for (const auto& row : report.rows) {
    const auto& text = std::get<std::string>(row[static_cast<std::size_t>(at)]);
    entry(sources, text).push_back(std::get<std::string>(row.front()));
  }
  for (const auto& [text, names] : sources) {
    out += "  " + wrapped(printable(fmt::format("{}: {}", fmt::join(names, ", "), text)), 98, 4) +
           '\n';
  }
  return out + (report.notes.empty() ? "" : '\n' + notes_text(report));
}

/// The pots of about a size, the nearest first.
NamedTable<Pot> pots_near(const NamedTable<Pot>& pots, std::string_view text) {
  constexpr double widest_ratio = 1.3;
  const auto size = parse_pot_size(text);
  if (!size) {
    refuse("--near: found {}; expected a size such as 38l, 10gal, 30cm or 12in", in_quotes(text));
  }
  const auto off = [&](const Entry<Pot>& pot) {
    return std::abs(std::log(size_of(pot.value, *size) / (size->value * size->unit)));
  };
  std::vector<Entry<Pot>> near;
  std::ranges::copy_if(pots.entries(), std::back_inserter(near),
                       [&](const Entry<Pot>& pot) { return off(pot) <= std::log(widest_ratio); });
  if (near.empty()) {
    refuse("--near: found {}, near no pot; expected a size of wiltline list pots", in_quotes(text));
  }
  std::ranges::stable_sort(near, {}, off);
  NamedTable<Pot> table;
  for (Entry<Pot>& pot : near) table.add(std::move(pot));
  return table;
}

void run_list(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  Output output = open_output(arguments);
  Report report("list", inputs_of(arguments));
  Catalogue catalogue = load_catalogue(arguments, report.notes);
  if (const auto near = arguments.text("near")) {
    if (arguments.topic() != "pots") {
      refuse("found --near without pots; expected wiltline list pots --near SIZE");
    }
    catalogue.pots = pots_near(catalogue.pots, *near);
  }
  std::vector<std::string> names;
  for (const Topic& topic : topics) names.emplace_back(topic.name);
  if (!arguments.topic()) {
    if (how.format != Format::table || how.page) {
      refuse("no list named; expected one of {}", fmt::join(names, ", "));
    }
    output.write(overview(catalogue));
    return;
  }
  const auto topic = std::ranges::find(topics, *arguments.topic(), &Topic::name);
  if (topic == std::end(topics)) {
    refuse("found unknown list {}; expected one of {}{}", in_quotes(*arguments.topic()),
           fmt::join(names, ", "), nearest_hint(*arguments.topic(), names));
  }
  topic->fill(catalogue, report);
  report.title = fmt::format("Known {}", topic->name);
  deliver(report, how, output, [&] { return table_text(report, how.us_units); });
}

}  // namespace

Command list_command() {
  Command command = described("list", run_list);
  command.takes_topic = true;
  return command;
}

}  // namespace wiltline::cli
