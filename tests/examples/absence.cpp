// Which pots come through two days away? Arguments: garden file, weather file.
#include <cstdio>

#include "wiltline/wiltline.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const auto garden = read_garden(read_file(argv[1]), catalogue);
  const Place place(read_weather(read_file(argv[2])), catalogue.parameters);
  for (const AbsencePot& pot : absence(garden, place, {.away_h = 48.0}).pots) {
    std::printf("%s: %d of %d windows\n", pot.planting->name.c_str(), pot.passed, pot.windows);
  }
}
