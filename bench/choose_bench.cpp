// A pot chart: 20 crops, 3 planting days, 4 routines, 12 pots, 20 summers on one core.
#include <benchmark/benchmark.h>

#include "inputs.hpp"
#include "wiltline/questions/candidates.hpp"
#include "wiltline/questions/choose.hpp"

namespace wiltline {
namespace {

/// Twenty years made of the sample's four, one after the other.
WeatherRecord twenty_years() {
  const Date first = make_date(2001, 1, 1);
  std::vector<WeatherDay> days;
  for (Date date = first; date <= make_date(2020, 12, 31); date += std::chrono::days(1)) {
    const int year = 2021 + (year_of(date) - 1) % 4;  // leap years fall on leap years
    days.push_back(tolvenau().day(tolvenau().index_of(*month_day_of(date).in_year(year))));
  }
  return {"twenty years", tolvenau().site(), first, std::move(days), true};
}

void chart(benchmark::State& state) {
  constexpr std::size_t crops = 20;
  std::vector<Pot> pots;
  for (const char* litres :
       {"3.5", "7.5", "9.5", "16", "23", "30", "36", "40", "54", "74", "110"}) {
    pots.push_back(*catalogue().pots.find(std::string("fabric ") + litres + " l"));
  }
  pots.push_back(*catalogue().pots.find("fabric tall 18 l"));
  std::string rows = "name,crop,pot,mix,plants,planted,spot,routine\n";
  for (std::size_t i = 0; i < crops; ++i) {
    const Crop& crop = catalogue().crops.entries()[i].value;
    for (const std::string day : {"04-15", "05-15", "08-01"}) {
      for (const std::string routine :
           {"mon thu 07:00", "every 2 days 07:00", "daily 07:00", "daily 07:00 19:00"}) {
        rows += crop.name + day + routine + ',' + crop.name + ",fabric 30 l,potting mix," +
                std::to_string(usual_plants(crop)) + ',' + day + ",patio," + routine + '\n';
      }
    }
  }
  const std::vector<Planting> asked = read_garden({"bench.csv", rows}, catalogue());
  std::vector<Planting> candidates;
  for (const Planting& planting : asked) {
    for (Planting& one : in_pots(planting, pots, catalogue().parameters)) {
      candidates.push_back(std::move(one));
    }
  }
  const Place place(twenty_years(), catalogue().parameters);
  for (auto _ : state) benchmark::DoNotOptimize(choose(candidates, place));
  state.counters["cells"] = static_cast<double>(asked.size());
  state.counters["seasons"] = static_cast<double>(20 * candidates.size());
}
BENCHMARK(chart)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace wiltline
