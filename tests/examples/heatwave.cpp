// A garden in the hottest five days of a record. Arguments: garden file, weather file.
#include "wiltline/questions/heatwave.hpp"

#include <cstdio>

#include "wiltline/garden/reading.hpp"
#include "wiltline/weather/reading.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const auto garden = read_garden(read_file(argv[1]), catalogue);
  const WeatherRecord record = read_weather(read_file(argv[2]), {});
  const Place place(record, catalogue.parameters);
  const HotSpell spell = hottest_spell(place, 5, Heat::tmax).value();
  for (const auto& pot : heatwave(garden, place, spell, {}).pots) {
    std::printf("%s from %s: %.2f waterings a day\n", pot.planting->name.c_str(),
                to_string(spell.first).c_str(), pot.waterings_per_day);
  }
}
