// What people read: amounts with their units, boxes to tick, and what a figure is the mean of.
#include <doctest/doctest.h>

#include <sstream>
#include <string>
#include <vector>

#include "cli/run_program.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline::test {
namespace {

using Words = std::vector<std::string>;
const std::string sample = std::string(WILTLINE_SOURCE) + "/weather-samples/tolvenau.csv";
const std::string courtyard = std::string(WILTLINE_SOURCE) + "/models/gardens/courtyard.csv";

std::string answer(const ScratchFolder& place, Words words) {
  words.insert(words.end(), {"--weather", sample});
  const Outcome outcome = run_program(place, words);
  INFO(command_line(words) << '\n' << outcome.err);
  REQUIRE(outcome.exit_code == 0);
  return outcome.out;
}

std::vector<std::string> lines_with(const std::string& text, const std::string& part) {
  std::vector<std::string> found;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (line.find(part) != std::string::npos) found.push_back(line);
  }
  return found;
}

/// A garden of one small and one big pot, watered two minutes before a visit.
struct JustWatered : ScratchFolder {
  JustWatered() {
    write("garden.csv",
          "name,crop,pot,mix,plants,planted,spot,routine\n"
          "basil,basil,clay 1.3 l,potting mix,3,05-25,patio,every 2 days 07:00\n"
          "dwarf,tomato dwarf,nursery 11 l,potting mix,1,05-15,patio,every 2 days 07:00\n");
  }
  [[nodiscard]] std::string plan(const Words& more) const {
    Words words{"plan",  "--garden",         "garden.csv", "--to", "2024-07-12",
                "--now", "2024-07-13T06:58", "--watered",  "all",  "--days",
                "2"};
    words.insert(words.end(), more.begin(), more.end());
    return answer(*this, words);
  }
};

TEST_CASE("plan: a pot that takes nothing now has no box to tick, in a table or without one") {
  const JustWatered place;
  const std::string table = place.plan({});
  INFO(table);
  CHECK(table.find("Sat 13 Jul 06:58: likely nothing to give\n") != std::string::npos);
  const auto basil = lines_with(table, "  basil  ");
  REQUIRE(basil.size() == 2);
  CHECK(basil[0].find("[ ]") == std::string::npos);
  CHECK(basil[0].find("wilts from 13 Jul afternoon") != std::string::npos);
  CHECK(basil[1].starts_with("[ ]"));
  const std::string compact = place.plan({"--compact"});
  INFO(compact);
  CHECK(compact.find("\n    Sat 13 Jul 06:58: likely nothing to give; basil!.\n") !=
        std::string::npos);
  CHECK(compact.find("\n[ ] Sun 14 Jul 07:00: ") != std::string::npos);
}

TEST_CASE("plan: mL and L stand beside their amounts, and --compact keeps to 100 columns") {
  const JustWatered place;
  const std::string table = place.plan({});
  INFO(table);
  const auto headings = lines_with(table, "planting ");
  REQUIRE_FALSE(headings.empty());
  for (const std::string& heading : headings) {
    CHECK(heading.find(" L") == std::string::npos);
  }
  const auto dwarf = lines_with(table, "]  dwarf ");
  const auto basil = lines_with(table, "]  basil ");
  REQUIRE((dwarf.size() == 1 && basil.size() == 1));
  CHECK(dwarf[0].find(" L ") != std::string::npos);
  CHECK(basil[0].find(" mL ") != std::string::npos);
  std::istringstream lines(answer(
      place, {"plan", "--garden", courtyard, "--to", "2024-07-14", "--compact", "--units", "us"}));
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    CHECK(width_of(line) <= 100);
  }
}

