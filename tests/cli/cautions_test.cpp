// What must be said of a pot whatever is asked about it.
#include <doctest/doctest.h>

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
    for (const Words& question : {Words{"season"}, Words{"compare"}, Words{"heatwave"},
                                  Words{"forecast", "--to", "2024-07-14"},
                                  Words{"absence", "--days", "2", "--pots", pot},
                                  Words{"season", "--by", "month"},
                                  Words{"plan", "--to", "2024-07-14"}}) {
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

}  // namespace
}  // namespace wiltline::test
