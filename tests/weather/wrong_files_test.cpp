// Weather files that cannot be understood, or in two ways: each is told of in one line, nothing is
// chosen in silence.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "support/refusal.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::test {
namespace {

struct WrongFile {
  std::string what;
  std::string text;
  std::string line;  // what is told
  FileHints hints{};
};

WeatherReading at(const FileHints& hints) {
  WeatherReading how;
  how.site = {45.0, 100.0, 10.0, std::nullopt, std::nullopt};
  how.hints = hints;
  return how;
}

/// `rows` days from 1 June 2014, each written by its number from 1.
template <typename Row>
std::string days(const std::string& header, int rows, const Row& row) {
  std::string text = header + '\n';
  for (int day = 1; day <= rows; ++day) text += row(day) + '\n';
  return text;
}

std::string two(int number) {
  return (number < 10 ? "0" : "") + std::to_string(number);
}

/// Hours of two days, 2014-03-29 and 30; `keep` says which stay, `text` how an hour is written.
template <typename Keep>
std::string hours(const Keep& keep, const std::string& first = "2014-03-29",
                  const std::string& second = "2014-03-30") {
  std::string text = "time,temperature (°C)\n";
  for (int day = 0; day < 2; ++day) {
    for (int hour = 0; hour < 24; ++hour) {
      const int times = keep(day, hour);
      for (int k = 0; k < times; ++k) {
        text += (day == 0 ? first : second) + " " + two(hour) + ":00," +
                std::to_string(5 + hour % 9) + "\n";
      }
    }
  }
  return text;
}

std::vector<ColumnMeaning> table(const std::string& rows) {
  return read_layouts({"c.csv", "column,is,unit\n" + rows});
}

const std::string daily = "date,low (°C),high (°C)";

std::vector<WrongFile> wrong_files() {
  const auto plain = [](int day) { return "2014-06-" + two(day) + ",8,21"; };
  return {
      // Dates.
      {"dates that read two ways",
       days(daily, 12, [](int day) { return "06/" + two(day) + "/2014,8,21"; }),
       "w.csv:2:1: found \"06/01/2014\", which can be day, month, year or month, day, year; "
       "expected "
       "to be told which: dmy or mdy"},
      {"dates with points that read two ways",
       days(daily, 5, [](int day) { return two(day) + ".06.2014,8,21"; }),
       "w.csv:2:1: found \"01.06.2014\", which can be day, month, year or month, day, year; "
       "expected "
       "to be told which: dmy or mdy"},
      {"half the rows in another order",
       days(daily, 28,
            [](int day) {
              return (day <= 14 ? "06/" + two(day) : two(day) + "/06") + std::string("/2014,8,21");
            }),
       "w.csv:14:1: found \"06/13/2014\"; expected a date that exists as day, month, year, as 26 "
       "of "
       "the 28 dates here are"},
      {"told the wrong order",
       days(daily, 14, [](int day) { return "06/" + two(day) + "/2014,8,21"; }),
       "w.csv:14:1: found \"06/13/2014\"; expected a date that exists as day, month, year\n"
       "w.csv:15:1: found \"06/14/2014\"; expected a date that exists as day, month, year",
       {.layout = {}, .columns = {}, .dates = DateOrder::dmy}},
      {"a day that does not exist",
       days(daily, 31, [](int day) { return two(day) + ".06.2014,8,21"; }),
       "w.csv:32:1: found \"31.06.2014\"; expected a date that exists as day, month, year, as 30 "
       "of "
       "the 31 dates here are"},
      {"years of two digits",
       days(daily, 14, [](int day) { return "06/" + two(day) + "/14,8,21"; }),
       "w.csv:2:1: found \"06/01/14\"; expected a date that exists, as 2024-05-31"},
      {"a day of the year beyond its end",
       "year,doy,low (°C),high (°C)\n2014,365,1,5\n2014,366,1,5\n",
       "w.csv:3:1: found \"2014-366\"; expected a date that exists"},
      {"a month of thirteen", "year,month,day,low (°C),high (°C)\n2014,13,1,1,5\n",
       "w.csv:2:1: found \"2014-13-1\"; expected a date that exists"},
      {"a day left out", days(daily, 9, [&](int day) { return plain(day < 5 ? day : day + 1); }),
       "w.csv:6:1: found 1 missing day before 2014-06-06; expected every day"},
      {"a day twice", days(daily, 9, [&](int day) { return plain(day < 5 ? day : day - 1); }),
       "w.csv:6:1: found 2014-06-04 a second time; expected every day once"},
      {"two rows changed over",
       days(daily, 9, [&](int day) { return plain(day == 5   ? 6
                                                  : day == 6 ? 5
                                                             : day); }),
       "w.csv:7:1: found 2014-06-05 after 2014-06-06; expected days in order"},
      {"a sum below the days", days(daily, 9, plain) + "Total,8,21\n",
       "w.csv:11:1: found \"Total\"; expected a date that exists as year, month, day, as 9 of the "
       "10 "
       "dates here are"},
      {"dates that read two ways, the first of them blank",
       days(daily, 12,
            [](int day) { return (day == 1 ? "" : "06/" + two(day) + "/2014") + ",8,21"; }),
       "w.csv:3:1: found \"06/02/2014\", which can be day, month, year or month, day, year; "
       "expected "
       "to be told which: dmy or mdy"},
      {"dates all blank", days(daily, 3, [](int) { return std::string(",8,21"); }),
       "w.csv:2:1: found no date; expected a date that exists, as 2024-05-31"},
      // Separators and signs.
      {"another separator midway",
       days("date;low (°C);high (°C)", 9,
            [](int day) { return "2014-06-" + two(day) + (day < 5 ? ";8;21" : ",8,21"); }),
       "w.csv:6:1: found a line separated by commas; expected semicolons, as on line 1"},
      {"tabs midway",
       days(daily, 9,
            [](int day) { return "2014-06-" + two(day) + (day < 5 ? ",8,21" : "\t8\t21"); }),
       "w.csv:6:1: found a line separated by tabs; expected commas, as on line 1"},
      {"a cell too many",
       days(daily, 3, [&](int day) { return plain(day) + (day == 2 ? ",7" : ""); }),
       "w.csv:3:17: found 4 cells; expected 3, as in the header"},
      {"a cell too few",
       days(daily, 3, [&](int day) { return day == 2 ? "2014-06-02,8" : plain(day); }),
       "w.csv:3:13: found 2 cells; expected 3, as in the header"},
      {"decimal commas among commas",
       days(daily, 3, [](int day) { return "2014-06-" + two(day) + ",8,5,21,0"; }),
       "w.csv:2:16: found 5 cells; expected 3, as in the header\n"
       "w.csv:3:16: found 5 cells; expected 3, as in the header\n"
       "w.csv:4:16: found 5 cells; expected 3, as in the header"},
      {"two decimal signs",
       days("date;low (°C);high (°C)", 9,
            [](int day) { return "2014-06-" + two(day) + (day < 5 ? ";8,5;21" : ";8.5;21"); }),
       "w.csv:6:12: found \"8.5\"; expected one decimal sign in all of the file; line 2 has "
       "\"8,5\""},
      {"commas that can part thousands",
       days("date;low (°C);high (°C);solar (kJ/m2)", 9,
            [](int day) { return "2014-06-" + two(day) + ";8;21;1,250"; }),
       "w.csv:2:17: found \"1,250\", where the comma can part thousands or decimals; expected "
       "numbers "
       "that read one way only"},
      {"an open quote", "date,low (°C),high (°C)\n2014-06-01,\"8,21\n",
       "w.csv:2:12: found a quote that is not closed on its line; expected a closing quote"},
      // Columns and units.
      {"wind without a unit", days(daily + ",wind", 3, [&](int day) { return plain(day) + ",3"; }),
       "w.csv:1:27: found column \"wind\" without a unit; expected its unit, as wind (m/s or km/h "
       "or mph or "
       "kn), or a table of columns"},
      {"temperatures of a few days without a unit", days("date,low,high", 3, plain),
       "w.csv:1:6: found column \"low\" without a unit; expected its unit, as low (°C or °F), or a "
       "table of columns\n"
       "w.csv:1:10: found column \"high\" without a unit; expected its unit, as high (°C or °F), "
       "or a "
       "table of columns"},
      {"rain without a unit", days(daily + ",rain", 3, [&](int day) { return plain(day) + ",2"; }),
       "w.csv:1:27: found column \"rain\" without a unit; expected its unit, as rain (mm or in), "
       "or a "
       "table of columns"},
      {"no lowest temperature",
       days("date,high (°C)", 3, [](int day) { return "2014-06-" + two(day) + ",21"; }),
       "w.csv:1:1: found no column of the lowest temperature; expected one whose name or a table "
       "of "
       "columns says so"},
      {"mean temperature alone",
       days("date,temperature (°C)", 3, [](int day) { return "2014-06-" + two(day) + ",21"; }),
       "w.csv:1:1: found no column of the lowest temperature; expected one whose name or a table "
       "of "
       "columns says so\n"
       "w.csv:1:1: found no column of the highest temperature; expected one whose name or a table "
       "of "
       "columns says so"},
      {"two columns of the highest",
       days(daily + ",max temp (°C)", 3, [&](int day) { return plain(day) + ",21"; }),
       "w.csv:1:27: found both \"high (°C)\" and \"max temp (°C)\" for tmax; expected one of them: "
       "name "
       "the other as none in a table of columns"},
      {"units that change places",
       days("date,low (°F),high (°C)", 3, [](int day) { return "2014-06-" + two(day) + ",8,70"; }),
       "w.csv:2:14: found 70 in tmax_c (high (°C)); expected -60 to 60 °C\n"
       "w.csv:3:14: found 70 in tmax_c (high (°C)); expected -60 to 60 °C\n"
       "w.csv:4:14: found 70 in tmax_c (high (°C)); expected -60 to 60 °C"},
      {"lowest and highest changed over", days("date,high (°C),low (°C)", 1, plain),
       "w.csv:2:14: found tmin_c 21 above tmax_c 8 (low (°C)); expected the lowest temperature at "
       "or "
       "below the highest"},
      {"a word for a number",
       days(daily, 2, [&](int day) { return day == 2 ? "2014-06-02,cold,21" : plain(day); }),
       "w.csv:3:12: found \"cold\" in low (°C); expected a number, or nothing if unknown"},
      {"a layout that nobody knows",
       days(daily, 3, plain),
       "request: found the layout \"ghcn\"; expected one of ghcn-tenths, ghcn-us, ghcn-metric, "
       "ghcn-lines, logger-hours, klima-days, synop-hours",
       {.layout = "ghcn", .columns = {}, .dates = {}}},
      {"a layout that the header is not of",
       days(daily, 3, plain),
       "w.csv:1:1: found a header that is not of ghcn-us; expected the columns station, date, "
       "tmax, "
       "tmin",
       {.layout = "ghcn-us", .columns = {}, .dates = {}}},
      {"a layout in one of three units",
       days("STATION,DATE,TMAX,TMIN", 3,
            [](int day) { return "X,2014-06-" + two(day) + ",50,40"; }),
       "w.csv:1:14: found a header that ghcn-tenths, ghcn-us, ghcn-metric share, and numbers that "
       "fit "
       "ghcn-tenths and ghcn-us and ghcn-metric; expected one of them to be named, or a "
       "whole year and the site's latitude to tell by"},
      {"one reading a line, twice",
       "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n"
       "X,20140601,TMAX,210,,,W,\nX,20140601,TMIN,80,,,W,\nX,20140601,TMAX,200,,,W,\n",
       "w.csv:4:12: found TMAX of 2014-06-01 a second time; expected it once"},
      {"a reading that failed its checks",
       "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n"
       "X,20140601,TMAX,210,,,W,\nX,20140601,TMIN,80,,I,W,\n",
       "w.csv:3:17: found nothing in tmin_c on 2014-06-01 (TMIN); expected a temperature, or no "
       "row at "
       "all: no temperatures stand before it to fill it from"},
      {"one reading a line, of no known element",
       "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n"
       "X,20140601,SNWD,210,,,W,\nX,20140602,SNWD,80,,,W,\n",
       "w.csv: found no reading that is known; expected at least one"},
      {"one reading a line, without its value",
       "day,what\n2014-06-01,tmax\n",
       "w.csv:1:5: found one reading a line, without a column of the value; expected a column of "
       "it",
       {.layout = {}, .columns = table("day,date,\nwhat,element,\n"), .dates = {}}},
      {"one reading a line, of an element without a unit",
       "day,what,how much\n2014-06-01,warm,21\n2014-06-01,cold,8\n2014-06-02,warm,20\n",
       "w.csv:2:12: found \"warm\" without a unit; expected its unit in the table of columns",
       {.layout = {},
        .columns = table("day,date,\nwhat,element,\nhow much,value,\nwarm,tmax,\ncold,tmin,c\n"),
        .dates = {}}},
      {"a header and units only", "date,low,high\n,°C,°C\n",
       "w.csv:2: found a header and units only; expected at least one row below them"},
      // Hours.
      {"an hour twice in June",
       hours([](int day, int hour) { return day == 1 && hour == 2 ? 2 : 1; }, "2014-06-28",
             "2014-06-29"),
       "w.csv:29:1: found \"2014-06-29 02:00\" a second time; expected every reading once"},
      {"an hour three times where the clock goes back",
       hours([](int day, int hour) { return day == 1 && hour == 2 ? 3 : 1; }, "2014-10-25",
             "2014-10-26"),
       "w.csv:30:1: found \"2014-10-26 02:00\" a second time; expected every reading once"},
      {"hours changed over",
       "time,temperature (°C)\n2014-06-01 00:00,5\n2014-06-01 01:00,5\n2014-06-01 03:00,5\n"
       "2014-06-01 02:00,5\n2014-06-01 04:00,5\n",
       "w.csv:5:1: found \"2014-06-01 02:00\" after a later reading; expected readings in order"},
      {"readings six hours apart",
       "time,temperature (°C)\n2014-06-01 00:00,5\n2014-06-01 06:00,5\n2014-06-01 12:00,5\n"
       "2014-06-01 18:00,5\n",
       "w.csv:2:1: found readings 6 hours apart; expected at most 3"},
      {"a clock beyond the day",
       "date,time,temperature (°C)\n2014-06-01,23:00,5\n2014-06-01,25:00,5\n",
       "w.csv:3:12: found \"25:00\"; expected a time of day, as 13:00"},
      {"two temperatures by the hour",
       "time,temp (°C),air temperature (°C)\n2014-06-01 00:00,5,5\n2014-06-01 01:00,5,5\n",
       "w.csv:1:17: found both \"temp (°C)\" and \"air temperature (°C)\" for temperature; "
       "expected "
       "one of them: name the other as none in a table of columns"},
      {"a day of nineteen hours among whole ones",
       [] {
         std::string text = hours([](int day, int hour) { return day == 0 || hour > 4 ? 1 : 0; });
         const std::string next = hours([](int, int) { return 1; }, "2014-03-31", "2014-04-01");
         return text + next.substr(next.find('\n') + 1);
       }(),
       "w.csv:45:1: found 1 missing day before 2014-03-31; expected every day"},
      // No header at all, or not that of days.
      {"means of months", "month,tmax_c,tmin_c,rain_mm,rain_days\n1,5,0,60,10\n2,6,1,55,9\n",
       "w.csv: found months, and no column of dates; expected a row for each day; means of months "
       "are no weather record"},
      {"columns made of spaces", "DATE        TMAX   TMIN\n2014-06-01  21.0   8.0\n",
       "w.csv: found no header with names of weather columns; expected such as date, tmin and "
       "tmax, "
       "or a table of columns"},
      {"names of nothing known", "alpha;beta\n1;2\n",
       "w.csv: found no header with names of weather columns; expected such as date, tmin and "
       "tmax, "
       "or a table of columns"},
      // A table of columns.
      {"two places where one is wanted",
       "station,date,low (°C),high (°C)\nA,2014-06-01,8,21\nB,2014-06-01,8,21\n",
       "w.csv: found 2 places; expected the weather of one"},
  };
}

}  // namespace

