// Pruning and days away that fall outside every season.
#include "wiltline/questions/without_effect.hpp"

#include <doctest/doctest.h>

#include "support/fixtures.hpp"

namespace wiltline::test {

TEST_CASE("without effect: what falls on no day of growth, and nothing else") {
  std::vector<Planting> garden = plantings(
      "a,tomato,nursery 37 l,potting mix,1,2022-05-15,patio,daily 07:00 away 07-08/07-15 away "
      "01-02/01-20\n"
      "b,basil,clay 3 l,potting mix,3,05-25,patio,daily 07:00\n"
      "c,basil,clay 3 l,potting mix,3,1999-05-25,patio,daily 07:00 away 01-02/01-20\n");
  garden[1].pruned = {PlantingDay{MonthDay{7, 1}}, PlantingDay{make_date(2019, 7, 1)}};
  const Place place(sample("tolvenau.csv"), catalogue().parameters, {});
  const auto found = without_effect(garden, place, GrowthClock::stage_days);
  REQUIRE(found.size() == 2);  // no record holds the third
  CHECK(found[0].planting == &garden[0]);
  CHECK(found[0].pruned.empty());
  REQUIRE(found[0].days_away.size() == 1);
  CHECK(to_string(found[0].days_away[0]) == "01-02/01-20");
  CHECK(found[1].planting == &garden[1]);
  REQUIRE(found[1].pruned.size() == 1);
  CHECK(found[1].pruned[0] == PlantingDay{make_date(2019, 7, 1)});
}

}  // namespace wiltline::test
