#include "compare_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "in_order.hpp"
#include "last_days.hpp"
#include "page/page.hpp"
#include "weather_options.hpp"
#include "wiltline/questions/candidates.hpp"
#include "wiltline/tables/choice_columns.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

/// What a choice that wilts while it settles in needs until then; empty for others.
std::string first_weeks_text(const ComparedChoice& choice) {
  return choice.wilting_days_settling == 0
             ? ""
             : "; " + first_weeks(choice.settled, choice.planting->routine);
}

using R = const CompareRow&;

constexpr Column<CompareRow> told_list[]{
    {"reason", "why it is enough or not, in words",
     [](R row) { return reason_text(*row.choice, row.several_records); }},
    {"name", "planting of the garden; empty without one",
     [](R row) { return row.of_garden ? std::optional(row.planting().name) : std::nullopt; }},
};

std::string comparison_text(const std::vector<ComparedChoice>& choices, const Differences& differ,
                            bool us) {
  using enum Side;
  using C = const ComparedChoice&;
  return text_table(
      shown_choice_columns<ComparedChoice>(
          differ,
          {{"mix", right, [&](C choice) { return volume_text(choice.worst.summary.mix_l, us); }},
           {"thirstiest\nweek,\na day", right,
            [&](C choice) { return use_text(choice.peak_use_l_day, us); }},
           {"times a\nweek\nat peak", right,
            [](C choice) { return rough(choice.waterings_week_peak); }},
           {"lasts,\ndays", right,
            [](C choice) {
              return choice.longest_safe_gap_days ? rough(*choice.longest_safe_gap_days) : "-";
            }},
           {"given,\nmean\nsummer", right,
            [&](C choice) { return volume_text(choice.watered_l, us); }},
           {"stress\ndays", right,
            [](C choice) { return count_or_dash(choice.worst.summary.stressed_days); }},
           {"wilting\ndays", right,
            [](C choice) { return count_or_dash(choice.worst.summary.wilting_days); }},
           {"dry\ndays", right,
            [](C choice) { return count_or_dash(choice.worst.summary.dry_days); }},
           {"enough", right, [](C choice) { return yes_no(choice.enough()); }}}),
      choices);
}

/// The least mix among those of a planting for which `belongs` is true.
template <typename Belongs>
const ComparedChoice* smallest(const std::vector<ComparedChoice>& choices, std::string_view name,
                               const Belongs& belongs) {
  const ComparedChoice* found = nullptr;
  for (const ComparedChoice& choice : choices) {
    if (choice.planting->name != name || !belongs(choice)) continue;
    if (found == nullptr || choice.worst.summary.mix_l < found->worst.summary.mix_l) {
      found = &choice;
    }
  }
  return found;
}

/// A choice and one that differs from it by a bigger pot alone, of no more porous wall.
struct Bigger {
  const ComparedChoice* small = nullptr;
  const ComparedChoice* big = nullptr;
};

/// The first two of a planting for which `worse` is true; null without any.
template <typename Worse>
Bigger bigger_where(const std::vector<ComparedChoice>& choices, std::string_view name,
                    const Worse& worse) {
  for (const ComparedChoice& big : choices) {
    if (big.planting->name != name) continue;
    for (const ComparedChoice& small : choices) {
      if (small.planting->name == name && small.planting->mix.name == big.planting->mix.name &&
          small.planting->spot.name == big.planting->spot.name &&
          small.planting->pot.wall.evaporation_share.value >=
              big.planting->pot.wall.evaporation_share.value &&
          plants_in_pot(*small.planting) == plants_in_pot(*big.planting) &&
          is_bigger(big.worst.summary.mix_l, small.worst.summary.mix_l) && worse(small, big)) {
        return {&small, &big};
      }
    }
  }
  return {};
}

