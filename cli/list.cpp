// wiltline list: what is known, with sources and sureness.

#include <fmt/format.h>

#include <algorithm>

#include "command.hpp"
#include "shared_options.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline::cli {
namespace {

/// A list: its name, what it holds, and how it fills a report.
struct Topic {
  std::string_view name;
  std::string_view what;
  void (*fill)(const Catalogue&, Report&);
};

constexpr Column source_column{"source", Quantity::text, 0, "where the numbers come from"};
constexpr Column sureness_column{"sureness", Quantity::text, 0,
                                 "read, recalled, computed or judged"};

/// The entries of a table, each with its own cells between name and source.
template <typename Value, typename Cells>
void fill_from(const NamedTable<Value>& table, Report& report, std::vector<Column> columns,
               const Cells& cells) {
  report.columns = std::move(columns);
  report.columns.push_back(sureness_column);
  report.columns.push_back(source_column);
  for (const Entry<Value>& entry : table.entries()) {
    std::vector<Cell> row{entry.name};
    for (Cell& cell : cells(entry.value)) row.push_back(std::move(cell));
    row.emplace_back(std::string(to_string(entry.sureness)));
    row.emplace_back(entry.source);
    report.rows.push_back(std::move(row));
  }
}

std::string composition_text(const Composition& composition) {
  std::string text;
  for (const CompositionPart& part : composition) {
    if (!text.empty()) text += ' ';
    text += fmt::format("{} {}", part.component, shortest(part.percent));
  }
  return text;
}

void fill_crops(const Catalogue& catalogue, Report& report) {
  fill_from(catalogue.crops, report,
            {{"crop", Quantity::text, 0, ""},
             {"season", Quantity::text, 0, "warm or cool"},
             {"plants_per_pot", Quantity::number, 0, "plants the litres are for"},
             {"min_l", Quantity::litres, 1, "smallest pot any bulletin accepts"},
             {"preferred_low_l", Quantity::litres, 1, "preferred mix, low end"},
             {"preferred_high_l", Quantity::litres, 1, "preferred mix, high end"},
             {"canopy_diameter_m", Quantity::number, 2, "full size"},
             {"crown_height_m", Quantity::number, 2, "full size"},
             {"leaf_area_m2", Quantity::number, 2, "full size"},
             {"days_to_full", Quantity::days, 0, "planting to full canopy"},
             {"depletion_fraction", Quantity::number, 2, "p of FAO-56 Table 22"}},
            [](const Crop& crop) {
              return std::vector<Cell>{std::string(crop.warm_season ? "warm" : "cool"),
                                       crop.plants_per_pot,
                                       crop.min_l,
                                       crop.preferred_l.low,
                                       crop.preferred_l.high,
                                       crop.canopy_diameter_m.value,
                                       crop.crown_height_m.value,
                                       crop.leaf_area_m2.value,
                                       crop.days_to_full.value,
                                       crop.depletion_fraction.value};
            });
  // Behind the source, so that the columns before them stay where they are.
  report.columns.push_back(
      {"harvest", Quantity::text, 0, "what is eaten: whole, fruit, leaf, root"});
  report.columns.push_back({"life", Quantity::text, 0,
                            "matures: ends with its stages; lasts, declines: picked until frost"});
  report.columns.push_back({"picked_leaf_area_m2", Quantity::number, 2,
                            "full size where a garden says harvest leaf: picked leaf by leaf"});
  const double picked_share = catalogue.parameters.leaf_harvest_share;
  for (std::size_t i = 0; i < report.rows.size(); ++i) {
    const Crop& crop = catalogue.crops.entries()[i].value;
    std::vector<Cell>& row = report.rows[i];
    row.emplace_back(std::string(harvest_words[static_cast<std::size_t>(crop.harvest)]));
    row.emplace_back(std::string(life_words[static_cast<std::size_t>(crop.life)]));
    row.push_back(crop.harvest == Harvest::leaf ? Cell(crop.leaf_area_m2.value * picked_share)
                                                : Cell());
  }
}

void fill_pots(const Catalogue& catalogue, Report& report) {
  fill_from(catalogue.pots, report,
            {{"pot", Quantity::text, 0, ""},
             {"kind", Quantity::text, 0, ""},
             {"mix_l", Quantity::litres, 2, "mix it holds"},
             {"height_cm", Quantity::length_cm, 1, "of the mix"},
             {"wall", Quantity::text, 0, ""},
             {"reservoir_l", Quantity::litres, 1, "water stored and wicked up"}},
            [](const Pot& pot) {
              return std::vector<Cell>{pot.kind, pot.mix_l(), pot.mix_depth_cm(), pot.wall.name,
                                       pot.reservoir_l > 0.0 ? Cell(pot.reservoir_l) : Cell()};
            });
}

void fill_mixes(const Catalogue& catalogue, Report& report) {
  fill_from(catalogue.mixes, report,
            {{"mix", Quantity::text, 0, ""},
             {"composition", Quantity::text, 0, "percent by volume before mixing"},
             {"use", Quantity::text, 0, ""}},
            [](const MixRecipe& mix) {
              return std::vector<Cell>{composition_text(mix.composition), mix.use};
            });
}

void fill_components(const Catalogue& catalogue, Report& report) {
  fill_from(catalogue.components, report,
            {{"component", Quantity::text, 0, ""},
             {"porosity", Quantity::volume_share, 2, "total porosity"},
             {"at_1_kpa", Quantity::volume_share, 2, "water content at 1 kPa"},
             {"at_10_kpa", Quantity::volume_share, 2, "water content at 10 kPa"},
             {"at_100_kpa", Quantity::volume_share, 2, "water content at 100 kPa"},
             {"wilting_m3_m3", Quantity::volume_share, 2, "water content at 1500 kPa"}},
            [](const MixComponent& component) {
              const VanGenuchten& curve = component.curve;
              return std::vector<Cell>{curve.theta_s, curve.water_content(1.0),
                                       curve.water_content(10.0), curve.water_content(100.0),
                                       component.wilting_m3_m3};
            });
}

void fill_spots(const Catalogue& catalogue, Report& report) {
  fill_from(catalogue.spots, report,
            {{"spot", Quantity::text, 0, ""},
             {"sun_from_h", Quantity::hours, 0, "direct sun from, solar time"},
             {"sun_to_h", Quantity::hours, 0, "direct sun to, solar time"},
             {"sky_view", Quantity::number, 2, "share of the sky seen"},
             {"wind_share", Quantity::number, 2, "of the open site's wind"},
             {"rain_share", Quantity::number, 2, "of the open site's rain"},
             {"advection", Quantity::number, 1, "warm dry air drawn in"}},
            [](const Spot& spot) {
              return std::vector<Cell>{spot.sun_from_h, spot.sun_to_h,   spot.sky_view,
                                       spot.wind_share, spot.rain_share, spot.advection};
            });
}

void fill_walls(const Catalogue& catalogue, Report& report) {
  fill_from(catalogue.walls, report,
            {{"wall", Quantity::text, 0, ""},
             {"evaporation_share", Quantity::number, 2, "of ET0, per area of wet wall"},
             {"evaporation_share_low", Quantity::number, 2, ""},
             {"evaporation_share_high", Quantity::number, 2, ""}},
            [](const Wall& wall) {
              return std::vector<Cell>{wall.evaporation_share, wall.evaporation_share_low,
                                       wall.evaporation_share_high};
            });
}

void fill_parameters(const Catalogue& catalogue, Report& report) {
  fill_from(catalogue.parameter_rows, report,
            {{"parameter", Quantity::text, 0, ""},
             {"value", Quantity::number, 2, ""},
             {"low", Quantity::number, 2, "plausible range"},
             {"high", Quantity::number, 2, ""},
             {"unit", Quantity::text, 0, ""}},
            [](const ParameterRow& row) {
              return std::vector<Cell>{row.value, row.low, row.high, row.unit};
            });
}

constexpr std::array<Topic, 7> topics{{
    {"crops", "what can be grown, its size and the mix it likes", fill_crops},
    {"pots", "containers by kind and litres of mix", fill_pots},
    {"mixes", "potting mixes by name", fill_mixes},
    {"components", "what mixes are made of, and the water they hold", fill_components},
    {"spots", "places a pot can stand", fill_spots},
    {"walls", "what pots are made of", fill_walls},
    {"parameters", "the model's other numbers, each with its range", fill_parameters},
}};

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
  const auto section = [&out](std::string_view topic, const auto& table) {
    out += fmt::format("{}\n{}\n\n", topic, names_text(table.names()));
  };
  section("crops", catalogue.crops);
  section("pots", catalogue.pots);
  section("mixes", catalogue.mixes);
  section("components", catalogue.components);
  section("spots", catalogue.spots);
  section("walls", catalogue.walls);
  return out +
         "wiltline list crops (pots, mixes, …) shows each with its numbers and their source.\n";
}

