// Random gardens with every feature a row can have, for property tests.
#pragma once

#include <iterator>
#include <string>
#include <vector>

#include "support/random.hpp"
#include "wiltline/garden/reading.hpp"

namespace wiltline::test {

/// `planted_year`: "2022-" for one date, "" for every year.
inline std::vector<Planting> random_garden(Random& random, const Catalogue& catalogue, int rows,
                                           const std::string& planted_year) {
  static const char* const routines[] = {
      "as-needed",
      "daily 07:00",
      "daily 07:00 19:00",
      "every 3 days 07:00",
      "mon thu 18:30 give 2 l",
      "every 7 days 07:00 soak",
      "check daily 07:00",
      "check top daily 19:00 away 07-01/07-10",
      "daily 07:00 helper 07-01/07-20 every 2 days 18:00 give 2 l"};
  const auto pick = [&](const auto& table) {
    return table.names()[random.below(table.names().size())];
  };
  const auto chance = [&](double probability, const std::string& text) {
    return random.chance(probability) ? text : std::string();
  };
  std::string text =
      "name,crop,pot,mix,plants,planted,spot,routine,mulch,saucer_l,hardened,pruned,harvest,wall,"
      "threshold_fraction,ends,sun_until_h\n";
  for (int i = 0; i < rows; ++i) {
    const unsigned month = 3 + static_cast<unsigned>(random.below(5));
    const std::string first = pick(catalogue.crops);
    const auto several = static_cast<int>(1 + random.below(4));
    std::string crop = first;
    std::string plants = std::to_string(several);
    double root_balls_l = several * catalogue.crops.find(first)->root_ball_l;
    const auto add = [&](int more) {
      const std::string other = pick(catalogue.crops);
      crop += " + " + other + " " + std::to_string(more);
      root_balls_l += more * catalogue.crops.find(other)->root_ball_l;
    };
    if (random.chance(0.2)) {  // a mixed pot
      crop += " " + plants;
      add(2);
      if (random.chance(0.3)) add(1);
      plants = "";
    }
    const std::string pot = pick(catalogue.pots);
    const std::string saucer_l = catalogue.pots.find(pot)->mix_l() < 1.0 ? "0.01" : "0.5";
    if (root_balls_l > catalogue.pots.find(pot)->mix_l()) {  // room for one alone
      crop = first;
      plants = "1";
    }
    text += std::to_string(i) + "," + crop + "," + pot + "," + pick(catalogue.mixes) + "," +
            plants + "," + planted_year + "0" + std::to_string(month) + "-15," +
            pick(catalogue.spots) + "," + routines[random.below(std::size(routines))] + "," +
            chance(0.3, "yes") + "," + chance(0.3, saucer_l) + "," + chance(0.2, "yes") + "," +
            chance(0.3, "06-20 07-20") + "," + chance(0.2, "leaf") + "," + chance(0.2, "fabric") +
            "," + chance(0.2, "0.3") + "," + chance(0.3, planted_year + "12-15") + "," +
            chance(0.2, "13") + "\n";
  }
  return read_garden({"random.csv", text}, catalogue);
}

}  // namespace wiltline::test
