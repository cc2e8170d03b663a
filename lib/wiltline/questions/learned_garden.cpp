#include "wiltline/questions/learned_garden.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <unordered_map>
#include <vector>

#include "wiltline/base/units.hpp"
#include "wiltline/questions/named_rows.hpp"

namespace wiltline {
namespace {

constexpr std::array<std::string_view, 5> learned_columns{"use_factor", "use_factor_sd", "usable_l",
                                                          "usable_sd_l", "wall_factor"};
constexpr std::array<std::string_view, 2> gallons{"usable_gal", "usable_sd_gal"};

template <typename Names>
bool is_one_of(const Names& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

/// Four digits: more than is known.
std::string number(double value) {
  return fmt::format("{:.4g}", value);
}

}  // namespace

std::string learned_garden_csv(FileBytes garden, const CalibrationResult& result) {
  const CsvTable table(std::move(garden));
  std::unordered_map<std::string_view, const PotCalibration*> of;
  for (const PotCalibration& pot : result.pots) of.emplace(pot.planting->name, &pot);
  const char separator = table.semicolons() ? ';' : ',';
  const bool adds_tare =
      !table.column("tare_kg") && !table.column("tare_lb") &&
      std::any_of(result.pots.begin(), result.pots.end(),
                  [](const PotCalibration& pot) { return pot.tare_kg.has_value(); });

  std::string out;
  for (const CsvTable::Comment& comment : table.comments()) {
    out += fmt::format("# {}\n", comment.text);
  }
  const auto line = [&](const std::vector<std::string>& cells) {
    out += fmt::format("{}\n", fmt::join(cells, std::string(1, separator)));
  };
  std::vector<std::size_t> kept;
  std::vector<std::string> header;
  for (std::size_t i = 0; i < table.header().size(); ++i) {
    const std::string& name = table.header()[i];
    if (is_one_of(learned_columns, name) || is_one_of(gallons, name)) continue;
    kept.push_back(i);
    header.push_back(csv_text(name, separator));
  }
  if (adds_tare) header.emplace_back("tare_kg");
  header.insert(header.end(), learned_columns.begin(), learned_columns.end());
  line(header);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const auto found = of.find(table.cell(row, *table.column("name")));
    const PotCalibration* const pot = found == of.end() ? nullptr : found->second;
    const double tare_kg = pot == nullptr ? 0.0 : pot->tare_kg.value_or(0.0);
    const bool knows_tare = tare_kg > 0.0;
    std::vector<std::string> cells;
    for (const std::size_t i : kept) {
      const std::string_view cell = table.cell(row, i);
      const std::string& name = table.header()[i];
      if (cell.empty() && knows_tare && name == "tare_kg") {
        cells.push_back(number(tare_kg));
      } else if (cell.empty() && knows_tare && name == "tare_lb") {
        cells.push_back(number(tare_kg / units::kg_per_pound));
      } else {
        cells.push_back(csv_text(cell, separator));
      }
    }
    if (adds_tare) cells.push_back(knows_tare ? number(tare_kg) : "");
    const Learned learned = pot == nullptr ? Learned{} : pot->learned;
    const auto number_if = [](bool known, double value) { return known ? number(value) : ""; };
    const bool knows_use = learned.use_factor_sd > 0.0;
    cells.push_back(number_if(knows_use, learned.use_factor));
    cells.push_back(number_if(knows_use, learned.use_factor_sd));
    cells.push_back(number_if(learned.usable_l.has_value(), learned.usable_l.value_or(0.0)));
    cells.push_back(number_if(learned.usable_l.has_value(), learned.usable_sd_l));
    cells.push_back(number_if(learned.wall_factor != 1.0, learned.wall_factor));
    line(cells);
  }
  return out;
}

}  // namespace wiltline
