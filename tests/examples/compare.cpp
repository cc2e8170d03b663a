// Which rows of a garden are enough in every summer, the best first? Arguments: garden file,
// weather file.
#include <cstdio>

#include "wiltline/wiltline.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const auto garden = read_garden(read_file(argv[1]), catalogue);
  const Place place(read_weather(read_file(argv[2])), catalogue.parameters);
  for (const ComparedChoice& choice : compare(garden, place)) {
    std::printf("%s: %s, %d wilting days\n", choice.planting->name.c_str(),
                choice.enough() ? "enough" : "not enough", choice.worst.summary.wilting_days);
  }
}
