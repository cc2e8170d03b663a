#include "heatwave_answer.hpp"

#include <fmt/format.h>

#include "shared_columns.hpp"
#include "what_matters.hpp"
#include "wiltline/base/numbers.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

using enum Quantity;
using R = const HeatwaveRow&;

constexpr Column<HeatwaveRow> first_list[]{
    {"name", text, 0, "planting, or crop", [](R row) { return row.planting().name; }},
    {"pot", text, 0, "pot", [](R row) { return row.planting().pot.name; }},
    {"first_day", text, 0, "first day of the spell", [](R row) { return row.spell().first; }},
    {"days", count, 0, "days of the spell", [](R row) { return row.spell().days; }},
    {"mean_tmax_c", temperature_c, 1, "mean highest temperature of the spell",
     [](R row) { return row.spell().mean_tmax_c; }},
    {"mean_et0_mm", water_depth_mm, 2,
     "mean reference evapotranspiration of the open site in the spell",
     [](R row) { return row.spell().mean_et0_mm; }},
    {"peak_use_l_day", litres, 3, "potential use on the spell's thirstiest day",
     [](R row) { return row.pot->peak_use_l_day; }},
    {"waterings_per_day", number, 2,
     "waterings a day, mean over the spell, if watered the moment the refill threshold is "
     "reached, from full at 00:00 of the first day and without rain",
     [](R row) { return row.pot->waterings_per_day; }},
    {"refill_at", text, 0,
     "clock time at which the pot, watered until it drains at 07:00, reaches its refill "
     "threshold on the day of the spell on which that is soonest; times before 07:00 are of "
     "the night after; empty if it lasts to the next 07:00, on the last day to its end",
     [](R row) { return clock_text(row.pot->refill_at_h); }},
    {"once_a_day_enough", text, 0,
     "yes if watering at 07:00 until it drains leaves no wilting day in the spell; else no",
     [](R row) { return row.pot->once_a_day.enough(); }},
    {"twice_a_day_enough", text, 0, "the same with 07:00 and 19:00",
     [](R row) { return row.pot->twice_a_day.enough(); }},
};

constexpr Column<HeatwaveRow> more_list[]{
    {"crop", text, 0, "crop", [](R row) { return crop_text(row.planting()); }},
    {"plants", count, 0, "plants in the pot", [](R row) { return plants_in_pot(row.planting()); }},
    {"mix", text, 0, "mix", [](R row) { return row.planting().mix.name; }},
    {"wall", text, 0, "the pot's wall", [](R row) { return row.planting().pot.wall.name; }},
    {"spot", text, 0, "where it stands", [](R row) { return row.planting().spot.name; }},
    {"planted", text, 0, "day it was planted; empty if taken as full-grown",
     [](R row) { return row.pot->planted; }},
    {"most_waterings_a_day", count, 0, "most as-needed waterings on a day of the spell",
     [](R row) { return row.pot->most_waterings_a_day; }},
    {"refill_on", text, 0, "day of the spell to which refill_at belongs; empty if none",
     [](R row) { return row.pot->refill_on; }},
    {"once_stressed_days", count, 0, "days beyond readily available water with watering at 07:00",
     [](R row) { return row.pot->once_a_day.stressed_days; }},
    {"once_wilting_days", count, 0, "days beyond the wilting line with it",
     [](R row) { return row.pot->once_a_day.wilting_days; }},
    {"twice_stressed_days", count, 0,
     "days beyond readily available water with watering at 07:00 and 19:00",
     [](R row) { return row.pot->twice_a_day.stressed_days; }},
    {"twice_wilting_days", count, 0, "days beyond the wilting line with it",
     [](R row) { return row.pot->twice_a_day.wilting_days; }},
};

using S = const HeatwaveSpread&;
constexpr Column<HeatwaveSpread> spread_list[]{
    {"peak_use_l_day_p10", litres, 3,
     "potential use on the thirstiest day: a tenth of the draws need no more",
     [](S s) { return s.peak_use_l_day.p10; }},
    {"peak_use_l_day_p90", litres, 3, "nine tenths need no more",
     [](S s) { return s.peak_use_l_day.p90; }},
    {"waterings_per_day_p10", number, 2, "waterings a day as needed, likewise",
     [](S s) { return s.waterings_per_day.p10; }},
    {"waterings_per_day_p90", number, 2, "the same, nine tenths",
     [](S s) { return s.waterings_per_day.p90; }},
    {"once_a_day_share", number, 3, "share of draws in which 07:00 is enough",
     [](S s) { return s.once_a_day_share; }},
    {"twice_a_day_share", number, 3, "share of draws in which 07:00 and 19:00 are",
     [](S s) { return s.twice_a_day_share; }},
    {"moves_most", text, 0, "the input that moves the peak use most; empty if none stands out",
     [](S s) { return name_of(s.moves_most); }},
    {"moves_most_rank_correlation", number, 2, rank_correlation,
     [](S s) { return correlation_of(s.moves_most); }},
};