TEST_CASE("forty wrong files, each with its line") {
  const std::vector<WrongFile> files = wrong_files();
  CHECK(files.size() >= 40);
  for (const WrongFile& file : files) {
    CAPTURE(file.what);
    CHECK(refusal([&] { (void)read_weather({"w.csv", file.text}, at(file.hints)); }) == file.line);
  }
}

TEST_CASE("an hour left out, and the hours of summer time, do not stop a file: they are said") {
  const auto said = [](const std::string& text) {
    return read_weather_file({"w.csv", text}, at({})).understood.summary();
  };
  // The clock goes from 02:00 to 03:00.
  CHECK(said(hours([](int day, int hour) {
          return day == 1 && hour == 2 ? 0 : 1;
        })).find("short of some hours") == std::string::npos);
  CHECK(said(hours([](int day, int hour) {
          return day == 1 && hour == 12 ? 0 : 1;
        })).find("1 day short of some hours, but used") != std::string::npos);
  CHECK(said(hours([](int day, int hour) { return day == 1 && hour == 2 ? 2 : 1; }, "2014-10-25",
                   "2014-10-26"))
            .find("an hour stands twice on 2014-10-26, though none is left out in another season: "
                  "taken as a clock that goes back from summer time") != std::string::npos);
  CHECK(said(hours([](int day, int hour) {
          return day == 0 || hour > 4 ? 1 : 0;
        })).find("1 day with under 20 hours, so missing: 2014-03-30 (19 h)") != std::string::npos);
}

