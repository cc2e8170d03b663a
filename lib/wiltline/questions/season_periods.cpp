#include "wiltline/questions/season_periods.hpp"

#include <fmt/format.h>

#include <map>
#include <utility>

namespace wiltline {
namespace {

constexpr unsigned days_in_week = 7;

void add(const SeasonPeriod& of_one_pot, int pots, SeasonPeriod& sum) {
  sum.asked_waterings += pots * of_one_pot.asked_waterings;
  sum.given_waterings += pots * of_one_pot.given_waterings;
  sum.watered_l += pots * of_one_pot.watered_l;
  sum.used_l += pots * of_one_pot.used_l;
  sum.stressed_days += pots * of_one_pot.stressed_days;
  sum.wilting_days += pots * of_one_pot.wilting_days;
  sum.dry_days += pots * of_one_pot.dry_days;
}

SeasonPeriod day_sums(const LedgerLine& given, const LedgerLine& asked) {
  const auto day = [&](const std::optional<double>& passed_at_h) {
    return passed_at_h && given.settled ? 1 : 0;
  };
  return {.asked_waterings = asked.waterings,
          .given_waterings = given.waterings,
          .watered_l = given.watered_l,
          .used_l = given.transpired_l + given.evaporated_l,
          .stressed_days = day(given.stressed_at_h),
          .wilting_days = day(given.wilting_at_h),
          .dry_days = day(given.dry_at_h)};
}

/// The same planting, watered the moment it needs it.
Planting as_needed(Planting planting) {
  Routine routine;
  routine.as_needed = true;
  routine.soaks = planting.routine.soaks;
  routine.text = written(routine);
  planting.routine = std::move(routine);
  return planting;
}

}  // namespace

Date period_start(PeriodLength length, Date date) {
  if (length == PeriodLength::week) return date - std::chrono::days(weekday_of(date));
  return make_date(year_of(date), month_of(date), 1);
}

std::string period_name(PeriodLength length, Date date) {
  if (length == PeriodLength::month) {
    return fmt::format("{:04}-{:02}", year_of(date), month_of(date));
  }
  // A week belongs to the year of its Thursday.
  const Date thursday = period_start(length, date) + std::chrono::days(3);
  return fmt::format("{:04}-W{:02}", year_of(thursday),
                     (static_cast<unsigned>(day_of_year(thursday)) - 1) / days_in_week + 1);
}

std::vector<SeasonPeriod> season_periods(Plantings garden, const Place& place, PeriodLength length,
                                         const SeasonOptions& options) {
  SeasonOptions daily = options;
  daily.ledger = true;
  std::vector<Planting> asking;
  for (const Planting& planting : garden) asking.push_back(as_needed(planting));
  // The routine decides nothing about which seasons there are and how long they last.
  const std::vector<SeasonResult> given = season(garden, place, daily);
  const std::vector<SeasonResult> asked = season(asking, place, daily);

  std::map<Date, SeasonPeriod> whole;
  std::vector<SeasonPeriod> each;
  for (std::size_t i = 0; i < given.size(); ++i) {
    const SeasonResult& result = given[i];
    for (std::size_t day = 0; day < result.ledger.size(); ++day) {
      const Date first = period_start(length, result.ledger[day].date);
      if (day == 0 || each.back().first != first) {
        each.push_back(
            {.planting = result.planting, .year = year_of(result.first), .first = first});
      }
      const SeasonPeriod today = day_sums(result.ledger[day], asked[i].ledger[day]);
      add(today, 1, each.back());
      SeasonPeriod& garden_sum = whole[first];
      garden_sum.first = first;
      garden_sum.year = year_of(first);
      add(today, result.planting->count, garden_sum);
    }
  }
  for (const auto& [first, period] : whole) each.push_back(period);
  return each;
}

}  // namespace wiltline