/// What makes a bigger pot hold less for each litre it uses, as far as it does.
std::string why_less(const ComparedChoice& small, const ComparedChoice& big) {
  const Pot& before = small.planting->pot;
  const Pot& now = big.planting->pot;
  const PotShape little = before.mix_shape();
  const PotShape large = now.mix_shape();
  const auto wall_loss = [](const Pot& pot, const PotShape& mix) {
    return pot.wall.evaporation_share.value * mix.wall_area_m2();
  };
  const std::pair<bool, std::string_view> reasons[]{
      {now.mix_depth_cm() > before.mix_depth_cm(), "its mix is taller and drains further"},
      {wall_loss(now, large) > wall_loss(before, little), "its wall loses more"},
      {large.top_area_m2() > little.top_area_m2(), "its top dries more"},
      {big.worst.summary.size_factor > small.worst.summary.size_factor, "its plant grows bigger"}};
  std::string told;
  for (const auto& [holds, words] : reasons) {
    if (holds) told += fmt::format("{} {}", told.empty() ? ", for" : ",", words);
  }
  return told;
}

/// Why a bigger pot wilts more than a smaller one, in the first weeks and later; empty where none
/// does by more than a day.
std::string bigger_is_worse_text(const std::vector<ComparedChoice>& choices, std::string_view name,
                                 const Differences& differ) {
  using C = const ComparedChoice&;
  const auto holds_less = [](C small, C big) {
    const auto days_held = [](const SeasonSummary& s) { return s.available_l / s.peak_use_l_day; };
    return days_held(big.worst.summary) < days_held(small.worst.summary);
  };
  const auto watered_less = [](C small, C big) {
    return small.planting->routine.rule == VisitRule::check &&
           big.worst.summary.waterings < small.worst.summary.waterings;
  };
  std::string told;
  const Bigger later = bigger_where(choices, name, [&](C small, C big) {
    return small.worst.summary.wilting_days + 1 < big.worst.summary.wilting_days &&
           small.planting->pot.reservoir_l == 0.0 && big.planting->pot.reservoir_l == 0.0 &&
           (holds_less(small, big) || watered_less(small, big));
  });
  if (later.big != nullptr) {
    told = fmt::format(
        " {} wilts on more days than {}, though it is bigger: {}.",
        choice_text(*later.big->planting, differ), choice_text(*later.small->planting, differ),
        holds_less(*later.small, *later.big)
            ? "it holds less for each litre it uses" + why_less(*later.small, *later.big)
            : "it is watered less often, and once runs short on a hotter day than was expected");
  }
  const Bigger first = bigger_where(choices, name, [](C small, C big) {
    return small.enough() && small.wilting_days_settling + 1 < big.wilting_days_settling;
  });
  if (first.big != nullptr) {
    told +=
        " A bigger pot can have the harder first weeks: its roots take longer to hold half the "
        "mix, and in a deeper one the young roots find less water.";
  }
  return told;
}

std::string smallest_text(const std::vector<ComparedChoice>& choices, const Planting& planting,
                          const Differences& differ, bool us) {
  const std::string routine = printable(planting.routine.text);
  const auto named = [&](const ComparedChoice& choice) {
    return fmt::format("{}, {} of mix", choice_text(*choice.planting, differ),
                       volume_text(choice.worst.summary.mix_l, us));
  };
  const auto* const enough = smallest(choices, planting.name,
                                      [](const ComparedChoice& choice) { return choice.enough(); });
  std::string told =
      enough == nullptr
          ? fmt::format("{}None is enough when watered {}.",
                        differ.name ? printable(planting.name) + ": " : "", routine)
          : fmt::format(
                "Smallest that is enough when watered {}: {}. In {} of {} a plant of the usual "
                "size did not wilt in it.",
                routine, named(*enough), enough->summers_above_wilting,
                summers_text(enough->summers));
  if (enough != nullptr && enough->wilting_days_settling > 0) {
    told += fmt::format(" That counts from when roots hold half the mix; {}.",
                        first_weeks(enough->settled, planting.routine));
  }
  const auto* const later = smallest(choices, planting.name, only_young);
  if (later != nullptr &&
      (enough == nullptr || later->worst.summary.mix_l < enough->worst.summary.mix_l)) {
    told += fmt::format(
        " Smallest that wilts only until its roots fill it, so that it wants watering more often "
        "till then: {}.",
        named(*later));
  }
  return told + bigger_is_worse_text(choices, planting.name, differ);
}

}  // namespace

