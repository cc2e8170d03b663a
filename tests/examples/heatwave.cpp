// How often does each pot want water in the hottest five days? Arguments: garden file, weather
// file.
#include <cstdio>

#include "wiltline/wiltline.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const auto garden = read_garden(read_file(argv[1]), catalogue);
  const Place place(read_weather(read_file(argv[2])), catalogue.parameters);
  const HeatwaveResult hot = heatwave(garden, place);
  for (const HeatwavePot& pot : hot.pots) {
    std::printf("%s from %s: %.2f waterings a day\n", pot.planting->name.c_str(),
                to_string(hot.spell.first).c_str(), pot.waterings_per_day);
  }
}
