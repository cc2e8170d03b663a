// The smallest nursery pot that was enough for each row of a garden, under its own routine.
// Arguments: garden file, weather file.
#include <cstdio>

#include "wiltline/wiltline.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const Place place(read_weather(read_file(argv[2]), {}), catalogue.parameters);
  std::vector<Pot> pots;
  for (const auto& entry : catalogue.pots.entries()) {
    if (entry.value.kind == "nursery") pots.push_back(entry.value);
  }
  std::vector<Planting> candidates;
  for (const Planting& row : read_garden(read_file(argv[1]), catalogue)) {
    for (Planting& one : in_pots(row, pots, catalogue.parameters)) candidates.push_back(one);
  }
  for (const ChosenPot& cell : choose(candidates, place)) {
    std::printf("%s: %s%s\n", cell.choice.planting->name.c_str(),
                cell.enough ? "" : "none is enough, nearest ",
                cell.choice.planting->pot.name.c_str());
  }
}