/// A list for people: sources, which are long, go below their row.
std::string table_text(const Report& report, bool us) {
  Report without_source = report;
  without_source.columns.pop_back();
  for (auto& row : without_source.rows) row.pop_back();
  std::string out = to_plain_table(without_source, us);
  out += "\nSources (--format csv has them in a column):\n";
  for (const auto& row : report.rows) {
    out += "  " +
           wrapped(printable(std::get<std::string>(row.front()) + ": " +
                             std::get<std::string>(row.back())),
                   98, 4) +
           '\n';
  }
  return out;
}

void run_list(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  Output output(arguments.text("output").value_or("-"));
  Report report("list", inputs_of(arguments));
  const Catalogue catalogue = load_catalogue(arguments, report.notes);
  std::vector<std::string> names;
  for (const Topic& topic : topics) names.emplace_back(topic.name);
  if (!arguments.topic()) {
    if (how.format != Format::table) {
      throw RequestError(fmt::format("no list named; expected one of {}", fmt::join(names, ", ")));
    }
    output.write(overview(catalogue));
    return;
  }
  const auto topic = std::find_if(topics.begin(), topics.end(), [&](const Topic& known) {
    return known.name == *arguments.topic();
  });
  if (topic == topics.end()) {
    throw RequestError(fmt::format("found unknown list {}; expected one of {}{}",
                                   in_quotes(*arguments.topic()), fmt::join(names, ", "),
                                   nearest_hint(*arguments.topic(), names)));
  }
  topic->fill(catalogue, report);
  deliver(report, how, output, [&] { return table_text(report, how.us_units); });
}

}  // namespace

Command list_command() {
  Command command;
  command.name = "list";
  command.purpose = "the crops, pots, mixes and spots known, with sources and sureness";
  command.usage = "[crops|pots|mixes|components|spots|walls|parameters] [options]";
  command.explanation =
      "Every row says how sure it is: read (in a published table or text), recalled (known, not "
      "seen), "
      "computed (from cited numbers) or judged. Names are matched without regard to case.";
  command.examples = {{"all names", "wiltline list"},
                      {"pots with their litres", "wiltline list pots"},
                      {"crops as CSV", "wiltline list crops --format csv"}};
  command.option_groups.push_back(models_options());
  command.option_groups.push_back(output_options());
  command.takes_topic = true;
  command.run = run_list;
  return command;
}

}  // namespace wiltline::cli
