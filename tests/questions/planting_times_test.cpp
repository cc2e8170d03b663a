#include "wiltline/questions/planting_times.hpp"

#include <doctest/doctest.h>

#include <functional>

#include "support/fixtures.hpp"

namespace wiltline::test {
namespace {

const Crop& crop(const char* name) {
  return *catalogue().crops.find(name);
}

Site site_at(double latitude_deg) {
  Site site;
  site.latitude_deg = latitude_deg;
  return site;
}

/// Four years of a mean temperature by date, lowest and highest 5 °C from it.
Place made_up(const std::function<double(MonthDay)>& mean_c) {
  std::vector<WeatherDay> days;
  const Date first = make_date(2021, 1, 1);
  for (Date date = first; date <= make_date(2024, 12, 31); date += std::chrono::days(1)) {
    const double mean = mean_c(month_day_of(date));
    WeatherDay& day = days.emplace_back();
    day.tmin_c = mean - 5.0;
    day.tmax_c = mean + 5.0;
  }
  return {WeatherRecord("made up", site_at(45.0), first, std::move(days), false),
          catalogue().parameters};
}

std::vector<unsigned> months(const std::vector<MonthDay>& days) {
  std::vector<unsigned> result;
  for (const MonthDay& day : days) {
    CHECK(day.day == 15);
    result.push_back(day.month);
  }
  return result;
}

using Months = std::vector<unsigned>;

}  // namespace

TEST_CASE("planting times: harvest is at maturity, or after a month of picking") {
  CHECK(days_to_harvest(crop("leaf lettuce")) == 38 + 15 + 10);
  CHECK(days_to_harvest(crop("tomato")) == 68 + 30);
}

TEST_CASE("planting times: every month of an even climate, two of them asked") {
  const Place even = made_up([](MonthDay) { return 15.0; });
  CHECK(plantable_days(crop("leaf lettuce"), even).size() == 12);
  CHECK(months(planting_times(crop("leaf lettuce"), even)) == Months{3, 9});
}

TEST_CASE("planting times: a frost keeps out what would stand through it") {
  // -2.5 °C on 1 May; lettuce bears -2 °C, kale -6 °C. Of the days planted, the 63 to harvest from
  // 15 March and from 15 April hold it.
  const Place frost = made_up([](MonthDay day) { return day == MonthDay{5, 1} ? 2.5 : 15.0; });
  CHECK(months(plantable_days(crop("leaf lettuce"), frost)) ==
        Months{1, 2, 5, 6, 7, 8, 9, 10, 11, 12});
  CHECK(months(planting_times(crop("leaf lettuce"), frost)) == Months{2, 5});
  CHECK(plantable_days(crop("kale"), frost).size() == 12);
}

TEST_CASE("planting times: too cold to grow and too hot are no time to plant") {
  // Lettuce: base 4.4, best from 16: at least 8.27 °C; heat limit 24 °C.
  CHECK(plantable_days(crop("leaf lettuce"), made_up([](MonthDay) { return 8.2; })).empty());
  CHECK(plantable_days(crop("leaf lettuce"), made_up([](MonthDay) { return 8.3; })).size() == 12);
  CHECK(plantable_days(crop("leaf lettuce"), made_up([](MonthDay) { return 24.0; })).size() == 12);
  CHECK(planting_times(crop("leaf lettuce"), made_up([](MonthDay) { return 24.1; })).empty());
}

TEST_CASE("planting times: three years of four are enough, two are not") {
  // A winter of 2 °C in 2021 (and 2022) alone.
  for (const int cold_years : {1, 2}) {
    std::vector<WeatherDay> days;
    const Date first = make_date(2021, 1, 1);
    for (Date date = first; date <= make_date(2024, 12, 31); date += std::chrono::days(1)) {
      const double mean = year_of(date) < 2021 + cold_years && month_of(date) == 6 ? 2.0 : 15.0;
      WeatherDay& day = days.emplace_back();
      day.tmin_c = mean - 1.0;
      day.tmax_c = mean + 1.0;
    }
    const Place place(WeatherRecord("made up", site_at(45.0), first, days, false),
                      catalogue().parameters);
    const auto june = [&] {
      for (const unsigned month : months(plantable_days(crop("leaf lettuce"), place))) {
        if (month == 6) return true;
      }
      return false;
    };
    CHECK(june() == (cold_years == 1));
  }
}

TEST_CASE("planting times: spring and late summer of the sample climates") {
  // Common practice, no source: tender crops after the last frost; in the hot desert before and
  // after the heat.
  const Place north(sample("tolvenau.csv"), catalogue().parameters);
  const Place desert(sample("zarquil-flats.csv"), catalogue().parameters);
  CHECK(months(planting_times(crop("tomato"), north)) == Months{5});
  const Months desert_tomato = months(planting_times(crop("tomato"), desert));
  REQUIRE(desert_tomato.size() == 2);
  CHECK(desert_tomato[0] <= 4);
  CHECK(desert_tomato[1] >= 7);
}

}  // namespace wiltline::test
