// What is read is never replaced by the answer; and what an answer says of inputs without effect or
// given twice.
#include <doctest/doctest.h>

#include <filesystem>
#include <string>
#include <vector>

#include "cli/run_program.hpp"

namespace wiltline::test {
namespace {

using Words = std::vector<std::string>;

struct Place : ScratchFolder {
  Place() {
    weather = "# latitude_deg = 45\n# elevation_m = 100\ndate,tmin_c,tmax_c,rain_mm\n";
    for (int day = 10; day <= 29; ++day) {
      weather += "2023-06-" + std::to_string(day) + ",11,2" + std::to_string(day % 10) + ",0\n";
    }
    garden =
        "name,crop,pot,mix,plants,planted,spot,routine\n"
        "t,tomato,nursery 37 l,potting mix,1,2023-06-10,patio,daily 07:00\n";
    write("weather.csv", weather);
    write("garden.csv", garden);
    write("site.ini", "latitude_deg = 45\n");
  }
  std::string weather, garden;
};

Words season(const Words& more) {
  Words words{"season", "--garden", "garden.csv", "--weather", "weather.csv"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

TEST_CASE("an answer never replaces what it was made from") {
  const Place place;
  const std::filesystem::path folder = place.path();
  std::filesystem::create_hard_link(folder / "garden.csv", folder / "hard.csv");
  std::filesystem::create_symlink("garden.csv", folder / "soft.csv");
  std::filesystem::create_directory(folder / "models");
  std::filesystem::copy_file(std::filesystem::path(WILTLINE_SOURCE) / "models/walls.csv",
                             folder / "models/walls.csv");
  const std::string before = place.listing();
  for (const std::string path :
       {"garden.csv", "./garden.csv", "hard.csv", "soft.csv", "weather.csv",
        "models/../weather.csv", "site.ini", "models/walls.csv"}) {
    const Outcome outcome =
        run_program(place, season({"--site", "site.ini", "--models", "models", "--output", path}));
    INFO(path << "\n" << outcome.err);
    CHECK(outcome.exit_code == 2);
    CHECK(outcome.err.find("--output: found \"" + path + "\", read as ") != std::string::npos);
    CHECK(outcome.out.empty());
  }
  CHECK(place.listing() == before);
  CHECK(place.read("garden.csv") == place.garden);
  CHECK(place.read("weather.csv") == place.weather);
  CHECK(run_program(place, season({"--output", "new.csv"})).exit_code == 0);
  CHECK(run_program(place, season({"--output", "new.csv"})).exit_code == 0);  // its own, again
  const Outcome et0 =
      run_program(place, {"et0", "--weather", "weather.csv", "--output", "weather.csv"});
  CHECK(et0.exit_code == 2);
}

TEST_CASE("a saved state replaces the state it goes on from, and no other input") {
  const Place place;
  const auto forecast = [&](const Words& more) {
    Words words{"forecast", "--garden",         "garden.csv", "--weather", "weather.csv",
                "--now",    "2023-06-29T09:00", "--days",     "1"};
    words.insert(words.end(), more.begin(), more.end());
    return run_program(place, words);
  };
  CHECK(forecast({"--save-state", "state.csv"}).exit_code == 0);
  CHECK(forecast({"--state", "state.csv", "--save-state", "state.csv"}).exit_code == 0);
  const Outcome garden = forecast({"--save-state", "garden.csv"});
  CHECK(garden.exit_code == 2);
  CHECK(garden.err.find("--save-state: found \"garden.csv\", read as --garden") !=
        std::string::npos);
  CHECK(forecast({"--state", "state.csv", "--output", "state.csv"}).exit_code == 2);
  CHECK(forecast({"--output", "one.csv", "--save-state", "./one.csv"}).exit_code == 2);
  CHECK(place.read("garden.csv") == place.garden);
}

TEST_CASE("what changes nothing in this weather is said") {
  const Place place;
  const Outcome outcome =
      run_program(place, season({"--away", "06-12/06-14", "--away", "01-02/01-20"}));
  CHECK(outcome.exit_code == 0);
  CHECK(outcome.out.find("without effect, on no day of growth in this weather: away 01-02/01-20 of "
                         "t") != std::string::npos);
  CHECK(outcome.out.find("away 06-12/06-14 of") == std::string::npos);
}

TEST_CASE("a helper on no day of the season is refused, with days of it taken") {
  const Place place;
  const Outcome outcome =
      run_program(place, season({"--helper", "01-02/01-20 every 2 days 18:00"}));
  CHECK(outcome.exit_code == 2);
  CHECK(outcome.err ==
        "wiltline: --helper: found 01-02/01-20, when nothing of garden.csv grows; expected days of "
        "its season\n");
  CHECK(outcome.out.empty());
  CHECK(run_program(place, season({"--helper", "06-12/06-20 every 2 days 18:00"})).exit_code == 0);
}

TEST_CASE("the same weather twice is refused, under whatever name") {
  const Place place;
  place.write("copy.csv", "# a copy\n" + place.weather);
  for (const char* second : {"weather.csv", "copy.csv"}) {
    const Outcome outcome = run_program(place, season({"--weather", second}));
    CHECK(outcome.exit_code == 2);
    CHECK(outcome.err ==
          std::string("wiltline: ") + second +
              ": found the days of weather.csv a second time; expected every weather "
              "record once\n");
    CHECK(outcome.out.empty());
  }
}

TEST_CASE("clock and longitude typed against each other") {
  const Place place;
  const Outcome outcome = run_program(place, season({"--longitude", "-74", "--utc-offset", "5"}));
  CHECK(outcome.exit_code == 2);
  CHECK(
      outcome.err.find("--longitude and --utc-offset: found utc_offset_h 5 at longitude_deg -74") !=
      std::string::npos);
}

}  // namespace
}  // namespace wiltline::test
