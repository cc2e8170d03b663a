// The columns others rely on: their names, their meanings, and that CSV and JSON say the same.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "cli/run_program.hpp"
#include "command.hpp"
#include "wiltline/tables/planting_columns.hpp"
#include "words.hpp"

namespace wiltline::test {
namespace {

using Json = nlohmann::ordered_json;
using Words = std::vector<std::string>;

const std::string weather =
    "# latitude_deg = 46\n# elevation_m = 200\n"
    "date,tmin_c,tmax_c,rh_mean_pct,rain_mm\n"
    "2023-06-01,11,23,70,0\n2023-06-02,12,27,60,12.5\n2023-06-03,13,29,,0\n2023-06-04,16,33,35,0\n";
const std::string garden_header = "name,crop,pot,mix,plants,planted,spot,routine,root_ball_l\n";
const std::string thirsty =
    ",basil,clay 3 l,potting mix,3,2023-06-01,hot paving,every 30 days 07:00,0.99\n";  // settled in

struct Place : ScratchFolder {
  Place() {
    write("weather.csv", weather);
    write("other.csv", "# latitude_deg = 46\n# elevation_m = 210\n" +
                           weather.substr(weather.find("date,")) + "2023-06-05,17,30,45,1\n");
    write("garden.csv",
          garden_header + "basil" + thirsty +
              "broccoli,broccoli,nursery 18 l,coir mix,1,06-02,patio,daily 07:00,10\n");
    write("once.csv", garden_header + "basil" + thirsty);
    write("seen.csv", "name,when,wilting\nbasil,2023-06-02 12:00,no\n");
  }
};

using Tables = std::vector<std::vector<cli::ColumnHead>>;

/// One command, the columns it must give, and the tables of columns it gives them from.
struct Expectation {
  Words arguments;
  std::string header;
  Tables tables;
};

/// The columns of a command under one of the headings of its help.
std::vector<cli::ColumnHead> columns_of(const cli::Command& command, std::string_view heading) {
  for (const auto& [known, columns] : command.columns) {
    if (known == heading) return columns;
  }
  throw std::runtime_error("no columns under " + std::string(heading));
}

std::vector<cli::Command> all_commands() {
  std::vector<cli::Command> commands;
  for (const auto& command :
       {cli::et0_command, cli::season_command, cli::compare_command, cli::heatwave_command,
        cli::absence_command, cli::forecast_command, cli::plan_command, cli::capacity_command,
        cli::sweep_command, cli::weather_command, cli::choose_command, cli::calibrate_command}) {
    commands.push_back(command());
  }
  return commands;
}

const std::string et0_header = "date,et0_mm,estimated";
const std::string steps_header =
    ",pressure_kpa,gamma_kpa_c,es_kpa,vapour_pressure_kpa,slope_kpa_c,ra_mj_m2,daylight_h,rso_mj_"
    "m2,"
    "rs_mj_m2,rns_mj_m2,rnl_mj_m2,rn_mj_m2,wind_2m_m_s,et_radiation_mm,et_air_mm";
const std::string moves_most_header = ",moves_most,moves_most_rank_correlation";
const std::string end_header = ",last_day,ended_by,harvest";
const std::string compare_end_header = ",worst_last_day,worst_ended_by";
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
const std::string visit_header =
    ",give_at_visit_l,give_at_visit_l_p10,give_at_visit_l_p90,water_at";
const std::string learned_header =
    ",readings,use_factor,use_factor_low,use_factor_high,use_factor_before,left_out";
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
const std::string shopping_header = "item,name,litres,bags,pot,mix,count,wet_kg";

const std::string absence_header =
    "crop,pot,mix_l,windows,passed,share,smallest,name,own,mix,plants,spot,summers,first_failed";
const std::string absence_help_header = ",helper_visits,enough_grouped_in_shade";
const std::string period_header =
    "name,year,period,asked_waterings,given_waterings,watered_l,used_l,stressed_days,wilting_days,"
    "dry_days";
const std::string plan_header =
    "visit,by,name,pot,give_l,give_low_l,give_high_l,lasts_to_next,feed,note";

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

const std::string matters_header =
    "name,answer,input,first_order,first_low,first_high,total,total_low,total_high,pot,mix,wall,"
    "spot,plants,answer_mean,answer_deviation";

const std::string weather_header =
    "place,first,last,days,filled_days,latitude_deg,longitude_deg,elevation_m,coldest_c,hottest_c,"
    "wind_mean_m_s,rain_mm_a_year,et0_mm_a_year";

std::vector<Expectation> expectations() {
  const Words et0{"et0", "--weather", "weather.csv"};
  const Words once{"season", "--weather", "weather.csv", "--garden", "once.csv"};
  const Words yearly{"season", "--weather", "weather.csv", "--garden", "garden.csv"};
  const auto with = [](Words words, const Words& more) {
    words.insert(words.end(), more.begin(), more.end());
    return words;
  };
  const Words second{"--weather", "other.csv"};
  const std::string_view first = "Columns of CSV and JSON";
  const std::string_view appended = "Appended";
  const std::string_view uncertain = "Appended by --uncertain";
  const std::vector<cli::ColumnHead> year{{"year", cli::Quantity::count, 0, "year of planting"}};
  const std::vector<cli::ColumnHead> record{tables::weather_columns[0]};
  const cli::Command season = cli::season_command();
  const cli::Command compare = cli::compare_command();
  const cli::Command heatwave = cli::heatwave_command();
  const cli::Command absence = cli::absence_command();
  const auto et0_table = columns_of(cli::et0_command(), first);
  const auto steps_table = columns_of(cli::et0_command(), "Appended by --steps");
  const auto season_table = columns_of(season, first);
  const auto care = columns_of(
      season, "Appended (year where planted repeats, weather where several are given, then)");
  const auto settling = columns_of(season, "Appended last");
  const auto compare_settling = columns_of(compare, "Appended last");
  const auto day_care = columns_of(season, appended);
  const auto ledger_table = columns_of(season, "Columns of --ledger");
  const auto capacity_table = columns_of(cli::capacity_command(), first);
  const auto absence_table = columns_of(absence, first);
  const auto absence_more = columns_of(absence, appended);
  const auto absence_help = columns_of(absence, "Appended last, of a garden's own pots");
  const auto periods =
      columns_of(season, "Columns of --by (weather appended where several are given)");
  const auto matters = columns_of(season, "Columns of --what-matters");
  const auto compare_table = columns_of(compare, first);
  const auto compare_more = columns_of(compare, appended);
  const auto compare_end = columns_of(compare, "Appended behind them");
  const auto end = columns_of(season, "Appended behind them");
  const auto heatwave_table = columns_of(heatwave, first);
  const auto heatwave_more = columns_of(heatwave, "Appended, with weather where several are given");
  const auto forecast_table = columns_of(cli::forecast_command(), first);
  const auto visit = columns_of(cli::forecast_command(), "Appended behind them");
  const Words forecast{"forecast",   "--weather",  "weather.csv", "--garden", "once.csv", "--to",
                       "2023-06-02", "--forecast", "weather.csv", "--days",   "1"};
  const Words hot{"heatwave", "--weather", "weather.csv", "--garden", "garden.csv", "--days", "2"};
  return {
      {{"compare", "--crop", "basil", "--planted", "06-01", "--weather", "weather.csv", "--pots",
        "clay 3 l,nursery 37 l"},
       compare_header + compare_end_header + compare_settling_header,
       {compare_table, compare_more, compare_end, compare_settling}},
      {{"compare", "--garden", "garden.csv", "--weather", "weather.csv", "--weather", "other.csv"},
       compare_header + compare_end_header + compare_settling_header,
       {compare_table, compare_more, compare_end, compare_settling}},
      {hot, heatwave_header, {heatwave_table, heatwave_more}},
      {with(hot, second), heatwave_header + ",weather", {heatwave_table, heatwave_more, record}},
      {{"absence", "--crop", "basil", "--planted", "06-01", "--days", "1", "--weather",
        "weather.csv", "--kind", "clay"},
       absence_header + absence_help_header,
       {absence_table, absence_more, absence_help}},
      {{"absence", "--garden", "garden.csv", "--days", "1d2h", "--weather", "weather.csv"},
       absence_header + absence_help_header,
       {absence_table, absence_more, absence_help}},
      {et0, et0_header, {et0_table}},
      {with(et0, {"--steps"}), et0_header + steps_header, {et0_table, steps_table}},
      {with(et0, second), et0_header + ",weather", {et0_table, record}},
      {with(with(et0, {"--steps"}), second),
       et0_header + steps_header + ",weather",
       {et0_table, steps_table, record}},
      {once,
       season_header + care_header + end_header + settling_header,
       {season_table, care, end, settling}},
      {yearly,
       season_header + ",year" + care_header + end_header + settling_header,
       {season_table, year, care, end, settling}},
      {with(once, second),
       season_header + ",weather" + care_header + end_header + settling_header,
       {season_table, record, care, end, settling}},
      {with(yearly, second),
       season_header + ",year,weather" + care_header + end_header + settling_header,
       {season_table, year, record, care, end, settling}},
      {with(once, {"--remedies"}),
       season_header + care_header + ",remedy,remedies" + end_header + settling_header,
       {season_table, care, columns_of(season, "Appended by --remedies"), end, settling}},
      {with(once, {"--uncertain", "10"}),
       season_header + care_header + season_spread_header + end_header + settling_header,
       {season_table, care, columns_of(season, uncertain), end, settling}},
      {{"compare", "--crop", "basil", "--planted", "06-01", "--weather", "weather.csv", "--pots",
        "clay 3 l,nursery 37 l", "--uncertain", "10", "--seed", "3"},
       compare_header + choice_spread_header + compare_end_header + compare_settling_header,
       {compare_table, compare_more, columns_of(compare, uncertain), compare_end,
        compare_settling}},
      {with(hot, {"--uncertain", "10"}),
       heatwave_header + heatwave_spread_header,
       {heatwave_table, heatwave_more, columns_of(heatwave, uncertain)}},
      {{"absence", "--garden", "garden.csv", "--days", "1d2h", "--weather", "weather.csv",
        "--uncertain", "10"},
       absence_header + absence_spread_header + absence_help_header,
       {absence_table, absence_more, columns_of(absence, uncertain), absence_help}},
      {forecast, forecast_header + visit_header, {forecast_table, visit}},
      {with(forecast, {"--uncertain", "10"}),
       forecast_header + moves_most_header + visit_header,
       {forecast_table, columns_of(cli::forecast_command(), uncertain), visit}},
      {with(once, {"--uncertain", "64", "--what-matters"}), matters_header, {matters}},
      {with(forecast, {"--seen", "seen.csv"}),
       forecast_header + visit_header + learned_header,
       {forecast_table, visit,
        columns_of(cli::forecast_command(),
                   "Appended last where readings are given or in the state")}},
      {with(once, {"--by", "week"}), period_header, {periods}},
      {with(with(once, {"--by", "month"}), second), period_header + ",weather", {periods, record}},
      {{"plan", "--weather", "weather.csv", "--garden", "once.csv", "--to", "2023-06-02",
        "--forecast", "weather.csv", "--days", "1"},
       plan_header,
       {columns_of(cli::plan_command(), first)}},
      {with(once, {"--ledger"}), ledger_header + ",care", {ledger_table, day_care}},
      {with(with(yearly, {"--ledger"}), second),
       ledger_header + ",weather,care",
       {ledger_table, record, day_care}},
      {{"weather", "weather.csv"}, weather_header, {columns_of(cli::weather_command(), first)}},
      {{"weather", "weather.csv", "other.csv"},
       weather_header,
       {columns_of(cli::weather_command(), first)}},
      {{"capacity", "--pot", "nursery 11 l", "--mix", "potting mix"},
       capacity_header,
       {capacity_table}},
      {{"capacity", "--garden", "garden.csv", "--bag", "50l"},
       shopping_header,
       {columns_of(cli::capacity_command(), "Columns with --garden")}},
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

cli::ColumnHead column_named(std::string_view name, const Tables& tables) {
  for (const auto& table : tables) {
    for (const cli::ColumnHead& column : table) {
      if (column.name == name) return column;
    }
  }
  throw std::runtime_error("no column " + std::string(name));
}

/// A number of the CSV is the number of the JSON, rounded to the digits of its column.
void check_number(const std::string& text, double number, const cli::ColumnHead& column) {
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

void check_cell(const std::string& text, const Json& value, const cli::ColumnHead& column) {
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
      place, {"et0", "--weather", "weather.csv", "--weather", "other.csv", "--steps"}, "json"));
  CHECK(json["schema"] == 1);
  CHECK(json["program"] == "wiltline");
  CHECK(json["command"] == "et0");
  CHECK(json["inputs"]["weather"] == Json::array({"weather.csv", "other.csv"}));
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
  std::size_t columns_seen = 0;
  for (const cli::Command& command : all_commands()) {
    std::set<std::string_view> names;
    for (const auto& [heading, columns] : command.columns) {
      // Another answer of the same command: the ledger.
      if (heading.starts_with("Columns")) names.clear();
      for (const cli::ColumnHead& column : columns) {
        INFO(command.name << ' ' << column.name);
        CHECK(names.insert(column.name).second);
        CHECK_FALSE(column.meaning.empty());
        if (command.name != "sweep") CHECK(column.name != "weather");
        ++columns_seen;
      }
    }
  }
  CHECK(columns_seen > 150);
}

TEST_CASE("the unit in a column's name is the unit of its quantity") {
  using enum cli::Quantity;
  // Longer endings first: _m3_m3 before _m2, _mj_m2 before _m2.
  constexpr std::array<std::pair<std::string_view, cli::Quantity>, 11> endings{
      {{"_m3_m3", volume_share},
       {"_kg", mass_kg},
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
  for (const cli::Command& command : all_commands()) {
    for (const auto& [heading, columns] : command.columns) {
      for (const cli::ColumnHead& column : columns) {
        const auto ending = std::find_if(endings.begin(), endings.end(), [&](const auto& known) {
          return column.name.ends_with(known.first);
        });
        if (ending == endings.end()) continue;
        INFO(column.name);
        CHECK(column.quantity == ending->second);
        ++found;
      }
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

TEST_CASE("--help names every column with its meaning") {
  const Place place;
  for (const cli::Command& command : all_commands()) {
    const std::string text = run_program(place, {std::string(command.name), "--help"}).out;
    for (const auto& [heading, columns] : command.columns) {
      const std::size_t begun = text.find(std::string(heading) + ":\n");
      REQUIRE(begun != std::string::npos);
      for (const cli::ColumnHead& column : columns) {
        INFO(column.name);
        const std::string first_words(column.meaning.substr(0, column.meaning.find(' ')));
        const std::size_t at = text.find("\n  " + std::string(column.name) + " ", begun);
        REQUIRE(at != std::string::npos);
        CHECK(text.find(first_words, at) < text.find('\n', at + 1));
      }
    }
  }
}

TEST_CASE("amounts below a litre are told in mL, below half a gallon in fl oz") {
  // 1 US gallon = 3.785411784 L = 128 fl oz, NIST SP 811 (from memory).
  CHECK(cli::volume_text(0.0, false) == "0 L");
  CHECK(cli::volume_text(0.32, false) == "320 mL");
  CHECK(cli::volume_text(0.994, false) == "990 mL");
  CHECK(cli::volume_text(0.996, false) == "1.0 L");
  CHECK(cli::volume_text(4.5, false) == "4.5 L");
  CHECK(cli::volume_text(3.785411784 / 4.0, true) == "32 fl oz");
  CHECK(cli::volume_text(3.785411784 * 0.494, true) == "63 fl oz");
  CHECK(cli::volume_text(3.785411784 * 0.496, true) == "0.50 gal");
  CHECK(cli::volume_text(37.85411784, true) == "10 gal");
  // 8 in 10 pots lie within a factor of 1.6 of the figure.
  CHECK(cli::use_text(0.15, false) == "94–240 mL");
  CHECK(cli::volume_range_text(1.3, 3.2, false) == "1.3–3.2 L");
  CHECK(cli::volume_range_text(0.3, 1.2, false) == "0.30–1.2 L");
  CHECK(cli::volume_range_text(1.31, 1.33, false) == "1.3 L");
  // An amount beside a range has the range's unit.
  CHECK(cli::volume_text_beside(0.7, 1.2, false) == "0.70 L");
  CHECK(cli::volume_text_beside(0.7, 0.9, false) == "700 mL");
  CHECK(cli::volume_text_beside(3.785411784 / 4.0, 3.785411784, true) == "0.25 gal");
}

}  // namespace
}  // namespace wiltline::test