TEST_CASE("forecast: what is to be given ranges at least as far as the weather alone makes it") {
  const JustWatered place;
  const Words words{"forecast", "--garden", "garden.csv", "--to", "2024-07-14"};
  const std::string table = answer(place, words);
  INFO(table);
  Words as_csv = words;
  as_csv.insert(as_csv.end(), {"--format", "csv"});
  std::istringstream lines(answer(place, as_csv));
  const auto cells_of = [](const std::string& line) {
    std::vector<std::string> cells;
    std::istringstream rest(line);
    for (std::string cell; std::getline(rest, cell, ',');) cells.push_back(cell);
    return cells;
  };
  std::string line;
  std::getline(lines, line);
  const auto heads = cells_of(line);
  int seen = 0;
  while (std::getline(lines, line)) {
    const auto row = cells_of(line);
    const auto litres = [&](const std::string& name) {
      for (std::size_t i = 0; i < heads.size(); ++i) {
        if (heads[i] == name) return std::stod(row.at(i));
      }
      FAIL("no column " << name);
      return 0.0;
    };
    // The last cell of the row of the table.
    const auto rows = lines_with(table, row[0] + "  ");
    REQUIRE(rows.size() == 1);
    const std::string& shown = rows[0];
    const std::size_t dash = shown.rfind("–");
    const double low = std::stod(shown.substr(shown.rfind(' ', dash) + 1));
    const double high = std::stod(shown.substr(dash + std::string("–").size()));
    const double per_litre = shown.ends_with(" mL") ? 1000.0 : 1.0;
    const double rounding = 1.05;  // two digits are shown
    CHECK(low <= litres("give_at_visit_l_p10") * per_litre * rounding);
    CHECK(high * rounding >= litres("give_at_visit_l_p90") * per_litre);
    // Plant size, shelter and mix alone reach from 1/1.6 to 1.6 times (questions/range_of_use).
    CHECK(low * 1.6 * 1.6 < high * rounding * rounding);
    ++seen;
  }
  CHECK(seen == 2);
}

TEST_CASE("compare says of what its figures are the mean, and names a crop as people do") {
  const ScratchFolder place;
  const std::string table = answer(place, {"compare", "--crop", "tomato dwarf", "--pots",
                                           "nursery 11 l", "--routine", "daily 07:00"});
  INFO(table);
  CHECK(table.starts_with("dwarf tomato, 1 plant a pot"));
  CHECK(table.find("is the mean of the summers") != std::string::npos);
  CHECK(table.find("Last day of the worst summer: ") != std::string::npos);
}

TEST_CASE("choose names a crop as people do, and its table's name in CSV alone") {
  const ScratchFolder place;
  const Words asked{"choose", "--crops", "tomato dwarf", "--pots", "nursery 11 l"};
  const std::string table = answer(place, asked);
  INFO(table);
  CHECK(table.find("\ndwarf tomato  ") != std::string::npos);
  CHECK(table.find("tomato dwarf") == std::string::npos);
  Words csv = asked;
  csv.insert(csv.end(), {"--format", "csv"});
  CHECK(answer(place, csv).find(",tomato dwarf,") != std::string::npos);
}

TEST_CASE("absence says why a bigger pot has fewer trips, and only where one has") {
  const ScratchFolder place;
  const std::string why = "A bigger pot can have fewer past trips";
  const auto absence = [&](const std::string& pots, const std::string& months) {
    return answer(
        place, {"absence", "--crop", "tomato", "--pots", pots, "--days", "2", "--months", months});
  };
  const std::string early = absence("nursery 11 l,nursery 75 l", "jun-aug");
  INFO(early);
  CHECK(early.find(" of 368") != std::string::npos);
  CHECK(early.find(" of 360") != std::string::npos);
  CHECK(early.find(why) != std::string::npos);
  CHECK(absence("nursery 11 l,nursery 75 l", "aug").find(why) == std::string::npos);
  // Of all pots those around the smallest that is enough are shown; only bigger ones differ.
  const Words all{"absence", "--crop", "tomato", "--days", "2", "--months", "jun"};
  Words csv = all;
  csv.insert(csv.end(), {"--format", "csv"});
  const std::string every = answer(place, csv);
  CHECK(every.find(",120,") != std::string::npos);
  CHECK(every.find(",108,") != std::string::npos);
  const std::string shown = answer(place, all);
  CHECK(shown.find(" of 120") != std::string::npos);
  CHECK(shown.find(" of 108") == std::string::npos);
  CHECK(shown.find(why) == std::string::npos);
}

TEST_CASE("compare: shade saves water, and says where it is too dark for fruit") {
  const ScratchFolder place;
  const std::string dark = "caution: under 6 hours of direct sun a day";
  const auto asked = [&](const std::string& crop, const std::string& spots) {
    const Words words{"compare", "--crop",    crop,          "--pots",    "nursery 37 l", "--spots",
                      spots,     "--routine", "daily 07:00", "--weather", sample};
    const Outcome outcome = run_program(place, words);
    REQUIRE(outcome.exit_code == 0);
    return outcome.out;
  };
  CHECK(asked("tomato", "patio,deep shade").find(dark) != std::string::npos);
  CHECK(asked("tomato", "patio,morning sun").find(dark) == std::string::npos);
  CHECK(asked("kale", "deep shade").find(dark) == std::string::npos);
}

