#include "scenario.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "support/fixtures.hpp"
#include "wiltline/budget/watering.hpp"
#include "wiltline/garden/reading.hpp"
#include "wiltline/questions/season.hpp"
#include "wiltline/sun/sun.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::test {
namespace {

/// A sample record by its climate, read once.
const WeatherRecord& weather(const std::string& file) {
  static std::map<std::string, WeatherRecord> records;
  const auto known = records.find(file);
  if (known != records.end()) return known->second;
  const std::string path = std::string(WILTLINE_SOURCE) + "/weather-samples/" + file;
  return records.emplace(file, read_weather(read_file(path), {})).first->second;
}
const WeatherRecord& temperate() {
  return weather("tolvenau.csv");
}
const WeatherRecord& hot_humid() {
  return weather("port-okaree.csv");
}
const WeatherRecord& hot_dry() {
  return weather("zarquil-flats.csv");
}

/// The record without its rain: what a rule about waterings a week has in mind.
WeatherRecord rainless(const WeatherRecord& record) {
  std::vector<WeatherDay> days;
  for (std::size_t i = 0; i < record.size(); ++i) {
    days.push_back(record.day(i));
    days.back().rain_mm = 0.0;
  }
  return {record.name(), record.site(), record.first(), std::move(days), true};
}

/// A planting in words: crop, pot, mix, number of plants, day, spot, routine, further columns.
struct Row {
  std::string crop;
  std::string pot;
  std::string mix = "potting mix";
  int plants = 1;
  std::string planted = "05-15";
  std::string spot = "patio";
  std::string routine = "as-needed";
  std::string more_names{};
  std::string more{};
};

Planting planting(const Row& row) {
  const std::string text =
      fmt::format("name,crop,pot,mix,plants,planted,spot,routine{}\nit,{},{},{},{},{},{},{}{}\n",
                  row.more_names, row.crop, row.pot, row.mix, row.plants, row.planted, row.spot,
                  row.routine, row.more);
  return read_garden({"scenario", text}, catalogue()).front();
}

constexpr int rooted_days = 35;  // the mix is filled with roots from then on

std::vector<SeasonResult> seasons(const Planting& one, const WeatherRecord& record) {
  const Place prepared(record, catalogue().parameters);
  std::vector<SeasonResult> results;
  for (const Date date : planting_dates(one, record)) {
    results.push_back(run_season(one, date, prepared, {.ledger = true}));
  }
  return results;
}

/// Mean over all summers of a count, on the ledger days that `wanted` picks.
template <typename Wanted, typename Value>
double mean_over(const std::vector<SeasonResult>& results, const Wanted& wanted,
                 const Value& value) {
  double sum = 0.0;
  int days = 0;
  for (const SeasonResult& result : results) {
    for (const LedgerLine& line : result.ledger) {
      if (!wanted(line)) continue;
      sum += value(line);
      ++days;
    }
  }
  return days > 0 ? sum / days : 0.0;
}

double is_watered(const LedgerLine& line) {
  return line.watered_l > 0.0 ? 1.0 : 0.0;
}

/// Waterings a week in one month of every summer, as needed. Days with several waterings count once
/// a watering of the deficit at the threshold.
double waterings_a_week(const std::vector<SeasonResult>& results, unsigned month) {
  return 7.0 *
         mean_over(
             results, [month](const LedgerLine& line) { return month_of(line.date) == month; },
             [](const LedgerLine& line) {
               const double each = line.refill_at_l / (1.0 - catalogue().parameters.drained_share);
               return line.watered_l > 0.0 ? std::max(1.0, std::round(line.watered_l / each)) : 0.0;
             });
}

/// Waterings a week around the peak, mean of the summers.
double waterings_at_peak(const std::vector<SeasonResult>& results) {
  double sum = 0.0;
  for (const SeasonResult& result : results) sum += result.summary.waterings_week_peak;
  return sum / static_cast<double>(results.size());
}

template <typename Value>
double worst_summer(const std::vector<SeasonResult>& results, const Value& value) {
  double worst = 0.0;
  for (const SeasonResult& result : results) {
    worst = std::max(worst, static_cast<double>(value(result.summary)));
  }
  return worst;
}

/// Days beyond the wilting line once the roots have filled the mix, in the worst summer.
double wilting_when_rooted(const std::vector<SeasonResult>& results) {
  const double line = catalogue().parameters.wilting_line;
  double worst = 0.0;
  for (const SeasonResult& result : results) {
    double days = 0.0;
    for (const LedgerLine& day : result.ledger) {
      const bool rooted = (day.date - result.first).count() >= rooted_days;
      if (rooted && day.depletion_l > line * result.summary.available_l) days += 1.0;
    }
    worst = std::max(worst, days);
  }
  return worst;
}

/// Litres of the smallest nursery pot whose rooted plant never ends a day wilting.
double smallest_without_wilting(Row row, const WeatherRecord& record) {
  double smallest = 1e9;
  for (const Entry<Pot>& entry : catalogue().pots.entries()) {
    if (entry.value.kind != "nursery") continue;
    row.pot = entry.name;
    if (wilting_when_rooted(seasons(planting(row), record)) > 0.0) continue;
    smallest = std::min(smallest, entry.value.mix_l());
  }
  return smallest;
}

/// One plant at full size in a roomy place on a plain summer day: what the plan-area coefficient
/// is.
struct FullSizeDay {
  double potential_l = 0.0;
  double et0_mm = 0.0;
  Canopy canopy;
};
FullSizeDay full_size_day(const Crop& crop, double advection, double et_radiation_mm,
                          double et_air_mm) {
  FullSizeDay day;
  day.et0_mm = et_radiation_mm + et_air_mm;
  day.canopy = canopy(crop, {.plants = 1, .pot_diameter_m = 0.3}, 1.0, 1.0);
  const double kcb = full_cover_coefficient(crop.kcb_mid, 2.0, 45.0, day.canopy.height_m);
  day.potential_l = potential_transpiration_l(day.canopy, kcb,
                                              {.et_radiation_mm = et_radiation_mm,
                                               .et_air_mm = et_air_mm,
                                               .open_et0_mm = day.et0_mm,
                                               .noon_elevation_rad = radians(65.0),
                                               .diffuse_share = 0.25,
                                               .advection = advection});
  return day;
}

// ---------------------------------------------------------------- rules of thumb

Answer water_holding_half() {
  // Usable water of 11 L of peat and perlite, half and half, against peat alone.
  const Pot& pot = *catalogue().pots.find("nursery 11 l");
  const double refill = catalogue().parameters.refill_share;
  const auto usable = [&](const char* mix) {
    return held_water(pot, *catalogue().mix(mix), refill).available_l();
  };
  return {usable("peat 50 perlite 50") / usable("peat 100"),
          "usable water of peat and perlite half and half over peat alone, 11 L pot"};
}

Answer compact_fruiting_daily() {
  const Row row{.crop = "tomato dwarf", .pot = "nursery 30 l", .routine = "daily 07:00"};
  return {
      wilting_when_rooted(seasons(planting(row), temperate())),
      "evenings wilting in the worst of four temperate summers, dwarf tomato, 30 L, watered daily"};
}

Answer compact_fruiting_every_third_day() {
  const Row row{.crop = "tomato dwarf", .pot = "nursery 50 l", .routine = "every 3 days 07:00"};
  return {wilting_when_rooted(seasons(planting(row), temperate())),
          "evenings wilting in the worst of four temperate summers, dwarf tomato, 50 L, every "
          "third day"};
}

Answer two_peppers() {
  const Row row{.crop = "pepper", .pot = "nursery 37 l", .plants = 2, .routine = "daily 07:00"};
  return {
      wilting_when_rooted(seasons(planting(row), temperate())),
      "evenings wilting in the worst of four temperate summers, two peppers, 37 L, watered daily"};
}

Answer spring(const char* crop, const char* pot) {
  const Row row{.crop = crop, .pot = pot, .planted = "03-25", .routine = "check daily 07:00"};
  return {waterings_a_week(seasons(planting(row), rainless(temperate())), 4),
          fmt::format("{} in {}, looked at daily, temperate April without its rain", crop, pot)};
}

Answer early_summer() {
  const Row row{
      .crop = "tomato", .pot = "nursery 21 l", .planted = "05-10", .routine = "check daily 07:00"};
  return {waterings_a_week(seasons(planting(row), rainless(temperate())), 6),
          "tomato, 21 L, looked at daily, temperate June without its rain"};
}

Answer hottest_weeks() {
  const Row row{
      .crop = "tomato", .pot = "nursery 30 l", .planted = "05-10", .routine = "check daily 07:00"};
  return {waterings_at_peak(seasons(planting(row), temperate())),
          "tomato, 30 L, looked at daily, four weeks around the temperate peak"};
}

Answer big_tub_above_32() {
  const Row row{
      .crop = "tomato", .pot = "half barrel 100 l", .mix = "planter mix", .planted = "04-01"};
  const WeatherRecord& record = hot_humid();
  const auto results = seasons(planting(row), record);
  double sum = 0.0;
  int days = 0;
  for (const SeasonResult& result : results) {
    for (const LedgerLine& line : result.ledger) {
      if (line.canopy_m2 < 0.4 || record.day(record.index_of(line.date)).tmax_c <= 32.0) continue;
      sum += is_watered(line);
      ++days;
    }
  }
  return {days > 0 ? 7.0 * sum / days : 0.0,
          "tomato at full size, 100 L, hot-humid days above 32 °C"};
}

Answer kale_summer() {
  return {smallest_without_wilting(
              {.crop = "kale", .pot = "", .planted = "05-15", .routine = "every 2 days 07:00"},
              temperate()),
          "smallest nursery pot that never ends a day wilting, temperate summers, every other day"};
}

Answer kale_autumn() {
  return {smallest_without_wilting(
              {.crop = "kale", .pot = "", .planted = "08-20", .routine = "every 2 days 07:00"},
              temperate()),
          "the same planted on 20 August"};
}

Answer cucumbers_stressed() {
  const Row row{.crop = "cucumber",
                .pot = "metal tub 60 l",
                .mix = "vegetable mix",
                .plants = 3,
                .planted = "05-25",
                .routine = "daily 07:00"};
  return {
      worst_summer(seasons(planting(row), temperate()),
                   [](const SeasonSummary& s) { return s.stressed_days; }),
      "stressed days in the worst of four temperate summers, three cucumbers, 60 L, watered daily"};
}

/// Hours until a cell watered at 7 has a dry surface on hot days, mean; 24 if it lasts the day.
double cell_dries_at(const std::string& spot) {
  const Row row{.crop = "tomato",
                .pot = "cell 0.05 l",
                .mix = "seed mix",
                .planted = "05-15",
                .spot = spot,
                .routine = "daily 07:00",
                .more_names = ",ends",
                .more = ",06-30"};
  const Planting cell = planting(row);
  const WeatherRecord& record = hot_humid();
  const Place prepared(record, catalogue().parameters);
  const auto& days = prepared.at(cell.spot);
  const PotParameters pot = build_pot(cell, catalogue().parameters);
  const PlantingSetting setting = planting_setting(cell, pot, catalogue().parameters);
  const Development seedling(cell.crop, GrowthClock::stage_days,
                             catalogue().parameters.leaf_curve(), setting.crop.first_leaf_share);
  double dry = 0.0;
  int hot = 0;
  for (std::size_t i = 0; i < record.size(); ++i) {
    const WeatherDay& weather_day = record.day(i);
    if (weather_day.tmax_c < 30.0 || weather_day.tmax_c > 35.0 ||
        weather_day.rain_mm.value_or(0.0) > 0.0)
      continue;
    const CropDay crop = crop_day(setting.crop, days[i], seedling, catalogue().parameters);
    const PlantingDayForcing forcing = planting_day(setting, crop, 0.0, catalogue().parameters);
    const IntervalLimits limits = interval_limits(pot, forcing.day.depletion_fraction, 1.0);
    const double from = days[i].curve.share_by(7.0);
    const IntervalResult evening = flow(forcing.day.demand, limits, line_depletions(pot, limits),
                                        {.rooted_share = 1.0}, 1.0 - from);
    ++hot;
    // The surface is dry once it gives less than the air asks: past readily evaporable water.
    if (evening.state.rooted_depletion_l >= pot.readily_evaporable_l) dry += 1.0;
  }
  return hot > 0 ? dry / hot : 0.0;
}

Answer cells_in_full_sun() {
  return {cell_dries_at("open ground"),
          "share of dry days of 30-35 °C on which a cell in full sun is dry by night"};
}
Answer cells_shaded_from_noon() {
  return {cell_dries_at("morning sun"), "the same with sun until noon only"};
}

Answer cool_crops_by_day() {
  double sum = 0.0;
  int n = 0;
  for (const Entry<Crop>& entry : catalogue().crops.entries()) {
    if (entry.value.warm_season || !entry.value.best_high_c) continue;
    sum += *entry.value.best_high_c;
    ++n;
  }
  return {sum / n, "mean upper end of best growth, cool-season crops of the catalogue"};
}

Answer warm_crops_mean() {
  double sum = 0.0;
  int n = 0;
  for (const Entry<Crop>& entry : catalogue().crops.entries()) {
    if (!entry.value.warm_season || !entry.value.best_high_c || !entry.value.best_low_c) continue;
    sum += (*entry.value.best_low_c + *entry.value.best_high_c) / 2.0;
    ++n;
  }
  return {sum / n, "mean of the best range, warm-season crops of the catalogue"};
}

Answer finger_test() {
  const Row row{.crop = "tomato",
                .pot = "nursery 21 l",
                .planted = "05-10",
                .routine = "check top daily 07:00"};
  const auto results = seasons(planting(row), temperate());
  double agree = 0.0;
  double all = 0.0;
  for (const SeasonResult& result : results) {
    all += result.summary.days;
    agree += result.summary.days - result.summary.care.finger_only - result.summary.care.root_only;
  }
  return {agree / all, "share of mornings on which finger and root zone agree, tomato, 21 L"};
}

Answer hot_dry_daily() {
  const Row row{.crop = "tomato dwarf",
                .pot = "nursery 14 l",
                .planted = "04-01",
                .routine = "check daily 07:00"};
  return {waterings_at_peak(seasons(planting(row), hot_dry())),
          "dwarf tomato, 14 L, looked at daily, hot-dry peak"};
}

Answer large_and_bearing() {
  const Row row{
      .crop = "tomato", .pot = "nursery 21 l", .planted = "05-10", .routine = "check daily 07:00"};
  return {waterings_at_peak(seasons(planting(row), temperate())),
          "tomato, 21 L, looked at daily, temperate peak"};
}

Answer sun_on_concrete() {
  const Row row{.crop = "pepper",
                .pot = "nursery 14 l",
                .planted = "05-15",
                .spot = "hot paving",
                .routine = "check daily 07:00"};
  return {waterings_at_peak(seasons(planting(row), temperate())),
          "pepper, 14 L on hot paving, looked at daily, temperate peak"};
}

Answer july_august() {
  const Row row{
      .crop = "pepper", .pot = "nursery 14 l", .planted = "05-15", .routine = "check daily 07:00"};
  const auto results = seasons(planting(row), temperate());
  return {(waterings_a_week(results, 7) + waterings_a_week(results, 8)) / 2.0,
          "pepper, 14 L, looked at daily, temperate July and August"};
}

Answer twice_when_hot_and_windy() {
  const Row row{.crop = "tomato",
                .pot = "nursery 30 l",
                .planted = "04-01",
                .spot = "roof terrace",
                .routine = "check daily 07:00 19:00"};
  return {waterings_at_peak(seasons(planting(row), hot_dry())) / 7.0,
          "waterings a day, tomato, 30 L on a roof terrace, looked at twice a day, hot-dry peak"};
}

Answer absence_helped_by_shade() {
  // Days from a full pot to the dry line in the hottest fortnight, in the sun and shaded, grouped,
  // saucer.
  const auto longest = [](const Row& row) {
    double worst = 1e9;
    for (const SeasonResult& result : seasons(planting(row), temperate())) {
      int days = 0;
      for (const LedgerLine& line : result.ledger) {
        if (line.date <= make_date(year_of(line.date), 7, 15)) continue;
        if (line.dry_at_h) break;
        ++days;
      }
      worst = std::min(worst, static_cast<double>(days));
    }
    return worst;
  };
  const Row sun{.crop = "pepper",
                .pot = "nursery 14 l",
                .planted = "05-15",
                .routine = "daily 07:00 away 07-15/08-15"};
  Row shade = sun;
  shade.spot = "light shade";
  shade.more_names = ",saucer_l";
  shade.more = ",1";
  return {longest(shade) / longest(sun),
          "days to dry in shade with a saucer over days in the sun, pepper, 14 L"};
}

// ---------------------------------------------------------------- measured cases

/// A nursery shrub such as the measured ones: as tall as wide, dense, slow (all judged).
Crop shrub() {
  Crop crop = *catalogue().crops.find("rosemary");
  crop.name = "shrub";
  crop.kcb_mid = crop.kcb_end = 0.95;
  crop.canopy_diameter_m = crop.crown_height_m = {0.45, 0.3, 0.6};
  crop.leaf_area_m2 = {0.8, 0.5, 1.1};  // five times its plan area
  crop.days_to_full = {240.0, 180.0, 300.0};
  crop.mid_days = 400.0;
  return crop;
}

/// A full-size crown on a plain summer day, 3.5 and 2.5 mm of ET0's two terms.
FullSizeDay summer_day(const Crop& crop, double advection) {
  return full_size_day(crop, advection, 3.5, 2.5);
}

Answer isolated_per_plant() {
  return {summer_day(shrub(), 1.8).potential_l / summer_day(shrub(), 1.0).potential_l,
          "shrub alone on paving over the same in a tight group, per plant"};
}

Answer isolated_per_area() {
  // In the middle of a dense group the crowns close: full cover, Kcb x ET0 per plan area.
  const FullSizeDay alone = summer_day(shrub(), 1.8);
  const double closed = full_cover_coefficient(shrub().kcb_mid, 2.0, 45.0, alone.canopy.height_m);
  return {alone.potential_l / (alone.canopy.plan_area_m2 * alone.et0_mm) / closed,
          "shrub alone on paving over the middle of a closed group, per plan area"};
}

Answer second_plant() {
  const auto use = [](int plants) {
    const Planting pot = planting(
        {.crop = "basil", .pot = "nursery 2.6 l", .plants = plants, .planted = "2022-05-15"});
    const PotParameters parameters = build_pot(pot, catalogue().parameters);
    const PlantingSetting setting = planting_setting(pot, parameters, catalogue().parameters);
    const Canopy crown = canopy(pot.crop, setting.stand, 1.0, setting.size_factor);
    const double kcb = full_cover_coefficient(pot.crop.kcb_mid, 2.0, 45.0, crown.height_m);
    return potential_transpiration_l(crown, kcb,
                                     {.et_radiation_mm = 3.0,
                                      .et_air_mm = 1.0,
                                      .open_et0_mm = 4.0,
                                      .noon_elevation_rad = radians(60.0),
                                      .diffuse_share = 0.4,
                                      .advection = 1.0});
  };
  return {100.0 * (use(2) / use(1) - 1.0),
          "two basil plants over one in 2.6 L, full size, tight group"};
}

Answer surface_share() {
  // The trial's plant was an Easter lily (from memory): slender, with little leaf; its size is
  // judged.
  const Row row{.crop = "basil",
                .pot = "nursery 1.5 l",
                .mix = "peat lite",
                .planted = "2022-03-01",
                .spot = "tight group",
                .routine = "daily 07:00",
                .more_names = ",ends",
                .more = ",2022-05-31"};
  Planting pot = planting(row);
  pot.crop.kcb_mid = pot.crop.kcb_end = 1.0;
  pot.crop.canopy_diameter_m = {0.22, 0.18, 0.26};
  pot.crop.crown_height_m = {0.45, 0.35, 0.55};
  pot.crop.leaf_area_m2 = {0.08, 0.05, 0.11};
  pot.crop.days_to_full = {75.0, 60.0, 90.0};
  pot.crop.preferred_l = {1.3, 1.0, 2.0};
  pot.crop.plants_per_pot = 1.0;
  pot.crop.harvest = Harvest::whole;
  const auto results = seasons(pot, rainless(temperate()));
  double evaporated = 0.0;
  double used = 0.0;
  for (const LedgerLine& line : results.front().ledger) {
    evaporated += line.evaporated_l;
    used += line.evaporated_l + line.transpired_l;
  }
  return {100.0 * evaporated / used,
          "evaporated share of a slender plant's 90 days, 14 cm pot, watered daily"};
}

Answer bark_tank_third_day() {
  // 360 L of bark, peat and sand with a top of 0.6 m2 (judged), 1 L of demand a day.
  const Mix mix = *catalogue().mix("bark 60 peat 25 sand 15");
  constexpr double top_m2 = 0.6;
  const IntervalLimits limits{.raw_l = 60.0,
                              .taw_l = 120.0,
                              .air_dry_l = 150.0,
                              .rew_l = mix.rew_mm * top_m2,
                              .tew_l = mix.tew_mm * top_m2,
                              .rooted_share = 1.0};
  const IntervalDemand demand{.top_l = 1.0};
  PotState state;
  double last = 0.0;
  for (int day = 0; day < 3; ++day) {
    const IntervalResult result = flow(demand, limits, {1e9, 1e9, 1e9, 1e9}, state, 1.0);
    state = result.state;
    last = result.top_evaporated_l;
  }
  return {last, "third day's loss of a bare bark tank that lost 1 L on the first"};
}

Answer mulched_tank(int which) {
  const Mix mix = *catalogue().mix("bark 60 peat 25 sand 15");
  constexpr double top_m2 = 0.6;
  const ModelParameters& model = catalogue().parameters;
  const IntervalLimits limits{.raw_l = 60.0,
                              .taw_l = 120.0,
                              .air_dry_l = 150.0,
                              .rew_l = mix.rew_mm * top_m2,
                              .tew_l = mix.tew_mm * top_m2,
                              .rooted_share = 1.0};
  const IntervalDemand demand{.top_l = model.mulch_factor, .mulch_l = 1.0};
  PotState state{.mulch_water_l = model.mulch_store_mm * top_m2};
  double last = 0.0;
  for (int day = 0; day < which; ++day) {
    const IntervalResult result = flow(demand, limits, {1e9, 1e9, 1e9, 1e9}, state, 1.0);
    state = result.state;
    last = result.top_evaporated_l + result.mulch_evaporated_l;
  }
  return {last, fmt::format("day {} of the same tank under mulch", which)};
}

Answer uptake_falls_at() {
  const Pot& pot = *catalogue().pots.find("nursery 2.6 l");
  const HeldWater held =
      held_water(pot, *catalogue().mix("bark mix"), catalogue().parameters.refill_share);
  constexpr double p = 0.5;
  return {(held.refilled_l - p * held.available_l()) / held.mix_l,
          "water content at half depletion, bark mix, 2.6 L"};
}

Answer uptake_stops_at() {
  return {catalogue().mix("bark mix")->lower_limit_m3_m3, "lower limit of the bark mix"};
}

Answer pepper_third_of_mix() {
  const double preferred = catalogue().crops.find("pepper")->preferred_l.value;
  const double exponent = catalogue().parameters.pot_limit_exponent;
  return {100.0 * (1.0 - pot_limit(preferred / 3.0, preferred, exponent)),
          "a third of the preferred mix, full size"};
}

Answer shrub_cycle() {
  const Row row{.crop = "rosemary",
                .pot = "nursery 11 l",
                .mix = "bark mix",
                .planted = "2022-01-01",
                .spot = "tight group",
                .routine = "daily 07:00",
                .more_names = ",ends",
                .more = ",2022-12-31"};
  Planting pot = planting(row);
  pot.crop = shrub();
  pot.crop.root_ball_l = 0.05;  // a rooted cutting
  return {seasons(pot, hot_humid()).front().summary.used_l,
          "shrub from cutting to full size, 11 L, one hot-humid year in a tight group"};
}

double pot_area_coefficient(double canopy_over_pot) {
  const FullSizeDay day = summer_day(shrub(), 1.0);
  // A pot whose top is the plan area over the ratio asked, standing in a nursery's group.
  const double pot_m2 = day.canopy.plan_area_m2 / canopy_over_pot;
  const double lai = day.canopy.leaf_area_m2 / std::max(day.canopy.plan_area_m2, pot_m2);
  const ModelParameters& model = catalogue().parameters;
  const double under =
      std::max(model.under_canopy_floor, std::exp(-model.canopy_light_extinction * lai));
  const double surface_l = model.top_evaporation_coefficient * day.et0_mm * under * pot_m2;
  return (day.potential_l + surface_l) / (pot_m2 * day.et0_mm);
}
Answer pot_k_small() {
  return {pot_area_coefficient(0.5), "shrub, canopy half the pot's top, in a group"};
}
Answer pot_k_large() {
  return {pot_area_coefficient(4.0), "shrub, canopy four times the pot's top, in a group"};
}

Answer mean_night_share() {
  double sum = 0.0;
  int days = 0;
  const Place prepared(temperate(), catalogue().parameters);
  for (const SpotDay& day : prepared.at(*catalogue().spots.find("patio"))) {
    sum += night_share(catalogue().parameters, day.et0.air_mm);
    ++days;
  }
  return {100.0 * sum / days, "mean of four temperate years"};
}

Answer under_market_size() {
  // The measured pots stood spaced in a nursery's bed and were kept moist under full-grown crowns.
  const Row row{.crop = "rosemary",
                .pot = "nursery 11 l",
                .mix = "bark mix",
                .planted = "2021-01-01",
                .spot = "patio",
                .routine = "daily 07:00",
                .more_names = ",ends",
                .more = ",2022-12-31"};
  Planting pot = planting(row);
  pot.crop = shrub();
  const double ml_per_l = 1000.0;
  return {ml_per_l * mean_over(
                         seasons(pot, rainless(hot_humid())),
                         [](const LedgerLine& line) { return year_of(line.date) == 2022; },
                         [](const LedgerLine& line) { return line.evaporated_l; }),
          "evaporated under a full-grown shrub, 11 L in a loose group, hot-humid year"};
}

Answer greenhouse_litres(const std::string& crop) {
  // A bright greenhouse day: still air, 4.5 mm of ET0 nearly all of it radiation.
  const FullSizeDay day = full_size_day(*catalogue().crops.find(crop), 1.0, 4.0, 0.5);
  return {day.potential_l, "full size, 4.5 mm of ET0 in still air"};
}

/// Plant, top and wall of an 18 L, 36 cm pot with a nursery shrub, litres per mm of ET0.
Answer fabric_over_plastic(double share) {
  const Pot& pot = *catalogue().pots.find("nursery 18 l");
  const PotShape mix = pot.mix_shape();
  // Plant and top together 1.45 of ET0 over the pot's top: a nursery shrub over its cycle (judged).
  const double plastic = 1.45 * mix.top_area_m2();
  return {(plastic + share * mix.wall_area_m2()) / plastic,
          fmt::format("wall share {:.2f}, plant and top 1.45 x ET0 x top", share)};
}

Answer fabric_fitted() {
  return fabric_over_plastic(0.51);
}
Answer fabric_shipped() {
  return fabric_over_plastic(catalogue().walls.find("fabric")->evaporation_share.value);
}

/// Share of stored water a bare 3.5 L pot loses on a day of 7 mm, percent.
double bare_day_loss(const char* pot_name, double wall_share) {
  const Pot& pot = *catalogue().pots.find(pot_name);
  const Mix mix = *catalogue().mix("potting mix");
  const HeldWater held = held_water(pot, mix, catalogue().parameters.refill_share);
  const PotShape shape = pot.mix_shape();
  const double loss =
      7.0 * (catalogue().parameters.top_evaporation_coefficient * shape.top_area_m2() +
             wall_share * shape.wall_area_m2());
  return 100.0 * loss / held.refilled_l;
}
Answer bare_plastic() {
  return {bare_day_loss("fabric 3.5 l", 0.0), "bare, 3.5 L, plastic, 7 mm"};
}
Answer bare_fabric() {
  return {bare_day_loss("fabric 3.5 l", catalogue().walls.find("fabric")->evaporation_share.value),
          "bare, 3.5 L, fabric, 7 mm"};
}

Answer bare_pair() {
  return {bare_fabric().value / bare_plastic().value,
          "loss of bare fabric over bare plastic, 3.5 L"};
}

Answer bare_26_days() {
  const auto left = [](const char* wall) {
    Planting bare = planting({.crop = "thyme", .pot = "nursery 14 l", .planted = "2022-06-01"});
    bare.pot.wall = *catalogue().walls.find(wall);
    const PotParameters pot = build_pot(bare, catalogue().parameters);
    const IntervalLimits limits = interval_limits(pot, 0.5, 1.0);
    PotState state;
    for (int day = 0; day < 26; ++day) {
      const IntervalDemand demand{.wall_l = pot.wall_evaporation_l_mm * 5.0,
                                  .top_l = 1.1 * 5.0 * pot.top_area_m2};
      state = flow(demand, limits, line_depletions(pot, limits), state, 1.0).state;
    }
    return pot.refilled_l - state.rooted_depletion_l;
  };
  return {left("plastic") / left("fabric"),
          "water left in plastic over fabric after 26 bare days of 5 mm, 14 L"};
}

}  // namespace

