// Nonsense within range. Each mistake is made on records that are sound; the limits are judged.
#include "wiltline/weather/sense.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <string>

#include "support/fixtures.hpp"
#include "wiltline/base/units.hpp"

namespace wiltline::test {
namespace {

/// What is doubted of a record after a change to each of its days.
std::string doubted(const WeatherRecord& record, const std::function<void(WeatherDay&)>& change,
                    std::optional<double> latitude_deg = std::nullopt) {
  Site site = record.site();
  if (latitude_deg) site.latitude_deg = *latitude_deg;
  std::vector<WeatherDay> days;
  for (std::size_t i = 0; i < record.size(); ++i) {
    days.push_back(record.day(i));
    change(days.back());
  }
  std::string all;
  for (const std::string& doubt :
       doubts(WeatherRecord("made", site, record.first(), std::move(days), true))) {
    all += doubt + '\n';
  }
  return all;
}

}  // namespace

TEST_CASE("sound records raise no doubt") {
  for (const char* name :
       {"port-okaree.csv", "skerrowick.csv", "tolvenau.csv", "zarquil-flats.csv"}) {
    CAPTURE(name);
    CHECK(doubts(sample(name)).empty());
  }
  for (const char* name : {"new-york.csv", "seattle.csv"}) {
    CAPTURE(name);
    CHECK(doubts(real(name)).empty());
  }
}

TEST_CASE("each mistake is doubted, and its cause named") {
  const WeatherRecord seattle = real("seattle.csv");
  const WeatherRecord tolvenau = sample("tolvenau.csv");
  const WeatherRecord zarquil = sample("zarquil-flats.csv");
  const auto starts = [](const std::string& doubt, const std::string& with,
                         const std::string& cause = {}) {
    CAPTURE(doubt);
    CHECK(doubt.starts_with(with));
    CHECK(doubt.find(cause) != std::string::npos);
  };
  starts(doubted(seattle, [](WeatherDay& day) { *day.rain_mm *= 10.0; }), "rain of 1",
         "is it in tenths of a millimetre?");
  starts(doubted(seattle, [](WeatherDay& day) { *day.rain_mm /= 100.0; }), "rain of 1",
         "is it in inches, or the gauge blocked?");
  starts(doubted(seattle, [](WeatherDay& day) { *day.wind_m_s *= 3.6; }),
         "mean wind of 12 m/s: is it km/h");
  starts(doubted(seattle, [](WeatherDay& day) { *day.wind_m_s *= 0.01; }), "mean wind of 0.03 m/s");
  // °C in columns of °F.
  starts(doubted(seattle,
                 [](WeatherDay& day) {
                   day.tmin_c = units::celsius_from_fahrenheit(day.tmin_c);
                   day.tmax_c = units::celsius_from_fahrenheit(day.tmax_c);
                 }),
         "no day above 2 °C at latitude 47.45: is it °C taken for °F");
  // °F in columns of °C, of a cool place whose numbers stay in range.
  CHECK(doubted(seattle, [](WeatherDay& day) {
          day.tmin_c = units::fahrenheit_from_celsius(day.tmin_c) * 0.6;
          day.tmax_c = units::fahrenheit_from_celsius(day.tmax_c) * 0.6;
        }).find("is it °F?") != std::string::npos);
  starts(doubted(seattle, [](WeatherDay& day) { day.tmax_c += 15.0; }),
         "lowest and highest temperature are 23 °C apart");
  starts(doubted(seattle, [](WeatherDay& day) { day.tmin_c = day.tmax_c - 1.0; }),
         "lowest and highest temperature are 1.0 °C apart");
  starts(doubted(
             seattle, [](WeatherDay&) {}, -47.45),
         "winter is warmer than summer");
  starts(doubted(zarquil, [](WeatherDay& day) { day.dew_point_c = day.tmin_c + 6.0; }),
         "on 100 % of days the dew point is over 5 °C above");
  starts(doubted(tolvenau, [](WeatherDay& day) { *day.solar_mj_m2 *= 0.8; }),
         "radiation of the brightest days is", "is the sensor dirty");
  starts(doubted(tolvenau, [](WeatherDay& day) { *day.solar_mj_m2 *= 1.3; }),
         "radiation of the brightest days is", "is the sensor's calibration off");
  CHECK(doubted(tolvenau, [](WeatherDay& day) {
          day.rh_max_pct = day.rh_min_pct = 100.0;
        }).find("humidity stands at 100 % on 100 % of days") != std::string::npos);
}

TEST_CASE("a few days say nothing") {
  const WeatherRecord seattle = real("seattle.csv");
  const WeatherRecord days =
      seattle.between(seattle.first(), seattle.first() + std::chrono::days(20));
  CHECK(doubted(days, [](WeatherDay& day) { *day.wind_m_s *= 3.6; }).empty());
}

}  // namespace wiltline::test
