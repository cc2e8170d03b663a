#include "wiltline/weather/table_hours.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/base/units.hpp"

namespace wiltline {
namespace {

/// How far the file's clock is to be put on to be the site's; its own clock is left as it is.
double clock_shift_h(const SiteValues& site, bool utc, Understanding& said) {
  if (!utc) return 0.0;
  std::vector<std::string>& remarks = said.remarks;
  if (site.utc_offset_h) return *site.utc_offset_h;
  if (site.longitude_deg) {
    constexpr double degrees_per_hour = 15.0;
    const double shift = std::round(*site.longitude_deg / degrees_per_hour);
    remarks.push_back(fmt::format(
        "its hours are UTC: put into days of the clock of its longitude, UTC{:+g}", shift));
    return shift;
  }
  remarks.emplace_back("its hours are UTC, and its days too: no offset or longitude is known");
  return 0.0;
}

WeatherHour hour_of(const OpenTable& open, Readings& readings, const TimedRow& timed,
                    double shift_h, double step_h, std::optional<double> utc_offset) {
  WeatherHour hour;
  double begin = timed.when.hour.value_or(0.0) + shift_h;
  const double days = std::floor(begin / units::hours_per_day + 1e-9);
  begin = std::max(0.0, begin - days * units::hours_per_day);
  hour.begin = {timed.when.date + std::chrono::days(static_cast<int>(days)), begin};
  hour.utc_offset_h = utc_offset ? utc_offset : timed.when.utc_offset_h;
  hour.line = open.table.csv().line(timed.row);
  const auto value = [&](WeatherQuantity wanted) -> std::optional<double> {
    const TakenColumn* const column = open.column_of(wanted);
    if (column == nullptr) return std::nullopt;
    const auto reading = readings.of(timed.row, *column);
    if (!reading) return std::nullopt;
    return reading->value;
  };
  hour.temperature_c = value(WeatherQuantity::temperature);
  hour.tmin_c = value(WeatherQuantity::tmin);
  hour.tmax_c = value(WeatherQuantity::tmax);
  hour.vapour_pressure_kpa =
      hour_vapour_pressure_kpa(hour.temperature_c, value(WeatherQuantity::dew_point),
                               value(WeatherQuantity::rh), value(WeatherQuantity::vapour_pressure));
  hour.wind_m_s = value(WeatherQuantity::wind);
  hour.solar_mj_m2 = value(WeatherQuantity::solar);
  if (hour.solar_mj_m2 && open.column_of(WeatherQuantity::solar)->unit->unit->name == "W/m2") {
    *hour.solar_mj_m2 *= step_h / units::hours_per_day;  // a mean over the step
  }
  hour.sunshine_h = value(WeatherQuantity::sunshine);
  hour.rain_mm = value(WeatherQuantity::rain);
  return hour;
}

std::string counted(std::size_t count, std::string_view what) {
  return fmt::format("{} {}{}", count, what, count == 1 ? "" : "s");
}

void add_remarks(const HourGaps& gaps, std::vector<std::string>& remarks) {
  if (!gaps.days_missing.empty()) {
    constexpr std::size_t most_named = 3;
    const std::size_t named = std::min(gaps.days_missing.size(), most_named);
    const auto end = gaps.days_missing.begin() + static_cast<std::ptrdiff_t>(named);
    remarks.push_back(fmt::format("{} with under {:g} hours, so missing: {}{}",
                                  counted(gaps.days_missing.size(), "day"), fewest_hours_a_day,
                                  fmt::join(gaps.days_missing.begin(), end, ", "),
                                  named < gaps.days_missing.size() ? ", …" : ""));
  }
  const auto add = [&](std::size_t count, std::string_view what, std::string_view form) {
    if (count > 0) remarks.push_back(fmt::format(fmt::runtime(form), counted(count, what)));
  };
  add(gaps.days_short, "day", "{} short of some hours, but used");
  add(gaps.radiation_hours_filled, "step", "radiation of {} taken from those around");
  add(gaps.sunshine_hours_filled, "step", "sunshine of {} taken from those around");
  add(gaps.rain_hours_unknown, "step", "rain of {} unknown, taken as none");
}

}  // namespace

HourlyReadings read_hours(OpenTable& open, Readings& readings, std::span<const TimedRow> rows,
                          double step_h, SiteValues& site) {
  HourlyReadings result;
  result.step_h = step_h;
  const bool utc = open.date_says("utc") || std::ranges::all_of(rows, [](const auto& row) {
                     return row.when.utc_offset_h == 0.0;
                   });
  const double shift_h = clock_shift_h(site, utc, open.said);
  const bool ends = open.date_says("ends") || std::ranges::any_of(rows, [](const auto& row) {
                      return row.when.hour == units::hours_per_day;
                    });
  const std::optional<double> utc_offset = utc ? std::optional(shift_h) : std::optional<double>();
  if (utc_offset && !site.utc_offset_h) site.utc_offset_h = utc_offset;
  const std::size_t date_at = open.date_column().column;
  const OrderOfHours order = order_of_hours(rows, step_h);
  for (const OrderOfHours::Fault& fault : order.faults) {
    open.complain(fault.row, date_at,
                  fmt::format("{} {}", in_quotes(open.table.cell(fault.row, date_at)),
                              fault.again ? "a second time" : "after a later reading"),
                  fault.again ? "every reading once" : "readings in order");
  }
  if (!order.days_gone_back.empty()) {
    open.said.remarks.push_back(fmt::format(
        "an hour stands twice on {}{}: taken as a clock that goes back from summer time",
        fmt::join(order.days_gone_back, ", "),
        order.hour_skipped ? "" : ", though none is left out in another season"));
  }
  for (const TimedRow& timed : rows) {
    result.hours.push_back(
        hour_of(open, readings, timed, shift_h - (ends ? step_h : 0.0), step_h, utc_offset));
  }
  return result;
}

void write_days_of_hours(OpenTable& open, const HourlyReadings& hours, OwnText& own) {
  HourGaps gaps;
  const std::vector<DayOfHours> days = days_of(hours, gaps);
  const bool humid = open.column_of(WeatherQuantity::rh) != nullptr ||
                     open.column_of(WeatherQuantity::dew_point) != nullptr ||
                     open.column_of(WeatherQuantity::vapour_pressure) != nullptr;
  std::vector<OwnColumn> there;
  for (const OwnColumn& column : own_columns) {
    const bool of_hours = column.quantity == WeatherQuantity::vapour_pressure
                              ? humid
                              : column.quantity >= WeatherQuantity::wind &&
                                    open.column_of(column.quantity) != nullptr;
    if (of_hours) there.push_back(column);
  }
  own.add_column("tmin_c", "the lowest of the hours");
  own.add_column("tmax_c", "the highest of the hours");
  for (const OwnColumn& column : there) own.add_column(column.name(), "the hours of the day");
  for (const DayOfHours& one : days) {
    if (!one.known) continue;
    const OwnText::Origin origin{one.line, 1};
    own.begin_day(one.date, origin);
    own.add_cell(shortest(one.day.tmin_c), origin);
    own.add_cell(shortest(one.day.tmax_c), origin);
    for (const OwnColumn& column : there) {
      const auto& value = one.day.*column.element;
      own.add_cell(value ? shortest(*value) : std::string(), origin);
    }
  }
  add_remarks(gaps, open.said.remarks);
}

}  // namespace wiltline
