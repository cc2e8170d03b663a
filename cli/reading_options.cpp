#include "reading_options.hpp"

#include <fmt/format.h>

#include <cmath>

#include "words.hpp"

namespace wiltline::cli {

std::vector<PotReadings> load_readings(const Arguments& arguments, const ReadingsOf& of,
                                       std::vector<std::string>& notes) {
  std::vector<PotReadings> readings;
  for (const Planting& planting : of.garden) readings.push_back({&planting, {}});
  if (const auto file = arguments.text("weighings")) {
    add_readings(readings, read_weighings(read_file(*file), of));
    const double times = times_expected(readings, *of.model).value_or(1.0);
    if (times >= times_like_pounds) {
      notes.push_back(fmt::format(
          "{}: weights of about {:.1f} times what these pots can be expected to weigh: pounds? "
          "They belong in a column weight_lb, kilograms in weight_kg",
          *file, times));
    }
  }
  if (const auto file = arguments.text("seen")) {
    add_readings(readings, read_sightings(read_file(*file), of));
  }
  return readings;
}

std::string misfit_text(ReadingKind kind, double off_kg, bool us) {
  switch (kind) {
    case ReadingKind::weighed_before:
    case ReadingKind::weighed_after:
      return fmt::format("{} {} {} than expected",
                         rough(in_units(Quantity::mass_kg, std::abs(off_kg), us)),
                         unit_text(Quantity::mass_kg, us), off_kg > 0.0 ? "heavier" : "lighter");
    case ReadingKind::watered:
      return "what drained does not fit what was given";
    case ReadingKind::top_felt_dry:
    case ReadingKind::top_felt_moist:
      return "the finger test does not fit the other readings";
    case ReadingKind::wilted:
      return "that it wilted does not fit the other readings";
    case ReadingKind::not_wilted:
      return "that it did not wilt does not fit the other readings";
  }
  return {};
}

std::string_view weight_causes(double off_kg) {
  return off_kg > 0.0 ? "water that no log has, rain not recorded, or a weight mistyped?"
                      : "a day hotter at the pot than in the weather, a watering that did not "
                        "reach it, or a weight mistyped?";
}

}  // namespace wiltline::cli
