// The sweep: rows and their keys, parts joined, and what a kill leaves behind.
#include <doctest/doctest.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <thread>
#include <vector>

#include "cli/run_program.hpp"
#include "progress.hpp"
#include "support/random.hpp"

namespace wiltline::test {
namespace {

namespace fs = std::filesystem;
using Words = std::vector<std::string>;

constexpr int wrong_request = 2;
constexpr int wrong_input = 3;
constexpr int killed = 128 + SIGKILL;

const std::string samples = std::string(WILTLINE_SOURCE) + "/weather-samples";

/// Two crops in every pot over the first year of the sample records: a dozen blocks.
Words sweep(const Words& more = {}) {
  Words words{"sweep",  "--weather-dir", samples, "--crops",   "tomato,basil",
              "--from", "2021-01-01",    "--to",  "2021-12-31"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

/// Three days of two places, one of them without rain, and a folder that holds no weather.
struct Place : ScratchFolder {
  Place() {
    ::mkdir((path() / "weather").c_str(), 0777);
    ::mkdir((path() / "empty").c_str(), 0777);
    write("weather/b.csv",
          "# latitude_deg = 46\n# elevation_m = 200\ndate,tmin_c,tmax_c,rain_mm\n"
          "2023-06-01,11,23,0\n2023-06-02,12,24,3.5\n2023-06-03,13,25,0\n");
    write("weather/a.csv",
          "# latitude_deg = -34\n# elevation_m = 20\ndate,tmin_c,tmax_c\n"
          "2023-06-01,11,23\n2023-06-02,12,24\n2023-06-03,13,25\n");
    write("weather/notes.txt", "no weather\n");
  }
};

Words small(const Words& more = {}) {
  Words words{"sweep",  "--weather-dir",         "weather",   "--crops", "basil,kale",
              "--pots", "clay 3 l,nursery 11 l", "--planted", "06-01"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::size_t begin = 0;
  for (std::size_t end = 0; (end = text.find('\n', begin)) != std::string::npos; begin = end + 1) {
    lines.push_back(text.substr(begin, end - begin));
  }
  return lines;
}

/// Starts the program, to be ended or waited for.
pid_t start(const ScratchFolder& folder, const Words& words) {
  std::vector<std::string> all{WILTLINE_PROGRAM};
  all.insert(all.end(), words.begin(), words.end());
  std::vector<char*> pointers;
  for (std::string& word : all) pointers.push_back(word.data());
  pointers.push_back(nullptr);
  const std::string place = folder.path().string();
  const pid_t child = ::fork();
  if (child != 0) return child;
  const int nowhere = ::open("/dev/null", O_WRONLY);
  if (::chdir(place.c_str()) == 0 && ::dup2(nowhere, STDOUT_FILENO) >= 0 &&
      ::dup2(nowhere, STDERR_FILENO) >= 0) {
    ::execv(WILTLINE_PROGRAM, pointers.data());
  }
  ::_exit(127);
}

/// Runs the program, sends it a signal after some time if it still runs, and waits until it is
/// gone: its lock with it. (timeout(1) with SIGKILL kills itself too and leaves the program to die
/// later.) The exit code as a shell sees it.
int run_and_end(const ScratchFolder& folder, const Words& words, double after_s, int signal) {
  const pid_t child = start(folder, words);
  REQUIRE(child > 0);
  const auto end = std::chrono::steady_clock::now() + std::chrono::duration<double>(after_s);
  int status = 0;
  bool signalled = false;
  while (::waitpid(child, &status, signalled ? 0 : WNOHANG) == 0) {
    if (std::chrono::steady_clock::now() >= end) {
      ::kill(child, signal);
      signalled = true;
    } else {
      std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
  }
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

/// The whole answer, from one run that nothing disturbed.
const std::string& undisturbed() {
  static const std::string rows = [] {
    const ScratchFolder folder;
    const Outcome outcome = run_program(folder, sweep({"--output", "rows.csv"}));
    REQUIRE(outcome.exit_code == 0);
    return folder.read("rows.csv");
  }();
  return rows;
}

double undisturbed_seconds() {
  static const double seconds = [] {
    const ScratchFolder folder;
    const auto begin = std::chrono::steady_clock::now();
    (void)run_program(folder, sweep({"--output", "rows.csv"}));
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  }();
  return seconds;
}

/// Ends a run by SIGKILL as soon as its journal covers some blocks, not all. A run that is
/// whole before it is seen is thrown away and begun again.
void leave_unfinished(const ScratchFolder& folder, const Words& words, const std::string& file) {
  constexpr std::size_t title_header_and_blocks = 3;
  const auto journal = folder.path() / (file + ".journal");
  for (int i = 0; i < 50; ++i) {
    const pid_t child = start(folder, words);
    REQUIRE(child > 0);
    int status = 0;
    while (::waitpid(child, &status, WNOHANG) == 0) {
      std::ifstream in(journal);  // which may go while it is read
      const std::string text{std::istreambuf_iterator<char>(in), {}};
      if (lines_of(text).size() < title_header_and_blocks) {
        std::this_thread::sleep_for(std::chrono::microseconds(200));
        continue;
      }
      ::kill(child, SIGKILL);
      ::waitpid(child, &status, 0);
      break;
    }
    if (fs::exists(journal) && !fs::exists(folder.path() / file)) return;
    fs::remove(folder.path() / file);
  }
  FAIL("no run was ended between its first and its last block");
}

TEST_CASE("a sweep's rows: every crossing and year, keys first") {
  const Place place;
  const Outcome outcome = run_program(place, small({"--plants", "1,usual"}));
  CHECK(outcome.exit_code == 0);
  const auto lines = lines_of(outcome.out);
  REQUIRE(lines.size() == 1 + 2 * 2 * 2 * 2);
  CHECK(lines[0] ==
        "weather,crop,pot,mix,spot,plants,draw,planted,mix_l,capacity_l,available_l,refill_at_l,"
        "peak_use_l_day,waterings,watered_l,rain_l,drained_l,used_l,stressed_days,wilting_days,"
        "dry_days,first_dry,longest_gap_days,peak_use_full_size_l_day,waterings_week_peak,"
        "finger_only_days,root_only_days,frost_days,too_warm_days,poor_fruit_set_days,"
        "blossom_end_rot_days,hot_root_days,sheds_water_days,feeds,first_feed,days,cut_by_record,"
        "estimated,last_day,ended_by,harvest,settled,settling_stressed_days,"
        "settling_wilting_days,settling_dry_days");
  CHECK(lines[1].starts_with("a.csv,basil,clay 3 l,potting mix,patio,1,0,2023-06-01,"));
  CHECK(lines[2].starts_with("a.csv,basil,clay 3 l,potting mix,patio,3,0,2023-06-01,"));
  CHECK(lines[3].starts_with("a.csv,basil,nursery 11 l,"));
  CHECK(lines[5].starts_with("a.csv,kale,clay 3 l,"));
  CHECK(lines[9].starts_with("b.csv,basil,clay 3 l,"));
  // Three days: none of them settles in.
  const auto holds = [](const std::string& line, const char* text) {
    return line.find(text) != std::string::npos;
  };
  CHECK(holds(lines[1],
              ",3,yes,humidity:3+radiation:3+wind:3+rain:3,2023-06-03,record ends,whole,,"));
  CHECK(holds(lines[9], ",3,yes,humidity:3+radiation:3+wind:3,2023-06-03,record ends,whole,,"));
  CHECK(outcome.err ==
        "visits at solar time in 2 of 2 records, which give no longitude and UTC offset\n"
        "what was estimated for a record stands in the column estimated\n");
}

TEST_CASE("a sweep's row says what season says of the same planting") {
  const Place place;
  place.write("garden.csv",
              "name,crop,pot,mix,plants,planted,spot,routine\n"
              "it,kale,nursery 11 l,peat 60 perlite 40,2,06-01,hot paving,daily 07:00\n");
  const Outcome season = run_program(
      place, {"season", "--garden", "garden.csv", "--weather", "weather/b.csv", "--format", "csv"});
  const Outcome swept = run_program(
      place, {"sweep", "--weather-dir", "weather", "--crops", "kale", "--pots", "nursery 11 l",
              "--mixes", "peat 60 perlite 40", "--plants", "2", "--planted", "06-01", "--spots",
              "hot paving", "--routine", "daily 07:00"});
  REQUIRE(season.exit_code == 0);
  REQUIRE(swept.exit_code == 0);
  std::string of_season = lines_of(season.out)[1];
  of_season = of_season.substr(std::string("it,kale,nursery 11 l,").size());
  const std::string year = ",2023,";
  of_season.replace(of_season.find(year), year.size(), ",");
  const std::string of_sweep = lines_of(swept.out)[2];
  const std::size_t at = of_season.find(",2023-06-03,record ends,whole,");
  REQUIRE(at != std::string::npos);
  const std::string end = of_season.substr(at);
  of_season.resize(at);
  CHECK(of_sweep == "b.csv,kale,nursery 11 l,peat 60 perlite 40,hot paving,2,0,2023-06-01," +
                        of_season + ",3,yes,humidity:3+radiation:3+wind:3" + end);
}

TEST_CASE("draws: the central rows first, then a set of rows for each draw of the seed") {
  const Place place;
  const auto lines = lines_of(run_program(place, small({"--draws", "2"})).out);
  const auto central = lines_of(run_program(place, small()).out);
  const std::size_t each = 2 * 2;  // crops and pots
  REQUIRE(lines.size() == 1 + 2 * 3 * each);
  for (std::size_t i = 0; i < each; ++i) {
    CHECK(lines[1 + i] == central[1 + i]);  // the first record's
    CHECK(lines[1 + i].find(",0,2023-06-01,") != std::string::npos);
    CHECK(lines[1 + each + i].find(",1,2023-06-01,") != std::string::npos);
    CHECK(lines[1 + 2 * each + i].find(",2,2023-06-01,") != std::string::npos);
    CHECK(lines[1 + 3 * each + i] == central[1 + each + i]);  // the second's
  }
  CHECK(lines_of(run_program(place, small({"--draws", "2", "--seed", "1"})).out) == lines);
  CHECK(lines_of(run_program(place, small({"--draws", "2", "--seed", "2"})).out) != lines);

  for (const char* part : {"1/4", "2/4", "3/4", "4/4"}) {
    const Words words = small({"--draws", "2", "--output", "rows.csv", "--part", part});
    CHECK(run_program(place, words).exit_code == 0);
  }
  CHECK(run_program(place, small({"--draws", "2", "--output", "rows.csv", "--join"})).exit_code ==
        0);
  CHECK(lines_of(place.read("rows.csv")) == lines);
}

TEST_CASE("a sweep to a file and to standard output are the same") {
  const Place place;
  const Outcome streamed = run_program(place, small());
  CHECK(run_program(place, small({"--output", "rows.csv"})).exit_code == 0);
  CHECK(place.read("rows.csv") == streamed.out);
  CHECK(place.listing() == "empty\nrows.csv\nweather\n");
  CHECK(run_program(place, small({"--output", "/dev/null"})).exit_code == 0);
}

TEST_CASE("a sweep does not depend on the number of threads") {
  const ScratchFolder folder;
  for (const char* threads : {"1", "3"}) {
    CHECK(run_program(folder, sweep({"--output", "rows.csv", "--threads", threads})).exit_code ==
          0);
    CHECK(folder.read("rows.csv") == undisturbed());
  }
}

TEST_CASE("a sweep whose reader goes away ends without error") {
  const Place place;
  for (const Reader reader : {Reader::first_line, Reader::gone}) {
    const Outcome outcome =
        run_program({.arguments = sweep(), .folder = place.path(), .reader = reader});
    CHECK(outcome.exit_code == 0);
    CHECK(outcome.err.find("wiltline: ") == std::string::npos);
  }
}

TEST_CASE("parts in any order, joined, are the single run byte for byte") {
  for (const int n : {1, 3, 8, 40}) {  // 40: more than there are blocks
    CAPTURE(n);
    const ScratchFolder folder;
    std::vector<int> order;
    for (int k = 1; k <= n; ++k) order.push_back(k);
    std::reverse(order.begin(), order.end());
    std::rotate(order.begin(), order.begin() + n / 3, order.end());
    for (const int k : order) {
      const std::string part = std::to_string(k) + '/' + std::to_string(n);
      const Outcome outcome = run_program(folder, sweep({"--output", "rows.csv", "--part", part}));
      CHECK(outcome.exit_code == 0);
    }
    const Outcome joined = run_program(folder, sweep({"--output", "rows.csv", "--join"}));
    CHECK(joined.exit_code == 0);
    CHECK(joined.err ==
          "joined " + std::to_string(n) + " parts in rows.csv; they are no longer needed\n");
    CHECK(folder.read("rows.csv") == undisturbed());
  }
}

TEST_CASE("a part that is finished is not done again") {
  const Place place;
  const Words words = small({"--output", "rows.csv", "--part", "1/2"});
  CHECK(run_program(place, words).exit_code == 0);
  const Outcome again = run_program(place, words);
  CHECK(again.exit_code == 0);
  CHECK(again.err == "rows.csv.part-1-of-2 is finished already\n");
}

TEST_CASE("killed at a random moment, a sweep goes on and writes the same bytes") {
  Random random(20);
  const ScratchFolder folder;
  const Words words = sweep({"--output", "rows.csv"});
  int ended = 0;
  int went_on = 0;
  for (int i = 0; i < 20; ++i) {
    const int code =
        run_and_end(folder, words, random.uniform(0.005, 0.9 * undisturbed_seconds()), SIGKILL);
    if (code == killed) {
      ++ended;  // perhaps between giving the file its name and ending by itself
      if (fs::exists(folder.path() / "rows.csv")) CHECK(folder.read("rows.csv") == undisturbed());
    } else {
      CHECK(code == 0);
    }
    if (i % 2 == 1) {  // every other time killed twice before it may go on
      const Outcome outcome = run_program(folder, words);
      CHECK(outcome.exit_code == 0);
      if (outcome.err.starts_with("going on after ")) ++went_on;
      CHECK(folder.read("rows.csv") == undisturbed());
      CHECK(folder.listing() == "rows.csv\n");
      fs::remove(folder.path() / "rows.csv");
    } else {
      fs::remove(folder.path() / "rows.csv");
    }
  }
  CHECK(ended > 0);
  CHECK(went_on > 0);
}

TEST_CASE("a link where the unfinished answer would stand is not followed") {
  for (const char* name : {"rows.csv.partial", "rows.csv.journal"}) {
    const Place place;
    place.write("kept.csv", "kept\n");
    fs::create_symlink("kept.csv", place.path() / name);
    const Outcome outcome = run_program(place, small({"--output", "rows.csv"}));
    CHECK(outcome.exit_code == 1);
    CHECK(outcome.err.find(name) != std::string::npos);
    CHECK(place.read("kept.csv") == "kept\n");
    CHECK(!fs::exists(place.path() / "rows.csv"));
  }
}

TEST_CASE("an old answer stays until the new one is whole") {
  const ScratchFolder folder;
  folder.write("rows.csv", "old\n");
  if (run_and_end(folder, sweep({"--output", "rows.csv"}), 0.4 * undisturbed_seconds(), SIGKILL) ==
      killed) {
    const std::string rows = folder.read("rows.csv");
    CHECK((rows == "old\n" || rows == undisturbed()));
  }
  CHECK(run_program(folder, sweep({"--output", "rows.csv"})).exit_code == 0);
  CHECK(folder.read("rows.csv") == undisturbed());
}

TEST_CASE("whatever a crash leaves of the two files, the same bytes come out") {
  const ScratchFolder folder;
  const Words words = sweep({"--output", "rows.csv"});
  leave_unfinished(folder, words, "rows.csv");
  const std::string partial = folder.read("rows.csv.partial");
  const std::string journal = folder.read("rows.csv.journal");
  REQUIRE(
      undisturbed().starts_with(partial.substr(0, std::min(partial.size(), undisturbed().size()))));
  Random random(3);
  const auto cut = [&random](const std::string& text) {
    return text.substr(
        0, static_cast<std::size_t>(random.uniform(0.0, static_cast<double>(text.size()))));
  };
  const auto spoilt = [&random](std::string text) {
    const double at = random.uniform(0.0, static_cast<double>(text.size()) - 1.0);
    text[static_cast<std::size_t>(at)] ^= 1;
    return text;
  };
  for (int i = 0; i < 8; ++i) {
    CAPTURE(i);
    folder.write("rows.csv.partial", i % 4 == 0   ? cut(partial)
                                     : i % 4 == 2 ? spoilt(partial)
                                                  : partial + "a half-written li");
    folder.write("rows.csv.journal", i % 4 == 1 ? cut(journal) : journal);
    const Outcome outcome = run_program(folder, words);
    // A journal cut within its title, or not the one of this sweep any more, is none.
    CHECK(outcome.exit_code == 0);
    CHECK(folder.read("rows.csv") == undisturbed());
    CHECK(folder.listing() == "rows.csv\n");
    fs::remove(folder.path() / "rows.csv");
  }
}

TEST_CASE("SIGINT and SIGTERM end a sweep with 128 + n, and it goes on") {
  for (const int signal : {SIGINT, SIGTERM}) {
    const ScratchFolder folder;
    const Words words = sweep({"--output", "rows.csv"});
    const int code = run_and_end(folder, words, 0.5 * undisturbed_seconds(), signal);
    if (code != 0) {
      CHECK(code == 128 + signal);
      CHECK(!fs::exists(folder.path() / "rows.csv"));
    }
    CHECK(run_program(folder, words).exit_code == 0);
    CHECK(folder.read("rows.csv") == undisturbed());
  }
}

TEST_CASE("an unfinished sweep is not gone on with when anything it depends on has changed") {
  const ScratchFolder folder;
  ::mkdir((folder.path() / "weather").c_str(), 0777);
  for (const auto& entry : fs::directory_iterator(samples)) {
    if (entry.path().extension() == ".csv") {
      fs::copy(entry.path(), folder.path() / "weather" / entry.path().filename());
    }
  }
  Words words = sweep({"--output", "rows.csv"});
  words[2] = "weather";
  leave_unfinished(folder, words, "rows.csv");
  const std::string journal = folder.read("rows.csv.journal");
  const std::string partial = folder.read("rows.csv.partial");
  const std::string refusal =
      "wiltline: rows.csv.partial: found an unfinished sweep of other weather, options, models or "
      "program; expected the same, or --restart to throw it away\n";
  const auto check_refused = [&](const Words& changed) {
    INFO(command_line(changed));
    const Outcome outcome = run_program(folder, changed);
    CHECK(outcome.exit_code == wrong_request);
    CHECK(outcome.err == refusal);
    CHECK(folder.read("rows.csv.journal") == journal);
    CHECK(folder.read("rows.csv.partial") == partial);
  };
  const auto with = [&words](const Words& more) {
    Words changed = words;
    changed.insert(changed.end(), more.begin(), more.end());
    return changed;
  };
  check_refused(with({"--plants", "2"}));
  check_refused(with({"--routine", "as-needed"}));
  check_refused(with({"--planted", "05-15"}));
  check_refused(with({"--growth", "degree-days"}));
  const fs::path models = folder.path() / "models";
  ::mkdir(models.c_str(), 0777);
  for (const auto& entry : fs::directory_iterator(std::string(WILTLINE_SOURCE) + "/models")) {
    if (entry.path().extension() == ".csv") fs::copy(entry.path(), models);
  }
  folder.write("models/pots.csv", folder.read("models/pots.csv") + "# one line more\n");
  check_refused(with({"--models", "models"}));

  const std::string weather = folder.read("weather/zarquil-flats.csv");
  folder.write("weather/zarquil-flats.csv", weather + "# one line more\n");
  check_refused(words);
  folder.write("weather/zarquil-flats.csv", weather);

  const Outcome anew = run_program(folder, with({"--plants", "2", "--restart"}));
  CHECK(anew.exit_code == 0);
  CHECK(anew.err.find("going on") == std::string::npos);
  CHECK(folder.read("rows.csv") != undisturbed());
}

TEST_CASE("parts are not joined unless all are there, whole, and of the same inputs") {
  const Place place;
  const auto part = [&](const std::string& number, const Words& more = {}) {
    Words words = small({"--output", "rows.csv", "--part", number});
    words.insert(words.end(), more.begin(), more.end());
    return run_program(place, words);
  };
  const auto check_join = [&](int code, const std::string& message) {
    const std::string before = place.listing();
    const Outcome outcome = run_program(place, small({"--output", "rows.csv", "--join"}));
    CHECK(outcome.exit_code == code);
    CHECK(outcome.err == "wiltline: " + message + '\n');
    CHECK(place.listing() == before);
  };
  check_join(wrong_request,
             "--join: found no part of rows.csv; expected rows.csv.part-1-of-8 and so on, from "
             "sweep --part");
  CHECK(part("2/4").exit_code == 0);
  check_join(wrong_request,
             "--join: found no part 1, 3-4 of 4 of rows.csv; expected all; run --part again for "
             "those");
  for (const char* number : {"1/4", "3/4"}) CHECK(part(number).exit_code == 0);
  place.write("rows.csv.part-4-of-4.partial", "weather,");
  check_join(wrong_request,
             "--join: found part 4 unfinished of 4 of rows.csv; expected all; run --part again for "
             "those");
  CHECK(part("4/4").exit_code == 0);
  place.write("rows.csv.part-1-of-2", "");
  check_join(wrong_request,
             "--join: found parts of rows.csv cut in 2 and in 4 parts; expected parts of one cut; "
             "move the others away");
  fs::remove(place.path() / "rows.csv.part-1-of-2");

  const std::string whole = place.read("rows.csv.part-2-of-4");
  place.write("rows.csv.part-2-of-4", whole.substr(0, whole.size() - 10));
  check_join(wrong_input,
             "rows.csv.part-2-of-4: found a file without the line that ends a finished part; "
             "expected a part as sweep --part wrote it");
  std::string changed = whole;
  changed[changed.find("clay")] = 'C';
  place.write("rows.csv.part-2-of-4", changed);
  check_join(wrong_input,
             "rows.csv.part-2-of-4: found rows that differ from the checksum in its last line; "
             "expected a part as sweep --part wrote it; sweep it again with --restart");
  place.write("rows.csv.part-2-of-4", place.read("rows.csv.part-4-of-4"));
  check_join(wrong_input, "rows.csv.part-2-of-4: found part 4/4; expected part 2/4");
  fs::remove(place.path() / "rows.csv.part-2-of-4");
  CHECK(part("2/4", {"--plants", "7"}).exit_code == 0);
  const std::string other =
      "rows.csv.part-2-of-4: found a part made from other weather, options, models or program; "
      "expected one made from those given here; sweep this part again with --restart";
  check_join(wrong_input, other);
  const Outcome refused = part("2/4");
  CHECK(refused.exit_code == wrong_request);
  CHECK(refused.err ==
        "wiltline: rows.csv.part-2-of-4: found a part made from other weather, options, models or "
        "program; expected the same, or --restart to write it anew\n");
  CHECK(part("2/4", {"--restart"}).exit_code == 0);

  // A weather file that only an earlier part read.
  const std::string weather = place.read("weather/a.csv");
  place.write("weather/a.csv", weather + "2023-06-04,13,25\n");
  const Outcome outcome = run_program(place, small({"--output", "rows.csv", "--join"}));
  CHECK(outcome.exit_code == wrong_input);
  CHECK(outcome.err.find("a part made from other weather") != std::string::npos);
  CHECK(!fs::exists(place.path() / "rows.csv"));
  place.write("weather/a.csv", weather);
  CHECK(run_program(place, small({"--output", "rows.csv", "--join"})).exit_code == 0);
  CHECK(place.read("rows.csv") == run_program(place, small()).out);
}

TEST_CASE("what is wrong with a sweep gives one line and leaves nothing behind") {
  const Place place;
  place.write("file", "");
  ::mkdir((place.path() / "bad").c_str(), 0777);
  place.write("bad/a.csv", place.read("weather/b.csv"));
  place.write("bad/z.csv",
              "# latitude_deg = 46\n# elevation_m = 200\ndate,tmin_c,tmax_c\n2023-06-01,11,hot\n");
  struct Refused {
    Words words;
    int code;
    std::string line;
  };
  const auto base = [](const std::string& folder, const Words& more = {}) {
    Words words{"sweep", "--weather-dir", folder, "--crops", "basil", "--pots", "clay 3 l"};
    words.insert(words.end(), more.begin(), more.end());
    return words;
  };
  const std::vector<Refused> cases{
      {{"sweep"}, wrong_request, "no crops; expected --crops NAMES, separated by commas, or all"},
      {{"sweep", "--crops", "basil"}, wrong_request, "no weather; expected --weather-dir DIR"},
      {base("nowhere"), wrong_request,
       "--weather-dir: found no folder \"nowhere\"; expected a folder of weather files"},
      {base("file"), wrong_request,
       "--weather-dir: found the file \"file\"; expected a folder of weather files"},
      {base("empty"), wrong_request,
       "--weather-dir: found no *.csv in \"empty\"; expected weather files"},
      {{"sweep", "--weather-dir", "weather", "--crops", "basil,tomatto"},
       wrong_request,
       "--crops: found unknown crop \"tomatto\"; expected a known crop (wiltline list crops); "
       "nearest: tomato"},
      {{"sweep", "--weather-dir", "weather", "--crops", "basil,,kale"},
       wrong_request,
       "--crops: found an empty name; expected names separated by commas"},
      {{"sweep", "--weather-dir", "weather", "--crops", "basil,Basil"},
       wrong_request,
       "--crops: found \"Basil\" a second time; expected each once"},
      {base("weather", {"--spots", "patyo"}), wrong_request,
       "--spots: found unknown spot \"patyo\"; expected a known spot (wiltline list spots); "
       "nearest: patio"},
      {base("weather", {"--mixes", "peat 60 perlite 30"}), wrong_request,
       "--mixes: found parts that add up to 90; expected 100 percent"},
      {base("weather", {"--plants", "1,0"}), wrong_request,
       "--plants: found 0; expected a whole number from 1 to 1000"},
      {base("weather", {"--planted", "02-30"}), wrong_request,
       "--planted: found \"02-30\"; expected a date that exists, as 2024-05-10, or 05-10 for every "
       "year"},
      {base("weather", {"--planted", "2001-06-01"}), wrong_request,
       "--planted: found no record that holds that day; expected a day within the weather"},
      {base("weather", {"--draws", "-1"}), wrong_request,
       "--draws: found -1; expected a whole number from 0 to 1000000"},
      {base("weather", {"--seed", "2"}), wrong_request,
       "found --seed without --draws; expected both or neither"},
      {base("weather", {"--part", "1/2", "--join", "--output", "rows.csv"}), wrong_request,
       "found both --part and --join; expected one of them"},
      {base("weather", {"--restart", "--join", "--output", "rows.csv"}), wrong_request,
       "found both --restart and --join; expected one of them"},
      {base("weather", {"--part", "1/2"}), wrong_request,
       "--part: found no file to write; expected --output FILE"},
      {base("weather", {"--join"}), wrong_request,
       "--join: found no file to write; expected --output FILE"},
      {base("weather", {"--part", "3/2", "--output", "rows.csv"}), wrong_request,
       "--part: found \"3/2\"; expected K/N, the K-th of N parts, as 3/8"},
      {base("weather", {"--part", "0/2", "--output", "rows.csv"}), wrong_request,
       "--part: found \"0/2\"; expected K/N, the K-th of N parts, as 3/8"},
      {base("weather", {"--output", "weather/rows.csv"}), wrong_request,
       "--output: found a file in the weather folder, \"weather/rows.csv\"; expected one "
       "elsewhere"},
      {base("weather", {"--planted", "06-01", "--output", "empty"}), 1,
       "empty: found a folder; expected a file to write"},
      {base("weather", {"--planted", "06-01", "--output", "nowhere/rows.csv"}), 1,
       "nowhere/rows.csv: cannot be written: No such file or directory"},
      // The last record is wrong: said before the first is run.
      {base("bad", {"--planted", "06-01", "--output", "rows.csv"}), wrong_input,
       "bad/z.csv:4:15: found \"hot\" in tmax_c; expected a number, or nothing if unknown"}};
  const std::string before = place.listing();
  for (const Refused& refused : cases) {
    INFO(command_line(refused.words));
    const Outcome outcome = run_program(place, refused.words);
    CHECK(outcome.exit_code == refused.code);
    CHECK(lines_of(outcome.err).back() == "wiltline: " + refused.line);
    CHECK(outcome.out.empty());
    CHECK(place.listing() == before);
  }
}

TEST_CASE("records that do not hold the day of planting are named, and give no rows") {
  const Place place;
  place.write("weather/c.csv",
              "# latitude_deg = 46\n# elevation_m = 200\ndate,tmin_c,tmax_c,rain_mm\n"
              "2023-07-01,11,23,0\n");
  const Outcome outcome = run_program(place, small());
  CHECK(outcome.exit_code == 0);
  CHECK(outcome.out.find("c.csv") == std::string::npos);
  CHECK(lines_of(outcome.err)[0] ==
        "no rows for 1 of 3 records, which do not hold the day of planting: c.csv");
}

TEST_CASE("progress: what is done, how fast, how long yet") {
  CHECK(cli::progress_text(0, 1000, 0, 0.0) == "0 of 1000 seasons");
  CHECK(cli::progress_text(500, 1000, 0, 10.0) ==
        "500 of 1000 seasons, 50 a second, about 10 s left");
  // What an earlier run did is not this run's speed.
  CHECK(cli::progress_text(500, 1000, 400, 10.0) ==
        "500 of 1000 seasons, 10 a second, about 50 s left");
  CHECK(cli::progress_text(1000, 100000, 0, 10.0) ==
        "1000 of 100000 seasons, 100 a second, about 17 min left");
  CHECK(cli::progress_text(400, 1000, 400, 10.0) == "400 of 1000 seasons");
}

}  // namespace
}  // namespace wiltline::test
