// Files of one place become one record; what is not of one place stays apart.
#include "wiltline/weather/joining.hpp"

#include <doctest/doctest.h>

#include "support/refusal.hpp"

namespace wiltline::test {
namespace {

PlaceWeather weather(const std::string& name, int first_day, int days, double tmin_c = 8.0,
                     double latitude_deg = 45.0) {
  Site site;
  site.latitude_deg = latitude_deg;
  std::vector<WeatherDay> all(static_cast<std::size_t>(days));
  for (WeatherDay& day : all) {
    day.tmin_c = tmin_c;
    day.tmax_c = 21.0;
  }
  return {WeatherRecord(name, site, make_date(2024, 6, 1) + std::chrono::days(first_day - 1),
                        std::move(all), true),
          std::nullopt};
}

}  // namespace

TEST_CASE("records that go on from each other, in any order, overlaps once") {
  const auto all = joined({weather("c", 21, 10), weather("a", 1, 10), weather("b", 8, 13)});
  REQUIRE(all.size() == 1);
  CHECK(all[0].record.name() == "a and b, c");
  CHECK(all[0].record.size() == 30);
  CHECK(all[0].record.first() == make_date(2024, 6, 1));
}

TEST_CASE("a gap, or another place, keeps records apart") {
  CHECK(joined({weather("a", 1, 10), weather("b", 12, 10)}).size() == 2);
  CHECK(joined({weather("a", 1, 10), weather("b", 11, 10, 8.0, 46.0)}).size() == 2);
}

TEST_CASE("overlaps must agree") {
  CHECK(
      refusal([] {
        (void)joined({weather("a", 1, 10), weather("b", 10, 10, 7.5)});
      }) ==
      "b: found 2024-06-10 with 7.5 to 21 °C; expected the day that a has too, 8 to 21 °C: all its "
      "readings the same");
}

TEST_CASE("the reading that differs is named") {
  const auto with_rain = [](const std::string& name, std::optional<double> rain_mm) {
    PlaceWeather place = weather(name, name == "a" ? 1 : 2, 10);
    std::vector<WeatherDay> days;
    for (std::size_t i = 0; i < place.record.size(); ++i) {
      days.push_back(place.record.day(i));
      days.back().rain_mm = rain_mm;
    }
    place.record =
        WeatherRecord(name, place.record.site(), place.record.first(), std::move(days), true);
    return place;
  };
  CHECK(refusal([&] {
          (void)joined({with_rain("a", 1.5), with_rain("b", 2.0)});
        }) ==
        "b: found 2024-06-02 with rain_mm 2; expected the day that a has too, rain_mm 1.5: all its "
        "readings the same");
  CHECK(refusal([&] {
          (void)joined({with_rain("a", 1.5), with_rain("b", {})});
        }) ==
        "b: found 2024-06-02 with no rain_mm; expected the day that a has too, rain_mm 1.5: all "
        "its readings the same");
}

}  // namespace wiltline::test
