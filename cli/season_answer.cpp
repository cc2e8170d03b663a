#include "season_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>
#include <tuple>

#include "remedies.hpp"
#include "season_cells.hpp"
#include "shared_options.hpp"
#include "uncertain.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

std::string care_text(const CareFlags& care) {
  std::string text;
  const auto add = [&text](bool flag, std::string_view name) {
    if (!flag) return;
    if (!text.empty()) text += '+';
    text += name;
  };
  add(care.feed, "feed");
  add(care.frost, "frost");
  add(care.too_warm, "too-warm");
  add(care.poor_fruit_set, "poor-fruit-set");
  add(care.blossom_end_rot, "blossom-end-rot");
  add(care.hot_roots, "hot-roots");
  add(care.sheds_water, "sheds-water");
  add(care.finger_only, "finger-only");
  add(care.root_only, "root-only");
  return text.empty() ? "-" : text;
}

Cell clock_cell(const std::optional<double>& hours) {
  return hours ? Cell(clock_string(*hours)) : Cell();
}

/// Sentences on what besides the litres stands out, one a kind, naming the plantings and their
/// days.
std::vector<std::string> care_sentences(const std::vector<Run>& runs) {
  struct Kind {
    int CareDays::*days;
    std::string_view sentence;
  };
  static constexpr std::array<Kind, 7> kinds{{
      {&CareDays::frost, "Colder than the crop bears (days)"},
      {&CareDays::too_warm,
       "Weeks above the crop's heat limit, growth or quality falls off (days)"},
      {&CareDays::poor_fruit_set, "Too hot or too cold for flowers to set well (days)"},
      {&CareDays::blossom_end_rot, "So dry while fruit grew that it may rot at its end (days)"},
      {&CareDays::hot_roots, "Dark pot in full sun on hot days, shade its side (days)"},
      {&CareDays::sheds_water,
       "Dried so far that the mix shed water: soak, wait twenty minutes, soak again (days)"},
      {&CareDays::root_only,
       "The finger test would have missed mornings on which the roots were short (days)"},
  }};
  std::vector<std::string> sentences;
  for (const Kind& kind : kinds) {
    // The worst season of each planting stands for it.
    std::vector<std::pair<std::string, int>> worst;
    for (const Run& run : runs) {
      const int days = run.result.summary.care.*kind.days;
      if (days == 0) continue;
      const std::string name = printable(run.result.planting->name);
      const auto known = std::find_if(worst.begin(), worst.end(),
                                      [&](const auto& entry) { return entry.first == name; });
      if (known == worst.end()) {
        worst.emplace_back(name, days);
      } else {
        known->second = std::max(known->second, days);
      }
    }
    if (worst.empty()) continue;
    std::string text = fmt::format("{}: ", kind.sentence);
    for (std::size_t i = 0; i < worst.size(); ++i) {
      text += fmt::format("{}{} {}", i == 0 ? "" : ", ", worst[i].first, worst[i].second);
    }
    sentences.push_back(text + ".");
  }
  return sentences;
}

/// What plantings that wilted while settling in need in their first weeks: of each the season with
/// most such days.
std::vector<std::string> first_weeks_sentences(const std::vector<Run>& runs) {
  std::vector<const SeasonResult*> worst;
  for (const Run& run : runs) {
    if (run.result.summary.settling_in.wilting_days == 0) continue;
    const auto known = std::find_if(worst.begin(), worst.end(), [&](const SeasonResult* other) {
      return other->planting->name == run.result.planting->name;
    });
    if (known == worst.end()) {
      worst.push_back(&run.result);
    } else if (run.result.summary.settling_in.wilting_days >
               (*known)->summary.settling_in.wilting_days) {
      *known = &run.result;
    }
  }
  std::vector<std::string> sentences;
  for (const SeasonResult* result : worst) {
    const SettlingIn& apart = result->summary.settling_in;
    sentences.push_back(fmt::format("{}: {} ({} wilting until then, counted apart).",
                                    printable(result->planting->name), first_weeks(apart.settled),
                                    days_in_words(apart.wilting_days)));
  }
  return sentences;
}

