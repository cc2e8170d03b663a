// An answer as a page of its own: opens offline, asks for nothing, with pictures.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "report.hpp"
#include "wiltline/account/season_result.hpp"
#include "wiltline/base/date.hpp"

namespace wiltline {
struct AccountPoint;
}

namespace wiltline::cli {

/// What a picture is called, and what it shows, for who cannot see it.
struct Caption {
  std::string title;
  std::string says;
};

/// A row of a picture of ranges: a dot at the value, a bar from low to high, words beside it.
struct RangeRow {
  std::string label;
  std::optional<double> value;
  std::optional<double> low{};
  std::optional<double> high{};
  std::string text{};
  std::vector<std::pair<double, std::string>> marks{};  // further places, and what they are
};
/// The largest value first; rows without one stand last.
void sort_by_value(std::vector<RangeRow>& rows);
/// `unit`: of all values. With `from` they are days since its 00:00, and the axis has dates.
[[nodiscard]] Picture ranges_picture(const Caption& caption, std::string unit,
                                     const std::vector<RangeRow>& rows,
                                     const std::optional<Date>& from = {});

/// Which columns of a report make a picture of ranges.
struct RangeColumns {
  std::vector<std::string_view> label;  // joined by commas, empty cells left out
  std::string_view value;
  std::string_view low{};  // both or neither; left out where there is no such column
  std::string_view high{};
  /// Beside the value: what stands before it, and the column.
  std::vector<std::pair<std::string_view, std::string_view>> words{};
};
/// Adds the picture, rows sorted by value, the largest first; rows without a value stand last.
void add_ranges(Report& report, const Caption& caption, const RangeColumns& columns, bool us);

/// Adds a picture of the columns of one quantity of a report of one row.
void add_amounts(Report& report, const Caption& caption, Quantity quantity, bool us);

/// Bars side by side, by category.
struct BarSeries {
  std::string name;
  std::vector<double> values;  // one a category
};
[[nodiscard]] Picture bars_picture(const Caption& caption, std::string unit,
                                   const std::vector<std::string>& categories,
                                   const std::vector<BarSeries>& series);
/// Adds bars of columns of a report, which are of one quantity and have a row a day (`date`): day
/// by day, or the mean of each month if there are many.
void add_daily_bars(Report& report, const Caption& caption,
                    const std::vector<std::pair<std::string_view, std::string>>& columns, bool us);

/// A pot's water through the hours of its days, which were run with them.
struct PotWater {
  std::string label;
  const std::vector<LedgerLine>* days;
};
[[nodiscard]] Picture water_picture(const Caption& caption, const std::vector<PotWater>& pots,
                                    bool us);

/// Weights of a pot, and those of its account.
struct PotWeights {
  std::string label;
  const std::vector<AccountPoint>* points;  // one at least
};
[[nodiscard]] Picture weights_picture(const Caption& caption, const std::vector<PotWeights>& pots,
                                      bool us);

/// A chart of words: a heading a column, the first cell of a row names it.
[[nodiscard]] Picture grid_picture(const Caption& caption, const std::vector<std::string>& columns,
                                   const std::vector<std::vector<std::string>>& rows);

/// A sheet to print: lines with a box to tick, in groups.
struct SheetGroup {
  std::string heading;
  std::vector<std::string> lines;
};
[[nodiscard]] Picture sheet_picture(const Caption& caption, const std::vector<SheetGroup>& groups);

/// The whole page. `text`: the answer as a terminal shows it.
[[nodiscard]] std::string to_page(const Report& report, const std::string& text, bool us);

}  // namespace wiltline::cli
