// Every tomato season in every known pot. Arguments: garden file (not used), weather file.
#include <cstdio>

#include "wiltline/wiltline.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue = read_catalogue(builtin_tables());
  SweepAxes axes{.crops = {*catalogue.crops.find("tomato")},
                 .spots = {*catalogue.spots.find("patio")},
                 .pots = {},
                 .mixes = {*catalogue.mix("potting mix")},
                 .plants = {1},
                 .planted = {},
                 .routine = *parse_routine("daily 07:00")};
  for (const Entry<Pot>& pot : catalogue.pots.entries()) axes.pots.push_back(pot.value);
  const SweepPlan plan(axes, 1, catalogue.parameters);
  const Place place(read_weather(read_file(argv[2])), catalogue.parameters);
  for (std::size_t b = 0; b < plan.blocks(); ++b) {
    const SweepSeasons run = run_block(plan, plan.block(b), place, catalogue);
    for (const auto& season : run.seasons()) {
      std::printf("%s %s: %.2f L\n", season.planting->pot.name.c_str(),
                  to_string(season.first).c_str(), season.summary.watered_l);
    }
  }
}
