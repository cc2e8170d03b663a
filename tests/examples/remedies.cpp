// What would have kept each pot from wilting? Arguments: garden file, weather file.
#include <cstdio>

#include "wiltline/wiltline.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const auto garden = read_garden(read_file(argv[1]), catalogue);
  const Place place(read_weather(read_file(argv[2])), catalogue.parameters);
  for (const PlantingRemedies& pot : remedies(garden, place, catalogue)) {
    for (const Remedy& remedy : pot.remedies) {
      std::printf("%s, %s: %d wilting days, not %d\n", pot.planting->name.c_str(),
                  remedy.change.text.c_str(), remedy.after.wilting, remedy.before.wilting);
    }
  }
}
