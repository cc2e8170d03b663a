#include "wiltline/garden/catalogue.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <limits>
#include <set>

#include "wiltline/base/numbers.hpp"

namespace wiltline {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

constexpr std::array<std::string_view, 4> sureness_words{"read", "recalled", "computed", "judged"};

/// Reads one model table cell by cell, in the order the code asks for columns; every column that
/// was asked for is known, every other one is refused.
class TableReader {
 public:
  explicit TableReader(FileBytes file) : table_(std::move(file)) {}

  [[nodiscard]] std::size_t rows() const { return table_.rows(); }
  [[nodiscard]] std::size_t problem_count() const { return problem_count_; }
  void at(std::size_t row) { row_ = row; }

  std::string_view text(std::string_view column, bool required = true) {
    const auto index = find(column, required);
    if (!index) return {};
    const std::string_view cell = table_.cell(row_, *index);
    if (cell.empty() && required) complain(*index, "nothing in " + std::string(column), "a value");
    return cell;
  }

  std::optional<double> maybe_number(std::string_view column, double low = -infinity,
                                     double high = infinity) {
    const auto index = find(column, true);
    if (!index) return std::nullopt;
    const std::string_view cell = table_.cell(row_, *index);
    if (cell.empty()) return std::nullopt;
    const auto number = parse_number(cell);
    if (!number) {
      complain(*index, fmt::format("{} in {}", in_quotes(cell), column), "a number");
      return std::nullopt;
    }
    if (!(*number >= low && *number <= high)) {
      complain(*index, fmt::format("{} in {}", cell, column), range_text(low, high));
      return std::nullopt;
    }
    return number;
  }

  double number(std::string_view column, double low = -infinity, double high = infinity) {
    const std::size_t before = problem_count_;
    const auto value = maybe_number(column, low, high);
    if (!value && problem_count_ == before) {
      if (const auto index = find(column, true)) {
        complain(*index, fmt::format("nothing in {}", column), "a number");
      }
    }
    return value.value_or(std::max(low, 1e-3));  // only until the problems are thrown
  }

  /// The columns NAME_UNIT, NAME_low_UNIT, NAME_high_UNIT, in order low <= value <= high.
  Ranged ranged(std::string_view stem, std::string_view unit, double low = -infinity,
                double high = infinity) {
    const std::string value_name = fmt::format("{}{}", stem, unit);
    const std::size_t before = problem_count_;
    const Ranged result{number(value_name, low, high),
                        number(fmt::format("{}_low{}", stem, unit), low, high),
                        number(fmt::format("{}_high{}", stem, unit), low, high)};
    if (problem_count_ == before && !(result.low <= result.value && result.value <= result.high)) {
      if (const auto index = find(value_name, true)) {
        complain(
            *index,
            fmt::format("{} outside its range {} to {}", result.value, result.low, result.high),
            "a value within its range");
      }
    }
    return result;
  }

  /// The same, or nothing where the value's cell is empty; those of its range must be so too.
  std::optional<Ranged> maybe_ranged(std::string_view stem, std::string_view unit,
                                     double low = -infinity, double high = infinity) {
    const auto cell_of = [&](std::string_view part) {
      return maybe_number(fmt::format("{}{}{}", stem, part, unit), low, high);
    };
    const std::size_t before = problem_count_;
    const auto value = cell_of("");
    const bool has_range = (cell_of("_low").has_value()) | (cell_of("_high").has_value());
    if (value || has_range || problem_count_ > before) return ranged(stem, unit, low, high);
    return std::nullopt;
  }

  template <std::size_t N>
  std::size_t choice(std::string_view column, const std::array<std::string_view, N>& words) {
    const std::string_view cell = text(column);
    const auto found = std::find(words.begin(), words.end(), cell);
    if (found == words.end()) {
      if (const auto index = find(column, true); index && !cell.empty()) {
        complain(*index, fmt::format("{} in {}", in_quotes(cell), column),
                 fmt::format("one of {}", fmt::join(words, ", ")));
      }
      return 0;
    }
    return static_cast<std::size_t>(found - words.begin());
  }
  bool yes_no(std::string_view column) {
    return choice(column, std::array<std::string_view, 2>{"no", "yes"}) == 1;
  }

  VanGenuchten curve(std::string_view prefix) {
    const auto column = [&](std::string_view name) { return fmt::format("{}{}", prefix, name); };
    const std::size_t before = problem_count_;
    VanGenuchten result{number(column("theta_s"), 0.05, 0.999), number(column("theta_r"), 0.0, 0.9),
                        number(column("alpha_per_kpa"), 1e-6, 1e6),
                        number(column("n"), 1.0001, 50.0)};
    if (problem_count_ == before && result.theta_r >= result.theta_s) {
      if (const auto index = find(column("theta_r"), true)) {
        complain(*index, fmt::format("{} not below {}", column("theta_r"), column("theta_s")),
                 "residual water below saturation");
      }
    }
    return result;
  }

