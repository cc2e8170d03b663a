#include "wiltline/weather/table_lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline {

TableLines read_lines(OpenTable& open, Readings& readings, const TableTimes& times,
                      std::span<const ColumnMeaning> meanings) {
  const TakenColumn& element = *open.column_of(WeatherQuantity::element);
  const TakenColumn& value = *open.column_of(WeatherQuantity::value);
  TableLines lines;
  lines.places.resize(times.place_count());
  std::map<std::string, std::optional<TakenColumn>> known;
  for (const TimedRow& timed : times.rows) {
    if (open.problems.full()) break;
    const std::string word(open.table.cell(timed.row, element.column));
    auto found = known.find(word);
    if (found == known.end()) {
      auto column = understand(word, {}, meanings);
      if (column && !is_reading(column->quantity)) column.reset();
      if (column && !column->unit) {
        open.complain(timed.row, element.column, fmt::format("{} without a unit", in_quotes(word)),
                      "its unit in the table of columns", {Advice::Kind::table_of_columns});
        column.reset();
      }
      found = known.emplace(word, std::move(column)).first;
      if (found->second) {
        open.said.taken.push_back({word, fmt::format("{} {}", name_of(found->second->quantity),
                                                     found->second->unit->text())});
      } else {
        open.said.left_out.push_back(word);
      }
    }
    if (!found->second) continue;
    TableLines::Place& place = lines.places[timed.place];
    if (place.days.empty()) place.first_row = timed.row;
    const Problem at = open.table.problem_at(timed.row, value.column, {}, {});
    const auto [cell, fresh] = place.days[timed.when.date].emplace(
        found->second->quantity, TableLines::Cell{{}, {at.line, at.column}});
    if (!fresh) {
      open.complain(timed.row, element.column,
                    fmt::format("{} of {} a second time", word, to_string(timed.when.date)),
                    "it once");
      continue;
    }
    if (const auto reading = readings.of(timed.row, value.column, *found->second)) {
      cell->second.text = shortest(reading->value);
    }
  }
  open.said.rows = times.rows.size();
  for (const OwnColumn& own : own_columns) {
    const auto taken = std::ranges::find_if(
        known, [&](const auto& one) { return one.second && one.second->quantity == own.quantity; });
    if (taken != known.end()) lines.columns.emplace_back(own, taken->first);
  }
  return lines;
}

void write_days_of_lines(const TableLines& lines, const TableLines::Place& place, OwnText& own) {
  for (const auto& [column, theirs] : lines.columns) own.add_column(column.name(), theirs);
  for (const auto& [date, cells] : place.days) {
    // A day of rain alone says nothing of its temperatures; a gap is told of by the reader.
    const std::size_t line = cells.begin()->second.origin.line;
    own.begin_day(date, {line, 1});
    for (const auto& [column, theirs] : lines.columns) {
      const auto cell = cells.find(column.quantity);
      const bool there = cell != cells.end();
      own.add_cell(there ? cell->second.text : std::string(),
                   there ? cell->second.origin : OwnText::Origin{line, 0});
    }
  }
}

}  // namespace wiltline
