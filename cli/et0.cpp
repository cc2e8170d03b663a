// wiltline et0: reference evapotranspiration per day.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "command.hpp"
#include "delivery.hpp"
#include "described.hpp"
#include "notes.hpp"
#include "page/page.hpp"
#include "refuse.hpp"
#include "weather_options.hpp"
#include "wiltline/evapotranspiration/hourly.hpp"
#include "wiltline/tables/planting_columns.hpp"
#include "wiltline/tables/reference_columns.hpp"

namespace wiltline::cli {
namespace {

using enum Quantity;

/// A day of a record.
struct Et0Row {
  Date date;
  ReferenceDay day;
  const WeatherRecord* record;
};

/// A step of time; `day` at the last of a day whose steps are all there.
struct HourRow {
  ReferenceHour hour;
  std::optional<HourlyDay> day;
  const WeatherRecord* record;
};

using H = const HourRow&;
constexpr Column<HourRow> hour_columns[]{
    {"date", "day", [](H row) { return row.hour.begin.date; }},
    {"begin", "clock at which the hour begins",
     [](H row) { return clock_string(row.hour.begin.hour); }},
    {"et0_mm", water_depth_mm, 3, "reference evapotranspiration, FAO-56 eq. 53",
     [](H row) { return row.hour.et0.total_mm(); }},
    {"estimated", "what was not measured: wind, else -",
     [](H row) { return row.hour.wind_source == WindSource::assumed ? "wind" : "-"; }},
    {"ra_mj_m2", radiation_mj_m2, 3, "extraterrestrial radiation (eq. 28)",
     [](H row) { return row.hour.ra_mj_m2; }},
    {"rs_mj_m2", radiation_mj_m2, 3, "solar radiation, measured",
     [](H row) { return row.hour.rs_mj_m2; }},
    {"rn_mj_m2", radiation_mj_m2, 3, "net radiation (eq. 40)",
     [](H row) { return row.hour.rn_mj_m2; }},
    {"day_by_hours_mm", water_depth_mm, 2,
     "at a day's last hour: the sum of its hours, if all are there",
     [](H row) { return row.day ? std::optional(row.day->by_hours_mm) : std::nullopt; }},
    {"day_by_day_mm", water_depth_mm, 2, "and the same day by the daily equation, eq. 6",
     [](H row) { return row.day ? std::optional(row.day->by_day_mm) : std::nullopt; }},
};

/// `weather`: there are several records.
Table<Et0Row> et0_table(bool steps, bool weather) {
  Table<Et0Row> table;
  table.add({{"date", "day", [](auto& row) { return row.date; }}});
  table.add(tables::reference_columns, &Et0Row::day);
  table.section("Appended by --steps");
  if (steps) table.add(tables::reference_step_columns, &Et0Row::day);
  if (weather) table.add(tables::weather_columns, &Et0Row::record);
  return table;
}

Table<HourRow> hour_table(bool weather) {
  Table<HourRow> table("Columns of --hourly");
  table.add(hour_columns);
  if (weather) table.add(tables::weather_columns, &HourRow::record);
  return table;
}

/// How far hours and days are apart, in a line.
std::string comparison(const WeatherRecord& record, const std::vector<HourlyDay>& days,
                       bool us_units) {
  if (days.empty()) return fmt::format("{}: no day whose hours are all there", record.name());
  double hours_mm = 0.0;
  double days_mm = 0.0;
  double furthest_mm = 0.0;
  for (const HourlyDay& day : days) {
    hours_mm += day.by_hours_mm;
    days_mm += day.by_day_mm;
    furthest_mm = std::max(furthest_mm, std::abs(day.by_hours_mm - day.by_day_mm));
  }
  const auto depth = [us_units](double mm, int digits) {
    return fmt::format("{:.{}f} {}", in_units(water_depth_mm, mm, us_units),
                       digits + (us_units ? 1 : 0), unit_text(water_depth_mm, us_units));
  };
  return fmt::format(
      "{}: on {} whole day{} the hours add up to {}, the daily equation gives {} ({:+.1f} %); on a "
      "day they are up to {} apart",
      record.name(), days.size(), days.size() == 1 ? "" : "s", depth(hours_mm, 1),
      depth(days_mm, 1), 100.0 * (days_mm / hours_mm - 1.0), depth(furthest_mm, 2));
}

void run_hourly(const Arguments& arguments) {
  if (arguments.flag("steps")) refuse("found --steps with --hourly; expected one");
  const Presentation how = presentation(arguments);
  const MissingDataOptions missing = missing_data_options(arguments);
  Output output = open_output(arguments);
  const LoadedWeather loaded = load_weather_files(arguments, false);
  say_understood(loaded);
  Report report("et0", inputs_of(arguments));
  std::vector<HourRow> rows;
  for (const PlaceWeather& place : loaded.places) {
    const WeatherRecord& record = place.record;
    if (!place.hours) {
      throw InputError({{record.name(), 0, 0, "daily weather", "hours, or parts of an hour"}});
    }
    const std::vector<ReferenceHour> hours =
        reference_hours(record.name(), record.site(), *place.hours);
    const std::vector<HourlyDay> days =
        compare_with_days(hours, place.hours->step_h, record, reference_days(record, missing));
    report.notes.push_back(comparison(record, days, how.us_units));
    if (record.site().clock_is_solar()) {
      report.notes.push_back(
          fmt::format("{}: no longitude and UTC offset known, so its clock is taken as solar time",
                      record.name()));
    }
    auto day = days.begin();
    for (std::size_t i = 0; i < hours.size(); ++i) {
      const Date date = hours[i].begin.date;
      if (!record.contains(date)) continue;
      HourRow row{hours[i], std::nullopt, &record};
      const bool last = i + 1 == hours.size() || hours[i + 1].begin.date != date;
      while (day != days.end() && day->date < date) ++day;
      if (last && day != days.end() && day->date == date) row.day = *day;
      rows.push_back(row);
    }
  }
  report.key_columns = 2;
  report.fill(hour_table(loaded.places.size() > 1), rows);
  deliver(report, how, output,
          [&] { return to_plain_table(report, how.us_units) + '\n' + notes_text(report); });
}

void run_et0(const Arguments& arguments) {
  if (arguments.flag("hourly")) {
    run_hourly(arguments);
    return;
  }
  const Presentation how = presentation(arguments);
  const MissingDataOptions missing = missing_data_options(arguments);
  Output output = open_output(arguments);
  const std::vector<WeatherRecord> records = load_weather(arguments, false);

  Report report("et0", inputs_of(arguments));
  add_settings_note(arguments, report.notes);
  std::vector<Et0Row> rows;
  std::vector<std::string> sums;
  for (const WeatherRecord& record : records) {
    SourceCounts sources;
    double sum_mm = 0.0;
    const std::vector<ReferenceDay> days = reference_days(record, missing);
    for (std::size_t i = 0; i < record.size(); ++i) {
      const ReferenceDay& day = days[i];
      sources.count(day);
      sum_mm += day.et0.total_mm();
      rows.push_back({record.date(i), day, &record});
    }
    for (std::string& note : weather_notes(record, sources))
      report.notes.push_back(std::move(note));
    const double shown = in_units(Quantity::water_depth_mm, sum_mm, how.us_units);
    const double per_day = shown / static_cast<double>(record.size());
    const std::string_view unit = unit_text(Quantity::water_depth_mm, how.us_units);
    const int digits = how.us_units ? 2 : 1;
    sums.push_back(fmt::format("{}, {} to {}: {:.{}f} {} in {} days, {:.{}f} {} a day",
                               record.name(), to_string(record.first()), to_string(record.last()),
                               shown, digits, unit, record.size(), per_day, digits + 1, unit));
  }
  report.fill(et0_table(arguments.flag("steps"), records.size() > 1), rows);
  if (how.page) {
    report.title = "What a lawn would use";
    report.answer = fmt::format("{}", fmt::join(sums, "; "));
    add_daily_bars(report,
                   {"Reference evapotranspiration", "What a watered lawn in the open would use."},
                   {{"et0_mm", "reference ET a day"}}, how.us_units);
  }
  deliver(report, how, output, [&] {
    std::string out = to_plain_table(report, how.us_units) + '\n';
    for (const std::string& sum : sums) out += printable(sum) + '\n';
    return out + notes_text(report);
  });
}

}  // namespace

Command et0_command() {
  return described("et0", run_et0, sections_of(et0_table(true, false), hour_table(false)));
}

}  // namespace wiltline::cli
