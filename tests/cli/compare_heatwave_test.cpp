// compare, choose and heatwave as asked from a shell: in both unit systems, and against what season
// says.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "cli/run_program.hpp"
#include "cli/twin_weather.hpp"

namespace wiltline::test {
namespace {

using Words = std::vector<std::string>;

std::string answer(const ScratchFolder& folder, Words words, const Words& more) {
  words.insert(words.end(), more.begin(), more.end());
  const Outcome outcome = run_program(folder, words);
  INFO(command_line(words) << outcome.err);
  REQUIRE(outcome.exit_code == 0);
  return outcome.out;
}

/// The lines of a CSV answer as cells; no cell of these holds a comma but the reason.
std::vector<std::vector<std::string>> rows_of(const std::string& csv) {
  std::vector<std::vector<std::string>> rows(1, std::vector<std::string>(1));
  bool quoted = false;
  for (const char c : csv) {
    if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      rows.back().emplace_back();
    } else if (c == '\n') {
      rows.emplace_back(1);
    } else {
      rows.back().back() += c;
    }
  }
  rows.pop_back();
  return rows;
}

/// A text for people without its line breaks and indents.
std::string one_line(const std::string& text) {
  std::string told;
  for (const char c : text) {
    const bool space = c == ' ' || c == '\n';
    if (!space || (!told.empty() && told.back() != ' ')) told += space ? ' ' : c;
  }
  return told;
}

std::string cell(const std::vector<std::vector<std::string>>& rows, std::size_t row,
                 const std::string& column) {
  for (std::size_t i = 0; i < rows.front().size(); ++i) {
    if (rows.front()[i] == column) return rows[row][i];
  }
  FAIL("no column " << column);
  return "";
}

struct Place : ScratchFolder {
  Place() {
    const TwinWeather weather = twin_summer(44.0, make_date(2023, 5, 1), 160);
    write("weather.csv", weather.metric);
    write("weather-us.csv", weather.us);
    const std::string row = "it,pepper,nursery 11 l,potting mix,1,05-01,patio,daily 07:00 give ";
    const std::string header = "name,crop,pot,mix,plants,planted,spot,routine,";
    write("garden.csv",
          header + "volume_l,saucer_l\n" + row + "3.785411784 l,15.141647136,0.946352946\n");
    write("garden-us.csv", header + "volume_gal,saucer_gal\n" + row + "1 gal,4,0.25\n");
  }

