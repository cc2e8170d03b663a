#include "wiltline/questions/learned_garden.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <unordered_map>
#include <vector>

#include "wiltline/base/units.hpp"
#include "wiltline/questions/named_rows.hpp"

namespace wiltline {
namespace {

/// Four digits: more than is known.
std::string number(double value) {
  return fmt::format("{:.4g}", value);
}

std::string number_if(bool known, double value) {
  return known ? number(value) : "";
}

/// A column of what was learned; blank: as in the tables.
struct LearnedColumn {
  std::string_view name;
  std::string (*cell)(const Learned&);
};
using L = const Learned&;
constexpr LearnedColumn learned_columns[]{
    {"use_factor", [](L of) { return number_if(of.use_factor_sd > 0.0, of.use_factor); }},
    {"use_factor_sd", [](L of) { return number_if(of.use_factor_sd > 0.0, of.use_factor_sd); }},
    {"usable_l",
     [](L of) { return number_if(of.usable_l.has_value(), of.usable_l.value_or(0.0)); }},
    {"usable_sd_l", [](L of) { return number_if(of.usable_l.has_value(), of.usable_sd_l); }},
    {"wall_factor", [](L of) { return number_if(of.wall_factor != 1.0, of.wall_factor); }},
    {"use_usable_correlation",
     [](L of) { return number_if(of.use_usable_correlation != 0.0, of.use_usable_correlation); }},
    {"calibrated_until", [](L of) { return of.until ? to_string(*of.until) : ""; }},
};

/// Of an earlier calibration, in whatever units.
bool is_learned(std::string_view name) {
  return name == "usable_gal" || name == "usable_sd_gal" ||
         std::any_of(std::begin(learned_columns), std::end(learned_columns),
                     [&](const LearnedColumn& one) { return one.name == name; });
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
    if (is_learned(name)) continue;
    kept.push_back(i);
    header.push_back(csv_text(name, separator));
  }
  if (adds_tare) header.emplace_back("tare_kg");
  for (const LearnedColumn& one : learned_columns) header.emplace_back(one.name);
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
    if (adds_tare) cells.push_back(number_if(knows_tare, tare_kg));
    const Learned learned = pot == nullptr ? Learned{} : pot->learned;
    for (const LearnedColumn& one : learned_columns) cells.push_back(one.cell(learned));
    line(cells);
  }
  return out;
}

}  // namespace wiltline