std::string spell_text(const HeatwaveAnswer& answer, const SpellRequest& request, double warmer_c,
                       bool us) {
  const HotSpell& spell = answer.spell;
  const std::string_view degree = unit_text(Quantity::temperature_c, us);
  const auto temperature = [us](double value) {
    return in_units(Quantity::temperature_c, value, us);
  };
  std::string what;
  if (request.first_day) {
    what = days_in_words(spell.days);
  } else if (request.at_least_c) {
    what = fmt::format("The longest run of days at {:.1f} {} or above, {}",
                       temperature(*request.at_least_c), degree, days_in_words(spell.days));
  } else {
    what = fmt::format("The hottest {} by {}", days_in_words(spell.days),
                       request.by == Heat::tmax ? "temperature" : "thirst of the air (ET0)");
  }
  const std::string told = fmt::format(
      "{}: {} to {}, on average {:.1f} {} at the warmest hour and {:.{}f} {} of reference "
      "evapotranspiration (ET0) a day{}",
      what, full_date_in_words(spell.first), full_date_in_words(spell.last()),
      temperature(spell.mean_tmax_c), degree,
      in_units(Quantity::water_depth_mm, spell.mean_et0_mm, us), us ? 2 : 1,
      unit_text(Quantity::water_depth_mm, us),
      warmer_c > 0.0 ? fmt::format(", {} {} warmer than measured",
                                   shortest(us ? warmer_c * 1.8 : warmer_c), degree)
                     : "");
  return paragraph(told + ".");
}

std::string visits_text(const VisitedSpell& visited) {
  if (!visited.enough()) return "no";
  return visited.stressed_days > 0 ? "with stress" : "yes";
}

std::string answer_text(const HeatwaveAnswer& answer, const SpellRequest& request,
                        const Differences& differ, double warmer_c, bool us) {
  std::string out = spell_text(answer, request, warmer_c, us) + '\n';
  using enum Side;
  using H = const HeatwavePot&;
  out += text_table(
      choice_columns<HeatwavePot>(
          differ,
          {{"thirstiest\nday", right, [us](H pot) { return use_text(pot.peak_use_l_day, us); }},
           {"waterings\na day to\navoid stress", right,
            [](H pot) { return fmt::format("{:.1f}", pot.waterings_per_day); }},
           {"watered at\n07:00, wants\nwater by", left,
            [](H pot) {
              return std::string(pot.refill_at_h ? part_of_day(*pot.refill_at_h) : "next day");
            }},
           {"is 07:00\nenough", left, [](H pot) { return visits_text(pot.once_a_day); }},
           {"are 07:00\nand 19:00", left, [](H pot) { return visits_text(pot.twice_a_day); }}}),
      answer.result.pots);
  out += '\n';

  const auto tell = [&](std::string_view what, const auto& belongs) {
    const std::vector<std::string> names = names_where(
        answer.result.pots, belongs, [&](H pot) { return choice_text(*pot.planting, differ); });
    const bool all = names.size() > 1 && names.size() == answer.result.pots.size();
    out += paragraph_of(what, all ? std::vector<std::string>{"all of them"} : names);
  };
  const auto tell_enough = [&](const std::string& what, const auto& visits) {
    for (const bool stressed : {false, true}) {
      tell(what + (stressed ? ", but growth slows" : ""), [&](const HeatwavePot& pot) {
        const VisitedSpell* const spell = visits(pot);
        return spell != nullptr && (spell->stressed_days > 0) == stressed;
      });
    }
  };
  tell_enough("Once a day is enough", [](const HeatwavePot& pot) {
    return pot.once_a_day.enough() ? &pot.once_a_day : nullptr;
  });
  tell_enough("Twice a day is needed, and enough", [](const HeatwavePot& pot) {
    return !pot.once_a_day.enough() && pot.twice_a_day.enough() ? &pot.twice_a_day : nullptr;
  });
  tell("Twice a day is not enough", [](const auto& pot) { return !pot.twice_a_day.enough(); });
  return out;
}

}  // namespace

Table<HeatwaveRow> heatwave_table(bool weather, bool spreads) {
  Table<HeatwaveRow> table;
  table.add(first_list);
  table.add(more_list);
  if (weather) {
    table.add(weather_columns(), [](const HeatwaveRow& row) { return row.answer->record; });
  }
  if (spreads) table.add(spread_list, &HeatwaveRow::spread);
  return table;
}

std::vector<std::pair<std::string_view, std::vector<ColumnHead>>> heatwave_heads() {
  return {{"Columns of CSV and JSON", heads(first_list)},
          {"Appended, with weather where several are given", heads(more_list)},
          {"Appended by --uncertain", heads(spread_list)},
          matters_heads()};
}

std::string heatwave_text(const std::vector<HeatwaveAnswer>& answers, const SpellRequest& request,
                          const std::string& common, const Differences& differ, double warmer_c,
                          const Report& report, bool us) {
  std::string out;
  if (!common.empty()) out += common + '\n';
  for (const HeatwaveAnswer& answer : answers) {
    if (answers.size() > 1) {
      out += fmt::format("{}{}\n", out.empty() ? "" : "\n", printable(answer.record->name()));
    }
    out += answer_text(answer, request, differ, warmer_c, us);
  }
  out += '\n';
  out += paragraph(
      "No rain is taken to fall; each pot is full as the hot days begin and watered until it "
      "drains. Enough: leaves do not wilt (droop by day). With stress: they do not, but growth "
      "slows. To avoid stress the pot is watered the moment the plant starts to run short.");
  out += paragraph(
      "Amounts are for one pot. The weather is that of a grass field; beside a wall or on paving "
      "it can be well above it.");
  out += paragraph(two_figures_text());
  return out + notes_text(report);
}

}  // namespace wiltline::cli
