// What do my pots hold? Arguments: garden file.
#include <cstdio>

#include "wiltline/wiltline.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const auto garden = read_garden(read_file(argv[1]), catalogue);
  for (const CapacityResult& pot : capacity(garden, catalogue)) {
    std::printf("%s of %s: %.2f L for plants\n", pot.pot.c_str(), pot.mix.c_str(),
                pot.water.available_l());
  }
}
