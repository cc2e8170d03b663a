// Which input makes a season's litres unsure, and so is worth measuring. Arguments: garden file,
// weather file.
#include <cstdio>

#include "wiltline/wiltline.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const std::vector<Planting> garden = read_garden(read_file(argv[1]), catalogue);
  const Place place(read_weather(read_file(argv[2])), catalogue.parameters);
  for (const PlantingMatters& pot :
       season_what_matters(garden, place, catalogue, {}, {.draws = 64}).plantings) {
    for (const AnswerMatters& answer : pot.answers) {
      if (answer.answer != "watered_l" || answer.inputs.empty()) continue;
      const InputMatters& most = answer.inputs.front();
      std::printf("%s, %.2f L: %s, %.0f %% of the variance\n", pot.planting->name.c_str(),
                  answer.mean, most.input.c_str(), 100.0 * most.total.value);
    }
  }
}