  /// Name (unique), source and sureness of the row around a value.
  template <typename Value>
  void add(NamedTable<Value>& table, std::string_view name_column, Value value) {
    const std::string name(text(name_column));
    if (table.find(name) != nullptr && !name.empty()) {
      complain(*find(name_column, true), fmt::format("{} a second time", in_quotes(name)),
               "every name once");
    }
    const std::string source(text("source"));
    const auto sureness = static_cast<Sureness>(choice("sureness", sureness_words));
    table.add({name, std::move(value), source, sureness});
  }

  void complain_at(std::string_view column, std::string found, std::string expected) {
    if (const auto index = find(column, true))
      complain(*index, std::move(found), std::move(expected));
  }

  /// After the last row: refuses unknown columns and throws what was found.
  void finish() {
    table_.refuse_unknown_columns(std::vector<std::string>(known_.begin(), known_.end()),
                                  problems_);
    problems_.throw_if_any();
  }

 private:
  static std::string range_text(double low, double high) {
    if (high == infinity) return fmt::format("at least {}", low);
    return fmt::format("{} to {}", low, high);
  }

  std::optional<std::size_t> find(std::string_view column, bool required) {
    const bool first_time = known_.emplace(column).second;
    const auto index = table_.column(column);
    if (!index && required && first_time) {
      problems_.add(
          table_.problem_in_header(0, fmt::format("no column {}", column), "that column"));
      ++problem_count_;
    }
    return index;
  }

  /// Of a cell that is wrong in two ways the first is told.
  void complain(std::size_t column, std::string found, std::string expected) {
    if (!wrong_.emplace(row_, column).second) return;
    problems_.add(table_.problem_at(row_, column, std::move(found), std::move(expected)));
    ++problem_count_;
  }

