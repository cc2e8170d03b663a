// What must be said of a pot whatever is asked about it.
#include <doctest/doctest.h>

#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

#include "cli/run_program.hpp"

namespace wiltline::test {
namespace {

using Words = std::vector<std::string>;

TEST_CASE("a pot without a drain hole is said by every question, one with holes by none") {
  const std::string sample = std::string(WILTLINE_SOURCE) + "/weather-samples/tolvenau.csv";
  for (const std::string pot : {"bucket 9 l", "nursery 11 l"}) {
    const ScratchFolder folder;
    folder.write("garden.csv",
                 "name,crop,pot,mix,plants,planted,spot,routine\n"
                 "it,basil," +
                     pot + ",potting mix,1,05-20,patio,daily 07:00\n");
    for (const Words& question :
         {Words{"season"}, Words{"compare"}, Words{"heatwave"},
          Words{"forecast", "--to", "2024-07-14"}, Words{"absence", "--days", "2", "--pots", pot},
          Words{"season", "--by", "month"}, Words{"plan", "--to", "2024-07-14"}}) {
      for (const char* form : {"table", "json"}) {
        Words words = question;
        words.insert(words.end(),
                     {"--garden", "garden.csv", "--weather", sample, "--format", form});
        const Outcome outcome = run_program(folder, words);
        INFO(command_line(words) << outcome.err << outcome.out);
        CHECK(outcome.exit_code == 0);
        const bool said = outcome.out.find("no drain hole in bucket 9 l") != std::string::npos;
        CHECK(said == (pot == "bucket 9 l"));
      }
    }
  }
}

/// Days of a ledger (CSV) from a date on at 07:00 of which a pot was left unwatered that was short
/// of water before the next 07:00.
int days_short_unwatered(const std::string& ledger, const std::string& from) {
  std::istringstream lines(ledger);
  std::string line;
  std::getline(lines, line);
  const auto cells_of = [](const std::string& text) {
    std::vector<std::string> cells(1);
    for (const char c : text) {
      if (c == ',') {
        cells.emplace_back();
      } else {
        cells.back() += c;
      }
    }
    return cells;
  };
  const std::vector<std::string> names = cells_of(line);
  const auto place = [&](const char* name) {
    return static_cast<std::size_t>(std::find(names.begin(), names.end(), name) - names.begin());
  };
  int days = 0;
  bool left = false;  // at 07:00 the day before, and not short since
  while (std::getline(lines, line)) {
    const std::vector<std::string> cells = cells_of(line);
    const bool watered = std::stod(cells.at(place("watered_l"))) > 0.0;
    const std::string& at = cells.at(place("stressed_at"));
    const bool by_seven = !at.empty() && at.substr(at.find_first_of("T ") + 1) < "07:00";
    if (left && by_seven) ++days;
    left = cells.at(place("date")) >= from && !watered;
    if (left && !at.empty()) ++days;
    left = left && at.empty();
  }
  return days;
}

TEST_CASE("season: a pot that was looked at, left and then short is named with its days") {
  const ScratchFolder folder;
  const std::string bean =
      "bean,bush bean,nursery 10 l,potting mix,4,2022-05-15,patio,check top daily 07:00,yes,1\n";
  const std::string header = "name,crop,pot,mix,plants,planted,spot,routine,mulch,saucer_l\n";
  folder.write("garden.csv", header + bean);
  const Words season{"season", "--garden", "garden.csv", "--weather",
                     std::string(WILTLINE_SOURCE) + "/weather-samples/zarquil-flats.csv"};
  Words ledger = season;
  ledger.insert(ledger.end(), {"--ledger", "--format", "csv"});
  const int days = days_short_unwatered(run_program(folder, ledger).out, "2022-06-01");
  CHECK(days > 10);
  const std::string told = run_program(folder, season).out;
  CHECK(told.find("bean until 1 Jun") != std::string::npos);  // settled in by then
  CHECK(told.find("Looked at and not watered") != std::string::npos);
  CHECK(told.find("top moist: bean (" + std::to_string(days) + " days)") != std::string::npos);
  // Nobody looks first where every visit waters.
  folder.write("garden.csv", header +
                                 "bean,bush bean,nursery 10 l,potting mix,4,2022-05-15,patio,"
                                 "every 3 days 07:00,yes,1\n");
  CHECK(run_program(folder, season).out.find("Looked at") == std::string::npos);
}

}  // namespace
}  // namespace wiltline::test
