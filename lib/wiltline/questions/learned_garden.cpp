#include "wiltline/questions/learned_garden.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <unordered_map>
#include <utility>
#include <vector>

#include "wiltline/base/errors.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/garden/learned_fields.hpp"

namespace wiltline {
namespace {

/// Four digits: more than is known.
std::string number(double value) {
  return fmt::format("{:.4g}", value);
}

}  // namespace

std::string learned_garden_csv(FileBytes garden, const CalibrationResult& result) {
  const CsvTable table(std::move(garden));
  const auto name_column = table.column("name");
  if (!name_column) throw RequestError("found a garden without names; expected a column name");
  std::unordered_map<std::string_view, const PotCalibration*> of;
  for (const PotCalibration& pot : result.pots) {
    if (pot.planting == nullptr) throw RequestError("found a calibration without a planting");
    of.emplace(pot.planting->name, &pot);
  }
  const Fields<Learned> learned_columns = learned_fields();
  const std::vector<std::string> learned_names = learned_columns.names();
  const char separator = table.semicolons() ? ';' : ',';
  const bool adds_tare = !table.column("tare_kg") && !table.column("tare_lb") &&
                         std::ranges::any_of(result.pots, [](const PotCalibration& pot) {
                           return pot.tare_kg.has_value();
                         });

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
    if (std::ranges::find(learned_names, name) != learned_names.end()) {
      continue;  // of an earlier calibration, in whatever units
    }
    kept.push_back(i);
    header.push_back(csv_text(name, separator));
  }
  if (adds_tare) header.emplace_back("tare_kg");
  for (std::string& name : learned_columns.written_names()) header.push_back(std::move(name));
  line(header);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const auto found = of.find(table.cell(row, *name_column));
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
    for (std::string& cell : learned_columns.cells(pot == nullptr ? Learned{} : pot->learned)) {
      cells.push_back(std::move(cell));
    }
    line(cells);
  }
  return out;
}

}  // namespace wiltline
