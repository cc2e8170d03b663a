// How much nearer an 8-in-10 band is with the draws we take than with as many random ones, on the
// answers of a garden.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "support/invented_pots.hpp"
#include "wiltline/base/parallel.hpp"
#include "wiltline/questions/draws.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline::test {
namespace {

/// Four pots over a summer of observed weather: litres of the season, days on which each is dry,
/// and days that it lasts once refilled in July.
class Garden {
 public:
  static constexpr std::size_t answers = 3;
  using Answers = std::vector<std::array<double, answers>>;  // of each pot

  [[nodiscard]] Answers drawn(std::uint64_t seed, std::uint64_t number) const {
    const DrawnGarden garden = draw_garden(pots_, place_.model(), catalogue(), seed, number);
    const Place place = place_.with_model(garden.model);
    std::vector<SeasonStart> starts;
    for (const Planting& pot : garden.plantings) {
      starts.push_back({&pot, planting_dates(pot, place.record()).front()});
    }
    const auto seasons = run_seasons(starts, place, {.threads = 1});
    Answers result;
    for (std::size_t i = 0; i < seasons.size(); ++i) {
      const std::vector<SpotDay>& days = place.at(garden.plantings[i].spot);
      const SpotWeather weather = [&days](std::size_t day) { return days[day]; };
      result.push_back({seasons[i].summary.watered_l,
                        static_cast<double>(seasons[i].summary.dry_days),
                        lasts_days(garden.plantings[i], place, july_, weather)});
    }
    return result;
  }

  /// The ends of the bands of many draws, by pot and answer: draw i is `draw(i)`.
  using Bands = std::vector<std::array<Spread, answers>>;
  template <typename Draw>
  [[nodiscard]] Bands bands(std::size_t draws, const Draw& draw) const {
    std::vector<Answers> all(draws);
    run_tasks(draws, 0, [&](std::size_t i) { all[i] = draw(i); });
    Bands result(pots_.size());
    for (std::size_t pot = 0; pot < pots_.size(); ++pot) {
      for (std::size_t k = 0; k < answers; ++k) {
        std::vector<double> values;
        for (const Answers& one : all) values.push_back(one[pot][k]);
        result[pot][k] = spread_of(std::move(values));
      }
    }
    return result;
  }

 private:
  std::vector<Planting> pots_ = pots_to_learn();
  int year_ = 2014;
  Date july_ = *MonthDay{7, 10}.in_year(year_);
  Place place_{
      real("seattle.csv").between(*MonthDay{5, 1}.in_year(year_), *MonthDay{10, 31}.in_year(year_)),
      catalogue().parameters};
};

/// Root mean square error of the ends of bands, as shares of the bands' widths, by answer.
struct Errors {
  std::array<double, Garden::answers> squares{};
  double count = 0.0;

  void add(const Garden::Bands& found, const Garden::Bands& truth) {
    for (std::size_t pot = 0; pot < truth.size(); ++pot) {
      for (std::size_t k = 0; k < Garden::answers; ++k) {
        const Spread& is = truth[pot][k];
        const double width = is.p90 - is.p10;
        if (width <= 0.0) continue;
        squares[k] += std::pow((found[pot][k].p10 - is.p10) / width, 2) +
                      std::pow((found[pot][k].p90 - is.p90) / width, 2);
      }
    }
    count += 2.0 * static_cast<double>(truth.size());
  }
  [[nodiscard]] double of(std::size_t answer) const { return std::sqrt(squares[answer] / count); }
};

/// Errors with as many draws: of a Sobol sequence, each time shifted anew, and random ones.
std::string compared(const Garden& garden, std::size_t draws, std::uint64_t repeats,
                     const Garden::Bands& truth, std::array<double, Garden::answers>& ratio) {
  Errors even;
  Errors random;
  for (std::uint64_t repeat = 1; repeat <= repeats; ++repeat) {
    even.add(garden.bands(draws, [&](std::size_t i) { return garden.drawn(repeat, i + 1); }),
             truth);
    // A point of a sequence of its own, shifted by a random number, is a random point.
    constexpr std::uint64_t apart = 1'000'000;
    random.add(
        garden.bands(draws, [&](std::size_t i) { return garden.drawn(apart * repeat + i, 1); }),
        truth);
  }
  std::string text = std::to_string(draws) +
                     " draws: error of the ends of bands, as a share of their width, Sobol and "
                     "random, and the ratio:";
  const std::array<std::string, Garden::answers> names{"litres", "dry days", "days it lasts"};
  for (std::size_t k = 0; k < Garden::answers; ++k) {
    ratio[k] = even.of(k) / random.of(k);
    text += "\n  " + names[k] + ' ' + std::to_string(even.of(k)) + ' ' +
            std::to_string(random.of(k)) + ' ' + std::to_string(ratio[k]);
  }
  return text;
}

}  // namespace

// Wanted is half. The ends of a band are no smooth function of the inputs, and in a pot many inputs
// matter: the error is two thirds of that of random draws, less the more draws there are.
TEST_CASE("draws: the error of an 8-in-10 band is below that of random draws") {
  const Garden garden;
  const Garden::Bands truth =
      garden.bands(2048, [&](std::size_t i) { return garden.drawn(77, i + 1); });
  std::array<double, Garden::answers> ratio{};
  MESSAGE(compared(garden, 64, 12, truth, ratio));
  CHECK(ratio[0] < 0.95);
  CHECK(ratio[2] < 0.85);
}

// tests/calibration.sh runs it.
TEST_CASE("long draws: bands of Sobol points and of random ones" * doctest::skip()) {
  const Garden garden;
  const Garden::Bands truth =
      garden.bands(16384, [&](std::size_t i) { return garden.drawn(77, i + 1); });
  for (const std::size_t draws : {64U, 128U, 200U}) {
    std::array<double, Garden::answers> ratio{};
    MESSAGE(compared(garden, draws, 100, truth, ratio));
    CHECK(ratio[0] < 0.8);
    CHECK(ratio[2] < 0.8);
  }
}

}  // namespace wiltline::test
