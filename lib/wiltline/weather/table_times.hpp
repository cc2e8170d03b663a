// When the rows of a table were, and of which place, by its columns of dates, times and places.
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "wiltline/weather/open_table.hpp"
#include "wiltline/weather/row_times.hpp"

namespace wiltline {

struct TableTimes {
  std::vector<TimedRow> rows;
  std::vector<std::string> places;  // in order; empty: no column names any

  [[nodiscard]] std::size_t place_count() const { return std::max<std::size_t>(1, places.size()); }
};

/// Of a table that has_date(). `told`: the order of its dates, if that is known. Says how dates are
/// written; complains of rows without a date or a time, and where two orders fit.
[[nodiscard]] TableTimes read_times(OpenTable& open, std::optional<DateOrder> told);

}  // namespace wiltline
