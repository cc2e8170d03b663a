// Weather of other people's making through the program: what is said, what is written, what every
// other command makes of it.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "cli/run_program.hpp"

namespace wiltline::test {
namespace {

using Words = std::vector<std::string>;

const std::string layouts = std::string(WILTLINE_SOURCE) + "/weather-samples/layouts/";
const std::string service = layouts + "service.csv";
const std::string logger = layouts + "logger-hours.csv";
const std::string site = "# latitude_deg = 45\n# elevation_m = 100\n# wind_height_m = 2\n";

/// Days of June 2024, in a layout that is not ours.
std::string june(int first, int last, int wind_m_s = 2) {
  std::string text = site + "DATE;TMIN (C);TMAX (C);WIND (m/s);RAIN (mm)\n";
  for (int day = first; day <= last; ++day) {
    text += (day < 10 ? "0" : "") + std::to_string(day) + ".06.2024;8,5;21;" +
            std::to_string(wind_m_s) + ";0\n";
  }
  return text;
}

}  // namespace

TEST_CASE("what weather --output writes is what every command reads") {
  const ScratchFolder place;
  const Outcome written =
      run_program(place, {"weather", service, "--wind-height", "2", "--output", "ours.csv"});
  CHECK(written.exit_code == 0);
  CHECK(written.err.empty());
  CHECK(written.out.find("layout ghcn-us") != std::string::npos);
  CHECK(written.out.find("left out: NAME, SNOW") != std::string::npos);
  const Outcome ours = run_program(place, {"et0", "--weather", "ours.csv", "--format", "csv"});
  const Outcome theirs =
      run_program(place, {"et0", "--weather", service, "--wind-height", "2", "--format", "csv"});
  CHECK(ours.exit_code == 0);
  CHECK(ours.out == theirs.out);
  CHECK(theirs.err.find(service + ": layout ghcn-us; ") != std::string::npos);
  CHECK(ours.err.find("layout") == std::string::npos);
}

TEST_CASE("hours as days, and their sum beside the day's equation") {
  const ScratchFolder place;
  const Outcome days = run_program(place, {"weather", logger, "--format", "csv"});
  CHECK(days.exit_code == 0);
  CHECK(days.out.find(",2022-07-01,2022-07-31,31,0,46.4") != std::string::npos);
  const Outcome hours =
      run_program(place, {"et0", "--hourly", "--weather", logger, "--format", "csv"});
  CHECK(hours.exit_code == 0);
  CHECK(std::count(hours.out.begin(), hours.out.end(), '\n') == 31 * 24 + 1);
  CHECK(hours.err.find("on 31 whole days the hours add up to") != std::string::npos);
  const Outcome daily =
      run_program(place, {"et0", "--hourly", "--weather", service, "--wind-height", "2"});
  CHECK(daily.exit_code == 3);
  CHECK(daily.err.find("found daily weather; expected hours, or parts of an hour") !=
        std::string::npos);
}

TEST_CASE("files of one place are joined, overlaps must agree; standard input is a file too") {
  const ScratchFolder place;
  place.write("first.csv", june(1, 20));
  place.write("second.csv", june(15, 30));
  place.write("other.csv", june(15, 30, 3));
  const Outcome joined =
      run_program(place, {"weather", "first.csv", "second.csv", "--format", "csv"});
  CHECK(joined.exit_code == 0);
  CHECK(joined.out.find("first.csv and second.csv,2024-06-01,2024-06-30,30,") != std::string::npos);
  const Outcome apart = run_program(place, {"weather", "first.csv", "other.csv"});
  CHECK(apart.exit_code == 3);
  CHECK(
      apart.err.find("other.csv: found 2024-06-15 with wind_m_s 3; expected the day that first.csv "
                     "has too, wind_m_s 2: all its readings the same") != std::string::npos);
  const Outcome piped = run_program(place, {"weather", "-", "--format", "csv"}, june(1, 20));
  CHECK(piped.exit_code == 0);
  CHECK(piped.out.find("(standard input),2024-06-01,2024-06-20,20,") != std::string::npos);
}

TEST_CASE("dates that read two ways need --dates") {
  const ScratchFolder place;
  place.write("w.csv", june(1, 12));
  const Outcome open = run_program(place, {"et0", "--weather", "w.csv"});
  CHECK(open.exit_code == 3);
  CHECK(open.err ==
        "wiltline: w.csv:5:1: found \"01.06.2024\", which can be day, month, year or month, day, "
        "year; "
        "expected to be told which: dmy or mdy (--dates)\n");
  CHECK(run_program(place, {"et0", "--weather", "w.csv", "--dates", "dmy"}).exit_code == 0);
  const Outcome word = run_program(place, {"et0", "--weather", "w.csv", "--dates", "day"});
  CHECK(word.exit_code == 2);
  CHECK(word.err == "wiltline: --dates: found \"day\"; expected one of ymd, dmy, mdy\n");
}

TEST_CASE("what makes no sense is a caution, with --strict an error") {
  const ScratchFolder place;
  place.write("w.csv", june(1, 30, 14));
  const Outcome caution = run_program(place, {"et0", "--weather", "w.csv", "--format", "csv"});
  CHECK(caution.exit_code == 0);
  CHECK(
      caution.err.find("caution: w.csv: mean wind of 14 m/s: is it km/h, or the strongest gust?") !=
      std::string::npos);
  const Outcome strict = run_program(place, {"weather", "w.csv", "--strict"});
  CHECK(strict.exit_code == 3);
  CHECK(strict.out.empty());
  CHECK(strict.err ==
        "wiltline: w.csv: found mean wind of 14 m/s: is it km/h, or the strongest gust?; expected "
        "weather that makes sense as a whole\n");
}

TEST_CASE("days drawn by chance are said to be so in every answer") {
  const ScratchFolder place;
  place.write("w.csv", "# generated_days = yes\n" + june(1, 30, 2));
  const std::string said = "w.csv: days drawn by chance from means of months, neither measured nor";
  const Outcome et0 = run_program(place, {"et0", "--weather", "w.csv", "--format", "csv"});
  CHECK(et0.err.find(said) != std::string::npos);
  const Outcome heat = run_program(place, {"heatwave", "--crop", "basil", "--pots", "clay 3 l",
                                           "--full-grown", "--days", "2", "--weather", "w.csv"});
  CHECK(heat.exit_code == 0);
  CHECK(heat.out.find(said) != std::string::npos);
  place.write("w.csv", june(1, 30, 2));
  CHECK(
      run_program(place, {"et0", "--weather", "w.csv", "--format", "csv"}).err.find("by chance") ==
      std::string::npos);
}

TEST_CASE("typical days: made of months, said to be so there and wherever they are used") {
  const ScratchFolder place;
  const std::string months = "morvane.csv";
  place.write(months, bytes_of(std::string(WILTLINE_SOURCE) + "/weather-samples/months/" + months));
  const auto make = [&](Words more) {
    more.insert(more.begin(), {"weather", "--typical", months});
    return run_program(place, more);
  };
  const std::string said = "days drawn by chance from means of months, neither measured nor";
  const Outcome made = make({"--years", "3", "--output", "days.csv"});
  CHECK(made.exit_code == 0);
  CHECK(made.out.find("  means of twelve months: highest and lowest temperature, rain, days with "
                      "rain, wind, relative\n    humidity, sunshine\n") != std::string::npos);
  CHECK(made.out.find("3 years of days, 2001-01-01 to 2003-12-31, drawn by chance (seed 1)") !=
        std::string::npos);
  CHECK(made.out.find(said) != std::string::npos);
  const Outcome used = run_program(place, {"heatwave", "--crop", "basil", "--pots", "clay 3 l",
                                           "--full-grown", "--weather", "days.csv"});
  CHECK(used.exit_code == 0);
  CHECK(used.out.find("days.csv: " + said) != std::string::npos);
  // The same days as CSV and through the file; another seed, other days.
  const Outcome csv = make({"--years", "3", "--format", "csv"});
  CHECK(csv.err.find(said) != std::string::npos);
  const Outcome read = run_program(place, {"weather", "days.csv", "--format", "csv"});
  const auto figures = [](const Outcome& outcome) {
    const std::size_t row = outcome.out.find('\n') + 1;
    return outcome.out.substr(outcome.out.find(',', row));
  };
  CHECK(figures(read) == figures(csv));
  CHECK(figures(make({"--years", "3", "--format", "csv", "--seed", "2"})) != figures(csv));
  CHECK(make({"--format", "csv"}).out.find(",2001-01-01,2020-12-31,7305,0,47.3") !=
        std::string::npos);
  const auto refused = [&](const Words& words, const std::string& line) {
    const Outcome outcome = run_program(place, words);
    CHECK(outcome.exit_code == 2);
    CHECK(outcome.err == "wiltline: " + line + "\n");
  };
  refused({"weather", "days.csv", "--typical", months},
          "found a weather file beside --typical; expected one of them");
  refused({"weather", "days.csv", "--seed", "2"}, "found --seed without --typical; expected both");
  refused({"weather", "--typical", months, "--years", "0"},
          "--years: found 0; expected a whole number from 1 to 200");
  refused({"weather", "--typical", months, "--from", "2001-05-01"},
          "found --from beside --typical; expected it only with weather files");
  const Outcome daily = run_program(place, {"weather", "--typical", "days.csv"});
  CHECK(daily.exit_code == 3);
  CHECK(daily.err.find("days.csv:") != std::string::npos);
  place.write("months.csv", "month,tmax_c,tmin_c,rain_mm,rain_days\n1,5,0,60,10\n");
  CHECK(run_program(place, {"weather", "--typical", "months.csv", "--output", "months.csv"})
            .exit_code == 2);
  const Outcome short_one =
      run_program(place, {"weather", "--typical", "months.csv", "--latitude", "47", "--elevation",
                          "100", "--output", "none.csv"});
  CHECK(short_one.exit_code == 3);
  CHECK(short_one.err ==
        "wiltline: months.csv: found no month 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12; expected all "
        "twelve\n");
  CHECK(place.listing().find("none.csv") == std::string::npos);
}

TEST_CASE("a table of columns, a layout by name, and what is refused of them") {
  const ScratchFolder place;
  place.write("w.csv", site + "A,B,C\n2024-06-01,85,210\n2024-06-02,90,220\n");
  place.write("columns.csv", "column,is,unit\nA,date,\nB,tmin,0.1 c\nC,tmax,0.1 c\n");
  const Outcome told =
      run_program(place, {"weather", "w.csv", "--columns", "columns.csv", "--output", "-"});
  CHECK(told.exit_code == 0);
  CHECK(told.out.find("2024-06-01,8.5,21\n2024-06-02,9,22\n") != std::string::npos);
  CHECK(run_program(place, {"weather", "w.csv", "--layout", "ghcn"}).exit_code == 2);
  CHECK(run_program(place,
                    {"weather", "w.csv", "--columns", "columns.csv", "--output", "columns.csv"})
            .exit_code == 2);
  CHECK(run_program(place, {"weather"}).exit_code == 2);
  place.write("two.csv",
              site + "station,date,low (C),high (C)\nX,2024-06-01,8,21\nY,2024-06-01,9,22\n");
  const Outcome two = run_program(place, {"weather", "two.csv", "--output", "ours.csv"});
  CHECK(two.exit_code == 2);
  CHECK(two.err ==
        "wiltline: --output: found 2 places in these files; expected one, for a file of ours holds "
        "one\n");
  CHECK(place.listing().find("ours.csv") == std::string::npos);
}

}  // namespace wiltline::test