/// The days all seasons together span.
std::string period_text(const std::vector<Run>& runs) {
  Date first = runs.front().result.first;
  Date last = runs.front().result.last;
  for (const Run& run : runs) {
    first = std::min(first, run.result.first);
    last = std::max(last, run.result.last);
  }
  return fmt::format("{} to {}", to_string(first), to_string(last));
}

}  // namespace

std::vector<Cell> summary_row(const Run& run, const Layout& layout) {
  const Planting& planting = *run.result.planting;
  std::vector<Cell> row{planting.name, planting.crop.name, planting.pot.name};
  add_summary_cells(run.result.summary, row);
  if (layout.year) row.emplace_back(static_cast<long>(year_of(run.result.first)));
  if (layout.weather) row.emplace_back(run.record->name());
  add_care_cells(run.result.summary, row);
  return row;
}

void add_remedy_cells(const Run& run, const RemediesOf& remedies, std::vector<Cell>& row) {
  const auto found = remedies.find(run.result.planting);
  const auto cell = [](std::string text) { return text.empty() ? Cell() : Cell(std::move(text)); };
  const std::vector<Remedy> none;
  const std::vector<Remedy>& its = found == remedies.end() ? none : found->second;
  row.push_back(cell(first_remedy(its)));
  row.push_back(cell(remedies_in_a_cell(its)));
}

void add_ledger_rows(const Run& run, const Layout& layout, Report& report) {
  for (const LedgerLine& line : run.result.ledger) {
    std::vector<Cell> row{run.result.planting->name,
                          to_string(line.date),
                          line.et0_mm,
                          line.canopy_m2,
                          line.demand_l,
                          line.transpired_l,
                          line.evaporated_l,
                          line.rain_l,
                          line.watered_l,
                          line.drained_l,
                          line.store_l,
                          line.depletion_l,
                          line.refill_at_l,
                          line.ks,
                          clock_cell(line.stressed_at_h),
                          clock_cell(line.dry_at_h)};
    if (layout.weather) row.emplace_back(run.record->name());
    row.emplace_back(care_text(line.care));
    report.rows.push_back(std::move(row));
  }
}