const std::map<std::string, std::function<Answer()>>& scenarios() {
  static const std::map<std::string, std::function<Answer()>> all{
      {"water holding half", water_holding_half},
      {"compact fruiting daily", compact_fruiting_daily},
      {"compact fruiting every third day", compact_fruiting_every_third_day},
      {"two peppers", two_peppers},
      {"spring small", [] { return spring("leaf lettuce", "nursery 2.6 l"); }},
      {"spring medium", [] { return spring("kale", "nursery 10 l"); }},
      {"spring large", [] { return spring("kale", "nursery 37 l"); }},
      {"early summer", early_summer},
      {"hottest weeks", hottest_weeks},
      {"big tub above 32", big_tub_above_32},
      {"kale summer", kale_summer},
      {"kale autumn", kale_autumn},
      {"cucumbers stressed", cucumbers_stressed},
      {"cells in full sun", cells_in_full_sun},
      {"cells shaded from noon", cells_shaded_from_noon},
      {"cool crops by day", cool_crops_by_day},
      {"warm crops mean", warm_crops_mean},
      {"finger test", finger_test},
      {"hot dry daily", hot_dry_daily},
      {"large and bearing", large_and_bearing},
      {"sun on concrete", sun_on_concrete},
      {"july august", july_august},
      {"twice when hot and windy", twice_when_hot_and_windy},
      {"absence helped by shade", absence_helped_by_shade},
      {"isolated per plant", isolated_per_plant},
      {"isolated per area", isolated_per_area},
      {"second plant", second_plant},
      {"surface share", surface_share},
      {"bark tank third day", bark_tank_third_day},
      {"uptake falls", uptake_falls_at},
      {"uptake stops", uptake_stops_at},
      {"pepper third of mix", pepper_third_of_mix},
      {"shrub cycle", shrub_cycle},
      {"pot k small", pot_k_small},
      {"pot k large", pot_k_large},
      {"night share", mean_night_share},
      {"under market size", under_market_size},
      {"greenhouse tomato", [] { return greenhouse_litres("tomato"); }},
      {"greenhouse cucumber", [] { return greenhouse_litres("cucumber"); }},
      {"greenhouse pepper", [] { return greenhouse_litres("pepper"); }},
      {"greenhouse strawberry", [] { return greenhouse_litres("strawberry"); }},
      {"greenhouse lettuce", [] { return greenhouse_litres("leaf lettuce"); }},
      {"fabric fitted", fabric_fitted},
      {"fabric shipped", fabric_shipped},
      {"bare plastic", bare_plastic},
      {"bare fabric", bare_fabric},
      {"bare pair", bare_pair},
      {"bare 26 days", bare_26_days},
      {"mulched tank day 1", [] { return mulched_tank(1); }},
      {"mulched tank day 3", [] { return mulched_tank(3); }},
  };
  return all;
}

}  // namespace wiltline::test
