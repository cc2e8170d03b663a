#include "wiltline/base/fields.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline {

double TableRows::number(std::string_view column, const Bounds& bounds) {
  const NumberColumn found(table_, column, unit_options::none, Need::value, problems_);
  const Cell cell(*this, found);
  if (cell.text().empty()) cell.complain(fmt::format("nothing in {}", column), "a number");
  return cell.number(bounds.said()).value_or(std::clamp(0.0, bounds.low, bounds.high));
}

void TableRows::complain(std::size_t column, std::string found, std::string expected,
                         Advice advice) {
  wrong_.push_back(column);
  problems_.add(
      table_.problem_at(row_, column, std::move(found), std::move(expected), std::move(advice)));
}

bool TableRows::sound(std::span<const std::string> columns) const {
  return std::none_of(columns.begin(), columns.end(), [&](const std::string& name) {
    const auto column = table_.column(name);
    return column && std::find(wrong_.begin(), wrong_.end(), *column) != wrong_.end();
  });
}

std::optional<double> Cell::number(const Bounds& bounds) const {
  const auto value = column_.read(rows_.row_, rows_.problems_, bounds);
  if (!value) rows_.wrong_.push_back(column_.column());
  return value;
}

std::optional<int> Cell::whole_number(int low, int high) const {
  const auto value = parse_integer(text());
  if (value && *value >= low && *value <= high) return value;
  complain(fmt::format("{} in {}", in_quotes(text()), column()),
           fmt::format("a whole number from {} to {}", low, high));
  return std::nullopt;
}

std::optional<Instant> Cell::instant() const {
  const auto when = parse_instant(text());
  if (!when) complain(in_quotes(text()), std::string(instant_example));
  return when;
}

std::optional<std::size_t> Cell::choice(std::span<const std::string_view> words,
                                        std::string expected) const {
  const auto found = std::find(words.begin(), words.end(), text());
  if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
  if (expected.empty()) expected = fmt::format("one of {}", fmt::join(words, ", "));
  complain(fmt::format("{} in {}", in_quotes(text()), column()), std::move(expected));
  return std::nullopt;
}

std::optional<Fault> number_fault(std::string_view name, double value, const Bounds& bounds) {
  if (value >= bounds.low && value <= bounds.high) return std::nullopt;
  return Fault{fmt::format("{} {:g}", name, value), bounds.allowed};
}

std::optional<Fault> number_fault(std::string_view name, const Ranged& range,
                                  const Bounds& bounds) {
  for (const double number : {range.value, range.low, range.high}) {
    if (auto fault = number_fault(name, number, bounds)) return fault;
  }
  return std::nullopt;
}

std::optional<Fault> order_fault(const Ranged& range) {
  if (range.in_order()) return std::nullopt;
  if (std::isnan(range.value + range.low + range.high)) {
    return Fault{"a value without its range, or a part of that", "value, low and high, or none"};
  }
  return Fault{fmt::format("{} outside its range {} to {}", range.value, range.low, range.high),
               "a value within its range"};
}

}  // namespace wiltline
