// What does each pot want on 15 July 2022, and when does it go dry? Arguments: garden file, weather
// file.
#include <cstdio>

#include "wiltline/wiltline.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const auto garden = read_garden(read_file(argv[1]), catalogue);
  const WeatherRecord all = read_weather(read_file(argv[2]));
  const Place place(all.between(all.first(), make_date(2022, 7, 14)), catalogue.parameters);
  for (const auto& pot : forecast(garden, place, catalogue, at_end_of(place.record())).pots) {
    std::printf("%s: %.2f L now\n", pot.planting->name.c_str(), pot.give_now_l);
  }
}
