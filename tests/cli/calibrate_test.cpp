// calibrate as a shell runs it: columns, the garden it writes, and what it refuses.
#include <doctest/doctest.h>

#include <sstream>
#include <string>
#include <vector>

#include "cli/run_program.hpp"

namespace wiltline::test {
namespace {

using Words = std::vector<std::string>;
const std::string source = WILTLINE_SOURCE;
const std::string weather = source + "/weather-samples/tolvenau.csv";

/// One invented pot with a tare, and a handful of readings.
struct Bench : ScratchFolder {
  Bench() {
    write("garden.csv",
          "# mine\nname,crop,pot,mix,plants,planted,spot,routine,tare_kg,use_factor,notes\n"
          "basil,basil,clay 3 l,potting mix,3,05-25,patio,daily 07:00,1,0.5,\"by, the door\"\n");
    write("weighings.csv",
          "name,when,weight_kg\nbasil,2024-07-01 18:00,3.2\nbasil,2024-07-02 06:30,3.1\n");
  }
};

Words calibrate(const Words& more, const std::string& weighings = "weighings.csv") {
  Words words{"calibrate", "--garden", "garden.csv", "--weather", weather};
  if (!weighings.empty()) {
    words.emplace_back("--weighings");
    words.push_back(weighings);
  }
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

std::string refused(const std::string& option, const std::string& text) {
  const Bench bench;
  bench.write("bad.csv", text);
  const Outcome outcome =
      run_program(bench, calibrate({"--" + option, "bad.csv", "--write", "new.csv"}, ""));
  CHECK(outcome.exit_code == 3);
  CHECK(outcome.out.empty());
  CHECK(bench.listing().find("new.csv") == std::string::npos);
  return outcome.err;
}

bool says(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("calibrate: an invented courtyard, its table, its CSV and the garden it writes") {
  const ScratchFolder folder;
  const Words words{"calibrate",
                    "--garden",
                    source + "/models/gardens/courtyard.csv",
                    "--weather",
                    weather,
                    "--weighings",
                    source + "/models/readings/courtyard-weighings.csv",
                    "--seen",
                    source + "/models/readings/courtyard-seen.csv"};
  Words table = words;
  table.insert(table.end(), {"--write", "learned.csv"});
  const Outcome told = run_program(folder, table);
  INFO(told.out << told.err);
  REQUIRE(told.exit_code == 0);
  CHECK(says(told.out, "tall tomato ×2: your tomato drinks 1."));
  CHECK(says(told.out, "mistyped?"));
  CHECK(says(told.out, "To learn most: "));
  Words csv = words;
  csv.insert(csv.end(), {"--format", "csv"});
  const Outcome rows = run_program(folder, csv);
  CHECK(rows.out.starts_with(
      "name,crop,parameter,prior,prior_low,prior_high,estimate,low,high,learned,outliers,"
      "standard_error\ntall tomato,tomato,use_factor,1.000,"));
  // The garden it wrote is one that every command reads, and the tomato now uses more.
  const auto season = [&](const std::string& garden) {
    const Outcome outcome = run_program(
        folder, {"season", "--garden", garden, "--weather", weather, "--format", "csv"});
    CHECK(outcome.exit_code == 0);
    const std::size_t at = outcome.out.find("tall tomato,");
    REQUIRE(at != std::string::npos);
    std::istringstream row(outcome.out.substr(at, outcome.out.find('\n', at) - at));
    constexpr int peak_use_column = 8;
    std::string cell;
    for (int column = 0; column < peak_use_column; ++column) std::getline(row, cell, ',');
    return std::stod(cell);
  };
  const double learned_l = season("learned.csv");
  CHECK(learned_l > 1.1 * season(source + "/models/gardens/courtyard.csv"));
  CHECK(says(folder.read("learned.csv"), ",use_factor,use_factor_sd,usable_l,usable_sd_l,"));
}

TEST_CASE("calibrate: what a garden has besides stays, what was learned before does not") {
  const Bench bench;
  const Outcome outcome = run_program(bench, calibrate({"--write", "new.csv"}));
  INFO(outcome.err);
  REQUIRE(outcome.exit_code == 0);
  const std::string garden = bench.read("new.csv");
  CHECK(
      garden.starts_with("# mine\nname,crop,pot,mix,plants,planted,spot,routine,tare_kg,notes,"
                         "use_factor,use_factor_sd,usable_l,usable_sd_l,wall_factor,"
                         "use_usable_correlation,calibrated_until\nbasil,"));
  CHECK(garden.ends_with(",2024-07-02T06:30\n"));
  CHECK(says(garden, ",1,\"by, the door\","));
  const Outcome over = run_program(bench, calibrate({"--write", "garden.csv"}));
  CHECK(over.exit_code == 2);
  CHECK(says(over.err, "--write: "));
  CHECK(run_program(bench, calibrate({"--write", "-"})).exit_code == 2);
  CHECK(run_program(bench, calibrate({}, "")).exit_code == 2);
}

TEST_CASE("calibrate: too few readings are said") {
  const Bench bench;
  CHECK(says(run_program(bench, calibrate({})).out,
             "too few readings to tell, so that the next can move a figure as far as its range "
             "goes: basil"));
  bench.write("one.csv", "name,when,weight_kg\nbasil,2024-07-01 18:00,3.2\n");
  const Outcome outcome = run_program(bench, calibrate({}, "one.csv"));
  CHECK(outcome.exit_code == 0);
  CHECK(says(outcome.out, "too few readings"));
}

TEST_CASE("calibrate: nothing learned is as the tables have it, in sentence, table and garden") {
  const Bench bench;
  bench.write("seen.csv", "name,when,wilting\nbasil,2024-07-01 15:00,no\n");
  const Outcome outcome =
      run_program(bench, calibrate({"--seen", "seen.csv", "--write", "new.csv"}, ""));
  CHECK(outcome.exit_code == 0);
  CHECK(says(outcome.out, "basil: nothing learned of what it drinks; the table's figure holds"));
  CHECK(says(outcome.out, "use, times the table   1.00 (0.69–1.46)     as the tables"));
  CHECK(bench.read("new.csv").ends_with(",,,,,,,\n"));
}

TEST_CASE("calibrate: weights in pounds under kilograms are suspected, those in kilograms not") {
  const Bench bench;
  const std::string rows = "\nbasil,2024-07-01 18:00,7.1\nbasil,2024-07-02 06:30,6.8\n";
  bench.write("kg.csv", "name,when,weight_kg" + rows);
  bench.write("lb.csv", "name,when,weight_lb" + rows);
  CHECK(says(run_program(bench, calibrate({"--format", "csv"}, "kg.csv")).err,
             "kg.csv: weights of about 1.7 times"));
  CHECK_FALSE(says(run_program(bench, calibrate({"--format", "csv"}, "lb.csv")).err, "pounds?"));
}

TEST_CASE("calibrate: why it names more weights than forecast does is said beside them") {
  const ScratchFolder folder;
  const std::string garden = source + "/models/gardens/courtyard.csv";
  const std::string weighings = source + "/models/readings/courtyard-weighings.csv";
  const Words files{"--garden", garden, "--weather", weather, "--weighings", weighings};
  Words fit{"calibrate"};
  fit.insert(fit.end(), files.begin(), files.end());
  Words foretell{"forecast", "--now", "2024-07-16T07:00"};
  foretell.insert(foretell.end(), files.begin(), files.end());
  const std::string fitted = run_program(folder, fit).out;
  const std::string foretold = run_program(folder, foretell).out;
  // One weight that only calibrate names.
  CHECK(says(fitted, "tall tomato ×2, 7 Jul 2024, 18:00: 2.0 kg lighter than expected"));
  CHECK_FALSE(says(foretold, "7 Jul 2024, 18:00"));
  CHECK(says(fitted, "A weight is named where it is further off than 2.5 times"));
  CHECK(says(foretold, "a reading is doubted here by those before it alone"));
}

TEST_CASE("calibrate: why it names a weight is not said of what was only seen") {
  const Bench bench;
  // An hour after the day's watering.
  bench.write("seen.csv", "name,when,top_dry,wilting\nbasil,2024-07-02 08:00,yes,yes\n");
  const Outcome outcome = run_program(bench, calibrate({"--seen", "seen.csv"}, ""));
  INFO(outcome.out);
  CHECK(says(outcome.out, "basil, 2 Jul 2024, 08:00: the finger test does not fit"));
  CHECK(says(outcome.out, "basil, 2 Jul 2024, 08:00: that it wilted does not fit"));
  CHECK_FALSE(says(outcome.out, "A weight is named"));
}

TEST_CASE("calibrate: readings of a crop that frost has ended are left out, and said") {
  const Bench bench;
  bench.write("late.csv",
              "name,when,weight_kg\nbasil,2023-07-01 18:00,3.2\nbasil,2024-02-01 18:00,3\n");
  const Outcome outcome = run_program(bench, calibrate({}, "late.csv"));
  CHECK(outcome.exit_code == 0);
  CHECK(says(outcome.out, "basil: 1 reading left out, outside the time its crop grows"));
}

TEST_CASE("calibrate: bad readings are refused in place") {
  CHECK(says(refused("weighings", "name,when,weight_kg\nbazil,2024-07-01 18:00,3\n"),
             "bad.csv:2:1: found unknown planting \"bazil\""));
  CHECK(says(refused("weighings", "name,when,weight_kg\nbasil,2024-07-01 18:00,0.8\n"),
             "bad.csv:2:24: found \"basil\" of 0.8 kg, below its tare of 1 kg"));
  CHECK(says(refused("weighings", "name,when,weight_kg\nbasil,2024-07-01 18:00,3900\n"),
             "bad.csv:2:24: found \"basil\" of 3900 kg, heavier than full; expected at most "));
  CHECK(says(refused("weighings", "name,when,weight_kg\nbasil,2024-07-01 18:00,3900\n"),
             " (in grams?)"));
  CHECK(says(refused("weighings", "name,when,weight_kg\nbasil,2024-07-01 18:00,60\n"),
             " (mistyped?)"));
  CHECK(says(refused("weighings", "name,when,weight_kg\nbasil,2024-07-01 18:00,15\n"),
             " (in pounds?)"));
  CHECK(says(refused("weighings", "name,when,weight_kg\nbasil,2030-07-01 18:00,3\n"),
             "bad.csv:2:7: found 2030-07-01T18:00 outside the weather"));
  CHECK(says(refused("weighings",
                     "name,when,weight_kg\nbasil,2024-07-01 18:00,3\nbasil,2024-07-01 18:00,4\n"),
             "bad.csv:3:24: found 4 kg, where line 2 has 3 kg of \"basil\" at the same time"));
  CHECK(says(refused("weighings", "name,when,weight_kg,watering\nbasil,2024-07-01 18:00,3,later\n"),
             "bad.csv:2:26: found "));
  CHECK(says(refused("seen", "name,when,top_dry,wilting\nbasil,2024-07-01 18:00,,\n"),
             "found nothing seen"));
  CHECK(says(refused("seen", "name,when,top_dry\nbasil,2024-07-01 18:00,maybe\n"), "bad.csv:2:24"));
  CHECK(says(refused("log", "when,name,given_l,drained_l\n2024-07-01 18:00,basil,1,2\n"),
             "found 2 l drained of 1 given"));
}

}  // namespace wiltline::test
