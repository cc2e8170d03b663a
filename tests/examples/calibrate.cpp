// How much do my own pots use, against the tables? Arguments: garden file, weather file, file of
// weighings.
#include <cstdio>

#include "wiltline/wiltline.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const auto garden = read_garden(read_file(argv[1]), catalogue);
  const Place place(read_weather(read_file(argv[2])), catalogue.parameters);
  const auto weighed =
      read_weighings(read_file(argv[3]), {garden, &place.model(), &place.record()});
  for (const PotCalibration& pot : calibrate(weighed, place, catalogue, {}).pots) {
    std::printf("%s: %.2f times, from %zu readings\n", pot.planting->name.c_str(),
                pot.learned.use_factor, pot.readings);
  }
}
