// What a plan was answered, as rows and as text for people.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "calendar.hpp"
#include "report.hpp"
#include "wiltline/questions/plan.hpp"

namespace wiltline::cli {

/// How a plan is shown.
struct PlanLayout {
  std::optional<double> can_l;  // to count trips with
  bool compact = false;         // a paragraph a visit, without tables
  bool us = false;
};

/// What holds of frost and heat on days that no forecast covers; empty if one covers all.
[[nodiscard]] std::string unforeseen_text(const PlanResult& result, const ForecastOptions& options);
[[nodiscard]] Table<PlannedWatering> plan_table();
/// Its waterings as a calendar has them.
[[nodiscard]] std::vector<CalendarLine> plan_calendar(const PlanResult& result, bool us);
/// Heading, sentence and the sheet of a page.
void add_plan_sheet(const PlanResult& result, const ForecastOptions& options,
                    const PlanLayout& layout, Report& report);
/// The days as columns, a line a planting: what it is given on each, `!` where that will not last.
[[nodiscard]] std::string days_text(const PlanResult& result, const ForecastOptions& options,
                                    const PlanLayout& layout);
[[nodiscard]] std::string plan_text(const PlanResult& result, const ForecastOptions& options,
                                    const PlanLayout& layout, const Report& report);

}  // namespace wiltline::cli
