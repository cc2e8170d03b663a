// What the program reads from and writes to besides ordinary files.
#include <doctest/doctest.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <future>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <thread>
#include <utility>
#include <vector>

#include "cli/run_program.hpp"

namespace wiltline::test {
namespace {

using Json = nlohmann::json;
using Words = std::vector<std::string>;

const std::string weather =
    "# latitude_deg = 46\n# elevation_m = 200\n"
    "date,tmin_c,tmax_c,rain_mm\n"
    "2023-06-01,11,23,0\n2023-06-02,12,24,3.5\n2023-06-03,13,25,0\n";
const std::string garden =
    "name,crop,pot,mix,plants,planted,spot,routine\n"
    "broccoli,broccoli,nursery 18 l,coir mix,1,06-01,patio,daily 07:00\n";

struct Place : ScratchFolder {
  Place() {
    write("weather.csv", weather);
    write("garden.csv", garden);
  }
  [[nodiscard]] mode_t mode_of(const std::string& name) const {
    struct stat status {};
    REQUIRE(::stat((path() / name).c_str(), &status) == 0);
    return status.st_mode;
  }
};

Words et0(const Words& more = {}) {
  Words words{"et0", "--weather", "weather.csv", "--format", "csv"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

std::string answer(const Place& place) {
  const Outcome outcome = run_program(place, et0());
  REQUIRE(outcome.exit_code == 0);
  REQUIRE(outcome.out.starts_with("date,et0_mm,estimated\n"));
  return outcome.out;
}

TEST_CASE("weather, garden and site may come from standard input") {
  const Place place;
  const Outcome piped = run_program(place, {"et0", "--weather", "-", "--format", "csv"}, weather);
  CHECK(piped.exit_code == 0);
  CHECK(piped.out == answer(place));
  CHECK(piped.err.starts_with("(standard input): humidity estimated from the lowest temperature"));

  const Words season{"season", "--weather", "weather.csv", "--garden", "garden.csv"};
  Words from_pipe = season;
  from_pipe.back() = "-";
  CHECK(run_program(place, from_pipe, garden).out == run_program(place, season).out);
  CHECK(run_program(place, et0({"--site", "-"}), "latitude_deg = 60\n").out != answer(place));

  // CRLF and a byte order mark change nothing.
  std::string windows = "\xEF\xBB\xBF";
  for (const char c : weather) windows += c == '\n' ? "\r\n" : std::string(1, c);
  CHECK(run_program(place, {"et0", "--weather", "-", "--format", "csv"}, windows).out ==
        answer(place));
}

TEST_CASE("a problem of standard input is placed, too") {
  const Place place;
  const Outcome outcome =
      run_program(place, {"et0", "--weather", "-"}, "date,tmin_c\n2023-06-01,1\n");
  CHECK(outcome.exit_code == 3);
  CHECK(outcome.err.find("wiltline: (standard input):1:1: found no column tmax_c") !=
        std::string::npos);
  CHECK(run_program(place, {"et0", "--weather", "-"}).exit_code == 3);
}

TEST_CASE("a reader that goes away is no error") {
  const Call whole{.arguments = {"season", "--garden", "models/gardens/courtyard.csv", "--weather",
                                 "weather-samples/tolvenau.csv", "--ledger", "--format", "csv"},
                   .folder = WILTLINE_SOURCE};
  const Outcome all = run_program(whole);
  REQUIRE(all.exit_code == 0);
  // More than a pipe holds, so that the program is still writing when the reader goes.
  REQUIRE(all.out.size() > 2 * 65536);

  Call first_line = whole;
  first_line.reader = Reader::first_line;
  const Outcome head = run_program(first_line);
  CHECK(head.signal == 0);
  CHECK(head.exit_code == 0);
  CHECK(head.err == all.err);
  CHECK(head.out.size() < all.out.size());
  CHECK(all.out.starts_with(head.out));

  Call nobody = whole;
  nobody.reader = Reader::gone;
  const Outcome gone = run_program(nobody);
  CHECK(gone.signal == 0);
  CHECK(gone.exit_code == 0);
  CHECK(gone.err == all.err);
  CHECK(run_program({.arguments = {"--help"}, .folder = WILTLINE_SOURCE, .reader = Reader::gone})
            .exit_code == 0);
}

TEST_CASE("an output file is replaced whole and keeps its mode") {
  const Place place;
  place.write("out.csv", std::string(100000, 'x'));
  ::chmod((place.path() / "out.csv").c_str(), 0640);
  const std::string before = place.listing();
  const Outcome outcome = run_program(place, et0({"--output", "out.csv"}));
  CHECK(outcome.exit_code == 0);
  CHECK(outcome.out.empty());
  CHECK(place.read("out.csv") == answer(place));
  CHECK((place.mode_of("out.csv") & 07777U) == 0640U);
  CHECK(place.listing() == before);
}

TEST_CASE("a new output file has the usual mode, also where its name is given with a folder") {
  const Place place;
  const mode_t mask = ::umask(027);
  const Outcome outcome = run_program(place, et0({"--output", "./new.csv"}));
  ::umask(mask);
  CHECK(outcome.exit_code == 0);
  CHECK(place.read("new.csv") == answer(place));
  CHECK((place.mode_of("new.csv") & 07777U) == 0640U);
  const std::string absolute = (place.path() / "absolute.csv").string();
  CHECK(run_program(place, et0({"--output", absolute})).exit_code == 0);
  CHECK(place.read("absolute.csv") == answer(place));
  CHECK(place.listing() == "absolute.csv\ngarden.csv\nnew.csv\nweather.csv\n");
}

TEST_CASE("the weather file itself is never replaced by an answer") {
  const Place place;
  const std::string before = place.read("weather.csv");
  const Outcome outcome = run_program(place, et0({"--output", "weather.csv"}));
  CHECK(outcome.exit_code == 2);
  CHECK(outcome.out.empty());
  CHECK(place.read("weather.csv") == before);
}

TEST_CASE("an output through a link goes to where the link leads") {
  const Place place;
  std::filesystem::create_directory(place.path() / "far");
  std::filesystem::create_symlink("far/target.csv", place.path() / "link.csv");
  const auto check_linked = [&] {
    CHECK(run_program(place, et0({"--output", "link.csv"})).exit_code == 0);
    CHECK(std::filesystem::is_symlink(place.path() / "link.csv"));
    CHECK(place.read("far/target.csv") == answer(place));
    CHECK(place.listing() == "far\ngarden.csv\nlink.csv\nweather.csv\n");
    CHECK(std::distance(std::filesystem::directory_iterator(place.path() / "far"), {}) == 1);
  };
  SUBCASE("to a file that is there") {
    place.write("far/target.csv", "old\n");
    check_linked();
  }
  SUBCASE("to a file that is not there yet") {
    check_linked();
  }
  SUBCASE("through a second link") {
    std::filesystem::create_symlink("target.csv", place.path() / "far" / "second.csv");
    std::filesystem::remove(place.path() / "link.csv");
    std::filesystem::create_symlink("far/second.csv", place.path() / "link.csv");
    CHECK(run_program(place, et0({"--output", "link.csv"})).exit_code == 0);
    CHECK(std::filesystem::is_symlink(place.path() / "far" / "second.csv"));
    CHECK(place.read("far/target.csv") == answer(place));
  }
}

TEST_CASE("a ring of links cannot be written, and stays") {
  const Place place;
  std::filesystem::create_symlink("ring.csv", place.path() / "ring.csv");
  const Outcome outcome = run_program(place, et0({"--output", "ring.csv"}));
  CHECK(outcome.exit_code == 1);
  CHECK(outcome.err.starts_with("wiltline: ring.csv: cannot be "));
  CHECK(std::filesystem::is_symlink(place.path() / "ring.csv"));
}

TEST_CASE("a FIFO is written through and stays a FIFO") {
  const Place place;
  const std::string fifo = (place.path() / "fifo").string();
  REQUIRE(::mkfifo(fifo.c_str(), 0600) == 0);
  // Opened for both, so that neither side waits for the other; the answer is shorter than a pipe.
  const int reader = ::open(fifo.c_str(), O_RDWR | O_NONBLOCK | O_CLOEXEC);
  REQUIRE(reader >= 0);
  const std::string before = place.listing();
  CHECK(run_program(place, et0({"--output", "fifo"})).exit_code == 0);
  std::array<char, 65536> block{};
  const ssize_t got = ::read(reader, block.data(), block.size());
  ::close(reader);
  REQUIRE(got > 0);
  CHECK(std::string(block.data(), static_cast<std::size_t>(got)) == answer(place));
  CHECK(S_ISFIFO(place.mode_of("fifo")));
  CHECK(place.listing() == before);
}

TEST_CASE("a device is written through and stays a device") {
  const Place place;
  const Outcome null = run_program(place, et0({"--output", "/dev/null"}));
  CHECK(null.exit_code == 0);
  CHECK(null.out.empty());
  struct stat status {};
  REQUIRE(::stat("/dev/null", &status) == 0);
  CHECK(S_ISCHR(status.st_mode));
  CHECK(run_program(place, et0({"--output", "/dev/stdout"})).out == answer(place));
  CHECK(run_program(place, et0({"--output", "-"})).out == answer(place));
}

/// A forecast of the broccoli from four years of a sample record.
Words forecast(const Words& more) {
  Words words{"forecast",
              "--garden",
              "garden.csv",
              "--weather",
              std::string(WILTLINE_SOURCE) + "/weather-samples/tolvenau.csv",
              "--to",
              "2024-07-14",
              "--members",
              "10",
              "--format",
              "csv"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

/// What a FIFO gets from a run that ends well; it must still be one.
std::string through_fifo(const Place& place, const Words& words) {
  const std::string fifo = (place.path() / "fifo").string();
  REQUIRE(::mkfifo(fifo.c_str(), 0600) == 0);
  const int reader = ::open(fifo.c_str(), O_RDWR | O_NONBLOCK | O_CLOEXEC);
  REQUIRE(reader >= 0);
  CHECK(run_program(place, words).exit_code == 0);
  std::array<char, 65536> block{};
  const ssize_t got = ::read(reader, block.data(), block.size());
  ::close(reader);
  CHECK(S_ISFIFO(place.mode_of("fifo")));
  return {block.data(), static_cast<std::size_t>(std::max<ssize_t>(got, 0))};
}

TEST_CASE("a saved state goes through a FIFO or a device, and into files only beside itself") {
  const Place place;
  CHECK(run_program(place, forecast({"--save-state", "state.csv"})).exit_code == 0);
  const std::string state = place.read("state.csv");
  CHECK(state.starts_with("name,planted,date,"));
  CHECK(through_fifo(place, forecast({"--save-state", "fifo"})) == state);
  CHECK(run_program(place, forecast({"--save-state", "/dev/null"})).exit_code == 0);
  CHECK(place.listing() == "fifo\ngarden.csv\nstate.csv\nweather.csv\n");

  // A state that cannot be written leaves no answer and no old state spoilt.
  const Outcome full =
      run_program(place, forecast({"--save-state", "/dev/full", "--output", "out.csv"}));
  CHECK(full.exit_code == 1);
  CHECK(full.err == "wiltline: /dev/full: cannot be written: No space left on device\n");
  CHECK(place.listing() == "fifo\ngarden.csv\nstate.csv\nweather.csv\n");
  CHECK(place.read("state.csv") == state);
}

TEST_CASE("a sweep goes through a FIFO or a device, too") {
  const Place place;
  std::filesystem::create_directory(place.path() / "records");
  place.write("records/weather.csv", weather);
  const auto sweep = [](const Words& more) {
    Words words{"sweep",  "--weather-dir", "records",   "--crops", "broccoli",
                "--pots", "nursery 18 l",  "--planted", "06-01"};
    words.insert(words.end(), more.begin(), more.end());
    return words;
  };
  const Outcome expected = run_program(place, sweep({}));
  REQUIRE(expected.exit_code == 0);
  CHECK(through_fifo(place, sweep({"--output", "fifo"})) == expected.out);
  CHECK(run_program(place, sweep({"--output", "/dev/null"})).exit_code == 0);
  const Outcome full = run_program(place, sweep({"--output", "/dev/full"}));
  CHECK(full.exit_code == 1);
  CHECK(full.err == "wiltline: /dev/full: cannot be written: No space left on device\n");
  CHECK(place.listing() == "fifo\ngarden.csv\nrecords\nweather.csv\n");
}

TEST_CASE("a folder that takes no files takes no answer, and nothing is left elsewhere") {
  const Place place;
  std::filesystem::create_directory(place.path() / "locked");
  ::chmod((place.path() / "locked").c_str(), 0555);
  // The administrator may write anywhere but here.
  const std::string folder = ::geteuid() == 0 ? "/proc" : "locked";
  const std::string before = place.listing();
  for (const Words& words :
       {et0({"--output", folder + "/out.csv"}), forecast({"--save-state", folder + "/out.csv"})}) {
    INFO(command_line(words));
    const Outcome outcome = run_program(place, words);
    CHECK(outcome.exit_code == 1);
    CHECK(outcome.out.empty());
    CHECK(outcome.err.starts_with("wiltline: " + folder + "/out.csv: cannot be written: "));
    CHECK(std::count(outcome.err.begin(), outcome.err.end(), '\n') == 1);
    CHECK(place.listing() == before);
  }
}

TEST_CASE("an answer on its way stands in the folder of its output and nowhere else") {
  const Place place;
  for (const char* folder : {"out", "tmp", "home"}) {
    std::filesystem::create_directory(place.path() / folder);
  }
  const std::string fifo = (place.path() / "fifo").string();
  REQUIRE(::mkfifo(fifo.c_str(), 0600) == 0);
  const auto names_in = [&](const char* folder) {
    std::vector<std::string> names;
    for (const auto& entry : std::filesystem::directory_iterator(place.path() / folder)) {
      names.push_back(entry.path().filename().string());
    }
    return names;
  };
  // The program has begun its output when it waits for the weather.
  auto run = std::async(std::launch::async, [&] {
    return run_program(
        {.arguments = {"et0", "--weather", "fifo", "--format", "csv", "--output", "out/out.csv"},
         .folder = place.path(),
         .environment = {{"TMPDIR", (place.path() / "tmp").string()},
                         {"HOME", (place.path() / "home").string()}}});
  });
  int writer = -1;
  for (int tries = 0; writer < 0 && tries < 1000; ++tries) {
    writer = ::open(fifo.c_str(), O_WRONLY | O_NONBLOCK | O_CLOEXEC);
    if (writer < 0) std::this_thread::sleep_for(std::chrono::milliseconds(10));
  }
  REQUIRE(writer >= 0);
  const auto on_its_way = names_in("out");
  CHECK(names_in("tmp").empty());
  CHECK(names_in("home").empty());
  CHECK(place.listing() == "fifo\ngarden.csv\nhome\nout\ntmp\nweather.csv\n");
  CHECK(::write(writer, weather.data(), weather.size()) == static_cast<ssize_t>(weather.size()));
  ::close(writer);
  CHECK(run.get().exit_code == 0);
  REQUIRE(on_its_way.size() == 1);
  CHECK(on_its_way.front().starts_with(".out.csv."));
  CHECK(on_its_way.front().ends_with(".partial"));
  CHECK(names_in("out") == std::vector<std::string>{"out.csv"});
  CHECK(place.read("out/out.csv") == answer(place));
  CHECK(names_in("tmp").empty());
}

TEST_CASE("remarks never run into a file because standard error is closed") {
  const Place place;
  const Outcome outcome = run_program({.arguments = et0({"--output", "out.csv"}),
                                       .folder = place.path(),
                                       .closed = {STDERR_FILENO}});
  CHECK(outcome.exit_code == 0);
  CHECK(place.read("out.csv") == answer(place));
  const Outcome all_closed = run_program({.arguments = et0({"--output", "out.csv"}),
                                          .folder = place.path(),
                                          .closed = {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}});
  CHECK(all_closed.exit_code == 0);
  CHECK(place.read("out.csv") == answer(place));
}

TEST_CASE("remarks and complaints that nobody can read are no reason to fail") {
  const Place place;
  const auto with_full_error = [&](const Words& words) {
    return run_program({.arguments = words, .folder = place.path(), .error_path = "/dev/full"});
  };
  const Outcome answered = with_full_error(et0());
  CHECK(answered.signal == 0);
  CHECK(answered.exit_code == 0);
  CHECK(answered.out == answer(place));
  const Outcome refused = with_full_error(et0({"--site", "nothere"}));
  CHECK(refused.signal == 0);
  CHECK(refused.exit_code == 2);
}

TEST_CASE("two weather files answer one after the other, each row with its record") {
  const Place place;
  place.write("second.csv",
              "# latitude_deg = 30\n# elevation_m = 5\n" + weather.substr(weather.find("date")));
  const Outcome both = run_program(place, et0({"--weather", "second.csv"}));
  REQUIRE(both.exit_code == 0);
  const auto with_record = [&](const std::string& file) {
    std::string text = run_program(place, {"et0", "--weather", file, "--format", "csv"}).out;
    text.erase(0, text.find('\n') + 1);
    std::string result;
    for (const char c : text) result += c == '\n' ? ',' + file + '\n' : std::string(1, c);
    return result;
  };
  CHECK(both.out ==
        "date,et0_mm,estimated,weather\n" + with_record("weather.csv") + with_record("second.csv"));
  CHECK(with_record("weather.csv") != with_record("second.csv"));
}

/// A year at a latitude, without readings that a polar night would make wrong.
std::string polar_year(double latitude_deg) {
  constexpr std::array<int, 12> days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  std::string text = "# latitude_deg = " + std::to_string(latitude_deg) +
                     "\n# elevation_m = 10\ndate,tmin_c,tmax_c,rain_mm\n";
  for (std::size_t month = 0; month < days.size(); ++month) {
    for (int day = 1; day <= days[month]; ++day) {
      const auto two = [](std::size_t n) { return (n < 10 ? "0" : "") + std::to_string(n); };
      text += "2023-" + two(month + 1) + '-' + two(static_cast<std::size_t>(day)) + ",4,12,1\n";
    }
  }
  return text;
}

TEST_CASE("polar day and polar night are days like others") {
  const Place place;
  for (const double latitude : {90.0, 75.0, 66.56, -66.56, -75.0, -90.0}) {
    INFO(latitude);
    place.write("weather.csv", polar_year(latitude));
    const Outcome et =
        run_program(place, {"et0", "--weather", "weather.csv", "--steps", "--format", "json"});
    REQUIRE(et.exit_code == 0);
    const Json rows = Json::parse(et.out)["rows"];
    REQUIRE(rows.size() == 365);
    double least_daylight = 24.0;
    double most_daylight = 0.0;
    for (const Json& row : rows) {
      INFO(row.at("date").get<std::string>());
      for (const auto& cell : row.items()) {
        INFO(cell.key());
        CHECK_FALSE(cell.value().is_null());  // JSON has no other way to write nan
      }
      const double daylight = row.at("daylight_h");
      CHECK((daylight > 0.0) == (row.at("ra_mj_m2").get<double>() > 0.0));
      CHECK(row.at("et0_mm").get<double>() >= 0.0);
      CHECK(row.at("et0_mm").get<double>() < 10.0);
      least_daylight = std::min(least_daylight, daylight);
      most_daylight = std::max(most_daylight, daylight);
    }
    CHECK(least_daylight >= 0.0);
    CHECK(most_daylight <= 24.0);
    if (latitude * latitude >= 75.0 * 75.0) {
      CHECK(least_daylight == 0.0);
      CHECK(most_daylight == 24.0);
    }

    // Planted through the polar night and through the polar day, with clock time and without.
    place.write(
        "garden.csv",
        "name,crop,pot,mix,plants,planted,spot,routine\n"
        "winter broccoli,broccoli,nursery 18 l,coir mix,1,01-01,patio,daily 07:00\n"
        "summer broccoli,broccoli,nursery 18 l,coir mix,1,05-20,morning sun,check daily 23:30\n");
    for (const Words& clock : {Words{}, Words{"--longitude", "170", "--utc-offset", "12"}}) {
      Words words{"season",     "--weather", "weather.csv", "--garden",
                  "garden.csv", "--ledger",  "--format",    "json"};
      words.insert(words.end(), clock.begin(), clock.end());
      const Outcome season = run_program(place, words);
      REQUIRE(season.exit_code == 0);
      const Json ledger = Json::parse(season.out)["rows"];
      CHECK(ledger.size() > 100);
      for (const Json& row : ledger) {
        INFO(row.at("date").get<std::string>());
        for (const char* name : {"demand_l", "transpired_l", "evaporated_l", "store_l", "ks"}) {
          INFO(name);
          REQUIRE(row.at(name).is_number());
          CHECK(row.at(name).get<double>() >= 0.0);
        }
      }
    }
  }
}

}  // namespace
}  // namespace wiltline::test
