#include "choose_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "compare_answer.hpp"
#include "page/page.hpp"
#include "wiltline/questions/candidates.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

std::string too_small_text(const Planting& asked, bool us) {
  return fmt::format("no pot tried holds the {} of mix it needs at the least",
                     volume_text(least_mix_l(asked.crop, asked.plants), us));
}

std::string cell_reason(const ChartCell& cell) {
  if (cell.found == nullptr) return too_small_text(*cell.asked, false);
  const std::string why = reason_text(cell.found->choice, false);
  if (cell.found->enough) return why;
  return fmt::format("none of {} pots; {}, which comes nearest, {}", cell.found->tried,
                     cell.found->choice.planting->pot.name, why);
}

using enum Quantity;
using C = const ChartCell&;

/// What `get` takes of the pot; empty without one.
template <typename Get>
auto of_pot(C cell, Get get) {
  using Value = decltype(std::optional(get(*cell.pot())));
  return cell.pot() != nullptr ? Value(get(*cell.pot())) : Value();
}

constexpr Column<ChartCell> chart_list[]{
    {"place", "weather record", [](C cell) { return cell.record->name(); }},
    {"crop", "crop", [](C cell) { return cell.asked->crop.name; }},
    {"planted", "planting day", [](C cell) { return written(cell.asked->planted); }},
    {"routine", "when it is watered", [](C cell) { return cell.asked->routine.text; }},
    {"pot", "the smallest pot that was enough; empty if none was",
     [](C cell) { return of_pot(cell, [](const auto& pot) { return pot.planting->pot.name; }); }},
    {"mix_l", litres, 2, "mix in it",
     [](C cell) { return of_pot(cell, [](const auto& pot) { return pot.worst.summary.mix_l; }); }},
    {"share", number, 3, "share of the summers in which it did not wilt once settled",
     [](C cell) { return cell.pot() ? std::optional(cell.found->share()) : std::nullopt; }},
    {"lasts_days", days, 2,
     "how long it lasts at its peak: longest_safe_gap_days of wiltline compare",
     [](C cell) {
       return of_pot(cell, [](const auto& pot) { return pot.longest_safe_gap_days; });
     }},
    {"reason", "what became of that pot, or of the one that came nearest",
     [](C cell) { return cell_reason(cell); }},
};

constexpr Column<ChartCell> more_list[]{
    {"plants", "plants in the pot", [](C cell) { return cell.asked->plants; }},
    {"mix", "mix", [](C cell) { return cell.asked->mix.name; }},
    {"spot", "where it stands", [](C cell) { return cell.asked->spot.name; }},
    {"summers", "plantings run, one a year",
     [](C cell) { return cell.found ? std::optional(cell.found->choice.summers) : std::nullopt; }},
    {"settling_wilting_days",
     "most wilting days of that pot in a summer before roots hold half of the mix: counted apart",
     [](C cell) {
       return of_pot(cell, [](const auto& pot) { return pot.wilting_days_settling; });
     }},
    {"settled", "day from which they do, latest of the summers",
     [](C cell) { return of_pot(cell, [](const auto& pot) { return pot.settled; }); }},
};

/// A row of a table for people: one crop and planting day, a cell for each routine.
using ChartLine = std::span<const ChartCell>;

std::string cell_text(C cell, bool us) {
  const ComparedChoice* const pot = cell.pot();
  if (pot == nullptr) return "-";
  return fmt::format(
      "{}{}{}", volume_text(pot->worst.summary.mix_l, us),
      pot->longest_safe_gap_days ? fmt::format(", {} d", rough(*pot->longest_safe_gap_days)) : "",
      pot->wilting_days_settling > 0 ? "*" : "");
}

