// Which pots at which visit, and how much, in two weeks from 15 July 2022? Arguments: garden file,
// weather file.
#include <cstdio>

#include "wiltline/wiltline.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const auto garden = read_garden(read_file(argv[1]), catalogue);
  const WeatherRecord all = read_weather(read_file(argv[2]));
  const Place place(all.between(all.first(), make_date(2022, 7, 14)), catalogue.parameters);
  for (const auto& one : plan(garden, place, catalogue, at_end_of(place.record())).waterings) {
    std::printf("%s %s: %.2f L\n", to_string(one.visit).c_str(), one.planting->name.c_str(),
                one.give_l.p50);
  }
}
