// No variable of the environment changes an answer: language, time zone, home, width, threads.
#include <doctest/doctest.h>

#include <map>
#include <string>
#include <vector>

#include "cli/run_program.hpp"

namespace wiltline::test {
namespace {

using Words = std::vector<std::string>;
using Environment = std::map<std::string, std::string>;

const std::string sample = std::string(WILTLINE_SOURCE) + "/weather-samples/tolvenau.csv";
const std::string garden = std::string(WILTLINE_SOURCE) + "/models/gardens/courtyard.csv";

std::vector<Words> commands() {
  const Words summer{"--weather", sample, "--from", "2022-05-01", "--to", "2022-08-31"};
  const auto with = [](Words words, const Words& more) {
    words.insert(words.end(), more.begin(), more.end());
    return words;
  };
  std::vector<Words> result{
      {"sweep", "--weather-dir", std::string(WILTLINE_SOURCE) + "/weather-samples", "--crops",
       "basil,tomato", "--pots", "clay 3 l,nursery 37 l", "--from", "2022-01-01", "--to",
       "2022-12-31"},
      {"--help"},
      {"season", "--help"},
      {"--version"},
      {"season", "--garden", "nothere.csv", "--weather", sample}};
  for (const char* format : {"table", "csv", "json"}) {
    for (const Words& words :
         {with({"et0"}, summer), with({"season", "--garden", garden, "--uncertain", "3"}, summer),
          with({"season", "--garden", garden, "--ledger"}, summer),
          with({"compare", "--crop", "tomato", "--pots", "nursery 21 l,fabric 36 l"}, summer),
          with({"heatwave", "--garden", garden}, summer),
          with({"absence", "--crop", "tomato", "--kind", "nursery", "--days", "3"}, summer),
          Words{"forecast", "--garden", garden, "--weather", sample, "--to", "2022-07-14",
                "--members", "20"},
          Words{"plan", "--garden", garden, "--weather", sample, "--to", "2022-07-14", "--members",
                "20"},
          Words{"capacity", "--pot", "nursery 11 l", "--mix", "potting mix"},
          Words{"list", "pots"}}) {
      result.push_back(with(words, {"--format", format}));
    }
  }
  return result;
}

TEST_CASE("no variable of the environment changes an answer") {
  const ScratchFolder place;
  // As `env` would show it on an ordinary terminal, and twice as nobody expects it.
  const Environment usual{{"LANG", "C"},           {"LC_ALL", "C"},
                          {"TZ", "UTC"},           {"HOME", place.path().string()},
                          {"TMPDIR", "/tmp"},      {"COLUMNS", "80"},
                          {"OMP_NUM_THREADS", "1"}};
  const std::vector<Environment> odd{{{"LANG", "tr_TR.UTF-8"},
                                      {"LC_ALL", "de_DE.UTF-8"},
                                      {"LC_NUMERIC", "fr_FR.UTF-8"},
                                      {"LANGUAGE", "ar"},
                                      {"TZ", "Pacific/Kiritimati"},
                                      {"HOME", "/nothere"},
                                      {"TMPDIR", "/nothere"},
                                      {"COLUMNS", "7"},
                                      {"LINES", "1"},
                                      {"NO_COLOR", "1"},
                                      {"TERM", "dumb"},
                                      {"POSIXLY_CORRECT", "1"},
                                      {"OMP_NUM_THREADS", "3"}},
                                     {{"LANG", ""},
                                      {"LC_ALL", "../../x"},
                                      {"TZ", ":/nothere"},
                                      {"HOME", ""},
                                      {"TMPDIR", ""},
                                      {"COLUMNS", "-1"},
                                      {"NO_COLOR", ""},
                                      {"CLICOLOR_FORCE", "1"},
                                      {"POSIXLY_CORRECT", ""},
                                      {"OMP_NUM_THREADS", "none"},
                                      {"SOURCE_DATE_EPOCH", "0"}}};
  for (const Words& words : commands()) {
    INFO(command_line(words));
    const auto under = [&](const Environment& environment) {
      return run_program({.arguments = words, .folder = place.path(), .environment = environment});
    };
    const Outcome expected = under(usual);
    CHECK(expected.out.size() + expected.err.size() > 0);
    for (const Environment& environment : odd) {
      INFO(environment.at("LC_ALL"));
      const Outcome outcome = under(environment);
      CHECK(outcome.exit_code == expected.exit_code);
      CHECK(outcome.out == expected.out);
      CHECK(outcome.err == expected.err);
    }
  }
  CHECK(place.listing().empty());
}

}  // namespace
}  // namespace wiltline::test