TEST_CASE("plan: next to nothing is nothing to give, in table, sheet of days and calendar") {
  const ScratchFolder place;
  place.write("vine.csv",
              "name,crop,pot,mix,plants,planted,spot,routine\n"
              "vine,tomato,fabric 36 l,vegetable mix,1,05-15,roof terrace,daily 07:00\n");
  const auto plan = [&](const Words& more) {
    Words words{"plan",
                "--garden",
                "vine.csv",
                "--weather",
                std::string(WILTLINE_SOURCE) + "/weather-samples/zarquil-flats.csv",
                "--to",
                "2024-07-14",
                "--days",
                "1",
                "--now"};
    words.insert(words.end(), more.begin(), more.end());
    const Outcome outcome = run_program(place, words);
    INFO(command_line(words) << '\n' << outcome.err);
    REQUIRE(outcome.exit_code == 0);
    return outcome.out;
  };
  // A minute after its visit.
  const std::string table = plan({"2024-07-15T07:01", "--calendar", "vine.ics"});
  INFO(table);
  CHECK(table.find("\nMon 15 Jul 07:01: likely nothing to give\n") != std::string::npos);
  CHECK(lines_with(table, " mL").empty());
  CHECK(lines_with(table, "[ ]").size() == 1);  // tomorrow's
  const std::string calendar = place.read("vine.ics");
  CHECK(calendar.find("SUMMARY:Look at vine") != std::string::npos);
  CHECK(calendar.find("mL") == std::string::npos);
  // A minute before it: watered at once, so that the visit has nothing left to give.
  const std::string compact = plan({"2024-07-15T06:59", "--compact", "--units", "us"});
  INFO(compact);
  CHECK(compact.find(" Mon 15 Jul 07:00: likely nothing to give; vine") != std::string::npos);
  CHECK(compact.find("fl oz") == std::string::npos);
  // Its figure stays.
  const std::string csv = plan({"2024-07-15T07:01", "--format", "csv"});
  CHECK(csv.find("\n2024-07-15T07:01,you,vine,fabric 36 l,0.00,0.00,0.00,no,") !=
        std::string::npos);
}

TEST_CASE("plan: a watering at once, between visits, is not the helper's") {
  const ScratchFolder place;
  place.write("bell.csv",
              "name,crop,pot,mix,plants,planted,spot,routine\n"
              "bell,pepper,glazed 10 l,potting mix,1,05-15,patio,daily 07:00 helper 07-10/07-20 "
              "every 3 days 18:00 give 0.5 l\n");
  const auto plan = [&](const Words& more) {
    Words words{"plan",  "--garden",         "bell.csv", "--to", "2024-07-15",
                "--now", "2024-07-15T12:00", "--days",   "3"};
    words.insert(words.end(), more.begin(), more.end());
    return answer(place, words);
  };
  const std::string table = plan({"--calendar", "bell.ics"});
  INFO(table);
  CHECK(table.find("\nMon 15 Jul 12:00: ") != std::string::npos);
  CHECK(table.find("\nTue 16 Jul 18:00, helper: ") != std::string::npos);
  std::istringstream calendar(place.read("bell.ics"));
  std::vector<std::string> summaries;
  for (std::string line; std::getline(calendar, line);) {
    if (line.starts_with("SUMMARY:")) summaries.push_back(line);
  }
  REQUIRE(summaries.size() == 2);
  CHECK(summaries[0].find("helper") == std::string::npos);
  CHECK(summaries[1].find("(helper)") != std::string::npos);
  const std::string csv = plan({"--format", "csv"});
  CHECK(csv.find("\n2024-07-15T12:00,you,bell,") != std::string::npos);
  CHECK(csv.find("\n2024-07-16T18:00,helper,bell,") != std::string::npos);
}

TEST_CASE("plan: what is planted within its days, and so is not in it, is said") {
  const ScratchFolder place;
  const Outcome outcome =
      run_program(place, {"plan", "--garden", courtyard, "--weather", sample, "--to", "2024-05-18",
                          "--now", "2024-05-19T06:00", "--days", "4", "--format", "csv"});
  INFO(outcome.err);
  REQUIRE(outcome.exit_code == 0);
  CHECK(outcome.err.find("planted 20 May, within the days asked, but not in this answer: sweet "
                         "pepper; eggplant; zucchini; bush beans\n") != std::string::npos);
  CHECK(
      outcome.err.find("not growing on 19 May 2024: cucumbers on a trellis; basil on the sill\n") !=
      std::string::npos);
}

