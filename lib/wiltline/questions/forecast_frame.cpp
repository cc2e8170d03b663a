#include "wiltline/questions/forecast_frame.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "wiltline/account/course.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/budget/state_correction.hpp"
#include "wiltline/questions/pot_readings.hpp"

namespace wiltline {
namespace {

constexpr int longest_horizon_days = 60;

void check(const ForecastOptions& options, const WeatherRecord& record) {
  (void)record.index_of(options.known_last);  // throws for a day outside the record
  (void)record.index_of(options.observed_last);
  const auto expect = [](bool holds, const std::string& found, const std::string& expected) {
    if (!holds) throw RequestError(fmt::format("forecast: found {}; expected {}", found, expected));
  };
  expect(options.observed_last <= options.known_last,
         fmt::format("{} as the last day observed", to_string(options.observed_last)),
         fmt::format("none after the last day known, {}", to_string(options.known_last)));
  const Date latest = options.known_last + std::chrono::days(1);
  expect(options.now.date >= record.first() && options.now.date <= latest,
         fmt::format("now on {}", to_string(options.now.date)),
         fmt::format("a day from {} to {}", to_string(record.first()), to_string(latest)));
  expect(options.now.hour >= 0.0 && options.now.hour <= units::hours_per_day,
         fmt::format("now at hour {:g}", options.now.hour), "0 to 24");
  expect(options.horizon_days >= 1 && options.horizon_days <= longest_horizon_days,
         fmt::format("{} days to look ahead", options.horizon_days),
         fmt::format("1 to {}", longest_horizon_days));
  expect(options.members >= 1, "no members", "1 or more");
}

/// Refuses what is not known of the pot by now, and amounts that nobody can have given.
void check_log(const ForecastPlanting& one, const Instant& now) {
  const auto refuse = [&](const std::string& found, const std::string& expected) {
    throw RequestError(
        fmt::format("{}: found {}; expected {}", one.planting->name, found, expected));
  };
  std::optional<Instant> before;
  for (const PotEvent& event : one.log.events) {
    const double hour = event.when.hour;
    if (!(hour >= 0.0 && hour <= units::hours_per_day) || (before && event.when < *before) ||
        event.when > now) {
      refuse(fmt::format("a log entry on {} at {:g} h", to_string(event.when.date), hour),
             fmt::format("entries in the order of time, up to {}", to_string(now)));
    }
    before = event.when;
    if (event.kind != PotEventKind::watered || !event.amount) continue;
    if (!(*event.amount > 0.0 && *event.amount <= most_given_l)) {
      refuse(fmt::format("{:g} l given", *event.amount),
             fmt::format("above 0 and up to {:g} l", most_given_l));
    }
  }
}

/// Refuses readings that are not in the order of time or not between a planting's start and now.
void check_order(const ForecastPlanting& one, Date planted, const Instant& now) {
  Instant after{one.saved ? one.saved->run.date : planted, 0.0};
  for (const Reading& reading : one.readings) {
    if (reading.when < after || reading.when > now) {
      throw RequestError(fmt::format("{}: found a reading at {}; expected one from {} to {}",
                                     one.planting->name, to_string(reading.when), to_string(after),
                                     to_string(now)));
    }
    after = reading.when;
  }
}

}  // namespace

ForecastFrame forecast_frame(std::span<const ForecastPlanting> plantings, const Place& place,
                             const ForecastOptions& options) {
  check(options, place.record());
  place.require_rain();
  // Days that may be wanted: the horizon, or as far as the next visit of a planting.
  Date wanted = options.now.date + std::chrono::days(options.horizon_days);
  std::vector<std::optional<Date>> planted;
  for (const ForecastPlanting& one : plantings) {
    check_readings(one.planting, one.readings);
    if (one.saved) {
      check_saved(*one.saved, *one.planting, options.growth, place.model());
      if (one.saved->run.date > options.now.date) {
        throw RequestError(fmt::format("{}: found a saved state of {}; expected one up to {}",
                                       one.planting->name, to_string(one.saved->run.date),
                                       to_string(options.now.date)));
      }
    }
    check_log(one, options.now);
    for (const PotEvent& event : one.log.events) {
      if (event.kind != PotEventKind::weighed) continue;
      if (auto fault = weight_fault(*one.planting, place.model(), event.amount.value_or(0.0))) {
        throw RequestError(fault->text());
      }
    }
    planted.push_back(one.saved ? std::optional(one.saved->planted)
                                : growing_since(*one.planting, options.now.date,
                                                place.record().first(), options.growth));
    if (!planted.back()) continue;
    if (!one.saved && !place.record().contains(*planted.back())) {
      throw RequestError(fmt::format(
          "{}: found planted {}, before {} begins; expected weather from then on, or a saved state",
          one.planting->name, to_string(*planted.back()), place.record().name()));
    }
    check_order(one, *planted.back(), options.now);
    const auto visit = visit_after(*one.planting, *planted.back(),
                                   options.visits ? horizon(options) : options.now);
    if (visit) wanted = std::max(wanted, visit->date);
  }
  PastDays past(place.record(), options.known_last + std::chrono::days(1), wanted,
                options.now.date);
  const Date last_day = std::min(wanted, past.last().value_or(options.known_last));
  return {std::move(planted), std::move(past), last_day};
}

Instant horizon(const ForecastOptions& options) {
  return {options.now.date + std::chrono::days(options.horizon_days), options.now.hour};
}

std::optional<Instant> visit_after(const Planting& planting, Date planted, const Instant& after) {
  const auto visit = next_visit(planting.routine, planted, after);
  const Instant furthest{after.date + std::chrono::days(longest_horizon_days), after.hour};
  return visit ? std::optional(std::min(*visit, furthest)) : std::nullopt;
}

}  // namespace wiltline
