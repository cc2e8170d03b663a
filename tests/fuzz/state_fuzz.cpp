// A saved state; what is accepted must be written and read back as the same, to the bit, and go on
// through a day that closes its books.
#include <algorithm>
#include <cmath>

#include "forecast_garden.hpp"
#include "wiltline/budget/watering.hpp"
#include "wiltline/questions/log_and_state.hpp"

namespace {

using namespace wiltline;

void go_on_for_a_day(const SavedPlanting& saved) {
  const auto& garden = fuzz::forecast_garden();
  const auto planting = std::find_if(garden.begin(), garden.end(),
                                     [&](const Planting& one) { return one.name == saved.name; });
  const WeatherRecord record(
      "invented", {.latitude_deg = 45.0, .elevation_m = 100.0}, saved.run.date,
      std::vector<WeatherDay>(1, {.tmin_c = 17.0, .tmax_c = 33.0, .rain_mm = 8.0}), true);
  const Place place(record, fuzz::catalogue().parameters);
  const SpotDay& day = place.at(planting->spot).front();
  PlantingRun run(*planting, saved.planted, fuzz::catalogue().parameters, saved.growth);
  run.resume(saved.run);
  const DayForcing forcing = run.begin_day(day);
  std::vector<Visit> visits;
  const DayResult result =
      run_day(run.pot(), run.pot_state(), forcing, run.routine(day.curve, visits));
  const double in = result.rain_l + result.watered_l;
  const double out = result.transpired_l + result.evaporated_l + result.drained_l;
  const double change = store_l(run.pot(), result.state) - store_l(run.pot(), saved.run.pot);
  fuzz::require(std::abs(in - out - change) <= 1e-9 * (in + out + run.pot().saturated_l));
  run.end_day(result, day);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text = fuzz::text_of(data, size);
  // The clock that the file was written with, or every other one would be refused for its clock.
  const StateReading how{.plantings = fuzz::forecast_garden(),
                         .growth = text.find("degree-days") == std::string::npos
                                       ? GrowthClock::stage_days
                                       : GrowthClock::degree_days,
                         .first = make_date(2022, 1, 1),
                         .last = make_date(2022, 12, 31)};
  const ModelParameters& model = fuzz::catalogue().parameters;
  fuzz::refused([&] {
    const auto saved = read_state({"state.csv", text}, model, how);
    const std::string written = state_csv(saved);
    fuzz::require(read_state({"written.csv", written}, model, how) == saved);
    for (const SavedPlanting& one : saved) go_on_for_a_day(one);
  });
  return 0;
}
