// The same question in metric and in US units, and where summer is in January.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <string>
#include <vector>

#include "cli/run_program.hpp"
#include "cli/twin_weather.hpp"
#include "wiltline/base/date.hpp"

namespace wiltline::test {
namespace {

using Words = std::vector<std::string>;

std::string answer(const ScratchFolder& folder, Words words, const Words& more) {
  words.insert(words.end(), more.begin(), more.end());
  const Outcome outcome = run_program(folder, words);
  INFO(command_line(words) << outcome.err);
  REQUIRE(outcome.exit_code == 0);
  return outcome.out;
}

TEST_CASE("the same answer from the same inputs in metric and US units") {
  const ScratchFolder folder;
  const TwinWeather weather = twin_summer(44.0, make_date(2023, 5, 1), 140);
  folder.write("weather.csv", weather.metric);
  folder.write("weather-us.csv", weather.us);
  const std::string row = "it,pepper,nursery 11 l,potting mix,1,05-15,patio,daily 07:00,";
  const std::string header = "name,crop,pot,mix,plants,planted,spot,routine,";
  folder.write("garden.csv", header + "volume_l,saucer_l\n" + row + "15.141647136,0.946352946\n");
  folder.write("garden-us.csv", header + "volume_gal,saucer_gal\n" + row + "4,0.25\n");
  const auto ask = [&](const std::string& twin, const Words& planting, const Words& form) {
    Words words{"absence", "--weather", "weather" + twin + ".csv", "--days", "2d6h"};
    for (const std::string& word : planting) {
      words.push_back(word == "GARDEN" ? "garden" + twin + ".csv" : word);
    }
    std::string text = answer(folder, words, form);
    // The name of the file is all that may differ.
    for (std::size_t at; (at = text.find("weather-us.csv")) != std::string::npos;) {
      text.replace(at, std::string("weather-us.csv").size(), "weather.csv");
    }
    return text;
  };
  for (const Words& planting : {Words{"--garden", "GARDEN"}, Words{"--crop", "tomato dwarf"}}) {
    for (const Words& form : {Words{"--format", "csv"}, Words{}, Words{"--units", "us"}}) {
      CHECK(ask("", planting, form) == ask("-us", planting, form));
    }
    CHECK(ask("", planting, {"--format", "csv"}) ==
          ask("", planting, {"--format", "csv", "--units", "us"}));
  }
  // Neither all passed nor all failed, or equality would prove little.
  const std::string csv = ask("", {"--crop", "tomato dwarf"}, {"--format", "csv"});
  CHECK(csv.find(",0.000,") != std::string::npos);
  CHECK(csv.find(",1.000,") != std::string::npos);
}

TEST_CASE("south of the equator a tomato is planted in November") {
  const ScratchFolder folder;
  folder.write("weather.csv", twin_summer(-34.0, make_date(2022, 10, 1), 180).metric);
  const Words words{"absence", "--weather", "weather.csv", "--crop", "tomato",      "--days",
                    "1",       "--months",  "12-2",        "--pots", "nursery 37 l"};
  const std::string table = answer(folder, words, {});
  CHECK(table.find("planted 15 Nov") != std::string::npos);
  CHECK(table.find("on any day of December to") != std::string::npos);
  // From the day on which roots hold half the mix.
  CHECK(table.find("of 88") != std::string::npos);
  CHECK(table.find("only 1 summer of weather: give several") != std::string::npos);
  // Without --months the warmest of the record, here January to March.
  std::string warm_at_last = "# latitude_deg = -34\n# elevation_m = 120\ndate,tmin_c,tmax_c\n";
  for (Date date = make_date(2022, 10, 1); date < make_date(2023, 4, 1);
       date += std::chrono::days(1)) {
    warm_at_last += fmt::format("{},12,{}\n", to_string(date), year_of(date) == 2023 ? 30 : 22);
  }
  folder.write("weather.csv", warm_at_last);
  const Words unsaid{"absence", "--weather", "weather.csv", "--crop",      "tomato",
                     "--days",  "1",         "--pots",      "nursery 37 l"};
  const std::string warmest = answer(folder, unsaid, {});
  CHECK(warmest.find("on any day of January to") != std::string::npos);
}

TEST_CASE("months and times are read as people write them") {
  const ScratchFolder folder;
  folder.write("weather.csv", twin_summer(44.0, make_date(2023, 5, 1), 140).metric);
  const auto ask = [&](const Words& more) {
    return answer(folder,
                  {"absence", "--weather", "weather.csv", "--crop", "basil", "--kind", "clay",
                   "--format", "csv"},
                  more);
  };
  const std::string two_and_a_half = ask({"--days", "2.5", "--months", "7-8"});
  CHECK(ask({"--days", "2d12h", "--months", "jul-aug"}) == two_and_a_half);
  CHECK(ask({"--days", "60h", "--months", "July-August"}) == two_and_a_half);
  CHECK(ask({"--days", "2d 12h", "--leave", "18:00", "--months", "7-08"}) == two_and_a_half);
  CHECK(ask({"--days", "2", "--months", "7-8"}) != two_and_a_half);
}

TEST_CASE("absence: other pots have saucers of their own size, and hanging ones none") {
  const ScratchFolder folder;
  const std::string weather = std::string(WILTLINE_SOURCE) + "/weather-samples/tolvenau.csv";
  folder.write("saucer.csv",
               "name,crop,pot,mix,plants,planted,spot,routine,saucer_l\n"
               "patio tomato,patio tomato,glazed 18 l,potting mix,1,05-20,balcony,daily "
               "19:00,1.5\n");
  const Words asked{"absence", "--garden", "saucer.csv", "--days", "4", "--weather", weather};
  const std::string table = answer(folder, asked, {});
  INFO(table);
  CHECK(table.find("cell 0.0") == std::string::npos);
  CHECK(table.find("other pots have a saucer with water as deep") != std::string::npos);
  folder.write("hanging.csv",
               "name,crop,pot,mix,plants,planted,spot,routine\n"
               "berries,strawberry,hanging basket 10 l,coir mix,3,04-01,under eaves,daily 08:00\n");
  const std::string hanging = answer(
      folder, {"absence", "--garden", "hanging.csv", "--days", "4", "--weather", weather}, {});
  INFO(hanging);
  CHECK(hanging.find("would have helped") != std::string::npos);
  CHECK(hanging.find("a saucer with") == std::string::npos);
  // More than the pot's mix stands in no saucer.
  folder.write("sea.csv",
               "name,crop,pot,mix,plants,planted,spot,routine,saucer_l\n"
               "thyme,thyme,clay 4 l,herb mix,1,04-20,patio,daily 07:00,4.5\n");
  const Outcome refused =
      run_program(folder, {"absence", "--garden", "sea.csv", "--days", "4", "--weather", weather});
  CHECK(refused.exit_code == 3);
  CHECK(refused.err.starts_with(
      "wiltline: sea.csv:2:57: found 4.5 litres in the saucer; expected at most the pot's "));
}

}  // namespace
}  // namespace wiltline::test
