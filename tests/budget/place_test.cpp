#include "wiltline/budget/place.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <span>
#include <thread>
#include <type_traits>
#include <utility>

#include "support/fixtures.hpp"
#include "support/refusal.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/questions/pot_readings.hpp"
#include "wiltline/questions/season.hpp"
#include "wiltline/questions/sweep.hpp"

namespace wiltline::test {
namespace {

// What must not compile: references that would outlive what they point into, a season under a model
// other than its place's, answers about plantings that are gone.
template <typename T>
concept gives_record = requires(T place) {
  std::forward<T>(place).record();
};
template <typename T>
concept gives_spot_days = requires(T place, const Spot& spot) {
  std::forward<T>(place).at(spot);
};
static_assert(gives_record<const Place&> && !gives_record<Place>);
static_assert(gives_spot_days<const Place&> && !gives_spot_days<Place>);
template <typename... Arguments>
concept runs = requires(Arguments... arguments) {
  run_season(std::forward<Arguments>(arguments)...);
};
static_assert(runs<const Planting&, Date, const Place&> && runs<const Planting&, Date, Place>);
static_assert(!runs<const Planting&, Date, const Place&, const ModelParameters&>);
static_assert(!runs<Planting, Date, const Place&>);
static_assert(!std::is_constructible_v<Place, const WeatherRecord&, const MissingDataOptions&>);
static_assert(std::is_convertible_v<const std::vector<Planting>&, Plantings> &&
              !std::is_convertible_v<std::vector<Planting>, Plantings>);
static_assert(std::is_convertible_v<const Planting&, Plantings> &&
              !std::is_convertible_v<Planting, Plantings>);

template <typename One>
concept takes_braces = requires(const One& one, const Place& place) {
  season({{one, one}}, place);
};
static_assert(!takes_braces<Planting>);
static_assert(std::is_convertible_v<const Planting (&)[2], Plantings> &&
              !std::is_convertible_v<Planting (&&)[2], Plantings>);
static_assert(std::is_convertible_v<const Place (&)[2], Places>);
static_assert(!std::is_constructible_v<ReadingsOf, std::vector<Planting>, const ModelParameters*,
                                       const WeatherRecord*>);
static_assert(std::is_constructible_v<ReadingsOf, const std::vector<Planting>&,
                                      const ModelParameters*, const WeatherRecord*>);
template <typename T>
concept gives_seasons = requires(T block) {
  std::forward<T>(block).seasons();
};
static_assert(gives_seasons<const SweepSeasons&> && !gives_seasons<SweepSeasons>);
static_assert(!std::is_copy_constructible_v<SweepSeasons> &&
              std::is_move_constructible_v<SweepSeasons>);

const ModelParameters& model() {
  return catalogue().parameters;
}

/// A model whose days at a spot have another curve of demand.
ModelParameters later_model() {
  ModelParameters other = model();
  other.demand_delay_h += 2.0;
  other.night_share_least *= 2.0;
  return other;
}

const Spot& spot(const char* name) {
  return *catalogue().spots.find(name);
}

bool same_days(std::span<const SpotDay> a, std::span<const SpotDay> b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const SpotDay& x, const SpotDay& y) {
    return x.et0.total_mm() == y.et0.total_mm() && x.rain_mm == y.rain_mm &&
           x.curve.share_by(11.0) == y.curve.share_by(11.0);
  });
}

}  // namespace

TEST_CASE("place: owns its weather, which may be a temporary") {
  std::vector<Place> places;
  for (const char* file : {"tolvenau.csv", "port-okaree.csv", "skerrowick.csv"}) {
    places.push_back(Place(sample(file), model()));  // the vector moves them as it grows
  }
  const Place copy = places.front();
  const std::vector<SpotDay>* const seen = &places.front().at(spot("patio"));
  places.clear();
  CHECK(copy.record().name().ends_with("tolvenau.csv"));
  CHECK(&copy.at(spot("patio")) == seen);  // a copy shares what was worked out
  const WeatherRecord record = sample("tolvenau.csv");
  CHECK(same_days(copy.at(spot("patio")),
                  spot_days(record, reference_days(record), spot("patio"), model())));
}

TEST_CASE("place: every model sees its own days, whichever asks first") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place place(record, model());
  const Place later = place.with_model(later_model());
  for (const Place* one : {&place, &later, &place}) {
    CHECK(same_days(one->at(spot("patio")),
                    spot_days(record, reference_days(record), spot("patio"), one->model())));
  }
  CHECK_FALSE(same_days(place.at(spot("patio")), later.at(spot("patio"))));

  const Planting pot = one_row("tomato", "nursery 11 l,potting mix,1,2022-05-15,patio,daily 07:00");
  const Date planted = make_date(2022, 5, 15);
  ModelParameters thirsty = model();
  thirsty.wilting_line *= 0.8;
  const Place fresh(record, thirsty);
  const auto wilting_days = [&](const Place& at) {
    return run_season(pot, planted, at, {}).summary.wilting_days;
  };
  const int central = wilting_days(place);
  CHECK(wilting_days(place.with_model(thirsty)) == wilting_days(fresh));
  CHECK(wilting_days(place.with_model(thirsty)) > central);
  CHECK(wilting_days(place) == central);
}

