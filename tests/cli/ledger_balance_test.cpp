// The printed ledger closes: what anyone can check with the numbers of the JSON.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "cli/run_program.hpp"
#include "support/near.hpp"

namespace wiltline::test {
namespace {

using Json = nlohmann::json;

/// The courtyard garden over a year, as JSON rows.
Json courtyard(const std::vector<std::string>& more) {
  std::vector<std::string> words{"season",
                                 "--garden",
                                 "models/gardens/courtyard.csv",
                                 "--weather",
                                 "weather-samples/tolvenau.csv",
                                 "--from",
                                 "2022-01-01",
                                 "--to",
                                 "2022-12-31",
                                 "--format",
                                 "json"};
  words.insert(words.end(), more.begin(), more.end());
  const Outcome outcome = run_program({.arguments = words, .folder = WILTLINE_SOURCE});
  REQUIRE(outcome.exit_code == 0);
  return Json::parse(outcome.out)["rows"];
}

double number(const Json& row, const char* name) {
  return row.at(name).get<double>();
}

/// What the ledger of one planting adds up to.
struct Sum {
  double watered_l = 0.0;
  double rain_l = 0.0;
  double drained_l = 0.0;
  double used_l = 0.0;
  int stressed_days = 0;
  int dry_days = 0;
  std::string first_dry;
};

TEST_CASE("every line of the ledger closes, from a pot at refilled capacity on") {
  const Json summaries = courtyard({});
  const Json ledger = courtyard({"--ledger"});
  std::map<std::string, double> store_l;  // at the end of the day before
  for (const Json& row : summaries) store_l[row.at("name")] = number(row, "capacity_l");
  REQUIRE(store_l.size() == 12);

  constexpr double printed_doubles = 1e-9;  // of a day's throughput
  std::map<std::string, int> lines;
  for (const Json& row : ledger) {
    const std::string name = row.at("name");
    const double in = number(row, "rain_l") + number(row, "watered_l");
    const double out =
        number(row, "drained_l") + number(row, "transpired_l") + number(row, "evaporated_l");
    const double after = number(row, "store_l");
    INFO(name << ' ' << row.at("date").get<std::string>());
    // A store of some litres is itself a double: its last bit is part of what is printed.
    const double allowed = printed_doubles * (in + out) + 4e-16 * after;
    CHECK(near(in - out, after - store_l.at(name), allowed));
    CHECK(in >= 0.0);
    CHECK(out > 0.0);
    store_l.at(name) = after;
    ++lines[name];
  }
  for (const auto& planting : lines) {
    INFO(planting.first);
    CHECK(planting.second > 30);
  }
  CHECK(lines.size() == store_l.size());
}

TEST_CASE("the summary is the sum of the ledger") {
  const Json ledger = courtyard({"--ledger"});
  std::map<std::string, Sum> sums;
  for (const Json& row : ledger) {
    Sum& sum = sums[row.at("name")];
    sum.watered_l += number(row, "watered_l");
    sum.rain_l += number(row, "rain_l");
    sum.drained_l += number(row, "drained_l");
    sum.used_l += number(row, "transpired_l") + number(row, "evaporated_l");
    if (!row.at("stressed_at").is_null()) ++sum.stressed_days;
    if (row.at("dry_at").is_null()) continue;
    ++sum.dry_days;
    if (sum.first_dry.empty()) sum.first_dry = row.at("date");
  }
  bool any_dry = false;
  for (const Json& row : courtyard({})) {
    const Sum& sum = sums.at(row.at("name"));
    const double allowed = 1e-9 * (sum.watered_l + sum.rain_l);
    INFO(row.at("name").get<std::string>());
    CHECK(near(number(row, "watered_l"), sum.watered_l, allowed));
    CHECK(near(number(row, "rain_l"), sum.rain_l, allowed));
    CHECK(near(number(row, "drained_l"), sum.drained_l, allowed));
    CHECK(near(number(row, "used_l"), sum.used_l, allowed));
    // Days of the first weeks are counted apart.
    CHECK(row.at("stressed_days").get<int>() + row.at("settling_stressed_days").get<int>() ==
          sum.stressed_days);
    CHECK(row.at("dry_days").get<int>() + row.at("settling_dry_days").get<int>() == sum.dry_days);
    if (row.at("settling_dry_days") == 0) {
      CHECK((row.at("first_dry").is_null() ? "" : row.at("first_dry")) == sum.first_dry);
    }
    const int wilting =
        row.at("wilting_days").get<int>() + row.at("settling_wilting_days").get<int>();
    CHECK(sum.stressed_days >= wilting);
    CHECK(wilting >= sum.dry_days);
    any_dry = any_dry || sum.dry_days > 0;
  }
  CHECK(any_dry);  // or the days above were never put to the test
}

}  // namespace
}  // namespace wiltline::test
