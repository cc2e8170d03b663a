#include "weather_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "page/page.hpp"
#include "wiltline/base/units.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

using enum Quantity;
using R = const WeatherRow&;

constexpr Column<WeatherRow> columns[]{
    {"place", "its file, and its name in a file of several",
     [](R row) { return row.record->name(); }},
    {"first", "first day", [](R row) { return row.record->first(); }},
    {"last", "last day", [](R row) { return row.record->last(); }},
    {"days", "days, without gaps", [](R row) { return row.record->size(); }},
    {"filled_days", "of them filled in (--fill-gaps)", [](R row) { return row.filled_days; }},
    {"latitude_deg", number, 4, "latitude, degrees, south negative",
     [](R row) { return row.record->site().latitude_deg; }},
    {"longitude_deg", number, 4, "longitude, degrees, west negative",
     [](R row) { return row.record->site().longitude_deg; }},
    {"elevation_m", number, 1, "metres above the sea",
     [](R row) { return row.record->site().elevation_m; }},
    {"coldest_c", temperature_c, 1, "lowest temperature of all",
     [](R row) { return row.coldest_c; }},
    {"hottest_c", temperature_c, 1, "highest of all", [](R row) { return row.hottest_c; }},
    {"wind_mean_m_s", Quantity::wind_m_s, 1, "mean wind, at the height of its sensor",
     [](R row) { return row.wind_m_s; }},
    {"rain_mm_a_year", water_depth_mm, 0, "rain, for a year of such days",
     [](R row) { return row.rain_mm_a_year; }},
    {"et0_mm_a_year", water_depth_mm, 0, "reference evapotranspiration, for a year of such days",
     [](R row) { return row.et0_mm_a_year; }},
};

std::string shown(Quantity quantity, const std::optional<double>& value, int digits, bool us) {
  if (!value) return "-";
  return fmt::format("{:.{}f} {}", in_units(quantity, *value, us), digits, unit_text(quantity, us));
}

}  // namespace

WeatherRow weather_row(const WeatherRecord& record, const std::vector<ReferenceDay>& reference) {
  WeatherRow row{};
  row.record = &record;
  row.coldest_c = record.day(0).tmin_c;
  row.hottest_c = record.day(0).tmax_c;
  double wind = 0.0;
  double rain = 0.0;
  double et0 = 0.0;
  std::size_t windy = 0;
  std::size_t gauged = 0;
  for (std::size_t i = 0; i < record.size(); ++i) {
    const WeatherDay& day = record.day(i);
    if (day.filled) ++row.filled_days;
    row.coldest_c = std::min(row.coldest_c, day.tmin_c);
    row.hottest_c = std::max(row.hottest_c, day.tmax_c);
    if (day.wind_m_s) {
      wind += *day.wind_m_s;
      ++windy;
    }
    if (day.rain_mm) {
      rain += *day.rain_mm;
      ++gauged;
    }
    et0 += reference[i].et0.total_mm();
  }
  const auto mean = [](double sum, std::size_t days) { return sum / static_cast<double>(days); };
  if (windy > 0) row.wind_m_s = mean(wind, windy);
  if (gauged > 0) row.rain_mm_a_year = mean(rain, gauged) * units::days_per_year;
  row.et0_mm_a_year = mean(et0, record.size()) * units::days_per_year;
  return row;
}

void add_months_picture(const WeatherRecord& record, const std::vector<ReferenceDay>& reference,
                        bool us, Report& report) {
  constexpr std::size_t months = 12;
  constexpr double days_a_month = units::days_per_year / months;
  std::array<double, months> rain{};
  std::array<double, months> et0{};
  std::array<int, months> gauged{};
  std::array<int, months> days{};
  for (std::size_t i = 0; i < record.size(); ++i) {
    const std::size_t month = month_of(record.date(i)) - 1;
    if (const auto& mm = record.day(i).rain_mm) {
      rain[month] += *mm;
      ++gauged[month];
    }
    et0[month] += reference[i].et0.total_mm();
    ++days[month];
  }
  bool rain_known = true;  // in every month
  std::vector<std::string> names;
  BarSeries fell{"rain", {}};
  BarSeries would{"what a watered lawn would use", {}};
  for (std::size_t i = 0; i < months; ++i) {
    if (days[i] == 0) continue;
    const auto of_a_month = [&](double mm, int of_days) {
      return in_units(water_depth_mm, mm / of_days * days_a_month, us);
    };
    names.emplace_back(short_month_name(static_cast<unsigned>(i + 1)));
    rain_known = rain_known && gauged[i] > 0;
    fell.values.push_back(rain_known ? of_a_month(rain[i], gauged[i]) : 0.0);
    would.values.push_back(of_a_month(et0[i], days[i]));
  }
  report.title = "What the weather files say";
  report.pictures.push_back(
      bars_picture({fmt::format("{}: rain, and what the air asks for", record.name()),
                    "For a month of such days; the mean of all years of the record."},
                   std::string(unit_text(water_depth_mm, us)), names,
                   rain_known ? std::vector{fell, would} : std::vector{would}));
}

Table<WeatherRow> weather_table() {
  Table<WeatherRow> table;
  table.add(columns);
  return table;
}

std::string parts_text(const std::string& file, const std::vector<std::string>& parts) {
  constexpr std::size_t page = 98;
  constexpr std::size_t indent = 4;
  std::string out = printable(file) + '\n';
  for (const std::string& part : parts) {
    out += "  " + wrapped(printable(part), page, indent, 2) + '\n';
  }
  return out;
}

std::string understood_text(const std::vector<Understanding>& understood) {
  std::string out;
  for (const Understanding& one : understood) out += parts_text(one.file, one.parts());
  return out;
}

std::string weather_text_table(const std::vector<WeatherRow>& rows, bool us) {
  const std::vector<TextColumn<WeatherRow>> shown_columns{
      {"place", Side::left, [](R row) { return printable(row.record->name()); }},
      {"days", Side::left,
       [](R row) {
         return fmt::format(
             "{}, {} to {}{}", row.record->size(), to_string(row.record->first()),
             to_string(row.record->last()),
             row.filled_days > 0 ? fmt::format(", {} filled in", row.filled_days) : "");
       }},
      {"coldest", Side::right, [us](R row) { return shown(temperature_c, row.coldest_c, 1, us); }},
      {"hottest", Side::right, [us](R row) { return shown(temperature_c, row.hottest_c, 1, us); }},
      {"mean wind", Side::right,
       [us](R row) { return shown(Quantity::wind_m_s, row.wind_m_s, 1, us); }},
      {"rain\na year", Side::right,
       [us](R row) { return shown(water_depth_mm, row.rain_mm_a_year, us ? 1 : 0, us); }},
      {"ET0\na year", Side::right,
       [us](R row) { return shown(water_depth_mm, row.et0_mm_a_year, us ? 1 : 0, us); }},
  };
  return text_table(shown_columns, rows);
}

}  // namespace wiltline::cli
