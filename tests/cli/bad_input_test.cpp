// What is wrong gives its line and its exit code, and nothing else: no answer, no file.
#include <doctest/doctest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "cli/run_program.hpp"

namespace wiltline::test {
namespace {

constexpr int could_not_write = 1;
constexpr int wrong_request = 2;
constexpr int wrong_input = 3;

const std::string good_weather =
    "# latitude_deg = 46\n"
    "# elevation_m = 200\n"
    "date,tmin_c,tmax_c,rain_mm\n"
    "2023-06-01,11,23,0\n"
    "2023-06-02,12,24,3.5\n"
    "2023-06-03,13,25,0\n";

const std::string good_garden =
    "name,crop,pot,mix,plants,planted,spot,routine\n"
    "tall tomato,tomato,nursery 37 l,potting mix,1,2023-06-01,patio,daily 07:00\n";

using Words = std::vector<std::string>;

/// What a message becomes on standard error.
std::string said(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += "wiltline: " + line + '\n';
  return text;
}

/// Runs the program to standard output and again to a file: both times it must refuse, say exactly
/// the lines, answer nothing and leave the folder as it was.
void check_refused(const ScratchFolder& folder, const Words& arguments, int exit_code,
                   const std::vector<std::string>& lines) {
  const std::string before = folder.listing();
  Words to_file = arguments;
  const auto after_command = to_file.begin() + (to_file.empty() ? 0 : 1);
  to_file.insert(after_command, {"--output", "out.csv"});
  for (const Words& words : {arguments, to_file}) {
    const Outcome outcome = run_program(folder, words);
    INFO(command_line(words));
    CHECK(outcome.exit_code == exit_code);
    CHECK(outcome.err == said(lines));
    CHECK(outcome.out.empty());
    CHECK(folder.listing() == before);
  }
}

/// A scratch folder with a good weather file, a good garden and a folder in it.
struct Place : ScratchFolder {
  Place() {
    write("weather.csv", good_weather);
    write("garden.csv", good_garden);
    ::mkdir((path() / "folder").c_str(), 0777);
  }
};

Words et0(const Words& more = {}) {
  Words words{"et0", "--weather", "weather.csv"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

Words season(const Words& more = {}) {
  Words words{"season", "--garden", "garden.csv", "--weather", "weather.csv"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

Words capacity(const Words& more) {
  Words words{"capacity"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

/// Weather of three days in June and a tomato planted on the first.
Words absence(const Words& more) {
  Words words{"absence", "--weather", "weather.csv"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

/// A tomato planted on the first of those days, in one pot.
Words compare(const Words& more) {
  Words words{"compare", "--weather", "weather.csv", "--planted", "06-01"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

Words heatwave(const Words& more) {
  Words words{"heatwave", "--weather", "weather.csv", "--garden", "garden.csv"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

struct WrongFile {
  std::string what;
  std::string text;
  std::vector<std::string> lines;
};

/// A weather file with this header and these rows; the header is line 3.
std::string weather_of(std::string_view header, std::string_view rows) {
  return "# latitude_deg = 46\n# elevation_m = 200\n" + std::string(header) + '\n' +
         std::string(rows);
}

/// A weather file whose second day has this for its highest temperature; the cell is at line 5,
/// byte 15.
std::string with_tmax(std::string_view cell) {
  return weather_of("date,tmin_c,tmax_c", "2023-06-01,11,23\n2023-06-02,12," + std::string(cell) +
                                              "\n2023-06-03,13,25\n");
}

/// A weather file whose first day has this for its date.
std::string with_date(std::string_view cell) {
  return weather_of("date,tmin_c,tmax_c", std::string(cell) + ",11,23\n");
}

std::vector<std::string> no_number(std::string_view cell) {
  return {"weather.csv:5:15: found \"" + std::string(cell) +
          "\" in tmax_c; expected a number, or nothing if unknown"};
}

std::vector<std::string> no_date(std::string_view cell) {
  return {"weather.csv:4:1: found \"" + std::string(cell) +
          "\"; expected a date that exists, as 2024-05-31"};
}

const std::string limit_c = "expected -60 to 60 °C";

std::vector<WrongFile> wrong_weathers() {
  using std::string_literals::operator""s;
  const std::string days = "2023-06-01,11,23\n";
  return {
      {"empty file",
       "",
       {"weather.csv: found no header row; expected a header row and at least one "
        "row below it"}},
      {"comments only",
       "# latitude_deg = 46\n",
       {"weather.csv: found no header row; expected a header row and at least one row below it"}},
      {"header only",
       weather_of("date,tmin_c,tmax_c", ""),
       {"weather.csv:3: found a header row only; expected at least one row below the header"}},
      {"no tmax",
       weather_of("date,tmin_c", "2023-06-01,11\n"),
       {"weather.csv:3:1: found no column tmax_c or tmax_f; expected that column"}},
      {"no tmin",
       weather_of("date,tmax_f", "2023-06-01,71\n"),
       {"weather.csv:3:1: found no column tmin_c or tmin_f; expected that column"}},
      {"no date",
       weather_of("tmin_c,tmax_c", "11,23\n"),
       {"weather.csv:3:1: found no column date; expected that column"}},
      {"both units of tmax",
       weather_of("date,tmin_c,tmax_c,tmax_f", "2023-06-01,11,23,73\n"),
       {"weather.csv:3:20: found both tmax_c and tmax_f; expected one of them"}},
      {"both units of rain",
       weather_of("date,tmin_c,tmax_c,rain_mm,rain_in", "2023-06-01,11,23,0,0\n"),
       {"weather.csv:3:28: found both rain_mm and rain_in; expected one of them"}},
      {"two units of radiation",
       weather_of("solar_w_m2,date,tmin_c,tmax_c,solar_mj_m2", "200,2023-06-01,11,23,17\n"),
       {"weather.csv:3:1: found both solar_mj_m2 and solar_w_m2; expected one of them"}},
      {"a column twice",
       weather_of("date,tmin_c,tmax_c,tmin_c", "2023-06-01,11,23,11\n"),
       {"weather.csv:3:20: found column \"tmin_c\" a second time; expected every column once"}},
      {"an unknown column",
       weather_of("date,tmin_c,tmax_c,sunsine_h", "2023-06-01,11,23,9\n"),
       {"weather.csv:3:20: found unknown column \"sunsine_h\"; expected a known column; nearest: "
        "sunshine_h"}},
      {"a column without a name",
       weather_of("date,tmin_c,tmax_c,", "2023-06-01,11,23,\n"),
       {"weather.csv:3:20: found a column without a name; expected a name"}},
      {"a word", with_tmax("warm"), no_number("warm")},
      {"trailing junk", with_tmax("28C"), no_number("28C")},
      {"a number and a space", with_tmax("2 8"), no_number("2 8")},
      {"nan", with_tmax("nan"), no_number("nan")},
      {"NaN", with_tmax("NaN"), no_number("NaN")},
      {"inf", with_tmax("inf"), no_number("inf")},
      {"-infinity", with_tmax("-infinity"), no_number("-infinity")},
      {"a number too large", with_tmax("1e999"), no_number("1e999")},
      {"hexadecimal", with_tmax("0x1C"), no_number("0x1C")},
      {"a minus alone", with_tmax("-"), no_number("-")},
      {"a point alone", with_tmax("."), no_number(".")},
      {"decimal comma in quotes",
       with_tmax("\"28,5\""),
       {"weather.csv:5:16: found \"28,5\" in tmax_c; expected a number, or nothing if unknown"}},
      {"decimal comma without",
       with_tmax("28,5"),
       {"weather.csv:5:18: found 4 cells; expected 3, as in the header"}},
      {"a blank temperature",
       with_tmax(""),
       {"weather.csv:5:15: found nothing in tmax_c on 2023-06-02; expected a temperature (or "
        "--fill-gaps "
        "1)"}},
      {"a blank date",
       with_date(""),
       {"weather.csv:4:1: found nothing in date; expected a date that exists, as 2024-05-31"}},
      {"a short row",
       weather_of("date,tmin_c,tmax_c", "2023-06-01,11\n"),
       {"weather.csv:4:14: found 2 cells; expected 3, as in the header"}},
      {"a long row",
       weather_of("date,tmin_c,tmax_c", "2023-06-01,11,23,\n"),
       {"weather.csv:4:18: found 4 cells; expected 3, as in the header"}},
      {"30 February", with_date("2023-02-30"), no_date("2023-02-30")},
      {"29 February of a common year", with_date("2023-02-29"), no_date("2023-02-29")},
      {"month 13", with_date("2023-13-01"), no_date("2023-13-01")},
      {"a date that reads two ways",
       with_date("01.06.2023"),
       {"weather.csv:4:1: found \"01.06.2023\", which can be day, month, year or month, day, year; "
        "expected to be told which: dmy or mdy (--dates)"}},
      {"a missing day",
       weather_of("date,tmin_c,tmax_c", days + "2023-06-03,13,25\n"),
       {"weather.csv:5:1: found 1 missing day before 2023-06-03; expected every day (or "
        "--fill-gaps "
        "1)"}},
      {"a day twice",
       weather_of("date,tmin_c,tmax_c", days + days),
       {"weather.csv:5:1: found 2023-06-01 a second time; expected every day once"}},
      {"a day out of order",
       weather_of("date,tmin_c,tmax_c", days + "2023-05-31,13,25\n"),
       {"weather.csv:5:1: found 2023-05-31 after 2023-06-01; expected days in order"}},
      {"tmin above tmax",
       weather_of("date,tmin_c,tmax_c", "2023-06-01,23,11\n"),
       {"weather.csv:4:12: found tmin_c 23 above tmax_c 11; expected the lowest temperature at or "
        "below the highest"}},
      {"too cold",
       weather_of("date,tmin_c,tmax_c", "2023-06-01,-61,23\n"),
       {"weather.csv:4:12: found -61 in tmin_c; " + limit_c}},
      {"too hot", with_tmax("61"), {"weather.csv:5:15: found 61 in tmax_c; " + limit_c}},
      {"humidity above 100",
       weather_of("date,tmin_c,tmax_c,rh_mean_pct", "2023-06-01,11,23,101\n"),
       {"weather.csv:4:18: found 101 in rh_mean_pct; expected 0 to 100 %"}},
      {"negative rain",
       weather_of("date,tmin_c,tmax_c,rain_mm", "2023-06-01,11,23,-1\n"),
       {"weather.csv:4:18: found -1 in rain_mm; expected 0 to 2000 mm"}},
      {"negative radiation",
       weather_of("date,tmin_c,tmax_c,solar_mj_m2", "2023-06-01,11,23,-1\n"),
       {"weather.csv:4:18: found -1 in solar_mj_m2; expected 0 to 60 MJ/m2 a day"}},
      {"more radiation than there is",
       weather_of("date,tmin_c,tmax_c,solar_mj_m2", "2023-06-01,11,23,45\n"),
       {"weather.csv:4:18: found 45 in solar_mj_m2; expected at most the extraterrestrial 41.1 "
        "MJ/m2 "
        "(476 W/m2) of that day and latitude"}},
      {"an open quote",
       weather_of("date,tmin_c,tmax_c", "2023-06-01,\"11,23\n"),
       {"weather.csv:4:12: found a quote that is not closed on its line; expected a closing "
        "quote"}},
      {"a carriage return in a line",
       weather_of("date,tmin_c,tmax_c", "2023-06-01,11,2\r3\n"),
       {"weather.csv:4:16: found a carriage return inside a line; expected lines that end in LF or "
        "CRLF"}},
      {"a NUL byte",
       weather_of("date,tmin_c,tmax_c", "2023-06-01,11,2\0003\n"s),
       {"weather.csv:4:16: found a NUL byte; expected UTF-8 text"}},
      {"UTF-16",
       "\xff\xfe\x64\x00\x61\x00"s,
       {"weather.csv:1:1: found UTF-16 text; expected UTF-8 text"}},
      {"latitude beyond the pole in a comment",
       "# latitude_deg = 90.5\n# elevation_m = 200\n"
       "date,tmin_c,tmax_c\n2023-06-01,11,23\n",
       {"weather.csv:1:1: found \"90.5\" for latitude_deg; expected -90 to 90"}},
      {"a word for a latitude",
       "# latitude_deg = 46 north\n# elevation_m = 200\n"
       "date,tmin_c,tmax_c\n2023-06-01,11,23\n",
       {"weather.csv:1:1: found \"46 north\" for latitude_deg; expected a number"}},
      {"two latitudes",
       "# latitude_deg = 46\n# latitude_deg = 64\n# elevation_m = 200\n"
       "date,tmin_c,tmax_c\n2023-06-01,11,23\n",
       {"weather.csv:2:1: found latitude_deg a second time; expected it once"}},
      {"no latitude",
       "# elevation_m = 200\ndate,tmin_c,tmax_c\n2023-06-01,11,23\n",
       {"weather.csv: found no latitude_deg; expected a line # latitude_deg = 44.2 at the top, a "
        "site "
        "file or --latitude"}},
      {"wind without its height",
       weather_of("date,tmin_c,tmax_c,wind_m_s", "2023-06-01,11,23,2\n"),
       {"weather.csv: found no wind_height_m; expected a line # wind_height_m = 10 at the top, a "
        "site "
        "file or --wind-height"}},
      {"several things at once, in order of place",
       weather_of("date,tmin_c,tmax_c", "2023-06-01,x,23\n2023-06-02,12,y\n2023-06-31,1,2\n"),
       {"weather.csv:4:12: found \"x\" in tmin_c; expected a number, or nothing if unknown",
        "weather.csv:5:15: found \"y\" in tmax_c; expected a number, or nothing if unknown",
        "weather.csv:6:1: found \"2023-06-31\"; expected a date that exists, as 2024-05-31"}},
  };
}

constexpr std::array<std::string_view, 8> garden_header{"name",   "crop",    "pot",  "mix",
                                                        "plants", "planted", "spot", "routine"};
constexpr std::array<std::string_view, 8> garden_row{"tall tomato", "tomato",     "nursery 37 l",
                                                     "potting mix", "1",          "2023-06-01",
                                                     "patio",       "daily 07:00"};

/// A garden of one good row but for one cell; a column that is not required is appended, at byte 76
/// of the row.
std::string garden_with(std::string_view column, std::string_view cell) {
  std::string header;
  std::string row;
  bool placed = false;
  for (std::size_t i = 0; i < garden_header.size(); ++i) {
    const bool here = garden_header[i] == column;
    placed = placed || here;
    header += (i > 0 ? "," : "") + std::string(garden_header[i]);
    row += (i > 0 ? "," : "") + std::string(here ? cell : garden_row[i]);
  }
  if (!placed) {
    header += ',' + std::string(column);
    row += ',' + std::string(cell);
  }
  return header + '\n' + row + '\n';
}

std::string garden_without(std::string_view column) {
  std::string header;
  std::string row;
  for (std::size_t i = 0; i < garden_header.size(); ++i) {
    if (garden_header[i] == column) continue;
    header += (header.empty() ? "" : ",") + std::string(garden_header[i]);
    row += (row.empty() ? "" : ",") + std::string(garden_row[i]);
  }
  return header + '\n' + row + '\n';
}

std::vector<std::string> no_volume(std::string_view cell, std::string_view column) {
  return {"garden.csv:2:76: found " + std::string(cell) + " in " + std::string(column) +
          "; expected 0.005 to 5000 litres"};
}

std::vector<WrongFile> wrong_gardens() {
  const std::string plants = "; expected a whole number from 1 to 1000";
  const std::string number = "; expected a number, or nothing if unknown";
  const std::string routine =
      "; expected as-needed, daily 07:00, every 2 days 07:00, mon fri 18:30, or one of these after "
      "check or check top";
  const std::string any_date =
      "; expected a date that exists, as 2024-05-10, or 05-10 for every year";
  std::vector<WrongFile> files{
      {"empty file",
       "",
       {"garden.csv: found no header row; expected a header row and at least one "
        "row below it"}},
      {"header only",
       "name,crop,pot,mix,plants,planted,spot,routine\n",
       {"garden.csv:1: found a header row only; expected at least one row below the header"}},
      {"a column twice",
       "name,crop,crop\nt,tomato,tomato\n",
       {"garden.csv:1:11: found column \"crop\" a second time; expected every column once"}},
      {"both units of volume",
       garden_with("volume_l,volume_gal", "20,5"),
       {"garden.csv:1:56: found both volume_l and volume_gal; expected one of them"}},
      {"volume and a dimension",
       garden_with("volume_l,height_in", "20,10"),
       {"garden.csv:2:76: found both volume_l and a dimension; expected a volume, which scales the "
        "named pot, or dimensions"}},
      {"unknown column",
       garden_with("hieght_cm", "30"),
       {"garden.csv:1:47: found unknown column \"hieght_cm\"; expected a known column; nearest: "
        "height_cm"}},
      {"a short row",
       "name,crop,pot,mix,plants,planted,spot,routine\n"
       "t,tomato,clay 3 l,potting mix,1,2023-06-01,patio\n",
       {"garden.csv:2:49: found 7 cells; expected 8, as in the header"}},
      {"a long row",
       garden_with("routine", "daily 07:00,x"),
       {"garden.csv:2:76: found 9 cells; expected 8, as in the header"}},
      {"unknown crop",
       garden_with("crop", "tomatto"),
       {"garden.csv:2:13: found unknown crop \"tomatto\"; expected a known crop (wiltline list "
        "crops); "
        "nearest: tomato"}},
      {"unknown crop like no other",
       garden_with("crop", "xyzzy"),
       {"garden.csv:2:13: found unknown crop \"xyzzy\"; expected a known crop (wiltline list "
        "crops)"}},
      {"unknown pot",
       garden_with("pot", "nursrey 37 l"),
       {"garden.csv:2:20: found unknown pot \"nursrey 37 l\"; expected a known pot (wiltline list "
        "pots); nearest: nursery 37 l"}},
      {"unknown mix",
       garden_with("mix", "poting mix"),
       {"garden.csv:2:33: found unknown mix \"poting mix\"; expected a known mix or a composition "
        "such "
        "as peat 60 perlite 40; nearest: potting mix"}},
      {"unknown spot, two letters swapped",
       garden_with("spot", "patoi"),
       {"garden.csv:2:58: found unknown spot \"patoi\"; expected a known spot (wiltline list "
        "spots); "
        "nearest: patio"}},
      {"unknown wall",
       garden_with("wall", "plastik"),
       {"garden.csv:2:76: found unknown wall \"plastik\"; expected a known wall (wiltline list "
        "walls); "
        "nearest: plastic"}},
      {"mix below 100",
       garden_with("mix", "peat 60 perlite 30"),
       {"garden.csv:2:33: found parts that add up to 90; expected 100 percent"}},
      {"mix above 100",
       garden_with("mix", "peat 60 perlite 41"),
       {"garden.csv:2:33: found parts that add up to 101; expected 100 percent"}},
      {"negative part of a mix",
       garden_with("mix", "peat -60 perlite 160"),
       {"garden.csv:2:33: found -60 percent of \"peat\"; expected more than nothing"}},
      {"unknown component",
       garden_with("mix", "peat 60 perlit 40"),
       {"garden.csv:2:33: found unknown component \"perlit\"; expected one of peat, coir, coir "
        "coarse, "
        "bark, fresh bark, aged bark, wood fibre, compost, perlite, vermiculite, rice hulls, "
        "pumice, sand, loam; nearest: "
        "perlite"}},
      {"component twice",
       garden_with("mix", "peat 60 peat 40"),
       {"garden.csv:2:33: found \"peat\" a second time; expected every component once"}},
      {"zero litres", garden_with("volume_l", "0"), no_volume("0", "volume_l")},
      {"negative litres", garden_with("volume_l", "-5"), no_volume("-5", "volume_l")},
      {"zero gallons",
       garden_with("volume_gal", "0"),
       {no_volume("0", "volume_gal").front() + " (0.001321 to 1321 as volume_gal)"}},
      {"litres with their unit",
       garden_with("volume_l", "20L"),
       {"garden.csv:2:76: found \"20L\" in volume_l" + number}},
      {"nan litres",
       garden_with("volume_l", "nan"),
       {"garden.csv:2:76: found \"nan\" in volume_l" + number}},
      {"inf litres",
       garden_with("volume_l", "inf"),
       {"garden.csv:2:76: found \"inf\" in volume_l" + number}},
      {"hexadecimal litres",
       garden_with("volume_l", "0x14"),
       {"garden.csv:2:76: found \"0x14\" in volume_l" + number}},
      {"decimal comma in litres",
       garden_with("volume_l", "\"20,5\""),
       {"garden.csv:2:77: found \"20,5\" in volume_l" + number}},
      {"no plants",
       garden_with("plants", "0"),
       {"garden.csv:2:45: found \"0\" in plants" + plants}},
      {"fewer than none",
       garden_with("plants", "-1"),
       {"garden.csv:2:45: found \"-1\" in plants" + plants}},
      {"half a plant",
       garden_with("plants", "0.5"),
       {"garden.csv:2:45: found \"0.5\" in plants" + plants}},
      {"no pots",
       garden_with("count", "0"),
       {"garden.csv:2:76: found \"0\" in count; expected a whole number from 1 to 100000"}},
      {"30 February",
       garden_with("planted", "2023-02-30"),
       {"garden.csv:2:47: found \"2023-02-30\"" + any_date}},
      {"30 February of every year",
       garden_with("planted", "02-30"),
       {"garden.csv:2:47: found \"02-30\"" + any_date}},
      {"planted before the weather",
       garden_with("planted", "2023-05-31"),
       {"garden.csv:2: found \"tall tomato\" planted 2023-05-31; expected a day within the "
        "weather, "
        "2023-06-01 to 2023-06-03"}},
      {"planted after the weather",
       garden_with("planted", "06-04"),
       {"garden.csv:2: found \"tall tomato\" planted 06-04; expected a day within the weather, "
        "2023-06-01 to 2023-06-03"}},
      {"no time in a routine",
       garden_with("routine", "daily"),
       {"garden.csv:2:64: found no time of day; expected a time such as 07:00"}},
      {"no such time",
       garden_with("routine", "daily 25:00"),
       {"garden.csv:2:64: found \"25:00\"; expected a time of day such as 07:00"}},
      {"no such routine",
       garden_with("routine", "whenever"),
       {"garden.csv:2:64: found \"whenever\"" + routine}},
      {"nothing given",
       garden_with("routine", "daily 07:00 give 0 l"),
       {"garden.csv:2:64: found \"0\"; expected an amount above nothing"}},
      {"a name twice",
       good_garden + good_garden.substr(good_garden.find('\n') + 1),
       {"garden.csv:3:1: found \"tall tomato\" a second time; expected every name once"}},
      {"neither yes nor no",
       garden_with("mulch", "maybe"),
       {"garden.csv:2:76: found \"maybe\" in mulch; expected yes, no or nothing"}},
      {"no room for mix",
       garden_with("headspace_cm", "60"),
       {"garden.csv:2:20: found a pot 35 cm high with 60 cm headspace; expected room for mix above "
        "the "
        "drain holes"}},
  };
  for (const std::string_view column : garden_header) {
    files.push_back(
        {"no column " + std::string(column),
         garden_without(column),
         {"garden.csv:1:1: found no column " + std::string(column) + "; expected that column"}});
  }
  std::size_t byte = 1;
  for (std::size_t i = 0; i < garden_header.size(); ++i) {
    const std::string column(garden_header[i]);
    files.push_back({"nothing in " + column,
                     garden_with(column, ""),
                     {"garden.csv:2:" + std::to_string(byte) + ": found nothing in " + column +
                      "; expected a value"}});
    byte += garden_row[i].size() + 1;
  }
  return files;
}

std::vector<WrongFile> wrong_sites() {
  const auto latitude = [](const std::string& value, const std::string& expected) {
    return WrongFile{
        "latitude " + value,
        "[site]\nlatitude_deg = " + value + "\nelevation_m = 200\n",
        {"site.ini:2:1: found \"" + value + "\" for latitude_deg; expected " + expected}};
  };
  return {
      {"empty file",
       "",
       {"site.ini: found no site values; expected lines such as latitude_deg = 44.2"}},
      {"comments only",
       "; nothing\n# nothing\n",
       {"site.ini: found no site values; expected lines such as latitude_deg = 44.2"}},
      latitude("91", "-90 to 90"),
      latitude("-90.001", "-90 to 90"),
      latitude("north", "a number"),
      latitude("46N", "a number"),
      latitude("nan", "a number"),
      latitude("inf", "a number"),
      latitude("0x2E", "a number"),
      latitude("46,5", "a number"),
      latitude("", "a number"),
      {"no equals sign",
       "latitude_deg 46\n",
       {"site.ini:1:1: found \"latitude_deg 46\"; expected a line such as latitude_deg = 44.2"}},
      {"unknown key",
       "lattitude_deg = 46\n",
       {"site.ini:1:1: found unknown key \"lattitude_deg\"; expected one of latitude_deg, "
        "elevation_m, "
        "wind_height_m, longitude_deg, utc_offset_h; nearest: latitude_deg"}},
      {"a key twice",
       "latitude_deg = 46\nlatitude_deg = 46\n",
       {"site.ini:2:1: found latitude_deg a second time; expected it once"}},
  };
}

struct WrongRequest {
  Words arguments;
  std::vector<std::string> lines;
};

const std::string a_shape =
    "no complete shape; expected --pot NAME, or the height and both diameters, or lengths and "
    "widths";
const std::string topics = "crops, pots, mixes, components, spots, walls, parameters";
const std::string gone = ": cannot be opened: No such file or directory";

std::vector<WrongRequest> wrong_requests() {
  const std::string date = "; expected a date that exists, as 2024-05-31";
  const std::string away =
      "; expected two days in order, such as 2024-07-08/2024-07-14 or 07-08/07-14 (over the new "
      "year, as 12-20/01-05, half a year at most)";
  const std::string stray = "; expected options that begin with --";
  return {
      // files that are not there
      {{"et0", "--weather", "nothere.csv"}, {"nothere.csv" + gone}},
      {{"et0", "--weather", "folder"}, {"folder: found a folder; expected a file"}},
      {{"et0", "--weather", ""}, {"\"\"" + gone}},
      {{"et0"}, {"no weather; expected --weather FILE"}},
      {et0({"--site", "nothere.ini"}), {"nothere.ini" + gone}},
      {et0({"--site", "folder"}), {"folder: found a folder; expected a file"}},
      {{"season", "--weather", "weather.csv", "--garden", "nothere.csv"}, {"nothere.csv" + gone}},
      {{"season", "--weather", "weather.csv", "--garden", "folder"},
       {"folder: found a folder; expected a file"}},
      {{"season", "--weather", "weather.csv"}, {"no garden; expected --garden FILE"}},
      {{"season", "--garden", "garden.csv"}, {"no weather; expected --weather FILE"}},
      {season({"--models", "nothere"}),
       {"\"nothere\": found no such folder; expected a folder of model tables"}},
      {season({"--models", "folder"}),
       {"\"folder\": found no model table; expected at least one of crops.csv, mix-components.csv, "
        "mixes.csv, pots.csv, spots.csv, walls.csv, parameters.csv"}},
      // commands, options and words
      {{"seasn"},
       {"found unknown command \"seasn\"; expected a command (wiltline -h); nearest: season"}},
      {{"frobnicate"}, {"found unknown command \"frobnicate\"; expected a command (wiltline -h)"}},
      {{"list", "cropps"},
       {"found unknown list \"cropps\"; expected one of " + topics + "; nearest: crops"}},
      {{"list", "--format", "csv"}, {"no list named; expected one of " + topics}},
      {{"list", "crops", "pots"}, {"found the stray word \"pots\"" + stray}},
      {et0({"--wether", "weather.csv"}),
       {"found unknown option \"--wether\"; expected an option of wiltline et0; nearest: "
        "--weather"}},
      {et0({"--garden", "garden.csv"}),
       {"found unknown option \"--garden\"; expected an option of wiltline et0 (wiltline et0 -h)"}},
      {{"plan", "--frobnicate"},
       {"found unknown option \"--frobnicate\"; expected an option of wiltline plan (wiltline plan "
        "-h)"}},
      {{"calibrate", "--weighigns", "w.csv"},
       {"found unknown option \"--weighigns\"; expected an option of wiltline calibrate; nearest: "
        "--weighings"}},
      {et0({"-x"}),
       {"found unknown option \"-x\"; expected an option of wiltline et0 (wiltline et0 -h)"}},
      {et0({"stray"}), {"found the stray word \"stray\"" + stray}},
      {et0({"--steps", "yes"}), {"found the stray word \"yes\"" + stray}},
      {et0({"--from", "2023-06-01", "--from", "2023-06-02"}),
       {"found --from a second time; expected it once"}},
      {et0({"--steps", "--steps"}), {"found --steps a second time; expected it once"}},
      {season({"--garden", "garden.csv"}), {"found --garden a second time; expected it once"}},
      // numbers and dates
      {et0({"--latitude", "91"}), {"--latitude: found 91; expected -90 to 90"}},
      {et0({"--latitude", "-90.0001"}), {"--latitude: found -90.0001; expected -90 to 90"}},
      {et0({"--latitude", "north"}), {"--latitude: found \"north\"; expected a number"}},
      {et0({"--latitude", "46N"}), {"--latitude: found \"46N\"; expected a number"}},
      {et0({"--latitude", "nan"}), {"--latitude: found \"nan\"; expected a number"}},
      {et0({"--latitude", "inf"}), {"--latitude: found \"inf\"; expected a number"}},
      {et0({"--latitude", "0x2E"}), {"--latitude: found \"0x2E\"; expected a number"}},
      {et0({"--latitude", "46,5"}), {"--latitude: found \"46,5\"; expected a number"}},
      {et0({"--longitude", "181"}), {"--longitude: found 181; expected -180 to 180"}},
      {et0({"--wind-height", "0"}), {"--wind-height: found 0; expected 0.5 to 200"}},
      {et0({"--fill-gaps", "0"}), {"--fill-gaps: found 0; expected a whole number from 1 to 31"}},
      {et0({"--fill-gaps", "1.5"}),
       {"--fill-gaps: found 1.5; expected a whole number from 1 to 31"}},
      {et0({"--from", "2023-02-30"}), {"--from: found \"2023-02-30\"" + date}},
      {et0({"--to", "03.06.2023"}), {"--to: found \"03.06.2023\"" + date}},
      {et0({"--from", ""}), {"--from: found \"\"" + date}},
      {et0({"--from", "2023-06-03", "--to", "2023-06-02"}),
       {"--from: found 2023-06-03, after --to 2023-06-02; expected it before"}},
      {et0({"--from", "2023-05-31"}),
       {"--from: found 2023-05-31; expected a day of weather.csv, 2023-06-01 to 2023-06-03"}},
      {et0({"--to", "2023-06-04"}),
       {"--to: found 2023-06-04; expected a day of weather.csv, 2023-06-01 to 2023-06-03"}},
      // choices
      {et0({"--format", "xml"}), {"--format: found \"xml\"; expected table, csv or json"}},
      {et0({"--format", "CSV"}), {"--format: found \"CSV\"; expected table, csv or json"}},
      {et0({"--units", "imperial"}), {"--units: found \"imperial\"; expected metric or us"}},
      {season({"--threads", "0"}), {"--threads: found 0; expected a whole number from 1 to 1024"}},
      {season({"--growth", "moon"}), {"--growth: found \"moon\"; expected days or degree-days"}},
      {season({"--away", "never"}), {"--away: found \"never\"" + away}},
      {season({"--away", "07-08"}), {"--away: found \"07-08\"" + away}},
      {season({"--away", "2023-06-03/2023-06-01"}),
       {"--away: found \"2023-06-03/2023-06-01\"" + away}},
      // standard input twice
      {et0({"--weather", "-", "--weather", "-"}),
       {"found - a second time; expected standard input once"}},
      {{"season", "--weather", "-", "--garden", "-"},
       {"found - a second time; expected standard input once"}},
      {{"et0", "--weather", "-", "--site", "-"},
       {"found - a second time; expected standard input once"}},
      // pots and mixes
      {season({"--ledger", "--remedies"}),
       {"found both --ledger and --remedies; expected one of them"}},
      {season({"--ledger", "--uncertain", "20"}),
       {"found both --ledger and --uncertain; expected one of them"}},
      {season({"--uncertain", "9"}),
       {"--uncertain: found 9; expected a whole number from 10 to 10000"}},
      {season({"--what-matters"}), {"found --what-matters without --uncertain; expected both"}},
      {season({"--uncertain", "abc", "--what-matters"}),
       {"--uncertain: found \"abc\"; expected a whole number from 64 to 10000"}},
      {season({"--uncertain", "63", "--what-matters"}),
       {"--uncertain: found 63; expected a whole number from 64 to 10000"}},
      {season({"--ledger", "--uncertain", "64", "--what-matters"}),
       {"found both --ledger and --what-matters; expected one of them"}},
      {absence({"--crop", "tomato", "--days", "2", "--what-matters"}),
       {"found --what-matters without --uncertain; expected both"}},
      {et0({"--what-matters"}),
       {"found unknown option \"--what-matters\"; expected an option of wiltline et0 (wiltline et0 "
        "-h)"}},
      {season({"--seed", "3"}), {"found --seed without --uncertain; expected both or neither"}},
      {absence({"--crop", "tomato"}), {"no absence; expected --days N or --on DATES"}},
      {absence({"--crop", "tomato", "--on", "2023-06-03/2023-06-01"}),
       {"--on: found \"2023-06-03/2023-06-01\"; expected two days in order, such as "
        "2024-07-08/2024-07-14 or 07-08/07-14 (over the new year, as 12-20/01-05, half a year at "
        "most)"}},
      {absence({"--crop", "tomato", "--on", "06-01/06-03", "--days", "2"}),
       {"found both --on and --days; expected one of them"}},
      {absence({"--crop", "tomato", "--on", "06-01/06-09"}),
       {"--on: found \"06-01/06-09\", longer than the 3 days of weather.csv; expected an "
        "absence that fits in"}},
      {absence({"--crop", "tomato", "--days", "2", "--helper", "daily"}),
       {"--helper: found no time of day; expected a time such as 07:00"}},
      {absence({"--crop", "tomato", "--days", "2", "--helper", "06-01/06-03 daily 07:00"}),
       {"--helper: found 06-01/06-03; expected days only beside --on, or none: every 2 days 18:00 "
        "give 2 l"}},
      {absence({"--crop", "tomato", "--on", "06-01/06-03", "--helper", "06-01/06-04 daily 07:00"}),
       {"--helper: found 06-01/06-04; expected the days of --on, 06-01/06-03, or none"}},
      {absence({"--crop", "tomato", "--days", "2", "--helper", "check daily 07:00"}),
       {"--helper: found \"check daily 07:00\"; expected days and hours, as every 2 days 18:00 "
        "give 2 l"}},
      {absence({"--crop", "tomato", "--days", "2", "--helper", "mon 07:00"}),
       {"--helper: found \"mon 07:00\"; expected daily or every N days, or --on with a year"}},
      {absence({"--crop", "tomato", "--days", "2", "--helper", "every 4 days 07:00"}),
       {"--helper: found \"every 4 days 07:00\"; expected a visit between leaving and return"}},
      {season({"--by", "year"}), {"--by: found \"year\"; expected month or week"}},
      {season({"--by", "month", "--ledger"}),
       {"found both --ledger and --by; expected one of them"}},
      {season({"--by", "week", "--remedies"}),
       {"found both --by and --remedies; expected one of them"}},
      {season({"--helper", "daily 07:00"}),
       {"--helper: found \"daily\"; expected two days in order, such as 2024-07-08/2024-07-14 or "
        "07-08/07-14 (over the new year, as 12-20/01-05, half a year at most)"}},
      {season({"--helper", "06-01/06-03 07:00"}),
       {"--helper: found \"07:00\"; expected as-needed, daily 07:00, every 2 days 07:00, mon fri "
        "18:30, or one of these after check or check top"}},
      {{"plan", "--garden", "garden.csv", "--weather", "weather.csv", "--can", "10 pints"},
       {"--can: found \"10 pints\"; expected what it holds, as \"10 l\" or \"2 gal\""}},
      {{"plan", "--garden", "garden.csv", "--weather", "weather.csv", "--days", "0"},
       {"--days: found 0; expected a whole number from 1 to 60"}},
      {absence({"--days", "1"}), {"no planting; expected --crop NAME or --garden FILE"}},
      {{"absence", "--crop", "tomato", "--days", "1"}, {"no weather; expected --weather FILE"}},
      {absence({"--crop", "tomato", "--days", "2 weeks"}),
       {"--days: found \"2 weeks\"; expected days such as 2 or 2.5, or a time such as 2d2h"}},
      {absence({"--crop", "tomato", "--days", "2h2d"}),
       {"--days: found \"2h2d\"; expected days such as 2 or 2.5, or a time such as 2d2h"}},
      {absence({"--crop", "tomato", "--days", "0"}),
       {"--days: found \"0\"; expected days such as 2 or 2.5, or a time such as 2d2h"}},
      {absence({"--crop", "tomato", "--days", "4"}),
       {"--days: found \"4\", longer than the 3 days of weather.csv; expected an absence "
        "that fits in"}},
      {absence({"--crop", "tomato", "--days", "2d", "--planted", "06-02"}),
       {"--days: found 2 days from June to August, beyond the weather or the life of \"tomato\"; "
        "expected fewer"}},
      {absence({"--crop", "tomato", "--days", "1", "--planted", "06-01", "--months", "2"}),
       {"--months: found February, when \"tomato\", planted 1 Jun, does not grow in this weather; "
        "expected June"}},
      {absence({"--crop", "tomato", "--days", "1"}),
       {"--planted: found 05-15; expected a day within the weather, 2023-06-01 to 2023-06-03"}},
      {absence({"--crop", "tomato", "--days", "1", "--planted", "02-30"}),
       {"--planted: found \"02-30\"; expected a date that exists, as 2024-05-10, or 05-10 for "
        "every year"}},
      {absence({"--crop", "tomato", "--days", "1", "--months", "june-agust"}),
       {"--months: found \"june-agust\"; expected months such as jun-aug, 6-8 or jul"}},
      {absence({"--crop", "tomato", "--days", "1", "--months", "6-13"}),
       {"--months: found \"6-13\"; expected months such as jun-aug, 6-8 or jul"}},
      {absence({"--crop", "tomato", "--days", "1", "--leave", "24:00"}),
       {"--leave: found \"24:00\"; expected a time of day such as 18:00"}},
      {absence({"--crop", "tomato", "--days", "1", "--line", "droop"}),
       {"--line: found \"droop\"; expected stressed, wilting or dry"}},
      {absence({"--crop", "tomato", "--days", "1", "--share", "95"}),
       {"--share: found 95; expected more than 0, up to 1"}},
      {absence({"--crop", "tomato", "--days", "1", "--share", "0"}),
       {"--share: found 0; expected more than 0, up to 1"}},
      {absence({"--crop", "tomatto", "--days", "1"}),
       {"--crop: found unknown crop \"tomatto\"; expected a known crop (wiltline list crops); "
        "nearest: tomato"}},
      {absence({"--crop", "tomato", "--days", "1", "--spot", "patoi"}),
       {"--spot: found unknown spot \"patoi\"; expected a known spot (wiltline list spots); "
        "nearest: patio"}},
      {absence({"--crop", "tomato", "--days", "1", "--mix", "poting mix"}),
       {"--mix: found unknown mix \"poting mix\"; expected a known mix or a composition such as "
        "peat 60 perlite 40; nearest: potting mix"}},
      {absence({"--crop", "tomato", "--days", "1", "--planted", "2023-06-01", "--plants", "40",
                "--pots", "clay 3 l"}),
       {"--plants: found 40 plants, whose root balls take 16 l, in 3 l of mix of clay 3 l; "
        "expected "
        "at most 7 of them, or smaller root balls"}},
      {absence({"--crop", "tomato", "--days", "1", "--planted", "2023-06-01", "--plants", "99",
                "--kind", "clay"}),
       {"--plants: found 99 plants, whose root balls take 40 l, in 25 l of mix of clay 25 l; "
        "expected at most 62 of them, or smaller root balls"}},
      {absence({"--crop", "tomato", "--days", "1", "--plants", "0"}),
       {"--plants: found 0; expected a whole number from 1 to 1000"}},
      {absence({"--crop", "tomato", "--days", "1", "--pots", "nursery 37 l,clya 3 l"}),
       {"--pots: found unknown pot \"clya 3 l\"; expected a known pot (wiltline list pots); "
        "nearest: clay 3 l"}},
      {absence({"--crop", "tomato", "--days", "1", "--pots", "nursery 37 l,"}),
       {"--pots: found an empty name; expected names separated by commas"}},
      {absence({"--crop", "tomato", "--days", "1", "--kind", "fabrik"}),
       {"--kind: found unknown kind \"fabrik\"; expected a kind of wiltline list pots; nearest: "
        "fabric"}},
      {absence({"--crop", "tomato", "--days", "1", "--kind", "fabric", "--pots", "clay 3 l"}),
       {"found both --pots and --kind; expected one of them"}},
      {absence({"--crop", "tomato", "--days", "1", "--garden", "garden.csv"}),
       {"found both --garden and --crop; expected one of them"}},
      {absence({"--garden", "garden.csv", "--days", "1", "--months", "7"}),
       {"--months: found July, when \"tall tomato\", planted 1 Jun 2023, does not grow in this "
        "weather; expected other weather, or --planted"}},
      {compare({}), {"no planting; expected --crop NAME or --garden FILE"}},
      {{"compare", "--crop", "tomato"}, {"no weather; expected --weather FILE"}},
      {{"compare", "--crop", "tomato", "--weather", "weather.csv"},
       {"--planted: found 05-15; expected a day within the weather, 2023-06-01 to 2023-06-03"}},
      {{"compare", "--garden", "garden.csv", "--weather", "weather.csv", "--planted", "05-31"},
       {"--planted: found 05-31; expected a day within the weather, 2023-06-01 to 2023-06-03"}},
      {compare({"--crop", "tomato", "--garden", "garden.csv"}),
       {"found both --garden and --crop; expected one of them"}},
      {compare({"--crop", "tomatto"}),
       {"--crop: found unknown crop \"tomatto\"; expected a known crop (wiltline list crops); "
        "nearest: tomato"}},
      {compare({"--crop", "tomato", "--pots", "nursery 37 l,nursrey 21 l"}),
       {"--pots: found unknown pot \"nursrey 21 l\"; expected a known pot (wiltline list pots); "
        "nearest: nursery 21 l"}},
      {compare({"--crop", "tomato", "--pots", "nursery 37 l,Nursery-37-L"}),
       {"--pots: found \"Nursery-37-L\" a second time; expected each once"}},
      {compare({"--crop", "tomato", "--pots", "nursery 37 l", "--kind", "clay"}),
       {"found both --pots and --kind; expected one of them"}},
      {compare({"--crop", "tomato", "--mixes", "coir mix,poting mix"}),
       {"--mixes: found unknown mix \"poting mix\"; expected a known mix or a composition such as "
        "peat 60 perlite 40; nearest: potting mix"}},
      {compare({"--crop", "tomato", "--mixes", "peat 60 perlite 30"}),
       {"--mixes: found parts that add up to 90; expected 100 percent"}},
      {compare({"--crop", "tomato", "--walls", "clay,fabrik"}),
       {"--walls: found unknown wall \"fabrik\"; expected a known wall (wiltline list walls); "
        "nearest: fabric"}},
      {compare({"--crop", "tomato", "--spots", "patoi"}),
       {"--spots: found unknown spot \"patoi\"; expected a known spot (wiltline list spots); "
        "nearest: patio"}},
      {compare({"--crop", "tomato", "--plants", "1,0"}),
       {"--plants: found 0; expected a whole number from 1 to 1000"}},
      {compare({"--crop", "tomato", "--plants", "1,two"}),
       {"--plants: found \"two\"; expected a whole number from 1 to 1000"}},
      {compare({"--crop", "tomato", "--plants", "1,2,1"}),
       {"--plants: found \"1\" a second time; expected each once"}},
      {compare({"--crop", "tomato", "--plants", "1,"}),
       {"--plants: found an empty name; expected names separated by commas"}},
      {compare({"--crop", "tomato", "--routine", "daily"}),
       {"--routine: found no time of day; expected a time such as 07:00"}},
      {compare({"--crop", "tomato", "--growth", "moon"}),
       {"--growth: found \"moon\"; expected days or degree-days"}},
      {heatwave({"--crop", "tomato"}), {"found both --garden and --crop; expected one of them"}},
      {heatwave({}),
       {"--days: found 5, longer than the 3 days of weather.csv; expected a spell that "
        "fits in"}},
      {heatwave({"--days", "0"}), {"--days: found 0; expected a whole number from 1 to 60"}},
      {heatwave({"--days", "2d"}), {"--days: found \"2d\"; expected a whole number from 1 to 60"}},
      {heatwave({"--by", "heat"}), {"--by: found \"heat\"; expected tmax or et0"}},
      {heatwave({"--at-least", "warm"}),
       {"--at-least: found \"warm\"; expected a temperature such as 35c or 95f"}},
      {heatwave({"--at-least", "150f"}),
       {"--at-least: found \"150f\"; expected -60 to 60 °C (-76 to 140 °F)"}},
      {heatwave({"--at-least", "24c"}),
       {"--at-least: found \"24c\", reached on no 3 days in a row of weather.csv; "
        "expected less"}},
      {heatwave({"--at-least", "20c", "--days", "3"}),
       {"found both --at-least and --days; expected one of them"}},
      {heatwave({"--at-least", "20c", "--by", "et0"}),
       {"found both --at-least and --by; expected one of them"}},
      {heatwave({"--at-least", "20c", "--first-day", "2023-06-01"}),
       {"found both --at-least and --first-day; expected one of them"}},
      {heatwave({"--first-day", "2023-06-01", "--by", "tmax"}),
       {"found both --first-day and --by; expected one of them"}},
      {heatwave({"--first-day", "2023-06-31"}),
       {"--first-day: found \"2023-06-31\"; expected a date that exists, as 2024-05-31"}},
      {heatwave({"--first-day", "2023-06-02", "--days", "3"}),
       {"--first-day: found 2023-06-02 with 3 days; expected a spell within weather.csv, "
        "2023-06-01 to 2023-06-03"}},
      {heatwave({"--warmer", "-1"}), {"--warmer: found \"-1\"; expected 0 to 15 °C (0 to 27f)"}},
      {heatwave({"--warmer", "28f"}), {"--warmer: found \"28f\"; expected 0 to 15 °C (0 to 27f)"}},
      {heatwave({"--warmer", "much"}),
       {"--warmer: found \"much\"; expected degrees such as 3, 3c or 5.4f"}},
      {heatwave({"--full-grown", "--growth", "days"}),
       {"found both --full-grown and --growth; expected one of them"}},
      {heatwave({"--days", "2", "--first-day", "2023-06-01", "--planted", "06-02"}),
       {"found no planting that grows from 1 Jun 2023 to 2 Jun 2023; expected "
        "one, or --full-grown"}},
      {capacity({}), {a_shape}},
      {capacity({"--top-diameter-cm", "20", "--height-cm", "20", "--mix", "potting mix"}),
       {a_shape}},
      {capacity({"--pot", "nursery 11 l"}),
       {"no mix; expected --mix NAME or --mix \"peat 60 perlite 40\""}},
      {capacity({"--pot", "nursrey 11 l", "--mix", "potting mix"}),
       {"--pot: found unknown pot \"nursrey 11 l\"; expected a known pot (wiltline list pots); "
        "nearest: "
        "nursery 11 l"}},
      {capacity({"--pot", "nursery 11 l", "--mix", "poting mix"}),
       {"--mix: found unknown mix \"poting mix\"; expected a known mix or a composition such as "
        "peat 60 "
        "perlite 40; nearest: potting mix"}},
      {capacity({"--pot", "nursery 11 l", "--mix", "peat 60 perlite 30"}),
       {"--mix: found parts that add up to 90; expected 100 percent"}},
      {capacity({"--pot", "nursery 11 l", "--mix", "potting mix", "--crop", "tomatto"}),
       {"--crop: found unknown crop \"tomatto\"; expected a known crop (wiltline list crops); "
        "nearest: "
        "tomato"}},
      {capacity({"--pot", "nursery 11 l", "--height-cm", "20", "--mix", "potting mix"}),
       {"found both --pot and a dimension; expected one of them"}},
      {capacity({"--top-diameter-cm", "20", "--bottom-diameter-cm", "15", "--height-cm", "0",
                 "--mix", "potting mix"}),
       {"--height-cm: found 0; expected 0.5 to 1000"}},
      {capacity({"--top-diameter-cm", "-20", "--bottom-diameter-cm", "15", "--height-cm", "20",
                 "--mix", "potting mix"}),
       {"--top-diameter-cm: found -20; expected 0.5 to 1000"}},
      {capacity({"--top-diameter-cm", "20cm", "--bottom-diameter-cm", "15", "--height-cm", "20",
                 "--mix", "potting mix"}),
       {"--top-diameter-cm: found \"20cm\"; expected a number"}},
      {capacity({"--top-diameter-cm", "20", "--bottom-diameter-cm", "15", "--height-cm", "20",
                 "--height-in", "8", "--mix", "potting mix"}),
       {"found both --height-cm and --height-in; expected one of them"}},
      {capacity({"--top-diameter-cm", "20", "--bottom-diameter-cm", "15", "--height-cm", "20",
                 "--headspace-cm", "20", "--mix", "potting mix"}),
       {"found 20 cm height, 20 cm headspace, 0 cm standing water; expected room for mix"}},
  };
}

TEST_CASE("a good weather file and garden are answered, or the refusals would prove nothing") {
  const Place place;
  CHECK(run_program(place, et0()).exit_code == 0);
  CHECK(run_program(place, season()).exit_code == 0);
  place.write("weather.csv", with_tmax("28"));
  CHECK(run_program(place, et0()).exit_code == 0);
  using Cell = std::pair<std::string, std::string>;
  for (const Cell& cell : std::vector<Cell>{{"volume_l", "20"},
                                            {"volume_gal", "5"},
                                            {"count", "2"},
                                            {"wall", "clay"},
                                            {"mulch", "yes"},
                                            {"headspace_cm", "4"}}) {
    INFO(cell.first);
    place.write("garden.csv", garden_with(cell.first, cell.second));
    CHECK(run_program(place, season()).exit_code == 0);
  }
}

TEST_CASE("a wrong weather file") {
  const Place place;
  for (const WrongFile& file : wrong_weathers()) {
    INFO(file.what);
    place.write("weather.csv", file.text);
    check_refused(place, et0(), wrong_input, file.lines);
    check_refused(place, season(), wrong_input, file.lines);
  }
}

TEST_CASE("rain that is not known cannot be kept in an account") {
  const Place place;
  place.write("weather.csv",
              weather_of("date,tmin_c,tmax_c,rain_mm", "2023-06-01,11,23,0\n2023-06-02,11,23,\n"));
  check_refused(place, season(), wrong_input,
                {"weather.csv:5:18: found nothing in rain_mm on 2023-06-02; expected an amount: "
                 "unknown rain cannot "
                 "be kept in an account (or --fill-gaps, which takes it as none)"});
  CHECK(run_program(place, et0()).exit_code == 0);
}

TEST_CASE("at most twenty problems of a file are shown") {
  const Place place;
  std::string rows;
  std::vector<std::string> lines;
  for (int day = 1; day <= 25; ++day) {
    const std::string two_digits = (day < 10 ? "0" : "") + std::to_string(day);
    rows += "2023-06-" + two_digits + ",30,20\n";
    if (day <= 20) {
      lines.push_back("weather.csv:" + std::to_string(day + 3) +
                      ":12: found tmin_c 30 above tmax_c 20; expected the lowest temperature at or "
                      "below the highest");
    }
  }
  place.write("weather.csv", weather_of("date,tmin_c,tmax_c", rows));
  check_refused(place, et0(), wrong_input, lines);
}

TEST_CASE("a wrong garden") {
  const Place place;
  for (const WrongFile& file : wrong_gardens()) {
    INFO(file.what);
    place.write("garden.csv", file.text);
    check_refused(place, season(), wrong_input, file.lines);
  }
}

TEST_CASE("a wrong site file") {
  const Place place;
  for (const WrongFile& file : wrong_sites()) {
    INFO(file.what);
    place.write("site.ini", file.text);
    check_refused(place, et0({"--site", "site.ini"}), wrong_input, file.lines);
  }
}

TEST_CASE("a wrong request") {
  const Place place;
  for (const WrongRequest& request : wrong_requests()) {
    check_refused(place, request.arguments, wrong_request, request.lines);
  }
}

TEST_CASE("an option without its value does not swallow the next one") {
  const Place place;
  const std::string before = place.listing();
  const std::string after = " without a value; expected one after it";
  for (const WrongRequest& request : std::vector<WrongRequest>{
           {et0({"--from"}), {"found --from" + after}},
           {et0({"--from="}), {"found --from" + after}},
           {et0({"--output"}), {"found --output" + after}},
           {et0({"--from", "--to", "2023-06-02"}), {"found --from" + after}},
           {et0({"--output", "--format", "csv"}), {"found --output" + after}},
           {et0({"--output", "--steps"}), {"found --output" + after}},
           {{"et0", "--weather", "--steps"}, {"found --weather" + after}},
           {et0({"--steps=yes"}), {"found --steps with a value; expected it without one"}}}) {
    INFO(command_line(request.arguments));
    const Outcome outcome = run_program(place, request.arguments);
    CHECK(outcome.exit_code == wrong_request);
    CHECK(outcome.err == said(request.lines));
    CHECK(outcome.out.empty());
    CHECK(place.listing() == before);
  }
}

TEST_CASE("shortened options are refused, not guessed") {
  const Place place;
  // Each would be unambiguous.
  for (const char* option : {"--lat", "--latitud", "--elev", "--weath", "--step", "--form"}) {
    INFO(option);
    const Outcome outcome = run_program(place, et0({option, "40"}));
    CHECK(outcome.exit_code == wrong_request);
    CHECK(outcome.err.starts_with("wiltline: found unknown option \"" + std::string(option) +
                                  "\"; expected an option of wiltline et0"));
    CHECK(std::count(outcome.err.begin(), outcome.err.end(), '\n') == 1);
    CHECK(outcome.out.empty());
  }
  CHECK(run_program(place, et0({"--latitud", "40"})).err.ends_with("; nearest: --latitude\n"));
}

TEST_CASE("no command is no answer") {
  const Place place;
  const Outcome outcome = run_program(place, {});
  CHECK(outcome.exit_code == wrong_request);
  CHECK(outcome.err.ends_with("wiltline: no command; expected one of those above\n"));
}

TEST_CASE("every latitude up to the poles is taken") {
  const Place place;
  for (const char* latitude : {"90", "-90", "75", "-75", "-33.9", "0", "66.56"}) {
    INFO(latitude);
    CHECK(run_program(place, et0({"--latitude", latitude})).exit_code == 0);
    CHECK(run_program(place, et0({"--latitude=" + std::string(latitude)})).exit_code == 0);
    place.write("site.ini", "latitude_deg = " + std::string(latitude) + "\n");
    CHECK(run_program(place, et0({"--site", "site.ini"})).exit_code == 0);
  }
}

TEST_CASE("an output that cannot be written") {
  const Place place;
  const std::string before = place.listing();
  struct Refused {
    std::string path;
    std::string why;
  };
  for (const Refused& output :
       std::vector<Refused>{{"nothere/out.csv", "cannot be written: No such file or directory"},
                            {"folder", "found a folder; expected a file to write"},
                            {"folder/", "found a folder; expected a file to write"},
                            {"weather.csv/out.csv", "cannot be written: Not a directory"},
                            {"/dev/full", "cannot be written: No space left on device"}}) {
    for (const Words& words :
         {et0({"--output", output.path}), season({"--output", output.path}),
          Words{"list", "pots", "--output", output.path},
          capacity({"--pot", "nursery 11 l", "--mix", "potting mix", "--output", output.path})}) {
      INFO(command_line(words));
      const Outcome outcome = run_program(place, words);
      CHECK(outcome.exit_code == could_not_write);
      CHECK(outcome.err == said({output.path + ": " + output.why}));
      CHECK(outcome.out.empty());
      CHECK(place.listing() == before);
    }
  }
}

TEST_CASE("a standard output that cannot be written") {
  const Place place;
  const Outcome full =
      run_program({.arguments = et0(), .folder = place.path(), .output_path = "/dev/full"});
  CHECK(full.exit_code == could_not_write);
  CHECK(full.err == said({"standard output: cannot be written: No space left on device"}));
  const Outcome closed =
      run_program({.arguments = et0(), .folder = place.path(), .closed = {STDOUT_FILENO}});
  CHECK(closed.exit_code == could_not_write);
  CHECK(closed.err == said({"standard output: cannot be written: Bad file descriptor"}));
}

TEST_CASE("what is in the way of an answer leaves an old answer as it was") {
  const Place place;
  place.write("out.csv", "old\n");
  place.write("weather.csv", with_tmax("nan"));
  const std::string before = place.listing();
  CHECK(run_program(place, et0({"--output", "out.csv"})).exit_code == wrong_input);
  CHECK(place.read("out.csv") == "old\n");
  CHECK(place.listing() == before);
}

TEST_CASE("control characters of a wrong input are not repeated to the terminal") {
  const Place place;
  place.write("garden.csv", garden_with("crop", "to\x1b[31m\x07\xc2\x9bmato"));
  check_refused(place, season(), wrong_input,
                {"garden.csv:2:13: found unknown crop \"to?[31m??mato\"; expected a known crop "
                 "(wiltline list crops)"});
  const Outcome outcome = run_program(place, {"se\x1b[31mason"});
  CHECK(outcome.exit_code == wrong_request);
  CHECK(outcome.err.find('\x1b') == std::string::npos);
}

}  // namespace
}  // namespace wiltline::test
