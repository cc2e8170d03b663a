// A watering log; what is accepted must be of the garden, not after now, and in the order of time.
#include <algorithm>

#include "forecast_garden.hpp"
#include "wiltline/questions/log_and_state.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace wiltline;
  const auto& garden = fuzz::forecast_garden();
  const Instant now{make_date(2022, 7, 15), 18.0};
  fuzz::refused([&] {
    const auto entries = read_watering_log({"log.csv", fuzz::text_of(data, size)}, garden, now);
    for (std::size_t i = 0; i < entries.size(); ++i) {
      const LogEntry& one = entries[i];
      fuzz::require(std::any_of(garden.begin(), garden.end(), [&](const Planting& planting) {
        return planting.name == one.name;
      }));
      fuzz::require(!(one.event.when > now));
      fuzz::require(i == 0 || !(one.event.when < entries[i - 1].event.when));
      fuzz::require(!one.event.amount || *one.event.amount > 0.0);
    }
  });
  return 0;
}
