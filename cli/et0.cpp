// wiltline et0: reference evapotranspiration per day.

#include <fmt/format.h>

#include "command.hpp"
#include "shared_options.hpp"

namespace wiltline::cli {
namespace {

void add_row(Report& report, Date date, const ReferenceDay& day, bool steps) {
  std::vector<Cell> row{to_string(date), day.et0.total_mm(), day.estimated()};
  if (steps) {
    for (const double value :
         {day.pressure_kpa, day.gamma_kpa_c, day.es_kpa, day.vapour_pressure_kpa, day.slope_kpa_c,
          day.ra_mj_m2, day.daylight_h, day.rso_mj_m2, day.rs_mj_m2, day.rns_mj_m2, day.rnl_mj_m2,
          day.rn_mj_m2, day.wind_2m_m_s, day.et0.radiation_mm, day.et0.air_mm}) {
      row.emplace_back(value);
    }
  }
  report.rows.push_back(std::move(row));
}

void run_et0(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  const MissingDataOptions missing = missing_data_options(arguments);
  Output output(arguments.text("output").value_or("-"));
  const std::vector<WeatherRecord> records = load_weather(arguments, false);

  Report report("et0", inputs_of(arguments));
  const bool steps = arguments.flag("steps");
  report.add_columns(et0_columns());
  if (steps) report.add_columns(et0_step_columns());
  if (records.size() > 1) report.columns.push_back(weather_column());

  std::vector<std::string> sums;
  for (const WeatherRecord& record : records) {
    SourceCounts sources;
    double sum_mm = 0.0;
    for (std::size_t i = 0; i < record.size(); ++i) {
      const ReferenceDay day = reference_day(record.site(), record.date(i), record.day(i), missing);
      sources.count(day);
      sum_mm += day.et0.total_mm();
      add_row(report, record.date(i), day, steps);
      if (records.size() > 1) report.rows.back().emplace_back(record.name());
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
  deliver(report, how, output, [&] {
    std::string text = to_plain_table(report, how.us_units) + '\n';
    for (const std::string& sum : sums) text += printable(sum) + '\n';
    for (const std::string& note : report.notes) text += wrapped(printable(note), 100, 2) + '\n';
    return text;
  });
}

}  // namespace

Command et0_command() {
  Command command;
  command.name = "et0";
  command.purpose = "reference evapotranspiration per day, and what was estimated for it";
  command.usage = "--weather FILE [options]";
  command.explanation =
      "Reference evapotranspiration (ET0) is the water a well-watered short grass would use: "
      "FAO-56 "
      "Penman-Monteith, eq. 6. It is what the weather asks of every plant before the plant has its "
      "say.\n"
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
  command.columns = {{"Columns of CSV and JSON", et0_columns()},
                     {"Appended by --steps", et0_step_columns()}};
  po::options_description own("ET0");
  own.add_options()("steps", "append every intermediate value as a column");
  command.option_groups.push_back(weather_options());
  command.option_groups.push_back(own);
  command.option_groups.push_back(output_options());
  command.run = run_et0;
  return command;
}

}  // namespace wiltline::cli
