#include "wiltline/weather/open_table.hpp"

#include <algorithm>
#include <utility>

namespace wiltline {

const TakenColumn* OpenTable::column_of(WeatherQuantity wanted) const {
  const auto found = std::ranges::find(columns, wanted, &TakenColumn::quantity);
  return found == columns.end() ? nullptr : &*found;
}

const TakenColumn& OpenTable::date_column() const {
  const TakenColumn* const date = column_of(WeatherQuantity::date);
  return date != nullptr ? *date : *column_of(WeatherQuantity::year);
}

bool OpenTable::has_date() const {
  const auto has = [&](WeatherQuantity wanted) { return column_of(wanted) != nullptr; };
  return has(WeatherQuantity::date) ||
         (has(WeatherQuantity::year) &&
          (has(WeatherQuantity::day_of_year) ||
           (has(WeatherQuantity::month) && has(WeatherQuantity::day))));
}

bool OpenTable::date_says(std::string_view word) const {
  const TakenColumn* const date = column_of(WeatherQuantity::date);
  if (date == nullptr) return false;
  const auto& words_of = date->meaning->date_words;
  return std::ranges::find(words_of, word) != words_of.end();
}

void OpenTable::complain(std::size_t row, std::size_t column, std::string found,
                         std::string expected, Advice advice) {
  problems.add(table.csv().problem_at(row, column, std::move(found), std::move(expected),
                                      std::move(advice)));
}

void OpenTable::complain_of_header(std::size_t column, std::string found, std::string expected,
                                   Advice advice) {
  problems.add(table.csv().problem_in_header(column, std::move(found), std::move(expected),
                                             std::move(advice)));
}

}  // namespace wiltline
