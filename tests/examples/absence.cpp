// Two days away from each planting of a garden. Arguments: garden file, weather file.
#include "wiltline/questions/absence.hpp"

#include <cstdio>

#include "wiltline/garden/reading.hpp"
#include "wiltline/weather/reading.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const auto garden = read_garden(read_file(argv[1]), catalogue);
  const WeatherRecord record = read_weather(read_file(argv[2]), {});
  const Place place(record, catalogue.parameters);
  for (const Planting& planting : garden) {
    const auto answer = absence(planting, place, {});
    std::printf("%s: %d of %d windows\n", planting.name.c_str(), answer.pots.front().passed,
                answer.pots.front().windows);
  }
}