TEST_CASE("plan: a pot that its look leaves dry is to be watered all the same, as forecast says") {
  const ScratchFolder place;
  place.write("basil.csv",
              "name,crop,pot,mix,plants,planted,spot,routine,saucer_l\n"
              "basil,basil,clay 3 l,potting mix,3,05-25,balcony,check daily 07:00,0.3\n");
  const auto asked = [&](const std::string& command) {
    return answer(place, {command, "--garden", "basil.csv", "--to", "2024-07-14", "--now",
                          "2024-07-15T07:00", "--days", "2"});
  };
  const std::string plan = asked("plan");
  INFO(plan);
  CHECK(plan.find("wilts from 16 Jul morning; water it, moist or not") != std::string::npos);
  CHECK(lines_with(plan, "moist or not").size() == 1);
  CHECK(plan.find("07:00: likely nothing to give by the look\n") != std::string::npos);
  CHECK(asked("forecast").find("Water at visits today: basil (") != std::string::npos);
  const auto more = [&](const std::string& now, const Words& words) {
    Words all{"plan", "--garden", "basil.csv", "--to", "2024-07-14", "--days", "1", "--now", now};
    all.insert(all.end(), words.begin(), words.end());
    return answer(place, all);
  };
  const std::string compact = more("2024-07-15T07:00", {"--compact", "--calendar", "basil.ics"});
  CHECK(compact.find("basil (water it, moist or not)!") != std::string::npos);
  CHECK(place.read("basil.ics").find("SUMMARY:Water basil") != std::string::npos);
  CHECK(more("2024-07-15T07:00", {"--format", "csv"}).find("water it, moist or not") !=
        std::string::npos);
}

TEST_CASE("plan: what is full already is not to be watered, moist or not") {
  const ScratchFolder place;
  place.write("small.csv",
              "name,crop,pot,mix,plants,planted,spot,routine\n"
              "it,tomato,nursery 11 l,potting mix,1,05-15,patio,check daily 07:00\n");
  const auto plan = [&](const std::string& now) {
    const Outcome outcome =
        run_program(place, {"plan", "--garden", "small.csv", "--weather",
                            std::string(WILTLINE_SOURCE) + "/weather-samples/zarquil-flats.csv",
                            "--to", "2024-07-14", "--now", now, "--days", "2"});
    REQUIRE(outcome.exit_code == 0);
    return outcome.out;
  };
  const std::string after = plan("2024-07-15T07:01");
  INFO(after);
  CHECK(after.find("Mon 15 Jul 07:01: likely nothing to give\n") != std::string::npos);
  CHECK(lines_with(after, "moist or not").empty());
}

TEST_CASE("plan: what a helper gives by amount is given, however little") {
  const ScratchFolder place;
  place.write("helped.csv",
              "name,crop,pot,mix,plants,planted,spot,routine\n"
              "it,tomato,nursery 37 l,potting mix,1,05-15,patio,daily 07:00 helper 07-06/07-20 "
              "daily 08:00 give 0.05 l\n");
  const std::string plan = answer(place, {"plan", "--garden", "helped.csv", "--to", "2024-07-14",
                                          "--now", "2024-07-15T06:00", "--days", "2"});
  INFO(plan);
  CHECK(plan.find("08:00, helper: 50 mL in all") != std::string::npos);
  CHECK(plan.find("helper: likely nothing") == std::string::npos);
}

TEST_CASE("plan: a visit is one event of the calendar, asked for before it or at its minute") {
  const ScratchFolder place;
  place.write("basil.csv",
              "name,crop,pot,mix,plants,planted,spot,routine\n"
              "basil,basil,clay 3 l,potting mix,3,05-25,balcony,daily 07:00\n");
  const auto first_uid = [&](const std::string& now) {
    const std::string file = now.substr(11, 2) + ".ics";
    (void)answer(place, {"plan", "--garden", "basil.csv", "--to", "2024-07-14", "--now", now,
                         "--days", "1", "--calendar", file});
    const std::string text = place.read(file);
    const std::size_t at = text.find("UID:");
    return text.substr(at, text.find('\r', at) - at);
  };
  CHECK(first_uid("2024-07-15T06:59") == first_uid("2024-07-15T07:00"));
}

}  // namespace
}  // namespace wiltline::test