TEST_CASE("a table of columns says what is wrong in itself") {
  const auto refused = [](const std::string& row) {
    return refusal([&] { (void)read_layouts({"c.csv", "column,is,unit\n" + row + "\n"}); });
  };
  CHECK(refused("T,tmax,furlong") ==
        "c.csv:2:8: found \"furlong\"; expected one of °C, °F, K; a number before it multiplies");
  CHECK(refused("T,date,c") ==
        "c.csv:2:8: found \"c\"; expected of a date: utc, ends, ymd, dmy, mdy");
  const auto refused_mark = [](const std::string& row) {
    return refusal([&] { (void)read_layouts({"c.csv", "column,is,unit,zero\n" + row + "\n"}); });
  };
  CHECK(refused_mark("T,tmax,f,cold") ==
        "c.csv:2:10: found \"cold\"; expected no mark of nothing for a temperature");
  CHECK(refused_mark("E,vapour pressure,kpa,dry") ==
        "c.csv:2:23: found \"dry\"; expected no mark of nothing for a pressure");
  CHECK(refused_mark("R,rain,in,trace") == "nothing refused");
  CHECK(refused("T,date,local") ==
        "c.csv:2:8: found \"local\"; expected of a date: utc, ends, ymd, dmy, mdy");
  CHECK(refused("T,place,c") == "c.csv:2:9: found \"c\"; expected no unit for place");
  CHECK(refused(",tmax,c") == "c.csv:2:1: found nothing in column; expected the name of a column");
  CHECK(refused("T,warmth,c")
            .starts_with("c.csv:2:3: found \"warmth\" in is; expected one of none, place"));
}

}  // namespace wiltline::test
