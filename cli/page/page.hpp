// An answer as a page of its own: opens offline, asks for nothing, with pictures.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report.hpp"
#include "wiltline/base/date.hpp"

namespace wiltline::cli {

/// A row of a picture of ranges: a dot at the value, a bar from low to high, words beside it.
struct RangeRow {
  std::string label;
  std::optional<double> value;
  std::optional<double> low;
  std::optional<double> high;
  std::string text;
};
/// `says`: what the picture shows, for who cannot see it. Values are in the unit named.
[[nodiscard]] Picture ranges_picture(std::string title, std::string says, std::string unit,
                                     const std::vector<RangeRow>& rows);

/// Which columns of a report make a picture of ranges.
struct RangeColumns {
  std::string title;
  std::string says;
  std::vector<std::string_view> label;  // joined by commas, empty cells left out
  std::string_view value;
  std::string_view low{};  // both or neither; left out where there is no such column
  std::string_view high{};
  std::vector<std::string_view> words{};  // beside the value
};
/// Adds the picture, rows sorted by value, the largest first; rows without a value stand last.
void add_ranges(Report& report, const RangeColumns& columns, bool us);

/// Bars of two kinds side by side, by category.
struct BarSeries {
  std::string name;
  std::vector<double> values;  // one a category
};
[[nodiscard]] Picture bars_picture(std::string title, std::string says, std::string unit,
                                   const std::vector<std::string>& categories,
                                   const std::vector<BarSeries>& series);

/// A pot's days: what its plants can still draw at the end of each.
struct PotLevels {
  struct Day {
    double level = 0.0;  // counted up from nothing
    double short_below = 0.0;
    double watered = 0.0;
    double rain = 0.0;
    int state = 0;                     // 0 well, 1 short, 2 wilting, 3 dry
    std::vector<std::string> marks{};  // such as "wilting at 15:40"
  };
  std::string label;
  Date first;
  double full = 0.0;
  std::vector<Day> days;
};
[[nodiscard]] Picture levels_picture(std::string title, std::string says, std::string unit,
                                     const std::vector<PotLevels>& pots);

/// A chart of words: a heading a column, the first cell of a row names it.
[[nodiscard]] Picture grid_picture(std::string title, std::string says,
                                   const std::vector<std::string>& columns,
                                   const std::vector<std::vector<std::string>>& rows);

/// A sheet to print: lines with a box to tick, in groups.
struct SheetGroup {
  std::string heading;
  std::vector<std::string> lines;
};
[[nodiscard]] Picture sheet_picture(std::string title, std::string says,
                                    const std::vector<SheetGroup>& groups);

/// The whole page. `text`: the answer as a terminal shows it.
[[nodiscard]] std::string to_page(const Report& report, const std::string& text, bool us);

}  // namespace wiltline::cli
