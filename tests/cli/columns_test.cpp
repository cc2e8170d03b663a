// The columns others rely on: their names, their meanings, and that CSV and JSON say the same.
#include "columns.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "cli/run_program.hpp"

namespace wiltline::test {
namespace {

using Json = nlohmann::ordered_json;
using Words = std::vector<std::string>;

const std::string weather =
    "# latitude_deg = 46\n# elevation_m = 200\n"
    "date,tmin_c,tmax_c,rh_mean_pct,rain_mm\n"
    "2023-06-01,11,23,70,0\n2023-06-02,12,27,60,12.5\n2023-06-03,13,29,,0\n2023-06-04,16,33,35,0\n";
const std::string garden_header = "name,crop,pot,mix,plants,planted,spot,routine\n";
const std::string thirsty =
    ",basil,clay 3 l,potting mix,3,2023-06-01,hot paving,every 30 days 07:00\n";

struct Place : ScratchFolder {
  Place() {
    write("weather.csv", weather);
    write("garden.csv", garden_header + "basil" + thirsty +
                            "kale,kale,fabric 23 l,coir mix,1,06-02,patio,daily 07:00\n");
    write("once.csv", garden_header + "basil" + thirsty);
  }
};

using Tables = std::vector<std::span<const cli::Column>>;

/// One command, the columns it must give, and the tables of columns it gives them from.
struct Expectation {
  Words arguments;
  std::string header;
  Tables tables;
};

const std::string et0_header = "date,et0_mm,estimated";
const std::string steps_header =
    ",pressure_kpa,gamma_kpa_c,es_kpa,vapour_pressure_kpa,slope_kpa_c,ra_mj_m2,daylight_h,rso_mj_"
    "m2,"
    "rs_mj_m2,rns_mj_m2,rnl_mj_m2,rn_mj_m2,wind_2m_m_s,et_radiation_mm,et_air_mm";
const std::string moves_most_header = ",moves_most,moves_most_rank_correlation";
const std::string season_spread_header =
    ",watered_l_p10,watered_l_p90,wilting_days_p10,wilting_days_p90,dry_days_p10,dry_days_p90,"
    "unwilted_share" +
    moves_most_header;
const std::string choice_spread_header =
    ",watered_l_p10,watered_l_p90,wilting_days_p10,wilting_days_p90,enough_share" +
    moves_most_header;
const std::string absence_spread_header = ",share_p10,share_p90,enough_share" + moves_most_header;
const std::string heatwave_spread_header =
    ",peak_use_l_day_p10,peak_use_l_day_p90,waterings_per_day_p10,waterings_per_day_p90,"
    "once_a_day_share,twice_a_day_share" +
    moves_most_header;
const std::string forecast_header =
    "name,pot,depletion_l,refill_at_l,refill_p10,refill_p50,refill_p90,dry_p10,dry_p50,dry_p90,"
    "next_visit,dry_before_visit,give_now_l,feed_due";
const std::string season_header =
    "name,crop,pot,mix_l,capacity_l,available_l,refill_at_l,peak_use_l_day,waterings,watered_l,"
    "rain_l,"
    "drained_l,used_l,stressed_days,wilting_days,dry_days,first_dry,longest_gap_days";
const std::string care_header =
    ",peak_use_full_size_l_day,waterings_week_peak,finger_only_days,root_only_days,frost_days,"
    "too_warm_days,poor_fruit_set_days,blossom_end_rot_days,hot_root_days,sheds_water_days,feeds,"
    "first_feed";
const std::string settling_header =
    ",settled,settling_stressed_days,settling_wilting_days,settling_dry_days";
const std::string compare_settling_header = ",settled,settling_wilting_days";
const std::string ledger_header =
    "name,date,et0_mm,canopy_m2,demand_l,transpired_l,evaporated_l,rain_l,watered_l,drained_l,"
    "store_l,"
    "depletion_l,refill_at_l,ks,stressed_at,dry_at";
const std::string capacity_header =
    "pot,mix,mix_l,height_cm,capacity_l,capacity_m3_m3,air_m3_m3,lower_limit_m3_m3,available_l,"
    "readily_available_l,available_low_l,available_high_l";

const std::string absence_header =
    "crop,pot,mix_l,windows,passed,share,smallest,name,own,mix,plants,spot,summers,first_failed";

const std::string compare_header =
    "crop,plants,pot,mix,wall,spot,mix_l,available_l,peak_use_l_day,waterings_week_peak,"
    "longest_safe_gap_days,watered_l,stressed_days,wilting_days,dry_days,enough,longest_gap_days,"
    "routine,summers,summers_above_wilting,worst_planted,worst_weather,first_wilting,wilting_days_"
    "rooted,"
    "reason,name";
const std::string heatwave_header =
    "name,pot,first_day,days,mean_tmax_c,mean_et0_mm,peak_use_l_day,waterings_per_day,refill_at,"
    "once_a_day_enough,twice_a_day_enough,crop,plants,mix,wall,spot,planted,most_waterings_a_day,"
    "refill_on,once_stressed_days,once_wilting_days,twice_stressed_days,twice_wilting_days";

std::vector<Expectation> expectations() {
  const Words et0{"et0", "--weather", "weather.csv"};
  const Words once{"season", "--weather", "weather.csv", "--garden", "once.csv"};
  const Words yearly{"season", "--weather", "weather.csv", "--garden", "garden.csv"};
  const auto with = [](Words words, const Words& more) {
    words.insert(words.end(), more.begin(), more.end());
    return words;
  };
  const Words second{"--weather", "weather.csv"};
  const std::span year(&cli::year_column(), 1);
  const std::span record(&cli::weather_column(), 1);
  const auto et0_table = cli::et0_columns();
  const auto steps_table = cli::et0_step_columns();
  const auto season_table = cli::season_columns();
  const auto care = cli::season_care_columns();
  const auto settling = cli::season_settling_columns();
  const auto compare_settling = cli::compare_settling_columns();
  const auto day_care = cli::ledger_care_columns();
  const auto ledger_table = cli::ledger_columns();
  const auto capacity_table = cli::capacity_columns();
  const auto absence_table = cli::absence_columns();
  const auto absence_more = cli::absence_more_columns();
  const auto compare_table = cli::compare_columns();
  const auto compare_more = cli::compare_more_columns();
  const auto heatwave_table = cli::heatwave_columns();
  const auto heatwave_more = cli::heatwave_more_columns();
  const Words forecast{"forecast",   "--weather",  "weather.csv", "--garden", "once.csv", "--to",
                       "2023-06-02", "--forecast", "weather.csv", "--days",   "1"};
  const Words hot{"heatwave", "--weather", "weather.csv", "--garden", "garden.csv", "--days", "2"};
  return {
      {{"compare", "--crop", "basil", "--planted", "06-01", "--weather", "weather.csv", "--pots",
        "clay 3 l,nursery 37 l"},
       compare_header + compare_settling_header,
       {compare_table, compare_more, compare_settling}},
      {{"compare", "--garden", "garden.csv", "--weather", "weather.csv", "--weather",
        "weather.csv"},
       compare_header + compare_settling_header,
       {compare_table, compare_more, compare_settling}},
      {hot, heatwave_header, {heatwave_table, heatwave_more}},
      {with(hot, second), heatwave_header + ",weather", {heatwave_table, heatwave_more, record}},
      {{"absence", "--crop", "basil", "--planted", "06-01", "--days", "1", "--weather",
        "weather.csv", "--kind", "clay"},
       absence_header,
       {absence_table, absence_more}},
      {{"absence", "--garden", "garden.csv", "--days", "1d2h", "--weather", "weather.csv"},
       absence_header,
       {absence_table, absence_more}},
      {et0, et0_header, {et0_table}},
      {with(et0, {"--steps"}), et0_header + steps_header, {et0_table, steps_table}},
      {with(et0, second), et0_header + ",weather", {et0_table, record}},
      {with(with(et0, {"--steps"}), second),
       et0_header + steps_header + ",weather",
       {et0_table, steps_table, record}},
      {once, season_header + care_header + settling_header, {season_table, care, settling}},
      {yearly,
       season_header + ",year" + care_header + settling_header,
       {season_table, year, care, settling}},
      {with(once, second),
       season_header + ",weather" + care_header + settling_header,
       {season_table, record, care, settling}},
      {with(yearly, second),
       season_header + ",year,weather" + care_header + settling_header,
       {season_table, year, record, care, settling}},
      {with(once, {"--remedies"}),
       season_header + care_header + ",remedy,remedies" + settling_header,
       {season_table, care, cli::season_remedy_columns(), settling}},
      {with(once, {"--uncertain", "10"}),
       season_header + care_header + season_spread_header + settling_header,
       {season_table, care, cli::season_spread_columns(), settling}},
      {{"compare", "--crop", "basil", "--planted", "06-01", "--weather", "weather.csv", "--pots",
        "clay 3 l,nursery 37 l", "--uncertain", "10", "--seed", "3"},
       compare_header + choice_spread_header + compare_settling_header,
       {compare_table, compare_more, cli::choice_spread_columns(), compare_settling}},
      {with(hot, {"--uncertain", "10"}),
       heatwave_header + heatwave_spread_header,
       {heatwave_table, heatwave_more, cli::heatwave_spread_columns()}},
      {{"absence", "--garden", "garden.csv", "--days", "1d2h", "--weather", "weather.csv",
        "--uncertain", "10"},
       absence_header + absence_spread_header,
       {absence_table, absence_more, cli::absence_spread_columns()}},
      {forecast, forecast_header, {cli::forecast_columns()}},
      {with(forecast, {"--uncertain", "10"}),
       forecast_header + moves_most_header,
       {cli::forecast_columns(), cli::forecast_uncertain_columns()}},
      {with(once, {"--ledger"}), ledger_header + ",care", {ledger_table, day_care}},
      {with(with(yearly, {"--ledger"}), second),
       ledger_header + ",weather,care",
       {ledger_table, record, day_care}},
      {{"capacity", "--pot", "nursery 11 l", "--mix", "potting mix"},
       capacity_header,
       {capacity_table}},
      {{"capacity", "--top-diameter-in", "14", "--bottom-diameter-in", "11", "--height-in", "12",
        "--mix", "peat 60 perlite 40"},
       capacity_header,
       {capacity_table}},
  };
}

/// The cells of CSV text, quotes undone.
std::vector<std::vector<std::string>> cells_of(std::string_view csv) {
  std::vector<std::vector<std::string>> rows;
  std::string cell;
  bool quoted = false;
  bool line_begun = false;
  for (std::size_t i = 0; i < csv.size(); ++i) {
    if (!line_begun) rows.emplace_back();
    line_begun = true;
    const char c = csv[i];
    if (quoted && c == '"' && i + 1 < csv.size() && csv[i + 1] == '"') {
      cell += csv[++i];
    } else if (c == '"') {
      quoted = !quoted;
    } else if (!quoted && (c == ',' || c == '\n')) {
      rows.back().push_back(std::exchange(cell, {}));
      line_begun = c != '\n';
    } else {
      cell += c;
    }
  }
  CHECK_FALSE(quoted);
  CHECK_FALSE(line_begun);  // the last line ends, too
  return rows;
}

std::string answer(const Place& place, Words words, const std::string& format) {
  words.insert(words.end(), {"--format", format});
  const Outcome outcome = run_program(place, words);
  INFO(command_line(words));
  REQUIRE(outcome.exit_code == 0);
  return outcome.out;
}

const cli::Column& column_named(std::string_view name, const Tables& tables) {
  for (const auto table : tables) {
    for (const cli::Column& column : table) {
      if (column.name == name) return column;
    }
  }
  throw std::runtime_error("no column " + std::string(name));
}

/// A number of the CSV is the number of the JSON, rounded to the digits of its column.
void check_number(const std::string& text, double number, const cli::Column& column) {
  double read = 0.0;
  const auto [stop, error] = std::from_chars(text.data(), text.data() + text.size(), read);
  REQUIRE(error == std::errc{});
  CHECK(stop == text.data() + text.size());
  const std::size_t point = text.find('.');
  const std::size_t digits = point == std::string::npos ? 0 : text.size() - point - 1;
  CHECK(digits == static_cast<std::size_t>(column.digits));
  const double half_a_digit = 0.5 * std::pow(10.0, -column.digits);
  CHECK(std::abs(read - number) <= half_a_digit * (1.0 + 1e-9));
  CHECK((read != 0.0 || text.front() != '-'));  // no minus zero
}

void check_cell(const std::string& text, const Json& value, const cli::Column& column) {
  INFO(column.name << ": " << text << " and " << value.dump());
  if (value.is_null()) {
    CHECK(text.empty());
  } else if (value.is_string()) {
    CHECK(column.quantity == cli::Quantity::text);
    CHECK(text == value.get<std::string>());
  } else if (value.is_number_integer()) {
    CHECK(column.quantity == cli::Quantity::count);
    CHECK(text == std::to_string(value.get<long>()));
  } else {
    REQUIRE(value.is_number_float());
    check_number(text, value.get<double>(), column);
  }
}

TEST_CASE("the columns are those that others rely on, and CSV and JSON agree") {
  const Place place;
  for (const Expectation& expected : expectations()) {
    const std::string csv = answer(place, expected.arguments, "csv");
    const Json json = Json::parse(answer(place, expected.arguments, "json"));
    INFO(command_line(expected.arguments));
    CHECK(csv.substr(0, csv.find('\n')) == expected.header);
    const auto rows = cells_of(csv);
    REQUIRE(rows.size() == json["rows"].size() + 1);
    REQUIRE(rows.size() > 1);
    for (std::size_t r = 1; r < rows.size(); ++r) {
      const Json& object = json["rows"][r - 1];
      REQUIRE(rows[r].size() == rows[0].size());
      REQUIRE(object.size() == rows[0].size());
      std::size_t c = 0;
      for (const auto& [name, value] : object.items()) {
        CHECK(name == rows[0][c]);
        check_cell(rows[r][c], value, column_named(name, expected.tables));
        ++c;
      }
    }
  }
}

TEST_CASE("JSON says what was asked, by which program and what was estimated") {
  const Place place;
  const Json json = Json::parse(answer(
      place, {"et0", "--weather", "weather.csv", "--weather", "weather.csv", "--steps"}, "json"));
  CHECK(json["schema"] == 1);
  CHECK(json["program"] == "wiltline");
  CHECK(json["command"] == "et0");
  CHECK(json["inputs"]["weather"] == Json::array({"weather.csv", "weather.csv"}));
  CHECK(json["inputs"]["steps"] == "yes");
  CHECK(json["inputs"]["format"] == "json");
  REQUIRE(json["notes"].size() == 2);
  CHECK(json["notes"][0] ==
        "weather.csv: humidity from mean relative humidity on 3 of 4 days, estimated from the "
        "lowest temperature on 1 of 4 days; radiation estimated from the temperature range; wind "
        "estimated at 2 m/s");
  CHECK(json["rows"][2]["estimated"] == "humidity+radiation+wind");
  CHECK(json["rows"][0]["estimated"] == "radiation+wind");
}

TEST_CASE("every column has a name of its own and a meaning") {
  for (const auto& columns :
       {cli::et0_columns(), cli::season_columns(), cli::ledger_columns(), cli::capacity_columns(),
        cli::absence_columns(), cli::absence_more_columns(), cli::compare_columns(),
        cli::compare_more_columns(), cli::heatwave_columns(), cli::heatwave_more_columns(),
        cli::season_spread_columns(), cli::choice_spread_columns(), cli::absence_spread_columns(),
        cli::heatwave_spread_columns(), cli::forecast_columns(),
        cli::forecast_uncertain_columns()}) {
    std::set<std::string_view> names{cli::year_column().name, cli::weather_column().name};
    for (const cli::Column& column : columns) {
      INFO(column.name);
      CHECK(names.insert(column.name).second);
      CHECK_FALSE(column.meaning.empty());
    }
  }
  std::set<std::string_view> names;
  for (const cli::Column& column : cli::et0_columns()) names.insert(column.name);
  for (const cli::Column& column : cli::et0_step_columns()) {
    INFO(column.name);
    CHECK(names.insert(column.name).second);
    CHECK_FALSE(column.meaning.empty());
  }
  CHECK_FALSE(cli::year_column().meaning.empty());
  CHECK_FALSE(cli::weather_column().meaning.empty());
}

TEST_CASE("the unit in a column's name is the unit of its quantity") {
  using enum cli::Quantity;
  // Longer endings first: _m3_m3 before _m2, _mj_m2 before _m2.
  constexpr std::array<std::pair<std::string_view, cli::Quantity>, 10> endings{
      {{"_m3_m3", volume_share},
       {"_mj_m2", radiation_mj_m2},
       {"_m_s", wind_m_s},
       {"_m2", area_m2},
       {"_mm", water_depth_mm},
       {"_cm", length_cm},
       {"_kpa", pressure_kpa},
       {"_l_day", litres},
       {"_l", litres},
       {"_h", hours}}};
  int found = 0;
  for (const auto& columns :
       {cli::et0_columns(), cli::et0_step_columns(), cli::season_columns(), cli::ledger_columns(),
        cli::capacity_columns(), cli::compare_columns(), cli::heatwave_columns(),
        cli::absence_columns(), cli::forecast_columns()}) {
    for (const cli::Column& column : columns) {
      const auto ending = std::find_if(endings.begin(), endings.end(), [&](const auto& known) {
        return column.name.ends_with(known.first);
      });
      if (ending == endings.end()) continue;
      INFO(column.name);
      CHECK(column.quantity == ending->second);
      ++found;
    }
  }
  CHECK(found > 30);
}

TEST_CASE("CSV and JSON are metric whatever units people read") {
  const Place place;
  for (const Expectation& expected : expectations()) {
    INFO(command_line(expected.arguments));
    Words us = expected.arguments;
    us.insert(us.end(), {"--units", "us"});
    CHECK(answer(place, us, "csv") == answer(place, expected.arguments, "csv"));
    Json metric_json = Json::parse(answer(place, expected.arguments, "json"));
    Json us_json = Json::parse(answer(place, us, "json"));
    CHECK(us_json["inputs"]["units"] == "us");
    us_json["inputs"].erase("units");
    CHECK(us_json == metric_json);
    CHECK(answer(place, us, "table") != answer(place, expected.arguments, "table"));
  }
}

struct Name {
  std::string name;
  std::string in_garden;  // as a CSV cell
  std::string in_csv;     // as the answer writes it
};

std::vector<Name> odd_names() {
  return {{"=1+1", "=1+1", "\"'=1+1\""},
          {"+7", "+7", "\"'+7\""},
          {"-7", "-7", "\"'-7\""},
          {"-", "-", "-"},
          {"@sum", "@sum", "\"'@sum\""},
          {"two, in a row", "\"two, in a row\"", "\"two, in a row\""},
          {"the \"big\" one", "\"the \"\"big\"\" one\"", "\"the \"\"big\"\" one\""},
          {"=\"a\",b", "\"=\"\"a\"\",b\"", "\"'=\"\"a\"\",b\""},
          {"Früchte für Æsop", "Früchte für Æsop", "Früchte für Æsop"}};
}

TEST_CASE("odd names come back whole, and none is a formula to a spreadsheet") {
  const Place place;
  std::string garden = garden_header;
  for (const Name& name : odd_names()) garden += name.in_garden + thirsty;
  place.write("once.csv", garden);
  const Words season{"season", "--weather", "weather.csv", "--garden", "once.csv"};
  const std::string csv = answer(place, season, "csv");
  const Json json = Json::parse(answer(place, season, "json"));
  const std::string table = answer(place, season, "table");
  Words ledger_words = season;
  ledger_words.emplace_back("--ledger");
  const std::string ledger = answer(place, ledger_words, "table");
  REQUIRE(json["rows"].size() == odd_names().size());
  std::size_t row = 0;
  for (const Name& name : odd_names()) {
    INFO(name.name);
    CHECK(csv.find('\n' + name.in_csv + ",basil,") != std::string::npos);
    CHECK(json["rows"][row++]["name"] == name.name);
    // For people the name is as they wrote it: no quotes, no apostrophe.
    CHECK(table.find('\n' + name.name + "  ") != std::string::npos);
    CHECK(ledger.find('\n' + name.name + "  ") != std::string::npos);
  }
}

/// True if a terminal would act on a byte: C0 but the line feed, DEL, or U+0080 to U+009F.
bool has_control_character(std::string_view text) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const auto next = i + 1 < text.size() ? static_cast<unsigned char>(text[i + 1]) : 0;
    if ((byte < 0x20 && byte != '\n') || byte == 0x7f) return true;
    if (byte == 0xc2 && next >= 0x80 && next <= 0x9f) return true;
  }
  return false;
}