std::string season_table_text(const std::vector<Run>& runs, const Layout& layout,
                              const Report& report, bool us) {
  const std::string litre(unit_text(Quantity::litres, us));
  const auto volume = [us](double value) { return in_units(Quantity::litres, value, us); };
  std::vector<TextTable::Heading> headings{{"\n\nplanting", true},
                                           {"\n\npot", true},
                                           {"usable\nwater,\n" + litre},
                                           {"water\nafter\nlosing"},
                                           {"busiest\nweek,\n" + litre + " a day"},
                                           {"\n\nwatered"},
                                           {"a week\nat\npeak"},
                                           {"days\nstres-\nsed"},
                                           {"days\nwilt-\ning"},
                                           {"\ndays\ndry"},
                                           {"\nfirst\ndry day"},
                                           {"longest\ngap,\ndays"}};
  const bool several_years = [&runs] {
    std::set<int> years;
    for (const Run& run : runs) years.insert(year_of(run.result.first));
    return years.size() > 1;
  }();
  if (several_years) headings.insert(headings.begin() + 1, TextTable::Heading{"\n\nyear"});
  if (layout.weather) headings.push_back({"\n\nweather", true});
  TextTable table(std::move(headings));
  double total_l = 0.0;
  for (const Run& run : runs) {
    const Planting& planting = *run.result.planting;
    const SeasonSummary& s = run.result.summary;
    total_l += s.watered_l * planting.count;
    std::vector<std::string> row{shown_name(planting),
                                 printable(planting.pot.name),
                                 rough(volume(s.available_l)),
                                 rough(volume(s.refill_at_l)),
                                 rough_range(volume(s.peak_use_l_day)),
                                 fmt::format("{}", s.waterings),
                                 rough(s.waterings_week_peak),
                                 count_or_dash(s.stressed_days),
                                 count_or_dash(s.wilting_days),
                                 count_or_dash(s.dry_days),
                                 s.first_dry ? date_in_words(*s.first_dry) : "-",
                                 fmt::format("{:.1f}", s.longest_gap_days)};
    if (several_years) row.insert(row.begin() + 1, fmt::format("{}", year_of(run.result.first)));
    if (layout.weather) row.push_back(printable(run.record->name()));
    table.add(std::move(row));
  }

  std::string out = period_text(runs) + "\n\n" + table.text() + '\n';
  const auto say = [&out](const std::string& text) { out += wrapped(text, 100, 2) + '\n'; };
  std::set<std::string> dry;
  std::set<std::string> wilting;
  for (const Run& run : runs) {
    const std::string name = printable(run.result.planting->name);
    if (run.result.summary.dry_days > 0)
      dry.insert(name);
    else if (run.result.summary.wilting_days > 0)
      wilting.insert(name);
  }
  for (const std::string& name : dry) wilting.erase(name);
  if (!dry.empty()) say(fmt::format("Went dry: {}.", fmt::join(dry, ", ")));
  if (!wilting.empty())
    say(fmt::format("Wilted but never went dry: {}.", fmt::join(wilting, ", ")));
  if (dry.empty() && wilting.empty()) say("No pot wilted or went dry once settled in.");
  for (const std::string& sentence : first_weeks_sentences(runs)) say(sentence);
  say(fmt::format("All pots together were given about {} {}.", rough(volume(total_l)), litre));
  for (const std::string& sentence : care_sentences(runs)) say(sentence);
  say("Soluble feed: every 7 to 14 days from about three weeks after planting, less often for "
      "small "
      "plants; the label comes first.");
  out += '\n';
  say("Stressed: growth slows. Wilting: leaves droop by day and usually recover. Dry: roots cannot "
      "draw "
      "enough, expect damage. A day counts if it got there at any hour, from when roots hold half "
      "the mix.");
  say("Amounts are for one pot of each row. Water after losing: the refill threshold at full size. "
      "Use in the busiest week is a range because plant size, shelter and mix vary; weigh a pot to "
      "narrow it.");
  for (const std::string& note : report.notes) say(printable(note));
  say(caution_text("you water"));
  return out;
}

std::string remedies_text(const std::vector<Run>& runs, const RemediesOf& remedies) {
  std::string out = "\nSingle changes, each run again over the same weather, the smallest first:\n";
  std::set<const Planting*> said;
  for (const Run& run : runs) {
    const auto found = remedies.find(run.result.planting);
    if (found == remedies.end() || !said.insert(found->first).second) continue;
    say_remedies(printable(found->first->name), found->second,
                 [&out](const std::string& text) { out += wrapped(text, 100, 2) + '\n'; });
  }
  if (said.empty()) out += "No pot wilted, so none needs one.\n";
  return out;
}

std::string spreads_text(const std::vector<Run>& runs, const Spreads& spreads, bool us) {
  std::string out = '\n' + wrapped(draws_text(*spreads.draws), 100, 2) + '\n';
  std::map<const Planting*, std::size_t> worst;
  std::vector<const Planting*> order;
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const auto [entry, is_new] = worst.emplace(runs[i].result.planting, i);
    if (is_new) order.push_back(runs[i].result.planting);
    const auto key = [&](std::size_t run) {
      const SeasonSpread& spread = spreads.of_runs[run];
      return std::tuple(spread.wilting_days.p90, spread.watered_l.p90);
    };
    if (key(i) > key(entry->second)) entry->second = i;
  }
  const bool several = runs.size() > order.size();
  for (const Planting* planting : order) {
    const std::size_t run = worst.at(planting);
    const std::string season =
        several ? fmt::format(" in {}", year_of(runs[run].result.first)) : "";
    out += wrapped(fmt::format("{}{}: {}.", printable(planting->name), season,
                               spread_text(spreads.of_runs[run], *spreads.draws, us)),
                   100, 2) +
           '\n';
  }
  return out;
}

}  // namespace wiltline::cli
