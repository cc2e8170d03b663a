// wiltline et0: reference evapotranspiration per day.

#include <fmt/format.h>

#include "command.hpp"
#include "shared_columns.hpp"
#include "shared_options.hpp"

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

void run_et0(const Arguments& arguments) {
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
  deliver(report, how, output, [&] {
    std::string out = to_plain_table(report, how.us_units) + '\n';
    for (const std::string& sum : sums) out += printable(sum) + '\n';
    return out + notes_text(report);
  });
}

}  // namespace

Command et0_command() {
  Command command;
  command.name = "et0";
  command.purpose = "how much water the weather asks of plants each day (reference ET)";
  command.usage = "--weather FILE [options]";
  command.explanation =
      "Reference evapotranspiration (ET0) is the water a well-watered short grass would use: "
      "FAO-56 "
      "Penman-Monteith, eq. 6. It is what the weather alone asks of plants, before their size and "
      "kind.\n"
      "\n"
      "Humidity comes from the best that the record holds: dew point, vapour pressure, highest and "
      "lowest relative humidity, highest, mean; failing all of them the dew point is taken as the "
      "lowest temperature. Radiation: measured, hours of sunshine, else from the temperature "
      "range. "
      "Wind: measured and brought to 2 m, else 2 m/s. What was estimated is named on every line.\n"
      "\n"
      "Weather columns (any order, blank = unknown): date, tmin_c or tmin_f, tmax_c or tmax_f; "
      "optional dewpoint_c|f, vapour_pressure_kpa, rh_max_pct, rh_min_pct, rh_mean_pct, "
      "wind_m_s|km_h|mph, solar_mj_m2|w_m2, sunshine_h, rain_mm|in. Site values stand in the file "
      "as "
      "comment lines (# latitude_deg = 44.2), in a site file or in options.";
  command.examples = {
      {"ET0 of a summer",
       "wiltline et0 --weather weather-samples/tolvenau.csv --from 2022-06-01 --to "
       "2022-08-31"},
      {"every intermediate value as CSV",
       "wiltline et0 --weather weather-samples/skerrowick.csv --steps --format csv"}};
  command.columns = {{"Columns of CSV and JSON", heads(columns)},
                     {"Appended by --steps", heads(step_columns)}};
  po::options_description own("ET0");
  own.add_options()("steps", "append every intermediate value as a column");
  command.option_groups.push_back(weather_options());
  command.option_groups.push_back(own);
  command.option_groups.push_back(output_options());
  command.run = run_et0;
  return command;
}

}  // namespace wiltline::cli
