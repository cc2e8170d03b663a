// Which of my pots go dry? Arguments: garden file, weather file.
#include <cstdio>

#include "wiltline/wiltline.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const auto garden = read_garden(read_file(argv[1]), catalogue);
  const Place place(read_weather(read_file(argv[2])), catalogue.parameters);
  for (const SeasonResult& pot : season(garden, place)) {
    std::printf("%s %s: %.2f L, %d dry days\n", pot.planting->name.c_str(),
                to_string(pot.first).c_str(), pot.summary.watered_l, pot.summary.dry_days);
  }
}
