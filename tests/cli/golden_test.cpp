// Whole answers, byte for byte, against the files in golden/; the same under a locale that writes a
// comma where we write a point. `regenerate.sh` writes the files anew.
#include <doctest/doctest.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "cli/run_program.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline::test {
namespace {

const std::filesystem::path source = WILTLINE_SOURCE;
const std::filesystem::path golden = source / "tests/cli/golden";
const std::string comma_locale = "de_DE.UTF-8";

struct GoldenRun {
  std::string file;
  std::vector<std::string> arguments;
};

std::vector<GoldenRun> golden_runs() {
  std::ifstream list(golden / "runs.txt");
  std::vector<GoldenRun> runs;
  for (std::string line; std::getline(list, line);) {
    if (line.empty() || line.front() == '#') continue;
    std::istringstream words(line);
    GoldenRun run;
    std::getline(words, run.file, '|');
    for (std::string word; std::getline(words, word, '|');) run.arguments.push_back(word);
    runs.push_back(std::move(run));
  }
  return runs;
}

/// What a golden run said on standard error; nothing if there is no such file.
std::string golden_messages(const GoldenRun& run) {
  const std::filesystem::path file = golden / (run.file + ".stderr");
  return std::filesystem::exists(file) ? bytes_of(file) : std::string{};
}

void check_all(const std::map<std::string, std::string>& environment) {
  for (const GoldenRun& run : golden_runs()) {
    INFO(run.file << ": " << command_line(run.arguments));
    const Outcome outcome =
        run_program({.arguments = run.arguments, .folder = source, .environment = environment});
    CHECK(outcome.exit_code == 0);
    CHECK(outcome.out == bytes_of(golden / run.file));
    CHECK(outcome.err == golden_messages(run));
  }
}

/// What a shell command prints on standard output.
std::string printed_by(const std::string& command) {
  std::string text;
  std::FILE* const stream = ::popen(command.c_str(), "r");
  if (stream == nullptr) return text;
  std::array<char, 256> block{};
  while (std::fgets(block.data(), static_cast<int>(block.size()), stream) != nullptr) {
    text += block.data();
  }
  ::pclose(stream);
  return text;
}

TEST_CASE("golden runs") {
  check_all({{"LC_ALL", "C"}});
}

TEST_CASE("every golden file belongs to a run") {
  std::set<std::string> known{"runs.txt"};
  for (const GoldenRun& run : golden_runs()) {
    CHECK(known.insert(run.file).second);
    known.insert(run.file + ".stderr");
  }
  CHECK(known.size() > 20);
  for (const auto& entry : std::filesystem::directory_iterator(golden)) {
    INFO(entry.path());
    CHECK(known.contains(entry.path().filename().string()));
  }
}

TEST_CASE("golden runs under a locale with a decimal comma") {
  const ScratchFolder folder;
  const std::string path = folder.path().string();
  const std::string made =
      printed_by("localedef -i de_DE -f UTF-8 '" + path + '/' + comma_locale + "' 2>&1");
  const std::string point = printed_by("LOCPATH='" + path + "' LC_ALL=" + comma_locale +
                                       " locale decimal_point 2>/dev/null");
  if (point != ",\n") {
    MESSAGE("no locale with a decimal comma; localedef (Debian package locales) said: " << made);
    CHECK(std::getenv("WILTLINE_ALLOW_NO_LOCALE") != nullptr);
    return;
  }
  check_all({{"LC_ALL", comma_locale}, {"LOCPATH", path}});
}

TEST_CASE("tables for people fit 100 columns and name no raw column") {
  for (const GoldenRun& run : golden_runs()) {
    if (run.file.find("table") == std::string::npos) continue;
    INFO(run.file);
    std::istringstream lines(bytes_of(golden / run.file));
    for (std::string line; std::getline(lines, line);) {
      INFO(line);
      CHECK(width_of(line) <= 100);
      for (const char* raw : {"_l ", "_mm ", "_days ", "_cm ", "_m3_m3"}) {
        CHECK(line.find(raw) == std::string::npos);
      }
    }
  }
}

TEST_CASE("CSV says on standard error, and JSON in its notes, that the figures are estimates") {
  for (const GoldenRun& run : golden_runs()) {
    const std::string command = run.arguments.front();
    if (command == "et0" || command == "list" || command == "sweep" || command == "weather") {
      continue;
    }
    INFO(run.file);
    if (run.file.ends_with(".csv")) {
      CHECK(golden_messages(run).find("These are estimates") != std::string::npos);
    }
    if (run.file.ends_with(".json")) {
      CHECK(bytes_of(golden / run.file).find("These are estimates") != std::string::npos);
    }
  }
}

}  // namespace
}  // namespace wiltline::test
