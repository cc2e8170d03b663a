// The small syntaxes: mix, routine, absence, dates, numbers, clock times.
#include <cmath>

#include "fuzz.hpp"
#include "wiltline/base/date.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/garden/routine.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace wiltline;
  const std::string text = fuzz::text_of(data, size);
  if (const auto routine = parse_routine(text)) {
    for (const double hour : routine->visit_hours) fuzz::require(hour >= 0.0 && hour <= 24.0);
  } else {
    fuzz::require(!routine.fault().found.empty() && !routine.fault().expected.empty());
  }
  if (const auto composition = parse_composition(text)) {
    double sum = 0.0;
    for (const auto& part : *composition) sum += part.percent;
    fuzz::require(std::abs(sum - 100.0) < 0.011);
  }
  (void)fuzz::catalogue().mix(text);
  (void)parse_days_away(text);
  if (const auto date = parse_date(text)) fuzz::require(to_string(*date) == text);
  if (const auto number = parse_number(text)) {
    fuzz::require(std::isfinite(*number) && parse_number(shortest(*number)) == number);
  }
  return 0;
}
