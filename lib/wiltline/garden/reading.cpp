#include "wiltline/garden/reading.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <unordered_set>
#include <utility>

#include "wiltline/base/fields.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/container/capacity.hpp"
#include "wiltline/garden/learned_fields.hpp"
#include "wiltline/garden/model_checks.hpp"
#include "wiltline/garden/pot_names.hpp"
#include "wiltline/garden/root_balls.hpp"

namespace wiltline {
namespace {

using planting_limits::most_plants;
using planting_limits::most_pots;
constexpr std::size_t longest_name = 200;  // characters

std::optional<PlantingDay> parse_planting_day(std::string_view text) {
  if (const auto date = parse_date(text)) return PlantingDay{*date};
  if (const auto day = parse_month_day(text)) return PlantingDay{*day};
  return std::nullopt;
}

/// A row as written: what could be read of it, and nothing where a cell is blank or wrong.
struct GardenRow {
  std::string name;
  const Crop* crop = nullptr;
  int own_plants = 0;  // as the crop's cell says; 0: it does not
  std::vector<std::pair<const Crop*, int>> beside;
  std::optional<Pot> pot;
  std::optional<Mix> mix;
  std::optional<int> plants;
  int count = 1;
  std::optional<PlantingDay> planted, ends;
  const Spot* spot = nullptr;
  std::optional<Routine> routine;
  const Wall* wall = nullptr;
  bool mulch = false;
  bool hardened = false;
  std::vector<PlantingDay> pruned;
  bool leaf_by_leaf = false;
  std::optional<double> volume_l, height_cm, top_cm, headspace_cm, saucer_l, canopy_diameter_m,
      canopy_height_m, root_ball_l, threshold_fraction, tare_kg, sun_until_h;
  Learned learned{};
};

using Names = std::unordered_set<std::string>;
using GardenFields = Fields<GardenRow>;

/// Answers are told apart by name, in tables and within sentences. Told as the rows are read, so
/// that a file of a million equal rows ends at its first ones.
void put_name(const Cell& cell, GardenRow& row, Names& names) {
  row.name = std::string(cell.text());
  if (!names.insert(row.name).second) {
    cell.complain(fmt::format("{} a second time", in_quotes(row.name)), "every name once");
  }
  if (const std::size_t width = width_of(row.name); width > longest_name) {
    cell.complain(fmt::format("a name of {} characters: {}", width, in_quotes(row.name)),
                  fmt::format("at most {}; notes has room for more", longest_name));
  }
}

/// A field that names a row of a model table.
template <typename Value>
GardenFields::Put known(const NamedTable<Value>& values, const Value* GardenRow::*into) {
  return [&values, into](const Cell& cell, GardenRow& row) {
    row.*into = values.find(cell.text());
    if (row.*into != nullptr) return;
    cell.complain(
        fmt::format("unknown {} {}", cell.column(), in_quotes(cell.text())),
        fmt::format("a known {}", cell.column()),
        {Advice::Kind::show_names, cell.column(), nearest_hint(cell.text(), values.all_names())});
  };
}

int plants_in_cell(const GardenRow& row) {
  int plants = row.own_plants;
  for (const auto& other : row.beside) plants += other.second;
  return plants;
}

/// A crop, or several with their plants: kale 2 + beet 4 + leaf lettuce 3. A crop that is written
/// twice is counted together.
void put_crops(const Cell& cell, GardenRow& row, const NamedTable<Crop>& crops) {
  const std::string_view text = cell.text();
  row.crop = crops.find(text);
  if (row.crop != nullptr) return;
  const std::vector<std::string_view> parts = parts_between(text, '+');
  std::vector<std::pair<const Crop*, int>> found;
  for (const std::string_view part : parts) {
    const std::size_t space = part.find_last_of(" \t");
    const auto plants =
        space == std::string_view::npos ? std::nullopt : parse_integer(part.substr(space + 1));
    const std::string_view name = trim(plants ? part.substr(0, space) : part);
    const Crop* const crop = crops.find(name);
    if (crop == nullptr) {
      return cell.complain(
          fmt::format("unknown crop {}", in_quotes(name)), "a known crop",
          {Advice::Kind::show_names, "crop", nearest_hint(name, crops.all_names())});
    }
    if (!plants || *plants < 1 || *plants > most_plants) {
      return cell.complain(
          parts.size() > 1 && !plants ? fmt::format("{} without its plants", in_quotes(part))
                                      : in_quotes(part),
          fmt::format("plants from 1 to {} behind each crop, as kale 2 + beet 4", most_plants));
    }
    const auto known =
        std::ranges::find_if(found, [&](const auto& one) { return one.first == crop; });
    if (known == found.end()) {
      found.emplace_back(crop, *plants);
    } else {
      known->second += *plants;
    }
  }
  row.crop = found.front().first;
  row.own_plants = found.front().second;
  row.beside.assign(found.begin() + 1, found.end());
}

/// Plants are told in their column, with the crops, or in both alike.
std::optional<Fault> plants_fault(const GardenRow& row) {
  const int in_cell = plants_in_cell(row);
  if (in_cell == 0 && !row.plants) return Fault{"nothing in plants", "a value"};
  if (in_cell > most_plants) {
    return Fault{fmt::format("{} plants", in_cell), fmt::format("at most {}", most_plants)};
  }
  if (in_cell == 0 || !row.plants || *row.plants == in_cell) return std::nullopt;
  return Fault{fmt::format("{} plants beside crops with {} in all", *row.plants, in_cell),
               fmt::format("{}, or nothing", in_cell)};
}

GardenFields::Put planting_day(std::optional<PlantingDay> GardenRow::*into) {
  return [into](const Cell& cell, GardenRow& row) {
    row.*into = parse_planting_day(cell.text());
    if (row.*into) return;
    cell.complain(in_quotes(cell.text()),
                  "a date that exists, as 2024-05-10, or 05-10 for every year");
  };
}

/// Days separated by spaces.
void put_pruned(const Cell& cell, GardenRow& row) {
  for (const std::string_view word : words(cell.text())) {
    if (const auto one = parse_planting_day(word)) {
      row.pruned.push_back(*one);
    } else {
      cell.complain(in_quotes(word),
                    "dates that exist, as 2024-07-20, or days as 07-20 for every year");
    }
  }
}

/// `names`: of the rows so far.
GardenFields garden_fields(const Catalogue& catalogue, Names& names) {
  namespace unit = unit_options;
  using R = GardenRow;
  const auto nothing = Need::nothing;
  const std::string yes_no = "yes, no or nothing";
  GardenFields fields;
  fields
      .field("name", Need::value,
             [&names](const Cell& cell, R& row) { put_name(cell, row, names); })
      .field("crop", Need::value,
             [&catalogue](const Cell& cell, R& row) { put_crops(cell, row, catalogue.crops); })
      .field("pot", Need::value,
             [&catalogue](const Cell& cell, R& row) {
               row.pot = cell.accepted(known_pot(cell.text(), catalogue));
             })
      .field("mix", Need::value,
             [&catalogue](const Cell& cell, R& row) {
               row.mix = cell.accepted(catalogue.mix(cell.text()));
             })
      .field("plants", Need::column,
             [](const Cell& cell, R& row) { row.plants = cell.whole_number(1, most_plants); })
      .field("planted", Need::value, planting_day(&R::planted))
      .field("spot", Need::value, known(catalogue.spots, &R::spot))
      .field(
          "routine", Need::value,
          [](const Cell& cell, R& row) { row.routine = cell.accepted(parse_routine(cell.text())); })
      .field(
          "count", nothing,
          [](const Cell& cell, R& row) { row.count = cell.whole_number(1, most_pots).value_or(1); })
      .field("wall", nothing, known(catalogue.walls, &R::wall))
      .choice("mulch", {"no", "yes"}, &R::mulch, nothing, yes_no)
      .field("ends", nothing, planting_day(&R::ends))
      .choice("hardened", {"no", "yes"}, &R::hardened, nothing, yes_no)
      .field("pruned", nothing, put_pruned)
      .choice("harvest", {"whole", "leaf"}, &R::leaf_by_leaf, nothing,
              "leaf (picked leaf by leaf), whole (grows to full size) or nothing (the same)")
      .number("threshold_fraction", unit::none, nothing, &R::threshold_fraction,
              {planting_limits::least_threshold_fraction, planting_limits::most_threshold_fraction})
      .number("volume", unit::volume, nothing, &R::volume_l,
              {0.005, 5000.0, "0.005 to 5000 litres"})
      .number("height", unit::length_cm, nothing, &R::height_cm, {1.0, 500.0, "1 to 500 cm"})
      .number("top_diameter", unit::length_cm, nothing, &R::top_cm, {1.0, 500.0, "1 to 500 cm"})
      .number("headspace", unit::length_cm, nothing, &R::headspace_cm, {0.0, 100.0, "0 to 100 cm"})
      .number("saucer", unit::volume, nothing, &R::saucer_l,
              {0.0, planting_limits::most_saucer_l, "0 to 1000 litres"})
      .number("canopy_diameter", unit::length_m, nothing, &R::canopy_diameter_m,
              {0.02, 10.0, "0.02 to 10 m"})
      .number("canopy_height", unit::length_m, nothing, &R::canopy_height_m,
              {0.02, 10.0, "0.02 to 10 m"})
      .number("root_ball", unit::volume, nothing, &R::root_ball_l,
              {0.005, 500.0, "0.005 to 500 litres"})
      .number("tare", unit::mass, nothing, &R::tare_kg,
              {0.0, planting_limits::most_tare_kg, "0 to 5000 kg"})
      .number("sun_until_h", unit::none, nothing, &R::sun_until_h, {0.0, 24.0})
      .add(learned_fields().in(&R::learned))
      .check({"ends", "planted"},
             [](const R& row) -> std::optional<Fault> {
               return row.planted ? end_fault(*row.planted, row.ends) : std::nullopt;
             })
      .check({"plants", "crop"}, plants_fault)
      .check({"crop"}, [](const R& row) -> std::optional<Fault> {
        if (row.beside.empty() ||
            !(row.canopy_diameter_m || row.canopy_height_m || row.root_ball_l)) {
          return std::nullopt;
        }
        return Fault{"several crops and the size of a plant",
                     "one crop, or neither canopy nor root ball"};
      });
  return fields;
}

/// What a column is called in this file, unit included.
std::string written_name(TableRows& rows, std::string_view stem,
                         std::span<const UnitOption> units) {
  return NumberColumn(rows.table(), stem, units, Need::nothing, rows.problems()).name();
}

/// Applies wall, volume, height, top diameter and headspace to the named pot. False if they do not
/// go together.
bool shape_pot(TableRows& rows, const GardenRow& row, Pot& pot) {
  if (row.wall != nullptr) pot.wall = *row.wall;
  if (row.volume_l && (row.height_cm || row.top_cm || row.headspace_cm)) {
    const std::string column = written_name(rows, "volume", unit_options::volume);
    rows.complain(column, fmt::format("both {} and a dimension", column),
                  "a volume, which scales the named pot, or dimensions");
    return false;
  }
  if (row.top_cm && !pot.shape.is_round()) {
    const std::string column = written_name(rows, "top_diameter", unit_options::length_cm);
    rows.complain(column, fmt::format("{} for a rectangular pot", column),
                  "a round pot, or the volume instead");
    return false;
  }
  if (row.height_cm || row.top_cm) {
    const PotShape& old = pot.shape;
    const double top = row.top_cm.value_or(old.top_length_cm());
    const double widening = top / old.top_length_cm();
    const double height = row.height_cm.value_or(old.height_cm());
    pot.shape = old.is_round()
                    ? PotShape::round(top, old.bottom_length_cm() * widening, height)
                    : PotShape::rectangular(old.top_length_cm(), old.top_width_cm(),
                                            old.bottom_length_cm(), old.bottom_width_cm(), height);
  }
  if (row.headspace_cm) pot.headspace_cm = *row.headspace_cm;
  if (row.height_cm || row.top_cm || row.headspace_cm) pot.sold_mix_l = {};
  if (pot.mix_depth_cm() <= 0.0 || pot.drain_level_cm >= pot.mix_depth_cm()) {
    rows.complain("pot",
                  fmt::format("a pot {} cm high with {} cm headspace", pot.shape.height_cm(),
                              pot.headspace_cm),
                  "room for mix above the drain holes");
    return false;
  }
  if (row.volume_l) pot = pot.scaled_to(*row.volume_l);
  return true;
}

/// A canopy the gardener measured replaces the crop's: leaves go with the plan area, so that
/// density stays the crop's own.
void size_plant(const GardenRow& row, Crop& crop) {
  if (const auto diameter = row.canopy_diameter_m) {
    const double ratio = *diameter / crop.canopy_diameter_m.value;
    crop.canopy_diameter_m = Ranged::exactly(*diameter);
    crop.leaf_area_m2 = crop.leaf_area_m2.times(ratio * ratio);
  }
  if (const auto height = row.canopy_height_m) crop.crown_height_m = Ranged::exactly(*height);
  if (const auto ball = row.root_ball_l) crop.root_ball_l = *ball;
}

/// Nothing that far off was learned: draws of it would be beyond any pot.
void check_learned(TableRows& rows, const Learned& learned) {
  constexpr double most_times = 5.0;
  const auto check = [&](std::string_view stem, std::span<const UnitOption> units, double error,
                         double value) {
    if (error <= most_times * value) return;
    rows.complain(written_name(rows, stem, units),
                  fmt::format("a standard error of {:.4g} of {:.4g}", error, value),
                  fmt::format("at most {:g} times what it is of", most_times));
  };
  check("use_factor_sd", unit_options::none, learned.use_factor_sd, learned.use_factor);
  if (learned.usable_l) {
    check("usable_sd", unit_options::volume, learned.usable_sd_l, *learned.usable_l);
  }
}

/// The planting of a row, if all that it must name is known.
std::optional<Planting> planting_of(TableRows& rows, GardenRow row, double refill_share) {
  if (!row.crop || !row.pot || !row.spot || !row.mix || !row.planted || !row.routine) {
    return std::nullopt;
  }
  Planting planting{.name = row.name,
                    .crop = *row.crop,
                    .pot = *std::move(row.pot),
                    .mix = *std::move(row.mix),
                    .plants = row.own_plants > 0 ? row.own_plants : row.plants.value_or(1),
                    .count = row.count,
                    .planted = *row.planted,
                    .ends = row.ends,
                    .spot = *row.spot,
                    .routine = *std::move(row.routine),
                    .mulch = row.mulch,
                    .hardened = row.hardened,
                    .leaf_by_leaf = row.leaf_by_leaf,
                    .pruned = std::move(row.pruned),
                    .saucer_l = row.saucer_l.value_or(0.0),
                    .threshold_fraction = row.threshold_fraction,
                    .tare_kg = row.tare_kg,
                    .sun_until_h = row.sun_until_h,
                    .learned = row.learned,
                    .line = rows.line()};
  for (const auto& [crop, plants] : row.beside) planting.beside.push_back({*crop, plants});
  if (row.sun_until_h) planting.spot = planting.spot.shaded_from(*row.sun_until_h);
  size_plant(row, planting.crop);
  check_learned(rows, row.learned);
  if (auto fault = crop_fault(planting.crop)) {  // leaves go with the square of the diameter
    const std::string column = written_name(rows, "canopy_diameter", unit_options::length_m);
    rows.complain(row.canopy_diameter_m ? std::string_view(column) : "crop", *std::move(fault));
  }
  if (!shape_pot(rows, row, planting.pot)) return planting;
  if (const auto fault = crowding(planting)) {
    rows.complain(rows.table().column("plants") ? "plants" : "crop", fault->found, fault->expected);
  }
  if (planting.saucer_l > planting.pot.mix_l()) {
    rows.complain(written_name(rows, "saucer", unit_options::volume),
                  fmt::format("{:.4g} litres in the saucer", planting.saucer_l),
                  fmt::format("at most the pot's {:.3g} l of mix", planting.pot.mix_l()));
  }
  const HeldWater held = held_water(planting.pot, planting.mix, refill_share);
  if (const double room_l = held.room_l(); planting.learned.usable_l.value_or(0.0) > room_l) {
    const std::string column = written_name(rows, "usable", unit_options::volume);
    rows.complain(column, fmt::format("{:.4g} usable litres", *planting.learned.usable_l),
                  fmt::format("at most {:.4g} l, which is what {:.3g} l of this mix have room for",
                              room_l, held.mix_l));
  }
  // A mix that holds nothing for plants in this pot leaves nothing to account for.
  if (held.available_l() <= 0.0) {
    rows.complain("mix",
                  fmt::format("{}, which holds no water that plants can use in this pot",
                              in_quotes(planting.mix.name)),
                  "a mix that holds water");
  }
  return planting;
}

}  // namespace

std::vector<Planting> read_garden(FileBytes file, const Catalogue& catalogue) {
  TableRows rows(std::move(file));
  Names names;
  std::vector<Planting> plantings;
  garden_fields(catalogue, names).read(rows, [&](GardenRow row) {
    auto planting = planting_of(rows, std::move(row), catalogue.parameters.refill_share);
    if (planting) plantings.push_back(*std::move(planting));
  });
  return plantings;
}

const std::vector<std::string>& garden_columns() {
  static const std::vector<std::string> columns = [] {
    Names names;
    return garden_fields(Catalogue{}, names).names();
  }();
  return columns;
}

}  // namespace wiltline
