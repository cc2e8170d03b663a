#include "season_periods_answer.hpp"

#include <fmt/format.h>

#include "page/page.hpp"
#include "wiltline/tables/planting_columns.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

using enum Quantity;
using R = const PeriodRow&;
constexpr Column<PeriodRow> period_list[]{
    {"name", "planting (whole garden: all pots of all plantings together)",
     [](R row) { return row.sums.planting ? row.sums.planting->name : "whole garden"; }},
    {"year", "year of planting; of the whole garden: of the period's first day",
     [](R row) { return row.sums.year; }},
    {"period", "month as 2022-07, or week from Monday on as 2022-W28 (ISO 8601)",
     [](R row) { return period_name(row.length, row.sums.first); }},
    {"asked_waterings",
     "times the pot needed water: watered the moment the plant starts to run short, until it "
     "drains",
     [](R row) { return row.sums.asked_waterings; }},
    {"given_waterings", "times the routine watered it",
     [](R row) { return row.sums.given_waterings; }},
    {"watered_l", litres, 2, "water given by the routine",
     [](R row) { return row.sums.watered_l; }},
    {"used_l", litres, 2, "water transpired and evaporated", [](R row) { return row.sums.used_l; }},
    {"stressed_days", "days beyond readily available water at any instant, once settled",
     [](R row) { return row.sums.stressed_days; }},
    {"wilting_days", "days beyond the wilting line, once settled",
     [](R row) { return row.sums.wilting_days; }},
    {"dry_days", "days beyond the dry line, once settled", [](R row) { return row.sums.dry_days; }},
};

/// `July 2022`, or the Monday of the week.
std::string period_in_words(R row) {
  const Date first = row.sums.first;
  return row.length == PeriodLength::month
             ? fmt::format("{} {}", month_name(month_of(first)), year_of(first))
             : full_date_in_words(first);
}

}  // namespace

Table<PeriodRow> period_table(bool weather) {
  Table<PeriodRow> table("Columns of --by (weather appended where several are given)");
  table.add(period_list);
  if (weather) table.add(tables::weather_columns, &PeriodRow::record);
  return table;
}

void add_periods_picture(const std::vector<PeriodRow>& rows, Report& report) {
  report.title = "When in the year the garden wants water";
  std::vector<std::string> periods;
  BarSeries asked{"asked for", {}};
  BarSeries given{"given", {}};
  const bool places =
      std::ranges::any_of(rows, [&](R row) { return row.record != rows.front().record; });
  const auto add_picture = [&](const WeatherRecord& record) {
    report.pictures.push_back(bars_picture(
        {"Waterings of the whole garden" + (places ? ": " + printable(record.name()) : ""),
         "How often its pots asked for water, watered the moment a plant starts to run short, and "
         "how often the routines gave it."},
        "times", periods, {asked, given}));
    periods.clear();
    asked.values.clear();
    given.values.clear();
  };
  const WeatherRecord* record = nullptr;
  for (R row : rows) {
    if (row.sums.planting != nullptr) continue;
    if (record != nullptr && record != row.record) add_picture(*record);
    record = row.record;
    periods.push_back(row.length == PeriodLength::month
                          ? fmt::format("{} {}", short_month_name(month_of(row.sums.first)),
                                        year_of(row.sums.first))
                          : date_in_words(row.sums.first));
    asked.values.push_back(row.sums.asked_waterings);
    given.values.push_back(row.sums.given_waterings);
  }
  if (record != nullptr) add_picture(*record);
}

std::string period_table_text(const std::vector<PeriodRow>& rows, bool weather,
                              const Report& report, bool us) {
  using enum Side;
  const auto volume = [us](double value) { return volume_text(value, us); };
  std::vector<PeriodRow> whole;
  std::vector<PeriodRow> each;
  for (const PeriodRow& row : rows) (row.sums.planting ? each : whole).push_back(row);
  // A name stands in the first row of its own.
  const Planting* before = nullptr;
  const TextColumn<PeriodRow> name{"planting", left, [&before](R row) {
                                     if (row.sums.planting == before) return std::string();
                                     before = row.sums.planting;
                                     return shown_name(*before);
                                   }};
  std::vector<TextColumn<PeriodRow>> columns{
      {rows.front().length == PeriodLength::month ? "month" : "week from\nMonday", right,
       period_in_words},
      {"times asked\nfor water", right,
       [](R row) { return count_or_dash(row.sums.asked_waterings); }},
      {"times\nwatered", right, [](R row) { return count_or_dash(row.sums.given_waterings); }},
      {"given", right, [&](R row) { return volume(row.sums.watered_l); }},
      {"used", right, [&](R row) { return volume(row.sums.used_l); }},
      {"stress\ndays", right, [](R row) { return count_or_dash(row.sums.stressed_days); }},
      {"wilting\ndays", right, [](R row) { return count_or_dash(row.sums.wilting_days); }},
      {"dry\ndays", right, [](R row) { return count_or_dash(row.sums.dry_days); }}};
  if (weather) {
    columns.push_back(
        {"weather", left, [](R row) { return shortened(printable(row.record->name()), 20); }});
  }
  std::string out = "The whole garden, all pots together:\n\n" + text_table(columns, whole);
  columns.insert(columns.begin(), name);
  out += "\nEach planting, one pot of it:\n\n" + text_table(columns, each) + '\n';
  out += paragraph(
      "Asked for: how often a pot would have been watered by somebody who comes the moment its "
      "plant starts to run short, and waters until it drains. Watered: what the routine did; a "
      "routine by the clock gives more often than asked, or too late.");
  out += paragraph(stress_wilting_dry_text() +
                   " Days count from when roots hold half the mix; of the whole garden they are "
                   "days of single pots, added up.");
  return out + notes_text(report);
}

}  // namespace wiltline::cli
