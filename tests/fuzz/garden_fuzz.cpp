// A garden file; what is accepted must run through a fortnight and close its books.
#include <cmath>

#include "fuzz.hpp"
#include "wiltline/garden/reading.hpp"
#include "wiltline/questions/season.hpp"

namespace {

/// Fourteen invented hot days.
const wiltline::WeatherRecord& fortnight() {
  static const wiltline::WeatherRecord record(
      "invented", {.latitude_deg = 45.0, .elevation_m = 100.0}, wiltline::make_date(2022, 7, 1),
      std::vector<wiltline::WeatherDay>(14, {.tmin_c = 17.0, .tmax_c = 33.0, .rain_mm = 0.0}),
      true);
  return record;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace wiltline;
  fuzz::refused([&] {
    const auto garden = read_garden({"garden.csv", fuzz::text_of(data, size)}, fuzz::catalogue());
    const Place place(fortnight(), fuzz::catalogue().parameters);
    for (const Planting& planting : garden) {
      for (const Date planted : planting_dates(planting, fortnight())) {
        const SeasonResult result = run_season(planting, planted, place, {.ledger = true});
        double store_l = build_pot(planting, fuzz::catalogue().parameters).refilled_l;
        for (const LedgerLine& line : result.ledger) {
          const double in = line.rain_l + line.watered_l;
          const double out = line.transpired_l + line.evaporated_l + line.drained_l;
          fuzz::require(std::abs(in - out - (line.store_l - store_l)) <=
                        1e-9 * (in + out + std::abs(store_l)));
          store_l = line.store_l;
        }
      }
    }
  });
  return 0;
}
