#include "setting.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>

#include "support/fixtures.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/garden/reading.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::test {
namespace {

constexpr std::array<std::string_view, 14> garden_names{
    "crop", "pot",      "mix",      "plants",      "planted",  "spot", "routine",
    "wall", "saucer_l", "volume_l", "root_ball_l", "hardened", "ends", "harvest"};
constexpr std::array<std::string_view, 14> other_names{
    "weather",        "rain",       "kcb",   "diameter_m", "crown_m",        "leaf_m2",
    "days_to_full",   "wall_share", "month", "above_c",    "canopy_from_m2", "preferred_l",
    "plants_per_pot", "from"};

bool is_known(std::string_view name) {
  const auto in = [name](const auto& names) {
    return std::find(names.begin(), names.end(), name) != names.end();
  };
  return in(garden_names) || in(other_names);
}

void parse(std::string_view text, bool may_change, std::map<std::string, std::string>& values) {
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(';'), text.size());
    const std::string item(trim(text.substr(0, end)));
    text.remove_prefix(std::min(end + 1, text.size()));
    const std::size_t equals = item.find('=');
    const std::string name = item.substr(0, equals);
    if (equals == std::string::npos || !is_known(name)) {
      throw std::runtime_error("unknown: " + item);
    }
    if (!may_change && values.contains(name)) throw std::runtime_error("twice: " + name);
    values[name] = item.substr(equals + 1);
  }
}

/// A record read once, with and without its rain.
const WeatherRecord& record_of(const std::string& name, bool rain) {
  static std::map<std::pair<std::string, bool>, WeatherRecord> records;
  const auto known = records.find({name, rain});
  if (known != records.end()) return known->second;
  const std::string path = std::string(WILTLINE_SOURCE) + "/weather-samples/" + name + ".csv";
  const WeatherRecord read = read_weather(read_file(path), {});
  std::vector<WeatherDay> days;
  for (std::size_t i = 0; i < read.size(); ++i) {
    days.push_back(read.day(i));
    if (!rain) days.back().rain_mm = 0.0;
  }
  WeatherRecord record{read.name(), read.site(), read.first(), std::move(days), true};
  return records.emplace(std::pair(name, rain), std::move(record)).first->second;
}

}  // namespace

Setting::Setting(std::string_view text) {
  parse(text, false, values_);
}

Setting Setting::with(std::string_view changes) const {
  Setting changed = *this;
  parse(changes, true, changed.values_);
  return changed;
}

std::optional<std::string> Setting::text(const std::string& name) const {
  const auto found = values_.find(name);
  return found == values_.end() ? std::nullopt : std::optional(found->second);
}

std::optional<double> Setting::number(const std::string& name) const {
  const auto value = text(name);
  if (!value) return std::nullopt;
  const auto number = parse_number(*value);
  if (!number) throw std::runtime_error("not a number: " + name);
  return number;
}

Planting Setting::planting() const {
  std::map<std::string, std::string> row{{"name", "it"},    {"mix", "potting mix"},
                                         {"plants", "1"},   {"planted", "05-15"},
                                         {"spot", "patio"}, {"routine", "as-needed"}};
  for (const std::string_view name : garden_names) {
    if (const auto value = text(std::string(name))) row[std::string(name)] = *value;
  }
  std::string names;
  std::string cells;
  for (const auto& [name, value] : row) {
    names += (names.empty() ? "" : ",") + name;
    cells += (cells.empty() ? "" : ",") + value;
  }
  Planting planting = read_garden({"row", names + '\n' + cells + '\n'}, catalogue()).front();
  const auto put = [this](const char* name, auto&&... targets) {
    if (const auto value = number(name)) ((targets = *value), ...);
  };
  const auto put_ranged = [this](const char* name, Ranged& target) {
    if (const auto value = number(name)) target = Ranged::exactly(*value);
  };
  Crop& crop = planting.crop;
  put("kcb", crop.kcb_mid, crop.kcb_end);
  put("plants_per_pot", crop.plants_per_pot);
  put_ranged("wall_share", planting.pot.wall.evaporation_share);
  put_ranged("diameter_m", crop.canopy_diameter_m);
  put_ranged("crown_m", crop.crown_height_m);
  put_ranged("leaf_m2", crop.leaf_area_m2);
  put_ranged("days_to_full", crop.days_to_full);
  put_ranged("preferred_l", crop.preferred_l);
  return planting;
}

const WeatherRecord& Setting::record() const {
  return record_of(text("weather").value_or("tolvenau"), text("rain") != "no");
}

std::vector<SeasonResult> Setting::seasons(const Planting& planting) const {
  const Place place(record(), catalogue().parameters);
  std::vector<SeasonResult> results;
  for (const Date date : planting_dates(planting, record())) {
    results.push_back(run_season(planting, date, place, {.ledger = true}));
  }
  if (results.empty()) throw std::runtime_error("planted outside the record");
  return results;
}

}  // namespace wiltline::test
