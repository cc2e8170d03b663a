// Reading the model tables: their fields, and what must hold between them.
#include <fmt/format.h>

#include <algorithm>
#include <unordered_set>

#include "wiltline/base/fields.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/garden/catalogue.hpp"
#include "wiltline/garden/model_checks.hpp"

namespace wiltline {
namespace {

/// Names separated by semicolons.
void put_other_names(const Cell& cell, std::vector<std::string>& names) {
  for (const std::string_view name : parts_between(cell.text(), ';')) {
    if (name.empty()) return cell.complain("an empty name", "names separated by semicolons");
    names.emplace_back(name);
  }
}

/// The fields of a table, with the name, other names, source and sureness that stand around each
/// row.
template <typename Row, typename Take>
void read_table(const FileBytes& file, const std::string& name_column, const Fields<Row>& fields,
                const Take& take) {
  TableRows rows(file);
  std::unordered_set<std::string> names;
  fields.in(&Entry<Row>::value)
      .text(name_column, &Entry<Row>::name)
      .text("source", &Entry<Row>::source)
      .choice("sureness", sureness_words, &Entry<Row>::sureness)
      .field("also_called", Need::nothing,
             [](const Cell& cell, Entry<Row>& entry) { put_other_names(cell, entry.also_called); })
      .read(rows, [&](Entry<Row> entry) {
        const auto take_name = [&](std::string_view column, const std::string& given) {
          const std::string name = folded(given);
          if (!names.insert(name).second && !name.empty()) {
            rows.complain(column, fmt::format("{} a second time", in_quotes(given)),
                          "every name once");
          }
        };
        take_name(name_column, entry.name);
        for (const std::string& other : entry.also_called) take_name("also_called", other);
        if constexpr (requires { entry.value.name; }) entry.value.name = entry.name;
        take(rows, std::move(entry));
      });
}

template <typename Value>
void read_table(const FileBytes& file, const std::string& name_column, const Fields<Value>& fields,
                NamedTable<Value>& table) {
  read_table(file, name_column, fields,
             [&](TableRows&, Entry<Value> entry) { table.add(std::move(entry)); });
}

const std::vector<std::string_view> no_yes{"no", "yes"};

/// Two numbers of which the first is never above the second.
template <typename Low, typename High>
void in_order(Fields<Crop>& fields, const std::string& low, Low Crop::*first,
              const std::string& high, High Crop::*second) {
  fields.check({low, high}, [=](const Crop& crop) -> std::optional<Fault> {
    const std::optional<double> least = crop.*first;
    const std::optional<double> most = crop.*second;
    if (!least || !most || *least <= *most) return std::nullopt;
    return Fault{fmt::format("{} {} above {} {}", low, *least, high, *most),
                 fmt::format("{} at or below {}", low, high)};
  });
}

Fields<Crop> crop_fields() {
  Fields<Crop> fields;
  fields.choice("season", {"cool", "warm"}, &Crop::warm_season)
      .number("min_l", &Crop::min_l, {0.01, 1e4})
      .ranged("preferred", "_l", &Crop::preferred_l, {0.01, 1e4})
      .number("plants_per_pot", &Crop::plants_per_pot, {1.0, 1000.0})
      .ranged("canopy_diameter", "_m", &Crop::canopy_diameter_m, {0.01, 20.0})
      .ranged("crown_height", "_m", &Crop::crown_height_m, {0.01, 20.0})
      .ranged("leaf_area", "_m2", &Crop::leaf_area_m2, {1e-4, 500.0})
      .number("kcb_mid", &Crop::kcb_mid, {0.1, 2.0})
      .number("kcb_end", &Crop::kcb_end, {0.05, 2.0})
      .number("initial_days", &Crop::initial_days, {0.0, 365.0})
      .ranged("days_to_full", "", &Crop::days_to_full, {1.0, 1000.0})
      .number("mid_days", &Crop::mid_days, {0.0, 1000.0})
      .number("late_days", &Crop::late_days, {0.0, 1000.0})
      .choice("life", {life_words.begin(), life_words.end()}, &Crop::life)
      .number("base_temp_c", &Crop::base_temperature_c, {-10.0, 30.0})
      .number("upper_temp_c", &Crop::upper_temperature_c, {0.0, 50.0})
      .number("degree_days_to_full", &Crop::degree_days_to_full, {1.0, 1e5})
      .ranged("depletion_fraction", "", &Crop::depletion_fraction, {0.05, 0.95})
      .ranged("wilting_line", "", &Crop::wilting_line, {0.05, 1.0})
      .ranged("dry_line", "", &Crop::dry_line, {0.05, 1.0})
      .check({"wilting_line", "dry_line"},
             [](const Crop& c) -> std::optional<Fault> {
               if (!c.wilting_line || !c.dry_line) return std::nullopt;
               if (c.wilting_line->value <= c.dry_line->value) return std::nullopt;
               return Fault{"wilting_line above dry_line", "plants that wilt before they are dry"};
             })
      .number("root_ball_l", &Crop::root_ball_l, {1e-3, 500.0})
      .number("capture_factor", &Crop::capture_factor, {0.0, 10.0})
      .choice("harvest", {harvest_words.begin(), harvest_words.end()}, &Crop::harvest)
      .number("best_low_c", &Crop::best_low_c, {-10.0, 50.0})
      .number("best_high_c", &Crop::best_high_c, {-10.0, 50.0})
      .number("heat_limit_c", &Crop::heat_limit_c, {0.0, 60.0})
      .number("fruit_set_day_limit_c", &Crop::fruit_set_day_limit_c, {0.0, 60.0})
      .number("fruit_set_night_low_c", &Crop::fruit_set_night_low_c, {-10.0, 40.0})
      .number("fruit_set_night_high_c", &Crop::fruit_set_night_high_c, {-10.0, 40.0})
      .choice("frost", {"tender", "light", "hard"}, &Crop::frost)
      .choice("blossom_end_rot", no_yes, &Crop::blossom_end_rot);
  in_order(fields, "base_temp_c", &Crop::base_temperature_c, "upper_temp_c",
           &Crop::upper_temperature_c);
  in_order(fields, "best_low_c", &Crop::best_low_c, "best_high_c", &Crop::best_high_c);
  in_order(fields, "best_high_c", &Crop::best_high_c, "heat_limit_c", &Crop::heat_limit_c);
  in_order(fields, "fruit_set_night_low_c", &Crop::fruit_set_night_low_c, "fruit_set_night_high_c",
           &Crop::fruit_set_night_high_c);
  return fields;
}

/// Four columns of a release curve, their names after a prefix.
void add_curve(Fields<MixComponent>& fields, const std::string& prefix,
               VanGenuchten RangedOf<VanGenuchten>::*which) {
  const auto part = [&](std::string_view name, double VanGenuchten::*member, const Bounds& bounds) {
    fields.number(
        prefix + std::string(name),
        [=](MixComponent& m) -> double& { return m.curve.*which.*member; }, bounds);
  };
  part("theta_s", &VanGenuchten::theta_s, {0.05, 0.999});
  part("theta_r", &VanGenuchten::theta_r, {0.0, 0.9});
  part("alpha_per_kpa", &VanGenuchten::alpha_per_kpa, {1e-6, 1e6});
  part("n", &VanGenuchten::n, {1.0001, 50.0});
  fields.check({prefix + "theta_r", prefix + "theta_s"},
               [=](const MixComponent& m) -> std::optional<Fault> {
                 const VanGenuchten& curve = m.curve.*which;
                 if (curve.theta_r < curve.theta_s) return std::nullopt;
                 return Fault{fmt::format("{0}theta_r not below {0}theta_s", prefix),
                              "residual water below saturation"};
               });
}

Fields<MixComponent> component_fields() {
  Fields<MixComponent> fields;
  add_curve(fields, "", &RangedOf<VanGenuchten>::value);
  add_curve(fields, "low_", &RangedOf<VanGenuchten>::low);
  add_curve(fields, "high_", &RangedOf<VanGenuchten>::high);
  // The curve said to hold least holds no more than the middle one, and that no more than the one
  // said to hold most, anywhere in the range of suctions in a pot.
  std::vector<std::string> curve_columns;
  for (const char* which : {"low_", "", "high_"}) {
    for (const char* part : {"theta_s", "theta_r", "alpha_per_kpa", "n"}) {
      curve_columns.push_back(std::string(which) + part);
    }
  }
  fields.check(std::move(curve_columns), [](const MixComponent& m) -> std::optional<Fault> {
    constexpr double rounding = 1e-9;
    for (const double kpa : {0.5, 1.0, 2.0, 5.0, 10.0}) {
      const double low = m.curve.low.water_content(kpa);
      const double middle = m.curve.value.water_content(kpa);
      const double high = m.curve.high.water_content(kpa);
      if (low <= middle + rounding && middle <= high + rounding) continue;
      return Fault{fmt::format("contents {:.3f}, {:.3f} and {:.3f} at {} kPa by the "
                               "low, the middle and the high curve",
                               low, middle, high, kpa),
                   "curves in that order"};
    }
    return std::nullopt;
  });
  fields.number("wilting_m3_m3", &MixComponent::wilting_m3_m3, {0.0, 0.6})
      .ranged("rewet", "_m3_m3", &MixComponent::rewet_m3_m3, {0.0, 0.9})
      .number("second_uptake", &MixComponent::second_uptake, {0.0, 1.0})
      .number("bulk_density_kg_l", &MixComponent::bulk_density_kg_l, {0.01, 3.0})
      .choice("water_holding", no_yes, &MixComponent::water_holding)
      .choice("grain", {"fine", "coarse"}, &MixComponent::coarse)
      .ranged("rew", "_mm", &MixComponent::rew_mm, {0.0, 100.0})
      .ranged("tew", "_mm", &MixComponent::tew_mm, {0.0, 200.0})
      .check({"rew_mm", "tew_mm"}, [](const MixComponent& m) -> std::optional<Fault> {
        if (m.rew_mm.value < m.tew_mm.value) return std::nullopt;
        return Fault{"rew_mm not below tew_mm", "readily below totally evaporable water"};
      });
  return fields;
}

Fields<MixRecipe> mix_fields(const NamedTable<MixComponent>& components) {
  Fields<MixRecipe> fields;
  fields
      .field("composition", Need::value,
             [&components](const Cell& cell, MixRecipe& recipe) {
               auto parsed = cell.accepted(parse_composition(cell.text()));
               if (!parsed) return;
               recipe.composition = std::move(*parsed);
               for (const CompositionPart& part : recipe.composition) {
                 if (components.find(part.component) != nullptr) continue;
                 cell.complain(fmt::format("unknown component {}", in_quotes(part.component)),
                               "one of mix-components.csv" +
                                   nearest_hint(part.component, components.names()));
                 return;
               }
             })
      .ranged("shrinkage", "", &MixRecipe::shrinkage, {0.0, 0.4})
      .text("use", &MixRecipe::use, Need::nothing);
  return fields;
}

Fields<Wall> wall_fields() {
  Fields<Wall> fields;
  fields.ranged("evaporation_share", "", &Wall::evaporation_share, {0.0, 2.0})
      .choice("dark", no_yes, &Wall::dark);
  return fields;
}

/// A pot as its row says it, before its shape is known to be one.
struct PotRow {
  std::string kind;
  std::optional<double> top_diameter_cm, bottom_diameter_cm, top_length_cm, top_width_cm,
      bottom_length_cm, bottom_width_cm, reservoir_l;
  double height_cm = 0.0;
  double headspace_cm = 0.0;
  Wall wall;
  bool drains = true;
  double drain_level_cm = 0.0;
  Ranged sold_mix_l;

