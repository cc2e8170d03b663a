// One reading a line, gathered into days.
#pragma once

#include <cstddef>
#include <map>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "wiltline/weather/own_text.hpp"
#include "wiltline/weather/readings.hpp"
#include "wiltline/weather/table_times.hpp"

namespace wiltline {

struct TableLines {
  struct Cell {
    std::string text;
    OwnText::Origin origin;
  };
  struct Place {
    std::size_t first_row = 0;
    std::map<Date, std::map<WeatherQuantity, Cell>> days;
  };
  std::vector<Place> places;
  /// Of the elements that are known, and what the table calls them.
  std::vector<std::pair<OwnColumn, std::string>> columns;
};

/// Of a table with columns of the element and its value; `meanings` say which element is which.
/// Says what was taken and what left out; complains of a reading that stands twice, and of an
/// element without a unit.
[[nodiscard]] TableLines read_lines(OpenTable& open, Readings& readings, const TableTimes& times,
                                    std::span<const ColumnMeaning> meanings);

void write_days_of_lines(const TableLines& lines, const TableLines::Place& place, OwnText& own);

}  // namespace wiltline
