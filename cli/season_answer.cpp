#include "season_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <set>

#include "in_order.hpp"
#include "last_days.hpp"
#include "remedies.hpp"
#include "uncertain.hpp"
#include "wiltline/tables/season_columns.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

namespace of_planting = tables::of_planting;

constexpr Column<SeasonResult> year_list[]{
    {"year", "year of planting", [](const SeasonResult& season) { return year_of(season.first); }},
};

using R = const std::vector<Remedy>&;
constexpr Column<std::vector<Remedy>> remedy_list[]{
    {"remedy",
     "smallest single change that leaves no wilting or dry day in any season here; empty if "
     "none does or none is needed",
     [](R remedies) { return first_remedy(remedies); }},
    {"remedies",
     "changes that help, joined by ;, with wilting days of all seasons here before and after",
     [](R remedies) { return remedies_in_a_cell(remedies); }},
};

/// Of the rows with one `key` the one that is highest by `height`, in the order in which the keys
/// come; rows that do not belong are left out.
template <typename Row, typename Key, typename Height, typename Belongs>
std::vector<const Row*> highest_of_each(const std::vector<Row>& rows, const Key& key,
                                        const Height& height, const Belongs& belongs) {
  std::vector<const Row*> highest;
  for (const Row& row : rows) {
    if (!belongs(row)) continue;
    const auto known =
        std::ranges::find_if(highest, [&](const Row* other) { return key(*other) == key(row); });
    if (known == highest.end()) {
      highest.push_back(&row);
    } else if (height(row) > height(**known)) {
      *known = &row;
    }
  }
  return highest;
}

/// All rows belong.
constexpr auto all = [](const auto&) { return true; };

/// "plain (3 days); mulched (1 day)": plantings and their days of a kind, each by its worst season;
/// empty without any.
template <typename Days>
std::string worst_days(const std::vector<Run>& runs, const Days& days_of) {
  std::vector<std::pair<std::string, int>> worst;
  for (const Run& run : runs) {
    const int days = days_of(run);
    if (days == 0) continue;
    int& most = entry(worst, printable(run.result.planting->name));
    most = std::max(most, days);
  }
  std::string told;
  for (const auto& [name, days] : worst) {
    told += fmt::format("{}{} ({})", told.empty() ? "" : "; ", name, days_in_words(days));
  }
  return told;
}

/// Sentences on what besides the litres stands out, one a kind, naming the plantings and their
/// days.
std::vector<std::string> care_sentences(const std::vector<Run>& runs) {
  static constexpr std::pair<int CareDays::*, std::string_view> kinds[]{
      {&CareDays::frost, "Too cold for the crop"},
      {&CareDays::too_warm, "Too hot for weeks, so that growth or quality falls off"},
      {&CareDays::poor_fruit_set, "Too hot or too cold for flowers to set fruit well"},
      {&CareDays::blossom_end_rot, "So dry while fruit grew that it may rot at the blossom end"},
      {&CareDays::hot_roots, "Dark pot in full sun in the heat: shade its side"},
      {&CareDays::sheds_water,
       "So dry that water ran off the mix: soak, wait twenty minutes, soak again"},
      {&CareDays::root_only,
       "Mornings on which a finger in the top felt moist but the roots were short of water"},
  };
  std::vector<std::string> sentences;
  const auto say = [&](std::string_view what, const std::string& who) {
    if (!who.empty()) sentences.push_back(fmt::format("{}: {}.", what, who));
  };
  for (const auto& kind : kinds) {
    say(kind.second,
        worst_days(runs, [&](const Run& run) { return run.result.summary.care.*kind.first; }));
  }
  say("Looked at and not watered, then short of water before the next visit, as on a day hotter "
      "than the last, or under a mulch that keeps the top moist",
      worst_days(runs, [](const Run& run) { return run.left_short; }));
  return sentences;
}

