// Which unit numbers can be in, where a file does not say: those in which they make sense.
#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>
#include <string_view>
#include <vector>

#include "wiltline/weather/layout.hpp"
#include "wiltline/weather/site.hpp"

namespace wiltline {

/// What is looked at of the numbers of a column.
struct NumbersOfColumn {
  double lowest = std::numeric_limits<double>::infinity();
  double highest = -std::numeric_limits<double>::infinity();
  double sum = 0.0;
  std::size_t count = 0;
  double days = 0.0;  // from the first day of the file to the last

  void take(double number) {
    lowest = std::min(lowest, number);
    highest = std::max(highest, number);
    sum += number;
    ++count;
  }
};

/// The units of a kind that are in use where none is named.
[[nodiscard]] std::vector<std::string_view> units_of(std::string_view kind);

/// True unless numbers in this unit are nowhere on Earth so. What a year must have at least, a warm
/// or a bright day, is asked of a file of ten months, below 60 degrees of latitude and 3000 m only:
/// `site` must then say so. The limits are stated in units_told.cpp.
[[nodiscard]] bool makes_sense(const NumbersOfColumn& numbers, const ScaledUnit& unit,
                               const SiteValues& site);

}  // namespace wiltline