  CsvTable table_;
  ProblemList problems_;
  std::set<std::string, std::less<>> known_;
  std::size_t row_ = 0;
  std::size_t problem_count_ = 0;
  std::set<std::pair<std::size_t, std::size_t>> wrong_;  // row and column
};

template <typename ReadRow>
void read_rows(const FileBytes& file, const ReadRow& read_row) {
  TableReader reader(file);
  for (std::size_t row = 0; row < reader.rows(); ++row) {
    reader.at(row);
    read_row(reader);
  }
  reader.finish();
}

void read_crop(TableReader& t, NamedTable<Crop>& crops) {
  Crop c;
  c.name = std::string(t.text("crop"));
  c.warm_season = t.choice("season", std::array<std::string_view, 2>{"cool", "warm"}) == 1;
  c.min_l = t.number("min_l", 0.01, 1e4);
  c.preferred_l = t.ranged("preferred", "_l", 0.01, 1e4);
  c.plants_per_pot = t.number("plants_per_pot", 1.0, 1000.0);
  c.canopy_diameter_m = t.ranged("canopy_diameter", "_m", 0.01, 20.0);
  c.crown_height_m = t.ranged("crown_height", "_m", 0.01, 20.0);
  c.leaf_area_m2 = t.ranged("leaf_area", "_m2", 1e-4, 500.0);
  c.kcb_mid = t.number("kcb_mid", 0.1, 2.0);
  c.kcb_end = t.number("kcb_end", 0.05, 2.0);
  c.initial_days = t.number("initial_days", 0.0, 365.0);
  c.days_to_full = t.ranged("days_to_full", "", 1.0, 1000.0);
  c.mid_days = t.number("mid_days", 0.0, 1000.0);
  c.late_days = t.number("late_days", 0.0, 1000.0);
  c.base_temperature_c = t.number("base_temp_c", -10.0, 30.0);
  c.upper_temperature_c = t.number("upper_temp_c", 0.0, 50.0);
  c.degree_days_to_full = t.number("degree_days_to_full", 1.0, 1e5);
  c.depletion_fraction = t.ranged("depletion_fraction", "", 0.05, 0.95);
  c.wilting_line = t.maybe_ranged("wilting_line", "", 0.05, 1.0);
  c.dry_line = t.maybe_ranged("dry_line", "", 0.05, 1.0);
  if (c.wilting_line && c.dry_line && c.wilting_line->value > c.dry_line->value) {
    t.complain_at("wilting_line", "a wilting line beyond the dry line", "one at or below it");
  }
  c.root_ball_l = t.number("root_ball_l", 1e-3, 500.0);
  c.capture_factor = t.number("capture_factor", 0.0, 10.0);
  c.harvest = static_cast<Harvest>(
      t.choice("harvest", std::array<std::string_view, 4>{"whole", "fruit", "leaf", "root"}));
  c.best_low_c = t.maybe_number("best_low_c", -10.0, 50.0);
  c.best_high_c = t.maybe_number("best_high_c", -10.0, 50.0);
  c.heat_limit_c = t.maybe_number("heat_limit_c", 0.0, 60.0);
  c.fruit_set_day_limit_c = t.maybe_number("fruit_set_day_limit_c", 0.0, 60.0);
  c.fruit_set_night_low_c = t.maybe_number("fruit_set_night_low_c", -10.0, 40.0);
  c.fruit_set_night_high_c = t.maybe_number("fruit_set_night_high_c", -10.0, 40.0);
  c.frost = static_cast<Frost>(
      t.choice("frost", std::array<std::string_view, 3>{"tender", "light", "hard"}));
  c.blossom_end_rot = t.yes_no("blossom_end_rot");
  t.add(crops, "crop", std::move(c));
}

void read_component(TableReader& t, NamedTable<MixComponent>& components) {
  MixComponent m;
  m.name = std::string(t.text("component"));
  m.curve = t.curve("");
  m.low_curve = t.curve("low_");
  m.high_curve = t.curve("high_");
  m.wilting_m3_m3 = t.number("wilting_m3_m3", 0.0, 0.6);
  m.rewet_m3_m3 = t.maybe_ranged("rewet", "_m3_m3", 0.0, 0.9);
  m.second_uptake = t.maybe_number("second_uptake", 0.0, 1.0);
  m.bulk_density_kg_l = t.number("bulk_density_kg_l", 0.01, 3.0);
  m.water_holding = t.yes_no("water_holding");
  m.coarse = t.choice("grain", std::array<std::string_view, 2>{"fine", "coarse"}) == 1;
  const std::size_t before = t.problem_count();
  m.rew_range_mm = t.ranged("rew", "_mm", 0.0, 100.0);
  m.tew_range_mm = t.ranged("tew", "_mm", 0.0, 200.0);
  m.rew_mm = m.rew_range_mm.value;
  m.tew_mm = m.tew_range_mm.value;
  if (t.problem_count() == before && m.rew_mm >= m.tew_mm) {
    t.complain_at("rew_mm", "rew_mm not below tew_mm", "readily below totally evaporable water");
  }
  t.add(components, "component", std::move(m));
}

void read_mix(TableReader& t, const NamedTable<MixComponent>& components,
              NamedTable<MixRecipe>& mixes) {
  MixRecipe recipe;
  const CompositionOrProblem parsed = parse_composition(t.text("composition"));
  if (!parsed.found.empty()) t.complain_at("composition", parsed.found, parsed.expected);
  recipe.composition = parsed.composition;
  for (const CompositionPart& part : recipe.composition) {
    if (components.find(part.component) == nullptr) {
      t.complain_at("composition", fmt::format("unknown component {}", in_quotes(part.component)),
                    fmt::format("one of mix-components.csv{}",
                                nearest_hint(part.component, components.names())));
    }
  }
  const Ranged shrinkage = t.ranged("shrinkage", "", 0.0, 0.4);
  recipe.shrinkage = shrinkage.value;
  recipe.shrinkage_low = shrinkage.low;
  recipe.shrinkage_high = shrinkage.high;
  recipe.use = std::string(t.text("use", false));
  t.add(mixes, "mix", std::move(recipe));
}

void read_wall(TableReader& t, NamedTable<Wall>& walls) {
  const Ranged share = t.ranged("evaporation_share", "", 0.0, 2.0);
  Wall wall{std::string(t.text("wall")), share.value, share.low, share.high, t.yes_no("dark")};
  t.add(walls, "wall", std::move(wall));
}

/// `floor`, `none` or `side 3`.
void read_drainage(TableReader& t, Pot& pot) {
  const auto parts = words(t.text("drainage"));
  if (parts.size() == 1 && parts[0] == "floor") return;
  if (parts.size() == 1 && parts[0] == "none") {
    pot.drains = false;
    return;
  }
  const auto level =
      parts.size() == 2 && parts[0] == "side" ? parse_number(parts[1]) : std::nullopt;
  if (!level || *level < 0.0 || *level >= pot.mix_depth_cm()) {
    t.complain_at("drainage", "an unknown drainage", "floor, none, or side and a height in cm");
    return;
  }
  pot.drain_level_cm = *level;
}

void read_pot(TableReader& t, const NamedTable<Wall>& walls, NamedTable<Pot>& pots) {
  constexpr double least_cm = 0.5;
  constexpr double most_cm = 1000.0;
  const auto size = [&](std::string_view column) {
    return t.maybe_number(column, least_cm, most_cm);
  };
  const auto top_d = size("top_diameter_cm");
  const auto bottom_d = size("bottom_diameter_cm");
  const auto top_l = size("top_length_cm");
  const auto top_w = size("top_width_cm");
  const auto bottom_l = size("bottom_length_cm");
  const auto bottom_w = size("bottom_width_cm");
  const double height = t.number("height_cm", least_cm, most_cm);
  const double headspace = t.number("headspace_cm", 0.0, most_cm);
  const bool is_round = top_d && bottom_d && !top_l && !top_w && !bottom_l && !bottom_w;
  const bool is_box = !top_d && !bottom_d && top_l && top_w && bottom_l && bottom_w;
  if (!is_round && !is_box) {
    t.complain_at("pot", "neither both diameters nor all four lengths and widths",
                  "a round or a rectangular pot");
  }
  if (headspace >= height) t.complain_at("headspace_cm", "no room for mix", "less than the height");
  Pot pot{.name = std::string(t.text("pot")),
          .kind = std::string(t.text("kind")),
          .shape = is_box ? PotShape::rectangular(*top_l, *top_w, *bottom_l, *bottom_w, height)
                          : PotShape::round(top_d.value_or(1.0), bottom_d.value_or(1.0), height),
          .headspace_cm = headspace,
          .wall = {},
          .drains = true,
          .drain_level_cm = 0.0,
          .reservoir_l = 0.0};
  read_drainage(t, pot);
  pot.reservoir_l = t.maybe_number("reservoir_l", 0.0, 1e4).value_or(0.0);
  const std::string wall(t.text("wall"));
  if (const Wall* known = walls.find(wall)) {
    pot.wall = *known;
  } else {
    t.complain_at("wall", fmt::format("unknown wall {}", in_quotes(wall)),
                  fmt::format("one of walls.csv{}", nearest_hint(wall, walls.names())));
  }
  pot.mix_low_l = t.number("mix_low_l", 0.0, 1e5);
  pot.mix_high_l = t.number("mix_high_l", 0.0, 1e5);
  t.add(pots, "pot", std::move(pot));
}

void read_spot(TableReader& t, NamedTable<Spot>& spots) {
  Spot spot;
  spot.name = std::string(t.text("spot"));
  const std::size_t before = t.problem_count();
  spot.sun_from_h = t.number("sun_from_h", 0.0, 24.0);
  spot.sun_to_h = t.number("sun_to_h", 0.0, 24.0);
  if (t.problem_count() == before && spot.sun_from_h > spot.sun_to_h) {
    t.complain_at("sun_from_h", "sun that ends before it begins",
                  "sun_from_h at or below sun_to_h");
  }
  SpotRanges ranges;
  ranges.sky_view = t.ranged("sky_view", "", 0.0, 1.0);
  spot.shade_cloth = t.number("shade_cloth", 0.0, 1.0);
  ranges.wind_share = t.ranged("wind_share", "", 0.0, 3.0);
  ranges.rain_share = t.ranged("rain_share", "", 0.0, 1.0);
  ranges.advection = t.ranged("advection", "", 0.5, 4.0);
  spot.sky_view = ranges.sky_view.value;
  spot.wind_share = ranges.wind_share.value;
  spot.rain_share = ranges.rain_share.value;
  spot.advection = ranges.advection.value;
  spot.ranges = ranges;
  spot.tight_group = t.choice("grouping", std::array<std::string_view, 2>{"open", "tight"}) == 1;
  t.add(spots, "spot", std::move(spot));
}

void read_parameter(TableReader& t, Catalogue& catalogue) {
  const std::string name(t.text("parameter"));
  const auto& names = model_parameter_names();
  const auto known = std::find_if(names.begin(), names.end(),
                                  [&](const ModelParameterName& p) { return p.name == name; });
  const double least = known == names.end() ? -infinity : known->least;
  const double most = known == names.end() ? infinity : known->most;
  const std::size_t before = t.problem_count();
  ParameterRow row{t.number("value", least, most), t.number("low", least, most),
                   t.number("high", least, most), std::string(t.text("unit"))};
  if (t.problem_count() == before && !(row.low <= row.value && row.value <= row.high)) {
    t.complain_at("value", fmt::format("{} outside its range", row.value), "a value within it");
  }
  if (known == names.end()) {
    std::vector<std::string> all;
    for (const ModelParameterName& p : names) all.emplace_back(p.name);
    t.complain_at("parameter", fmt::format("unknown parameter {}", in_quotes(name)),
                  "a parameter of the model" + nearest_hint(name, all));
  } else {
    catalogue.parameters.*(known->member) = row.value;
  }
  t.add(catalogue.parameter_rows, "parameter", std::move(row));
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
  problems.throw_if_any();
}

}  // namespace