/// When the seasons end and why, where the garden does not say so itself; and who is kept small.
std::vector<std::string> life_sentences(const std::vector<Run>& runs) {
  std::vector<std::string> sentences;
  std::vector<LastDay> ends;
  std::vector<std::string> picked;
  for (const Run& run : runs) {
    const Planting& planting = *run.result.planting;
    const EndedBy reason = run.result.summary.ended_by;
    if (reason != EndedBy::by_garden_row) {
      ends.push_back({planting.name, run.result.first, run.result.last, reason});
    }
    if (planting.leaf_by_leaf) add_once(picked, printable(planting.name));
  }
  if (!ends.empty()) sentences.push_back(last_days_text(ends, true));
  if (!picked.empty()) {
    sentences.push_back(fmt::format("Picked leaf by leaf, and so kept smaller than full size: {}.",
                                    fmt::join(picked, ", ")));
  }
  return sentences;
}

/// What plantings that wilted while settling in need in their first weeks: of each the season with
/// most such days.
std::vector<std::string> first_weeks_sentences(const std::vector<Run>& runs) {
  const auto wilting = [](const Run& run) { return run.result.summary.settling_in.wilting_days; };
  const auto worst = highest_of_each(
      runs, [](const Run& run) { return std::string_view(run.result.planting->name); }, wilting,
      [&](const Run& run) { return wilting(run) > 0; });
  std::vector<std::string> sentences;
  for (const bool daily : {false, true}) {
    std::string pots;
    for (const Run* run : worst) {
      const SeasonResult& result = run->result;
      if (comes_daily(result.planting->routine) != daily) continue;
      const SettlingIn& apart = result.summary.settling_in;
      pots += fmt::format(
          "{}{} {} ({} wilting{})", pots.empty() ? "" : "; ", printable(result.planting->name),
          apart.settled ? "until " + date_in_words(*apart.settled) : std::string("to its end"),
          days_in_words(apart.wilting_days),
          several_seasons(runs) ? fmt::format(" in {}, the worst season", year_of(result.first))
                                : "");
    }
    if (pots.empty()) continue;
    sentences.push_back(
        fmt::format("First weeks, until roots hold half the mix, counted apart; {}: {}.",
                    daily ? "shade them or water more often than daily"
                          : "water daily and, where that is not enough, shade them",
                    pots));
  }
  if (!sentences.empty()) sentences.push_back(young_roots_text());
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
  return fmt::format("{} to {}", full_date_in_words(first), full_date_in_words(last));
}

}  // namespace

Table<SeasonRow> season_table(const Layout& layout) {
  const auto planting = [](const SeasonRow& row) { return row.run->result.planting; };
  const auto season = [](const SeasonRow& row) { return &row.run->result; };
  const auto summary = [](const SeasonRow& row) { return &row.run->result.summary; };
  Table<SeasonRow> table;
  table.add({of_planting::name, of_planting::crop, of_planting::pot}, planting);
  table.add(tables::summary_columns, summary);
  table.section("Appended (year where planted repeats, weather where several are given, then)");
  if (layout.year) table.add(year_list, season);
  if (layout.weather) {
    table.add(tables::weather_columns, [](const SeasonRow& row) { return row.run->record; });
  }
  table.add(tables::care_columns, summary);
  table.section("Appended by --remedies");
  if (layout.remedies) table.add(remedy_list, &SeasonRow::remedies);
  table.section("Appended by --uncertain");
  if (layout.spreads) table.add(tables::season_spread_columns, &SeasonRow::spread);
  table.section("Appended behind them");
  table.add(tables::end_columns, season);
  table.section("Appended last");
  table.add(tables::settling_columns, summary);
  return table;
}

Table<LedgerRow> ledger_table(const Layout& layout) {
  Table<LedgerRow> table("Columns of --ledger");
  table.add({of_planting::name}, [](const LedgerRow& row) { return row.run->result.planting; });
  table.add(tables::ledger_columns, &LedgerRow::line);
  table.section("Appended");
  if (layout.weather) {
    table.add(tables::weather_columns, [](const LedgerRow& row) { return row.run->record; });
  }
  table.add(tables::ledger_care_columns, [](const LedgerRow& row) { return &row.line->care; });
  return table;
}

