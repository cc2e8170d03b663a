// Prints every number of FAO-56's worked examples beside the library's, and the checks against a
// station and against the sun.
#include <fmt/format.h>

#include <cmath>
#include <cstdio>
#include <map>
#include <string>

#include "handbook/chapters.hpp"
#include "handbook/station.hpp"
#include "handbook/sun.hpp"

namespace wiltline::test {
namespace {

using printed::Evaluations;
using printed::Outcome;
using printed::Table;

struct Tally {
  int met = 0;
  int contradicted = 0;  // the paper's own inputs lead elsewhere, and we are there
  int missed = 0;
};

void say(const std::string& line) {
  std::fputs((line + '\n').c_str(), stdout);
}

std::string verdict(const Outcome& outcome, Tally& tally) {
  if (outcome.unrounded.empty()) {
    ++(outcome.as_printed ? tally.met : tally.missed);
    return outcome.as_printed ? "met" : "NOT MET";
  }
  ++(outcome.as_unrounded ? tally.contradicted : tally.missed);
  return fmt::format("{}: the paper's inputs give {}; {}",
                     outcome.as_unrounded ? "not as printed" : "NOT MET", outcome.unrounded,
                     outcome.remark);
}

/// Pages as the row names them, such as p70-71.
std::string page_of(std::string_view where) {
  const std::size_t start = where.find(" p");
  if (start == std::string_view::npos) return "-";
  const std::string_view rest = where.substr(start + 2);
  return std::string(rest.substr(0, rest.find_first_of(" ;")));
}

/// Rows whose quantity is in `evaluations`.
void print_rows(const Table& table, const Evaluations& evaluations, Tally& tally) {
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const std::string quantity(table.cell(row, "quantity"));
    if (!evaluations.contains(quantity)) continue;
    const Outcome outcome = printed::evaluate(table, row, evaluations);
    const std::string_view unit = table.cell(row, "unit");
    std::string text = quantity;
    if (const std::string_view day = table.cell(row, "where"); day.find("; day ") != day.npos) {
      text += fmt::format(", {}", day.substr(day.find("; day ") + 2));
    }
    const std::size_t point = outcome.printed.find('.');
    const auto digits =
        static_cast<int>(point == std::string_view::npos ? 0 : outcome.printed.size() - point - 1);
    say(fmt::format("{:<12} {:>7}  {:<34} {:>9} {:>12.{}f}  {:<10} {:>8}  {}",
                    table.cell(row, "example"), page_of(table.cell(row, "where")), text,
                    outcome.printed, outcome.ours, digits + 2, unit == "-" ? "" : unit,
                    table.cell(row, "tolerance"), verdict(outcome, tally)));
  }
}

int print_all() {
  Tally library;
  Tally arithmetic;
  say("FAO Irrigation and Drainage Paper 56 (Allen, Pereira, Raes and Smith 1998)\n");
  say(fmt::format("{:<12} {:>7}  {:<34} {:>9} {:>12}  {:<10} {:>8}  {}", "example", "page",
                  "quantity", "printed", "ours", "unit", "+-", "verdict"));
  print_rows(printed::chapters_2_to_4(), printed::evaluations_2_to_4(), library);
  print_rows(printed::chapters_6_to_9(), printed::evaluations_6_to_9(), library);
  say("\nEquations that the library does not have: the handbook's own arithmetic, which says that "
      "the data is what the paper means\n");
  print_rows(printed::chapters_2_to_4(), printed::arithmetic_2_to_4(), arithmetic);
  print_rows(printed::chapters_6_to_9(), printed::arithmetic_6_to_9(), arithmetic);

  const StationCheck station = station_check();
  const bool station_met = station.largest_difference_mm <= station_day_limit_mm &&
                           std::abs(station.ours_mm - station.published_mm) <= station_sum_limit_mm;
  say("\nReference ET of a station's days against its agency's (Source: MeteoSwiss, "
      "Zurich/Affoltern, April to September 2016)\n");
  say(
      fmt::format("{} days: largest difference {:.3f} mm (limit {:.2f}), mean {:+.3f} mm, season "
                  "{:.1f} mm against {:.1f} published (limit {:.1f} apart): {}",
                  station.days, station.largest_difference_mm, station_day_limit_mm,
                  station.mean_difference_mm, station.ours_mm, station.published_mm,
                  station_sum_limit_mm, station_met ? "met" : "NOT MET"));

  int sun_missed = 0;
  say("\nThe sun against libnova, every day of 2021 to 2024: largest difference\n");
  for (const SunCheck& check : sun_checks()) {
    if (!check.met()) ++sun_missed;
    say(fmt::format("{:<44} {:>8.4f} {:<7} limit {:<7} {:<11} {}", check.quantity, check.difference,
                    check.unit, check.limit, check.worst, check.met() ? "met" : "NOT MET"));
  }

  const auto sum = [](const Tally& tally) {
    return fmt::format("{} as printed, {} where the paper contradicts itself, {} not met",
                       tally.met, tally.contradicted, tally.missed);
  };
  say(
      fmt::format("\nFAO-56 through the library: {}\nits own arithmetic: {}\nstation: {}\nsun: {} "
                  "not met",
                  sum(library), sum(arithmetic), station_met ? "met" : "not met", sun_missed));
  return library.missed + arithmetic.missed + sun_missed + (station_met ? 0 : 1) > 0 ? 1 : 0;
}

}  // namespace
}  // namespace wiltline::test

int main() {
  try {
    return wiltline::test::print_all();
  } catch (const std::exception& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return 1;
  }
}