bool only_young(const ComparedChoice& choice) {
  return !choice.enough() && choice.wilting_days_rooted == 0;
}

std::string reason_text(const ComparedChoice& choice, bool weather) {
  if (choice.enough()) {
    return fmt::format("did not wilt in {} of {}{}", choice.summers_above_wilting,
                       summers_text(choice.summers), first_weeks_text(choice));
  }
  const SeasonSummary& s = choice.worst.summary;
  std::string why = fmt::format("wilts on {} in the worst summer", days_in_words(s.wilting_days));
  if (choice.first_wilting) {
    why += fmt::format(", first on {}", full_date_in_words(*choice.first_wilting));
    const auto age = static_cast<int>((*choice.first_wilting - choice.worst.first).count());
    if (only_young(choice)) why += fmt::format(", {} after planting", days_in_words(age));
  }
  if (weather) why += fmt::format(" ({})", choice.worst_record->name());
  if (s.dry_days > 0) why += fmt::format("; goes dry on {} of them", s.dry_days);
  if (only_young(choice)) why += "; on none once its roots fill the pot";
  if (choice.summers > 1) {
    why += choice.summers_above_wilting == 0
               ? fmt::format("; wilts in each of {}", summers_text(choice.summers))
               : fmt::format("; did not wilt in {} of {}", choice.summers_above_wilting,
                             summers_text(choice.summers));
  }
  return why + first_weeks_text(choice);
}

void add_compare_picture(const std::vector<ComparedChoice>& choices, const Differences& differ,
                         Report& report) {
  report.title = "Which choice is enough";
  std::vector<RangeRow> rows;
  std::size_t enough = 0;
  for (const ComparedChoice& choice : choices) {
    enough += choice.enough() ? 1 : 0;
    RangeRow row{.label = choice_text(*choice.planting, differ),
                 .value = choice.longest_safe_gap_days,
                 .low = choice.longest_safe_gap_days,
                 .high = choice.mildest_safe_gap_days,
                 .text = choice.enough() ? "enough" : "not enough"};
    if (row.value) row.text = fmt::format("{} d, {}", rough(*row.value), row.text);
    rows.push_back(std::move(row));
  }
  sort_by_value(rows);
  report.answer =
      fmt::format("{} of {} choices {} enough: no wilting day in any summer once settled in.",
                  enough, choices.size(), enough == 1 ? "is" : "are");
  report.pictures.push_back(ranges_picture(
      {"How long a full pot lasts",
       "Days from a good watering to the first drooping leaves in the four hottest weeks, without "
       "rain, longest first. Dot: the summer in which that is shortest; bar: up to the summer in "
       "which it is longest."},
      "days", rows));
}

Table<CompareRow> compare_table(bool spreads) {
  namespace of_planting = tables::of_planting;
  Table<CompareRow> table;
  table.add({of_planting::crop, of_planting::plants, of_planting::pot, of_planting::mix,
             of_planting::wall, of_planting::spot},
            &CompareRow::planting);
  table.add(tables::choice_columns, &CompareRow::choice);
  table.section("Appended");
  table.add(tables::choice_more_columns, &CompareRow::choice);
  table.add(told_list);
  table.section("Appended by --uncertain");
  if (spreads) table.add(tables::choice_spread_columns, &CompareRow::spread);
  table.section("Appended behind them");
  table.add(tables::choice_end_columns, &CompareRow::choice);
  table.section("Appended last");
  table.add(tables::choice_settling_columns, &CompareRow::choice);
  return table;
}