bool several_seasons(const std::vector<Run>& runs) {
  std::set<const Planting*> seen;
  return std::ranges::any_of(
      runs, [&](const Run& run) { return !seen.insert(run.result.planting).second; });
}

std::string run_name(const Run& run, const std::vector<Run>& runs) {
  const auto any = [&](const auto& is) { return std::ranges::any_of(runs, is); };
  std::string name = shown_name(*run.result.planting);
  if (any([&](const Run& other) {
        return other.result.planting == run.result.planting && other.record == run.record &&
               other.result.first != run.result.first;
      })) {
    name += fmt::format(", {}", year_of(run.result.first));
  }
  if (any([&](const Run& other) { return other.record != run.record; })) {
    // The folder says nothing of the place, and pictures have little room.
    name += ", " + printable(std::filesystem::path(run.record->name()).stem().string());
  }
  return name;
}

std::string season_table_text(const std::vector<Run>& runs, const Layout& layout,
                              const Report& report, bool us) {
  using enum Side;
  const auto season = [](const Run& run) -> const SeasonSummary& { return run.result.summary; };
  std::set<int> years;
  double total_l = 0.0;
  bool saucers = false;
  for (const Run& run : runs) {
    years.insert(year_of(run.result.first));
    total_l += season(run).watered_l * run.result.planting->count;
    saucers = saucers || run.result.planting->saucer_l > 0.0;
  }
  std::vector<Run> thirstiest;
  for (const Run* run : highest_of_each(
           runs, [](const Run& one) { return std::pair(one.result.planting, one.record); },
           [&](const Run& one) { return season(one).peak_use_l_day; }, all)) {
    thirstiest.push_back(*run);
  }
  const TextColumn<Run> name{"planting", left,
                             [](const Run& run) { return shown_name(*run.result.planting); }};
  const TextColumn<Run> weather{
      "weather", left, [](const Run& run) { return shortened(printable(run.record->name()), 20); }};
  std::vector<TextColumn<Run>> pots{
      name,
      {"pot", left, [](const Run& run) { return printable(run.result.planting->pot.name); }},
      {"holds for\nthe plant", right,
       [&](const Run& run) { return volume_text(season(run).available_l, us); }},
      {"water once\nit has used", right,
       [&](const Run& run) { return volume_text(season(run).refill_at_l, us); }},
      {"uses in its\nthirstiest week,\na day", right,
       [&](const Run& run) { return use_text(season(run).peak_use_l_day, us); }}};
  std::vector<TextColumn<Run>> seasons{name};
  if (years.size() > 1) {
    seasons.push_back({"year", right, [](const Run& run) {
                         return fmt::format("{}", year_of(run.result.first));
                       }});
  }
  const std::vector<TextColumn<Run>> counts{
      {"times\nwatered", right,
       [&](const Run& run) { return fmt::format("{}", season(run).waterings); }},
      {"a week\nat peak", right,
       [&](const Run& run) { return rough(season(run).waterings_week_peak); }},
      {"given", right, [&](const Run& run) { return volume_text(season(run).watered_l, us); }},
      {"stress\ndays", right,
       [&](const Run& run) { return count_or_dash(season(run).stressed_days); }},
      {"wilting\ndays", right,
       [&](const Run& run) { return count_or_dash(season(run).wilting_days); }},
      {"dry\ndays", right, [&](const Run& run) { return count_or_dash(season(run).dry_days); }},
      {"first\ndry day", right,
       [&](const Run& run) {
         return season(run).first_dry ? date_in_words(*season(run).first_dry) : "-";
       }},
      {"longest\ngap, days", right,
       [&](const Run& run) { return fmt::format("{:.1f}", season(run).longest_gap_days); }}};
  seasons.insert(seasons.end(), counts.begin(), counts.end());
  if (layout.weather) {
    pots.push_back(weather);
    seasons.push_back(weather);
  }

  std::string out = period_text(runs) + "\n\n" + text_table(pots, thirstiest) + '\n' +
                    text_table(seasons, runs) + '\n';
  const auto say = [&out](const std::string& sentence) { out += paragraph(sentence); };
  std::set<std::string> dry;
  std::set<std::string> wilting;
  for (const Run& run : runs) {
    const std::string planting = printable(run.result.planting->name);
    if (season(run).dry_days > 0) dry.insert(planting);
    if (season(run).wilting_days > 0) wilting.insert(planting);
  }
  for (const std::string& planting : dry) wilting.erase(planting);
  out += paragraph_of("Went dry", {dry.begin(), dry.end()});
  out += paragraph_of("Wilted but never went dry", {wilting.begin(), wilting.end()});
  if (dry.empty() && wilting.empty()) say("No pot wilted or went dry once settled in.");
  for (const std::string& sentence : first_weeks_sentences(runs)) say(sentence);
  say(fmt::format("All pots together were given about {}{}.", volume_text(total_l, us),
                  several_seasons(runs) ? ", the sum of all seasons shown" : ""));
  for (const std::string& sentence : life_sentences(runs)) say(sentence);
  const std::vector<std::string> care = care_sentences(runs);
  if (!care.empty()) {
    out += years.size() > 1 || layout.weather ? "\nAlso noticed (days of the worst season):\n"
                                              : "\nAlso noticed:\n";
  }
  for (const std::string& sentence : care) say(sentence);
  say("Soluble feed: every 7 to 14 days from about three weeks after planting, less often for "
      "small plants; the label comes first.");
  out += '\n';
  say(stress_wilting_dry_text() +
      " A day counts if it got there at any hour, from when roots hold half the mix.");
  say("Amounts are for one pot of each row. \"Water once it has used\" is for a full-grown plant: "
      "used more than that, its growth slows. A week at peak: waterings in the thirstiest weeks. "
      "Longest gap: the longest the pot went between waterings or good rains.");
  say(two_figures_text());
  if (saucers) say(standing_water_text());
  return out + notes_text(report);
}

