// What `forecast` and `plan` are asked with.
#pragma once

#include <vector>

#include "garden_options.hpp"
#include "wiltline/questions/forecast.hpp"

namespace wiltline::cli {

/// A garden today, and the weather it goes on from.
struct ForecastQuestion {
  Catalogue catalogue;
  Garden garden;
  WeatherRecord observed;
  Place place;  // observed weather and what is given as forecast
  ForecastOptions options;
  std::vector<ForecastPlanting> inputs;  // they point to `garden`
};

/// Members, draws, seed, growth and so many days, as typed.
[[nodiscard]] ForecastOptions forecast_options(const Arguments& arguments, int default_days);
/// Reads all the rest. Throws RequestError and InputError.
[[nodiscard]] ForecastQuestion forecast_question(const Arguments& arguments,
                                                 const ForecastOptions& options, Report& report);

/// Throws RequestError if nothing grows or there is no weather for today; else says what the answer
/// rests on.
void check_and_note(const ForecastQuestion& question, const ForecastResult& result, bool us,
                    Report& report);

}  // namespace wiltline::cli
