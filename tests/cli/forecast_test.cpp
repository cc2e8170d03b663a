// The forecast as a shell runs it: alarm, saved state, units, and what it refuses.
#include <doctest/doctest.h>

#include <filesystem>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "cli/run_program.hpp"

namespace wiltline::test {
namespace {

using Words = std::vector<std::string>;
const std::string sample = std::string(WILTLINE_SOURCE) + "/weather-samples/tolvenau.csv";
const std::string header = "name,crop,pot,mix,plants,planted,spot,routine,tare_kg\n";

struct Place : ScratchFolder {
  Place() {
    write("garden.csv", header +
                            "basil,basil,clay 3 l,potting mix,3,05-25,patio,every 9 days 07:00,1\n"
                            "broccoli,broccoli,nursery 18 l,coir mix,1,05-10,patio,daily 07:00,\n");
    write("kept.csv",
          header + "broccoli,broccoli,nursery 18 l,coir mix,1,05-10,patio,daily 07:00,\n");
  }
};

Words forecast(const Words& more, const std::string& to = "2024-07-14",
               const std::string& garden = "garden.csv") {
  Words words{"forecast", "--garden", garden, "--weather", sample, "--to", to};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

TEST_CASE(
    "forecast: a planting mistyped is answered with the one meant, a state of another garden "
    "once") {
  const Place place;
  const std::string courtyard = std::string(WILTLINE_SOURCE) + "/models/gardens/courtyard.csv";
  const Outcome mistyped =
      run_program(place, forecast({"--watered", "basill"}, "2024-07-14", courtyard));
  CHECK(mistyped.exit_code == 2);
  CHECK(mistyped.err ==
        "wiltline: --watered: found unknown planting \"basill\"; expected a name of " + courtyard +
            "; nearest: basil on the sill\n");
  REQUIRE(run_program(place, forecast({"--save-state", "other.csv"}, "2024-07-14", courtyard))
              .exit_code == 0);
  place.write("thyme.csv",
              "name,crop,pot,mix,plants,planted,spot,routine\n"
              "rosemary,thyme,clay 4 l,herb mix,1,04-20,patio,daily 07:00\n");
  const Outcome other =
      run_program(place, forecast({"--state", "other.csv"}, "2024-07-14", "thyme.csv"));
  CHECK(other.exit_code == 3);
  CHECK(other.err ==
        "wiltline: other.csv:2:1: found unknown plantings in 10 rows, first \"basil on the sill\"; "
        "expected a name of the garden\n");
}

TEST_CASE("forecast: --alarm answers and exits with 10, and only where a pot goes dry") {
  const Place place;
  const Words csv{"--format", "csv"};
  const Outcome quiet = run_program(place, forecast(csv));
  CHECK(quiet.exit_code == 0);
  CHECK(quiet.out.find(",yes,") != std::string::npos);
  const Outcome alarm = run_program(place, forecast({"--format", "csv", "--alarm"}));
  CHECK(alarm.exit_code == 10);
  CHECK(alarm.out == quiet.out);
  CHECK(run_program(place, forecast({"--alarm"}, "2024-07-14", "kept.csv")).exit_code == 0);
}

TEST_CASE("forecast: --alarm rings for a pot that is dry as somebody stands before it") {
  const Place place;
  place.write("basil.csv",
              header + "basil,basil,clay 3 l,potting mix,3,05-25,patio,every 9 days 07:00,1\n");
  const auto asked = [&](const std::string& now) {
    return run_program(place, forecast({"--alarm", "--now", now}, "2024-07-31", "basil.csv"));
  };
  // Its visit of 18 July is at 07:00.
  const Outcome at_visit = asked("2024-07-18T07:00");
  INFO(at_visit.out);
  CHECK(at_visit.out.starts_with("Dry now, water at once: basil"));
  CHECK(at_visit.exit_code == 10);
  CHECK(asked("2024-07-18T06:59").exit_code == 10);
  place.write("kept.csv",
              header + "basil,basil,clay 3 l,potting mix,3,05-25,patio,daily 07:00,1\n");
  CHECK(run_program(place,
                    forecast({"--alarm", "--now", "2024-07-14T07:00"}, "2024-07-31", "kept.csv"))
            .exit_code == 0);
}

TEST_CASE("forecast: only a pot with a visit then is to be watered today or tomorrow") {
  const Place place;
  // The basil wants water at once, and nobody comes before the 18th.
  const Outcome outcome = run_program(place, forecast({}));
  INFO(outcome.out);
  REQUIRE(outcome.exit_code == 0);
  CHECK(outcome.out.starts_with("Water now, for these go dry before the next visit: basil ("));
  const std::size_t begin = outcome.out.find("Water at visits today: ");
  REQUIRE(begin != std::string::npos);
  const std::string visits = outcome.out.substr(begin, outcome.out.find('.', begin) - begin);
  CHECK(visits.find("; tomorrow: ") != std::string::npos);
  CHECK(visits.find("basil") == std::string::npos);
}

TEST_CASE("forecast: a pot that is dry now is told so at every minute") {
  const ScratchFolder place;
  place.write("away.csv",
              "name,crop,pot,mix,plants,planted,spot,routine\n"
              "bell,pepper,glazed 10 l,potting mix,1,05-15,patio,daily 07:00 away 07-10/07-20\n");
  for (const char* minute : {"11:57", "11:58", "11:59", "12:00", "12:01"}) {
    const Outcome outcome = run_program(
        place, forecast({"--now", std::string("2024-07-17T") + minute}, "2024-07-17", "away.csv"));
    INFO(minute << outcome.err << outcome.out);
    CHECK(outcome.out.starts_with("Dry now, water at once: bell ("));
  }
}

TEST_CASE("forecast: a pot that is not dry but wants water and will not last is named first") {
  const ScratchFolder place;
  place.write("chilli.csv",
              "name,crop,pot,mix,plants,planted,spot,routine\n"
              "chilli,chilli,clay 25 cm,potting mix,1,05-25,sunny wall,every 2 days 07:00\n");
  const Outcome outcome =
      run_program(place, {"forecast", "--garden", "chilli.csv", "--weather",
                          std::string(WILTLINE_SOURCE) + "/weather-samples/zarquil-flats.csv",
                          "--to", "2024-07-14", "--now", "2024-07-15T08:00"});
  INFO(outcome.err << outcome.out);
  CHECK(
      outcome.out.starts_with("Water now, for these go dry before the next visit: chilli (2.2 L).\n"
                              "Water at visits today: nothing; tomorrow: chilli ("));
  CHECK(outcome.out.find("if nothing is done") == std::string::npos);  // it is said once
}

TEST_CASE("forecast: weighings teach it, and a saved state keeps what was learned") {
  const Place place;
  const std::string first =
      "name,when,weight_kg,watering\nbasil,2024-07-09 18:00,3.5,before\n"
      "basil,2024-07-09 18:00,4.35,after\nbasil,2024-07-11 18:00,3.1,before\n"
      "basil,2024-07-11 18:00,4.35,after\n";
  const std::string later =
      "basil,2024-07-13 18:00,3.05,before\nbasil,2024-07-13 18:00,4.3,after\n";
  place.write("first.csv", first);
  place.write("all.csv", first + later);
  const Words csv{"--format", "csv"};
  const Outcome in_one =
      run_program(place, forecast({"--weighings", "all.csv", "--format", "csv"}));
  INFO(in_one.err << in_one.out);
  REQUIRE(in_one.exit_code == 0);
  CHECK(in_one.err.find("basil drinks ") != std::string::npos);
  CHECK(in_one.err.find(" times the table, from 6 readings (9 in 10: ") != std::string::npos);
  // The broccoli was not weighed: its row is that of an answer without weighings, and empty cells.
  const Outcome plain = run_program(place, forecast(csv));
  const auto row_of = [](const Outcome& outcome, const std::string& name) {
    const std::size_t at = outcome.out.find(name);
    REQUIRE(at != std::string::npos);
    return outcome.out.substr(at, outcome.out.find('\n', at) - at);
  };
  CHECK(row_of(in_one, "broccoli") == row_of(plain, "broccoli") + ",,,,,,");
  CHECK(row_of(in_one, "basil") != row_of(plain, "basil") + ",,,,,,");

  const Outcome before = run_program(
      place, forecast({"--weighings", "first.csv", "--save-state", "state.csv"}, "2024-07-12"));
  REQUIRE(before.exit_code == 0);
  const Outcome gone_on = run_program(
      place, forecast({"--weighings", "all.csv", "--state", "state.csv", "--format", "csv"}));
  INFO(gone_on.err);
  REQUIRE(gone_on.exit_code == 0);
  CHECK(gone_on.err.find("readings before the saved state, taken as learned from in it: 4") !=
        std::string::npos);
  // The same but for what the use was before the readings that are new.
  const auto without_before = [&](const Outcome& outcome) {
    const std::string row = row_of(outcome, "basil");
    const std::size_t left_out = row.rfind(',');
    return row.substr(0, row.rfind(',', left_out - 1));
  };
  CHECK(without_before(gone_on) == without_before(in_one));
  // A state of somebody who never weighed.
  REQUIRE(run_program(place, forecast({"--save-state", "plain.csv"}, "2024-07-12")).exit_code == 0);
  const Outcome unknown = run_program(
      place, forecast({"--weighings", "first.csv", "--state", "plain.csv", "--format", "csv"}));
  CHECK(unknown.exit_code == 0);
  CHECK(unknown.err.find("without effect, because they are before a saved state") !=
        std::string::npos);
  CHECK(unknown.out.find("use_factor") == std::string::npos);
  // And the plan uses them too.
  const Words plan{"plan", "--garden",   "garden.csv",  "--weather", sample,
                   "--to", "2024-07-14", "--weighings", "all.csv"};
  const Outcome planned = run_program(place, plan);
  CHECK(planned.exit_code == 0);
  CHECK(planned.out.find("basil drinks ") != std::string::npos);
}

TEST_CASE("forecast: readings that the garden was calibrated with are counted, and said") {
  const Place place;
  place.write("weighings.csv",
              "name,when,weight_kg\nbasil,2024-07-09 18:00,3.5\nbasil,2024-07-11 18:00,3.1\n"
              "basil,2024-07-13 18:00,3.05\n");
  const auto said = [&](const std::string& until) {
    place.write("learned.csv",
                "name,crop,pot,mix,plants,planted,spot,routine,use_factor,use_factor_sd,"
                "calibrated_until\nbasil,basil,clay 3 l,potting mix,3,05-25,patio,daily 07:00,1.1,"
                "0.1," +
                    until + "\n");
    std::string both;
    for (const std::string command : {"forecast", "plan"}) {
      const Outcome outcome =
          run_program(place, {command, "--garden", "learned.csv", "--weather", sample,
                              "--weighings", "weighings.csv", "--now", "2024-07-15T07:00"});
      CHECK(outcome.exit_code == 0);
      both += outcome.out;
    }
    return both;
  };
  const std::string twice = said("2024-07-11T18:00");
  const std::size_t first = twice.find("learned from a second time: 2;");
  REQUIRE(first != std::string::npos);
  CHECK(twice.find("learned from a second time: 2;", first + 1) != std::string::npos);
  CHECK(said("").find("a second time") == std::string::npos);
  CHECK(said("2024-07-09T17:59").find("a second time") == std::string::npos);
}

TEST_CASE("forecast: bad weighings and sightings are refused in place") {
  const auto refused = [](const std::string& option, const std::string& text) {
    const Place place;
    place.write("bad.csv", text);
    const Outcome outcome = run_program(place, forecast({"--" + option, "bad.csv"}));
    CHECK(outcome.exit_code == 3);
    CHECK(outcome.out.empty());
    return outcome.err;
  };
  const auto says = [](const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
  };
  CHECK(says(refused("weighings", "name,when,weight_kg\nbazil,2024-07-01 18:00,3\n"),
             "bad.csv:2:1: found unknown planting \"bazil\""));
  CHECK(says(refused("weighings", "name,when,weight_kg\nbasil,2024-07-01 18:00,0.8\n"),
             "bad.csv:2:24: found \"basil\" of 0.8 kg, below its tare of 1 kg"));
  CHECK(says(refused("weighings", "name,when,weight_kg\nbasil,2024-07-15 18:00,3\n"),
             "bad.csv:2:7: found 2024-07-15T18:00 after now; expected a time up to"));
  CHECK(says(refused("seen", "name,when,wilting\nbasil,2024-07-01 18:00,perhaps\n"),
             "bad.csv:2:24: found"));
}

TEST_CASE("forecast: draws in which a pot holds no water are said") {
  const Place place;
  std::filesystem::create_directory(place.path() / "models");
  for (const auto& file :
       std::filesystem::directory_iterator(std::string(WILTLINE_SOURCE) + "/models")) {
    if (file.path().extension() != ".csv") continue;
    std::filesystem::copy(file, place.path() / "models");
  }
  // A refill share that often restores less than what stays in the mix.
  std::string parameters = place.read("models/parameters.csv");
  const std::string row = "refill_share,0.9,0.8,0.97";
  REQUIRE(parameters.find(row) != std::string::npos);
  parameters.replace(parameters.find(row), row.size(), "refill_share,0.9,0.05,0.97");
  place.write("models/parameters.csv", parameters);
  const Outcome outcome = run_program(place, forecast({"--models", "models", "--uncertain", "50"}));
  INFO(outcome.err << outcome.out);
  REQUIRE(outcome.exit_code == 0);
  CHECK(outcome.out.find("of 50 runs left out: this mix then holds no water") != std::string::npos);
}

TEST_CASE("forecast: a finger in the top is believed, and no more than it can feel") {
  const Place place;
  const auto depletion_l = [&](const Words& more) {
    Words words = forecast({"--format", "csv"});
    words.insert(words.end(), more.begin(), more.end());
    const Outcome outcome = run_program(place, words);
    REQUIRE(outcome.exit_code == 0);
    const std::size_t at = outcome.out.find("\nbasil,clay 3 l,");
    REQUIRE(at != std::string::npos);
    return std::stod(outcome.out.substr(at + std::string("\nbasil,clay 3 l,").size()));
  };
  const Words watered{"--watered", "basil@2024-07-14T18:30"};
  Words felt_dry = watered;
  felt_dry.insert(felt_dry.end(), {"--top", "basil=dry"});
  CHECK(depletion_l(felt_dry) > depletion_l(watered));
  const Words forgotten{"--watered", "basil@2024-07-08T07:00"};
  Words felt_moist = forgotten;
  felt_moist.insert(felt_moist.end(), {"--top", "basil=moist"});
  // The top was not as dry as computed; what the roots took from below is not felt.
  CHECK(depletion_l(felt_moist) == depletion_l(forgotten));
  const auto saved = [&](Words more, const std::string& file) {
    more.insert(more.end(), {"--save-state", file});
    REQUIRE(run_program(place, forecast(more)).exit_code == 0);
    return place.read(file);
  };
  CHECK(saved(felt_moist, "moist.csv") != saved(forgotten, "forgotten.csv"));
}

TEST_CASE("forecast: tomorrow from the saved state is tomorrow from the record") {
  const Place place;
  place.write("log.csv",
              "when,name,given_l\n2024-07-15 08:30,basil,\n2024-07-15 08:40,broccoli,0.7\n");
  const Words now{"--now", "2024-07-15T09:00", "--log", "log.csv", "--save-state", "state.csv"};
  CHECK(run_program(place, forecast(now)).exit_code == 0);
  const Words csv{"--format", "csv"};
  const Outcome whole = run_program(
      place,
      forecast({"--log", "log.csv", "--format", "csv", "--save-state", "a.csv"}, "2024-07-19"));
  const Outcome resumed = run_program(
      place,
      forecast({"--state", "state.csv", "--format", "csv", "--save-state", "b.csv"}, "2024-07-19"));
  const Outcome both = run_program(
      place,
      forecast({"--state", "state.csv", "--log", "log.csv", "--format", "csv"}, "2024-07-19"));
  const Outcome neither = run_program(place, forecast(csv, "2024-07-19"));
  CHECK(whole.exit_code == 0);
  CHECK(resumed.out == whole.out);
  CHECK(both.out == whole.out);
  CHECK(neither.out != whole.out);
  CHECK(place.read("a.csv") == place.read("b.csv"));
}

TEST_CASE("forecast: a log without an entry is no log") {
  const Place place;
  place.write("log.csv", "when,name,given_l\n");
  const Outcome logged = run_program(place, forecast({"--log", "log.csv", "--format", "csv"}));
  CHECK(logged.exit_code == 0);
  CHECK(logged.out == run_program(place, forecast({"--format", "csv"})).out);
}

TEST_CASE("forecast: the units of what is typed and printed change no answer") {
  const Place place;
  place.write("l.csv", "when,name,given_l\n2024-07-13 08:30,broccoli,3.785411784\n");
  place.write("gal.csv", "when,name,given_gal\n2024-07-13T08:30,broccoli,1\n");
  const Outcome metric = run_program(
      place, forecast({"--log", "l.csv", "--weight", "basil=4.5359237", "--format", "csv"}));
  const Outcome us = run_program(place, forecast({"--log", "gal.csv", "--weight", "basil=10lb",
                                                  "--format", "csv", "--units", "us"}));
  CHECK(metric.exit_code == 0);
  CHECK(us.out == metric.out);
}

TEST_CASE("forecast: what is wrong gives its line, no answer and no state") {
  const Place place;
  place.write("late.csv", "date,tmin_c,tmax_c,rain_mm\n2024-07-17,12,25,0\n");
  place.write("stale.csv", "date,tmin_c,tmax_c,rain_mm\n2024-07-13,12,25,0\n2024-07-14,12,25,0\n");
  place.write("stranger.csv", "when,name,given_l\n2024-07-14 08:30,rose,1\n");
  place.write("future.csv", "when,name,given_l\n2024-07-16 08:30,broccoli,1\n");
  place.write("nothing.csv", "when,name,given_l\n2024-07-14 08:30,broccoli,0\n");
  place.write("hour.csv", "when,name,given_l\n2024-07-14,broccoli,1\n");
  CHECK(run_program(place, forecast({"--save-state", "state.csv"})).exit_code == 0);
  std::string state = place.read("state.csv");
  const auto with = [&](const std::string& from, const std::string& to) {
    std::string text = state;
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
  };
  place.write("rose.csv", with("basil", "rose"));
  place.write("planted.csv", with("2024-05-25", "2024-05-26"));
  place.write("soon.csv", with(",2024-07-15,", ",2024-07-16,"));
  place.write("number.csv", with(",days,", ",days,x"));
  const std::string before = place.listing();

  struct Case {
    Words more;
    int exit_code;
    std::string said;
  };
  const std::vector<Case> cases{
      {{"--from", "2024-04-01"},
       2,
       "found no weather for 15 Jul 2024: " + std::string(WILTLINE_SOURCE) +
           "/weather-samples/tolvenau.csv has no days of other years around it"},
      {{"--forecast", "late.csv"},
       3,
       "late.csv: found first day 2024-07-17; expected at the latest 2024-07-15"},
      {{"--forecast", "stale.csv"},
       3,
       "stale.csv: found last day 2024-07-14; expected days up to 2024-07-15"},
      {{"--log", "stranger.csv"},
       3,
       "stranger.csv:2:18: found unknown planting \"rose\"; expected a name of the garden"},
      {{"--log", "future.csv"},
       3,
       "future.csv:2:1: found 2024-07-16T08:30 after now; expected a time up to 2024-07-15T00:00"},
      {{"--log", "nothing.csv"},
       3,
       "nothing.csv:2:27: found 0 in given_l; expected 0.001 to 10000 litres"},
      {{"--log", "hour.csv"}, 3, "hour.csv:2:1: found \"2024-07-14\"; expected a date and hour"},
      {{"--state", "rose.csv"}, 3, "rose.csv:2:1: found unknown planting \"rose\""},
      {{"--state", "planted.csv"},
       3,
       "planted.csv:2:7: found 2024-05-26; expected the planting day"},
      {{"--state", "soon.csv"}, 3, "soon.csv:2:18: found 2024-07-16; expected a day from"},
      {{"--state", "number.csv"}, 3, "number.csv:2:34: found \"x"},
      {{"--state", "state.csv", "--growth", "degree-days"},
       3,
       "found \"days\"; expected degree-days, as --growth says"},
      {{"--weight", "basil=0.5"}, 2, "--weight: found \"basil\" of 0.5 kg, below its tare of 1 kg"},
      {{"--weight", "basil=1.1"}, 2, "below tare and dry mix together"},
      {{"--weight", "basil=60"},
       2,
       "--weight: found \"basil\" of 60 kg, heavier than full; expected"},
      {{"--weight", "broccoli=9"}, 2, "--weight: found no tare_kg for \"broccoli\""},
      {{"--weight", "basil=3", "--weight", "basil=4"},
       2,
       "--weight: found \"basil\" a second time"},
      {{"--top", "basil=wet"}, 2, "--top: found \"basil=wet\"; expected NAME=dry or NAME=moist"},
      {{"--watered", "basl"}, 2, "--watered: found unknown planting \"basl\""},
      {{"--uncertain", "abc", "--what-matters"},
       2,
       "--uncertain: found \"abc\"; expected a whole number from 64 to 10000"},
      {{"--watered", "basil@2024-07-16T09:00"}, 2, "--watered: found 2024-07-16T09:00, after now"},
      {{"--now", "2024-07-15"}, 2, "--now: found \"2024-07-15\"; expected a date and hour"},
      {{"--now", "2024-07-17T09:00"}, 2, "--now: found 2024-07-17T09:00; expected 2021-01-01 to"},
      {{"--members", "9", "--uncertain", "9"}, 2, "found both --members and --uncertain"},
      {{"--weather", sample}, 2, "a second time; expected every weather record once"},
      {{"--save-state", "-"}, 2, "--save-state: found \"-\"; expected a file of its own"},
      {{"--from", "2024-06-01"},
       3,
       "garden.csv:2: found \"basil\" planted 2024-05-25; expected a day within the weather"},
  };
  for (const Case& one : cases) {
    Words more = one.more;
    more.insert(more.end(), {"--output", "out.csv"});
    if (one.more.front() != "--save-state") {
      more.insert(more.end(), {"--save-state", "new.csv"});
    }
    const Outcome outcome = run_program(place, forecast(more));
    INFO(command_line(more) << "\n" << outcome.err);
    CHECK(outcome.exit_code == one.exit_code);
    CHECK(outcome.err.find("wiltline: ") == 0);
    CHECK(outcome.err.find(one.said) != std::string::npos);
    CHECK(outcome.out.empty());
    CHECK(place.listing() == before);
  }
}

TEST_CASE("forecast: any name can be watered, one with an @ and one called all too") {
  const Place place;
  place.write("names.csv", header +
                               "a@b,basil,clay 3 l,potting mix,3,05-25,patio,every 9 days 07:00,\n"
                               "all,basil,clay 3 l,potting mix,3,05-25,patio,every 9 days 07:00,\n"
                               "c,basil,clay 3 l,potting mix,3,05-25,patio,every 9 days 07:00,\n");
  const auto depletions = [&](const Words& more) {
    Words words =
        forecast({"--format", "csv", "--now", "2024-07-15T09:00"}, "2024-07-14", "names.csv");
    words.insert(words.end(), more.begin(), more.end());
    const Outcome outcome = run_program(place, words);
    INFO(outcome.err);
    REQUIRE(outcome.exit_code == 0);
    std::map<std::string, double> found;
    for (const std::string name : {"a@b", "all", "c"}) {
      const std::string start = "\n" + name + ",clay 3 l,";
      const std::size_t at = outcome.out.find(start);
      REQUIRE(at != std::string::npos);
      found[name] = std::stod(outcome.out.substr(at + start.size()));
    }
    return found;
  };
  const auto before = depletions({});
  const auto one = depletions({"--watered", "a@b"});
  CHECK(one.at("a@b") < before.at("a@b"));
  CHECK(one.at("c") == before.at("c"));
  CHECK(depletions({"--watered", "a@b@2024-07-15T08:30"}).at("a@b") < before.at("a@b"));
  const auto other = depletions({"--watered", "all"});
  CHECK(other.at("all") < before.at("all"));
  CHECK(other.at("c") == before.at("c"));
}

TEST_CASE("forecast: the days to come are of the same place, and their wind at its own height") {
  const Place place;
  const auto with_forecast = [&](const std::string& site, const std::string& wind) {
    place.write("next.csv", site +
                                "date,tmin_c,tmax_c,rh_max_pct,rh_min_pct,wind_m_s,rain_mm\n"
                                "2024-07-15,15,27,90,45," +
                                wind +
                                ",0\n"
                                "2024-07-16,15,28,90,45," +
                                wind + ",0\n");
    return run_program(place, forecast({"--forecast", "next.csv", "--format", "csv"}));
  };
  const Outcome as_ours = with_forecast("", "3");
  CHECK(as_ours.exit_code == 0);
  // FAO-56 eq. 47: 4.87 / ln(67.8 * 10 - 5.42) of the wind at 10 m, over the same of the sample's 2
  // m.
  const Outcome higher = with_forecast("# wind_height_m = 10\n", "4.011848783788891");
  CHECK(higher.exit_code == 0);
  CHECK(higher.out == as_ours.out);
  CHECK(with_forecast("# wind_height_m = 10\n", "3").out != as_ours.out);
  const Outcome elsewhere = with_forecast("# latitude_deg = 30.2\n", "3");
  CHECK(elsewhere.exit_code == 3);
  CHECK(elsewhere.err.find("next.csv: found latitude_deg = 30.2; expected the place of") !=
        std::string::npos);
}

TEST_CASE("forecast: what was logged before planting is said to change nothing") {
  const Place place;
  place.write("log.csv", "when,name,given_l\n2024-02-01 08:30,basil,\n2024-07-10 08:40,basil,\n");
  const Outcome outcome = run_program(place, forecast({"--log", "log.csv", "--format", "csv"}));
  CHECK(outcome.exit_code == 0);
  CHECK(outcome.err.find("without effect, because nothing was planted then: 1\n") !=
        std::string::npos);
}

}  // namespace
}  // namespace wiltline::test