  /// The answer with files and temperatures of one unit system.
  [[nodiscard]] std::string ask(bool us, Words words, const Words& form) const {
    for (std::string& word : words) {
      if (word == "WEATHER") word = us ? "weather-us.csv" : "weather.csv";
      if (word == "GARDEN") word = us ? "garden-us.csv" : "garden.csv";
      if (word == "27 DEGREES") word = us ? "80.6f" : "27c";
      if (word == "5 MORE") word = us ? "9f" : "5";
    }
    std::string text = answer(*this, words, form);
    // The name of the file, and how a routine's amount is written, are all that may differ.
    for (const auto& [from, to] :
         {std::pair<std::string, std::string>{"weather-us.csv", "weather.csv"},
          {"give 1 gal", "give 3.785411784 l"}}) {
      for (std::size_t at; (at = text.find(from)) != std::string::npos;) {
        text.replace(at, from.size(), to);
      }
    }
    return text;
  }
};

TEST_CASE("compare and heatwave: the same answer from the same inputs in metric and US units") {
  const Place place;
  const std::vector<Words> questions{
      {"compare", "--weather", "WEATHER", "--garden", "GARDEN"},
      {"compare", "--weather", "WEATHER", "--crop", "tomato", "--kind", "nursery"},
      {"heatwave", "--weather", "WEATHER", "--garden", "GARDEN", "--warmer", "5 MORE"},
      {"heatwave", "--weather", "WEATHER", "--crop", "tomato", "--kind", "nursery", "--planted",
       "05-01", "--at-least", "27 DEGREES", "--full-grown"},
      {"heatwave", "--weather", "WEATHER", "--crop", "tomato", "--kind", "fabric", "--by", "et0",
       "--full-grown"}};
  for (const Words& question : questions) {
    INFO(command_line(question));
    const std::string csv = place.ask(false, question, {"--format", "csv"});
    CHECK(place.ask(true, question, {"--format", "csv"}) == csv);
    CHECK(place.ask(true, question, {"--format", "csv", "--units", "us"}) == csv);
    // Tables break their lines by the length of what was written.
    if (question[3] == "--garden" && question[0] == "compare") continue;
    for (const char* units : {"metric", "us"}) {
      CHECK(place.ask(true, question, {"--units", units}) ==
            place.ask(false, question, {"--units", units}));
    }
  }
}

TEST_CASE("compare gives a planting's figures as season does") {
  const Place place;
  place.write("garden.csv",
              "name,crop,pot,mix,plants,planted,spot,routine,wall\n"
              "one,tomato,nursery 11 l,potting mix,1,05-15,patio,every 2 days 07:00,\n"
              "two,tomato,nursery 37 l,coir mix,2,05-15,hot paving,every 2 days 07:00,fabric\n");
  const Words both{"--weather", "weather.csv", "--garden", "garden.csv", "--format", "csv"};
  const auto season = rows_of(answer(place, {"season"}, both));
  const auto compared = rows_of(answer(place, {"compare"}, both));
  REQUIRE(season.size() == 3);
  REQUIRE(compared.size() == 3);
  for (std::size_t row = 1; row < 3; ++row) {
    const std::size_t same = cell(compared, 1, "name") == cell(season, row, "name") ? 1 : 2;
    REQUIRE(cell(compared, same, "name") == cell(season, row, "name"));
    for (const char* column :
         {"crop", "pot", "mix_l", "available_l", "peak_use_l_day", "waterings_week_peak",
          "watered_l", "stressed_days", "wilting_days", "dry_days", "longest_gap_days"}) {
      INFO(column);
      CHECK(cell(compared, same, column) == cell(season, row, column));
    }
  }
  // The second row again, said in lists.
  const auto listed = rows_of(
      answer(place, {"compare"},
             {"--weather", "weather.csv", "--crop",    "tomato", "--pots",    "nursery 37 l",
              "--mixes",   "coir mix",    "--walls",   "fabric", "--spots",   "hot paving",
              "--plants",  "2",           "--planted", "05-15",  "--routine", "every 2 days 07:00",
              "--format",  "csv"}));
  const std::size_t two = cell(compared, 1, "name") == "two" ? 1 : 2;
  REQUIRE(listed.size() == 2);
  for (std::size_t i = 0; i < listed[1].size(); ++i) {
    if (listed[0][i] != "name") CHECK(listed[1][i] == compared[two][i]);
  }
}

TEST_CASE("compare says why a choice is not enough, and that a share is of past summers") {
  const Place place;
  const Words words{"compare",
                    "--weather",
                    "weather.csv",
                    "--crop",
                    "tomato",
                    "--pots",
                    "nursery 1.5 l,nursery 90 l",
                    "--routine",
                    "daily 07:00 13:00 19:00"};
  const auto rows = rows_of(answer(place, words, {"--format", "csv"}));
  REQUIRE(rows.size() == 3);
  CHECK(cell(rows, 1, "pot") == "nursery 90 l");
  CHECK(cell(rows, 1, "enough") == "yes");
  CHECK(cell(rows, 1, "reason") == "did not wilt in 1 of 1 past summer");
  CHECK(cell(rows, 2, "enough") == "no");
  const std::string wilting = cell(rows, 2, "wilting_days");
  CHECK(cell(rows, 2, "reason").starts_with("wilts on " + wilting + " day"));
  CHECK(cell(rows, 2, "first_wilting").starts_with("2023-"));
  const std::string table = answer(place, words, {});
  CHECK(table.find("Smallest that is enough when watered daily 07:00 13:00 19:00: nursery 90 l") !=
        std::string::npos);
  CHECK(table.find("a plant of the usual size") != std::string::npos);
  CHECK(table.find("nursery 1.5 l: wilts on " + wilting + " day") != std::string::npos);
  CHECK(table.find("caution: 1 summer only") != std::string::npos);
}

TEST_CASE("heatwave: warmer by nothing is the same answer; by three degrees it is thirstier") {
  const Place place;
  const Words words{"heatwave", "--weather", "weather.csv",  "--crop",
                    "tomato",   "--pots",    "nursery 21 l", "--full-grown"};
  const auto plain = rows_of(answer(place, words, {"--format", "csv"}));
  CHECK(rows_of(answer(place, words, {"--format", "csv", "--warmer", "0"})) == plain);
  const auto warm = rows_of(answer(place, words, {"--format", "csv", "--warmer", "3"}));
  CHECK(std::stod(cell(warm, 1, "mean_tmax_c")) - std::stod(cell(plain, 1, "mean_tmax_c")) ==
        doctest::Approx(3.0));
  CHECK(std::stod(cell(warm, 1, "peak_use_l_day")) > std::stod(cell(plain, 1, "peak_use_l_day")));
  CHECK(cell(warm, 1, "first_day") == cell(plain, 1, "first_day"));
}

TEST_CASE("choose: every cell of a crop is the smallest pot that compare calls enough there") {
  const ScratchFolder folder;
  const std::string source = WILTLINE_SOURCE;
  const Words where{"--weather", source + "/weather-samples/port-okaree.csv", "--format", "csv"};
  const auto chart =
      rows_of(answer(folder, {"choose", "--crops", "kale", "--kind", "glazed,clay"}, where));
  REQUIRE(chart.size() > 4);
  int chosen = 0;
  for (std::size_t row = 1; row < chart.size(); ++row) {
    const std::string planted = cell(chart, row, "planted");
    const std::string routine = cell(chart, row, "routine");
    INFO(planted << ' ' << routine);
    const auto pots = rows_of(answer(folder,
                                     {"compare", "--crop", "kale", "--kind", "glazed,clay",
                                      "--planted", planted, "--routine", routine},
                                     where));
    std::size_t smallest = 0;
    for (std::size_t pot = 1; pot < pots.size(); ++pot) {
      constexpr double least_l = 7.6;  // of kale, models/crops.csv
      const double mix_l = std::stod(cell(pots, pot, "mix_l"));
      if (cell(pots, pot, "enough") != "yes" || mix_l < least_l) continue;
      if (smallest == 0 || mix_l < std::stod(cell(pots, smallest, "mix_l"))) smallest = pot;
    }
    if (smallest == 0) {
      CHECK(cell(chart, row, "pot").empty());
      CHECK(cell(chart, row, "reason").starts_with("none of 7 pots; "));
      continue;
    }
    ++chosen;
    for (const auto& [ours, theirs] : {std::pair{"pot", "pot"},
                                       {"mix_l", "mix_l"},
                                       {"lasts_days", "longest_safe_gap_days"},
                                       {"reason", "reason"},
                                       {"settled", "settled"}}) {
      CHECK(cell(chart, row, ours) == cell(pots, smallest, theirs));
    }
  }
  CHECK(chosen > 0);
}

TEST_CASE("list pots --near: sizes that pots come in, and of pots alone") {
  const ScratchFolder folder;
  const auto near =
      rows_of(answer(folder, {"list", "pots", "--near", "10gal"}, {"--format", "csv"}));
  CHECK(near.size() > 4);
  for (std::size_t row = 1; row < near.size(); ++row) {
    const double ratio = std::stod(cell(near, row, "rim_l")) / 37.85411784;
    CHECK(ratio < 1.301);
    CHECK(ratio > 1.0 / 1.301);
  }
  for (const auto& [words, message] :
       {std::pair{Words{"list", "pots", "--near", "10"},
                  "--near: found \"10\"; expected a size such as 38l, 10gal, 30cm or 12in"},
        {Words{"list", "pots", "--near", "9000 l"},
         "--near: found \"9000 l\", near no pot; expected a size of wiltline list pots"},
        {Words{"list", "crops", "--near", "38l"},
         "found --near without pots; expected wiltline list pots --near SIZE"}}) {
    const Outcome outcome = run_program(folder, words);
    CHECK(outcome.exit_code == 2);
    CHECK(outcome.err == "wiltline: " + std::string(message) + '\n');
  }
}

TEST_CASE("compare: why a bigger pot can have the harder first weeks is said where it has") {
  const ScratchFolder folder;
  const auto told = [&](const std::string& pots) {
    return answer(folder,
                  {"compare", "--crop", "radish", "--weather",
                   std::string(WILTLINE_SOURCE) + "/weather-samples/zarquil-flats.csv", "--planted",
                   "05-15", "--routine", "daily 07:00", "--pots"},
                  {pots});
  };
  const std::string why = "its roots take longer to hold half the mix";
  CHECK(told("nursery 4.5 l,nursery 50 l").find(why) != std::string::npos);
  CHECK(told("nursery 30 l,nursery 50 l").find(why) == std::string::npos);
}

TEST_CASE("compare and choose: why a bigger pot wilts more is said where it does") {
  const ScratchFolder folder;
  const std::string weather = std::string(WILTLINE_SOURCE) + "/weather-samples/zarquil-flats.csv";
  const auto compared = [&](const std::string& routine, const std::string& pots) {
    return one_line(answer(folder,
                           {"compare", "--crop", "tomato", "--weather", weather, "--planted",
                            "05-15", "--routine", routine, "--pots"},
                           {pots}));
  };
  CHECK(compared("daily 07:00", "fabric 30 l,fabric tall 35 l")
            .find("fabric tall 35 l wilts on more days than fabric 30 l, though it is bigger: it "
                  "holds less for each litre it uses, for its mix is taller and drains further") !=
        std::string::npos);
  CHECK(compared("daily 07:00", "nursery 30 l,nursery 50 l").find("though it is bigger") ==
        std::string::npos);
  // Both hold 16.15 L: neither is the bigger one.
  const std::string alike = one_line(answer(
      folder, {"compare", "--crop", "pepper", "--routine", "every 2 days 07:00", "--weather"},
      {std::string(WILTLINE_SOURCE) + "/weather-samples/tolvenau.csv", "--pots",
       "fabric 16 l,clay 16 l"}));
  CHECK(alike.find("None is enough") != std::string::npos);
  CHECK(alike.find("though it is bigger") == std::string::npos);
  const std::string chart = one_line(
      answer(folder,
             {"choose", "--weather", std::string(WILTLINE_SOURCE) + "/weather-samples/tolvenau.csv",
              "--crops", "chard", "--plantings", "04-15", "--routines"},
             {"every 2 days 07:00", "--kind", "fabric"}));
  CHECK(chart.find("Bigger and yet not enough") != std::string::npos);
  CHECK(chart.find("chard of 15 Apr, every 2 days 07:00: fabric tall 18 l.") != std::string::npos);
  // The smaller one has a reservoir: their sizes tell nothing.
  const std::string kinds = one_line(
      answer(folder, {"choose", "--weather", weather, "--crops", "pepper", "--plantings", "03-15"},
             {"--routines", "daily 07:00", "--pots", "self watering tub 8 l,glazed 10 l"}));
  CHECK(kinds.find("self watering tub 8 l") != std::string::npos);
  CHECK(kinds.find("Bigger and yet not enough") == std::string::npos);
}

TEST_CASE("choose: what is typed wrong is said in a line") {
  const ScratchFolder folder;
  const std::string weather = std::string(WILTLINE_SOURCE) + "/weather-samples/tolvenau.csv";
  const std::pair<Words, std::string> wrong[]{
      {{"--plantings", "04-31"},
       "--plantings: found \"04-31\"; expected a date that exists, as 2024-05-10, or 05-10 for "
       "every "
       "year"},
      {{"--plantings", "2019-05-10"},
       "--plantings: found 2019-05-10; expected a day within the weather, 2021-01-01 to "
       "2024-12-31"},
      {{"--crops", "tomatoe"},
       "--crops: found unknown crop \"tomatoe\"; expected a known crop (wiltline list crops); "
       "nearest: tomato"},
      {{"--share", "95"}, "--share: found 95; expected more than 0, up to 1"},
      {{"--share", "0"}, "--share: found 0; expected more than 0, up to 1"},
      {{"--share", "half"}, "--share: found \"half\"; expected more than 0, up to 1"},
      {{"--kind", "fabric", "--pots", "clay 3 l"},
       "found both --pots and --kind; expected one of them"},
  };
  for (const auto& [words, message] : wrong) {
    Words all{"choose", "--weather", weather};
    all.insert(all.end(), words.begin(), words.end());
    const Outcome outcome = run_program(folder, all);
    CHECK(outcome.exit_code == 2);
    CHECK(outcome.out.empty());
    CHECK(outcome.err == "wiltline: " + message + '\n');
  }
}

TEST_CASE("heatwave: degrees warmer to a tenth, in the units asked") {
  const ScratchFolder folder;
  const auto told = [&](const Words& more) {
    return one_line(
        answer(folder,
               {"heatwave", "--crop", "tomato", "--pots", "nursery 37 l", "--weather",
                std::string(WILTLINE_SOURCE) + "/weather-samples/tolvenau.csv", "--warmer", "5f"},
               more));
  };
  const std::string metric = told({});
  CHECK(metric.find(", 2.8 °C warmer than measured.") != std::string::npos);
  CHECK(metric.find("temperatures raised by 2.8 °C;") != std::string::npos);
  const std::string us = told({"--units", "us"});
  CHECK(us.find(", 5 °F warmer than measured.") != std::string::npos);
  CHECK(us.find("temperatures raised by 5 °F;") != std::string::npos);
}

TEST_CASE("heatwave: the hottest days in which something grows, unless days are named") {
  const ScratchFolder folder;
  // South of the equator; the hottest days of all lie before the first planting.
  std::string weather = "# latitude_deg = -34\n# elevation_m = 120\ndate,tmin_c,tmax_c\n";
  for (Date date = make_date(2021, 1, 1); date < make_date(2023, 1, 1);
       date += std::chrono::days(1)) {
    const unsigned month = month_of(date);
    const int warm = year_of(date) == 2021 && month == 1 ? 36 : month == 2 ? 33 : 24;
    weather += to_string(date) + ",14," + std::to_string(warm) + '\n';
  }
  folder.write("south.csv", weather);
  folder.write("garden.csv",
               "name,crop,pot,mix,plants,planted,spot,routine\n"
               "tom,tomato,nursery 37 l,potting mix,1,10-15,patio,daily 07:00\n");
  const Words asked{"heatwave", "--garden", "garden.csv", "--weather", "south.csv"};
  // In February 2021 nothing is planted yet.
  for (const Words& more : {Words{}, Words{"--at-least", "32c"}}) {
    const std::string told = one_line(answer(folder, asked, more));
    INFO(told);
    CHECK(told.find(" Feb 2022 to ") != std::string::npos);
    CHECK(told.find("south.csv: 1 Jan 2021 to ") != std::string::npos);
    CHECK(told.find(" not taken: none of the plantings grows all through it") != std::string::npos);
  }
  Words named = asked;
  named.insert(named.end(), {"--first-day", "2021-01-10"});
  const Outcome outcome = run_program(folder, named);
  CHECK(outcome.exit_code == 2);
  CHECK(outcome.err ==
        "wiltline: found no planting that grows from 10 Jan 2021 to 14 Jan 2021; expected one, or "
        "--full-grown\n");
  const std::string grown = one_line(answer(folder, asked, {"--full-grown"}));
  CHECK(grown.find(" Jan 2021 to ") != std::string::npos);
  CHECK(grown.find("not taken") == std::string::npos);
}

TEST_CASE("a volume without its unit is refused with US units, and litres without them") {
  const ScratchFolder folder;
  const std::string source = WILTLINE_SOURCE;
  const std::string garden = source + "/models/gardens/courtyard.csv";
  const Words plan{"plan",
                   "--garden",
                   garden,
                   "--weather",
                   source +
                       "/weather-samples/"
                       "tolvenau.csv",
                   "--to",
                   "2024-07-14"};
  for (const auto& [option, words] :
       {std::pair{std::string("--can"), plan},
        {std::string("--bag"), Words{"capacity", "--garden", garden}}}) {
    Words metric = words;
    metric.insert(metric.end(), {option, "3"});
    CHECK(run_program(folder, metric).exit_code == 0);
    Words us = metric;
    us.insert(us.end(), {"--units", "us"});
    const Outcome refused = run_program(folder, us);
    CHECK(refused.exit_code == 2);
    CHECK(refused.err == "wiltline: " + option +
                             ": found \"3\" with --units us; expected a volume with its unit, as "
                             "\"3 gal\"\n");
    us[words.size() + 1] = "3 gal";
    CHECK(run_program(folder, us).exit_code == 0);
  }
}

}  // namespace
}  // namespace wiltline::test
