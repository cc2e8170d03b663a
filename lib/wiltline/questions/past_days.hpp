// Days of other years that may follow the known ones: a record's own past as weather to come.
// Nothing here throws: where a record has no such days there are none to draw.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "wiltline/weather/weather_record.hpp"

namespace wiltline {

/// The days from `first` to `last` in blocks of five days, so that spells stay together. A block
/// may begin on any day of another year that is within ten days of its calendar date; within half
/// a year of `now` it is still this year.
class PastDays {
 public:
  PastDays(const WeatherRecord& record, Date first, Date last, Date now);

  /// The last day that can be drawn; empty if none.
  [[nodiscard]] std::optional<Date> last() const { return last_; }
  /// Other years that have more than half of the days on which the first block may begin.
  [[nodiscard]] int years() const { return years_; }
  /// Spells of the first block's length in those years that do not overlap.
  [[nodiscard]] double spells() const;
  /// Record indices of one future.
  [[nodiscard]] std::vector<std::size_t> draw(std::uint64_t seed, std::uint64_t member) const;

 private:
  std::vector<std::vector<std::size_t>> blocks_;  // record indices at which each may begin
  std::optional<Date> last_;
  std::size_t size_ = 0;
  int years_ = 0;
  std::size_t starts_ = 0;  // days on which the first block may begin
};

/// The share of the futures below which the truth should lie one time in ten, where only the
/// weather makes them differ. They come from few past spells that do not overlap, and the k-th of n
/// such has the next one below it with chance k / (n + 1); k = 0.1 (n + 1) stands at share (k -
/// 1/2) / n of them. Without this, ranges drawn from three years held two thirds of what a fourth
/// brought. `spells` >= 0; without any, a tenth.
[[nodiscard]] double tail_share(double spells);

}  // namespace wiltline
