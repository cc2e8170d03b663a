// A record written out as other people's files are: what the tests read back.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <vector>

#include "wiltline/base/units.hpp"
#include "wiltline/weather/weather_record.hpp"

namespace wiltline::test {

/// How daily files differ.
struct DailyForm {
  std::string header;
  char separator = ',';
  bool decimal_comma = false;
  std::string date = "{0:04}-{1:02}-{2:02}";  // year, month, day, day of the year
  bool us = false;                            // °F, in, mph
  std::string above = {};                     // lines above the header
  std::string below = {};                     // a second header row
};

inline std::string number(double value, int digits, bool decimal_comma) {
  std::string text = fmt::format("{:.{}f}", value, digits);
  if (decimal_comma) std::replace(text.begin(), text.end(), '.', ',');
  return text;
}

inline std::string date_text(const std::string& form, Date date) {
  const std::chrono::year_month_day day{date};
  return fmt::format(fmt::runtime(form), static_cast<int>(day.year()),
                     static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()),
                     day_of_year(date));
}

/// Date, lowest, highest, wind, rain.
inline std::string written(const WeatherRecord& record, const DailyForm& form) {
  std::string text = form.above + form.header + '\n' + form.below;
  for (std::size_t i = 0; i < record.size(); ++i) {
    const WeatherDay& day = record.day(i);
    text += date_text(form.date, record.date(i));
    const auto cell = [&](double value) {
      text += form.separator + number(value, form.us ? 5 : 1, form.decimal_comma);
    };
    cell(form.us ? units::fahrenheit_from_celsius(day.tmin_c) : day.tmin_c);
    cell(form.us ? units::fahrenheit_from_celsius(day.tmax_c) : day.tmax_c);
    cell(form.us ? *day.wind_m_s / units::m_s_per_mph : *day.wind_m_s);
    cell(form.us ? *day.rain_mm / units::mm_per_inch : *day.rain_mm);
    text += '\n';
  }
  return text;
}

inline long tenths(double value) {
  return std::lround(value * 10.0);
}

/// One row a day: `units` are tenths, us or metric.
inline std::string written_ghcn_wide(const WeatherRecord& record, const std::string& units) {
  std::string text =
      "\"STATION\",\"DATE\",\"LATITUDE\",\"LONGITUDE\",\"ELEVATION\",\"NAME\",\"PRCP\",\"PRCP_"
      "ATTRIBUTES\",\"SNOW\",\"TMAX\",\"TMAX_ATTRIBUTES\",\"TMIN\",\"TMIN_ATTRIBUTES\",\"AWND\"\n";
  for (std::size_t i = 0; i < record.size(); ++i) {
    const WeatherDay& day = record.day(i);
    const auto cell = [&](double metric, double us) {
      if (units == "tenths") return fmt::format("{:5}", tenths(metric));
      return units == "us" ? fmt::format("{:.5f}", us) : fmt::format("{:.1f}", metric);
    };
    text += fmt::format(
        "\"XX000000001\",\"{}\",\"{}\",\"-122.3\",\"{}\",\"SOMEWHERE, XX "
        "US\",\"{}\",\",,W,2400\",\"\",\"{}\",\",,W\",\"{}\",\",,W\",\"{}\"\n",
        to_string(record.date(i)), record.site().latitude_deg, record.site().elevation_m,
        cell(*day.rain_mm, *day.rain_mm / units::mm_per_inch),
        cell(day.tmax_c, units::fahrenheit_from_celsius(day.tmax_c)),
        cell(day.tmin_c, units::fahrenheit_from_celsius(day.tmin_c)),
        cell(*day.wind_m_s, *day.wind_m_s / units::m_s_per_mph));
  }
  return text;
}

/// A national service's daily values by German names, cells padded.
inline std::string written_klima_days(const WeatherRecord& record) {
  std::string text = "STATIONS_ID;MESS_DATUM;QN_3;FX;FM;QN_4;RSK;SDK;VPM;TMK;UPM;TXK;TNK;eor\n";
  for (std::size_t i = 0; i < record.size(); ++i) {
    const WeatherDay& day = record.day(i);
    text += fmt::format("1;{};10;-999;{:8.1f};3;{:8.1f};-999;-999;-999;-999;{:8.1f};{:8.1f};eor\n",
                        date_text("{:04}{:02}{:02}", record.date(i)), *day.wind_m_s, *day.rain_mm,
                        day.tmax_c, day.tmin_c);
  }
  return text;
}

