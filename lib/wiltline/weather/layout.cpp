#include "wiltline/weather/layout.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <iterator>
#include <utility>

#include "wiltline/base/fields.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/base/units.hpp"

namespace wiltline {
namespace {

struct QuantityName {
  std::string_view name;
  std::string_view kind;
};
constexpr std::array<QuantityName, quantity_count> quantities{{
    {"none", ""},
    {"place", ""},
    {"date", ""},
    {"clock", ""},
    {"year", ""},
    {"month", ""},
    {"day", ""},
    {"day of year", ""},
    {"utc offset", ""},
    {"latitude", ""},
    {"longitude", ""},
    {"elevation", "length"},
    {"element", ""},
    {"value", ""},
    {"quality", ""},
    {"temperature", "temperature"},
    {"tmin", "temperature"},
    {"tmax", "temperature"},
    {"dew point", "temperature"},
    {"vapour pressure", "pressure"},
    {"rh max", "humidity"},
    {"rh min", "humidity"},
    {"rh", "humidity"},
    {"wind", "speed"},
    {"solar", "radiation"},
    {"sunshine", "time"},
    {"rain", "depth"},
}};

constexpr double m_s_per_knot = 1852.0 / 3600.0;  // exact: a nautical mile is 1852 m
constexpr double kpa_per_mmhg = 0.133322;  // six digits of 13.5951 * 9.80665 / 1000, from memory
constexpr double mj_per_kwh = 3.6;
constexpr double mj_m2_per_j_cm2 = 0.01;
constexpr double mj_m2_per_cal_cm2 = 0.041868;  // the international calorie, exact by definition
constexpr double celsius_of_zero_kelvin = -273.15;

constexpr auto units_known = std::to_array<WeatherUnit>({
    {"°C", "temperature", 1.0, 0.0, "_c"},
    {"°F", "temperature", 1.0 / 1.8, -32.0, "_f"},
    {"K", "temperature", 1.0, celsius_of_zero_kelvin, ""},
    {"mm", "depth", 1.0, 0.0, "_mm"},
    {"in", "depth", units::mm_per_inch, 0.0, "_in"},
    {"cm", "depth", 10.0, 0.0, ""},
    {"m/s", "speed", 1.0, 0.0, "_m_s"},
    {"km/h", "speed", units::m_s_per_km_h, 0.0, "_km_h"},
    {"mph", "speed", units::m_s_per_mph, 0.0, "_mph"},
    {"kn", "speed", m_s_per_knot, 0.0, ""},
    {"MJ/m2", "radiation", 1.0, 0.0, "_mj_m2"},
    {"W/m2", "radiation", units::mj_m2_per_w_m2_day, 0.0, "_w_m2"},
    {"kWh/m2", "radiation", mj_per_kwh, 0.0, ""},
    {"J/cm2", "radiation", mj_m2_per_j_cm2, 0.0, ""},
    {"cal/cm2", "radiation", mj_m2_per_cal_cm2, 0.0, ""},
    {"kJ/m2", "radiation", 0.001, 0.0, ""},
    {"J/m2", "radiation", 1e-6, 0.0, ""},
    {"kPa", "pressure", 1.0, 0.0, ""},
    {"hPa", "pressure", 0.1, 0.0, ""},
    {"mmHg", "pressure", kpa_per_mmhg, 0.0, ""},
    {"%", "humidity", 1.0, 0.0, "_pct"},
    {"fraction", "humidity", 100.0, 0.0, ""},
    {"h", "time", 1.0, 0.0, "_h"},
    {"min", "time", 1.0 / 60.0, 0.0, ""},
    {"s", "time", 1.0 / 3600.0, 0.0, ""},
    {"m", "length", 1.0, 0.0, ""},
    {"ft", "length", units::m_per_foot, 0.0, ""},
});

struct Spelling {
  std::string_view written;  // folded
  std::string_view unit;
};
constexpr auto spellings = std::to_array<Spelling>({
    {"c", "°C"},          {"°c", "°C"},
    {"degc", "°C"},       {"deg c", "°C"},
    {"celsius", "°C"},    {"ºc", "°C"},
    {"degrees c", "°C"},  {"degree celsius", "°C"},
    {"grad c", "°C"},     {"f", "°F"},
    {"°f", "°F"},         {"degf", "°F"},
    {"deg f", "°F"},      {"fahrenheit", "°F"},
    {"ºf", "°F"},         {"degrees f", "°F"},
    {"k", "K"},           {"kelvin", "K"},
    {"mm", "mm"},         {"l/m2", "mm"},
    {"l/m²", "mm"},       {"mm/day", "mm"},
    {"mm/d", "mm"},       {"in", "in"},
    {"inch", "in"},       {"inches", "in"},
    {"cm", "cm"},         {"m/s", "m/s"},
    {"m s", "m/s"},       {"ms", "m/s"},
    {"mps", "m/s"},       {"m s 1", "m/s"},
    {"km/h", "km/h"},     {"km h", "km/h"},
    {"kmh", "km/h"},      {"kph", "km/h"},
    {"mph", "mph"},       {"mi/h", "mph"},
    {"kn", "kn"},         {"kt", "kn"},
    {"kts", "kn"},        {"knots", "kn"},
    {"mj/m2", "MJ/m2"},   {"mj m2", "MJ/m2"},
    {"mj/m²", "MJ/m2"},   {"mj/m2/day", "MJ/m2"},
    {"mj/m²/d", "MJ/m2"}, {"mj/m2/d", "MJ/m2"},
    {"w/m2", "W/m2"},     {"w m2", "W/m2"},
    {"w/m²", "W/m2"},     {"kwh/m²", "kWh/m2"},
    {"ly", "cal/cm2"},    {"j/cm²", "J/cm2"},
    {"mb", "hPa"},        {"mbar", "hPa"},
    {"pct", "%"},         {"percent", "%"},
    {"hours", "h"},       {"hrs", "h"},
    {"minutes", "min"},   {"kj/m²", "kJ/m2"},
});

/// Without the brackets around it, folded.
std::string bare_unit(std::string_view text) {
  text = trim(text);
  const bool bracketed = text.size() > 2 && ((text.front() == '(' && text.back() == ')') ||
                                             (text.front() == '[' && text.back() == ']'));
  if (bracketed) text = text.substr(1, text.size() - 2);
  return folded(trim(text));
}

const WeatherUnit* unit_named(const std::string& bare, std::string_view kind) {
  std::string_view name = bare;
  const auto spelt = std::find_if(spellings.begin(), spellings.end(),
                                  [&](const Spelling& one) { return one.written == bare; });
  if (spelt != spellings.end()) name = spelt->unit;
  const auto found = std::find_if(units_known.begin(), units_known.end(), [&](const auto& one) {
    return folded(one.name) == folded(name) && (kind.empty() || one.kind == kind);
  });
  return found == units_known.end() ? nullptr : &*found;
}

std::vector<std::string> listed(std::string_view text) {
  std::vector<std::string> parts;
  for (const std::string_view part : parts_between(text, '|')) {
    if (!part.empty()) parts.emplace_back(part);
  }
  return parts;
}

constexpr std::array<std::string_view, 5> date_words{"utc", "ends", "ymd", "dmy", "mdy"};

void take_unit(const Cell& cell, ColumnMeaning& row) {
  if (row.quantity == Quantity::date) {
    for (const std::string_view word : words(cell.text())) {
      if (std::find(date_words.begin(), date_words.end(), word) == date_words.end()) {
        cell.complain(in_quotes(word), fmt::format("of a date: {}", fmt::join(date_words, ", ")));
      }
      row.date_words.emplace_back(word);
    }
    return;
  }
  const std::string_view kind = kind_of(row.quantity);
  row.unit = kind.empty() ? std::nullopt : find_unit(cell.text(), kind);
  if (row.unit) return;
  std::vector<std::string_view> known;
  for (const WeatherUnit& unit : units_known) {
    if (unit.kind == kind) known.push_back(unit.name);
  }
  cell.complain(in_quotes(cell.text()),
                kind.empty() ? fmt::format("no unit for {}", name_of(row.quantity))
                             : fmt::format("one of {}; a number before it multiplies",
                                           fmt::join(known, ", ")));
}

/// No reading of a temperature or a vapour pressure is none.
void take_zero(const Cell& cell, ColumnMeaning& row) {
  const std::string_view kind = kind_of(row.quantity);
  if (kind == "temperature" || kind == "pressure") {
    cell.complain(in_quotes(cell.text()), fmt::format("no mark of nothing for a {}", kind));
  }
  row.zero = listed(cell.text());
}

const Fields<ColumnMeaning>& fields() {
  static const Fields<ColumnMeaning> list = [] {
    std::vector<std::string_view> names;
    for (const QuantityName& one : quantities) names.push_back(one.name);
    const auto list_into = [](std::vector<std::string> ColumnMeaning::*into) {
      return [into](const Cell& cell, ColumnMeaning& row) { row.*into = listed(cell.text()); };
    };
    Fields<ColumnMeaning> result;
    result.text("layout", &ColumnMeaning::layout, Need::nothing)
        .field(
            "column", Need::value,
            [](const Cell& cell, ColumnMeaning& row) {
              for (const std::string& name : listed(cell.text())) {
                row.names.push_back(folded(name));
              }
            },
            "the name of a column")
        .choice("is", names, &ColumnMeaning::quantity, Need::value)
        .field("unit", Need::nothing, take_unit)
        .field("missing", Need::nothing, list_into(&ColumnMeaning::missing))
        .field("zero", Need::nothing, take_zero)
        .choice("key", std::vector<std::string_view>{"no", "yes"}, &ColumnMeaning::key,
                Need::nothing);
    return result;
  }();
  return list;
}

/// The row of a name.
const ColumnMeaning* row_of(const std::string& name, std::span<const ColumnMeaning> meanings) {
  const auto found = std::find_if(meanings.begin(), meanings.end(), [&](const ColumnMeaning& row) {
    return std::find(row.names.begin(), row.names.end(), name) != row.names.end();
  });
  return found == meanings.end() ? nullptr : &*found;
}

}  // namespace

std::string_view name_of(Quantity quantity) {
  return quantities[static_cast<std::size_t>(quantity)].name;
}

std::string_view kind_of(Quantity quantity) {
  return quantities[static_cast<std::size_t>(quantity)].kind;
}

double ScaledUnit::convert(double value) const {
  if (scale != 1.0) value = scale < 1.0 ? value / (1.0 / scale) : value * scale;
  if (unit == nullptr) return value;
  return (value + unit->offset) * unit->factor;
}

std::string ScaledUnit::text() const {
  if (unit == nullptr) return {};
  return scale == 1.0 ? std::string(unit->name) : fmt::format("{:g} {}", scale, unit->name);
}

std::optional<ScaledUnit> find_unit(std::string_view text, std::string_view kind) {
  std::string bare = bare_unit(text);
  ScaledUnit result;
  if (const std::size_t space = bare.find(' '); space != std::string::npos) {
    if (const auto scale = parse_number(std::string_view(bare).substr(0, space))) {
      if (!(*scale > 0.0)) return std::nullopt;
      result.scale = *scale;
      bare.erase(0, space + 1);
    }
  }
  result.unit = unit_named(bare, kind);
  if (result.unit == nullptr) return std::nullopt;
  return result;
}

bool is_unit(std::string_view text) {
  return find_unit(text, {}).has_value();
}

std::vector<ColumnMeaning> read_layouts(FileBytes file) {
  TableRows rows(std::move(file));
  std::vector<ColumnMeaning> result;
  fields().read(rows, [&](ColumnMeaning row) { result.push_back(std::move(row)); });
  return result;
}

const std::vector<ColumnMeaning>& builtin_column_meanings() {
  static const std::vector<ColumnMeaning> known = read_layouts(builtin_layouts().at("layouts.csv"));
  return known;
}

std::vector<std::string> layout_names(std::span<const ColumnMeaning> meanings) {
  std::vector<std::string> names;
  for (const ColumnMeaning& row : meanings) {
    if (!row.layout.empty() && (names.empty() || names.back() != row.layout)) {
      names.push_back(row.layout);
    }
  }
  return names;
}

std::vector<ColumnMeaning> of_layout(std::span<const ColumnMeaning> meanings,
                                     std::string_view layout) {
  std::vector<ColumnMeaning> result;
  std::copy_if(meanings.begin(), meanings.end(), std::back_inserter(result),
               [&](const ColumnMeaning& row) { return row.layout == layout; });
  return result;
}

std::optional<TakenColumn> understand(std::string_view name, std::string_view unit_row,
                                      std::span<const ColumnMeaning> meanings) {
  TakenColumn result;
  result.name = name;
  std::string whole = folded(name);
  std::string unit_text(unit_row);
  if (const std::size_t open = whole.find_first_of("(["); open != std::string::npos && open > 0) {
    const std::size_t close = whole.find_last_of(")]");
    if (close != std::string::npos && close > open) {
      if (unit_text.empty()) unit_text = whole.substr(open + 1, close - open - 1);
      whole = folded(whole.substr(0, open));
    }
  }
  result.meaning = row_of(whole, meanings);
  // A unit at the end of the name: tmax c, wind speed km h.
  for (std::size_t space = whole.find(' '); result.meaning == nullptr && space != std::string::npos;
       space = whole.find(' ', space + 1)) {
    const std::string ending = whole.substr(space + 1);
    const ColumnMeaning* const row = row_of(whole.substr(0, space), meanings);
    if (row == nullptr || !find_unit(ending, kind_of(row->quantity)) ||
        kind_of(row->quantity).empty()) {
      continue;
    }
    result.meaning = row;
    if (unit_text.empty()) unit_text = ending;
  }
  if (result.meaning == nullptr) return std::nullopt;
  result.quantity = result.meaning->quantity;
  const std::string_view kind = kind_of(result.quantity);
  if (!kind.empty() && !unit_text.empty()) result.unit = find_unit(unit_text, kind);
  if (!result.unit) result.unit = result.meaning->unit;
  return result;
}

}  // namespace wiltline