std::string_view to_string(Sureness sureness) {
  return sureness_words[static_cast<std::size_t>(sureness)];
}

MixOrProblem Catalogue::mix(std::string_view name_or_composition, CurveChoice choice) const {
  const MixRecipe* const recipe = mixes.find(name_or_composition);
  Composition composition;
  if (recipe != nullptr) {
    composition = recipe->composition;
  } else {
    // A composition holds a number; anything else was meant as a name.
    const auto parts = words(name_or_composition);
    const bool has_number = std::any_of(parts.begin(), parts.end(), [](std::string_view word) {
      return parse_number(word).has_value();
    });
    if (!has_number) {
      return {std::nullopt, fmt::format("unknown mix {}", in_quotes(name_or_composition)),
              fmt::format("a known mix or a composition such as peat 60 perlite 40{}",
                          nearest_hint(name_or_composition, mixes.names()))};
    }
    CompositionOrProblem parsed = parse_composition(name_or_composition);
    if (!parsed.found.empty()) return {std::nullopt, parsed.found, parsed.expected};
    composition = std::move(parsed.composition);
  }
  std::vector<MixComponent> parts;
  for (const CompositionPart& part : composition) {
    const MixComponent* const component = components.find(part.component);
    if (component == nullptr) {
      return {std::nullopt, fmt::format("unknown component {}", in_quotes(part.component)),
              fmt::format("one of {}{}", fmt::join(components.names(), ", "),
                          nearest_hint(part.component, components.names()))};
    }
    parts.push_back(*component);
  }
  const double shrinkage =
      recipe != nullptr ? recipe->shrinkage : estimated_shrinkage(composition, parts);
  return {blend(std::string(trim(name_or_composition)), std::move(composition), parts, shrinkage,
                parameters.lower_limit_suction_kpa, choice),
          {},
          {}};
}

