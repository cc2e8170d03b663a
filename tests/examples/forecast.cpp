// When each planting wants water, the day after a record ends. Arguments: garden file, weather
// file.
#include "wiltline/questions/forecast.hpp"

#include <cstdio>

#include "wiltline/garden/reading.hpp"
#include "wiltline/weather/reading.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const auto garden = read_garden(read_file(argv[1]), catalogue);
  const WeatherRecord all = read_weather(read_file(argv[2]), {});
  const WeatherRecord record = all.between(all.first(), make_date(2022, 7, 14));
  const Place place(record, catalogue.parameters);
  std::vector<ForecastPlanting> plantings;
  for (const Planting& planting : garden) plantings.push_back({&planting, {}, {}, {}});
  const Instant now{record.last() + std::chrono::days(1), 0.0};
  const ForecastOptions options{now, record.last(), record.last()};
  for (const auto& pot : forecast(plantings, place, catalogue, options).pots) {
    std::printf("%s: %.2f L now\n", pot.planting->name.c_str(), pot.give_now_l);
  }
}
