// The small syntaxes: mix, routine, absence, dates, numbers, clock times.
#include <cmath>

#include "fuzz.hpp"
#include "wiltline/base/date.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/garden/routine.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace wiltline;
  const std::string text = fuzz::text_of(data, size);
  const auto routine = parse_routine(text);
  fuzz::require(routine.found.empty() == routine.expected.empty());
  if (routine.found.empty()) {
    for (const double hour : routine.routine.visit_hours)
      fuzz::require(hour >= 0.0 && hour <= 24.0);
  }
  const auto composition = parse_composition(text);
  if (composition.found.empty()) {
    double sum = 0.0;
    for (const auto& part : composition.composition) sum += part.percent;
    fuzz::require(std::abs(sum - 100.0) < 0.011);
  }
  (void)fuzz::catalogue().mix(text);
  (void)parse_absence(text);
  if (const auto date = parse_date(text)) fuzz::require(to_string(*date) == text);
  if (const auto number = parse_number(text)) {
    fuzz::require(std::isfinite(*number) && parse_number(shortest(*number)) == number);
  }
  return 0;
}
