// Dates and times as weather files write them.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string_view>

#include "wiltline/base/date.hpp"
#include "wiltline/base/result.hpp"

namespace wiltline {

/// In which order a date's numbers stand. Year first also covers 20140201 and the day of the year.
enum class DateOrder { ymd, dmy, mdy };
inline constexpr std::array<std::string_view, 3> date_order_names{"ymd", "dmy", "mdy"};
/// In words: day.month.year, as an example.
[[nodiscard]] std::string_view describe(DateOrder order);

/// A date as written, with what may follow it.
struct WrittenDate {
  Date date{};
  std::optional<double> hour;          // [0, 24]; 24:00 is the end of the day
  std::optional<double> utc_offset_h;  // +02:00; 0 for Z and UTC
};

/// Reads a date in an order: three numbers separated by - / or ., a four-digit year; year first
/// also YYYYMMDD, YYYYMMDDHH (MM, SS), YYYY-DDD and YYYYDDD. A time may follow: 13:00, 13:00:30,
/// 1:00 PM, 1300; and Z, UTC or an offset. Empty for anything else, and for a day that does not
/// exist or is not of the years 1700 to 2200.
[[nodiscard]] std::optional<WrittenDate> parse_written_date(std::string_view text, DateOrder order);
/// A time of day alone, hours: 13:00, 13, 1300, 1:00 PM.
[[nodiscard]] std::optional<double> parse_written_clock(std::string_view text);

/// The text that shows no single date order fits.
struct WrongDate {
  std::size_t text = 0;
  bool two_ways = false;  // it reads in more than one order, as all do
};

/// The one order in which every text is a date; blank texts count for nothing. A fault if there is
/// none, or more than one: its `found` then says what reads both ways, and `wrong` which text that
/// is. Else `wrong` is set to the first text that is no date in the order that most are.
[[nodiscard]] Result<DateOrder> find_date_order(std::span<const std::string_view> texts,
                                                WrongDate& wrong);

}  // namespace wiltline