std::string table_text(std::span<const ChartCell> cells, const ChartTerms& terms, bool us) {
  using enum Side;
  std::vector<TextColumn<ChartLine>> columns;
  columns.push_back({"crop", left, [](const ChartLine& line) {
                       return crop_in_words(line[0].asked->crop.name);
                     }});
  if (terms.plants) {
    columns.push_back({"plants", right, [](const ChartLine& line) {
                         return fmt::format("{}", line[0].asked->plants);
                       }});
  }
  columns.push_back({"planted", left, [](const ChartLine& line) {
                       return planted_in_words(line[0].asked->planted);
                     }});
  for (std::size_t i = 0; i < terms.routines; ++i) {
    columns.push_back({wrapped(printable(cells[i].asked->routine.text), 12, 0), left,
                       [i, us](const ChartLine& line) { return cell_text(line[i], us); }});
  }
  std::vector<ChartLine> lines;
  for (std::size_t i = 0; i < cells.size(); i += terms.routines) {
    lines.push_back(cells.subspan(i, terms.routines));
  }
  return text_table(columns, lines);
}

/// Which pots the table's amounts are.
std::string pots_text(std::span<const ChartCell> cells, bool us) {
  std::map<double, std::string> names;
  for (C cell : cells) {
    if (cell.pot() == nullptr) continue;
    const double mix_l = cell.pot()->worst.summary.mix_l;
    names.emplace(mix_l, fmt::format("{} ({})", printable(cell.pot()->planting->pot.name),
                                     volume_text(mix_l, us)));
  }
  std::vector<std::string> all;
  for (auto& [mix_l, name] : names) all.push_back(std::move(name));
  return paragraph_of("Pots", all);
}

/// The cells without a pot, by routine: the pot that came nearest and how far it fell short.
std::string shortfall_text(std::span<const ChartCell> cells, std::size_t routine,
                           std::size_t routines, bool us) {
  std::vector<std::string> all;
  for (std::size_t i = routine; i < cells.size(); i += routines) {
    C cell = cells[i];
    if (cell.pot() != nullptr) continue;
    const std::string who = planting_in_words(*cell.asked);
    if (cell.found == nullptr) {
      all.push_back(fmt::format("{}: {}", who, too_small_text(*cell.asked, us)));
      continue;
    }
    const ComparedChoice& nearest = cell.found->choice;
    all.push_back(fmt::format("{}: {}, {}{}", who, printable(nearest.planting->pot.name),
                              days_in_words(nearest.worst.summary.wilting_days),
                              only_young(nearest) ? ", all before its roots fill it" : ""));
  }
  return paragraph_of(
      fmt::format(
          "Not enough if watered {} (pot that came nearest, wilting days in its worst summer)",
          printable(cells[routine].asked->routine.text)),
      all);
}

/// Bigger pots that are not enough although the one in the chart is; empty without any.
std::string bigger_text(std::span<const ChartCell> cells) {
  std::vector<std::string> all;
  for (C cell : cells) {
    if (cell.pot() == nullptr || cell.found->bigger_not_enough.empty()) continue;
    std::vector<std::string> pots;
    for (const Planting* bigger : cell.found->bigger_not_enough) {
      pots.push_back(printable(bigger->pot.name));
    }
    all.push_back(fmt::format("{}, {}: {}", planting_in_words(*cell.asked),
                              printable(cell.asked->routine.text), fmt::join(pots, ", ")));
  }
  return paragraph_of(
      "Bigger and yet not enough, as a taller mix drains further and a bigger pot grows a bigger "
      "plant (wiltline compare has each)",
      all);
}

/// What to do for those that wilt in their first weeks, and for how long at most; empty without
/// any.
std::string first_weeks_of(std::span<const ChartCell> cells) {
  constexpr int days_a_week = 7;
  int longest_days = 0;
  for (C cell : cells) {
    const ComparedChoice* const pot = cell.pot();
    if (pot == nullptr || pot->wilting_days_settling == 0) continue;
    longest_days = std::max(longest_days, pot->worst.summary.settling_in.days);
  }
  if (longest_days == 0) return "";
  return paragraph(fmt::format(
      "*: enough only from when roots hold half the mix, at most {} weeks after planting. Until "
      "then water it daily; if you come daily already, shade it or come once more. {}",
      (longest_days + days_a_week - 1) / days_a_week, young_roots_text()));
}

}  // namespace

