#include "wiltline/weather/readings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/weather/dialect.hpp"
#include "wiltline/weather/reading_limits.hpp"

namespace wiltline {
namespace {

constexpr std::array<std::string_view, 13> missing_words{
    "na", "n/a", "nan", "null", "none", "m", "missing", "-", "--", "---", "----", ".", "?"};
constexpr std::array<double, 11> missing_numbers{
    -99.0, -99.9, -99.99, -999.0, -999.9, -999.99, -9999.0, -9999.9, 9999.0, -99999.0, 99999.0};

bool is_among(std::string_view cell, const std::vector<std::string>& marks) {
  return std::ranges::any_of(marks, [&](const std::string& mark) {
    if (folded(mark) == folded(cell) && !folded(cell).empty()) return true;
    if (mark == cell) return true;
    const auto number = parse_number(mark);
    return number && parse_number(cell) == number;
  });
}

bool often_missing(double number) {
  return std::ranges::find(missing_numbers, number) != missing_numbers.end();
}

/// No reading of that quantity can be so: then a number that often stands for none does.
bool beyond_sense(WeatherQuantity quantity, double value) {
  if (kind_of(quantity) == "temperature") return value < -90.0 || value > 60.0;
  return value < 0.0 || value > 2000.0;
}

// Records of the world are 56.7 and -89.2 °C, 1825 mm in a day and 26 m in a year (from memory).
constexpr double hottest_c = 58.0;
constexpr double coldest_c = -75.0;  // of where anybody keeps a station but in Antarctica (judged)
constexpr double wettest_day_mm = 2000.0;
constexpr double wettest_year_mm = 15000.0;   // the wettest places' mean is some 12000 mm
constexpr double brightest_day_mj_m2 = 48.0;  // above the extraterrestrial of any day, 47.x
// The brightest day of every year, anywhere, is above this (judged).
constexpr double brightest_at_least_mj_m2 = 8.0;
constexpr double middle_elevation_m = 3000.0;

}  // namespace

std::optional<Readings::Reading> Readings::of(std::size_t row, std::size_t at,
                                              const TakenColumn& column) {
  const std::string_view cell = open_.table.cell(row, at);
  if (cell.empty()) return std::nullopt;
  if (failed_its_checks(row, column)) {
    ++open_.said.failed;
    return std::nullopt;
  }
  const ColumnMeaning& meaning = *column.meaning;
  if (is_among(cell, meaning.missing)) return none(cell);
  if (is_among(cell, meaning.zero)) {
    ++open_.said.zero_marks;
    return Reading{0.0, "0"};  // in any unit: read_layouts refuses such marks of temperatures
  }
  auto number = open_.table.number(row, at);
  if (!number) {
    const std::string word = folded(cell);
    if (word.empty() || std::ranges::find(missing_words, word) != missing_words.end()) {
      return none(cell);
    }
    open_.complain(row, at, fmt::format("{} in {}", in_quotes(cell), column.name),
                   "a number, or nothing if unknown");
    return std::nullopt;
  }
  const double value = column.unit ? column.unit->convert(number->value) : number->value;
  if (beyond_sense(column.quantity, value) && often_missing(number->value)) {
    return none(cell);
  }
  number->value = value;
  return number;
}

std::optional<Readings::Reading> Readings::none(std::string_view cell) {
  auto& missing = open_.said.missing;
  auto known = std::ranges::find_if(missing, [&](const auto& one) { return one.first == cell; });
  if (known == missing.end()) known = missing.insert(missing.end(), {std::string(cell), 0});
  ++known->second;
  return std::nullopt;
}

/// The second of the flags in NAME_ATTRIBUTES, or the quality column of a line.
bool Readings::failed_its_checks(std::size_t row, const TakenColumn& column) {
  if (const TakenColumn* const quality = open_.column_of(WeatherQuantity::quality)) {
    return !open_.table.cell(row, quality->column).empty();
  }
  if (open_.said.layout.empty()) return false;
  const std::size_t flags = flags_of(column);
  if (flags == open_.table.header().size()) return false;
  const std::vector<std::string_view> parts = split_line(open_.table.cell(row, flags), ',');
  return parts.size() > 1 && !parts[1].empty();
}

/// The column NAME_ATTRIBUTES of a column; as many as there are columns: it has none.
std::size_t Readings::flags_of(const TakenColumn& column) {
  const auto [known, fresh] = flags_of_.emplace(column.column, 0);
  if (fresh) {
    const std::string wanted = folded(column.name) + " attributes";
    const auto found = std::ranges::find_if(
        open_.table.header(), [&](const std::string& name) { return folded(name) == wanted; });
    known->second = static_cast<std::size_t>(found - open_.table.header().begin());
  }
  return known->second;
}

NumbersOfColumn numbers_in(const ForeignTable& table,
                           const std::vector<const TakenColumn*>& columns,
                           std::span<const TimedRow> rows) {
  NumbersOfColumn numbers;
  for (const TakenColumn* const column : columns) {
    for (const TimedRow& timed : rows) {
      const std::string_view cell = table.cell(timed.row, column->column);
      if (is_among(cell, column->meaning->missing)) continue;
      const auto number = table.number(timed.row, column->column);
      if (!number || often_missing(number->value)) continue;
      numbers.take(number->value);
    }
  }
  if (!rows.empty()) {
    const auto [first, last] = std::minmax_element(
        rows.begin(), rows.end(),
        [](const TimedRow& a, const TimedRow& b) { return a.when.date < b.when.date; });
    numbers.days = static_cast<double>((last->when.date - first->when.date).count() + 1);
  }
  return numbers;
}

std::vector<std::string_view> units_of(std::string_view kind) {
  if (kind == "temperature") return {"°C", "°F"};
  if (kind == "depth") return {"mm", "in"};
  if (kind == "radiation") return {"MJ/m2", "W/m2"};
  if (kind == "speed") return {"m/s", "km/h", "mph", "kn"};
  if (kind == "pressure") return {"kPa", "hPa"};
  return {};
}

bool makes_sense(const NumbersOfColumn& numbers, const ScaledUnit& unit, const SiteValues& site) {
  if (numbers.count == 0) return true;
  const double highest = unit.convert(numbers.highest);
  const double lowest = unit.convert(numbers.lowest);
  const bool whole_year = numbers.days >= reading_limits::year_days && site.latitude_deg &&
                          site.elevation_m &&
                          std::abs(*site.latitude_deg) < reading_limits::middle_latitude_deg &&
                          *site.elevation_m < middle_elevation_m;
  const std::string_view kind = unit.unit->kind;
  if (kind == "temperature") {
    return highest <= hottest_c && lowest >= coldest_c &&
           !(whole_year && highest < reading_limits::warmest_at_least_c);
  }
  if (kind == "depth") {
    const double sum = unit.convert(numbers.sum);
    return highest <= wettest_day_mm &&
           !(numbers.days >= reading_limits::year_days &&
             sum / numbers.days * units::days_per_year > wettest_year_mm);
  }
  if (kind == "radiation") {
    return highest <= brightest_day_mj_m2 && !(whole_year && highest < brightest_at_least_mj_m2);
  }
  return true;
}

}  // namespace wiltline
