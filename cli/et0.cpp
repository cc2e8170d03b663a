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
#include "shared_columns.hpp"
#include "weather_options.hpp"
#include "wiltline/base/refuse.hpp"
#include "wiltline/evapotranspiration/hourly.hpp"

namespace wiltline::cli {
namespace {

using enum Quantity;

/// A day of a record.
struct Et0Row {
  Date date;
  ReferenceDay day;
  const WeatherRecord* record;
};

using R = const Et0Row&;
constexpr Column<Et0Row> columns[]{
    {"date", text, 0, "day", [](R row) { return row.date; }},
    {"et0_mm", water_depth_mm, 2, "reference evapotranspiration, FAO-56 eq. 6",
     [](R row) { return row.day.et0.total_mm(); }},
    {"estimated", text, 0, "what was not measured, joined by +; - if everything was",
     [](R row) { return row.day.estimated(); }},
};

using D = const ReferenceDay&;
constexpr Column<ReferenceDay> step_columns[]{
    {"pressure_kpa", pressure_kpa, 2, "air pressure (eq. 7)",
     [](D day) { return day.pressure_kpa; }},
    {"gamma_kpa_c", number, 5, "psychrometric constant, kPa/°C (eq. 8)",
     [](D day) { return day.gamma_kpa_c; }},
    {"es_kpa", pressure_kpa, 3, "mean saturation vapour pressure (eq. 12)",
     [](D day) { return day.es_kpa; }},
    {"vapour_pressure_kpa", pressure_kpa, 3, "actual vapour pressure (eq. 14-19, 48)",
     [](D day) { return day.vapour_pressure_kpa; }},
    {"slope_kpa_c", number, 4, "slope of the saturation curve, kPa/°C (eq. 13)",
     [](D day) { return day.slope_kpa_c; }},
    {"ra_mj_m2", radiation_mj_m2, 2, "extraterrestrial radiation (eq. 21)",
     [](D day) { return day.ra_mj_m2; }},
    {"daylight_h", hours, 2, "daylight hours (eq. 34)", [](D day) { return day.daylight_h; }},
    {"rso_mj_m2", radiation_mj_m2, 2, "clear-sky radiation (eq. 37)",
     [](D day) { return day.rso_mj_m2; }},
    {"rs_mj_m2", radiation_mj_m2, 2, "solar radiation (measured, eq. 35 or 50)",
     [](D day) { return day.rs_mj_m2; }},
    {"rns_mj_m2", radiation_mj_m2, 2, "net short-wave radiation (eq. 38)",
     [](D day) { return day.rns_mj_m2; }},
    {"rnl_mj_m2", radiation_mj_m2, 2, "net outgoing long-wave radiation (eq. 39)",
     [](D day) { return day.rnl_mj_m2; }},
    {"rn_mj_m2", radiation_mj_m2, 2, "net radiation (eq. 40)", [](D day) { return day.rn_mj_m2; }},
    {"wind_2m_m_s", wind_m_s, 2, "wind at 2 m (eq. 47)", [](D day) { return day.wind_2m_m_s; }},
    {"et_radiation_mm", water_depth_mm, 3, "radiation term of eq. 6",
     [](D day) { return day.et0.radiation_mm; }},
    {"et_air_mm", water_depth_mm, 3, "aerodynamic term of eq. 6",
     [](D day) { return day.et0.air_mm; }},
};

/// A step of time; `day` at the last of a day whose steps are all there.
struct HourRow {
  ReferenceHour hour;
  std::optional<HourlyDay> day;
  const WeatherRecord* record;
};

using H = const HourRow&;
constexpr Column<HourRow> hour_columns[]{
    {"date", text, 0, "day", [](H row) { return row.hour.begin.date; }},
    {"begin", text, 0, "clock at which the hour begins",
     [](H row) { return clock_string(row.hour.begin.hour); }},
    {"et0_mm", water_depth_mm, 3, "reference evapotranspiration, FAO-56 eq. 53",
     [](H row) { return row.hour.et0.total_mm(); }},
    {"estimated", text, 0, "what was not measured: wind, else -",
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
  Table<HourRow> table;
  table.add(hour_columns);
  if (loaded.places.size() > 1) table.add(weather_columns(), &HourRow::record);
  report.key_columns = 2;
  report.fill(table, rows);
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
  Table<Et0Row> table;
  table.add(columns);
  if (arguments.flag("steps")) table.add(step_columns, &Et0Row::day);
  if (records.size() > 1) table.add(weather_columns(), &Et0Row::record);

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
  report.fill(table, rows);
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
  return described("et0", run_et0,
                   {{"Columns of CSV and JSON", heads(columns)},
                    {"Appended by --steps", heads(step_columns)},
                    {"Columns of --hourly", heads(hour_columns)}});
}

}  // namespace wiltline::cli