  [[nodiscard]] bool round() const {
    return top_diameter_cm && bottom_diameter_cm && !top_length_cm && !top_width_cm &&
           !bottom_length_cm && !bottom_width_cm;
  }
  [[nodiscard]] bool box() const {
    return !top_diameter_cm && !bottom_diameter_cm && top_length_cm && top_width_cm &&
           bottom_length_cm && bottom_width_cm;
  }
};

constexpr std::string_view known_drainages = "floor, none, or side and a height in cm";

/// `floor`, `none` or `side 3`.
void put_drainage(const Cell& cell, PotRow& pot) {
  const auto parts = words(cell.text());
  if (parts.size() == 1 && parts[0] == "floor") return;
  if (parts.size() == 1 && parts[0] == "none") {
    pot.drains = false;
    return;
  }
  const auto level =
      parts.size() == 2 && parts[0] == "side" ? parse_number(parts[1]) : std::nullopt;
  if (!level || *level < 0.0) {
    cell.complain("an unknown drainage", std::string(known_drainages));
    return;
  }
  pot.drain_level_cm = *level;
}

Fields<PotRow> pot_fields(const NamedTable<Wall>& walls) {
  const Bounds size{0.5, 1000.0};
  Fields<PotRow> fields;
  fields.text("kind", &PotRow::kind)
      .number("top_diameter_cm", &PotRow::top_diameter_cm, size)
      .number("bottom_diameter_cm", &PotRow::bottom_diameter_cm, size)
      .number("top_length_cm", &PotRow::top_length_cm, size)
      .number("top_width_cm", &PotRow::top_width_cm, size)
      .number("bottom_length_cm", &PotRow::bottom_length_cm, size)
      .number("bottom_width_cm", &PotRow::bottom_width_cm, size)
      .number("height_cm", &PotRow::height_cm, size)
      .number("headspace_cm", &PotRow::headspace_cm, {0.0, 1000.0})
      .field("wall", Need::value,
             [&walls](const Cell& cell, PotRow& pot) {
               if (const Wall* const known = walls.find(cell.text())) {
                 pot.wall = *known;
               } else {
                 cell.complain(fmt::format("unknown wall {}", in_quotes(cell.text())),
                               "one of walls.csv" + nearest_hint(cell.text(), walls.names()));
               }
             })
      .field("drainage", Need::value, put_drainage)
      .number("reservoir_l", &PotRow::reservoir_l, {0.0, 1e4})
      .number("mix_low_l", [](PotRow& pot) -> double& { return pot.sold_mix_l.low; }, {0.0, 1e5})
      .number("mix_high_l", [](PotRow& pot) -> double& { return pot.sold_mix_l.high; }, {0.0, 1e5})
      .check({"pot", "top_diameter_cm", "bottom_diameter_cm", "top_length_cm", "top_width_cm",
              "bottom_length_cm", "bottom_width_cm"},
             [](const PotRow& pot) -> std::optional<Fault> {
               if (pot.round() || pot.box()) return std::nullopt;
               return Fault{"neither both diameters nor all four lengths and widths",
                            "a round or a rectangular pot"};
             })
      .check({"mix_low_l", "mix_high_l"},
             [](const PotRow& pot) -> std::optional<Fault> {
               if (pot.sold_mix_l.low <= pot.sold_mix_l.high) return std::nullopt;
               return Fault{fmt::format("mix_low_l {} above mix_high_l {}", pot.sold_mix_l.low,
                                        pot.sold_mix_l.high),
                            "the least at or below the most"};
             })
      .check({"headspace_cm", "height_cm"},
             [](const PotRow& pot) -> std::optional<Fault> {
               if (pot.headspace_cm < pot.height_cm) return std::nullopt;
               return Fault{"no room for mix", "less than the height"};
             })
      .check({"drainage", "height_cm", "headspace_cm"},
             [](const PotRow& pot) -> std::optional<Fault> {
               const bool in_mix = pot.drain_level_cm < pot.height_cm - pot.headspace_cm;
               if (in_mix || pot.drain_level_cm == 0.0) return std::nullopt;
               return Fault{"an unknown drainage", std::string(known_drainages)};
             });
  return fields;
}

Pot pot_of(std::string name, PotRow row) {
  Pot pot{.name = std::move(name),
          .kind = std::move(row.kind),
          .shape = row.box() ? PotShape::rectangular(*row.top_length_cm, *row.top_width_cm,
                                                     *row.bottom_length_cm, *row.bottom_width_cm,
                                                     row.height_cm)
                             : PotShape::round(*row.top_diameter_cm, *row.bottom_diameter_cm,
                                               row.height_cm),
          .headspace_cm = row.headspace_cm,
          .wall = std::move(row.wall),
          .drains = row.drains,
          .drain_level_cm = row.drain_level_cm,
          .reservoir_l = row.reservoir_l.value_or(0.0),
          .sold_mix_l = row.sold_mix_l};
  pot.sold_mix_l.value = pot.mix_l();
  return pot;
}

Fields<Spot> spot_fields() {
  Fields<Spot> fields;
  fields.number("sun_from_h", &Spot::sun_from_h, {0.0, 24.0})
      .number("sun_to_h", &Spot::sun_to_h, {0.0, 24.0})
      .check({"sun_from_h", "sun_to_h"},
             [](const Spot& spot) -> std::optional<Fault> {
               if (spot.sun_from_h <= spot.sun_to_h) return std::nullopt;
               return Fault{"sun that ends before it begins", "sun_from_h at or below sun_to_h"};
             })
      .ranged("sky_view", "", &Spot::sky_view, {0.0, 1.0})
      .number("shade_cloth", &Spot::shade_cloth, {0.0, 1.0})
      .ranged("reflected", "", &Spot::reflected, {0.0, 1.0})
      .ranged("warm_surfaces", "", &Spot::warm_surfaces, {0.0, 1.0})
      .ranged("wind_share", "", &Spot::wind_share, {0.0, 3.0})
      .ranged("rain_share", "", &Spot::rain_share, {0.0, 1.0})
      .ranged("advection", "", &Spot::advection, {0.5, 4.0})
      .ranged("closure", "", &Spot::closure, {0.0, 1.0})
      .ranged("frost_kept_off", "_c", &Spot::frost_kept_off_c, {0.0, 60.0})
      .choice("load_limited", no_yes, &Spot::load_limited, Need::nothing, "yes, no or nothing");
  return fields;
}

/// A parameter's bounds follow from its name: its numbers are read with the row.
Fields<ParameterRow> parameter_fields() {
  Fields<ParameterRow> fields;
  fields.column("value").column("low").column("high").text("unit", &ParameterRow::unit);
  return fields;
}

void take_parameter(TableRows& rows, Entry<ParameterRow> entry, Catalogue& catalogue) {
  const auto& names = model_parameter_names();
  const auto known = std::ranges::find(names, entry.name, &ModelParameterName::name);
  const Bounds bounds = known == names.end() ? Bounds{} : Bounds{known->least, known->most};
  Ranged& number = entry.value.number;
  number = {rows.number("value", bounds), rows.number("low", bounds), rows.number("high", bounds)};
  const std::vector<std::string> columns{"value", "low", "high"};
  if (rows.sound(columns) && !number.in_order()) {
    rows.complain("value", fmt::format("{} outside its range", number.value), "a value within it");
  }
  if (known != names.end()) {
    catalogue.parameters.*(known->member) = number.value;
  } else if (!entry.name.empty()) {
    std::vector<std::string> all;
    for (const ModelParameterName& p : names) all.emplace_back(p.name);
    rows.complain("parameter", fmt::format("unknown parameter {}", in_quotes(entry.name)),
                  "a parameter of the model" + nearest_hint(entry.name, all));
  }
  catalogue.parameter_rows.add(std::move(entry));
}

void require_all_parameters(const FileBytes& file, const Catalogue& catalogue) {
  ProblemList problems;
  for (const ModelParameterName& parameter : model_parameter_names()) {
    if (catalogue.parameter_rows.find(parameter.name) == nullptr) {
      problems.add({file.name, 0, 0, fmt::format("no row {}", parameter.name), "every parameter"});
    }
  }
  if (problems.empty() && catalogue.parameters.wilting_line > catalogue.parameters.dry_line) {
    problems.add(
        {file.name, 0, 0, "wilting_line above dry_line", "plants that wilt before they are dry"});
  }
  if (problems.empty() &&
      catalogue.parameters.night_share_least > catalogue.parameters.night_share_most) {
    problems.add({file.name, 0, 0, "night_share_least above night_share_most", "least and most"});
  }
  problems.throw_if_any();
}

}  // namespace

std::optional<Fault> crop_fault(const Crop& crop) {
  static const Fields<Crop> fields = crop_fields();
  return fields.fault(crop);
}

std::optional<Fault> wall_fault(const Wall& wall) {
  static const Fields<Wall> fields = wall_fields();
  return fields.fault(wall);
}

std::optional<Fault> spot_fault(const Spot& spot) {
  static const Fields<Spot> fields = spot_fields();
  return fields.fault(spot);
}

void check_model(const ModelParameters& model) {
  for (const ModelParameterName& one : model_parameter_names()) {
    const double value = model.*one.member;
    if (value >= one.least && value <= one.most) continue;
    throw RequestError(
        fmt::format("found {} {:g}; expected {} to {}", one.name, value, one.least, one.most));
  }
}

Catalogue read_catalogue(const std::map<std::string, FileBytes>& tables) {
  const auto table = [&](const std::string& name) -> const FileBytes& {
    const auto found = tables.find(name);
    if (found != tables.end()) return found->second;
    throw RequestError(fmt::format("found no model table {}; expected {}", name,
                                   fmt::join(model_table_names(), ", ")));
  };
  Catalogue catalogue;
  const FileBytes& parameters = table("parameters.csv");
  read_table(parameters, "parameter", parameter_fields(),
             [&](TableRows& rows, Entry<ParameterRow> entry) {
               take_parameter(rows, std::move(entry), catalogue);
             });
  require_all_parameters(parameters, catalogue);
  read_table(table("crops.csv"), "crop", crop_fields(), catalogue.crops);
  read_table(table("mix-components.csv"), "component", component_fields(), catalogue.components);
  read_table(table("mixes.csv"), "mix", mix_fields(catalogue.components), catalogue.mixes);
  read_table(table("walls.csv"), "wall", wall_fields(), catalogue.walls);
  read_table(table("pots.csv"), "pot", pot_fields(catalogue.walls),
             [&](TableRows& rows, Entry<PotRow> row) {
               if (!rows.problems().empty()) return;  // a shape may be none
               Pot pot = pot_of(row.name, std::move(row.value));
               catalogue.pots.add({std::move(row.name), std::move(pot), std::move(row.source),
                                   row.sureness, std::move(row.also_called)});
             });
  read_table(table("spots.csv"), "spot", spot_fields(), catalogue.spots);
  return catalogue;
}

}  // namespace wiltline
