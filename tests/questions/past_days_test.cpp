#include "wiltline/questions/past_days.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <set>
#include <vector>

#include "support/near.hpp"

namespace wiltline::test {
namespace {

using std::chrono::days;

WeatherRecord record_of(Date first, Date last) {
  const auto size = static_cast<std::size_t>((last - first).count()) + 1;
  return {"made up", {}, first, std::vector<WeatherDay>(size), true};
}

/// Every day on which the first block of a future was seen to begin.
std::set<Date> first_days(const PastDays& past, const WeatherRecord& record) {
  std::set<Date> found;
  for (std::uint64_t member = 0; member < 2000; ++member) {
    found.insert(record.date(past.draw(1, member).front()));
  }
  return found;
}

}  // namespace

TEST_CASE(
    "past days: a future is blocks of five days, each near its calendar date in another year") {
  const WeatherRecord record = record_of(make_date(2015, 1, 1), make_date(2022, 7, 9));
  const Date now = make_date(2022, 7, 9);
  const Date first = make_date(2022, 7, 10);
  const PastDays past(record, first, make_date(2022, 7, 22), now);
  CHECK(past.last() == make_date(2022, 7, 22));
  CHECK(past.years() == 7);
  CHECK(near(past.spells(), 7.0 * 21.0 / 5.0, 1e-12));
  for (std::uint64_t member = 0; member < 200; ++member) {
    const std::vector<std::size_t> future = past.draw(9, member);
    REQUIRE(future.size() == 13);
    for (std::size_t i = 0; i < future.size(); ++i) {
      const Date date = record.date(future[i]);
      if (i % 5 != 0) {
        CHECK(future[i] == future[i - 1] + 1);
        continue;
      }
      const Date wanted = first + days(static_cast<int>(i));
      const std::chrono::year_month_day civil{wanted};
      const Date that_year = make_date(year_of(date), static_cast<unsigned>(civil.month()),
                                       static_cast<unsigned>(civil.day()));
      CHECK(std::abs((date - that_year).count()) <= 10);
      CHECK(year_of(date) < 2022);
    }
  }
}

TEST_CASE("past days: every start within ten days comes, in every other year, and no other") {
  const WeatherRecord record = record_of(make_date(2019, 1, 1), make_date(2022, 7, 9));
  const PastDays past(record, make_date(2022, 7, 10), make_date(2022, 7, 14),
                      make_date(2022, 7, 9));
  std::set<Date> expected;
  for (const int year : {2019, 2020, 2021}) {
    for (int offset = -10; offset <= 10; ++offset) {
      expected.insert(make_date(year, 7, 10) + days(offset));
    }
  }
  CHECK(first_days(past, record) == expected);
}

TEST_CASE(
    "past days: over New Year the days a year ago come, though some have this year's number") {
  const WeatherRecord record = record_of(make_date(2020, 6, 1), make_date(2022, 12, 28));
  const Date now = make_date(2022, 12, 28);
  // 29 December: a year ago until 8 January, of the same calendar year as now.
  const PastDays december(record, make_date(2022, 12, 29), make_date(2023, 1, 2), now);
  std::set<Date> expected;
  for (const int year : {2020, 2021}) {
    for (int offset = -10; offset <= 10; ++offset) {
      expected.insert(make_date(year, 12, 29) + days(offset));
    }
  }
  CHECK(first_days(december, record) == expected);
  CHECK(december.years() == 2);
  // 2 January: the other Januaries, those of 2022 among them.
  const PastDays january(record, make_date(2023, 1, 2), make_date(2023, 1, 6), now);
  CHECK(first_days(january, record).contains(make_date(2022, 1, 2)));
  CHECK(january.years() == 2);
}

TEST_CASE("past days: what lies within 182 days of now is of this year, before and after") {
  const WeatherRecord record = record_of(make_date(2021, 1, 1), make_date(2024, 12, 31));
  // 182 days before 28 December 2022 is 29 June. Of the starts about 29 June 2022, those of whose
  // five days none is later than 28 June are left.
  const PastDays before(record, make_date(2023, 6, 29), make_date(2023, 7, 3),
                        make_date(2022, 12, 28));
  std::vector<Date> of_2022;
  for (const Date date : first_days(before, record)) {
    if (year_of(date) == 2022) of_2022.push_back(date);
  }
  REQUIRE(of_2022.size() == 6);
  CHECK(of_2022.front() == make_date(2022, 6, 19));
  CHECK(of_2022.back() == make_date(2022, 6, 24));
  // 182 days after 1 January 2023 is 2 July: of the starts about 29 June 2023, those from 3 July
  // on.
  const PastDays after(record, make_date(2022, 6, 29), make_date(2022, 7, 3),
                       make_date(2023, 1, 1));
  std::vector<Date> of_2023;
  for (const Date date : first_days(after, record)) {
    if (year_of(date) == 2023) of_2023.push_back(date);
  }
  REQUIRE(of_2023.size() == 7);
  CHECK(of_2023.front() == make_date(2023, 7, 3));
  CHECK(of_2023.back() == make_date(2023, 7, 9));
}

TEST_CASE("past days: 29 February has its days in years without one") {
  const WeatherRecord record = record_of(make_date(2021, 1, 1), make_date(2024, 2, 28));
  const PastDays past(record, make_date(2024, 2, 29), make_date(2024, 3, 4),
                      make_date(2024, 2, 28));
  CHECK(past.years() == 3);
}

TEST_CASE("past days: they end where no other year goes on") {
  const Date now = make_date(2022, 7, 9);
  const PastDays none(record_of(make_date(2022, 1, 1), now), now + days(1), now + days(14), now);
  CHECK_FALSE(none.last().has_value());
  CHECK(none.years() == 0);
  CHECK(none.spells() == 0.0);
  CHECK(none.draw(1, 0).empty());

  // A year ago the record held 1 to 20 July: a block of five days may begin there until the 16th,
  // which is within ten days of the 25th and no longer of the 30th.
  const WeatherRecord gone = record_of(make_date(2021, 7, 1), make_date(2021, 7, 20));
  const PastDays some(gone, now + days(1), now + days(40), now);
  CHECK(some.last() == make_date(2022, 7, 29));
  CHECK(some.draw(1, 0).size() == 20);
}

TEST_CASE("past days: the same seed and member are the same future, others are others") {
  const WeatherRecord record = record_of(make_date(2012, 1, 1), make_date(2022, 7, 9));
  const PastDays past(record, make_date(2022, 7, 10), make_date(2022, 8, 20),
                      make_date(2022, 7, 9));
  CHECK(past.draw(3, 7) == past.draw(3, 7));
  CHECK(past.draw(3, 7) != past.draw(3, 8));
  CHECK(past.draw(3, 7) != past.draw(4, 7));
}

TEST_CASE("past days: the share below which one truth in ten lies, by the order of few spells") {
  CHECK(near(tail_share(19.0), 1.5 / 19.0, 1e-15));  // the second of 19 has 2 / 20 below it
  CHECK(near(tail_share(9.0), 0.5 / 9.0, 1e-15));    // the first of 9 has 1 / 10
  CHECK(near(tail_share(99.0), 9.5 / 99.0, 1e-15));
  CHECK(near(tail_share(12.6), (1.36 - 0.5) / 12.6, 1e-15));
  CHECK(tail_share(4.0) == 0.0);  // fewer than nine never reach so far: all of them
  CHECK(tail_share(1.0) == 0.0);
  CHECK(tail_share(0.0) == 0.1);
}

TEST_CASE("past days: a year of which only the fringe is on record is not counted") {
  // Of 2018 the record holds 18 to 20 July alone among the days on which a block may begin.
  const WeatherRecord record = record_of(make_date(2018, 7, 18), make_date(2022, 7, 9));
  const PastDays past(record, make_date(2022, 7, 10), make_date(2022, 7, 14),
                      make_date(2022, 7, 9));
  CHECK(past.years() == 3);
  CHECK(near(past.spells(), (3.0 * 21.0 + 3.0) / 5.0, 1e-12));
  const WeatherRecord fuller = record_of(make_date(2018, 7, 5), make_date(2022, 7, 9));
  CHECK(PastDays(fuller, make_date(2022, 7, 10), make_date(2022, 7, 14), make_date(2022, 7, 9))
            .years() == 4);
}

}  // namespace wiltline::test