TEST_CASE("place: models share the reference ET; the same model shares everything") {
  const Place place(sample("tolvenau.csv"), model());
  const Place later = place.with_model(later_model());
  CHECK(&later.reference() == &place.reference());
  CHECK(&later.record() == &place.record());
  CHECK(later.sources().days == place.record().size());
  const Place again = place.with_model(ModelParameters(model()));
  CHECK(&again.at(spot("patio")) == &place.at(spot("patio")));
}

TEST_CASE("place: the hours of direct sun, kept by day of the year, are those of each day") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place place(record, model());
  const Place later = place.with_model(later_model());
  for (const char* name : {"morning sun", "patio"}) {
    for (const Place* one : {&place, &later}) {
      for (std::size_t i = 0; i < record.size(); ++i) {
        const SpotDay alone = spot_day(record.site(), record.date(i), record.day(i),
                                       place.reference()[i], spot(name), one->model());
        const SpotDay& kept = one->at(spot(name))[i];
        CHECK(kept.et0.total_mm() == alone.et0.total_mm());
        CHECK(kept.diffuse_share == alone.diffuse_share);
      }
    }
  }
}

TEST_CASE("place: days that the record does not have are refused") {
  const Place place(sample("tolvenau.csv"), model());
  const std::size_t size = place.record().size();
  const auto refused = [&](std::size_t first, std::size_t count) {
    return refusal([&] { (void)place.at(spot("patio"), first, count); });
  };
  CHECK(refused(size - 1, 1) == "nothing refused");
  CHECK(refused(100, size).ends_with("days from day 100 on; expected days of its " +
                                     std::to_string(size)));
  CHECK(refused(size + 1, 0) != "nothing refused");
  (void)place.at(spot("patio"));
  CHECK(refused(5, static_cast<std::size_t>(-2)) != "nothing refused");
}

TEST_CASE("place: several threads may ask at once") {
  const Place place(sample("tolvenau.csv"), model());
  const std::vector<std::string> names = catalogue().spots.names();
  constexpr std::size_t threads = 8;
  std::vector<std::vector<const std::vector<SpotDay>*>> seen(threads);
  {
    std::vector<std::jthread> askers;
    for (std::size_t t = 0; t < threads; ++t) {
      askers.emplace_back([&, t] {
        const Place own = place;
        for (std::size_t i = 0; i < names.size(); ++i) {
          const std::string& name = names[(i + t) % names.size()];
          seen[t].push_back(&own.at(spot(name.c_str())));
        }
      });
    }
  }
  for (std::size_t t = 0; t < threads; ++t) {
    for (std::size_t i = 0; i < names.size(); ++i) {
      REQUIRE(seen[t][i] == seen[0][(i + t) % names.size()]);
      REQUIRE(seen[t][i]->size() == place.record().size());
    }
  }
}

TEST_CASE("place: some days of a spot are those of the whole record") {
  const Place place(sample("tolvenau.csv"), model());
  const std::size_t size = place.record().size();
  const std::span<const SpotDay> some = place.at(spot("patio"), 100, 50);
  const std::span<const SpotDay> within = place.at(spot("patio"), 120, 30);
  const std::span<const SpotDay> further = place.at(spot("patio"), 120, 40);
  const std::vector<SpotDay>& all = place.at(spot("patio"));
  CHECK(all.size() == size);
  CHECK(same_days(some, std::span(all).subspan(100, 50)));
  CHECK(within.data() == some.data() + 20);
  CHECK(within.size() == 30);
  CHECK(same_days(further, std::span(all).subspan(120, 40)));
  CHECK(same_days(place.at(spot("hot paving"), size - 1, 1),
                  std::span(place.at(spot("hot paving"))).subspan(size - 1)));
}

TEST_CASE("place: a model or a choice beyond what it can mean is refused") {
  const WeatherRecord record = sample("tolvenau.csv");
  const auto changed = [&](double ModelParameters::*member, double value) {
    ModelParameters other = model();
    other.*member = value;
    return other;
  };
  for (const ModelParameters& other :
       {changed(&ModelParameters::drained_share, 1.0),
        changed(&ModelParameters::wilting_line, -1.0),
        changed(&ModelParameters::ceiling, std::numeric_limits<double>::quiet_NaN())}) {
    CHECK_THROWS_AS(Place(record, other), RequestError);
    CHECK_THROWS_AS((void)Place(record, model()).with_model(other), RequestError);
  }
  for (const MissingDataOptions& missing :
       {MissingDataOptions{.dew_point_offset_c = 999.0},
        MissingDataOptions{.range_coefficient = -5.0},
        MissingDataOptions{.dew_point_offset_c = std::numeric_limits<double>::quiet_NaN()}}) {
    CHECK_THROWS_AS(Place(record, model(), missing), RequestError);
  }
}

}  // namespace wiltline::test
