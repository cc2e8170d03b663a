#include "page/season_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>

#include "page/page.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

constexpr std::size_t months = 12;

/// What the garden was given and used by month, a year's mean where there are several.
Picture months_picture(const std::vector<Run>& runs, bool us) {
  std::array<double, months> given{};
  std::array<double, months> used{};
  std::array<bool, months> any{};
  std::set<std::pair<const WeatherRecord*, int>> years;
  for (const Run& run : runs) {
    years.emplace(run.record, year_of(run.result.first));
    for (const LedgerLine& line : run.result.ledger) {
      const std::size_t month = month_of(line.date) - 1;
      const double pots = run.result.planting->count;
      any[month] = true;
      given[month] += pots * line.watered_l;
      used[month] += pots * (line.transpired_l + line.evaporated_l);
    }
  }
  std::vector<std::string> names;
  BarSeries watered{"watered", {}};
  BarSeries lost{"used by plants and evaporated", {}};
  const auto a_year = [&](double litres) {
    return in_units(Quantity::litres, litres, us) / static_cast<double>(years.size());
  };
  for (std::size_t i = 0; i < months; ++i) {
    if (!any[i]) continue;
    names.emplace_back(short_month_name(static_cast<unsigned>(i + 1)));
    watered.values.push_back(a_year(given[i]));
    lost.values.push_back(a_year(used[i]));
  }
  const std::string litres(unit_text(Quantity::litres, us));
  return bars_picture(
      {"The garden over the year",
       fmt::format("All pots together by month{}. Where use is above what was watered, rain gave "
                   "the rest.",
                   years.size() > 1 ? ", the mean of the years and places" : "")},
      litres, names, {watered, lost});
}

}  // namespace

void add_season_pictures(const std::vector<Run>& runs, bool us, Report& report) {
  report.title = "A season in pots";
  std::vector<PotWater> pots;
  std::vector<RangeRow> droop;
  int wilted = 0;
  int dried = 0;
  for (const Run& run : runs) {
    std::string label = run_name(run, runs);
    const SeasonSummary& s = run.result.summary;
    wilted += s.wilting_days > 0 ? 1 : 0;
    dried += s.dry_days > 0 ? 1 : 0;
    RangeRow row{.label = label, .value = s.wilting_days, .text = days_in_words(s.wilting_days)};
    if (s.dry_days > 0) row.text += fmt::format(", {} of them dry", s.dry_days);
    droop.push_back(std::move(row));
    pots.push_back({std::move(label), &run.result.ledger});
  }
  sort_by_value(droop);
  report.answer =
      fmt::format("Of {} {}, once settled in: {}.", runs.size(),
                  several_seasons(runs) ? "seasons" : "plantings",
                  wilted == 0 ? "none with wilting days"
                              : fmt::format("{} with wilting days, {} with dry days", wilted,
                                            dried == 0 ? "none" : std::to_string(dried)));
  report.pictures.push_back(water_picture(
      {"Water left in the pot, hour by hour",
       "What the plant can still draw from the mix its roots hold, counted up from nothing. Above, "
       "every day of the season from its lowest to its highest; below, the hours of the days "
       "around the one chosen. In the first weeks roots hold little of it."},
      pots, us));
  report.pictures.push_back(ranges_picture(
      {"Days on which leaves droop",
       "Days of each season with wilting, once roots hold half the mix, most first."},
      "days", droop));
  report.pictures.push_back(months_picture(runs, us));
}

}  // namespace wiltline::cli
