// A weather file, and the site values in its comments: read, checked, and turned into ET0.
#include <cmath>

#include "fuzz.hpp"
#include "wiltline/evapotranspiration/daily.hpp"
#include "wiltline/weather/reading.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace wiltline;
  fuzz::refused([&] {
    const WeatherRecord record = read_weather(
        {"weather.csv", fuzz::text_of(data, size)},
        {.site = {.latitude_deg = 45.0, .elevation_m = 100.0}, .longest_gap_filled_days = 3});
    for (const ReferenceDay& day : reference_days(record, {})) {
      fuzz::require(std::isfinite(day.et0.total_mm()));
    }
  });
  return 0;
}
