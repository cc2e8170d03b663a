#include "wiltline/weather/layout.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <iterator>
#include <utility>

#include "wiltline/base/fields.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"

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

/// Without the brackets around it, folded.
std::string bare_unit(std::string_view text) {
  text = trim(text);
  const bool bracketed = text.size() > 2 && ((text.front() == '(' && text.back() == ')') ||
                                             (text.front() == '[' && text.back() == ']'));
  if (bracketed) text = text.substr(1, text.size() - 2);
  return folded(trim(text));
}

std::vector<std::string> listed(std::string_view text) {
  std::vector<std::string> parts;
  for (const std::string_view part : parts_between(text, '|')) {
    if (!part.empty()) parts.emplace_back(part);
  }
  return parts;
}

/// A field of texts with | between them, each as it is compared.
template <typename Row>
auto folded_into(std::vector<std::string> Row::*into) {
  return [into](const Cell& cell, Row& row) {
    for (const std::string& name : listed(cell.text())) (row.*into).push_back(folded(name));
  };
}

/// The built-in units, models/weather/units.csv.
const std::vector<WeatherUnit>& units_known() {
  static const std::vector<WeatherUnit> known = [] {
    const auto number = [](Fields<WeatherUnit>& fields, const char* column, auto into) {
      fields.number(column, unit_options::none, Need::nothing, into, {});
    };
    Fields<WeatherUnit> fields;
    fields.text("unit", &WeatherUnit::name).text("kind", &WeatherUnit::kind);
    number(fields, "factor", &WeatherUnit::factor);
    number(fields, "per", &WeatherUnit::per);
    number(fields, "offset", &WeatherUnit::offset);
    fields.text("ending", &WeatherUnit::ending, Need::nothing)
        .field("written", Need::nothing, folded_into(&WeatherUnit::written));
    TableRows rows(builtin_layouts().at("units.csv"));
    std::vector<WeatherUnit> units;
    fields.read(rows, [&](WeatherUnit unit) {
      unit.written.push_back(folded(unit.name));
      unit.factor /= unit.per;
      units.push_back(std::move(unit));
    });
    return units;
  }();
  return known;
}

const WeatherUnit* unit_named(const std::string& bare, std::string_view kind) {
  const auto& known = units_known();
  const auto found = std::ranges::find_if(known, [&](const WeatherUnit& unit) {
    return (kind.empty() || unit.kind == kind) &&
           std::ranges::find(unit.written, bare) != unit.written.end();
  });
  return found == known.end() ? nullptr : &*found;
}

constexpr std::array<std::string_view, 5> date_words{"utc", "ends", "ymd", "dmy", "mdy"};

void take_unit(const Cell& cell, ColumnMeaning& row) {
  if (row.quantity == WeatherQuantity::date) {
    for (const std::string_view word : words(cell.text())) {
      if (std::ranges::find(date_words, word) == date_words.end()) {
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
  for (const WeatherUnit& unit : units_known()) {
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
        .field("column", Need::value, folded_into(&ColumnMeaning::names), "the name of a column")
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
  const auto found = std::ranges::find_if(meanings, [&](const ColumnMeaning& row) {
    return std::ranges::find(row.names, name) != row.names.end();
  });
  return found == meanings.end() ? nullptr : &*found;
}

}  // namespace

std::string_view name_of(WeatherQuantity quantity) {
  return quantities[static_cast<std::size_t>(quantity)].name;
}

std::string_view kind_of(WeatherQuantity quantity) {
  return quantities[static_cast<std::size_t>(quantity)].kind;
}

double ScaledUnit::convert(double value) const {
  if (scale != 1.0) value = scale < 1.0 ? value / (1.0 / scale) : value * scale;
  if (unit == nullptr) return value;
  return (value + unit->offset) * unit->factor;
}

std::string ScaledUnit::text() const {
  if (unit == nullptr) return {};
  return scale == 1.0 ? unit->name : fmt::format("{:g} {}", scale, unit->name);
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
  std::ranges::copy_if(meanings, std::back_inserter(result),
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