void add_summers_notes(std::span<const SummersOf> choices, Report& report) {
  constexpr int enough_summers = 3;                  // fewer say little
  std::map<std::string, std::set<std::string>> cut;  // by how many of how many summers
  int fewest = choices.front().choice->summers;
  for (const auto& [name, choice] : choices) {
    fewest = std::min(fewest, choice->summers);
    if (choice->summers_cut_by_record > 0) {
      cut[fmt::format("in {} of {}", choice->summers_cut_by_record, summers_text(choice->summers))]
          .insert(name);
    }
  }
  for (const auto& [summers, names] : cut) {
    report.notes.push_back(fmt::format("the weather ends before the crop does, {}: {}", summers,
                                       fmt::join(names, "; ")));
  }
  if (fewest < enough_summers) {
    report.notes.push_back(fmt::format("caution: {} only; a longer record may hold worse ones",
                                       counted(fewest, "summer")));
  }
}

std::string summers_text(int summers) {
  return counted(summers, "past summer");
}

std::string compare_text(const std::vector<ComparedChoice>& choices, const Differences& differ,
                         const Report& report, bool weather, bool us) {
  const Planting& first = *choices.front().planting;
  std::string out = common_text(first, differ, true);
  if (!out.empty()) out += '\n';
  if (!differ.name) {
    out += fmt::format("watered {}, {}\n", printable(first.routine.text),
                       summers_text(choices.front().summers));
  }
  out += (out.empty() ? "" : "\n") + comparison_text(choices, differ, us) + '\n';
  const auto say = [&out](const std::string& sentence) { out += paragraph(sentence); };

  std::set<std::string> told;
  const bool tried_others = choices.size() > 1;
  for (const ComparedChoice& choice : choices) {
    const std::string& name = choice.planting->name;
    const auto rows = std::ranges::count_if(
        choices, [&](const auto& other) { return other.planting->name == name; });
    if (!tried_others || (differ.name && rows == 1) || !told.insert(name).second) continue;
    say(smallest_text(choices, *choice.planting, differ, us));
  }

  constexpr std::size_t most_reasons = 12;
  const auto failed = static_cast<std::size_t>(
      std::ranges::count_if(choices, [](const auto& choice) { return !choice.enough(); }));
  if (failed > 0) {
    out += "Not enough:\n";
    // Choices that fail for the same reason are named together.
    std::vector<std::pair<std::string, std::vector<std::string>>> reasons;
    for (const ComparedChoice& choice : choices) {
      if (choice.enough()) continue;
      const std::string routine =
          differ.name ? fmt::format(", {}", printable(choice.planting->routine.text)) : "";
      const std::string why = printable(reason_text(choice, weather));
      entry(reasons, why).push_back(choice_text(*choice.planting, differ) + routine);
    }
    for (std::size_t i = 0; i < std::min(reasons.size(), most_reasons); ++i) {
      const auto& [why, names] = reasons[i];
      out += "  " + wrapped(fmt::format("{}: {}.", fmt::join(names, "; "), why), 100, 4, 2) + '\n';
    }
    if (reasons.size() > most_reasons) {
      out += fmt::format("  … and more, {} in all (--format csv has each)\n", failed);
    }
  }
  out += '\n';
  say("Enough: watered like this, a plant of the usual size (or of the size you gave) wilts on no "
      "day of any of the summers once roots hold half the mix. Stress: growth slows. Wilting: "
      "leaves droop by day and usually recover. Dry: expect damage. Stress, wilting and dry "
      "days are those of the worst summer, what is given is the mean of the summers, and "
      "the thirstiest week that of the thirstiest summer; amounts are for one pot.");
  say("Lasts: days without rain from a good watering until leaves droop, in the worst of "
      "the four thirstiest weeks; -: not before the season ends. A bigger pot grows a bigger "
      "plant, which uses more. A past summer is no promise for the next.");
  say(two_figures_text());
  say(heavy_pots_text(us));
  std::vector<LastDay> ends;
  for (const ComparedChoice& choice : choices) {
    ends.push_back({choice.planting->name, choice.worst.first, choice.worst.last,
                    choice.worst.summary.ended_by});
  }
  say(last_days_text(ends, differ.name, " of the worst summer"));
  return out + notes_text(report);
}

}  // namespace wiltline::cli
