// Each row of a garden over all summers, the best first. Arguments: garden file, weather file.
#include "wiltline/questions/compare.hpp"

#include <cstdio>

#include "wiltline/garden/reading.hpp"
#include "wiltline/weather/reading.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const auto garden = read_garden(read_file(argv[1]), catalogue);
  const WeatherRecord record = read_weather(read_file(argv[2]), {});
  const Place place(record, catalogue.parameters);
  for (const ComparedChoice& choice : compare(garden, place, {})) {
    std::printf("%s: %s, %d wilting days\n", choice.planting->name.c_str(),
                choice.enough() ? "enough" : "not enough", choice.worst.summary.wilting_days);
  }
}
