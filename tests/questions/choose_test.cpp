#include "wiltline/questions/choose.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "support/fixtures.hpp"
#include "support/refusal.hpp"
#include "wiltline/questions/candidates.hpp"

namespace wiltline::test {
namespace {

const ModelParameters& model() {
  return catalogue().parameters;
}

std::vector<Pot> of_kind(const std::string& kind) {
  std::vector<Pot> pots;
  for (const auto& entry : catalogue().pots.entries()) {
    if (entry.value.kind == kind) pots.push_back(entry.value);
  }
  return pots;
}

/// The plantings in each of these pots, a cell each.
std::vector<Planting> in_each(const std::vector<Planting>& asked, const std::vector<Pot>& pots) {
  std::vector<Planting> candidates;
  for (const Planting& planting : asked) {
    for (Planting& one : in_pots(planting, pots, model())) candidates.push_back(std::move(one));
  }
  return candidates;
}

/// One crop in spring, early summer and late summer under routines from rare to frequent.
std::vector<Planting> chart_of(const std::string& crop) {
  std::string rows;
  for (const std::string day : {"04-15", "06-01", "08-10"}) {
    for (const std::string routine :
         {"mon thu 07:00", "every 2 days 07:00", "daily 07:00", "daily 07:00 19:00"}) {
      rows += day + ' ' + routine + ',' + crop + ",nursery 1 l,potting mix,1," + day + ",patio," +
              routine + '\n';
    }
  }
  return plantings(rows);
}

bool same(const ComparedChoice& one, const ComparedChoice& other) {
  return one.planting->name == other.planting->name &&
         one.planting->pot.name == other.planting->pot.name && one.summers == other.summers &&
         one.summers_above_wilting == other.summers_above_wilting &&
         one.longest_safe_gap_days == other.longest_safe_gap_days &&
         one.peak_use_l_day == other.peak_use_l_day && one.watered_l == other.watered_l &&
         one.settled == other.settled && one.wilting_days_settling == other.wilting_days_settling &&
         one.wilting_days_rooted == other.wilting_days_rooted &&
         one.first_wilting == other.first_wilting && one.worst.summary == other.worst.summary;
}

}  // namespace

TEST_CASE("choose: every cell of a crop is what compare says of all its pots") {
  const Place place(sample("tolvenau.csv"), model());
  const std::vector<Planting> asked = chart_of("tomato");
  const std::vector<Pot> pots = of_kind("nursery");
  const std::vector<Planting> candidates = in_each(asked, pots);
  const std::vector<ChosenPot> cells = choose(candidates, place);
  REQUIRE(cells.size() == asked.size());
  int enough = 0;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    INFO(asked[i].name);
    const std::vector<Planting> one = in_each({asked[i]}, pots);
    const std::vector<ComparedChoice> compared = compare(one, place);
    CHECK(cells[i].tried == static_cast<int>(one.size()));
    CHECK(cells[i].enough == compared.front().enough());
    // Where none is enough, compare's first is the nearest.
    const ComparedChoice* expected = &compared.front();
    for (const ComparedChoice& choice : compared) {
      if (!choice.enough()) continue;
      if (choice.worst.summary.mix_l < expected->worst.summary.mix_l) expected = &choice;
    }
    CHECK(same(cells[i].choice, *expected));
    enough += cells[i].enough ? 1 : 0;
  }
  CHECK(enough > 0);
  CHECK(enough < static_cast<int>(cells.size()));  // both kinds of cell were tried
}

TEST_CASE("choose: a smaller share of summers takes a smaller pot, by compare's own count") {
  const Place place(sample("tolvenau.csv"), model());
  const std::vector<Planting> asked = chart_of("pepper");
  const std::vector<Pot> pots = of_kind("fabric");
  const std::vector<Planting> candidates = in_each(asked, pots);
  const std::vector<ChosenPot> all = choose(candidates, place, 1.0);
  const std::vector<ChosenPot> half = choose(candidates, place, 0.5);
  int smaller = 0;
  for (std::size_t i = 0; i < half.size(); ++i) {
    INFO(asked[i].name);
    const std::vector<Planting> one = in_each({asked[i]}, pots);
    const ComparedChoice* expected = nullptr;
    const auto compared = compare(one, place);
    for (const ComparedChoice& choice : compared) {
      if (2 * choice.summers_above_wilting < choice.summers) continue;
      if (expected == nullptr || choice.worst.summary.mix_l < expected->worst.summary.mix_l) {
        expected = &choice;
      }
    }
    CHECK(half[i].enough == (expected != nullptr));
    if (expected == nullptr) continue;
    CHECK(same(half[i].choice, *expected));
    CHECK(half[i].share() >= 0.5);
    const bool less =
        !all[i].enough || half[i].choice.worst.summary.mix_l < all[i].choice.worst.summary.mix_l;
    smaller += less ? 1 : 0;
  }
  CHECK(smaller > 0);
}

TEST_CASE("choose: what the record does not hold is left out, and a share is above 0, up to 1") {
  const Place place(sample("tolvenau.csv"), model());
  const auto garden = plantings(
      "before,basil,clay 3 l,potting mix,3,2019-05-25,patio,daily 07:00\n"
      "within,basil,clay 3 l,potting mix,3,2022-05-25,patio,daily 07:00\n");
  const auto cells = choose(garden, place);
  REQUIRE(cells.size() == 1);
  CHECK(cells[0].choice.planting == &garden[1]);
  CHECK(refusal([&] { (void)choose(garden, place, 1.01); }) ==
        "request: found a share of 1.01; expected more than 0, up to 1");
  CHECK(refusal([&] { (void)choose(garden, place, 0.0); }) ==
        "request: found a share of 0; expected more than 0, up to 1");
}

TEST_CASE("choose: a pot that no summer holds leaves its cell, and pots of a name are gathered") {
  const Place place(sample("tolvenau.csv"), model());
  auto garden = plantings(
      "a,basil,clay 3 l,potting mix,3,2022-05-25,patio,daily 07:00\n"
      "b,basil,clay 3 l,potting mix,3,2019-05-25,patio,daily 07:00\n"
      "c,kale,nursery 18 l,potting mix,1,2022-05-25,patio,daily 07:00\n"
      "d,basil,clay 4 l,potting mix,3,2022-05-25,patio,daily 07:00\n");
  garden[1].name = garden[3].name = garden[0].name;
  const auto cells = choose(garden, place);
  REQUIRE(cells.size() == 2);
  CHECK(cells[0].tried == 2);
  CHECK(cells[0].choice.planting->name == "a");
  CHECK(cells[1].choice.planting == &garden[2]);
  const std::vector<Planting> together{garden[0], garden[3]};
  const auto expected = choose(together, place);
  REQUIRE(expected.size() == 1);
  CHECK(same(cells[0].choice, expected[0].choice));
  std::swap(garden[0], garden[1]);  // the one without a summer comes first
  CHECK(choose(garden, place).size() == 2);
}

}  // namespace wiltline::test
