#include "wiltline/account/season_result.hpp"

#include <doctest/doctest.h>

namespace wiltline::test {
TEST_CASE("peak: the four weeks about the peak week, as far as the season has them") {
  struct Case {
    int days;
    int peak_end;  // one past the week's last day
    std::size_t first, count;
  };
  for (const Case& c : {Case{100, 50, 33, 28}, Case{100, 7, 0, 28}, Case{100, 100, 72, 28},
                        Case{20, 12, 0, 20}, Case{28, 28, 0, 28}, Case{29, 29, 1, 28}}) {
    CAPTURE(c.days);
    CAPTURE(c.peak_end);
    SeasonResult result;
    result.first = make_date(2023, 5, 1);
    result.summary.days = c.days;
    result.summary.peak_ends = result.first + std::chrono::days(c.peak_end - 1);
    const DayRange month = peak_month(result);
    CHECK(month.first == c.first);
    CHECK(month.count == c.count);
  }
}

TEST_CASE("care: what is added since is told kind by kind") {
  const CareDays before{1, 2, 3, 4, 5, 6, 7, 8, 9};
  const CareDays now{11, 14, 17, 20, 23, 26, 29, 32, 35};
  CHECK(now.since(before) == CareDays{10, 12, 14, 16, 18, 20, 22, 24, 26});
}

}  // namespace wiltline::test
