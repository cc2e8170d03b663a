// A bigger pot of the same crop, mix and visits is not the worse one.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "support/fixtures.hpp"
#include "support/random.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline::test {

TEST_CASE("a bigger pot wilts at most a day more in a season, over 2,000 random pairs") {
  // The same pot scaled up, made wider, or a bigger one of its kind, planted, watered and placed
  // alike. A bigger pot grows a bigger plant, as the answers say; where it holds less usable water
  // for each litre its plant draws at its peak (a taller mix of little held water), it may be the
  // worse one; so may one that a gardener who checks waters less often. In its first weeks, counted
  // apart, a pot may be the worse one where each litre of mix, and so the root ball, holds less
  // usable water, as in a deeper pot; or where it does not limit the plant as the smaller one does,
  // which the model lets it do from the day of planting on.
  static const char* const routines[] = {"daily 07:00",        "daily 18:30",
                                         "every 2 days 07:00", "every 3 days 07:00",
                                         "mon thu 18:30",      "check daily 07:00"};
  const std::string samples[] = {"tolvenau.csv", "port-okaree.csv", "zarquil-flats.csv",
                                 "skerrowick.csv"};
  const Catalogue& known = catalogue();
  Random random(71);
  int pairs = 0;
  int as_deep = 0;  // as the smaller pot, so that a litre of mix holds as much in both
  int wilted = 0;
  int explained = 0;
  int explained_with_first_weeks = 0;
  for (const std::string& name : samples) {
    CAPTURE(name);
    const Place place(sample(name), known.parameters);
    std::vector<Planting> plantings;
    while (plantings.size() < 1000) {
      const auto pick = [&](const auto& table) {
        return table.names()[random.below(table.names().size())];
      };
      const std::string planted = "2022-0" + std::to_string(4 + random.below(3)) + "-15";
      const Planting small =
          one_row(pick(known.crops), pick(known.pots) + "," + pick(known.mixes) + ",1," + planted +
                                         "," + pick(known.spots) + "," + routines[random.below(6)]);
      Planting big = small;
      const double times = random.uniform(1.1, 4.0);
      const double way = random.uniform();
      if (way < 0.4) {
        big.pot = small.pot.scaled_to(small.pot.mix_l() * times);
      } else if (way < 0.8 && small.pot.shape.is_round()) {
        const PotShape& shape = small.pot.shape;
        const double wider = std::sqrt(times);
        big.pot.shape = PotShape::round(wider * shape.top_length_cm(),
                                        wider * shape.bottom_length_cm(), shape.height_cm());
      } else {
        big.pot = *known.pots.find(pick(known.pots));
      }
      const bool alike = big.pot.mix_l() > 1.05 * small.pot.mix_l() &&
                         big.pot.wall.name == small.pot.wall.name && big.pot.drains &&
                         small.pot.drains && small.pot.mix_depth_cm() >= 10.0 &&
                         small.pot.reservoir_l == 0.0 && big.pot.reservoir_l == 0.0;
      if (!alike) continue;
      plantings.push_back(small);
      plantings.push_back(big);
    }
    std::vector<SeasonStart> starts;
    for (const Planting& one : plantings) starts.push_back({&one, std::get<Date>(one.planted)});
    const std::vector<SeasonResult> results = run_seasons(starts, place);
    for (std::size_t i = 0; i < results.size(); i += 2) {
      const SeasonSummary& small = results[i].summary;
      const SeasonSummary& big = results[i + 1].summary;
      ++pairs;
      wilted += small.wilting_days > 0 ? 1 : 0;
      const auto days_held = [](const SeasonSummary& s) {
        return s.available_l / s.peak_use_l_day;
      };
      const bool checked = plantings[i].routine.rule == VisitRule::check;
      const bool has_reason =
          days_held(big) < days_held(small) || (checked && big.waterings < small.waterings);
      const int more_days = big.wilting_days - small.wilting_days;
      if (more_days > 1 && has_reason) ++explained;
      const double held_a_litre = small.available_l / small.mix_l;
      const bool holds_less = big.available_l / big.mix_l < 0.99 * held_a_litre;
      const bool grows_bigger = big.size_factor > 1.05 * small.size_factor;
      const int more_with_first_weeks =
          more_days + big.settling_in.wilting_days - small.settling_in.wilting_days;
      if (!holds_less) ++as_deep;
      if (more_with_first_weeks > 1) ++explained_with_first_weeks;
      CAPTURE(plantings[i].crop.name);
      CAPTURE(plantings[i].mix.name);
      CAPTURE(plantings[i].routine.text);
      CAPTURE(plantings[i].spot.name);
      CAPTURE(plantings[i].pot.name);
      CAPTURE(plantings[i + 1].pot.name);
      CAPTURE(small.mix_l);
      CAPTURE(big.mix_l);
      CAPTURE(small.settling_in.wilting_days);
      CAPTURE(big.settling_in.wilting_days);
      CHECK((more_days <= 1 || has_reason));
      CHECK((more_with_first_weeks <= 1 || holds_less || grows_bigger || has_reason));
    }
  }
  CHECK(pairs == 2000);
  CHECK(as_deep > 500);
  CHECK(wilted > 500);
  CHECK(explained < 20);
  CHECK(explained_with_first_weeks < 40);  // over the whole season; else the reason would be none
  MESSAGE("worse by more than a day: ", explained, ", first weeks included ",
          explained_with_first_weeks, "; as deep: ", as_deep);
}

}  // namespace wiltline::test
