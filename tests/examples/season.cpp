// Every season of every planting of a garden. Arguments: garden file, weather file.
#include <cstdio>

#include "wiltline/garden/reading.hpp"
#include "wiltline/questions/season.hpp"
#include "wiltline/weather/reading.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const auto garden = read_garden(read_file(argv[1]), catalogue);
  const WeatherRecord record = read_weather(read_file(argv[2]), {});
  const Place place(record, catalogue.parameters);
  for (const Planting& planting : garden) {
    for (const Date day : planting_dates(planting, record)) {
      const SeasonResult season = run_season(planting, day, place, {});
      std::printf("%s %s: %.2f L\n", planting.name.c_str(), to_string(day).c_str(),
                  season.summary.watered_l);
    }
  }
}
