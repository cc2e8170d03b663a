// Routines: what people may write, what is refused, and on which days somebody comes.
#include <doctest/doctest.h>

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "support/near.hpp"
#include "wiltline/garden/routine.hpp"

namespace wiltline::test {
namespace {

Routine routine(std::string_view text) {
  const Result<Routine> result = parse_routine(text);
  CAPTURE(text);
  REQUIRE(result);
  return *result;
}

std::string refused(std::string_view text) {
  const Result<Routine> result = parse_routine(text);
  return result ? "nothing refused" : result.fault().found + " | " + result.fault().expected;
}

Date day(int year, unsigned month, unsigned number) {
  return make_date(year, month, number);
}

const std::string grammar =
    "as-needed, daily 07:00, every 2 days 07:00, mon fri 18:30, or one of these after check or "
    "check "
    "top";

}  // namespace

TEST_CASE("routine: as needed") {
  for (const char* text : {"as-needed", "as needed", "as_needed", "As-Needed", "  as-needed "}) {
    const Routine r = routine(text);
    CHECK(r.as_needed);
    CHECK(r.visit_hours.empty());
    CHECK_FALSE(r.give_l);
    CHECK_FALSE(r.visits_on(day(2024, 6, 1), 0));  // nobody comes: the pot calls
  }
  CHECK(routine("  as-needed ").text == "as-needed");
}

TEST_CASE("routine: daily, once or several times") {
  const Routine once = routine("daily 07:00");
  CHECK_FALSE(once.as_needed);
  CHECK(once.rule == VisitRule::always);
  CHECK(once.days == VisitDays::daily);
  CHECK(once.visit_hours == std::vector<double>{7.0});
  CHECK(once.text == "daily 07:00");
  // Hours come out in order, each once.
  CHECK(routine("daily 19:00 07:00 12:30 07:00").visit_hours ==
        std::vector<double>{7.0, 12.5, 19.0});
  CHECK(routine("daily 00:00 23:59").visit_hours.front() == 0.0);
  for (long since = 0; since < 5; ++since) CHECK(once.visits_on(day(2024, 6, 1), since));
}

TEST_CASE("routine: every so many days, counted from planting") {
  const Routine every_third = routine("every 3 days 18:30");
  CHECK(every_third.days == VisitDays::every_n);
  CHECK(every_third.every_n_days == 3);
  const Date planted = day(2024, 5, 15);
  for (int since = 0; since < 40; ++since) {
    CHECK(every_third.visits_on(planted + std::chrono::days(since), since) == (since % 3 == 0));
  }
  CHECK(routine("every 1 day 07:00").visits_on(planted, 17));
  CHECK(routine("every 60 days 07:00").every_n_days == 60);
}

TEST_CASE("routine: on days of the week") {
  const Routine r = routine("mon wed fri 18:30");
  CHECK(r.days == VisitDays::weekdays);
  CHECK(r.on_weekday == std::array<bool, 7>{true, false, true, false, true, false, false});
  // 3 June 2024 was a Monday (the civil calendar, from memory; date_test walks there).
  for (int k = 0; k < 14; ++k) {
    const bool expected = k % 7 == 0 || k % 7 == 2 || k % 7 == 4;
    CHECK(r.visits_on(day(2024, 6, 3) + std::chrono::days(k), k) == expected);
  }
  CHECK(routine("sun 07:00").on_weekday ==
        std::array<bool, 7>{false, false, false, false, false, false, true});
  CHECK(routine("tue thu sat sun mon wed fri 07:00").on_weekday ==
        std::array<bool, 7>{true, true, true, true, true, true, true});
}

TEST_CASE("routine: days of the week are read without regard to case, as every other word is") {
  CHECK(refused("Mon Wed FRI 18:30") == "nothing refused");
}

TEST_CASE("routine: checked visits") {
  CHECK(routine("check daily 07:00").rule == VisitRule::check);
  CHECK(routine("check top daily 07:00").rule == VisitRule::check_top);
  CHECK(routine("Check Top Every 2 Days 07:00 19:00").rule == VisitRule::check_top);
  CHECK(routine("check mon fri 07:00").days == VisitDays::weekdays);
}

TEST_CASE("routine: a measured amount") {
  CHECK(routine("daily 07:00 give 2 l").give_l == 2.0);
  CHECK(routine("daily 07:00 give 0.25 l").give_l == 0.25);
  CHECK(routine("as-needed give 1.5 l").give_l == 1.5);
  // 1 gal = 3.785411784 l exactly (NIST SP 811, appendix B).
  CHECK(routine("daily 07:00 give 1 gal").give_l == 3.785411784);
  CHECK(routine("mon 07:00 19:00 give 3 l").visit_hours == std::vector<double>{7.0, 19.0});
}

TEST_CASE("routine: litres may be written with a capital L, as the SI allows") {
  CHECK(refused("daily 07:00 give 2 L") == "nothing refused");
}

TEST_CASE("routine: absences") {
  const Routine r = routine("daily 07:00 away 2024-07-08/2024-07-14 give 2 l away 08-20/08-30");
  CHECK(r.give_l == 2.0);
  REQUIRE(r.days_away.size() == 2);
  // Visits on both end days take place.
  CHECK(r.visits_on(day(2024, 7, 8), 60));
  CHECK(r.visits_on(day(2024, 7, 14), 66));
  for (unsigned d = 9; d <= 13; ++d) CHECK_FALSE(r.visits_on(day(2024, 7, d), 60));
  CHECK(r.visits_on(day(2023, 7, 10), 60));  // that year only
  // Of any year.
  for (const int year : {2023, 2024, 2030}) {
    CHECK(r.visits_on(day(year, 8, 20), 100));
    CHECK_FALSE(r.visits_on(day(year, 8, 21), 100));
    CHECK_FALSE(r.visits_on(day(year, 8, 29), 100));
    CHECK(r.visits_on(day(year, 8, 30), 100));
  }
}

TEST_CASE("absence: over the new year") {
  const auto winter = parse_days_away("12-20/01-05");
  REQUIRE(winter);
  CHECK_FALSE(winter->covers(day(2023, 12, 20)));
  CHECK(winter->covers(day(2023, 12, 21)));
  CHECK(winter->covers(day(2023, 12, 31)));
  CHECK(winter->covers(day(2024, 1, 1)));
  CHECK(winter->covers(day(2024, 1, 4)));
  CHECK_FALSE(winter->covers(day(2024, 1, 5)));
  CHECK_FALSE(winter->covers(day(2024, 7, 1)));

  const auto dated = parse_days_away("2023-12-20/2024-01-05");
  REQUIRE(dated);
  CHECK_FALSE(dated->covers(day(2023, 12, 20)));
  CHECK(dated->covers(day(2023, 12, 31)));
  CHECK(dated->covers(day(2024, 1, 4)));
  CHECK_FALSE(dated->covers(day(2024, 1, 5)));
  CHECK_FALSE(dated->covers(day(2024, 12, 31)));
}

TEST_CASE("absence: over the end of February") {
  const auto absence = parse_days_away("02-27/03-01");
  REQUIRE(absence);
  CHECK(absence->covers(day(2024, 2, 28)));
  CHECK(absence->covers(day(2024, 2, 29)));
  CHECK(absence->covers(day(2023, 2, 28)));
  CHECK_FALSE(absence->covers(day(2023, 3, 1)));
}

TEST_CASE("absence: two days apart hold nothing between them, one day is none") {
  const auto weekend = parse_days_away("2024-07-06/2024-07-07");
  REQUIRE(weekend);
  CHECK_FALSE(weekend->covers(day(2024, 7, 6)));
  CHECK_FALSE(weekend->covers(day(2024, 7, 7)));
  for (const char* text : {"2024-07-08/2024-07-08", "07-08/07-08", "2024-07-14/2024-07-08",
                           "2024-07-08/07-14", "07-08/2024-07-14", "2024-07-08", "07-08", "/", "",
                           "2024-07-08/", "/2024-07-14", "2024-07-08/2024-02-30", "07-08/02-30",
                           "2024-07-08/2024-07-14/2024-07-20", "2024-07-08--2024-07-14"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_days_away(text));
  }
}

TEST_CASE("routine: nothing, or nothing of the kind") {
  CHECK(refused("") == "an empty routine | " + grammar);
  CHECK(refused("  ") == "an empty routine | " + grammar);
  CHECK(refused("weekly") == "\"weekly\" | " + grammar);
  CHECK(refused("07:00") == "\"07:00\" | " + grammar);
  CHECK(refused("check") == "no days | " + grammar);
  CHECK(refused("check top") == "no days | " + grammar);
  CHECK(refused("check as-needed") == "\"as-needed\" | " + grammar);
  CHECK(refused("top daily 07:00") == "\"top\" | " + grammar);
}

TEST_CASE("routine: days and hours that do not make sense") {
  CHECK(refused("daily") == "no time of day | a time such as 07:00");
  CHECK(refused("mon fri") == "no time of day | a time such as 07:00");
  CHECK(refused("every 2 days") == "no time of day | a time such as 07:00");
  CHECK(refused("daily give 2 l") == "no time of day | a time such as 07:00");
  CHECK(refused("daily 7:00") == "\"7:00\" | a time of day such as 07:00");
  CHECK(refused("daily 7am") == "\"7am\" | a time of day such as 07:00");
  CHECK(refused("daily 24:00") == "\"24:00\" | a time of day such as 07:00");
  CHECK(refused("daily 07:00 25:00") == "\"25:00\" | a time of day such as 07:00");
  CHECK(refused("mon daily 07:00") == "\"daily\" | a time of day such as 07:00");
  CHECK(refused("every") == "nothing after every | a number of days from 1 to 60");
  for (const std::string n : {"0", "-1", "61", "1.5", "two", "days"}) {
    CHECK(refused("every " + n + " days 07:00") == "\"" + n + "\" | a number of days from 1 to 60");
  }
  CHECK(refused("every 2") == "nothing after the number | days");
  CHECK(refused("every 2 07:00") == "\"07:00\" | days");
  CHECK(refused("every 2 weeks 07:00") == "\"weeks\" | days");
  std::string many = "daily";
  for (int minute = 10; minute < 35; ++minute) many += " 07:" + std::to_string(minute);
  CHECK(refused(many) == "25 visits a day | at most 24");
}

TEST_CASE("routine: amounts and absences that do not make sense") {
  CHECK(refused("daily 07:00 give") == "give without an amount | an amount such as give 2 l");
  CHECK(refused("daily 07:00 give 2") == "give without an amount | an amount such as give 2 l");
  CHECK(refused("daily 07:00 give 2l") == "give without an amount | an amount such as give 2 l");
  CHECK(refused("daily 07:00 give two l") == "\"two\" | an amount above nothing");
  CHECK(refused("daily 07:00 give 0 l") == "\"0\" | an amount above nothing");
  CHECK(refused("daily 07:00 give -1 l") == "\"-1\" | an amount above nothing");
  CHECK(refused("daily 07:00 give 2 cups") == "\"cups\" | l or gal");
  CHECK(refused("daily 07:00 give 2 l give 3 l") == "give a second time | it once");
  CHECK(refused("daily 07:00 away") == "away without days | " + std::string(days_away_example));
  CHECK(refused("daily 07:00 away 2024-07-14/2024-07-08") ==
        "\"2024-07-14/2024-07-08\" | " + std::string(days_away_example));
  CHECK(refused("as-needed 07:00") == "\"07:00\" | give, soak, away, helper or nothing more");
  CHECK(refused("daily 07:00 give 2 l 19:00") ==
        "\"19:00\" | give, soak, away, helper or nothing more");
}

TEST_CASE("routine: what follows days away is the gardener's again, not a helper's") {
  const Routine away_last =
      routine("daily 07:00 helper 07-01/07-30 daily 08:00 away 08-01/08-05 give 2 l");
  CHECK(away_last.give_l == 2.0);
  CHECK_FALSE(away_last.helpers.front().routine.give_l.has_value());
  const Routine helper_last =
      routine("daily 07:00 away 08-01/08-05 helper 07-01/07-30 daily 08:00 give 2 l");
  CHECK_FALSE(helper_last.give_l.has_value());
  CHECK(helper_last.helpers.front().routine.give_l == 2.0);
}

TEST_CASE("routine: an amount beyond any can") {
  CHECK(refused("as-needed give 1e308 l") == "give 1e308 l | 0.001 to 10000 litres a watering");
  CHECK(refused("as-needed give 1e-9 l") == "give 1e-9 l | 0.001 to 10000 litres a watering");
  CHECK(refused("daily 07:00 give 3000 gal") == "give 3000 gal | 0.001 to 10000 litres a watering");
  CHECK(routine("daily 07:00 give 10000 l").give_l == 10000.0);
}

TEST_CASE("absence: days of every year in the wrong order are refused as dates are") {
  CHECK_FALSE(parse_days_away("06-10/06-01"));
  CHECK_FALSE(parse_days_away("09-01/08-01"));
  CHECK(parse_days_away("12-20/01-05"));
  CHECK(parse_days_away("10-01/03-31"));
  CHECK(parse_days_away("01-10/12-20"));  // in order, however long
  CHECK(to_string(*parse_days_away("07-08/07-14")) == "07-08/07-14");
  CHECK(to_string(*parse_days_away("2024-07-08/2024-07-14")) == "2024-07-08/2024-07-14");
}

TEST_CASE("routine: a helper comes in the gardener's place between the ends of some days") {
  const Routine r = routine(
      "daily 07:00 give 1 l away 07-01/07-04 helper 08-03/08-09 every 2 days 18:00 give 2 l soak");
  CHECK(r.give_l == 1.0);
  CHECK_FALSE(r.soaks);
  REQUIRE(r.helpers.size() == 1);
  const Routine& helper = r.helpers.front().routine;
  CHECK(helper == routine("every 2 days 18:00 give 2 l soak"));
  CHECK(written(r) == r.text);
  CHECK(routine(written(r)) == r);
  // The gardener on both ends; every two days from the first of them on.
  const std::vector<bool> visits{true, false, true, false, true, false, true, true};
  for (unsigned i = 0; i < visits.size(); ++i) {
    const Date date = day(2024, 8, 3 + i);
    CAPTURE(i);
    CHECK(r.visits_on(date, 71 + i) == visits[i]);
    CHECK((r.routine_on(date) == &helper) == (i >= 1 && i <= 5));
  }
  CHECK(r.away_on(day(2024, 7, 2)));
  CHECK_FALSE(r.away_on(day(2024, 8, 4)));
}

TEST_CASE("routine: helpers over days away, over the new year, over each other, as needed") {
  const Routine r = routine(
      "mon 07:00 away 12-20/01-05 helper 12-20/01-05 every 3 days 09:00 helper "
      "2025-01-01/2025-01-04 as-needed");
  CHECK_FALSE(r.away_on(day(2024, 12, 22)));
  CHECK(r.visits_on(day(2024, 12, 23), 5));
  CHECK(r.visits_on(day(2026, 1, 1), 5));           // 12 days after 20 December
  CHECK(r.routine_on(day(2025, 1, 2))->as_needed);  // the last written of two
  CHECK_FALSE(r.visits_on(day(2025, 1, 2), 5));
  CHECK(r.routine_on(day(2026, 1, 2)) == &r.helpers.front().routine);
  CHECK(routine(written(r)) == r);
}

TEST_CASE("routine: what is refused of a helper") {
  const std::string days = " | " + std::string(days_away_example);
  CHECK(refused("daily 07:00 helper") == "helper without days" + days);
  CHECK(refused("daily 07:00 helper 08-17/08-17 daily 07:00") == "\"08-17/08-17\"" + days);
  CHECK(refused("daily 07:00 helper 08-03/08-17") == "no days | " + grammar);
  CHECK(refused("daily 07:00 helper 08-03/08-17 daily") == "no time of day | a time such as 07:00");
  CHECK(refused("daily 07:00 helper 08-03/08-17 daily 07:00 now") ==
        "\"now\" | a time of day such as 07:00");
  const auto alone = [](std::string_view text) {
    const Result<Helper> result = parse_helper(text);
    return result ? written(result->routine) : result.fault().found;
  };
  CHECK(alone("08-03/08-17 daily 07:00 give 1 gal") == "daily 07:00 give 3.785411784 l");
  CHECK(alone("08-03/08-17 daily 07:00 away 08-04/08-07") ==
        "\"08-03/08-17 daily 07:00 away 08-04/08-07\"");
  CHECK(alone("daily 07:00") == "\"daily\"");
}

}  // namespace wiltline::test
