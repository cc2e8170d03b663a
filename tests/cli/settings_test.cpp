// A starter folder, and the settings file that commands take from beside a garden.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include "cli/run_program.hpp"

namespace wiltline::test {
namespace {

using Words = std::vector<std::string>;

const std::string weather =
    "# latitude_deg = 46\n# elevation_m = 200\ndate,tmin_c,tmax_c,rain_mm\n"
    "2023-06-01,11,23,0\n2023-06-02,12,24,3.5\n2023-06-03,13,25,0\n";
const std::string garden =
    "name,crop,pot,mix,plants,planted,spot,routine\n"
    "tall tomato,tomato,nursery 37 l,potting mix,1,2023-06-01,patio,daily 07:00\n";

/// garden.csv, weather.csv and wiltline.ini in g/.
void write_folder(const ScratchFolder& folder, const std::string& settings) {
  std::filesystem::create_directory(folder.path() / "g");
  folder.write("g/garden.csv", garden);
  folder.write("g/weather.csv", weather);
  folder.write("g/wiltline.ini", settings);
}

std::string refused(const ScratchFolder& folder, const std::string& settings, int exit_code = 3) {
  folder.write("g/wiltline.ini", settings);
  const Outcome outcome = run_program(folder, {"season", "--garden", "g/garden.csv"});
  CHECK(outcome.exit_code == exit_code);
  CHECK(outcome.out.empty());
  return outcome.err;
}

bool says(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("settings: taken from beside the garden, said, and the same as if typed") {
  const ScratchFolder folder;
  write_folder(folder,
               "\xEF\xBB\xBF# mine\r\nweather = weather.csv\r\nunits = us\r\ncan = 10 l\r\n");
  const Outcome set = run_program(folder, {"season", "--garden", "g/garden.csv"});
  CHECK(set.exit_code == 0);
  const std::string note = "from g/wiltline.ini: weather weather.csv, units us";
  CHECK(says(set.out, note));
  Words typed{"season", "--garden", "g/garden.csv", "--weather", "g/weather.csv", "--units", "us"};
  const Outcome said = run_program(folder, typed);
  CHECK_FALSE(says(said.out, "wiltline.ini"));
  std::string without = set.out;
  without.erase(without.find(note), note.size() + 1);
  CHECK(without == said.out);
  const Outcome csv =
      run_program(folder, {"season", "--garden", "g/garden.csv", "--format", "csv"});
  CHECK(says(csv.err, note));
  CHECK(says(run_program(folder, {"season", "--garden", "g/garden.csv", "--format", "json"}).out,
             '"' + note + '"'));
}

TEST_CASE("settings: options go first, --no-settings takes nothing") {
  const ScratchFolder folder;
  write_folder(folder, "weather = gone.csv\nsite = gone.ini\nunits = us\n");
  // A site goes with its weather.
  const Outcome outcome =
      run_program(folder, {"season", "--garden", "g/garden.csv", "--weather", "g/weather.csv"});
  CHECK(outcome.exit_code == 0);
  CHECK(says(outcome.out, "from g/wiltline.ini: units us"));
  const Outcome metric = run_program(folder, {"season", "--garden", "g/garden.csv", "--weather",
                                              "g/weather.csv", "--units", "metric"});
  CHECK(metric.exit_code == 0);
  CHECK_FALSE(says(metric.out, "wiltline.ini"));
  const Outcome without =
      run_program(folder, {"season", "--garden", "g/garden.csv", "--no-settings"});
  CHECK(without.exit_code == 2);
  CHECK(without.err == "wiltline: no weather; expected --weather FILE\n");
}

TEST_CASE("settings: a garden is not taken where one crop or pot is asked about") {
  const ScratchFolder folder;
  write_folder(folder, "weather = weather.csv\ngarden = garden.csv\n");
  const auto in_g = [&](Words words) {
    return run_program({.arguments = std::move(words), .folder = folder.path() / "g"});
  };
  CHECK(says(in_g({"season"}).out, "garden garden.csv"));
  const Outcome heat =
      in_g({"heatwave", "--crop", "basil", "--pots", "clay 3 l", "--full-grown", "--days", "2"});
  CHECK(heat.exit_code == 0);
  CHECK(says(heat.out, "from wiltline.ini: weather weather.csv"));
  CHECK_FALSE(says(heat.out, "garden.csv"));
  CHECK(in_g({"capacity", "--pot", "clay 3 l", "--mix", "potting mix"}).exit_code == 0);
  CHECK(says(in_g({"capacity"}).out, "tall tomato"));
}

TEST_CASE("settings: several files of weather, each a line") {
  const ScratchFolder folder;
  write_folder(folder, "weather = weather.csv\nweather = other.csv\n");
  std::string later = weather;
  for (std::size_t at = 0; (at = later.find("\n20", at)) != std::string::npos; ++at)
    later[at + 3] = '3';
  folder.write("g/other.csv", later);
  const Outcome outcome = run_program(folder, {"et0", "--no-settings", "--weather", "g/other.csv"});
  CHECK(outcome.exit_code == 0);
  const Outcome both =
      run_program({.arguments = {"et0", "--format", "csv"}, .folder = folder.path() / "g"});
  CHECK(says(both.err, "from wiltline.ini: weather weather.csv, weather other.csv"));
}

TEST_CASE("settings: what is wrong gets one line with its place") {
  const ScratchFolder folder;
  write_folder(folder, "");
  CHECK(refused(folder, "# mine\nwether = weather.csv\n") ==
        "wiltline: g/wiltline.ini:2: found unknown setting \"wether\"; expected one of weather, "
        "site, "
        "garden, units, can; nearest: weather\n");
  CHECK(
      refused(folder, "weather =\n") ==
      "wiltline: g/wiltline.ini:1: found weather without a value; expected a value after the =\n");
  CHECK(refused(folder, "units = us\nunits = metric\n") ==
        "wiltline: g/wiltline.ini:2: found units a second time; expected it once\n");
  CHECK(refused(folder, "units = imperial\n") ==
        "wiltline: g/wiltline.ini:1: found units \"imperial\"; expected metric or us\n");
  for (const char* line : {"weather weather.csv", "[garden]"}) {
    CHECK(refused(folder, std::string(line) + "\n") ==
          "wiltline: g/wiltline.ini:1: found \"" + std::string(line) +
              "\"; expected a setting as weather = FILE\n");
  }
  CHECK(refused(folder, "weather = gone.csv\n", 2) ==
        "wiltline: g/gone.csv: cannot be opened: No such file or directory\n");
}

TEST_CASE("settings: an answer never replaces them") {
  const ScratchFolder folder;
  write_folder(folder, "weather = weather.csv\n");
  const Outcome outcome =
      run_program(folder, {"season", "--garden", "g/garden.csv", "--output", "g/wiltline.ini"});
  CHECK(outcome.exit_code == 2);
  CHECK(folder.read("g/wiltline.ini") == "weather = weather.csv\n");
}

TEST_CASE("begin: a folder in which every command it names runs") {
  const std::string sample = std::string(WILTLINE_SOURCE) + "/weather-samples/tolvenau.csv";
  const ScratchFolder folder;
  folder.write("summer.csv", bytes_of(sample));
  const Outcome outcome =
      run_program(folder, {"begin", "mine", "--weather", "summer.csv", "--units", "us"});
  CHECK(outcome.exit_code == 0);
  CHECK(outcome.out ==
        "Written to mine: garden.csv, wiltline.ini and readme.txt, which says how to go on.\n");
  CHECK(folder.read("mine/wiltline.ini") ==
        "# What commands run in this folder take where an option does not say otherwise.\n"
        "weather = ../summer.csv\ngarden = garden.csv\nunits = us\n");
  const std::string readme = folder.read("mine/readme.txt");
  CHECK(std::count(readme.begin(), readme.end(), '\n') == 5);
  for (const Words& words : {Words{"season"}, Words{"heatwave"}, Words{"absence", "--days", "3"},
                             Words{"capacity", "--bag", "1.5cuft"}}) {
    CAPTURE(words.front());
    const Outcome run = run_program({.arguments = words, .folder = folder.path() / "mine"});
    CHECK(run.exit_code == 0);
    CHECK(run.err.empty());
    CHECK(says(run.out, "tomato by the wall"));
    CHECK(says(run.out, "from wiltline.ini: "));
  }
  CHECK(run_program(folder, {"begin", "bare"}).exit_code == 0);
  CHECK(says(folder.read("bare/wiltline.ini"), "\nweather = weather.csv\n"));
}

TEST_CASE("begin: the starter garden is planted half a year later south of the equator") {
  const ScratchFolder folder;
  const std::string days = "date,tmin_c,tmax_c,rain_mm\n2023-06-01,11,23,0\n2023-06-02,12,24,0\n";
  for (const auto& [name, latitude] : {std::pair{"north", "34.9"}, {"south", "-34.9"}}) {
    folder.write(std::string(name) + ".csv",
                 "# latitude_deg = " + std::string(latitude) + "\n# elevation_m = 200\n" + days);
    const Outcome outcome =
        run_program(folder, {"begin", name, "--weather", std::string(name) + ".csv"});
    REQUIRE(outcome.exit_code == 0);
    CHECK(says(outcome.out, "Planting days are of the south") == (latitude[0] == '-'));
  }
  const std::string north = folder.read("north/garden.csv");
  const std::string south = folder.read("south/garden.csv");
  CHECK(says(north, "tomato by the wall,tomato,nursery 37 l,vegetable mix,1,05-15,"));
  CHECK(says(south, "tomato by the wall,tomato,nursery 37 l,vegetable mix,1,11-15,"));
  CHECK(says(south, "thyme,thyme,clay 4 l,herb mix,1,10-20,"));
  CHECK(north.size() == south.size());
  // Weather that cannot be read tells nothing of where the garden is.
  folder.write("bad.csv", "nothing\n");
  const Outcome unread = run_program(folder, {"begin", "bad", "--weather", "bad.csv"});
  REQUIRE(unread.exit_code == 0);
  CHECK(says(unread.out, "Planting days are of the north: the weather could not be read."));
  CHECK(folder.read("bad/garden.csv") == north);
}

TEST_CASE("begin: never over something, and all or nothing") {
  const ScratchFolder folder;
  std::filesystem::create_directory(folder.path() / "mine");
  folder.write("mine/readme.txt", "my own");
  const Outcome outcome = run_program(folder, {"begin", "mine"});
  CHECK(outcome.exit_code == 2);
  CHECK(outcome.out.empty());
  CHECK(outcome.err ==
        "wiltline: mine: found \"readme.txt\" there already; expected a folder without it\n");
  CHECK(folder.read("mine/readme.txt") == "my own");
  CHECK_FALSE(std::filesystem::exists(folder.path() / "mine/garden.csv"));

  folder.write("file", "");
  const Outcome no_folder = run_program(folder, {"begin", "file"});
  CHECK(no_folder.exit_code == 1);
  CHECK(folder.read("file").empty());
  CHECK(run_program(folder, {"begin", "no/folder"}).exit_code == 1);
  CHECK(run_program(folder, {"begin"}).err ==
        "wiltline: no folder; expected wiltline begin FOLDER\n");
  const Outcome gone = run_program(folder, {"begin", "other", "--weather", "gone.csv"});
  CHECK(gone.exit_code == 2);
  CHECK_FALSE(std::filesystem::exists(folder.path() / "other"));
}

}  // namespace wiltline::test