std::string remedies_text(const std::vector<Run>& runs, const RemediesOf& remedies, bool us) {
  std::string out = '\n' + paragraph(fmt::format(
                               "What would have helped in the same weather: the smallest change "
                               "that is enough, and smaller ones{}.",
                               several_seasons(runs) ? "; days of all seasons" : ""));
  std::set<const Planting*> said;
  for (const Run& run : runs) {
    const auto found = remedies.find(run.result.planting);
    if (found == remedies.end() || !said.insert(found->first).second) continue;
    say_remedies(printable(found->first->name), found->second, us,
                 [&out](const std::string& sentence) { out += paragraph(sentence); });
  }
  if (said.empty()) out += "No pot wilted, so none needs one.\n";
  const bool saucer = std::ranges::any_of(
      remedies, [](const auto& of_planting) { return offers_saucer(of_planting.second); });
  const bool in_garden = std::ranges::any_of(runs, [](const Run& run) {
    return run.result.planting->saucer_l > 0.0;  // said already
  });
  if (saucer && !in_garden) out += paragraph(standing_water_text());
  return out;
}

std::string spreads_text(const std::vector<SeasonRow>& rows, const DrawOptions& draws, bool us) {
  std::string out = '\n' + paragraph(draws_text(draws));
  const auto worst = highest_of_each(
      rows, [](const SeasonRow& row) { return row.run->result.planting; },
      [](const SeasonRow& row) {
        return std::pair(row.spread->wilting_days.p90, row.spread->watered_l.p90);
      },
      all);
  for (const SeasonRow* row : worst) {
    const SeasonResult& result = row->run->result;
    const std::string season =
        rows.size() > worst.size() ? fmt::format(" in {}", year_of(result.first)) : "";
    out += paragraph(fmt::format("{}{}: {}.", printable(result.planting->name), season,
                                 spread_text(*row->spread, draws, us)));
  }
  return out;
}

}  // namespace wiltline::cli
