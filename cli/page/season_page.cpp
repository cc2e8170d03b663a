#include "page/season_page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "page/page.hpp"
#include "shared_options.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

PotLevels levels_of(const Run& run, bool several_years, bool us) {
  const auto volume = [us](double litres) { return in_units(Quantity::litres, litres, us); };
  const SeasonResult& season = run.result;
  PotLevels pot{
      .label = shown_name(*season.planting), .first = season.first, .full = 0.0, .days = {}};
  if (several_years) pot.label += fmt::format(", {}", year_of(season.first));
  for (const LedgerLine& line : season.ledger) {
    PotLevels::Day day{.level = volume(line.available_l - line.depletion_l),
                       .short_below = volume(line.available_l - line.refill_at_l),
                       .watered = volume(line.watered_l),
                       .rain = volume(line.rain_l)};
    const auto mark = [&](const std::optional<double>& hour, int state, std::string_view what) {
      if (!hour) return;
      day.state = state;
      day.marks.push_back(fmt::format("{} from {}", what, clock_string(*hour)));
    };
    mark(line.stressed_at_h, 1, "short of water");
    mark(line.wilting_at_h, 2, "wilting");
    mark(line.dry_at_h, 3, "dry");
    pot.full = std::max({pot.full, day.level, volume(line.available_l)});
    pot.days.push_back(std::move(day));
  }
  return pot;
}

}  // namespace

void add_season_pictures(const std::vector<Run>& runs, bool us, Report& report) {
  report.title = "A season in pots";
  const bool several_years = std::any_of(runs.begin(), runs.end(), [&](const Run& run) {
    return year_of(run.result.first) != year_of(runs.front().result.first);
  });
  std::vector<PotLevels> pots;
  std::vector<RangeRow> short_days;
  int wilted = 0;
  int dried = 0;
  for (const Run& run : runs) {
    pots.push_back(levels_of(run, several_years, us));
    const SeasonSummary& s = run.result.summary;
    wilted += s.wilting_days > 0 ? 1 : 0;
    dried += s.dry_days > 0 ? 1 : 0;
    RangeRow row{.label = pots.back().label,
                 .value = s.wilting_days,
                 .low = {},
                 .high = {},
                 .text = fmt::format("{} wilting", days_in_words(s.wilting_days))};
    if (s.dry_days > 0) row.text += fmt::format(", {} dry", days_in_words(s.dry_days));
    short_days.push_back(std::move(row));
  }
  std::stable_sort(short_days.begin(), short_days.end(),
                   [](const RangeRow& a, const RangeRow& b) { return *a.value > *b.value; });
  report.answer =
      wilted == 0
          ? fmt::format("Once settled in, no plant wilts in any of {} seasons.", runs.size())
          : fmt::format("Once settled in, plants wilt in {} of {} seasons, and pots go dry in {}.",
                        wilted, runs.size(), dried);
  report.pictures.push_back(ranges_picture(
      "Days on which leaves droop",
      "Days of each season with wilting, once roots hold half the mix.", "days", short_days));
  report.pictures.push_back(levels_picture(
      "Water in the pot, day by day",
      "What the plant can still draw from the mix that its roots hold, at the end of each day, "
      "counted up from nothing. The room grows as roots do.",
      std::string(unit_text(Quantity::litres, us)), pots));
}

}  // namespace wiltline::cli
