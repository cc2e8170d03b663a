// Means of months: what is accepted can be drawn, and is a weather file.
#include "fuzz.hpp"
#include "wiltline/weather/reading.hpp"
#include "wiltline/weather/typical.hpp"
#include "wiltline/weather/writing.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace wiltline;
  std::optional<Climate> climate;
  fuzz::refused([&] { climate = read_climate({"months.csv", fuzz::text_of(data, size)}); });
  if (!climate) return 0;
  const WeatherRecord drawn = typical_weather(*climate, 1, 1);
  const WeatherRecord again = read_weather({"drawn.csv", weather_text(drawn)});
  fuzz::require(again.size() == drawn.size());
  return 0;
}
