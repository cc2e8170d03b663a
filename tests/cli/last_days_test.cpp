// The last days of plantings, in words.
#include "last_days.hpp"

#include <doctest/doctest.h>

namespace wiltline::test {

TEST_CASE("last days: a span runs from the shortest life to the longest, over New Year too") {
  const auto ends = [](Date a, Date b) {
    const Date spring_2021 = make_date(2021, 4, 20);
    const Date spring_2022 = make_date(2022, 4, 20);
    return cli::last_days_text(
        {{"thyme", spring_2021, a, EndedBy::frost}, {"thyme", spring_2022, b, EndedBy::frost}},
        false);
  };
  CHECK(ends(make_date(2022, 1, 1), make_date(2022, 12, 8)) == "Last day: 8 Dec to 1 Jan (frost).");
  CHECK(ends(make_date(2021, 12, 8), make_date(2023, 1, 1)) == "Last day: 8 Dec to 1 Jan (frost).");
  CHECK(ends(make_date(2021, 11, 3), make_date(2022, 10, 9)) ==
        "Last day: 9 Oct to 3 Nov (frost).");
}

}  // namespace wiltline::test