const std::vector<std::string>& model_table_names() {
  static const std::vector<std::string> names{"crops.csv",     "mix-components.csv", "mixes.csv",
                                              "pots.csv",      "spots.csv",          "walls.csv",
                                              "parameters.csv"};
  return names;
}

Catalogue read_catalogue(const std::map<std::string, FileBytes>& tables) {
  Catalogue catalogue;
  read_rows(tables.at("parameters.csv"), [&](TableReader& t) { read_parameter(t, catalogue); });
  require_all_parameters(tables.at("parameters.csv"), catalogue);
  read_rows(tables.at("crops.csv"), [&](TableReader& t) { read_crop(t, catalogue.crops); });
  read_rows(tables.at("mix-components.csv"),
            [&](TableReader& t) { read_component(t, catalogue.components); });
  read_rows(tables.at("mixes.csv"),
            [&](TableReader& t) { read_mix(t, catalogue.components, catalogue.mixes); });
  read_rows(tables.at("walls.csv"), [&](TableReader& t) { read_wall(t, catalogue.walls); });
  read_rows(tables.at("pots.csv"),
            [&](TableReader& t) { read_pot(t, catalogue.walls, catalogue.pots); });
  read_rows(tables.at("spots.csv"), [&](TableReader& t) { read_spot(t, catalogue.spots); });
  return catalogue;
}

FolderTables tables_in_folder(const std::string& folder) {
  std::error_code error;
  if (!std::filesystem::is_directory(folder, error)) {
    throw RequestError(fmt::format("{}: found no such folder; expected a folder of model tables",
                                   in_quotes(folder)));
  }
  FolderTables result{builtin_tables(), {}};
  for (const std::string& name : model_table_names()) {
    const std::string path = (std::filesystem::path(folder) / name).string();
    if (std::filesystem::exists(path, error)) {
      result.tables[name] = read_file(path);
    } else {
      result.missing.push_back(name);
    }
  }
  if (result.missing.size() == model_table_names().size()) {
    throw RequestError(fmt::format("{}: found no model table; expected at least one of {}",
                                   in_quotes(folder), fmt::join(model_table_names(), ", ")));
  }
  return result;
}

}  // namespace wiltline