std::vector<ChartCell> cells_of(const PotChart& chart) {
  std::vector<ChartCell> cells;
  std::size_t next = 0;
  for (const Planting& asked : chart.asked) {
    const bool found =
        next < chart.cells.size() && chart.cells[next].choice.planting->name == asked.name;
    cells.push_back({&chart.place->record(), &asked, found ? &chart.cells[next++] : nullptr});
  }
  return cells;
}

Table<ChartCell> choose_table() {
  Table<ChartCell> table;
  table.add(chart_list);
  table.section("Appended");
  table.add(more_list);
  return table;
}

std::string planting_in_words(const Planting& planting) {
  const std::string plants =
      planting.plants == usual_plants(planting.crop) ? "" : fmt::format("{} ", planting.plants);
  return fmt::format("{}{} of {}", plants, crop_in_words(planting.crop.name),
                     planted_in_words(planting.planted));
}

void add_chart_pictures(const std::vector<PotChart>& charts, const ChartTerms& terms, bool us,
                        Report& report) {
  report.title = "The pot for each crop";
  std::size_t found = 0;
  std::size_t asked = 0;
  for (const PotChart& chart : charts) {
    const std::vector<ChartCell> cells = cells_of(chart);
    std::vector<std::string> columns{"crop and planting"};
    std::vector<std::vector<std::string>> rows;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const ChartCell& cell = cells[i];
      if (i < terms.routines) columns.push_back(cell.asked->routine.text);
      if (i % terms.routines == 0) rows.push_back({planting_in_words(*cell.asked)});
      ++asked;
      found += cell.pot() != nullptr ? 1 : 0;
      rows.back().push_back(cell.pot() == nullptr ? "none is enough"
                                                  : fmt::format("{} · {}", cell_text(cell, us),
                                                                cell.pot()->planting->pot.name));
    }
    report.pictures.push_back(grid_picture(
        {fmt::format("Smallest pot that was enough, {}", chart.place->record().name()),
         fmt::format("For each way of watering: mix in the pot, how long it lasts at its peak, and "
                     "which pot. Enough: no wilting once settled in, in {:.0f} % of the summers.",
                     100.0 * terms.share)},
        columns, rows));
  }
  report.answer =
      fmt::format("In {} of {} cases a pot is enough; tried: {}.", found, asked, terms.pots);
}

std::string choose_text(const std::vector<PotChart>& charts, const ChartTerms& terms,
                        const Report& report, bool us) {
  std::string out;
  for (const PotChart& chart : charts) {
    const std::vector<ChartCell> cells = cells_of(chart);
    out += fmt::format("{}{}\n", out.empty() ? "" : "\n", printable(chart.place->record().name()));
    if (!cells.empty()) {
      const Planting& any = *cells.front().asked;
      out += fmt::format("{}, {}, {}\n\n", printable(any.mix.name), printable(any.spot.name),
                         printable(terms.pots));
      out += table_text(cells, terms, us) + '\n' + pots_text(cells, us);
      for (std::size_t i = 0; i < terms.routines; ++i) {
        out += shortfall_text(cells, i, terms.routines, us);
      }
      out += bigger_text(cells) + first_weeks_of(cells);
    }
    if (!chart.not_plantable.empty()) {
      out += paragraph(fmt::format("No month here suits {} (--plantings says when you plant).",
                                   fmt::join(chart.not_plantable, ", ")));
    }
  }
  out += '\n';
  out += paragraph(fmt::format(
      "In a cell: the mix of the smallest pot that was enough in at least {:g} % of the past "
      "summers, and the days it lasts at its peak without rain until leaves droop; -: none was. "
      "Enough: watered like this, a plant of the usual size wilts on no day of a summer once roots "
      "hold half the mix. A past summer is no promise for the next.",
      100.0 * terms.share));
  out += paragraph(heavy_pots_text(us));
  return out + notes_text(report);
}

}  // namespace wiltline::cli