TEST_CASE("what is printed for people holds no control character") {
  CHECK(has_control_character("a\x1b[31m"));
  CHECK(has_control_character("a\x7f"));
  CHECK(has_control_character("a\xc2\x9b"));
  CHECK_FALSE(has_control_character("°F\n"));
  const Place place;
  const std::string nasty =
      "red \x1b[31m\x07\x08\xc2\x9b"
      "bell\x7f";
  place.write("once.csv", garden_header + nasty + thirsty);
  place.write("weather \x1b[31m.csv", weather);
  const Words season{"season", "--weather", "weather \x1b[31m.csv", "--garden", "once.csv"};
  for (const Words& more : {Words{}, Words{"--ledger"}, Words{"--units", "us"}}) {
    Words words = season;
    words.insert(words.end(), more.begin(), more.end());
    INFO(command_line(more));
    const Outcome outcome = run_program(place, words);
    REQUIRE(outcome.exit_code == 0);
    CHECK(outcome.out.find("red ?[31m??") != std::string::npos);
    CHECK_FALSE(has_control_character(outcome.out));
    CHECK_FALSE(has_control_character(outcome.err));
  }
  // CSV keeps the name as it is, for other programs; what it says to people is clean.
  Words csv = season;
  csv.insert(csv.end(), {"--format", "csv"});
  const Outcome outcome = run_program(place, csv);
  CHECK(outcome.out.find(nasty) != std::string::npos);
  CHECK_FALSE(has_control_character(outcome.err));
  CHECK_FALSE(outcome.err.empty());
}

}  // namespace
TEST_CASE("--help names every column with its meaning") {
  const Place place;
  const auto help = [&](const char* command) {
    return run_program(place, {command, "--help"}).out;
  };
  const std::pair<std::string, Tables> commands[] = {
      {help("et0"), {cli::et0_columns(), cli::et0_step_columns()}},
      {help("season"),
       {cli::season_columns(), cli::season_care_columns(), cli::season_remedy_columns(),
        cli::season_spread_columns(), cli::season_settling_columns(), cli::ledger_columns(),
        cli::ledger_care_columns()}},
      {help("compare"),
       {cli::compare_columns(), cli::compare_more_columns(), cli::choice_spread_columns(),
        cli::compare_settling_columns()}},
      {help("heatwave"),
       {cli::heatwave_columns(), cli::heatwave_more_columns(), cli::heatwave_spread_columns()}},
      {help("absence"),
       {cli::absence_columns(), cli::absence_more_columns(), cli::absence_spread_columns()}},
      {help("forecast"), {cli::forecast_columns(), cli::forecast_uncertain_columns()}},
      {help("capacity"), {cli::capacity_columns()}}};
  for (const auto& [text, tables] : commands) {
    for (const auto table : tables) {
      for (const cli::Column& column : table) {
        INFO(column.name);
        CHECK(text.find("\n  " + std::string(column.name) + " ") != std::string::npos);
      }
    }
  }
}

}  // namespace wiltline::test