/// One reading a line.
inline std::string written_ghcn_lines(const WeatherRecord& record, bool header) {
  std::string text =
      header ? "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n" : std::string();
  for (std::size_t i = 0; i < record.size(); ++i) {
    const WeatherDay& day = record.day(i);
    const std::string date = date_text("{:04}{:02}{:02}", record.date(i));
    const auto line = [&](const char* element, double value) {
      text += fmt::format("XX000000001,{},{},{},,,W,2400\n", date, element, tenths(value));
    };
    line("PRCP", *day.rain_mm);
    line("SNWD", 0.0);
    line("TMAX", day.tmax_c);
    line("TMIN", day.tmin_c);
    line("AWND", *day.wind_m_s);
  }
  return text;
}

/// Temperature of a step of a day that is lowest at 06:00 and highest at 15:00.
inline double step_temperature_c(const WeatherDay& day, double hour) {
  if (hour == 6.0) return day.tmin_c;
  if (hour == 15.0) return day.tmax_c;
  const double share = 0.25 + 0.5 * std::pow(std::sin((hour - 6.0) * 0.2), 2.0);
  return day.tmin_c + share * (day.tmax_c - day.tmin_c);
}

/// Steps of a day: `row` gets the date, the hour at which a step begins, its temperature and rain.
inline std::string written_steps(
    const WeatherRecord& record, double step_h,
    const std::function<std::string(Date, double, double, const WeatherDay&, double)>& row) {
  std::string text;
  const int steps = static_cast<int>(std::lround(24.0 / step_h));
  for (std::size_t i = 0; i < record.size(); ++i) {
    const WeatherDay& day = record.day(i);
    for (int k = 0; k < steps; ++k) {
      const double hour = k * 24.0 / steps;
      text += row(record.date(i), hour, step_temperature_c(day, hour), day,
                  hour == 9.0 ? *day.rain_mm : 0.0);
    }
  }
  return text;
}

/// A logger of our own invention: local hours by the end of each, mixed units, marks in words.
inline std::string written_logger_hours(const WeatherRecord& record) {
  std::string text = "Exported by the logger\nLogged at;Air;Moisture;Breeze;Rain gauge;Cell\n";
  text += written_steps(
      record, 1.0, [](Date date, double hour, double c, const WeatherDay& day, double rain) {
        const bool midnight = hour == 23.0;
        const std::string temperature = number(units::fahrenheit_from_celsius(c), 6, true);
        const std::string wind = number(*day.wind_m_s / units::m_s_per_km_h, 6, true);
        return fmt::format(
            "{} {:02}:00;{};---;{};{};3,1\n",
            date_text("{2:02}.{1:02}.{0:04}", midnight ? date + std::chrono::days(1) : date),
            midnight ? 0 : static_cast<int>(hour) + 1, temperature,
            *day.wind_m_s == 0.0 ? "still" : wind, rain == 0.0 ? "drops" : number(rain, 1, true));
      });
  return text;
}

/// Hourly synoptic readings, in UTC.
inline std::string written_synop_hours(const WeatherRecord& record) {
  std::string text = "numer_sta;date;pmer;dd;ff;t;td;u;rr1;rr3;\n";
  text += written_steps(
      record, 1.0, [](Date date, double hour, double c, const WeatherDay& day, double rain) {
        return fmt::format("00001;{}{:02}0000;101000;270;{:.1f};{:.6f};mq;mq;{};mq;\n",
                           date_text("{:04}{:02}{:02}", date), static_cast<int>(hour),
                           *day.wind_m_s, c + 273.15,
                           rain == 0.0 ? "-0.1" : number(rain, 1, false));
      });
  return text;
}

/// Every ten minutes, a date and a clock column.
inline std::string written_ten_minutes(const WeatherRecord& record) {
  std::string text = "Date,Time,Temperature (°C),Wind speed (m/s),Rain (mm)\n";
  text += written_steps(
      record, 1.0 / 6.0, [](Date date, double hour, double c, const WeatherDay& day, double rain) {
        const long minutes = std::lround(hour * 60.0);
        return fmt::format("{},{:02}:{:02},{:.6f},{:.1f},{:.1f}\n", to_string(date), minutes / 60,
                           minutes % 60, c, *day.wind_m_s, rain);
      });
  return text;
}

inline std::string utf16(const std::string& ascii) {
  std::string text = "\xFF\xFE";
  for (const char c : ascii) {
    text += c;
    text += '\0';
  }
  return text;
}

}  // namespace wiltline::test
